// Package folder is what programs share that make a folder of files.
package folder

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"example.com/dough/examples/internal/tabular"
)

// The exit codes of such a program.
const (
	OK     = 0
	Failed = 1
	Usage  = 2
)

// A File of the folder.
type File struct {
	Name string
	Data []byte
}

// Program makes the files and writes them into the folder that -out names. It returns what was written and where, or
// complains; there is something to tell of files only if code is OK and there are any.
func Program(name string, args []string, stderr io.Writer, files func() ([]File, error)) (out string, written []File, code int) {
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&out, "out", "", "the `folder` to write; it is made if it is not there")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return "", nil, OK
	} else if err != nil {
		return "", nil, Usage
	}
	if out == "" || flags.NArg() > 0 {
		fmt.Fprintf(stderr, "%s: want -out and the folder to write, and nothing else\n", name)
		return "", nil, Usage
	}
	written, err := files()
	if err == nil {
		err = Write(out, written)
	}
	if err != nil {
		fmt.Fprintf(stderr, "%s: %v\n", name, err)
		return "", nil, Failed
	}
	return out, written, OK
}

// Write writes every file whole or not at all, and makes the folder if it is not there.
func Write(out string, files []File) error {
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	for _, f := range files {
		err := tabular.Write(filepath.Join(out, f.Name), nil, func(w io.Writer) error {
			_, err := w.Write(f.Data)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}
