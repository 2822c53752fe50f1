package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/studyrows"
	"example.com/dough/examples/internal/tabular"
)

// A Job is everything that a worker needs to solve any shard of a study, wherever
// it runs. It travels as JSON, so its fields are exported.
type Job struct {
	Study  []byte // as JSON
	Dir    string // the folder of the rows, which every worker must be able to reach
	Format string // "csv" or "jsonl"
	Each   int    // scenarios of a shard

	compiled *whatif.Compiled
}

// ready compiles the study where it is to run.
func (j *Job) ready() error {
	if j.compiled != nil {
		return nil
	}
	study, err := whatif.ReadStudy(j.Study)
	if err != nil {
		return err
	}
	j.compiled, err = study.Compile()
	return err
}

// shards returns how many there are.
func (j *Job) shards() int { return (j.compiled.Size() + j.Each - 1) / j.Each }

// name returns the file of a shard. Ten digits keep the names in order for any
// study that an index can count.
func (j *Job) name(shard int) string {
	return filepath.Join(j.Dir, fmt.Sprintf("rows-%010d.%s", shard, j.Format))
}

// solve writes the rows of a shard, whole or not at all, and leaves a shard alone
// that is there. It may be called again, or twice at once, for the same
// shard, as an engine does whose worker was lost or is slow: the rows are the same, and
// the file appears when it is whole.
func (j *Job) solve(ctx context.Context, shard int) error {
	if err := j.ready(); err != nil {
		return err
	}
	if there, err := j.has(shard); there || err != nil {
		return err
	}
	return writeWhole(j.name(shard), func(out io.Writer) error {
		if shard > 0 && j.Format == "csv" {
			out = &afterFirstLine{out: out} // the names of the columns stand once, in the first shard
		}
		return j.write(ctx, out, shard*j.Each, min(j.Each, j.compiled.Size()-shard*j.Each))
	})
}

// afterFirstLine lets everything through that comes after the first line.
type afterFirstLine struct {
	out  io.Writer
	past bool
}

func (a *afterFirstLine) Write(p []byte) (int, error) {
	if a.past {
		return a.out.Write(p)
	}
	_, rest, found := bytes.Cut(p, []byte("\n"))
	a.past = found
	if _, err := a.out.Write(rest); err != nil {
		return 0, err
	}
	return len(p), nil
}

// has says whether the rows of a shard are there: a file that is there is whole.
func (j *Job) has(shard int) (bool, error) {
	switch info, err := os.Stat(j.name(shard)); {
	case errors.Is(err, os.ErrNotExist):
		return false, nil
	case err != nil:
		return false, err
	case !info.Mode().IsRegular():
		return false, fmt.Errorf("%s is no file: want a folder that only this program writes to", j.name(shard))
	}
	return true, nil
}

// missing returns the shards that are still to be solved.
func (j *Job) missing() ([]int, error) {
	var out []int
	for i := range j.shards() {
		there, err := j.has(i)
		if err != nil {
			return nil, err
		}
		if !there {
			out = append(out, i)
		}
	}
	return out, nil
}

// write writes the rows of count scenarios from first on, as one machine does.
func (j *Job) write(ctx context.Context, out io.Writer, first, count int) error {
	w, err := studyrows.New(j.Format, out, j.compiled, nil)
	if err != nil {
		return err
	}
	for row, err := range j.compiled.Rows(ctx, whatif.Options{First: first, Count: count}) {
		if err != nil {
			return err
		}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	return w.Close()
}

// writeWhole writes a file whole or not at all. Two workers with the same shard
// write beside one another, and the one that is ready last takes the place.
func writeWhole(name string, write func(io.Writer) error) error {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is a folder or a device: want the name of a file", name)
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".unfinished-*") // by a name that nobody takes for rows
	if err != nil {
		return err
	}
	out := bufio.NewWriterSize(f, 1<<20)
	err = write(out)
	err = errors.Join(err, out.Flush(), f.Sync(), f.Chmod(0o644), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the first error tells more
		return err
	}
	return tabular.SyncFolder(filepath.Dir(name))
}

// claim makes the folder this study's own. A folder that holds rows of another
// study, or of this one in other shards, is refused by name.
func (j *Job) claim() error {
	if err := os.MkdirAll(j.Dir, 0o755); err != nil {
		return err
	}
	sum := sha256.Sum256(j.Study)
	want := fmt.Appendf(nil, `{"study_sha256":"%x","format":%q,"each":%d}`+"\n", sum, j.Format, j.Each)
	mark := filepath.Join(j.Dir, "study.json")
	switch got, err := intake.Read(mark); {
	case err == nil && bytes.Equal(got, want):
		return nil
	case err == nil:
		return fmt.Errorf("%s holds rows of another study, or of this one in shards of another size or format: want an empty folder, or the command that it was begun with", j.Dir)
	case !errors.Is(err, os.ErrNotExist):
		return err
	}
	switch there, err := os.ReadDir(j.Dir); {
	case err != nil:
		return err
	case len(there) > 0:
		return fmt.Errorf("%s is not empty and was not begun by this program: want an empty folder", j.Dir)
	}
	return writeWhole(mark, func(w io.Writer) error { _, err := w.Write(want); return err })
}

// join writes the rows of all shards into one file, in order.
func (j *Job) join(name string) error {
	if filepath.Dir(filepath.Clean(name)) == filepath.Clean(j.Dir) {
		return fmt.Errorf("%s is in the folder of the shards: want another place", name)
	}
	return writeWhole(name, func(out io.Writer) error {
		for i := range j.shards() {
			in, err := os.Open(j.name(i))
			if err != nil {
				return err
			}
			_, err = io.Copy(out, in)
			if err = errors.Join(err, in.Close()); err != nil {
				return err
			}
		}
		return nil
	})
}
