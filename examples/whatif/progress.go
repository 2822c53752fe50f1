package main

import (
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"example.com/dough/examples/internal/program"
)

// progress returns what to call with the number of scenarios done, and what to call at the
// end. Somebody must be there to see it, and it must not run into the rows.
func (a *app) progress(total int, toFile bool) (tell func(done int), end func()) {
	if !onTerminal(a.err) || onTerminal(a.out) && !toFile {
		return nil, func() {}
	}
	// The bar moves by signs that the terminal is to obey.
	bar := progressbar.NewOptions(total,
		progressbar.OptionSetWriter(a.err.(*program.Output).File), progressbar.OptionSetDescription("scenarios"),
		progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish())
	return func(done int) {
		if done%256 == 0 || done == total { // of a spread, nobody knows how many there will be
			_ = bar.Set(done) // a bar that cannot be drawn is no reason to stop
		}
	}, func() { _ = bar.Exit() }
}

func onTerminal(w io.Writer) bool {
	o, ok := w.(*program.Output)
	return ok && term.IsTerminal(int(o.File.Fd()))
}
