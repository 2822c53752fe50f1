// Practice writes a page on which a student does exercises in a browser: the
// library itself, compiled to WebAssembly, asks, marks, hints and shows the
// working. The folder opens from a disk and asks nothing of a network.
//
//	go run ./examples/practice -out practice     writes the folder, and says how large each file is
//
// Open index.html in it. The set number on the page makes the same set as
// -seed of examples/worksheet. It exits with 1 if the folder cannot be written,
// and with 2 if it was called wrongly.
package main

import (
	"bytes"
	"compress/gzip"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"example.com/dough/examples/internal/folder"
	"example.com/dough/examples/internal/program"
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(os.Args[1:], out, complaints))
}

//go:embed static
var static embed.FS

// page is the program that runs in the browser.
const page = "example.com/dough/examples/practice/page"

func run(args []string, stdout, stderr io.Writer) int {
	out, files, code := folder.Program("practice", args, stderr, makeFiles)
	total := 0
	for _, f := range files {
		fmt.Fprintf(stdout, "%9d bytes  %s\n", len(f.Data), f.Name)
		total += len(f.Data)
	}
	if len(files) > 0 {
		fmt.Fprintf(stdout, "%9d bytes in all; open %s\n", total, filepath.Join(out, "index.html"))
	}
	return code
}

func makeFiles() ([]folder.File, error) {
	program, err := compile()
	if err != nil {
		return nil, err
	}
	engine, err := packed(program)
	if err != nil {
		return nil, err
	}
	root, err := goTool("env", "GOROOT")
	if err != nil {
		return nil, err
	}
	support, err := os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, err
	}
	licences, err := licences(root)
	if err != nil {
		return nil, err
	}
	files := []folder.File{{Name: "engine.js", Data: engine}, {Name: "wasm_exec.js", Data: support}, {Name: "licences.txt", Data: licences}}
	for _, name := range []string{"index.html", "practice.css", "practice.js"} {
		data, err := static.ReadFile("static/" + name)
		if err != nil {
			return nil, err
		}
		files = append(files, folder.File{Name: name, Data: data})
	}
	return files, nil
}

// goTool runs the go command, without whose toolchain nothing can be compiled.
func goTool(args ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	text, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, complaint.Bytes())
	}
	return strings.TrimSpace(string(text)), nil
}

func compile() (program []byte, err error) {
	folder, err := os.MkdirTemp("", "practice")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	name := filepath.Join(folder, "practice.wasm")
	if _, err := goTool("build", "-trimpath", "-ldflags=-s -w", "-o", name, page); err != nil {
		return nil, err
	}
	return os.ReadFile(name)
}

// packed is the program as a script. A browser reads no other file beside a
// page that it has opened from a disk, but it runs scripts.
func packed(program []byte) ([]byte, error) {
	var small bytes.Buffer
	w, err := gzip.NewWriterLevel(&small, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	_, err = w.Write(program)
	if err = errors.Join(err, w.Close()); err != nil {
		return nil, err
	}
	return slices.Concat([]byte(`globalThis.doughEngine="`), base64.StdEncoding.AppendEncode(nil, small.Bytes()), []byte("\";\n")), nil
}

// licences gathers the licence of everything that is in the program.
func licences(root string) ([]byte, error) {
	var out bytes.Buffer
	add := func(what, folder string) error {
		text, err := os.ReadFile(filepath.Join(folder, "LICENSE"))
		fmt.Fprintf(&out, "%s\n\n%s\n\n", what, bytes.TrimSpace(text))
		return err
	}
	if err := add("wasm_exec.js and, in engine.js, the Go runtime and standard library", root); err != nil {
		return nil, err
	}
	modules, err := goTool("list", "-deps", "-f", "{{with .Module}}{{.Path}}\t{{.Dir}}{{end}}", page)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(modules, "\n")
	slices.Sort(lines)
	for _, line := range slices.Compact(lines) {
		name, folder, ok := strings.Cut(line, "\t")
		if !ok {
			continue // the standard library, which has none
		}
		if err := add("In engine.js: "+name, folder); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}
