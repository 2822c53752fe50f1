package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/studyrows"
)

// asProgram makes the test binary the program itself, so that a test can end it the hard way.
const asProgram = "WHATIF_BEAM_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		os.Exit(0)
	}
	log.LogLevel = "error"
	beam.Init()
	os.Exit(m.Run())
}

// study is a study of side*side scenarios; some of them are refused, some have conditions.
func study(t *testing.T, side int) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "study.json")
	require.NoError(t, os.WriteFile(name, fmt.Appendf(nil, `{
		"calculation": "water-temperature",
		"base": {"target_temp": "26 °C", "flour_temp": "21 °C", "room": "23 °C", "friction": "14 C°", "friction_basis": "once"},
		"vary": [
			{"path": "flour_temp", "from": "5 °C", "to": "35 °C", "count": %[1]d},
			{"path": "room", "from": "10 °C", "to": "35 °C", "count": %[1]d}
		],
		"outputs": [{"path": "water_temp"}]
	}`, side), 0o644))
	return name
}

// oneMachine is the rows of the study without any engine.
func oneMachine(t *testing.T, o options) string {
	t.Helper()
	j, err := o.job()
	require.NoError(t, err)
	var b bytes.Buffer
	w, err := studyrows.New(o.format, &b, j.compiled, nil)
	require.NoError(t, err)
	for i := range j.compiled.Size() {
		row, err := j.compiled.At(i)
		require.NoError(t, err)
		require.NoError(t, w.Write(&row))
	}
	require.NoError(t, w.Close())
	return b.String()
}

// same compares without printing a million lines.
func same(t *testing.T, want, file string) {
	t.Helper()
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	if string(got) == want {
		return
	}
	a, b := strings.Split(want, "\n"), strings.Split(string(got), "\n")
	require.Len(t, b, len(a))
	for i := range a {
		require.Equal(t, a[i], b[i], "line %d", i+1)
	}
}

func TestRowsAreThoseOfOneMachine(t *testing.T) {
	for _, c := range []struct {
		format string
		each   int
	}{{"csv", 1}, {"csv", 7}, {"csv", 100}, {"csv", 1000}, {"jsonl", 7}, {"jsonl", 64}} {
		t.Run(fmt.Sprint(c.format, " in shards of ", c.each), func(t *testing.T) {
			o := options{study: study(t, 12), dir: t.TempDir(), format: c.format, each: c.each, join: filepath.Join(t.TempDir(), "all")}
			require.NoError(t, run(t.Context(), o, io.Discard))
			want := oneMachine(t, o)
			require.Contains(t, want, "below-freezing")
			require.Contains(t, want, "safe water temperature") // some are refused
			same(t, want, o.join)
		})
	}
}

// A machine is lost in the middle of a million scenarios: the program is killed, and
// the same command goes on.
func TestMillionScenariosWithTheProgramKilledHalfWay(t *testing.T) {
	if testing.Short() {
		t.Skip("a million scenarios")
	}
	o := options{study: study(t, 1000), dir: t.TempDir(), format: "csv", each: 10_000, join: filepath.Join(t.TempDir(), "all.csv")}
	first := exec.Command(os.Args[0], "-study", o.study, "-dir", o.dir, "-each", "10000")
	first.Env = append(os.Environ(), asProgram+"=1")
	require.NoError(t, first.Start())
	ended := make(chan error, 1)
	go func() { ended <- first.Wait() }()
	shards := func() []string {
		names, err := filepath.Glob(filepath.Join(o.dir, "rows-*"))
		require.NoError(t, err)
		return names
	}
	for len(shards()) < 50 {
		select {
		case err := <-ended:
			t.Fatal("it ended before it could be killed: ", err)
		case <-time.After(time.Millisecond):
		}
	}
	require.NoError(t, first.Process.Kill())
	require.Error(t, <-ended)
	kept := map[string]time.Time{}
	for _, name := range shards() {
		info, err := os.Stat(name)
		require.NoError(t, err)
		kept[name] = info.ModTime()
	}
	require.Less(t, len(kept), 100, "it was done before it was killed")

	var said bytes.Buffer
	require.NoError(t, run(t.Context(), o, &said))
	assert.Contains(t, said.String(), fmt.Sprintf("1000000 scenarios in 100 shards, %d of them to solve", 100-len(kept)))
	for name, at := range kept {
		info, err := os.Stat(name)
		require.NoError(t, err)
		assert.Equal(t, at, info.ModTime(), "%s was whole and is solved again", name)
	}
	same(t, oneMachine(t, o), o.join)
}

func init() { register.DoFn2x1[context.Context, int, error](&fails{}) }

// fails is a worker that is lost in the middle of a shard.
type fails struct {
	Job Job
	At  int
}

func (f *fails) ProcessElement(ctx context.Context, shard int) error {
	if shard != f.At {
		return f.Job.solve(ctx, shard)
	}
	if err := f.Job.ready(); err != nil {
		return err
	}
	return writeWhole(f.Job.name(shard), func(out io.Writer) error {
		return errors.Join(f.Job.write(ctx, out, shard*f.Job.Each, 3), errors.New("worker lost"))
	})
}

func TestWorkerThatFailsHalfWayLeavesNoHalfShard(t *testing.T) {
	o := options{study: study(t, 30), dir: t.TempDir(), format: "jsonl", each: 50, join: filepath.Join(t.TempDir(), "all")}
	j, err := o.job()
	require.NoError(t, err)
	require.NoError(t, j.claim())
	p, s := beam.NewPipelineWithRoot()
	beam.ParDo0(s, &fails{*j, 9}, beam.Reshuffle(s, beam.Create(s, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9)))
	require.ErrorContains(t, beamx.Run(t.Context(), p), "worker lost")
	assert.NoFileExists(t, j.name(9))
	left, err := filepath.Glob(filepath.Join(o.dir, ".unfinished-*"))
	require.NoError(t, err)
	assert.Empty(t, left)

	require.NoError(t, run(t.Context(), o, io.Discard))
	same(t, oneMachine(t, o), o.join)
}

func TestShardSolvedTwiceAtOnceIsTheSame(t *testing.T) {
	o := options{study: study(t, 30), dir: t.TempDir(), format: "csv", each: 300}
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			j, err := o.job() // each worker compiles the study for itself
			if assert.NoError(t, err) {
				assert.NoError(t, j.solve(t.Context(), 1))
			}
		})
	}
	wait.Wait()
	j, err := o.job()
	require.NoError(t, err)
	lines := strings.SplitAfter(oneMachine(t, o), "\n")
	same(t, strings.Join(lines[301:601], ""), j.name(1))
}

func TestRefuses(t *testing.T) {
	good := func(t *testing.T) options {
		return options{study: study(t, 4), dir: filepath.Join(t.TempDir(), "rows"), format: "csv", each: 5}
	}
	for name, c := range map[string]struct {
		break_ func(t *testing.T, o *options)
		want   []string
	}{
		"all flags at once": {
			func(_ *testing.T, o *options) { *o = options{format: "xls", rest: []string{"foo"}} },
			[]string{"left over", "-study is missing", "-dir is missing", `-to is "xls": want csv or jsonl`, "-each is 0: want 1 to 1000000"},
		},
		"no such study": {func(_ *testing.T, o *options) { o.study += "x" }, []string{"no such file"}},
		"a folder":      {func(_ *testing.T, o *options) { o.study = filepath.Dir(o.study) }, []string{"is a folder: want the name of a file"}},
		"study without end": {
			func(_ *testing.T, o *options) { o.study = "/dev/zero" },
			[]string{"more than 8388608 bytes"},
		},
		"path that leads nowhere": {
			func(t *testing.T, o *options) {
				data, err := os.ReadFile(o.study)
				require.NoError(t, err)
				require.NoError(t, os.WriteFile(o.study, bytes.ReplaceAll(data, []byte(`"path": "room"`), []byte(`"path": "rom"`)), 0o644))
			},
			[]string{"vary[1].path", `"rom"`, "room perhaps"},
		},
		"too many shards": {
			func(t *testing.T, o *options) { o.study, o.each = study(t, 1000), 1 },
			[]string{"1000000 shards are more than 100000: want -each 10 or more"},
		},
		"folder with something else": {
			func(t *testing.T, o *options) {
				require.NoError(t, os.MkdirAll(o.dir, 0o755))
				require.NoError(t, os.WriteFile(filepath.Join(o.dir, "orders.txt"), nil, 0o644))
			},
			[]string{"is not empty and was not begun by this program"},
		},
		"folder of another study": {
			func(t *testing.T, o *options) {
				other := *o
				other.study = study(t, 3)
				require.NoError(t, run(t.Context(), other, io.Discard))
			},
			[]string{"holds rows of another study"},
		},
		"folder of other shards": {
			func(t *testing.T, o *options) {
				other := *o
				other.each = 6
				require.NoError(t, run(t.Context(), other, io.Discard))
			},
			[]string{"in shards of another size"},
		},
		"rows among the shards": {
			func(_ *testing.T, o *options) { o.join = filepath.Join(o.dir, "rows-0000000000.csv") },
			[]string{"want another place"},
		},
		"rows in place of a folder": {
			func(t *testing.T, o *options) { o.join = t.TempDir() },
			[]string{"is a folder or a device"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			o := good(t)
			c.break_(t, &o)
			err := run(t.Context(), o, io.Discard)
			for _, want := range c.want {
				require.ErrorContains(t, err, want)
			}
		})
	}
}

func TestBaseThatIsRefusedIsSaid(t *testing.T) {
	o := options{study: study(t, 2), dir: t.TempDir(), format: "csv", each: 5}
	data, err := os.ReadFile(o.study)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(o.study, bytes.ReplaceAll(data, []byte(`"26 °C"`), []byte(`"59 °C"`)), 0o644))
	var said bytes.Buffer
	require.NoError(t, run(t.Context(), o, &said))
	assert.Contains(t, said.String(), "the base itself is refused")
}

func BenchmarkMillionScenarios(b *testing.B) {
	name := filepath.Join(b.TempDir(), "study.json")
	require.NoError(b, os.WriteFile(name, []byte(`{"calculation":"water-temperature",
		"base":{"target_temp":"26 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"},
		"vary":[{"path":"flour_temp","from":"15 °C","to":"25 °C","count":1000},{"path":"room","from":"15 °C","to":"25 °C","count":1000}],
		"outputs":[{"path":"water_temp"}]}`), 0o644))
	for b.Loop() {
		require.NoError(b, run(b.Context(), options{study: name, dir: b.TempDir(), format: "csv", each: 10_000}, io.Discard))
	}
}
