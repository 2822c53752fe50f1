package tabular

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
)

// A File is written whole or not at all: the rows go to a file beside it, which takes
// its place when all is on the disk. What is no file, such as a terminal or a pipe, is
// written as it comes.
type File struct {
	*os.File
	name, beside string // where it is to be, and until then; "" if it is written as it comes
	ready        bool
}

// Create starts the file with the given name.
func Create(name string) (*File, error) {
	at := name
	if real, err := filepath.EvalSymlinks(name); err == nil {
		at = real
	}
	mode := os.FileMode(0o666) // less what the system takes off
	switch old, err := os.Stat(at); {
	case err == nil && old.IsDir():
		return nil, fmt.Errorf("%s is a folder: want the name of a file", name)
	case err == nil && old.Mode().IsRegular() && old.Mode().Perm()&0o222 == 0:
		return nil, fmt.Errorf("%s is write-protected: want another file, or lift the protection", name) // a rename would not ask
	case err == nil && !old.Mode().IsRegular():
		f, err := os.OpenFile(at, os.O_WRONLY, 0)
		return &File{File: f}, err
	case err == nil:
		mode = old.Mode().Perm()
	}
	for try := range 100 {
		beside := fmt.Sprintf("%s.part%d", at, try)
		f, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, os.ErrExist) {
			return &File{File: f, name: at, beside: beside}, err
		}
	}
	return nil, fmt.Errorf("%s.part0 to .part99 are there already: remove what was left over", name)
}

// Ready puts all that was written on the disk, still beside its place. What has to be
// done before the file counts, such as telling somebody, goes between Ready and Keep.
func (f *File) Ready() error {
	if f.ready || f.name == "" {
		return nil
	}
	f.ready = true
	err := errors.Join(f.Sync(), f.Close())
	if err != nil {
		_ = os.Remove(f.beside) // the first error tells more
	}
	return err
}

// Keep puts the file in its place.
func (f *File) Keep() error {
	if f.name == "" {
		return f.Close()
	}
	if err := f.Ready(); err != nil {
		return err
	}
	if err := os.Rename(f.beside, f.name); err != nil {
		_ = os.Remove(f.beside) // the first error tells more
		return err
	}
	return SyncFolder(filepath.Dir(f.name))
}

// SyncFolder puts the names in a folder on the disk, without which a file that is
// there may be gone after a power cut.
func SyncFolder(name string) error {
	if runtime.GOOS == "windows" || runtime.GOOS == "js" {
		return nil // they know no such thing
	}
	folder, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}

// Drop leaves everything as it was before Create.
func (f *File) Drop() {
	_ = f.Close() // nothing in it is wanted
	if f.name != "" {
		_ = os.Remove(f.beside)
	}
}

// Write writes through fn to the file with the name, or to out if name is "" or "-": whole or not at all.
func Write(name string, out io.Writer, fn func(io.Writer) error) error {
	if name == "" || name == "-" {
		return fn(out)
	}
	f, err := Create(name)
	if err != nil {
		return err
	}
	if err := fn(f); err != nil {
		f.Drop()
		return err
	}
	return f.Keep()
}

// Leave closes the file where it stands, beside the name that it was to have. Its
// name says where.
func (f *File) Leave() error { return errors.Join(f.Sync(), f.Close()) }
