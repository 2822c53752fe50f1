package whatif

import (
	"context"
	"sync"
	"sync/atomic"
)

// blockValues is how many values a goroutine finds before it hands their rows over, at most:
// enough that handing them over costs little beside solving them, few enough that
// they stay near the processor. A short run is cut finer, so that every worker has some of it.
const blockValues = 1 << 12

// blocksEach is how many blocks there are for each goroutine: enough that hardly one ever falls asleep for want of
// a block, because to wake it takes as long as to solve one.
const blocksEach = 16

// block is some rows in a row. They hold no more than what was found, side by side: whoever
// yields them often does so on another processor, to which every byte has to be carried.
type block struct {
	values  []float64
	words   []string // if a column holds any
	marks   []mark   // of all of them
	ends    []int32  // of each, where its marks end
	refused []refusedRow
	first   int // of the run
	n       int
	ready   chan struct{}
	panic   any // what solving it ended with
}

type refusedRow struct {
	row int
	err error
}

func (c *Compiled) block(size int) block {
	b := block{values: make([]float64, size*len(c.columns)), ends: make([]int32, size), ready: make(chan struct{}, 1)}
	if c.worded() {
		b.words = make([]string, len(b.values))
	}
	return b
}

// place lets the row stand at j in the block.
func (b *block) place(r *Row, j int) {
	n := len(r.of.columns)
	r.Values = b.values[j*n : (j+1)*n : (j+1)*n]
	if b.words != nil {
		r.words = b.words[j*n : (j+1)*n : (j+1)*n]
	}
}

// together runs the study with several goroutines, of which the caller is one: while the
// block that it would yield next is not solved, it solves one itself. The blocks go round: each is
// solved, yielded and filled again, so that only so many rows are in memory.
func (c *Compiled) together(ctx context.Context, o Options, count int, yield func(*Row, error) bool) {
	workers := min(o.Workers, count)
	size := max(1, min(blockValues/len(c.columns), count/(8*workers)))
	blocks := make([]block, blocksEach*workers)
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
		blocks[i] = c.block(size)
		give(&blocks[i])
	}
	own, row := c.runner(o), Row{of: c}
	for range workers - 1 {
		all.Go(func() {
			w := c.runner(o) // made where it runs: what two processors write to must not lie side by side
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
		for waiting := true; waiting && ctx.Err() == nil; {
			select {
			case <-b.ready:
				waiting = false
			default:
				select {
				case <-b.ready:
					waiting = false
				case other := <-todo:
					c.solve(own, other, o.First, &stop)
				case <-ctx.Done():
				}
			}
		}
		if err := ctx.Err(); err != nil {
			yield(nil, err)
			return
		}
		if b.panic != nil {
			panic(b.panic)
		}
		from, refused := int32(0), b.refused
		for j := range b.n {
			if err := ctx.Err(); err != nil {
				yield(nil, err)
				return
			}
			b.place(&row, j)
			row.Index, row.marks, row.err = o.First+b.first+j, b.marks[from:b.ends[j]], nil
			from = b.ends[j]
			if len(refused) > 0 && refused[0].row == j {
				row.err, refused = refused[0].err, refused[1:]
			}
			done++
			if o.tell(done); !yield(&row, nil) {
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
	b.marks, b.refused = b.marks[:0], b.refused[:0]
	row := Row{of: c}
	for j := range b.n {
		if stop.Load() {
			return
		}
		b.place(&row, j)
		w.run(c, first+b.first+j, &row)
		b.marks = append(b.marks, row.marks...)
		b.ends[j] = int32(len(b.marks))
		if row.err != nil {
			b.refused = append(b.refused, refusedRow{j, row.err})
		}
	}
}
