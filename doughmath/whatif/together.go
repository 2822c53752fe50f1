package whatif

import (
	"context"
	"sync"
	"sync/atomic"
)

// blockRows is how many rows a goroutine solves at a time, at most: enough that
// handing them over costs nothing beside solving them, few enough that little is
// kept. A short run is cut finer, so that every worker has some of it.
const blockRows = 256

// block is some rows in a row.
type block struct {
	rows  []Row
	first int // of the run
	n     int
	ready chan struct{}
	panic any // what solving it ended with
}

// together runs the study with several goroutines. The blocks go round: each is
// solved, yielded and filled again, so that only so many rows are in memory.
func (c *Compiled) together(ctx context.Context, o Options, count int, yield func(*Row, error) bool) {
	workers := min(o.Workers, count)
	size := min(blockRows, max(1, count/(8*workers)))
	blocks := make([]block, 2*workers)
	todo := make(chan *block, len(blocks))
	var stop atomic.Bool
	var all sync.WaitGroup
	next := 0
	give := func(b *block) {
		if next < count {
			b.first, b.n = next, min(size, count-next)
			next += b.n
			todo <- b
		}
	}
	for i := range blocks {
		b := &blocks[i]
		b.ready, b.rows = make(chan struct{}, 1), make([]Row, size)
		for j := range b.rows {
			b.rows[j] = c.row()
		}
		give(b)
	}
	for range workers {
		w := c.runner()
		w.valuesOnly = o.ValuesOnly
		all.Go(func() {
			for b := range todo {
				c.solve(w, b, o.First, &stop)
			}
		})
	}
	defer all.Wait()
	defer close(todo)
	defer stop.Store(true)
	done := 0
	for k := 0; done < count; k = (k + 1) % len(blocks) {
		b := &blocks[k]
		select {
		case <-b.ready:
		case <-ctx.Done():
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
			return
		}
		if b.panic != nil {
			panic(b.panic)
		}
		for j := range b.n {
			if err := ctx.Err(); err != nil {
				yield(nil, err)
				return
			}
			done++
			if o.tell(done); !yield(&b.rows[j], nil) {
				return
			}
		}
		give(b)
	}
}

// solve solves a block. What panics is handed to whoever ranges over the rows.
func (c *Compiled) solve(w *runner, b *block, first int, stop *atomic.Bool) {
	defer func() {
		b.panic = recover()
		b.ready <- struct{}{}
	}()
	for j := range b.n {
		if stop.Load() {
			return
		}
		w.run(c, first+b.first+j, &b.rows[j])
	}
}
