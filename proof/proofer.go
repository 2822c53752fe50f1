package proof

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The ranges of a proofer are wide: they catch slips of a digit and keep every
// result finite, and no machine comes near their ends.
const (
	maxPockets = 200
	maxTrays   = 100_000
	// The slowest is far below any divider, and not zero, because at zero nothing ever comes out.
	minStrokes unit.StrokeRate = 0.01
	maxStrokes unit.StrokeRate = 10_000
	// The shortest and longest dwell that can be asked for.
	minDwell unit.Duration = 1
	maxDwell unit.Duration = 24 * 3600
)

// Proofer describes a pocketed overhead proofer that runs with the divider.
type Proofer struct {
	Pockets        int     `json:"pockets" sym:"P" range:"1..200"`              // pockets across one tray
	Trays          int     `json:"trays" sym:"N" range:"1..100000"`             // trays on one full pass
	FirstPassTrays int     `json:"first_pass_trays,omitzero" sym:"F" range:"-"` // trays from the chute to the transfer, where pieces are tipped into their next pockets, 1 to trays; leave out if the transfer stands at the chute, so that the first pass is whole
	LastPassTrays  int     `json:"last_pass_trays" sym:"L" range:"-"`           // trays travelled on the last pass, from the transfer to the discharge, 1 to trays; equal to trays if the last pass is whole
	TraysPerStroke float64 `json:"trays_per_stroke" sym:"r" range:"1..100"`     // drive ratio to the divider; 1 when each stroke fills one tray, 2 when every second tray stays empty; a ratio that is not whole requires a loader that holds pieces until the next tray stands below
}

// Check says what is wrong with the trays, the pockets and the drive, whatever is loaded.
func (p *Proofer) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "pockets", p.Pockets, 1, maxPockets)
	if reckon.CheckCount(c, "trays", p.Trays, 1, maxTrays) {
		if p.FirstPassTrays != 0 {
			reckon.CheckCount(c, "first_pass_trays", p.FirstPassTrays, 1, p.Trays)
		}
		reckon.CheckCount(c, "last_pass_trays", p.LastPassTrays, 1, p.Trays)
	}
	// Below one, two strokes would meet in the same pockets.
	reckon.CheckRange(c, "trays_per_stroke", p.TraysPerStroke, 1, 100)
}

// checkAcross checks the proofer of a query and the number across that it is loaded with.
func (p *Proofer) checkAcross(c *reckon.Checks, across int) {
	mark := c.Mark()
	p.Check(c)
	c.Under(mark, "proofer")
	p.checkLanes(c, "across", across)
}

// checkLanes checks that a number across fills the pockets evenly.
func (p *Proofer) checkLanes(c *reckon.Checks, field string, across int) {
	if p.Pockets < 1 || p.Pockets > maxPockets {
		return // reported as such; which lanes fit cannot be said
	}
	if across < 1 || p.Pockets%across != 0 {
		c.Fail(field, strconv.Itoa(across), "a lane count that divides the pockets ("+strconv.Itoa(p.Pockets)+") evenly: "+divisors(p.Pockets))
	}
}

// divisors lists the lane counts that fill n pockets evenly.
func divisors(n int) string {
	var out []string
	for d := 1; d <= n; d++ {
		if n%d == 0 {
			out = append(out, strconv.Itoa(d))
		}
	}
	if len(out) == 1 {
		return out[0]
	}
	return strings.Join(out[:len(out)-1], ", ") + " or " + out[len(out)-1]
}

// first returns the trays from the chute to the transfer.
func (p *Proofer) first() int {
	if p.FirstPassTrays == 0 {
		return p.Trays // once round, back to the chute
	}
	return p.FirstPassTrays
}

// discharge returns the trays from the chute to the discharge, 1 to Trays.
func (p *Proofer) discharge() int {
	d := p.first() + p.LastPassTrays
	if d > p.Trays {
		d -= p.Trays
	}
	return d
}

// travelled returns the trays travelled in n passes. A piece of one pass goes
// straight to the discharge, past the transfer or not.
func (p *Proofer) travelled(n int) int {
	if n == 1 {
		return p.discharge()
	}
	return p.first() + (n-2)*p.Trays + p.LastPassTrays
}

// tray returns the chain position of the tray that a stroke, counted from 0,
// falls into: the first that comes under the chute from then on.
func (p *Proofer) tray(stroke int) float64 { return up(float64(stroke) * p.TraysPerStroke) }

// passes returns how often a piece goes round; travel the trays it travels.
func (p *Proofer) passes(across int) int { return p.Pockets / across }
func (p *Proofer) travel(across int) int { return p.travelled(p.passes(across)) }

// dwell returns how long a piece stays at the given speed, and the tray rate in trays/min.
func (p *Proofer) dwell(travel int, strokes unit.StrokeRate) (d unit.Duration, trayRate float64) {
	trayRate = float64(strokes) * p.TraysPerStroke
	return unit.Duration(float64(travel) / trayRate * 60), trayRate
}

// strokes returns the speed for a dwell. It is the inverse of dwell.
func (p *Proofer) strokes(travel int, dwell unit.Duration) unit.StrokeRate {
	return unit.StrokeRate(float64(travel) / (float64(dwell) / 60) / p.TraysPerStroke)
}

// inside returns the most pieces that stand inside at once, counted just
// after a stroke. The strokes that fall into any run of trays as long as the
// travel are travel/ratio, rounded up or down as the strokes happen to lie.
func (p *Proofer) inside(travel, across int) int {
	strokes := float64(travel) / p.TraysPerStroke
	return across * ceil(strokes)
}

// conditions returns what to look at in the way a proofer is built.
func (p *Proofer) conditions() Conditions {
	if p.first() != p.Trays || p.LastPassTrays != p.Trays {
		return PartPass
	}
	return 0
}

// show records the passes, n, of a piece loaded with so many across, and the
// trays that it travels, T.
func (p *Proofer) show(w *reckon.Working, across int) {
	p.showFirst(w)
	w.Lines(nil,
		"passes: n = P/a  [each pass moves a piece on by the lanes loaded]",
		p.travelLine("trays travelled: T", "n", p.passes(across)),
	)
}

// showFirst records the trays on the first pass where they were left out.
func (p *Proofer) showFirst(w *reckon.Working) {
	if p.FirstPassTrays == 0 {
		w.Lines(nil, "trays on the first pass: F = N  [the transfer stands at the chute]")
	}
}

// travelLine is the line of a sheet that begins with words, for the trays
// travelled in the passes that symbol stands for.
func (p *Proofer) travelLine(words, symbol string, passes int) string {
	switch {
	case passes > 1:
		return words + " = F + (" + symbol + " - 2)*N + L  [part passes at both ends and whole ones between]"
	case p.first()+p.LastPassTrays > p.Trays:
		return words + " = F + L - N  [from the chute straight to the discharge]"
	}
	return words + " = F + L  [from the chute straight to the discharge]"
}
