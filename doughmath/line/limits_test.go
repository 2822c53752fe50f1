package line_test

import (
	"slices"
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
