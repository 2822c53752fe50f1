package line_test

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
)

// told is all that is wrong with a question, each as it is said: the path of the value, the value and what is wanted.
func told[R any](q reckon.Calculation[R]) (list []string) {
	for _, e := range reckon.Wrong(q) {
		list = append(list, fmt.Sprintf("%s is %s: want %s", e.Field, e.Value, e.Want))
	}
	return list
}

// What is said of a control that cannot be so: all of it and nothing else, in the words that tell what to do. The bounds are those of
// the comments and tags on the fields: 1 s to 4 h, 1 to 10 people, 20 positions, 100 drums, a step from 1e-6 to 1e6.
func TestWhatIsSaidOfAControl(t *testing.T) {
	const scale = "guides" // each row changes one control: side guides set to a number, a duster's switch or a fitting
	number := line.Control{Name: scale, Machine: "moulder", Sets: line.SetsGuides, Change: line.Stopped}
	figure := line.Control{Name: scale, Machine: "moulder", Sets: line.SetsFirstNumber, Change: line.Stopped}
	cocks := line.Control{Name: "cocks", Machine: "divider", Sets: line.SetsOil, Change: line.Running}
	part := line.Control{Name: "part", Machine: "rounder", Sets: line.SetsFitting, Change: line.LockedOut}
	drum := line.Control{Name: "drum", Machine: "rounder", Sets: line.SetsDrum, Change: line.LockedOut}
	const lockedOut = `"locked-out": hands go in where a part is put in or taken out`
	in := input(t, 1)
	in.Line.Changing, in.Line.Moulder.Chain = line.Changing{}, nil
	clash := func(n line.Clash) func(k *line.Control) {
		return func(k *line.Control) { k.NotWith = []line.Clash{n} }
	}
	for _, c := range []struct {
		of   line.Control
		bend func(k *line.Control)
		want []string
	}{
		{cocks, func(k *line.Control) { k.Name = "" }, []string{`name is "": want a name, to say which control is meant`}},
		{cocks, func(k *line.Control) { k.Name = "first" }, []string{`name is "first": want each name once`}},
		{cocks, func(k *line.Control) { k.Machine = "" }, []string{`machine is "": want the machine that it is on, which is isolated as a whole`}},
		{cocks, func(k *line.Control) { k.Time = 1 }, nil},
		{cocks, func(k *line.Control) { k.Time = 0.99 }, []string{"time is 0.99 s: want 1 s to 4 h"}},
		{cocks, func(k *line.Control) { k.Time = -1 }, []string{"time is -1 s: want 1 s to 4 h"}},
		{cocks, func(k *line.Control) { k.Time = 4 * 3600 }, nil},
		{cocks, func(k *line.Control) { k.Time = 4*3600 + 60 }, []string{"time is 4 h 1 min: want 1 s to 4 h"}},
		{cocks, func(k *line.Control) { k.People = 10 }, nil},
		{cocks, func(k *line.Control) { k.People = 11 }, []string{"people is 11: want a whole number from 1 to 10"}},
		{cocks, func(k *line.Control) { k.People = -1 }, []string{"people is -1: want a whole number from 1 to 10"}},
		{part, func(k *line.Control) { k.Change = line.Stopped }, []string{`change is "stopped": want ` + lockedOut}},
		{drum, func(k *line.Control) { k.Change = line.Running }, []string{`change is "running": want ` + lockedOut}},
		{cocks, func(k *line.Control) { k.Change = "" }, []string{`change is "": want "any-time", "running", "stopped" or "locked-out"`}},

		{number, func(k *line.Control) { k.Step = "2 mm" }, nil},
		{number, func(k *line.Control) { k.Step = "2" }, []string{`step is "2": want a number and its unit, such as 1 mm`}},
		{figure, func(k *line.Control) { k.Step = "1e-6" }, nil},
		{figure, func(k *line.Control) { k.Step = "0.99e-6" }, []string{`step is "0.99e-6": want a number from 1e-6 to 1e6`}},
		{figure, func(k *line.Control) { k.Step = "1e6" }, nil},
		{figure, func(k *line.Control) { k.Step = "1.001e6" }, []string{`step is "1.001e6": want a number from 1e-6 to 1e6`}},
		{figure, func(k *line.Control) { k.Step = "half" }, []string{`step is "half": want a number from 1e-6 to 1e6`}},
		{figure, func(k *line.Control) { k.Step = "NaN" }, []string{`step is "NaN": want a number from 1e-6 to 1e6`}},
		{figure, func(k *line.Control) { k.Step = "Inf" }, []string{`step is "Inf": want a number from 1e-6 to 1e6`}},
		{cocks, func(k *line.Control) { k.Step = "1" }, []string{`step is "1": want nothing: this control is not set to a number`}},
		{number, func(k *line.Control) { k.Sets, k.Step = line.SetsMark, "1" }, []string{`step is "1": want nothing: it stands in divider.mark_step`}},
		{number, func(k *line.Control) { k.Sets, k.Step = line.SetsStrokes, "1 strokes/min" }, []string{`step is "1 strokes/min": want nothing: it stands in divider.stroke_step`}},
		{number, func(k *line.Control) { k.Sets, k.Step = line.SetsLastGap, "1 mm" }, []string{`step is "1 mm": want nothing: it stands in moulder.gap_step`}},
		{number, func(k *line.Control) { k.Sets, k.Of, k.Step = line.SetsSlide, "rounder belt", "1" }, []string{`step is "1": want nothing: it stands in slide_step of the duster`}},
		{number, func(k *line.Control) { k.Sets, k.Step = line.SetsRounderSpeed, "5" }, []string{`step is "5": want a number and its unit, such as 1 rev/min`}},

		{cocks, func(k *line.Control) { k.Of = "left" }, []string{`of is "left": want nothing: the line has one alone`}},
		{cocks, func(k *line.Control) { k.Sets, k.Of = line.SetsDuster, "attic" }, []string{`of is "attic": want the name of one of the line's flour_dusters`}},
		{cocks, func(k *line.Control) { k.Sets, k.Of = line.SetsSlide, "proofer pockets" }, []string{`sets is "slide": want what the line has: it gives no slide positions of this duster`}},
		{cocks, func(k *line.Control) { k.Sets, k.Of = line.SetsBelt, "attic" }, []string{`of is "attic": want the name of one of the line's belts`}},
		{cocks, func(k *line.Control) { k.Sets, k.Of = line.SetsBelt, "discharge belt" }, []string{`sets is "belt": want what the line has: it gives no speed of its own for this belt: it is geared to the line`}},
		// What a control sets is not known: neither what it is of, nor its step, nor what a fitting has can be judged.
		{cocks, func(k *line.Control) {
			k.Sets, k.Of, k.Step, k.ByName = "wheel", "left", "1", true
			k.Positions, k.NotWith = []line.Position{{Name: "up", Value: "ajar"}}, []line.Clash{{At: "up", Control: "first", ControlAt: "off", Why: "dust"}}
		}, []string{
			`sets is "wheel": want "across", "route", "moulder", "stamp-mode", "stamps", "spin", "duster", "slide", "oil", "mark", "strokes", "rounder-speed", "drum", "fitting", ` +
				`"first-gap", "first-number", "last-gap", "last-number", "chain", "guides", "board-in", "board-out" or "belt"`,
		}},

		{cocks, func(k *line.Control) { k.Route, k.Drums, k.ByName = line.ToMoulder, []string{"small cups"}, true }, []string{
			`route is "moulder": want nothing: it is no fitting`, `drums[0] is "small cups": want nothing: it is no fitting`, "by_name is true: want nothing: it is no fitting",
		}},
		{cocks, func(k *line.Control) { k.Drums = []string{"huge cups"} }, []string{`drums[0] is "huge cups": want nothing: it is no fitting`}},
		{part, func(k *line.Control) {
			k.Route, k.Drums, k.ByName = line.ToMoulder, []string{"small cups", "large cups"}, true
		}, nil},
		{part, func(k *line.Control) { k.Route = "attic" }, []string{`route is "attic": want "stamper", "moulder" or "panning"`}},
		{part, func(k *line.Control) { k.Drums = []string{} }, []string{"drums is empty: want the drums that it is in with"}},
		{part, func(k *line.Control) { k.Drums = []string{"small cups", "huge cups"} }, []string{`drums[1] is "huge cups": want the name of one of the line's drums`}},
		{part, func(k *line.Control) { k.Drums = slices.Repeat([]string{"small cups"}, 100) }, nil},
		{part, func(k *line.Control) { k.Drums = slices.Repeat([]string{"huge cups"}, 101) }, []string{"drums is 101 items: want at most 100 items"}},

		{cocks, func(k *line.Control) { k.Positions = []line.Position{} }, []string{"positions is empty: want the positions that it has"}},
		{number, func(k *line.Control) { k.Positions = []line.Position{{Name: "low", Value: "1"}} }, []string{`positions[0] is "low": want nothing: this control is set to a number`}},
		{cocks, func(k *line.Control) {
			k.Positions = []line.Position{{Name: "up", Value: "open"}, {Name: "down", Value: "shut"}}
		}, nil},
		{cocks, func(k *line.Control) { k.Positions = []line.Position{{Name: "up", Value: "ajar"}} }, []string{`positions[0].value is "ajar": want what this control can set: "open" or "shut"`}},
		{cocks, func(k *line.Control) { k.Positions = []line.Position{{Value: "open"}} }, []string{`positions[0].name is "": want the shop's word for it, each once`}},
		{cocks, func(k *line.Control) {
			k.Positions = []line.Position{{Name: "up", Value: "open"}, {Name: "up", Value: "shut"}}
		}, []string{`positions[1].name is "up": want the shop's word for it, each once`}},
		{cocks, func(k *line.Control) { k.Positions = turns(20) }, nil},
		{cocks, func(k *line.Control) { k.Positions = append(turns(20), line.Position{}) }, []string{"positions is 21 items: want at most 20 items"}},

		{cocks, clash(line.Clash{At: "open", Control: "first", ControlAt: "off", Why: "dust"}), nil},
		{cocks, func(k *line.Control) { k.NotWith = []line.Clash{} }, []string{"not_with is empty: want what its positions do not go with"}},
		{cocks, clash(line.Clash{At: "ajar", Control: "first", ControlAt: "off", Why: "dust"}), []string{`not_with[0].at is "ajar": want a position of "cocks": "open" or "shut"`}},
		{cocks, clash(line.Clash{At: "open", Control: "first", ControlAt: "ajar", Why: "dust"}), []string{`not_with[0].control_at is "ajar": want a position of "first": "on" or "off"`}},
		{cocks, clash(line.Clash{At: "open", Control: "attic", ControlAt: "ajar", Why: "dust"}), []string{`not_with[0].control is "attic": want the name of another control of the line`}},
		{cocks, clash(line.Clash{At: "open", Control: "cocks", ControlAt: "ajar", Why: "dust"}), []string{`not_with[0].control is "cocks": want the name of another control of the line`}},
		{cocks, clash(line.Clash{At: "open", Control: "first", ControlAt: "off"}), []string{`not_with[0].why is "": want what would happen`}},
		{number, clash(line.Clash{At: "5 mm", Control: "first", ControlAt: "off", Why: "dust"}), []string{`not_with[0].at is "5 mm": want a control with positions, not one that is set to a number`}},
		{cocks, func(k *line.Control) {
			k.Positions, k.NotWith = []line.Position{{Name: "up", Value: "open"}}, []line.Clash{{At: "down", Control: "first", ControlAt: "off", Why: "dust"}}
		}, []string{`not_with[0].at is "down": want a position of "cocks": "up"`}},
		{cocks, func(k *line.Control) {
			k.Sets = line.SetsChain // of a line without one
			k.Change, k.Positions, k.NotWith = line.Stopped, nil, []line.Clash{{At: "low", Control: "first", ControlAt: "off", Why: "dust"}}
		}, []string{`sets is "chain": want what the line has: it gives no curling_chain of the moulder`}},
		{cocks, func(k *line.Control) {
			k.NotWith = slices.Repeat([]line.Clash{{At: "open", Control: "first", ControlAt: "off", Why: "dust"}}, 20)
		}, nil},
		{cocks, func(k *line.Control) { k.NotWith = make([]line.Clash, 21) }, []string{"not_with is 21 items: want at most 20 items"}},
	} {
		k := c.of
		c.bend(&k)
		in.Line.Controls = []line.Control{{Name: "first", Machine: "rounder", Sets: line.SetsDuster, Of: "rounder belt", Change: line.AnyTime}, k}
		var want []string
		for _, w := range c.want {
			want = append(want, "line.controls[1]."+w)
		}
		assert.Equal(t, want, told(in))
	}
}

// turns are positions of a cock that is opened in so many turns.
func turns(n int) (list []line.Position) {
	for i := range n {
		list = append(list, line.Position{Name: strconv.Itoa(i), Value: "open"})
	}
	return list
}

// What is said of a control of what the line does not have.
func TestWhatIsSaidOfWhatTheLineLacks(t *testing.T) {
	for sets, lacks := range map[line.Sets]string{
		line.SetsMoulder: "moulder", line.SetsLastGap: "moulder", line.SetsStampMode: "stamper", line.SetsStamps: "stamper", line.SetsSpin: "die of the stamper",
		line.SetsOil: "oil_valves", line.SetsRounderSpeed: "rounder", line.SetsFirstGap: "first_pair of the moulder", line.SetsFirstNumber: "scale of the moulder's first_pair",
		line.SetsLastNumber: "last_scale of the moulder's first_pair", line.SetsChain: "curling_chain of the moulder",
		line.SetsGuides: "pressure_board and side_guides of the moulder", line.SetsBoardIn: "pressure_board and side_guides of the moulder",
		line.SetsBoardOut: "pressure_board and side_guides of the moulder",
	} {
		in := input(t, 0)
		l := &in.Line
		l.Changing, l.Moulder, l.Stamper, l.Rounder, l.Oil = line.Changing{}, line.Moulder{}, line.Stamper{}, line.Rounder{}, nil
		in.Order.Product.Route, in.Order.Product.Rounding = line.ToPanning, line.Rounding{}
		l.Controls = []line.Control{{Name: "it", Machine: "machine", Sets: sets, Change: line.LockedOut}}
		want := fmt.Sprintf("line.controls[0].sets is %q: want what the line has: it gives no %s", sets, lacks)
		assert.Equal(t, []string{want}, told(in))
	}
}

// What is said of where a control stands.
func TestWhatIsSaidOfWhereAControlStands(t *testing.T) {
	in := input(t, 1)
	in.Line.Changing = line.Changing{}
	in.Line.Controls = []line.Control{
		{Name: "cocks", Machine: "divider", Sets: line.SetsOil, Change: line.Running},
		{Name: "guides", Machine: "moulder", Sets: line.SetsGuides, Change: line.Stopped},
		{Name: "handle", Machine: "divider", Sets: line.SetsMark, Change: line.Stopped},
	}
	for _, c := range []struct {
		stands []line.Standing
		want   []string
	}{
		{[]line.Standing{{"cocks", "open"}, {"guides", "160 mm"}, {"handle", "12"}}, nil},
		{[]line.Standing{{"cocks", "open"}, {"cocks", "shut"}}, []string{`stands[1].control is "cocks": want each control once`}},
		{[]line.Standing{{"lever", "open"}}, []string{`stands[0].control is "lever": want a control of the line: "cocks", "guides", "handle"`}},
		{[]line.Standing{{"cocks", "ajar"}}, []string{`stands[0].at is "ajar": want a position of "cocks": "open" or "shut"`}},
		{[]line.Standing{{"guides", "160"}}, []string{`stands[0].at is "160": want a number and its unit, such as 1 mm`}},
		{[]line.Standing{{"handle", "low"}}, []string{`stands[0].at is "low": want a number`}},
		{[]line.Standing{{"handle", "NaN"}}, []string{`stands[0].at is "NaN": want a number`}},
		{make([]line.Standing, 101), []string{"stands is 101 items: want at most 100 items"}},
	} {
		assert.Equal(t, c.want, told(line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift, Stands: c.stands}))
	}
	in.Line.Controls = nil
	assert.Equal(t, []string{
		"line.controls is empty: want the controls of the line, in walking order",
		`stands[0].control is "cocks": want a control of the line: none: the line names no controls`,
	}, told(line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift, Stands: []line.Standing{{"cocks", "open"}}}))
	in.Line.Controls = slices.Repeat([]line.Control{{}}, 101)
	assert.Equal(t, []string{"line.controls is 101 items: want at most 100 items"}, told(line.ControlSettings{Line: in.Line, Order: in.Order, Shift: in.Shift}))
}

// What a control that is no number can set, where the shop has no words of its own: what the line has, each once.
func TestWhatASwitchCanSet(t *testing.T) {
	l := input(t, 1).Line
	for sets, want := range map[line.Sets][]string{
		line.SetsAcross: {"2", "1"}, line.SetsRoute: {"stamper", "moulder", "panning"}, line.SetsStampMode: {"off", "continuous", "timed"},
		line.SetsMoulder: {"on", "off"}, line.SetsSpin: {"on", "off"}, line.SetsDuster: {"on", "off"}, line.SetsOil: {"open", "shut"}, line.SetsFitting: {"in", "out"},
		line.SetsDrum: {"small cups", "medium cups", "large cups"}, line.SetsChain: {"low", "middle", "high"},
	} {
		l.Controls = []line.Control{{Name: "it", Machine: "machine", Sets: sets, Change: line.LockedOut}}
		var got []string
		for _, p := range l.Scale(0).Positions {
			assert.Equal(t, p.Name, p.Value)
			got = append(got, p.Name)
		}
		assert.Equal(t, want, got, "%s", sets)
		l.Controls[0].Positions = []line.Position{{Name: "as it was", Value: want[1]}}
		assert.Equal(t, l.Controls[0].Positions, l.Scale(0).Positions, "%s: the shop's own words come first", sets)
	}
	// Of one number across there is one position.
	in := input(t, 0)
	in.Line.Changing, in.Line.Divider.Lanes = line.Changing{}, in.Line.Divider.Lanes[:1]
	in.Line.Controls = []line.Control{{Name: "chute", Machine: "divider", Sets: line.SetsAcross, Change: line.Stopped, Positions: []line.Position{{Name: "narrow", Value: "1"}}}}
	assert.Equal(t, []string{`line.controls[0].positions[0].value is "1": want what this control can set: "2"`}, told(in))
	m := l.Moulder
	m.Chain = nil
	l.Moulder, l.Controls = m, []line.Control{{Name: "it", Sets: line.SetsChain}}
	assert.Empty(t, l.Scale(0).Positions, "a moulder without a chain has no heights of it")
	l.Drums, l.Controls[0].Sets = slices.Repeat([]molder.Drum{{Name: "small cups"}}, 101), line.SetsDrum
	assert.Len(t, l.Scale(0).Positions, 100, "more are refused by the line")
}
