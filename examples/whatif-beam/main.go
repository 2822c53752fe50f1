// Whatif-beam runs a study of examples/whatif on a distributed engine, as a pipeline
// of the Apache Beam model: on the runner built into this program unless told otherwise,
// or on any portable runner.
//
//	go run . -study study.json -dir rows -join rows.csv
//	go run . -study study.json -dir /mnt/rows -runner universal -endpoint host:8099
//
// The rows are those of one machine to the byte, whatever the number of workers
// and bundles. Each shard of the study is a file in the folder, which every worker must
// reach; it is there when it is whole. After a failure the same command again solves
// the shards that are missing.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/studyrows"
)

const mostShards = 100_000

type options struct {
	study, dir, join, format string
	each                     int
	rest                     []string // of the command line
}

// The program ends with 1 when something broke on the way (the same command goes
// on), and with 2 when the command or the study is wrong.
func main() {
	var o options
	flag.StringVar(&o.study, "study", "", "the study, a JSON `file` as examples/whatif reads it")
	flag.StringVar(&o.dir, "dir", "", "the `folder` for the files of the shards; every worker must reach it")
	flag.StringVar(&o.join, "join", "", "write the rows of all shards into this `file`, in order")
	flag.StringVar(&o.format, "to", "csv", "csv or jsonl")
	flag.IntVar(&o.each, "each", 10_000, "scenarios of a shard")
	flag.Parse()
	o.rest = flag.Args()
	log.LogLevel = "error" // the engine tells every step otherwise; what fails is told below
	beam.Init()            // a worker that an engine started goes no further
	out, complaints := program.Outputs()
	if err := run(program.Context(), o, out); err != nil {
		fmt.Fprintln(complaints, "whatif-beam:", err)
		var w *wrong
		if errors.As(err, &w) {
			os.Exit(2)
		}
		os.Exit(1)
	}
}

// wrong is a mistake in the command or the study.
type wrong struct{ error }

func (w *wrong) Unwrap() error { return w.error }

func run(ctx context.Context, o options, out io.Writer) error {
	reads, writes := []intake.Place{{What: "-study", Name: o.study}}, []intake.Place{{What: "-join", Name: o.join}, {What: "what is printed", Stream: out}}
	if err := intake.Apart(reads, writes); err != nil {
		return &wrong{err}
	}
	j, err := o.job()
	if err != nil {
		return &wrong{err}
	}
	if err := j.claim(); err != nil {
		return &wrong{err}
	}
	missing, err := j.missing()
	if err != nil {
		return err
	}
	for _, r := range j.compiled.BaseRefused() {
		fmt.Fprintf(out, "the base itself is refused (%s): the study runs all the same\n", studyrows.Refusal(&r))
	}
	if _, err := fmt.Fprintf(out, "%d scenarios in %d shards, %d of them to solve\n", j.compiled.Size(), j.shards(), len(missing)); err != nil {
		return err
	}
	if len(missing) > 0 {
		p, s := beam.NewPipelineWithRoot()
		pipeline(s, j, missing)
		if err := beamx.Run(ctx, p); err != nil {
			return fmt.Errorf("%w\nthe same command goes on with the shards that are missing", err)
		}
		if missing, err = j.missing(); err != nil || len(missing) > 0 {
			return errors.Join(err, fmt.Errorf("%d shards are not in %s: can every worker write there?", len(missing), j.Dir))
		}
	}
	if o.join != "" {
		if err := j.join(o.join); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(out, "all rows are in", o.join); err != nil {
			return err
		}
	}
	return nil
}

// job checks everything that can be checked before anything runs.
func (o *options) job() (*Job, error) {
	var errs []error
	fail := func(text string, args ...any) { errs = append(errs, fmt.Errorf(text, args...)) }
	if len(o.rest) > 0 {
		fail("%q is left over: want flags alone", o.rest)
	}
	if o.dir == "" {
		fail("-dir is missing: want a folder for the rows, empty or begun by the same command")
	}
	if !slices.Contains([]string{"csv", "jsonl"}, o.format) {
		fail("-to is %q: want csv or jsonl", o.format)
	}
	if o.each < 1 || o.each > 1_000_000 {
		fail("-each is %d: want 1 to 1000000 scenarios of a shard", o.each)
	}
	dir, err := filepath.Abs(o.dir)
	if err != nil {
		errs = append(errs, err)
	}
	j := &Job{Dir: dir, Format: o.format, Each: o.each}
	if j.Study, err = readStudy(o.study); err != nil {
		errs = append(errs, err)
	} else if err := j.ready(); err != nil {
		errs = append(errs, err)
	}
	if len(errs) == 0 && j.shards() > mostShards {
		fail("%d shards are more than %d: want -each %d or more", j.shards(), mostShards, (j.compiled.Size()+mostShards-1)/mostShards)
	}
	return j, errors.Join(errs...)
}

// readStudy reads at most as much as a study may have.
func readStudy(name string) ([]byte, error) {
	if name == "" {
		return nil, errors.New("-study is missing: want a JSON file as examples/whatif reads it")
	}
	return intake.Read(name)
}
