package line

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// The longest lists of the controls.
const (
	mostControls  = 100
	mostPositions = 20
	longestMove   = unit.Duration(4 * 3600)
	mostPeople    = 10
)

// control returns the index of the control with that name, or -1.
func (l *Line) control(name string) int {
	return slices.IndexFunc(l.Controls, func(k Control) bool { return k.Name == name })
}

// checkControls tells what is wrong with the controls.
func (l *Line) checkControls(c *reckon.Checks) {
	if !reckon.CheckItems(c, "controls", len(l.Controls), mostControls) {
		return
	}
	for i := range l.Controls {
		mark := c.Mark()
		k := &l.Controls[i]
		switch {
		case k.Name == "":
			c.Fail("name", `""`, "a name, to say which control is meant")
		case l.control(k.Name) < i:
			c.Fail("name", strconv.Quote(unit.Clip(k.Name)), "each name once")
		}
		k.check(c, l)
		c.Item(mark, "controls", i)
	}
}

func (k *Control) check(c *reckon.Checks, l *Line) {
	if k.Machine == "" {
		c.Fail("machine", `""`, "the machine that it is on, which is isolated as a whole")
	}
	known := reckon.CheckWord(c, "sets", k.Sets, SetsAcross, SetsRoute, SetsMoulder, SetsStampMode, SetsStamps, SetsSpin, SetsDuster, SetsSlide, SetsOil, SetsMark,
		SetsStrokes, SetsRounderSpeed, SetsDrum, SetsFitting, SetsFirstGap, SetsFirstNumber, SetsLastGap, SetsLastNumber, SetsChain, SetsGuides, SetsBoardIn, SetsBoardOut, SetsBelt)
	if reckon.CheckWord(c, "change", k.Change, AnyTime, Running, Stopped, LockedOut) && k.Change != LockedOut && (k.Sets == SetsDrum || k.Sets == SetsFitting) {
		c.Fail("change", strconv.Quote(string(k.Change)), `"locked-out": hands go in where a part is put in or taken out`)
	}
	if k.Time != 0 {
		reckon.CheckRange(c, "time", k.Time, shortest, longestMove)
	}
	if k.People != 0 {
		reckon.CheckCount(c, "people", k.People, 1, mostPeople)
	}
	if known {
		k.checkEquipment(c, l)
		k.checkStep(c)
		k.checkFitting(c)
	}
	k.checkDrums(c, l)
	k.checkPositions(c, l)
	k.checkClashes(c, l)
}

// checkEquipment refuses a control of what the line does not have.
func (k *Control) checkEquipment(c *reckon.Checks, l *Line) {
	m := &l.Moulder
	has, lacks := true, ""
	switch k.Sets {
	case SetsDuster, SetsSlide:
		i := slices.IndexFunc(l.Dusters[:min(len(l.Dusters), mostDusters)], func(d Duster) bool { return d.Name == k.Of })
		if i < 0 {
			c.Fail("of", strconv.Quote(unit.Clip(k.Of)), "the name of one of the line's flour_dusters")
		} else if has = k.Sets == SetsDuster || len(l.Dusters[i].Slide) > 0; !has {
			lacks = "slide positions of this duster"
		}
	case SetsBelt:
		i := slices.IndexFunc(l.Belts[:min(len(l.Belts), mostParts)], func(b Belt) bool { return b.Name == k.Of })
		if i < 0 {
			c.Fail("of", strconv.Quote(unit.Clip(k.Of)), "the name of one of the line's belts")
		} else if has = l.Belts[i].BeltSpeed != 0; !has {
			lacks = "speed of its own for this belt: it is geared to the line"
		}
	case SetsMoulder, SetsLastGap:
		has, lacks = *m != (Moulder{}), "moulder"
	case SetsStampMode, SetsStamps:
		has, lacks = l.Stamper != (Stamper{}), "stamper"
	case SetsSpin:
		has, lacks = l.Stamper.Die != "", "die of the stamper"
	case SetsOil:
		has, lacks = len(l.Oil) > 0, "oil_valves"
	case SetsRounderSpeed:
		has, lacks = l.Rounder != (Rounder{}), "rounder"
	case SetsFirstGap:
		has, lacks = m.First != nil, "first_pair of the moulder"
	case SetsFirstNumber:
		has, lacks = m.First != nil && m.First.Scale.Method != "", "scale of the moulder's first_pair"
	case SetsLastNumber:
		has, lacks = m.First != nil && m.First.Last.Method != "", "last_scale of the moulder's first_pair"
	case SetsChain:
		has, lacks = m.Chain != nil, "curling_chain of the moulder"
	case SetsGuides, SetsBoardIn, SetsBoardOut:
		has, lacks = m.Board != nil && m.Guides != nil, "pressure_board and side_guides of the moulder"
	}
	if !has {
		c.Fail("sets", strconv.Quote(string(k.Sets)), "what the line has: it gives no "+lacks)
	}
	if k.Of != "" && k.Sets != SetsDuster && k.Sets != SetsSlide && k.Sets != SetsBelt {
		c.Fail("of", strconv.Quote(unit.Clip(k.Of)), "nothing: the line has one alone")
	}
}

// checkStep refuses a step that cannot be read, or that the machine has already.
func (k *Control) checkStep(c *reckon.Checks) {
	if k.Step == "" {
		return
	}
	if !k.Sets.number() {
		c.Fail("step", strconv.Quote(unit.Clip(k.Step)), "nothing: this control is not set to a number")
		return
	}
	if at := k.stepAt(); at != "" {
		c.Fail("step", strconv.Quote(unit.Clip(k.Step)), "nothing: it stands in "+at)
		return
	}
	if v, ok := k.Sets.parse(k.Step); !ok || !(v >= 1e-6 && v <= 1e6) {
		want := "a number from 1e-6 to 1e6"
		if q := k.Sets.quantity(1); q != nil {
			want = "a number and its unit, such as " + q.String()
		}
		c.Fail("step", strconv.Quote(unit.Clip(k.Step)), want)
	}
}

// stepAt names the place where the machine has the step of a control, "" if it has none.
func (k *Control) stepAt() string {
	switch k.Sets {
	case SetsMark:
		return "divider.mark_step"
	case SetsStrokes:
		return "divider.stroke_step"
	case SetsLastGap:
		return "moulder.gap_step"
	case SetsSlide:
		return "slide_step of the duster"
	}
	return ""
}

// checkFitting refuses what only a fitting has.
func (k *Control) checkFitting(c *reckon.Checks) {
	if k.Sets != SetsFitting {
		const none = "nothing: it is no fitting"
		if k.Route != "" {
			c.Fail("route", strconv.Quote(string(k.Route)), none)
		}
		if len(k.Drums) > 0 {
			c.Fail("drums[0]", strconv.Quote(unit.Clip(k.Drums[0])), none)
		}
		if k.ByName {
			c.Fail("by_name", "true", none)
		}
	} else if k.Route != "" {
		reckon.CheckWord(c, "route", k.Route, ToStamper, ToMoulder, ToPanning)
	}
}

// checkDrums refuses drums that there are not.
func (k *Control) checkDrums(c *reckon.Checks, l *Line) {
	if k.Drums != nil && len(k.Drums) == 0 {
		c.Fail("drums", "empty", "the drums that it is in with")
	}
	if reckon.CheckItems(c, "drums", len(k.Drums), mostParts) {
		for i, name := range k.Drums {
			if !c.Told("drums["+strconv.Itoa(i)+"]") && !slices.ContainsFunc(l.Drums[:min(len(l.Drums), mostParts)], func(d molder.Drum) bool { return d.Name == name }) {
				c.Fail("drums["+strconv.Itoa(i)+"]", strconv.Quote(unit.Clip(name)), "the name of one of the line's drums")
			}
		}
	}
}

// checkPositions requires words that differ, each for something that the control can set.
func (k *Control) checkPositions(c *reckon.Checks, l *Line) {
	if k.Positions != nil && len(k.Positions) == 0 {
		c.Fail("positions", "empty", "the positions that it has")
	}
	if len(k.Positions) > 0 && k.Sets.number() {
		c.Fail("positions[0]", strconv.Quote(unit.Clip(k.Positions[0].Name)), "nothing: this control is set to a number")
	}
	if !reckon.CheckItems(c, "positions", len(k.Positions), mostPositions) {
		return
	}
	var values []string
	if len(k.Positions) > 0 {
		values = k.values(l)
	}
	for i, p := range k.Positions {
		mark := c.Mark()
		if p.Name == "" || slices.ContainsFunc(k.Positions[:i], func(o Position) bool { return o.Name == p.Name }) {
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "the shop's word for it, each once")
		}
		if len(values) > 0 && !slices.Contains(values, p.Value) {
			c.Fail("value", strconv.Quote(unit.Clip(p.Value)), "what this control can set: "+reckon.OneOf(values...))
		}
		c.Item(mark, "positions", i)
	}
}

// checkClashes requires two positions that there are, of two controls.
func (k *Control) checkClashes(c *reckon.Checks, l *Line) {
	if k.NotWith != nil && len(k.NotWith) == 0 {
		c.Fail("not_with", "empty", "what its positions do not go with")
	}
	if !reckon.CheckItems(c, "not_with", len(k.NotWith), mostPositions) {
		return
	}
	for i, n := range k.NotWith {
		mark := c.Mark()
		k.checkWord(c, l, "at", n.At)
		if j := l.control(n.Control); j < 0 || n.Control == k.Name {
			c.Fail("control", strconv.Quote(unit.Clip(n.Control)), "the name of another control of the line")
		} else {
			l.Controls[j].checkWord(c, l, "control_at", n.ControlAt)
		}
		if n.Why == "" {
			c.Fail("why", `""`, "what would happen")
		}
		c.Item(mark, "not_with", i)
	}
}

// checkWord requires a position of the control.
func (k *Control) checkWord(c *reckon.Checks, l *Line, field, word string) {
	if words := k.words(l); k.Sets.number() || len(words) > 0 && !slices.Contains(words, word) {
		want := "a position of " + strconv.Quote(unit.Clip(k.Name)) + ": " + reckon.OneOf(words...)
		if k.Sets.number() {
			want = "a control with positions, not one that is set to a number"
		}
		c.Fail(field, strconv.Quote(unit.Clip(word)), want)
	}
}

// checkStands requires settings of controls that there are, each once, which the control can stand at.
func (l *Line) checkStands(c *reckon.Checks, list string, stands []Standing) {
	if !reckon.CheckItems(c, list, len(stands), mostControls) {
		return
	}
	for i, s := range stands {
		mark := c.Mark()
		j := l.control(s.Control)
		switch {
		case j < 0:
			near := strings.Join(names(l.Controls, func(k *Control) string { return strconv.Quote(k.Name) }), ", ")
			if near == "" {
				near = "none: the line names no controls"
			}
			c.Fail("control", strconv.Quote(unit.Clip(s.Control)), "a control of the line: "+near)
		case slices.ContainsFunc(stands[:i], func(o Standing) bool { return o.Control == s.Control }):
			c.Fail("control", strconv.Quote(unit.Clip(s.Control)), "each control once")
		case l.Controls[j].Sets.number():
			if _, ok := l.Controls[j].Sets.parse(s.At); !ok {
				want := "a number"
				if q := l.Controls[j].Sets.quantity(1); q != nil {
					want = "a number and its unit, such as " + q.String()
				}
				c.Fail("at", strconv.Quote(unit.Clip(s.At)), want)
			}
		default:
			l.Controls[j].checkWord(c, l, "at", s.At)
		}
		c.Item(mark, list, i)
	}
}
