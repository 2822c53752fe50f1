package main

import (
	"context"
	"fmt"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
)

func init() {
	register.DoFn2x0[[]byte, func(int)](&listShards{})
	register.DoFn2x1[context.Context, int, error](&solveShard{})
	register.Emitter1[int]()
}

// pipeline solves the shards that are missing wherever the engine has room:
//
//	their numbers -> spread over the workers -> the rows of each, in a file of its own
//
// A shard is told by its number alone, and any worker can solve any of them, so
// that it makes no difference how the engine bundles them, or how often it tries.
func pipeline(s beam.Scope, j *Job, missing []int) {
	numbers := beam.ParDo(s, &listShards{missing}, beam.Impulse(s))
	beam.ParDo0(s, &solveShard{Job: *j}, beam.Reshuffle(s, numbers))
}

// listShards emits the numbers of the shards that are to be solved.
type listShards struct{ Shards []int }

func (l *listShards) ProcessElement(_ []byte, emit func(int)) {
	for _, i := range l.Shards {
		emit(i)
	}
}

// solveShard solves the shards that it is given.
type solveShard struct{ Job Job }

func (d *solveShard) ProcessElement(ctx context.Context, shard int) error {
	if err := d.Job.solve(ctx, shard); err != nil {
		return fmt.Errorf("shard %d: %w", shard, err)
	}
	return nil
}
