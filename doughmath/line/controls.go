package line

import (
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

// Control is one control of the line, or one part that goes in or comes out: what the
// shop calls it, what of a plan it sets, and how and when it may be moved. A plan says
// where it stands: see [ControlSettings].
type Control struct {
	Name      string        `json:"name"`                             // what the shop calls it, each name once
	Machine   string        `json:"machine"`                          // the machine that it is on, which is isolated as a whole
	Sets      Sets          `json:"sets"`                             // what of the plan it sets, such as "across" or "mark"
	Of        string        `json:"of,omitzero"`                      // the duster or the belt, where there may be several; leave out for all others
	Positions []Position    `json:"positions,omitzero" items:"1..20"` // the shop's own words for its positions; leave out for a number, and where they are called as here
	Step      string        `json:"step,omitzero"`                    // finest step of a number, with its unit, such as "1 mm"; leave out if it can be set anywhere, or if the machine has the step
	More      string        `json:"more,omitzero"`                    // which way of a number is more: a heavier piece, a wider gap, a higher speed; leave out if its scale shows it
	Less      string        `json:"less,omitzero"`                    // which way is less
	Change    When          `json:"change"`                           // when it may be moved: "any-time", "running", "stopped" or "locked-out"
	Route     Route         `json:"route,omitzero"`                   // of a fitting: it is in only for products of this route; leave out for all
	Drums     []string      `json:"drums,omitzero" items:"1..100"`    // of a fitting: it is in only with these drums; leave out for all that do not take it out
	ByName    bool          `json:"by_name,omitzero"`                 // of a fitting: it is in only for products that name it among their fittings
	NotWith   []Clash       `json:"not_with,omitzero" items:"1..20"`  // what its positions do not go with on this line; leave out for nothing
	Time      unit.Duration `json:"time,omitzero" range:"1 s..4 h"`   // how long the shop takes to move it; needed for a changeover
	People    int           `json:"people,omitzero" range:"1..10"`    // people that it takes to move it; leave out for one
}

// Position is one position of a control.
type Position struct {
	Name  string `json:"name"`  // what the shop calls it
	Value string `json:"value"` // what it stands for: a number across, a route, "on", "in" or whatever the control sets
}

// Clash is a position of a control that does not go with one of another, whatever product runs.
type Clash struct {
	At        string `json:"at"`         // the position of this control
	Control   string `json:"control"`    // the other control
	ControlAt string `json:"control_at"` // the position of the other
	Why       string `json:"why"`        // what would happen
}

// When says when something at the line may be done.
type When string

const (
	// Ahead is work that is done while the product before still runs.
	Ahead When = "ahead"
	// AnyTime is done once the line is empty, whether it runs or stands.
	AnyTime When = "any-time"
	// Running is done only while the machine runs, such as the speed of a drive with a variator.
	Running When = "running"
	// Stopped is done only while the line stands.
	Stopped When = "stopped"
	// LockedOut is done only while the machine is isolated and locked out: hands or tools go inside.
	LockedOut When = "locked-out"
)

// Sets names what a control sets.
type Sets string

const (
	// SetsAcross is the number across: at the infeed, the transfer or the outlet.
	SetsAcross Sets = "across"
	// SetsRoute is where pieces go from the overhead proofer.
	SetsRoute Sets = "route"
	// SetsMoulder is whether the moulder runs: "on" or "off".
	SetsMoulder Sets = "moulder"
	// SetsStampMode is what makes the stamper stamp: "off", "continuous" or "timed".
	SetsStampMode Sets = "stamp-mode"
	// SetsStamps is the speed of a stamper that runs continuously.
	SetsStamps Sets = "stamps"
	// SetsSpin is whether the die turns: "on" or "off".
	SetsSpin Sets = "spin"
	// SetsDuster is whether a duster runs: "on" or "off".
	SetsDuster Sets = "duster"
	// SetsSlide is the slide of a duster.
	SetsSlide Sets = "slide"
	// SetsOil is the divider's oil: "open" while it scales, "shut" whenever scaling stops.
	SetsOil Sets = "oil"
	// SetsMark is the mark at the handle of the divider.
	SetsMark Sets = "mark"
	// SetsStrokes is the speed of divider and overhead proofer.
	SetsStrokes Sets = "strokes"
	// SetsRounderSpeed is the speed of the rounder.
	SetsRounderSpeed Sets = "rounder-speed"
	// SetsDrum is the rounding drum, by its name.
	SetsDrum Sets = "drum"
	// SetsFitting is a part that is "in" or "out".
	SetsFitting Sets = "fitting"
	// SetsFirstGap is the gap of the first pair of rollers.
	SetsFirstGap Sets = "first-gap"
	// SetsFirstNumber is the same as the number at its indicator.
	SetsFirstNumber Sets = "first-number"
	// SetsLastGap is the gap of the last pair, or of the only one.
	SetsLastGap Sets = "last-gap"
	// SetsLastNumber is the same as the number at its indicator.
	SetsLastNumber Sets = "last-number"
	// SetsChain is the height of the curling chain, by its name.
	SetsChain Sets = "chain"
	// SetsGuides is how far apart the side guides stand.
	SetsGuides Sets = "guides"
	// SetsBoardIn is the height of the pressure board where the piece enters.
	SetsBoardIn Sets = "board-in"
	// SetsBoardOut is its height where the piece leaves.
	SetsBoardOut Sets = "board-out"
	// SetsBelt is the speed of a belt that has one of its own.
	SetsBelt Sets = "belt"
)

// What a control that is not a number can stand at.
const (
	on    = "on"
	off   = "off"
	open  = "open"
	shut  = "shut"
	inPut = "in"
	out   = "out"
)

// quantity returns a number of such a control with its unit, nil for a plain one.
func (s Sets) quantity(v float64) unit.Quantity {
	switch s {
	case SetsStrokes, SetsStamps:
		return unit.StrokeRate(v)
	case SetsRounderSpeed:
		return unit.RotationRate(v)
	case SetsBelt:
		return unit.Speed(v)
	case SetsFirstGap, SetsLastGap, SetsGuides, SetsBoardIn, SetsBoardOut:
		return unit.Length(v)
	}
	return nil
}

// number reports whether such a control is set to a number.
func (s Sets) number() bool {
	return s.quantity(0) != nil || s == SetsMark || s == SetsSlide || s == SetsFirstNumber || s == SetsLastNumber
}

// text is a number as the control is read, rounded for a person.
func (s Sets) text(v float64, sys unit.System) string {
	if q := s.quantity(v); q != nil {
		return q.In(sys)
	}
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}

// in shows where such a control stands in the units of a person's choice.
func (s Sets) in(at string, sys unit.System) string {
	if v, ok := s.parse(at); ok && s.number() {
		return s.text(v, sys)
	}
	return at
}

// parse reads such a number.
func (s Sets) parse(text string) (float64, bool) {
	var v float64
	var err error
	if q := s.quantity(0); q != nil {
		v, err = unit.Parse(q, text)
	} else {
		v, err = strconv.ParseFloat(text, 64)
	}
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// values returns what a control that is no number can set on this line.
func (k *Control) values(l *Line) []string {
	switch k.Sets {
	case SetsAcross:
		var list []string
		for _, lanes := range l.Divider.Lanes[:min(len(l.Divider.Lanes), mostLanes)] {
			if n := strconv.Itoa(lanes.Across); !slices.Contains(list, n) {
				list = append(list, n)
			}
		}
		return list
	case SetsRoute:
		return []string{string(ToStamper), string(ToMoulder), string(ToPanning)}
	case SetsStampMode:
		return []string{string(molder.OffStamp), string(molder.ContinuousStamp), string(molder.TimedStamp)}
	case SetsMoulder, SetsSpin, SetsDuster:
		return []string{on, off}
	case SetsOil:
		return []string{open, shut}
	case SetsFitting:
		return []string{inPut, out}
	case SetsDrum:
		return names(l.Drums, func(d *molder.Drum) string { return d.Name })
	case SetsChain:
		if l.Moulder.Chain != nil {
			return names(l.Moulder.Chain.Heights, func(h *molder.ChainHeight) string { return h.Name })
		}
	}
	return nil
}

func names[T any](list []T, name func(*T) string) []string {
	out := make([]string, min(len(list), mostParts))
	for i := range out {
		out[i] = name(&list[i])
	}
	return out
}

// words returns the shop's words for where a control that is no number can stand.
func (k *Control) words(l *Line) []string {
	if len(k.Positions) == 0 {
		return k.values(l)
	}
	return names(k.Positions, func(p *Position) string { return p.Name })
}

// word returns the shop's word for a value, and false if it has no such position.
func (k *Control) word(value string) (string, bool) {
	if len(k.Positions) == 0 {
		return value, true
	}
	i := slices.IndexFunc(k.Positions, func(p Position) bool { return p.Value == value })
	if i < 0 {
		return "", false
	}
	return k.Positions[i].Name, true
}

// value returns what a position stands for.
func (k *Control) value(word string) string {
	for i := range k.Positions {
		if k.Positions[i].Name == word {
			return k.Positions[i].Value
		}
	}
	return word
}

// people is how many it takes to move the control.
func (k *Control) people() int { return max(1, k.People) }
