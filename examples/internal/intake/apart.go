package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// A Place is where a program reads or writes: the file with a name, or a stream that may be redirected to one.
type Place struct {
	What   string // for a person: "-svg", "the table", "what is printed"
	Name   string // of a file; "" if there is none, or it is the stream
	Stream any    // such as os.Stdin
}

// Apart refuses a program that would write over what it reads, or write two things to one file, by whatever name
// or link. Only files count: a terminal may well be both.
func Apart(reads, writes []Place) error {
	var wrong []error
	for i := range writes {
		for j := range reads {
			if same(&writes[i], &reads[j]) {
				wrong = append(wrong, fmt.Errorf("%s would go over %s, %s: name another file", writes[i].What, reads[j].What, writes[i].called(&reads[j])))
			}
		}
		for j := range writes[:i] {
			if same(&writes[i], &writes[j]) {
				wrong = append(wrong, fmt.Errorf("%s and %s are one file, %s: name another", writes[j].What, writes[i].What, writes[i].called(&writes[j])))
			}
		}
	}
	return errors.Join(wrong...)
}

// called is a name that either of two places has.
func (p *Place) called(other *Place) string {
	switch {
	case p.Name != "":
		return p.Name
	case other.Name != "":
		return other.Name
	}
	return "a redirected stream"
}

func same(a, b *Place) bool {
	one, there := a.file()
	other, alsoThere := b.file()
	if there || alsoThere {
		return there && alsoThere && one.Mode().IsRegular() && os.SameFile(one, other)
	}
	return a.Name != "" && b.Name != "" && a.path() == b.path()
}

// file tells whether something is there, and what.
func (p *Place) file() (info fs.FileInfo, there bool) {
	var err error
	if stream, ok := p.Stream.(interface{ Stat() (fs.FileInfo, error) }); ok && p.Name == "" {
		info, err = stream.Stat()
	} else if p.Name != "" {
		info, err = os.Stat(p.Name)
	}
	return info, err == nil && info != nil
}

// path is where a file would be made, whichever links lead there.
func (p *Place) path() string {
	folder, err := filepath.EvalSymlinks(filepath.Dir(p.Name))
	if err != nil {
		folder = filepath.Dir(p.Name)
	}
	if whole, err := filepath.Abs(folder); err == nil {
		folder = whole
	}
	return filepath.Join(folder, filepath.Base(p.Name))
}
