// Compare times full line plans varied in five inputs, and a study of two temperatures
// with five outputs: by this library, by hand in Go, by a plain Python loop, by NumPy and by
// LibreOffice. All work out the same columns, which are held against one another, and keep them.
//
//	go run ./examples/whatif/compare
//
// It needs python3 with numpy, and for LibreOffice soffice and python3-uno; what is not there is
// left out and said. Every ratio is printed, also those that we lose. A time is the least of
// many blocks, that of a study the least of whole runs; on a busy machine they scatter all the same.
package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"time"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/whatif"
)

//go:embed contenders.py
var python string

func main() {
	n := flag.Int("n", 100_000, "plans of each contender; LibreOffice takes a fiftieth")
	seconds := flag.Float64("seconds", 3, "how long each contender is timed")
	name := flag.String("python", "", "python3 with numpy and uno; else the first that has them")
	flag.Parse()
	if err := run(os.Stdout, *n, *seconds, *name); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// contender is one way to work the plans out.
type contender struct {
	name string
	ns   float64 // per plan
	sums []float64
}

// bench is everything that the contenders share.
type bench struct {
	n       int
	seconds float64
	base    line.Plan
	sheet   sheet
	python  string
	kept    []float64 // what they keep: n rows of columns
}

func run(out io.Writer, n int, seconds float64, name string) error {
	if n < 1000 || n > 100_000 {
		return errors.New("-n is out of range: want 1000 to 100000")
	}
	base, err := straightPlan()
	if err != nil {
		return err
	}
	b := &bench{n: n, seconds: seconds, base: base, sheet: newSheet(&base), python: findPython(name), kept: make([]float64, n*len(columns))}
	var ours, others []contender
	for _, do := range []func() (contender, error){b.inPlace, b.repeated} {
		c, err := do()
		if err != nil {
			return err
		}
		ours = append(ours, c)
	}
	five := whatif.Study{Subject: whatif.Of(b.base)}
	for k := range inputs {
		five.Vary = append(five.Vary, whatif.Factor{Path: inputs[k].path, Values: values(k)})
	}
	studies, err := b.studies(five, columns)
	if err != nil {
		return err
	}
	ours = append(ours, studies...)
	others = append(others, b.byHand())
	for _, task := range []string{"loop", "numpy", "office"} {
		found, err := b.outside(task)
		if err != nil {
			fmt.Fprintf(out, "left out: %s: %v\n", task, err)
		}
		others = append(others, found...)
	}
	fmt.Fprintf(out, "Full plans, five inputs varied, %d outputs kept of each; %d plans; %s, %d processors\n\n", len(columns), n, runtime.Version(), runtime.NumCPU())
	table(out, ours, others)
	if err := b.two(out); err != nil {
		return err
	}
	return whole(out)
}

// whole runs the benchmark of the plan with every name, condition and caution, beside one by hand
// that makes all of them too; it needs the sources.
func whole(out io.Writer) error {
	text, err := exec.Command("go", "test", "-run", "^$", "-bench", "^BenchmarkRepeat$", "-benchtime", "50ms", "-count", "5", "./doughmath/line").Output()
	if err != nil {
		fmt.Fprintf(out, "left out: the whole plan: %v: want to run at the top of the project\n", err)
		return nil
	}
	least, names := map[string]map[string]float64{}, []string{}
	for line := range strings.Lines(string(text)) {
		fields := strings.Fields(line)
		parts := strings.Split(strings.TrimPrefix(strings.SplitN(line, " ", 2)[0], "BenchmarkRepeat/"), "/")
		if len(parts) != 3 || len(fields) < 3 {
			continue
		}
		ns, err := strconv.ParseFloat(fields[2], 64)
		if err != nil {
			continue
		}
		name, way := parts[0]+", "+parts[1], parts[2][:strings.LastIndexByte(parts[2], '-')]
		if least[name] == nil {
			least[name], names = map[string]float64{}, append(names, name)
		}
		if old := least[name][way]; old == 0 || ns < old {
			least[name][way] = ns
		}
	}
	fmt.Fprintf(out, "Whole plans with every name, condition and caution, by what varies; over the same by hand\n\n%-44s %10s %18s %18s\n", "", "by hand ns", "from the start", "repeated")
	for _, name := range names {
		t := least[name]
		hand := t["by_hand"]
		fmt.Fprintf(out, "%-44s %10.0f %8.0f (%6.2fx) %8.0f (%6.2fx)\n", strings.ReplaceAll(name, "_", " "), hand, t["from_the_start"], t["from_the_start"]/hand, t["repeated"], t["repeated"]/hand)
	}
	return nil
}

func table(out io.Writer, ours, others []contender) {
	fmt.Fprintf(out, "%-50s %12s", "", "ns a plan")
	for i := range ours {
		fmt.Fprintf(out, "  %12s", "over ours "+string(rune('A'+i)))
	}
	fmt.Fprintln(out)
	for i, c := range append(append([]contender{}, ours...), others...) {
		label := c.name
		if i < len(ours) {
			label = string(rune('A'+i)) + "  " + label
		}
		fmt.Fprintf(out, "%-50s %12.1f", label, c.ns)
		for _, o := range ours {
			fmt.Fprintf(out, "  %12.3g", c.ns/o.ns)
		}
		fmt.Fprintln(out)
	}
	want := others[0].sums
	if len(want) == 0 {
		fmt.Fprintln(out)
		return
	}
	worst := 0.0
	for _, c := range append(append([]contender{}, ours...), others...) {
		for k := range c.sums {
			if len(c.sums) == len(want) && want[k] != 0 {
				worst = max(worst, math.Abs(c.sums[k]/want[k]-1))
			}
		}
	}
	fmt.Fprintf(out, "\nThe sums of the columns agree to %.1g of their value.\n\n", worst)
}

// block is how many plans are timed at a time: few enough that some blocks are not disturbed.
const block = 2000

// least is the least time of many blocks, in ns a plan; every plan is made at least once.
func (b *bench) least(n, block int, do func(first, count int) error) (float64, error) {
	best := math.Inf(1)
	until := time.Now().Add(time.Duration(b.seconds * float64(time.Second)))
	for pass := 0; pass == 0 || time.Now().Before(until); pass++ {
		for first := 0; first < n; first += block {
			count := min(block, n-first)
			start := time.Now()
			if err := do(first, count); err != nil {
				return 0, err
			}
			best = min(best, float64(time.Since(start).Nanoseconds())/float64(count))
		}
	}
	return best, nil
}

// sums adds up the columns that were kept.
func sums(kept []float64, width int) []float64 {
	out := make([]float64, width)
	for i, v := range kept {
		out[i%width] += v
	}
	return out
}

// byHand is the same arithmetic in Go, unchecked.
func (b *bench) byHand() contender {
	width := len(columns)
	ns, _ := b.least(b.n, block, func(first, count int) error {
		for i := first; i < first+count; i++ {
			x := at(i)
			b.sheet.plan(x[0], x[1], x[2], x[3], x[4], b.kept[i*width:(i+1)*width])
		}
		return nil
	})
	return contender{"by hand in Go, unchecked", ns, sums(b.kept, width)}
}

// inPlace plans on a commissioned line: every output, condition and caution.
func (b *bench) inPlace() (contender, error) {
	cl, err := line.Commission(b.base.Line)
	if err != nil {
		return contender{}, err
	}
	plan, parts := b.base, make([]doughmath.Part, 0, 20)
	var out line.PlanResult
	ns, err := b.least(b.n, block, func(first, count int) error {
		for i := first; i < first+count; i++ {
			set(&plan, at(i))
			if err := cl.PlanInto(&out, &plan.Order, &plan.Shift, parts); err != nil {
				return err
			}
			b.kept[i] = float64(out.Target)
		}
		return nil
	})
	return contender{name: "ours: PlanInto, all outputs", ns: ns}, err
}

// repeated plans keeping what does not depend on what varies: every output, condition and caution.
func (b *bench) repeated() (contender, error) {
	plan := b.base
	var vary []string
	for _, in := range inputs {
		vary = append(vary, in.path)
	}
	var out line.PlanResult
	again := plan.Repeat(&out, vary)
	ns, err := b.least(b.n, block, func(first, count int) error {
		for i := first; i < first+count; i++ {
			set(&plan, at(i))
			if err := again(); err != nil {
				return err
			}
			b.kept[i] = float64(out.Target)
		}
		return nil
	})
	return contender{name: "ours: Plan.Repeat, all outputs", ns: ns}, err
}

// studies is a study with the outputs on one and on two workers: its columns alone, as the others
// have them, and with the conditions and cautions of every row.
func (b *bench) studies(s whatif.Study, outputs []string) ([]contender, error) {
	for _, path := range outputs {
		s.Outputs = append(s.Outputs, whatif.Output{Path: path})
	}
	c, err := s.Compile()
	if err != nil {
		return nil, err
	}
	var ours []contender
	for _, alone := range []bool{true, false} {
		for workers := 1; workers <= 2; workers++ {
			ns, sums, err := b.rows(c, len(outputs), whatif.Options{Workers: workers, ValuesOnly: alone})
			if err != nil {
				return nil, err
			}
			name := map[bool]string{true: "its columns alone", false: "with its remarks"}[alone]
			ours = append(ours, contender{fmt.Sprintf("ours: a study, %s, workers: %d", name, workers), ns, sums})
		}
	}
	return ours, nil
}

// rows times the study as a whole: workers that are started for each few rows tell of their start.
func (b *bench) rows(c *whatif.Compiled, width int, o whatif.Options) (float64, []float64, error) {
	skip := len(c.Columns()) - width
	kept := b.kept[:b.n*width]
	ns, err := b.least(b.n, b.n, func(first, count int) error {
		o.First, o.Count = first, count
		for row, err := range c.Rows(context.Background(), o) {
			if err == nil {
				err = row.Err()
			}
			if err != nil {
				return err
			}
			copy(kept[row.Index*width:], row.Values[skip:])
		}
		return nil
	})
	for i, v := range kept {
		if math.IsNaN(v) { // an answer leaves out what is nothing
			kept[i] = 0
		}
	}
	return ns, sums(kept, width), err
}

// twoOutputs are what the water has to do with.
var twoOutputs = []string{"water_mass", "water_temp", "ice_to_weigh", "hot_to_weigh", "water_to_weigh"}

// two is the study of two temperatures with five outputs, against the columns alone.
func (b *bench) two(out io.Writer) error {
	s := whatif.Study{Subject: whatif.Of(b.base)}
	for k := range 2 {
		f := whatif.Factor{Path: inputs[k].path, From: values(k)[0], To: values(k)[9], Count: 316}
		s.Vary = append(s.Vary, f)
	}
	n := b.n
	b.n = min(n, 316*316)
	defer func() { b.n = n }()
	ours, err := b.studies(s, twoOutputs)
	if err != nil {
		return err
	}
	others, err := b.outside("two")
	if err != nil {
		fmt.Fprintf(out, "left out: numpy, two temperatures: %v\n", err)
	}
	fmt.Fprintf(out, "Two temperatures varied, five outputs kept; %d scenarios. NumPy works out these five columns alone.\n\n", b.n)
	if len(others) == 0 {
		others = []contender{{name: "nobody else", ns: math.NaN()}}
	}
	table(out, ours, others)
	return nil
}

// findPython returns a python3 that has numpy.
func findPython(name string) string {
	for _, p := range []string{name, "python3", "/usr/bin/python3"} {
		if p != "" && exec.Command(p, "-c", "import numpy").Run() == nil { //nolint:gosec // one of three names
			return p
		}
	}
	return "python3"
}

// outside runs a contender that is no Go program.
func (b *bench) outside(task string) ([]contender, error) {
	n := b.n
	switch task {
	case "office":
		n = max(b.n/50, 200)
	case "loop":
		n = max(b.n/5, 1000)
	}
	type axis struct {
		From float64 `json:"from"`
		Step float64 `json:"step"`
	}
	var axes []axis
	for _, in := range inputs {
		axes = append(axes, axis{in.from, in.step})
	}
	first := make([]float64, len(columns))
	b.sheet.plan(b.base.Shift.Tap.Celsius(), b.base.Shift.FlourTemp.Celsius(), float64(b.base.Order.Product.Baked), float64(b.base.Order.Product.Friction), float64(b.base.Order.Pieces), first)
	data, err := json.Marshal(map[string]any{"sheet": b.sheet, "axes": axes, "columns": columns, "water_mass": first[30], "base": first[31], "seconds": b.seconds})
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(b.python, "-c", python, task, strconv.Itoa(n)) //nolint:gosec // our own script
	cmd.Stdin = bytes.NewReader(data)
	var wrong bytes.Buffer
	cmd.Stderr = &wrong
	text, err := cmd.Output()
	if err != nil {
		lines := bytes.Split(bytes.TrimSpace(wrong.Bytes()), []byte("\n"))
		return nil, fmt.Errorf("%w: %s", err, lines[len(lines)-1])
	}
	var got struct {
		NS      float64 `json:"ns"`
		Sums    []float64
		Chunk   int
		ChunkNS float64 `json:"chunk_ns"`
	}
	if err := json.Unmarshal(text, &got); err != nil {
		return nil, err
	}
	if n != b.n {
		got.Sums = b.scaled(got.Sums, n)
	}
	switch task {
	case "loop":
		return []contender{{"a plain Python loop", got.NS, got.Sums}}, nil
	case "office":
		return []contender{{"LibreOffice, hard recalculation", got.NS, got.Sums}}, nil
	case "two":
		got.Sums = nil
	}
	return []contender{{"NumPy, whole arrays", got.NS, got.Sums}, {fmt.Sprintf("NumPy, chunks of %d", got.Chunk), got.ChunkNS, nil}}, nil
}

// scaled turns the sums of the first n plans into those of all, if they are those of ours.
func (b *bench) scaled(got []float64, n int) []float64 {
	width := len(columns)
	row := make([]float64, width)
	part, all := make([]float64, width), make([]float64, width)
	for i := range b.n {
		x := at(i)
		b.sheet.plan(x[0], x[1], x[2], x[3], x[4], row)
		for k, v := range row {
			if all[k] += v; i < n {
				part[k] += v
			}
		}
	}
	for k := range got {
		switch {
		case part[k] != 0:
			got[k] *= all[k] / part[k]
		case got[k] == 0: // nothing yet among the first
			got[k] = all[k]
		}
	}
	return got
}
