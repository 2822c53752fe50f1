// Package program is what the programs share: how they are interrupted, and what they print.
package program

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"

	"example.com/dough/examples/internal/tabular"
)

// Outputs is what a program prints, and what it complains. A closed pipe is an error of the writing, not the end of the program.
func Outputs() (out, complaints *Output) {
	ignoreClosedPipes()
	return &Output{File: os.Stdout}, &Output{File: os.Stderr, line: mostOfLine}
}

// Context ends when somebody interrupts the program, hangs up or ends it; a second time ends the program at once. Whoever
// asks for it has to look at it wherever the program may wait.
func Context() context.Context {
	var those []os.Signal
	for _, s := range ends {
		if !signal.Ignored(s) { // as nohup has it
			those = append(those, s)
		}
	}
	if len(those) == 0 {
		return context.Background()
	}
	ctx, stop := signal.NotifyContext(context.Background(), those...)
	context.AfterFunc(ctx, stop)
	return ctx
}

// mostOfLine is how much of a line is said that holds what somebody typed.
const mostOfLine = 2000

// An Output shows every sign of a text and obeys none.
type Output struct {
	File *os.File // for what is to be obeyed
	line int      // most bytes of a line; 0 for any
	used int      // of this line
	rest []byte   // of a letter that was cut in two
}

// Stat tells which file it is.
func (o *Output) Stat() (os.FileInfo, error) { return o.File.Stat() }

func (o *Output) Write(p []byte) (int, error) {
	all := p
	if len(o.rest) > 0 {
		all = append(o.rest, p...)
	}
	safe, rest := tabular.Escape(all)
	o.rest = append([]byte(nil), rest...)
	if o.line > 0 {
		safe = o.cut(safe)
	}
	if _, err := o.File.Write(safe); err != nil {
		return 0, err
	}
	return len(p), nil
}

// cut ends lines that are too long.
func (o *Output) cut(b []byte) []byte {
	out := make([]byte, 0, len(b))
	for _, c := range b {
		switch {
		case c == '\n':
			o.used = -1
			fallthrough
		case o.used < o.line:
			out = append(out, c)
		case o.used == o.line:
			out = append(out, " ..."...)
		}
		o.used++
	}
	return out
}

// ErrInterrupted ends the reading of a program that somebody interrupted.
var ErrInterrupted = errors.New("interrupted")

// Reading is in, but ends with ErrInterrupted once the context is over, though in itself would wait for more.
func Reading(ctx context.Context, in io.Reader) io.Reader {
	return &reading{ctx: ctx, in: in, got: make(chan chunk, 1)}
}

type reading struct {
	ctx    context.Context //nolint:containedctx // an io.Reader has no other place for it
	in     io.Reader
	buffer []byte
	asked  bool // and not answered yet
	got    chan chunk
}

type chunk struct {
	data []byte
	err  error
}

func (r *reading) Read(p []byte) (int, error) {
	if r.ctx.Err() != nil {
		return 0, ErrInterrupted
	}
	if !r.asked {
		if r.asked = true; len(r.buffer) < len(p) {
			r.buffer = make([]byte, len(p))
		}
		go func(data []byte) {
			n, err := r.in.Read(data)
			r.got <- chunk{data[:n], err}
		}(r.buffer[:len(p)])
	}
	select {
	case c := <-r.got:
		r.asked = false
		return copy(p, c.data), c.err
	case <-r.ctx.Done():
		return 0, ErrInterrupted
	}
}
