package main

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// soffice finds LibreOffice, which knows nothing of this library. It takes minutes, so that it is asked for: with OFFICE=need,
// or CI=true, which fail where it is not installed; OFFICE=no leaves it out.
func soffice(t *testing.T) string {
	asked := os.Getenv("OFFICE")
	if asked == "no" || asked != "need" && os.Getenv("CI") != "true" {
		t.Skip("the workbooks were not recalculated: OFFICE=need lets LibreOffice do it")
	}
	path, err := exec.LookPath("soffice")
	require.NoError(t, err, "install libreoffice-calc")
	return path
}

// expected is what a cell of a recalculated workbook must hold.
type expected struct {
	sheet, cell, what string
	want, tolerance   float64
}

// A recalculation is one workbook that LibreOffice opens, works out and saves.
type recalculation struct {
	book  *book
	cells []expected
	says  map[[2]string]string // by sheet and cell
}

// expect says what the sheets of l must show: what the calculation itself
// gives, but for what is marked once an input was changed.
func (r *recalculation) expect(l *live, name string, front, work *page, a *answer, changed bool) {
	moved := false
	for i, row := range l.rows {
		if row.how == heading || row.stale && changed {
			continue
		}
		want := a.steps[i].Value
		moved = moved || math.Abs(want-row.Value) > l.tolerance(i)
		what := name + ": " + row.ID + ": " + l.origin(i)
		r.cells = append(r.cells, expected{work.name, workCell(work, i).cell, what, want, max(1e-9*math.Abs(want), l.tolerance(i))})
	}
	results := slices.IndexFunc(front.rows, func(p pageRow) bool { return len(p.cells) > 0 && p.cells[0].text == "Results" })
	for i := range l.outputs {
		o := &l.outputs[i]
		if o.stale && changed {
			continue
		}
		want := o.in.toShown(a.numbers[i].value)
		tolerance := 1e-9 * max(math.Abs(want), math.Abs(o.in.zero))
		if o.from.kind == 'r' {
			tolerance = max(tolerance, l.tolerance(o.from.at)/o.in.scale())
		}
		r.cells = append(r.cells, expected{front.name, cellName(colValue, results+i+2), name + ": " + o.path, want, tolerance})
	}
	r.says[[2]string{work.name, "A2"}] = "Every value is as when the sheet was made."
	if moved {
		r.says[[2]string{work.name, "A2"}] = "Values that are not as when the sheet was made: "
	}
}

// change puts another value into the input cell of a page.
func change(t *testing.T, p *page, in *input, v float64) {
	at := slices.IndexFunc(p.rows, func(r pageRow) bool {
		return len(r.cells) > colValue && r.cells[0].text == inWords(in.path) && r.cells[colValue].look.kind == entry
	})
	require.GreaterOrEqual(t, at, 0, in.path)
	p.rows[at].cells[colValue].number = in.in.toShown(v)
}

func newRecalculation() *recalculation {
	return &recalculation{book: &book{paper: paperA4}, says: map[[2]string]string{}}
}

// mostMoving picks the input that moves most results with it, and the furthest
// value at which the sheet says that it holds.
func (l *live) mostMoving() (input int, to float64, ok bool) {
	most := -1
	values := make([]float64, len(l.inputs))
	for i := range l.inputs {
		values[i] = l.inputs[i].value
	}
	_, before := l.evaluate(values, nil)
	for i := range l.inputs {
		in := &l.inputs[i]
		if !in.free() {
			continue
		}
		v := in.high
		if v == in.value {
			v = in.low
		}
		values[i] = v
		_, after := l.evaluate(values, nil)
		values[i] = in.value
		moved := 0
		for k := range after {
			if after[k] != before[k] && !l.outputs[k].stale {
				moved++
			}
		}
		if moved > most {
			most, input, to, ok = moved, i, v, true
		}
	}
	return input, to, ok
}

// demoRecalculations are the workbook of the demo plant, as it is and with
// another value of the shift, which all orders share.
func demoRecalculations(t *testing.T) (out []*recalculation) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	orders, err := planLive(&s, unit.Metric, 1)
	require.NoError(t, err)
	all := sharedInputs(orders)
	at := slices.IndexFunc(all, func(a asked) bool { return strings.HasPrefix(a.path, "shift.") && a.low < a.high })
	require.GreaterOrEqual(t, at, 0, "no input of the shift can be changed")
	other := all[at].high
	if other == all[at].value {
		other = all[at].low
	}
	for _, v := range []float64{all[at].value, other} {
		changed := v != all[at].value
		r := newRecalculation()
		scenario(r.book, &s, orders, unit.Metric, "go run ./examples/spreadsheet")
		page := func(name string) *page {
			return r.book.pages[slices.IndexFunc(r.book.pages, func(p *page) bool { return p.name == name })]
		}
		for i := range orders {
			require.NoError(t, orders[i].refused)
			number := strconv.Itoa(i + 1)
			q := reflect.ValueOf(&line.Plan{Line: s.Line, Order: s.Orders[i], Shift: s.Shift}).Elem()
			k := slices.IndexFunc(orders[i].inputs, func(in input) bool { return in.path == all[at].path })
			n := valuesOf(q, unit.Metric).numbers[k]
			n.set(v)
			change(t, page("line and shift"), &orders[i].inputs[k], v)
			a, err := solve(q, unit.Metric)
			require.NoError(t, err)
			n.set(all[at].value)
			r.expect(orders[i].live, fmt.Sprintf("order %s, %s %v", number, n.path, v), page(number+" "+s.Orders[i].Product.Name), page(number+" working"), a, changed)
		}
		r.says[[2]string{"orders", "A2"}] = "As when the sheet was made."
		if changed {
			r.says[[2]string{"orders", "A2"}] = "Inputs were changed. What is marked does not follow them; words, conditions and cautions are as when the sheet was made."
		}
		out = append(out, r)
	}
	return out
}

// LibreOffice works every calculation's example out again, from the inputs
// alone, and so it does with one input changed: every cell agrees with what the
// calculation gives, and so with the demo plant's orders. So every relation is evaluated by a program that has no
// part in this library.
func TestOfficeAgrees(t *testing.T) {
	program := soffice(t)
	dir := t.TempDir()
	var all []*recalculation
	sys := unit.US
	for group := range slices.Chunk(calc.Entries(), 12) {
		sys = unit.Metric + unit.US - sys // in turn
		r := newRecalculation()
		add := func(l *live) (front, work *page) {
			first := len(r.book.pages)
			calculation(r.book, l, "go run ./examples/spreadsheet")
			return r.book.pages[first], r.book.pages[first+1]
		}
		for _, e := range group {
			q, err := read(e, []byte(e.Example))
			require.NoError(t, err)
			l, err := makeLive(e, q, sys, 1)
			require.NoError(t, err)
			base, err := solve(q, sys)
			require.NoError(t, err)
			front, work := add(l)
			r.expect(l, e.ID, front, work, base, false)
			r.says[[2]string{front.name, "A3"}] = "As when the sheet was made."
			if i, v, ok := l.mostMoving(); ok {
				n := valuesOf(q, sys).numbers[i]
				n.set(v)
				changed, err := solve(q, sys)
				require.NoError(t, err)
				front, work = add(l)
				change(t, front, &l.inputs[i], v)
				r.expect(l, fmt.Sprintf("%s, %s changed to %v", e.ID, n.path, v), front, work, changed, true)
			}
		}
		all = append(all, r)
	}
	all = append(all, demoRecalculations(t)...)
	var files []string
	for i, r := range all {
		name := filepath.Join(dir, strconv.Itoa(i)+".xlsx")
		file, err := os.Create(name)
		require.NoError(t, err)
		require.NoError(t, r.book.write(file))
		require.NoError(t, file.Close())
		files = append(files, name)
	}
	began := time.Now()
	recalculate(t, program, dir, files)
	t.Logf("LibreOffice took %v for %d workbooks", time.Since(began).Round(time.Second), len(files))
	cells := 0
	for i, r := range all {
		cells += r.compare(t, filepath.Join(dir, "out", strconv.Itoa(i)+".xlsx"))
	}
	t.Logf("%d cells compared", cells)
	assert.Greater(t, cells, 7_000)
}

// recalculate lets LibreOffice open the workbooks, work them out and save them
// into the folder out.
func recalculate(t *testing.T, program, dir string, files []string) {
	// What the file says a formula gave is not to be believed: work all of it out.
	profile := filepath.Join(dir, "profile", "user")
	require.NoError(t, os.MkdirAll(profile, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(profile, "registrymodifications.xcu"), []byte(alwaysRecalculate), 0o644))
	args := append([]string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to", "xlsx", "--outdir", filepath.Join(dir, "out")}, files...)
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
}

const alwaysRecalculate = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`

// compare holds the recalculated workbook against what was expected of it, and
// returns how many cells it looked at.
func (r *recalculation) compare(t *testing.T, file string) int {
	f, err := excelize.OpenFile(file, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	for _, e := range r.cells {
		text, err := f.GetCellValue(e.sheet, e.cell)
		require.NoError(t, err)
		got, err := strconv.ParseFloat(text, 64)
		if assert.NoError(t, err, "%s (%s!%s)", e.what, e.sheet, e.cell) {
			assert.InDelta(t, e.want, got, e.tolerance, "%s (%s!%s)", e.what, e.sheet, e.cell)
		}
	}
	for at, want := range r.says {
		got, err := f.GetCellValue(at[0], at[1])
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(got, want), "%v says %q, want %q", at, got, want)
	}
	return len(r.cells)
}
