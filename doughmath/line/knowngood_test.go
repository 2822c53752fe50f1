package line_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ran is a good run of an order of the demo on a day, with a few controls where they stood.
func ran(t testing.TB, order, day int, stands ...string) line.RunRecord {
	t.Helper()
	s, _ := demo(t)
	r := line.RunRecord{Date: fmt.Sprintf("2026-11-%02d", day), Line: s.Line, Order: s.Orders[order], Shift: s.Shift, Good: true}
	for i := 0; i < len(stands); i += 2 {
		r.Settings = append(r.Settings, line.Standing{Control: stands[i], At: stands[i+1]})
	}
	return r
}

func knownGood(t testing.TB, order int, records ...line.RunRecord) line.KnownGood {
	t.Helper()
	s, _ := demo(t)
	return line.KnownGood{Line: s.Line, Order: s.Orders[order], Shift: s.Shift, Records: records, Last: 10}
}

func setting(t testing.TB, out line.KnownGoodResult, control string) line.KnownSetting {
	t.Helper()
	i := slices.IndexFunc(out.Settings, func(s line.KnownSetting) bool { return s.Control == control })
	require.GreaterOrEqual(t, i, 0, control)
	return out.Settings[i]
}

// Where good runs differed from their plans, today's plan is moved by as much, to the step of the control.
func TestKnownGoodMovesThePlan(t *testing.T) {
	// The plan of the roll: mark 18.5, guides 156 mm, board 34 and 18 mm.
	out, err := knownGood(t, 1,
		ran(t, 1, 3, "divider handle", "19", "side guides", "160 mm", "curling chain", "low", "board, exit", "18 mm"),
		ran(t, 1, 4, "divider handle", "19.5", "side guides", "158 mm", "curling chain", "low"),
		ran(t, 1, 5, "divider handle", "19", "side guides", "15.6 cm", "curling chain", "middle"),
	).Solve()
	require.NoError(t, err)
	assert.Equal(t, 3, out.Good)
	assert.Equal(t, "2026-11-05", out.LastGood)
	assert.Empty(t, out.Changed)
	handle := setting(t, out, "divider handle")
	assert.InDelta(t, 2.0/3, handle.Offset, 1e-9)
	assert.Equal(t, "19", handle.Start, "18.5 and 0.67 are 19.17, to the step of 0.5")
	assert.Equal(t, []float64{19, 19.5, 18.5}, []float64{handle.Low, handle.High, handle.Plan})
	assert.True(t, handle.Outside)
	assert.Zero(t, handle.Drift, "up and down again")
	guides := setting(t, out, "side guides")
	assert.Equal(t, "158 mm", guides.Start, "156 and 2")
	assert.InDelta(t, -2, guides.Drift, 1e-9)
	assert.False(t, guides.Outside, "156 is the lowest of the good")
	assert.Equal(t, "last 3 runs 156 mm to 160 mm, today's plan 156 mm", guides.Says)
	assert.Equal(t, guides.Says, guides.In(unit.Metric))
	assert.Equal(t, guides.Start, guides.StartIn(unit.Metric))
	assert.Equal(t, "last 3 runs 6.142 in to 6.299 in, today's plan 6.142 in", guides.In(unit.US))
	assert.Equal(t, "6.22 in", guides.StartIn(unit.US))
	chain := setting(t, out, "curling chain")
	assert.Equal(t, "last 3 runs differ, the last at middle, today's plan low", chain.Says)
	assert.False(t, chain.Outside, "low was good too")
	assert.Equal(t, "low", chain.Start)
	assert.Equal(t, chain.Says, chain.In(unit.US), "a position has no unit")
	assert.Equal(t, "low", chain.StartIn(unit.US))
	exit := setting(t, out, "board, exit")
	assert.Equal(t, "last run 18 mm, today's plan 18 mm", exit.Says)
	assert.Equal(t, 1, exit.Runs)
	assert.Zero(t, setting(t, out, "board, entry").Runs)
	assert.Empty(t, setting(t, out, "board, entry").Says)
	entry := setting(t, out, "board, entry")
	assert.Empty(t, entry.In(unit.US))
	assert.Equal(t, "outside-good", out.Conditions.String())
}

// Only the last good runs count, and a position that was never good is told.
func TestKnownGoodLooksAtTheLastGood(t *testing.T) {
	bad := ran(t, 1, 6, "divider handle", "40")
	bad.Good = false
	q := knownGood(t, 1, ran(t, 1, 1, "divider handle", "10", "curling chain", "low"), ran(t, 1, 2, "divider handle", "18", "curling chain", "middle"), ran(t, 1, 3, "divider handle", "18.5", "curling chain", "middle"), bad)
	q.Last = 2
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, 4, out.Records)
	assert.Equal(t, 2, out.Good)
	assert.Equal(t, "2026-11-03", out.LastGood)
	handle := setting(t, out, "divider handle")
	assert.Equal(t, []float64{18, 18.5}, []float64{handle.Low, handle.High})
	assert.True(t, setting(t, out, "curling chain").Outside, "low is no longer among the good")
	assert.True(t, out.Conditions.Has(line.FewRuns))
}

// A control that creeps is told once the runs show that it is more than chance.
func TestKnownGoodDrift(t *testing.T) {
	for _, c := range []struct {
		id       string
		marks    []string
		drift    float64
		drifting bool
	}{
		{"steady", []string{"12.5", "12.5", "12.5", "12.5"}, 0, false},
		{"to and fro", []string{"12.5", "13", "12.5", "13"}, 0.1, false},
		{"rising", []string{"12", "12.5", "12.5", "13", "13.5"}, 0.35, true},
		{"falling", []string{"14", "13.5", "13", "12.5"}, -0.5, true},
		{"too few", []string{"12", "12.5", "13"}, 0.5, false},
	} {
		var records []line.RunRecord
		for i, m := range c.marks {
			records = append(records, ran(t, 0, i+1, "divider handle", m))
		}
		out, err := knownGood(t, 0, records...).Solve()
		require.NoError(t, err)
		handle := setting(t, out, "divider handle")
		assert.InDelta(t, c.drift, handle.Drift, 1e-9, c.id)
		assert.Equal(t, c.drifting, handle.Drifting, c.id)
		assert.Equal(t, c.drifting, out.Conditions.Has(line.Drifting), c.id)
	}
}

// What differs from the last good run is named: line, product and day, but not how much is ordered.
func TestKnownGoodSaysWhatChanged(t *testing.T) {
	q := knownGood(t, 1, ran(t, 1, 1, "divider handle", "18.5"))
	q.Order.Pieces, q.Order.Spare = 100, 1
	q.Line.Moulder.Recovery = 1.7
	q.Line.Pocket.Width = 140
	q.Line.Belts = slices.Clone(q.Line.Belts)[:3]
	q.Line.Belts[1].BeltSpeed *= 2
	q.Line.Oil = []unit.VolumeRate{1}
	board := *q.Line.Moulder.Board
	board.Spring = 1.35
	q.Line.Moulder.Board = &board
	q.Shift.Tap, q.Shift.HotTap = unit.Celsius(9), unit.Temp{}
	q.Order.Product.DwellLow = 330
	q.Order.Product.Allergens = []string{"wheat", "soya"}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Empty(t, cmp.Diff([]line.Difference{
		{Path: "line.pocket.width", Was: "150 mm", Is: "140 mm"},
		{Path: "line.moulder.recovery", Was: "1.6", Is: "1.7"},
		{Path: "line.moulder.pressure_board.spring", Was: "1.3", Is: "1.35"},
		{Path: "line.belts[1].belt_speed", Was: "18 m/min", Is: "36 m/min"},
		{Path: "line.oil_valves", Was: "2 items", Is: "1 items"},
		{Path: "order.product.dwell_low", Was: "6 min", Is: "5 min 30 s"},
		{Path: "order.product.allergens[1]", Was: `"milk"`, Is: `"soya"`},
		{Path: "shift.tap", Was: "15 °C", Is: "9 °C"},
		{Path: "shift.hot_tap", Was: "58 °C", Is: "not given"},
	}, out.Changed))
	assert.True(t, out.Conditions.Has(line.ChangedSince))
}

// The mean piece weights of the good runs stand beside today's target.
func TestKnownGoodWeights(t *testing.T) {
	a, b, c := ran(t, 0, 1), ran(t, 0, 2), ran(t, 0, 3)
	a.Mean, b.Mean = 51.5, 50.9
	out, err := knownGood(t, 0, a, b, c).Solve()
	require.NoError(t, err)
	assert.Equal(t, []unit.Mass{50.9, 51.5}, []unit.Mass{out.MeanLow, out.MeanHigh})
	assert.InDelta(t, 51.3, float64(out.Target), 0.05)
}

// A control of an earlier line that set something else says nothing of today's.
func TestKnownGoodOfAnotherControl(t *testing.T) {
	old := ran(t, 0, 1, "belt duster", "on", "rounder speed", "160 rev/min")
	k := control(t, &old.Line, "belt duster")
	k.Sets, k.Of = line.SetsOil, ""
	old.Settings[0].At = "open"
	out, err := knownGood(t, 0, old).Solve()
	require.NoError(t, err)
	assert.Zero(t, setting(t, out, "belt duster").Runs)
	assert.Equal(t, 1, setting(t, out, "rounder speed").Runs)
}

func TestKnownGoodRefuses(t *testing.T) {
	for _, c := range []struct {
		id     string
		spoil  func(*line.KnownGood)
		fields []string
	}{
		{"none", func(q *line.KnownGood) { q.Records = nil }, []string{"records"}},
		{"of another line", func(q *line.KnownGood) { q.Records[1].Line.Name = "line 1" }, []string{"records[1].line.name"}},
		{"of another product", func(q *line.KnownGood) { q.Records[0].Order.Product.Name = "Rye" }, []string{"records[0].order.product.name"}},
		{"not in order", func(q *line.KnownGood) { q.Records[1].Date = "2026-10-31" }, []string{"records[1].date"}},
		{"no day", func(q *line.KnownGood) { q.Records[0].Date = "4 Nov" }, []string{"records[0].date"}},
		{"none good", func(q *line.KnownGood) { q.Records[0].Good, q.Records[1].Good = false, false }, []string{"records[0].good"}},
		{"how many", func(q *line.KnownGood) { q.Last = 0 }, []string{"last"}},
		{"a control that there is not", func(q *line.KnownGood) { q.Records[0].Settings[0].Control = "lever" }, []string{"records[0].settings[0].control"}},
		{"an impossible line then", func(q *line.KnownGood) { q.Records[0].Line.Divider.StrokesLow = 0 }, []string{"records[0].line.divider.strokes_low"}},
		{"what was met", func(q *line.KnownGood) {
			q.Records[0].Mean, q.Records[0].Made, q.Records[0].DoughTemp, q.Records[0].Note = -1, -1, unit.Celsius(90), strings.Repeat("x", 1001)
		}, []string{"records[0].made", "records[0].mean", "records[0].dough_temp", "records[0].note"}},
	} {
		q := knownGood(t, 0, ran(t, 0, 1, "divider handle", "12.5"), ran(t, 0, 2, "divider handle", "12.5"))
		c.spoil(&q)
		var fields []string
		for _, e := range reckon.Wrong(q) {
			fields = append(fields, e.Field)
			assert.Equal(t, "known-good", e.Func)
		}
		assert.Equal(t, c.fields, fields, c.id)
		_, err := q.Solve()
		assert.Error(t, err, c.id)
	}
}

// Records come back from JSON as they were kept, and go to their own line and product.
func TestRunBook(t *testing.T) {
	a, b := ran(t, 0, 1, "divider handle", "12.5", "rounding drum", "small cups"), ran(t, 1, 2, "side guides", "156 mm")
	a.Made, a.Weighed, a.Mean, a.SD, a.DoughTemp, a.Waited, a.Note = 6010, 55, 50.8, 1.1, unit.Celsius(26.2), 90, "seam to the left"
	b.Good = false
	book := line.RunBook{Records: []line.RunRecord{a, b}}
	data, err := json.Marshal(book)
	require.NoError(t, err)
	back, err := line.ReadRunBook(data)
	require.NoError(t, err)
	assert.Empty(t, cmp.Diff(book, back, cmp.Comparer(func(x, y unit.Temp) bool { return x == y })))
	assert.Equal(t, []line.RunRecord{book.Records[1]}, book.Of("line 2", "Long picnic roll"))
	assert.Empty(t, book.Of("line 1", "Long picnic roll"))

	wrong := strings.Replace(strings.Replace(string(data), `"12.5"`, `"12.5 mm"`, 1), `"mean":"50.8 g"`, `"mean":"50.8"`, 1)
	_, err = line.ReadRunBook([]byte(wrong))
	assert.ErrorContains(t, err, "records[0].mean")
	_, err = line.ReadRunBook([]byte(strings.Replace(string(data), `"12.5"`, `"12.5 mm"`, 1)))
	assert.ErrorContains(t, err, "records[0].settings[0].at")
	_, err = line.ReadRunBook([]byte(strings.Replace(string(data), `"good":true`, `"good":true,"gut":true`, 1)))
	assert.ErrorContains(t, err, "records[0].gut")
	_, err = line.ReadRunBook([]byte(`[]`))
	assert.Error(t, err)
}

func BenchmarkKnownGood(b *testing.B) {
	q := knownGood(b, 1, ran(b, 1, 1, "divider handle", "19"), ran(b, 1, 2, "divider handle", "19.5"), ran(b, 1, 3, "divider handle", "19"), ran(b, 1, 4, "divider handle", "19"))
	b.ReportAllocs()
	var out line.KnownGoodResult
	for b.Loop() {
		var err error
		if out, err = q.Append(out.Settings[:0]); err != nil {
			b.Fatal(err)
		}
	}
	if out.Good != 4 {
		b.Fatal("runs are missing")
	}
}
