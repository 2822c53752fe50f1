// Course writes the course: the trade's arithmetic in short lessons, with the
// numbers and relations of the library.
//
//	go run ./examples/course -out FOLDER     README.md and index.html, one self-contained page that prints well
//
// The pages beside the exercises are made by go generate. It exits with 1 if
// they cannot be written, and with 2 if it was called wrongly.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"example.com/dough/examples/internal/folder"
	"example.com/dough/examples/internal/program"
)

//go:generate go run . -out ../../doughmath/exercise/course

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], out, complaints))
}

func run(args []string, stdout, stderr io.Writer) int {
	out, files, code := folder.Program("course", args, stderr, makeFiles)
	for _, f := range files {
		fmt.Fprintf(stdout, "%7d bytes  %s\n", len(f.Data), filepath.Join(out, f.Name))
	}
	return code
}

func makeFiles() ([]folder.File, error) {
	course, err := makeCourse()
	if err != nil {
		return nil, err
	}
	page, err := writeHTML(course)
	return []folder.File{{Name: "README.md", Data: writeMarkdown(course)}, {Name: "index.html", Data: page}}, err
}
