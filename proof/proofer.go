package proof

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// The ranges in which a proofer is taken at its word. They are wide: they
// catch slips of a digit and keep every result finite, and no machine comes near their ends.
const (
	maxPockets = 200
	maxTrays   = 100_000
	// The slowest is far below any divider, and not zero, because at zero nothing ever comes out.
	minStrokes unit.StrokeRate = 0.01
	maxStrokes unit.StrokeRate = 10_000
	// The shortest and longest dwell that a proofer is asked for.
	minDwell unit.Duration = 1
	maxDwell unit.Duration = 24 * 3600
)

// Proofer describes a pocketed overhead proofer that runs with the divider.
type Proofer struct {
	Pockets        int     `json:"pockets"`                   // pockets across one tray, 1 to 200
	Trays          int     `json:"trays"`                     // trays on one full pass, 1 to 100000
	FirstPassTrays int     `json:"first_pass_trays,omitzero"` // trays from the chute to the transfer, where pieces are tipped into their next pockets, 1 to trays; leave out if the transfer stands at the chute, so that the first pass is whole
	LastPassTrays  int     `json:"last_pass_trays"`           // trays travelled on the last pass, from the transfer to the discharge, 1 to trays; equal to trays if the last pass is whole
	TraysPerStroke float64 `json:"trays_per_stroke"`          // drive ratio to the divider, 1 to 100; 1 when each stroke fills one tray, 2 when every second tray stays empty; a ratio that is not whole needs a loader that holds pieces until the next tray stands below
}

// check reports what is wrong with the proofer and with running it across lanes.
func (p *Proofer) check(c *reckon.Checks, across int) {
	p.checkChain(c)
	p.checkLanes(c, "across", across)
}

// checkChain checks the trays and the pockets, whatever is loaded.
func (p *Proofer) checkChain(c *reckon.Checks) {
	reckon.CheckCount(c, "proofer.pockets", p.Pockets, 1, maxPockets)
	if reckon.CheckCount(c, "proofer.trays", p.Trays, 1, maxTrays) {
		if p.FirstPassTrays != 0 {
			reckon.CheckCount(c, "proofer.first_pass_trays", p.FirstPassTrays, 1, p.Trays)
		}
		reckon.CheckCount(c, "proofer.last_pass_trays", p.LastPassTrays, 1, p.Trays)
	}
	// Below one, two strokes would meet in the same pockets.
	reckon.CheckRange(c, "proofer.trays_per_stroke", p.TraysPerStroke, 1, 100)
}

// checkLanes wants a number across that fills the pockets evenly.
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

// explain records the proofer, the passes and the travel.
func (p *Proofer) explain(w *reckon.Working, across int) {
	w.Given("pockets across one tray", "P", float64(p.Pockets), "", "")
	w.Given("pieces across", "a", float64(across), "", "")
	p.explainChain(w)
	w.Step("passes", "n", "P / a", float64(p.passes(across)), "", "each pass moves a piece on by the lanes loaded")
	p.explainTravel(w, "trays travelled", "T", "n", p.passes(across))
}

func (p *Proofer) explainChain(w *reckon.Working) {
	w.Given("trays on the first pass", "F", float64(p.first()), "", "from the chute to the transfer")
	w.Given("trays on one full pass", "N", float64(p.Trays), "", "")
	w.Given("trays on the last pass", "L", float64(p.LastPassTrays), "", "from the transfer to the discharge")
	w.Given("trays per stroke", "r", p.TraysPerStroke, "", "")
}

// explainTravel records the travel in the passes called symbol.
func (p *Proofer) explainTravel(w *reckon.Working, id, name, symbol string, passes int) {
	expression, why := "F + ("+symbol+" - 2)*N + L", "part passes at both ends and whole ones between"
	if passes == 1 {
		expression, why = "F + L", "from the chute straight to the discharge"
		if p.first()+p.LastPassTrays > p.Trays {
			expression = "F + L - N"
		}
	}
	w.Step(id, name, expression, float64(p.travelled(passes)), "", why)
}
