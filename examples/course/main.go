// Course writes the course: the trade's arithmetic in short lessons, with the
// numbers and relations of the library.
//
//	go run ./examples/course -out FOLDER     README.md and index.html, one self-contained page that prints well
//
// The pages beside the exercises are made by go generate. It exits with 1 if
// they cannot be written, and with 2 if it was called wrongly.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

//go:generate go run . -out ../../doughmath/exercise/course

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], out, complaints))
}

// The exit codes.
const (
	exitOK     = 0
	exitFailed = 1
	exitUsage  = 2
)

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("course", flag.ContinueOnError)
	flags.SetOutput(stderr)
	out := flags.String("out", "", "the `folder` to write; it is made if it is not there")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return exitOK
	} else if err != nil {
		return exitUsage
	}
	if *out == "" || flags.NArg() > 0 {
		fmt.Fprintln(stderr, "course: want -out and the folder to write, and nothing else")
		return exitUsage
	}
	files, err := makeFiles()
	if err == nil {
		err = write(*out, files)
	}
	if err != nil {
		fmt.Fprintln(stderr, "course:", err)
		return exitFailed
	}
	for _, f := range files {
		fmt.Fprintf(stdout, "%7d bytes  %s\n", len(f.data), filepath.Join(*out, f.name))
	}
	return exitOK
}

// A file of the folder.
type file struct {
	name string
	data []byte
}

func makeFiles() ([]file, error) {
	course, err := makeCourse()
	if err != nil {
		return nil, err
	}
	page, err := writeHTML(course)
	return []file{{"README.md", writeMarkdown(course)}, {"index.html", page}}, err
}

func write(folder string, files []file) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for _, f := range files {
		err := tabular.Write(filepath.Join(folder, f.name), nil, func(w io.Writer) error {
			_, err := w.Write(f.data)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}
