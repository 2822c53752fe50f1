// Package keep holds a file that is read, changed and written by one program at a time, such as the state of a chart.
package keep

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"

	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/tabular"
)

// A Held file is this program's alone until it is released. The lock is a file beside it; it falls with the
// program, however that ends, and what is left of it then is in nobody's way.
type Held struct {
	name string
	lock *flock.Flock // nil where the system knows none
}

// often is how often a program asks that waits for another.
const often = 10 * time.Millisecond

// Hold takes the file with the name, and waits as long for whoever holds it. There need be no such file yet.
func Hold(ctx context.Context, name string, wait time.Duration) (*Held, error) {
	at := name
	if real, err := filepath.EvalSymlinks(name); err == nil {
		at = real // one file has one lock, whichever link leads there
	}
	ctx, cancel := context.WithTimeout(ctx, wait+often/2)
	defer cancel()
	for {
		lock := flock.New(at+".lock", flock.SetPermissions(0o666))
		got, err := lock.TryLockContext(ctx, often)
		switch {
		case errors.Is(err, errors.ErrUnsupported):
			return &Held{name: name}, nil
		case errors.Is(err, context.DeadlineExceeded) || err == nil && !got:
			return nil, fmt.Errorf("%s is in use by another program: end that one first, or name another file", name)
		case err != nil:
			return nil, err
		}
		// Whoever held it before may have removed the file between our opening and locking it.
		mine, err := lock.Stat()
		if there, thereErr := os.Stat(at + ".lock"); err == nil && thereErr == nil && os.SameFile(mine, there) {
			for i := 0; os.Remove(fmt.Sprintf("%s.part%d", at, i)) == nil; i++ { // of programs that were killed
			}
			return &Held{name, lock}, nil
		}
		if err := lock.Unlock(); err != nil {
			return nil, err
		}
	}
}

// Release lets others have the file.
func (h *Held) Release() {
	if h.lock != nil {
		_ = os.Remove(h.lock.Path()) // where it cannot be removed it is left, and locks nobody out
		_ = h.lock.Unlock()          // it falls with the program anyway
	}
}

// Read returns what is in the file; there is nothing before it was first written.
func (h *Held) Read() ([]byte, error) {
	data, err := intake.Read(h.name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return data, err
}

// Replace writes the file anew, whole or not at all. It stays as it was if
// told, called when all is on the disk, has an error; nil tells nobody.
func (h *Held) Replace(data []byte, told func() error) error {
	if len(data) > intake.Most {
		return fmt.Errorf("%s would have more than %d bytes, and could not be read again", h.name, intake.Most)
	}
	file, err := tabular.Create(h.name)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Ready()
	}
	if err == nil && told != nil {
		err = told()
	}
	if err != nil {
		file.Drop()
		return err
	}
	return file.Keep()
}
