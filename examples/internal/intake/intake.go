// Package intake reads what programs are given: files whole but within a bound, tables line by
// line, and nothing that the program is about to write over.
package intake

import (
	"fmt"
	"io"
	"os"
)

// Most is how large a file may be that is read whole: far more than any scenario, study or record.
const Most = 8 << 20

// Open opens a file to be read. A folder is refused here, where its name is known.
func Open(name string) (*os.File, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	if info, err := file.Stat(); err == nil && info.IsDir() {
		_ = file.Close() // nothing was read
		return nil, fmt.Errorf("%s is a folder: want the name of a file", name)
	}
	return file, nil
}

// Read reads a file whole, if it is no larger than Most.
func Read(name string) ([]byte, error) {
	file, err := Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }() // it was only read
	return All(file, name)
}

// All reads a stream to its end, if that comes within Most. The name is what to call it.
func All(in io.Reader, name string) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(in, Most+1))
	if err == nil && len(data) > Most {
		return nil, fmt.Errorf("%s has more than %d bytes: that is none of ours", name, Most)
	}
	return data, err
}
