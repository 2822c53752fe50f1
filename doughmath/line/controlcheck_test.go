package line_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/molder"
)

// everyControl is one control for each thing that a control sets, with what is taken from the line so that it has nothing to
// set; nil where every line has it.
var everyControl = []struct {
	sets line.Sets
	of   string
	lack func(l *line.Line)
}{
	{line.SetsAcross, "", nil},
	{line.SetsRoute, "", nil},
	{line.SetsOil, "", func(l *line.Line) { l.Oil = nil }},
	{line.SetsMark, "", nil},
	{line.SetsStrokes, "", nil},
	{line.SetsDrum, "", nil},
	{line.SetsFitting, "", nil},
	{line.SetsMoulder, "", func(l *line.Line) { l.Moulder = line.Moulder{} }},
	{line.SetsLastGap, "", func(l *line.Line) { l.Moulder = line.Moulder{} }},
	{line.SetsFirstGap, "", func(l *line.Line) { l.Moulder.First = nil }},
	{line.SetsFirstNumber, "", func(l *line.Line) { l.Moulder.First = nil }},
	{line.SetsFirstNumber, "", func(l *line.Line) { f := *l.Moulder.First; f.Scale.Method = ""; l.Moulder.First = &f }},
	{line.SetsLastNumber, "", func(l *line.Line) { l.Moulder.First = nil }},
	{line.SetsLastNumber, "", func(l *line.Line) { f := *l.Moulder.First; f.Last.Method = ""; l.Moulder.First = &f }},
	{line.SetsChain, "", func(l *line.Line) { l.Moulder.Chain = nil }},
	{line.SetsGuides, "", func(l *line.Line) { l.Moulder.Guides = nil }},
	{line.SetsGuides, "", func(l *line.Line) { l.Moulder.Board = nil }},
	{line.SetsBoardIn, "", func(l *line.Line) { l.Moulder.Board = nil }},
	{line.SetsBoardOut, "", func(l *line.Line) { l.Moulder.Guides = nil }},
	{line.SetsStampMode, "", func(l *line.Line) { l.Stamper = line.Stamper{} }},
	{line.SetsStamps, "", func(l *line.Line) { l.Stamper = line.Stamper{} }},
	{line.SetsSpin, "", func(l *line.Line) { l.Stamper.Die, l.Stamper.Spin = "", "" }},
	{line.SetsRounderSpeed, "", func(l *line.Line) { l.Rounder = line.Rounder{} }},
	{line.SetsDuster, "proofer pockets", nil},
	{line.SetsSlide, "panning belt", func(l *line.Line) { l.Dusters = slices.Clone(l.Dusters); l.Dusters[0].Slide = nil }},
	{line.SetsBelt, "moulder belt", func(l *line.Line) {
		l.Belts = slices.Clone(l.Belts)
		b := &l.Belts[slices.IndexFunc(l.Belts, func(b line.Belt) bool { return b.Name == "moulder belt" })]
		b.BeltSpeed, b.AdvancePerStroke = 0, 1000
	}},
}

// A control of what the line does not have is refused by its name, and a control of what it has is not.
func TestControlsOfWhatTheLineLacks(t *testing.T) {
	for _, k := range everyControl {
		in := input(t, 0)
		l := &in.Line
		l.Changing = line.Changing{}
		of := k.of
		if k.sets == line.SetsSlide {
			of = l.Dusters[0].Name
		}
		l.Controls = []line.Control{{Name: "it", Machine: "machine", Sets: k.sets, Of: of, Change: line.LockedOut}}
		told := func() (list []string) {
			var c reckon.Checks
			line.ControlSettings{Line: *l, Order: in.Order, Shift: in.Shift}.Check(&c)
			for _, e := range reckon.InputErrors(c.Err()) {
				if strings.HasPrefix(e.Field, "line.controls") {
					list = append(list, e.Field)
				}
			}
			return list
		}
		assert.Empty(t, told(), "%s: the line has it", k.sets)
		if k.lack != nil {
			k.lack(l)
			assert.Equal(t, []string{"line.controls[0].sets"}, told(), "%s: the line has none", k.sets)
		}
		// Of one duster or belt it has to be said which, and of nothing else.
		l.Controls[0].Of = "nobody's"
		assert.Contains(t, told(), "line.controls[0].of", "%s", k.sets)
	}
}

// What a product sets each control to is the plan's number, and what it does not pass it leaves alone.
func TestEveryControlAsPlanned(t *testing.T) {
	for order := range 3 {
		in := input(t, order)
		l := &in.Line
		l.Changing, l.Controls = line.Changing{}, nil
		l.Stamper.Mode = molder.ContinuousStamp
		for i, k := range everyControl {
			of := k.of
			if k.sets == line.SetsSlide {
				of = l.Dusters[0].Name
			}
			l.Controls = append(l.Controls, line.Control{Name: strconv.Itoa(i), Machine: "machine", Sets: k.sets, Of: of, Change: line.LockedOut})
		}
		out, err := line.ControlSettings{Line: *l, Order: in.Order, Shift: in.Shift}.Solve()
		require.NoError(t, err)
		p, err := in.Solve()
		require.NoError(t, err)
		route := in.Order.Product.Route
		moulded, stamped := route == line.ToMoulder, route == line.ToStamper
		belt := l.Belts[slices.IndexFunc(l.Belts, func(b line.Belt) bool { return b.Name == "moulder belt" })]
		for i, k := range everyControl {
			s := out.Settings[i]
			number, word, set := 0.0, "", true
			switch k.sets {
			case line.SetsMark:
				number = p.Mark.Set
			case line.SetsStrokes:
				number = float64(p.Strokes)
			case line.SetsStamps:
				number, set = float64(p.Strokes), stamped // one stamp for each row
			case line.SetsRounderSpeed:
				number = float64(in.Order.Product.Rounding.Speed)
			case line.SetsSlide:
				number = p.Dusting[0].Slide.Slide
			case line.SetsBelt:
				number, set = float64(belt.BeltSpeed), belt.Route == "" || belt.Route == route
			case line.SetsFirstGap:
				number, set = float64(p.Rollers.FirstGap), moulded
			case line.SetsFirstNumber:
				number, set = p.Rollers.FirstNumber, moulded
			case line.SetsLastGap:
				number, set = float64(p.Gap.Gap), moulded
			case line.SetsLastNumber:
				number, set = p.Rollers.LastNumber, moulded
			case line.SetsGuides:
				number, set = float64(p.Guides.Guides), moulded
			case line.SetsBoardIn:
				number, set = float64(p.Heights.HeightIn), moulded
			case line.SetsBoardOut:
				number, set = float64(p.Heights.HeightOut), moulded
			case line.SetsAcross:
				word = strconv.Itoa(in.Order.Product.Across)
			case line.SetsRoute:
				word = string(route)
			case line.SetsMoulder:
				word = map[bool]string{true: "on", false: "off"}[moulded]
			case line.SetsStampMode:
				word = map[bool]string{true: "continuous", false: "off"}[stamped]
			case line.SetsSpin:
				word, set = string(l.Stamper.Spin), stamped
			case line.SetsDuster:
				word = map[bool]string{true: "on", false: "off"}[p.Dusting[1].Flour.FlourPerPiece > 0]
			case line.SetsOil:
				word = "open"
			case line.SetsChain:
				word, set = p.Chain.Name, moulded
			case line.SetsDrum:
				word = p.Drum.Name
			case line.SetsFitting:
				word = "in" // no drum takes it out
			}
			assert.Equal(t, set, s.At != "", "%s of order %d", k.sets, order)
			if !set {
				continue
			}
			assert.InDelta(t, number, s.Number, 1e-9, "%s of order %d", k.sets, order)
			if word != "" {
				assert.Equal(t, word, s.At, "%s of order %d", k.sets, order)
			}
		}
	}
}

// What can hurt whoever moves a control goes with what it sets and with when it is moved; common practice.
func TestHazardsOfEveryControl(t *testing.T) {
	of := map[line.Sets]reckon.Cautions{
		line.SetsDrum: reckon.LockedOut | reckon.Lifting, // it is heavy, and hands go in
		line.SetsOil:  reckon.OilSlip,
	}
	for _, s := range []line.Sets{line.SetsStampMode, line.SetsStamps, line.SetsSpin} {
		of[s] = reckon.StamperCover
	}
	for _, s := range []line.Sets{line.SetsFirstGap, line.SetsFirstNumber, line.SetsLastGap, line.SetsLastNumber} {
		of[s] = reckon.RollerNip
	}
	for _, s := range []line.Sets{line.SetsDuster, line.SetsSlide} {
		of[s] = reckon.FlourDust
	}
	for _, k := range everyControl {
		for when, more := range map[line.When]reckon.Cautions{line.AnyTime: 0, line.Stopped: 0, line.Running: reckon.RunningDrive, line.LockedOut: reckon.LockedOut} {
			s := line.Setting{Sets: k.sets, Change: when}
			assert.Equal(t, reckon.MovingMachinery|reckon.Interlocks|of[k.sets]|more, s.Hazards(), "%s, %s", k.sets, when)
		}
	}
}

// How far a control goes, and in which steps, is what the line says of its machine; of a scale, the lowest and the highest number that
// was measured on it.
func TestHowFarEveryControlGoes(t *testing.T) {
	l := input(t, 0).Line
	d, m := &l.Divider, &l.Moulder
	g := *m.Guides
	g.Narrowest, g.Widest = 90, 400
	m.Guides = &g
	first, last := m.First.Scale.Points, m.First.Last.Points
	slide := l.Dusters[0].Slide
	number := func(list []molder.IndicatorPoint) (low, high float64) {
		low, high = list[0].Number, list[0].Number
		for _, p := range list {
			low, high = min(low, p.Number), max(high, p.Number)
		}
		return low, high
	}
	n1, n2 := number(first)
	n3, n4 := number(last)
	want := map[line.Sets]line.ControlScale{
		line.SetsMark:         {Low: d.MarkLow, High: d.MarkHigh, Step: d.MarkStep},
		line.SetsStrokes:      {Low: float64(d.StrokesLow), High: float64(d.StrokesHigh), Step: float64(d.StrokeStep)},
		line.SetsStamps:       {Low: float64(l.Stamper.StampsLow), High: float64(l.Stamper.StampsHigh)},
		line.SetsRounderSpeed: {Low: float64(l.Rounder.SpeedLow), High: float64(l.Rounder.SpeedHigh)},
		line.SetsLastGap:      {Low: float64(m.GapLow), High: float64(m.GapHigh), Step: float64(m.GapStep)},
		line.SetsFirstNumber:  {Low: n1, High: n2},
		line.SetsLastNumber:   {Low: n3, High: n4},
		line.SetsGuides:       {Low: 90, High: 400},
		line.SetsSlide:        {Low: slide[0].Slide, High: slide[len(slide)-1].Slide, Step: l.Dusters[0].SlideStep},
		line.SetsFirstGap:     {}, line.SetsBoardIn: {}, line.SetsBoardOut: {}, line.SetsBelt: {},
	}
	for sets, scale := range want {
		of := ""
		if sets == line.SetsSlide {
			of = l.Dusters[0].Name
		}
		l.Controls = []line.Control{{Name: "it", Sets: sets, Of: of}}
		assert.Equal(t, scale, l.Scale(0), "%s", sets)
	}
	l.Controls = []line.Control{{Name: "its own step", Sets: line.SetsGuides, Step: "2 mm"}}
	assert.InDelta(t, 2, l.Scale(0).Step, 1e-12)
	assert.Zero(t, l.Scale(1), "there is no second control")
	assert.Zero(t, l.Scale(-1))
	g.Widest = 0
	assert.Zero(t, l.Scale(0).High, "nobody says how wide the guides go")
	m.Guides, m.First = nil, nil
	for _, s := range []line.Sets{line.SetsGuides, line.SetsFirstNumber, line.SetsLastNumber} {
		l.Controls[0].Sets = s
		assert.Zero(t, l.Scale(0).High, "%s", s)
	}
}
