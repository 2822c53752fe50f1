package line_test

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Limits that no range tag says, because they hold only with what is beside them: each is taken at its bound, and refused beyond it.
// The figures are those of the comments on the fields: what no line comes near.
func TestLimitsBesideOtherValues(t *testing.T) {
	tunnel := func(in *line.Plan) { in.Line.Oven = line.Oven{Kind: line.TunnelOven} }
	task := func(in *line.Plan) *line.ChangeTask {
		in.Line.Changing.Tasks = slices.Clone(in.Line.Changing.Tasks)
		return &in.Line.Changing.Tasks[1]
	}
	for _, c := range []struct {
		field      string
		at, beyond float64
		set        func(in *line.Plan, v float64)
	}{
		{"line.oven.places", 1000, 1001, func(in *line.Plan, v float64) { in.Line.Oven.Places = int(v) }},
		{"line.oven.places", 1, 0, func(in *line.Plan, v float64) { in.Line.Oven.Places = int(v) }},
		{"line.oven.places", 0, 1, func(in *line.Plan, v float64) { tunnel(in); in.Line.Oven.Places = int(v) }},
		{"line.oven.loading", 4 * 3600, 4*3600 + 1, func(in *line.Plan, v float64) { in.Line.Oven.Loading = unit.Duration(v) }},
		{"line.oven.loading", 0, 0.005, func(in *line.Plan, v float64) { tunnel(in); in.Line.Oven.Loading = unit.Duration(v) }},
		{"line.oven.belt", 100, 99.9, func(in *line.Plan, v float64) { tunnel(in); in.Line.Oven.Belt = unit.Length(v) }},
		{"line.oven.belt", 500_000, 500_100, func(in *line.Plan, v float64) { tunnel(in); in.Line.Oven.Belt = unit.Length(v) }},
		{"line.oven.belt", 0, 0.005, func(in *line.Plan, v float64) { in.Line.Oven.Belt = unit.Length(v) }},
		{"order.product.baking.time", 1, 0.995, func(in *line.Plan, v float64) { in.Order.Product.Baking.Time = unit.Duration(v) }},
		{"order.product.baking.time", 12 * 3600, 12*3600 + 1, func(in *line.Plan, v float64) { in.Order.Product.Baking.Time = unit.Duration(v) }},
		{"order.product.baking.per_load", 1_000_000, 1_000_001, func(in *line.Plan, v float64) { in.Order.Product.Baking.PerLoad = int(v) }},
		{"order.product.baking.per_load", 0, 1, func(in *line.Plan, v float64) { in.Line.Oven = line.Oven{}; in.Order.Product.Baking.PerLoad = int(v) }},
		{"order.product.baking.per_load", 864, 863, func(in *line.Plan, v float64) { // racks of 432
			in.Line.Oven = line.Oven{Kind: line.RackOven, Places: 2}
			in.Order.Product.Baking.PerLoad = int(v)
		}},
		// One place, and the baking alone: one piece in 100 min is 0.01 pieces/min.
		{"order.product.baking.per_load", 6000, 6001, func(in *line.Plan, v float64) {
			in.Line.Oven = line.Oven{Kind: line.DeckOven, Places: 1}
			in.Order.Product.Baking.Time, in.Order.Product.Baking.PerLoad = unit.Duration(v), 1
		}},
		{"order.product.baking.stay_max", 45 * 60, 45*60 - 1, func(in *line.Plan, v float64) { in.Order.Product.Baking.StayMax = unit.Duration(v) }}, // final_stay
		{"order.product.baking.stay_max", 7 * 24 * 3600, 7*24*3600 + 1, func(in *line.Plan, v float64) { in.Order.Product.Baking.StayMax = unit.Duration(v) }},
		{"line.changing.set_aside", 10_000, 10_001, func(in *line.Plan, v float64) { in.Line.Changing.SetAside = int(v) }},
		{"line.changing.stop", 4 * 3600, 4*3600 + 1, func(in *line.Plan, v float64) { in.Line.Changing.Stop = unit.Duration(v) }},
		{"line.changing.lock_out", 1, 0.99, func(in *line.Plan, v float64) { in.Line.Changing.LockOut = unit.Duration(v) }},
		{"line.changing.guards", 1, 0.99, func(in *line.Plan, v float64) { in.Line.Changing.Guards = unit.Duration(v) }},
		{"line.changing.tasks[1].people", 10, 11, func(in *line.Plan, v float64) { task(in).People = int(v) }},
		{"line.changing.tasks[1].time", 4 * 3600, 4*3600 + 1, func(in *line.Plan, v float64) { task(in).Time = unit.Duration(v) }},
		{"line.changing.tasks", 40, 41, func(in *line.Plan, v float64) {
			in.Line.Changing.Tasks = nil
			for i := range int(v) {
				in.Line.Changing.Tasks = append(in.Line.Changing.Tasks, line.ChangeTask{Name: "task " + string(rune('A'+i)), When: line.AnyTime, For: line.ForAlways, Time: 60})
			}
		}},
	} {
		refused := func(v float64) (want string) {
			in := input(t, 0)
			c.set(&in, v)
			for _, e := range reckon.Wrong(in) {
				if e.Field == c.field {
					return e.Value + ": want " + e.Want
				}
			}
			return ""
		}
		assert.Empty(t, refused(c.at), "%s may be %v", c.field, c.at)
		assert.NotEmpty(t, refused(c.beyond), "%s may not be %v: %v is the bound", c.field, c.beyond, c.at)
	}
}

// What is done at a changeover names what it waits for and where it is done.
func TestTasksOfAChangeoverRefuse(t *testing.T) {
	for _, c := range []struct {
		name  string
		bend  func(task *line.ChangeTask) // of "lay out racks and labels for the next product", done ahead
		field string
	}{
		{"locked out at no machine", func(k *line.ChangeTask) { k.When = line.LockedOut }, "machine"},
		{"for the move of no control", func(k *line.ChangeTask) { k.For = line.ForMove }, "control"},
		{"a control without a move", func(k *line.ChangeTask) { k.Control = "rounding drum" }, "control"},
		{"after itself", func(k *line.ChangeTask) { k.When, k.After = line.AnyTime, []string{k.Name} }, "after[0]"},
		{"after what nobody does", func(k *line.ChangeTask) { k.When, k.After = line.AnyTime, []string{"sing"} }, "after[0]"},
		{"ahead, after a control that is moved later", func(k *line.ChangeTask) { k.After = []string{"rounding drum"} }, "after[0]"},
		{"ahead, after a task that is done later", func(k *line.ChangeTask) { k.After = []string{"brush out the pockets"} }, "after[0]"},
		{"after nothing", func(k *line.ChangeTask) { k.After = []string{} }, "after"},
		{"a name twice", func(k *line.ChangeTask) { k.Name = "bring the next drum and its parts to the rounder" }, "name"},
		{"the name of a control", func(k *line.ChangeTask) { k.Name = "rounding drum" }, "name"},
		{"the name of the first control", func(k *line.ChangeTask) { k.Name = "divider handle" }, "name"},
		{"no name", func(k *line.ChangeTask) { k.Name = "" }, "name"},
		{"at no time", func(k *line.ChangeTask) { k.When = "later" }, "when"},
		{"for nothing", func(k *line.ChangeTask) { k.For = "" }, "for"},
		{"after no route", func(k *line.ChangeTask) { k.Route = "oven" }, "route"},
	} {
		in := input(t, 0)
		in.Line.Changing.Tasks = slices.Clone(in.Line.Changing.Tasks)
		c.bend(&in.Line.Changing.Tasks[1])
		var got []string
		for _, e := range reckon.Wrong(in) {
			got = append(got, e.Field)
		}
		assert.Equal(t, []string{"line.changing.tasks[1]." + c.field}, got, c.name)
	}
	in := input(t, 0)
	in.Line.Changing.Tasks = slices.Clone(in.Line.Changing.Tasks)
	in.Line.Changing.Tasks[1].After = []string{in.Line.Changing.Tasks[0].Name}
	assert.Empty(t, reckon.Wrong(in), "ahead, after another that is done ahead")
	in.Line.Changing.Tasks[1] = line.ChangeTask{Name: "wipe the scale", When: line.Stopped, For: line.ForMove, Control: "divider handle", After: []string{"divider handle"}, Time: 60}
	assert.Empty(t, reckon.Wrong(in), "for the move of the first control, and after it")
}

// A book holds 1000 runs, and a comparison lists 60 differences: what nobody reads through.
func TestHowMuchIsKeptAndListed(t *testing.T) {
	for _, c := range []struct {
		records int
		refused bool
	}{{1000, false}, {1001, true}} {
		book := line.RunBook{Records: make([]line.RunRecord, c.records)}
		var check reckon.Checks
		book.Check(&check)
		assert.Equal(t, c.refused, check.Told("records"), "%d records", c.records)
	}
	for _, c := range []struct{ differ, listed int }{{59, 59}, {60, 60}, {61, 60}} {
		q := knownGood(t, 0, ran(t, 0, 1, "divider handle", "12.5"))
		q.Line.Belts = slices.Clone(q.Line.Belts)
		for len(q.Line.Belts) < c.differ {
			q.Line.Belts = append(q.Line.Belts, line.Belt{Name: "belt " + strconv.Itoa(len(q.Line.Belts)), Route: line.ToPanning, BeltSpeed: 1000, Across: 2})
		}
		q.Records[0].Line.Belts = slices.Clone(q.Line.Belts)
		for i := range c.differ {
			q.Line.Belts[i].Across += 1
		}
		out, err := q.Solve()
		if assert.NoError(t, err) {
			assert.Len(t, out.Changed, c.listed, "%d belts are wider than they were", c.differ)
		}
	}
}

// What the clock follows: 1000 batches, 100 000 racks or, of those listed as they are taken, 10 000, and 10 000 loads. A batch may begin a rack
// or a load, so that the pieces over those of one are counted, and one for each batch.
func TestHowMuchTheClockFollows(t *testing.T) {
	for _, c := range []struct {
		field            string
		batches, pieces  int // in each
		carrier, perLoad int // pieces in one
		told             bool
	}{
		{"order.pieces", 1000, 20, 0, 0, false},
		{"order.pieces", 1001, 20, 0, 0, true},
		{"levels", 10, 999, 1, 0, false},                        // 9990 + 10
		{"levels", 73, 136, 1, 0, true},                         // 9928 + 73 = 10 001
		{"order.product.baking.per_load", 10, 999, 1, 1, false}, // 9990 + 10
		{"order.product.baking.per_load", 73, 136, 1, 1, true},  // 9928 + 73 = 10 001
		{"order.product.per_carrier", 100, 999, 1, 1, false},    // 99 900 + 100, and too many loads
		{"order.product.per_carrier", 358, 835, 3, 1, true},     // 99 643 + 358 = 100 001
	} {
		in := round100(t)
		in.Order.Pieces, in.Order.Product.PerCarrier = c.batches*c.pieces, c.carrier
		in.Line.Oven, in.Order.Product.Baking, in.Order.Product.RateHigh = line.Oven{}, line.Baking{}, 0
		if c.carrier == 0 {
			in.Order.Product.FinalStay = 0
		}
		if c.perLoad > 0 {
			in.Line.Oven, in.Order.Product.Baking = line.Oven{Kind: line.DeckOven, Places: 1000}, line.Baking{Time: 60, PerLoad: c.perLoad}
		}
		// Each of the batches is the largest that the mixer takes, and is mixed while the one before it is cut.
		in.Shift.Mixer.High, in.Line.Divider.HopperCapacity = unit.Mass(100*c.pieces), unit.Mass(100*c.pieces)
		in.Shift.Mixer.Cycle = 30
		p, err := in.Solve()
		if !assert.NoError(t, err) || !assert.Equal(t, []int{c.batches, c.pieces}, []int{p.Batch.Batches, p.Batch.PiecesPerBatch}) {
			continue
		}
		q := line.Clock{Line: in.Line, Order: in.Order, Shift: in.Shift, Start: unit.Hours(5), Levels: c.carrier > 0}
		_, err = q.Solve()
		assert.Equal(t, c.told, slices.ContainsFunc(reckon.InputErrors(err), func(e *reckon.InputError) bool { return e.Field == c.field }), "%s: %d batches of %d pieces", c.field, c.batches, c.pieces)
	}
}

// A control drifts if the slope of its settings exceeds Student's t of 95 % times its standard error; of four runs, with two degrees
// of freedom, t is 4.303 (any table of Student's distribution). A slope of b on 1, 2, 3, 4 with residuals of 1, -1, -1, 1 has the standard
// error sqrt(4/2/5) = 0.6325.
func TestDriftIsToldAtTheUsualLevel(t *testing.T) {
	for _, c := range []struct {
		slope    float64
		stood    []string
		drifting bool
	}{
		{2.7, []string{"153.7 mm", "154.4 mm", "157.1 mm", "161.8 mm"}, false}, // 4.269 standard errors
		{2.8, []string{"153.8 mm", "154.6 mm", "157.4 mm", "162.2 mm"}, true},  // 4.427
	} {
		var records []line.RunRecord
		for i, at := range c.stood {
			records = append(records, ran(t, 1, i+1, "side guides", at))
		}
		out, err := knownGood(t, 1, records...).Solve()
		if assert.NoError(t, err) {
			guides := setting(t, out, "side guides")
			assert.InDelta(t, c.slope, guides.Drift, 1e-9)
			assert.Equal(t, c.drifting, guides.Drifting, "%v mm from run to run", c.slope)
		}
	}
}

// What bakes is hot.
func TestOvenIsHot(t *testing.T) {
	// 8 decks of 432 in 18 min and 2 min: 172.8 pieces/min; 3456 in it; one deck in 2.5 min; 45 g each are 466.56 kg/h.
	out, err := line.OvenRate{Oven: line.Oven{Kind: line.DeckOven, Places: 8, Loading: 120}, Time: 18 * 60, PerLoad: 432, Piece: 45}.Solve()
	assert.NoError(t, err)
	assert.InDelta(t, 172.8, float64(out.PieceRate), 1e-9)
	assert.Equal(t, 3456, out.Inside)
	assert.InDelta(t, 150, float64(out.Pace), 1e-9)
	assert.InDelta(t, 466.56, float64(out.MassRate), 1e-9)
	assert.Equal(t, reckon.HotOven, out.Cautions)
}
