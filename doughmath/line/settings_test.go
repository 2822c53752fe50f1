package line_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func settings(t testing.TB, order int) line.ControlSettings {
	t.Helper()
	s, _ := demo(t)
	return line.ControlSettings{Line: s.Line, Order: s.Orders[order], Shift: s.Shift}
}

// at returns the setting of a control.
func at(t testing.TB, list []line.Setting, control string) line.Setting {
	t.Helper()
	i := slices.IndexFunc(list, func(s line.Setting) bool { return s.Control == control })
	require.GreaterOrEqual(t, i, 0, control)
	return list[i]
}

// control returns the line's control of that name, in a list of its own that a test may change.
func control(t testing.TB, l *line.Line, name string) *line.Control {
	t.Helper()
	l.Controls = slices.Clone(l.Controls)
	i := slices.IndexFunc(l.Controls, func(k line.Control) bool { return k.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return &l.Controls[i]
}

// Every setting is the plan's own, to the last digit, for each product of the demo.
func TestSettingsAreThePlans(t *testing.T) {
	for order, want := range []map[string]string{
		{
			"divider chute": "wide", "proofer transfer": "by twos", "route lever": "left", "stamper switch": "proofer", "spin switch": "on", "star die": "in", "moulder switch": "off",
			"rounding drum": "small cups", "chutes": "in", "small guides": "in", "last rollers": "", "curling chain": "", "belt duster": "on", "oil cocks": "open",
		},
		{"divider chute": "wide", "route lever": "straight on", "stamper switch": "0", "spin switch": "", "star die": "out", "moulder switch": "on", "curling chain": "low", "small guides": "in"},
		{
			"divider chute": "narrow", "proofer infeed": "one", "proofer transfer": "by ones", "proofer outlet": "one", "rounding drum": "large cups", "chutes": "out", "drum brush": "out",
			"small guides": "out", "curling chain": "high",
		},
	} {
		q := settings(t, order)
		out, err := q.Solve()
		require.NoError(t, err)
		assert.Empty(t, out.Contradictions)
		assert.Len(t, out.Settings, len(q.Line.Controls))
		for name, word := range want {
			assert.Equal(t, word, at(t, out.Settings, name).At, "order %d: %s", order, name)
		}
		p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		numbers := map[string]float64{
			"divider handle": p.Mark.Set, "line speed wheel": float64(p.Strokes), "rounder speed": float64(q.Order.Product.Rounding.Speed), "belt duster slide": p.Dusting[0].Slide.Slide,
		}
		if order > 0 {
			numbers["last rollers"], numbers["first rollers"], numbers["side guides"] = float64(p.Gap.Gap), p.Rollers.FirstNumber, float64(p.Guides.Guides)
			numbers["board, entry"], numbers["board, exit"] = float64(p.Heights.HeightIn), float64(p.Heights.HeightOut)
		}
		for name, v := range numbers {
			s := at(t, out.Settings, name)
			if s.Wanted != 0 {
				assert.Equal(t, v, s.Wanted, name)
				step, ok := map[string]float64{"side guides": 1, "board, entry": 0.5, "board, exit": 0.5, "first rollers": 0.1}[name]
				require.True(t, ok, "%s has no step of its own", name)
				assert.InDelta(t, v, s.Number, step/2+1e-9, name)
			} else {
				assert.Equal(t, v, s.Number, name)
			}
		}
		assert.Equal(t, p.Mark.PerMark*0.5, at(t, out.Settings, "divider handle").PerStep)
	}
}

// A control that the product leaves alone has nothing to be set to, and is not counted.
func TestSettingsLeaveAlone(t *testing.T) {
	out, err := settings(t, 0).Solve()
	require.NoError(t, err)
	assert.Equal(t, 6, out.LeftAlone, "all of the moulder but its switch")
	assert.Equal(t, out.Controls, out.Set+out.LeftAlone)
	assert.Equal(t, line.Setting{
		Control: "curling chain", Machine: "moulder", Sets: line.SetsChain, Change: line.LockedOut,
	}, at(t, out.Settings, "curling chain"))
}

// What stands elsewhere is told with the way to move it; on a scale that runs backwards the lower mark is the heavier.
func TestSettingsSayWhichWay(t *testing.T) {
	q := settings(t, 2)
	q.Stands = []line.Standing{
		{Control: "divider handle", At: "36"},
		{Control: "side guides", At: "24.9 cm"},
		{Control: "last rollers", At: "5.75 mm"},
		{Control: "line speed wheel", At: "900 strokes/h"},
		{Control: "curling chain", At: "low"},
	}
	out, err := q.Solve()
	require.NoError(t, err)
	for name, want := range map[string]line.Move{
		"divider handle": line.MoveLess, "side guides": line.MoveMore, "last rollers": line.Leave, "line speed wheel": line.Leave, "curling chain": line.MoveTo, "board, exit": "",
	} {
		assert.Equal(t, want, at(t, out.Settings, name).Move, name)
	}
	assert.Equal(t, 3, out.ToMove)
	lanes := slices.Clone(q.Line.Divider.Lanes)
	lanes[1].Trials = slices.Clone(lanes[1].Trials)
	for i := range lanes[1].Trials {
		lanes[1].Trials[i].Mark = 40 - lanes[1].Trials[i].Mark
	}
	q.Line.Divider.Lanes = lanes
	q.Stands = []line.Standing{{Control: "divider handle", At: "10"}}
	out, err = q.Solve()
	require.NoError(t, err)
	handle := at(t, out.Settings, "divider handle")
	assert.Equal(t, 5.0, handle.Number)
	assert.Negative(t, float64(handle.PerStep))
	assert.Equal(t, line.MoveMore, handle.Move, "from 10 down to 5 makes it heavier")
}

// A step of the handle is worth its share of a mark, however fine it is.
func TestWhatAStepOfTheHandleIsWorth(t *testing.T) {
	for _, step := range []float64{0.5, 0.005, 0} {
		q := settings(t, 0)
		q.Line.Divider.MarkStep = step
		out, err := q.Solve()
		require.NoError(t, err)
		p, err := line.Plan{Line: q.Line, Order: q.Order, Shift: q.Shift}.Solve()
		require.NoError(t, err)
		if step == 0 {
			step = 1 // of a handle without steps a whole mark is told
		}
		assert.InEpsilon(t, step*float64(p.Mark.PerMark), float64(at(t, out.Settings, "divider handle").PerStep), 1e-12)
	}
}

// Two controls that cannot stand so together are found by name, as they stand and before anything runs.
func TestContradictionsAreFoundByName(t *testing.T) {
	for _, c := range []struct {
		id      string
		prepare func(*line.ControlSettings)
		stands  []line.Standing
		want    []string // the pairs
	}{
		{"lanes at infeed against outlet", nil, []line.Standing{{Control: "proofer infeed", At: "two"}, {Control: "proofer outlet", At: "one"}}, []string{"proofer outlet/proofer infeed"}},
		{
			"the transfer too", nil,
			[]line.Standing{{Control: "proofer infeed", At: "two"}, {Control: "proofer transfer", At: "by ones"}, {Control: "proofer outlet", At: "two"}},
			[]string{"proofer transfer/proofer infeed", "proofer outlet/proofer transfer"},
		},
		{"lanes that agree", nil, []line.Standing{{Control: "proofer infeed", At: "one"}, {Control: "proofer outlet", At: "one"}}, nil},
		{"a fitting beside no drum that is named", nil, []line.Standing{{Control: "small guides", At: "in"}}, nil},
		{"what the first drum takes out", func(q *line.ControlSettings) {
			q.Line.Drums = slices.Clone(q.Line.Drums)
			q.Line.Drums[0].TakesOut = append(slices.Clone(q.Line.Drums[0].TakesOut), "drum brush")
		}, []line.Standing{{Control: "drum brush", At: "in"}, {Control: "rounding drum", At: "small cups"}}, []string{"drum brush/rounding drum"}},
		{"a turning die that stands", nil, []line.Standing{{Control: "spin switch", At: "off"}}, []string{"spin switch/die"}},
		{"a still die that spins", func(q *line.ControlSettings) {
			q.Line.Stamper.Die, q.Line.Stamper.Spin = molder.StillDie, molder.SpinOff
		}, []line.Standing{{Control: "spin switch", At: "on"}}, []string{"spin switch/die"}},
		{"route to a stamper that is off", nil, []line.Standing{{Control: "route lever", At: "left"}, {Control: "stamper switch", At: "0"}}, []string{"route lever/stamper switch"}},
		{"route to a moulder that is off", nil, []line.Standing{{Control: "route lever", At: "straight on"}, {Control: "moulder switch", At: "off"}}, []string{"route lever/moulder switch"}},
		{"route past both", nil, []line.Standing{{Control: "route lever", At: "right"}, {Control: "moulder switch", At: "off"}, {Control: "stamper switch", At: "0"}}, nil},
		{"bread drum with the small guides in", nil, []line.Standing{{Control: "rounding drum", At: "large cups"}, {Control: "small guides", At: "in"}}, []string{"small guides/rounding drum"}},
		{"what the drum takes out", nil, []line.Standing{{Control: "rounding drum", At: "large cups"}, {Control: "chutes", At: "in"}, {Control: "drum brush", At: "out"}}, []string{"chutes/rounding drum"}},
		{"what the line says of another position", func(q *line.ControlSettings) {
			control(t, &q.Line, "oil cocks").NotWith = []line.Clash{{At: "open", Control: "belt duster", ControlAt: "off", Why: "oily pieces stick"}}
		}, []line.Standing{{Control: "oil cocks", At: "open"}, {Control: "belt duster", At: "on"}}, nil},
		{"what the line says", func(q *line.ControlSettings) {
			control(t, &q.Line, "oil cocks").NotWith = []line.Clash{{At: "open", Control: "belt duster", ControlAt: "off", Why: "oily pieces stick"}}
		}, []line.Standing{{Control: "oil cocks", At: "open"}, {Control: "belt duster", At: "off"}}, []string{"oil cocks/belt duster"}},
	} {
		q := settings(t, 0)
		if c.prepare != nil {
			c.prepare(&q)
		}
		q.Stands = c.stands
		out, err := q.Solve()
		require.NoError(t, err, c.id)
		var got []string
		for _, k := range out.Contradictions {
			got = append(got, k.Control+"/"+k.Other)
			assert.NotEmpty(t, k.Why)
		}
		assert.Equal(t, c.want, got, c.id)
		assert.Equal(t, len(c.want), out.Found, c.id)
		assert.Equal(t, len(c.want) > 0, out.Conditions.Has(line.Contradictory), c.id)
	}
}

// A line that says itself what does not go together is told of it in the plan's own settings.
func TestAPlanThatContradictsTheLineIsTold(t *testing.T) {
	q := settings(t, 0)
	control(t, &q.Line, "star die").NotWith = []line.Clash{{At: "in", Control: "rounding drum", ControlAt: "small cups", Why: "the small star tears"}}
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, []line.Contradiction{{Control: "star die", At: "in", Other: "rounding drum", OtherAt: "small cups", Why: "the small star tears"}}, out.Contradictions)
}

// Fittings are in by route, by drum and by name.
func TestFittings(t *testing.T) {
	q := settings(t, 0)
	q.Line.Controls = slices.Insert(slices.Clone(q.Line.Controls), 0, line.Control{Name: "knot die", Machine: "stamper", Sets: line.SetsFitting, ByName: true, Route: line.ToStamper, Change: line.LockedOut})
	out, err := q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "out", at(t, out.Settings, "knot die").At)
	q.Order.Product.Fittings = []string{"knot die"}
	out, err = q.Solve()
	require.NoError(t, err)
	assert.Equal(t, "in", at(t, out.Settings, "knot die").At)
	q.Order.Product.Fittings = []string{"star die"}
	_, err = q.Solve()
	assert.ErrorContains(t, err, `order.product.fittings[0] is "star die": want a fitting of the line that is in by_name`)
	q.Order.Product.Fittings = []string{"knot die"}
	q.Line.Controls[0].Drums = []string{"large cups"}
	_, err = q.Solve()
	assert.ErrorContains(t, err, `order.product.fittings[0] is "knot die": want a fitting that goes in for route stamper beside the drum "small cups"`)
}

// Everything that is wrong with a control is told, each value with its path.
func TestControlsRefuse(t *testing.T) {
	for _, c := range []struct {
		id, name string
		spoil    func(*line.Control)
		field    string
	}{
		{"no name", "chutes", func(k *line.Control) { k.Name = "" }, "name"},
		{"a name twice", "chutes", func(k *line.Control) { k.Name = "rounding drum" }, "name"},
		{"no machine", "chutes", func(k *line.Control) { k.Machine = "" }, "machine"},
		{"nothing set", "chutes", func(k *line.Control) { k.Sets = "levers" }, "sets"},
		{"a fitting changed running", "chutes", func(k *line.Control) { k.Change = line.Running }, "change"},
		{"a drum changed standing", "rounding drum", func(k *line.Control) { k.Change = line.Stopped }, "change"},
		{"ahead", "oil cocks", func(k *line.Control) { k.Change = line.Ahead }, "change"},
		{"another belt", "belt duster", func(k *line.Control) { k.Of = "panning belt" }, "of"},
		{"a duster without slide", "belt duster slide", func(k *line.Control) { k.Of = "proofer pockets" }, "sets"},
		{"a geared belt", "belt duster", func(k *line.Control) { k.Sets, k.Of = line.SetsBelt, "discharge belt" }, "sets"},
		{"of nothing", "oil cocks", func(k *line.Control) { k.Of = "left" }, "of"},
		{"a step twice", "divider handle", func(k *line.Control) { k.Step = "0.5" }, "step"},
		{"a step without a unit", "side guides", func(k *line.Control) { k.Step = "1" }, "step"},
		{"a step of nothing", "side guides", func(k *line.Control) { k.Step = "0 mm" }, "step"},
		{"a step of a switch", "oil cocks", func(k *line.Control) { k.Step = "1" }, "step"},
		{"a value that it cannot set", "proofer infeed", func(k *line.Control) { k.Positions = []line.Position{{Name: "four", Value: "4"}} }, "positions[0].value"},
		{"a word twice", "proofer infeed", func(k *line.Control) {
			k.Positions = []line.Position{{Name: "two", Value: "2"}, {Name: "two", Value: "1"}}
		}, "positions[1].name"},
		{"positions of a number", "divider handle", func(k *line.Control) { k.Positions = []line.Position{{Name: "low", Value: "1"}} }, "positions[0]"},
		{"another drum", "small guides", func(k *line.Control) { k.Drums = []string{"huge cups"} }, "drums[0]"},
		{"drums of a switch", "oil cocks", func(k *line.Control) { k.Drums = []string{"small cups"} }, "drums[0]"},
		{"a route of a switch", "oil cocks", func(k *line.Control) { k.Route = line.ToMoulder }, "route"},
		{"by name, a switch", "oil cocks", func(k *line.Control) { k.ByName = true }, "by_name"},
		{"a clash with itself", "oil cocks", func(k *line.Control) {
			k.NotWith = []line.Clash{{At: "open", Control: "oil cocks", ControlAt: "shut", Why: "x"}}
		}, "not_with[0].control"},
		{"a clash with a number", "oil cocks", func(k *line.Control) {
			k.NotWith = []line.Clash{{At: "open", Control: "divider handle", ControlAt: "12", Why: "x"}}
		}, "not_with[0].control_at"},
		{"a clash without a reason", "oil cocks", func(k *line.Control) {
			k.NotWith = []line.Clash{{At: "open", Control: "belt duster", ControlAt: "off"}}
		}, "not_with[0].why"},
		{"a position that it does not have", "oil cocks", func(k *line.Control) {
			k.NotWith = []line.Clash{{At: "ajar", Control: "belt duster", ControlAt: "off", Why: "x"}}
		}, "not_with[0].at"},
	} {
		q := settings(t, 0)
		k := control(t, &q.Line, c.name)
		path := fmt.Sprintf("line.controls[%d].%s", slices.IndexFunc(q.Line.Controls, func(o line.Control) bool { return o.Name == c.name }), c.field)
		c.spoil(k)
		var fields []string
		for _, e := range reckon.Wrong(q) {
			fields = append(fields, e.Field)
		}
		assert.Equal(t, []string{path}, fields, c.id)
	}
	q := settings(t, 0)
	q.Line.Controls, q.Line.Changing = nil, line.Changing{}
	assert.Len(t, reckon.Wrong(q), 1)
}

// A control without the position that a product needs is refused with the control and the product.
func TestAPositionThatIsMissing(t *testing.T) {
	q := settings(t, 2)
	control(t, &q.Line, "proofer outlet").Positions = []line.Position{{Name: "two", Value: "2"}}
	_, err := q.Solve()
	assert.ErrorContains(t, err, `line.controls[14].positions is none for "1": want a position for it: Tin loaf 800 g needs it`)
}

func TestStandsRefuse(t *testing.T) {
	q := settings(t, 0)
	q.Stands = []line.Standing{
		{Control: "lever", At: "in"}, {Control: "chutes", At: "half"}, {Control: "divider handle", At: "12 mm"}, {Control: "side guides", At: "12"}, {Control: "chutes", At: "in"}, {Control: "belt duster slide", At: "-Inf"},
	}
	var fields []string
	for _, e := range reckon.Wrong(q) {
		fields = append(fields, e.Field)
	}
	assert.Equal(t, []string{"stands[0].control", "stands[1].at", "stands[2].at", "stands[3].at", "stands[4].control", "stands[5].at"}, fields)
}

// A setting is shown in the units of a person's choice; a position and a plain number have none.
func TestSettingIn(t *testing.T) {
	out, err := settings(t, 2).Solve()
	require.NoError(t, err)
	for name, want := range map[string]string{"side guides": "9.843 in", "divider handle": "35", "rounding drum": "large cups", "spin switch": ""} {
		s := at(t, out.Settings, name)
		assert.Equal(t, want, s.In(unit.US), name)
	}
}

// The cautions are those of what is moved: no stamper's cover where nothing is stamped.
func TestSettingsCautions(t *testing.T) {
	out, err := settings(t, 0).Solve()
	require.NoError(t, err)
	assert.True(t, out.Cautions.Has(reckon.StamperCover|reckon.LockedOut|reckon.RunningDrive|reckon.Lifting))
	assert.False(t, out.Cautions.Has(reckon.RollerNip), "the rollers are left alone")
	q := settings(t, 0)
	q.Line.Changing = line.Changing{}
	q.Line.Controls = slices.DeleteFunc(slices.Clone(q.Line.Controls), func(k line.Control) bool {
		return k.Machine == "stamper" || k.Sets == line.SetsFitting || k.Sets == line.SetsDrum
	})
	out, err = q.Solve()
	require.NoError(t, err)
	assert.False(t, out.Cautions.Has(reckon.StamperCover))
	assert.False(t, out.Cautions.Has(reckon.Lifting))
}

// Every word that a control can set is refused where the line lacks what it is of, and none panics.
func TestEveryControlOnABareLine(t *testing.T) {
	var words []string
	c := reckon.Checks{}
	line.ControlSettings{Line: line.Line{Controls: []line.Control{{}}}}.Check(&c)
	for _, e := range reckon.InputErrors(c.Err()) {
		if e.Field == "line.controls[0].sets" {
			for i, part := range strings.Split(e.Want, `"`) {
				if i%2 == 1 {
					words = append(words, part)
				}
			}
		}
	}
	require.Len(t, words, 23)
	for _, w := range words {
		bare := line.Line{Controls: []line.Control{{Name: "a", Machine: "m", Sets: line.Sets(w), Change: line.LockedOut}}}
		assert.NotEmpty(t, reckon.Wrong(line.ControlSettings{Line: bare}), w)
	}
}

func BenchmarkSettings(b *testing.B) {
	s, cl := demo(b)
	plan, err := cl.Plan(&s.Orders[1], &s.Shift, nil)
	require.NoError(b, err)
	var list []line.Setting
	b.ReportAllocs()
	for b.Loop() {
		list, _ = cl.Settings(list[:0], &s.Orders[1], &plan)
	}
	if len(list) != len(s.Line.Controls) {
		b.Fatal("settings are missing")
	}
}

// A plan that dusts nothing, as one that was never made, leaves dusters off and their slides where they are.
func TestSettingsOfAPlanWithoutDusting(t *testing.T) {
	s, cl := demo(t)
	list, err := cl.Settings(nil, &s.Orders[0], &line.PlanResult{})
	require.NoError(t, err)
	assert.Equal(t, "off", at(t, list, "belt duster").At)
	assert.Empty(t, at(t, list, "belt duster slide").At)
}

// An order that cannot be run has no settings, for what stands in its way.
func TestSettingsOfWhatCannotBeRun(t *testing.T) {
	q := settings(t, 0)
	q.Shift.Mixer.Cycle = unit.Hours(1)
	out, err := q.Solve()
	assert.ErrorContains(t, err, "pieces stay up to 42 min 29 s")
	assert.Empty(t, out.Settings)
}
