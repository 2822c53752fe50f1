package main

import (
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
)

var office = flag.Bool("office", os.Getenv("CI") == "true", "fail, and do not skip, where LibreOffice is not installed")

// soffice finds LibreOffice, which knows nothing of this library.
func soffice(t *testing.T) string {
	path, err := exec.LookPath("soffice")
	if err != nil {
		require.False(t, *office, "no soffice on this machine: install libreoffice-calc")
		t.Skip("no soffice on this machine: the workbooks were not recalculated")
	}
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

// expect adds the sheets of l to the workbook, with the inputs changed as
// given, and what the calculation itself makes of them.
func (r *recalculation) expect(t *testing.T, l *live, a *answer, changed map[int]float64) {
	first := len(r.book.pages)
	calculation(r.book, l, "go run ./examples/spreadsheet")
	front, work := r.book.pages[first], r.book.pages[first+1]
	inputs := make([]float64, len(l.inputs))
	for i := range l.inputs {
		inputs[i] = l.inputs[i].value
		if v, ok := changed[i]; ok {
			inputs[i] = v
			in := &front.rows[inputsFrom+i].cells[colValue]
			require.Equal(t, entry, in.look.kind)
			in.number = l.inputs[i].in.toShown(v)
		}
	}
	name := l.entry.ID
	for i := range changed {
		name += ", " + l.inputs[i].path + " changed to " + strconv.FormatFloat(inputs[i], 'g', -1, 64)
	}
	for i, row := range l.rows {
		if row.how == heading || row.stale && len(changed) > 0 {
			continue
		}
		tolerance := max(1e-9*math.Abs(a.steps[i].Value), l.tolerance(i))
		r.cells = append(r.cells, expected{work.name, workCell(work, i).cell, name + ": " + row.ID + ": " + l.origin(&l.rows[i]), a.steps[i].Value, tolerance})
	}
	at := inputsFrom + max(1, len(l.inputs)) + 2
	for i := range l.outputs {
		o := &l.outputs[i]
		if o.stale && len(changed) > 0 {
			continue
		}
		want := o.in.toShown(a.numbers[i].value)
		tolerance := 1e-9 * max(math.Abs(want), math.Abs(o.in.zero))
		if o.from.kind == 'r' {
			tolerance = max(tolerance, l.tolerance(o.from.at)/o.in.scale())
		}
		r.cells = append(r.cells, expected{front.name, cellName(colValue, at+i+1), name + ": " + o.path, want, tolerance})
	}
	if len(changed) == 0 {
		r.says[[2]string{front.name, "A3"}] = "As when the sheet was made."
		r.says[[2]string{work.name, "A2"}] = "Every value is as when the sheet was made."
	}
}

// change picks the input that moves most results with it, and the furthest
// value at which the sheet says that it holds.
func (l *live) change() (input int, to float64, ok bool) {
	most := -1
	values := make([]float64, len(l.inputs))
	for i := range l.inputs {
		values[i] = l.inputs[i].value
	}
	_, before := l.evaluate(values)
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
		_, after := l.evaluate(values)
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

// inputsFrom is the index of the first input's row on a front page.
const inputsFrom = 5

// LibreOffice works every calculation's example out again, from the inputs
// alone, and so it does with one input changed: every cell agrees with what the
// calculation gives. So every relation is evaluated by a program that has no
// part in this library.
func TestOfficeAgrees(t *testing.T) {
	program := soffice(t)
	dir := t.TempDir()
	var all []*recalculation
	for group := range slices.Chunk(calc.Entries(), 12) {
		r := &recalculation{book: &book{paper: 9}, says: map[[2]string]string{}}
		for _, e := range group {
			q, err := read(e, []byte(e.Example))
			require.NoError(t, err)
			l, err := makeLive(e, q, unit.Metric)
			require.NoError(t, err)
			base, err := solve(e, q, unit.Metric)
			require.NoError(t, err)
			r.expect(t, l, base, nil)
			if i, v, ok := l.change(); ok {
				n := valuesOf(q, unit.Metric).numbers[i]
				n.set(v)
				changed, err := solve(e, q, unit.Metric)
				require.NoError(t, err)
				r.expect(t, l, changed, map[int]float64{i: v})
			}
		}
		all = append(all, r)
	}
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
		assert.Equal(t, want, got, "%v", at)
	}
	return len(r.cells)
}
