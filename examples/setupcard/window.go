package main

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/drawing"
)

// window is how fast a product may run, drawn, and in words.
type window struct {
	Drawings []template.HTML // one for each number across at which it runs
	Waits    bool            // a bar is white where the divider waits for dough
	More     string          // ways that are not drawn
	Best     []best
	Gap      string   // how far the last gap may go
	Buys     []string // what a little more of a limit would buy
	Closed   []string // numbers across at which it does not run
}

// best is settings that are best for something.
type best struct {
	Letter string // as in the drawing
	For    string
	Here   bool // they are those of the card
	Says   string
}

// mostWays is how many numbers of batches are drawn: what a person at the line still compares.
const mostWays = 6

// window asks for all settings at which an order runs.
func (s *shop) window(p *line.Planned) (*window, error) {
	out, err := line.Window{Line: s.scenario.Line, Order: *p.Order, Shift: s.scenario.Shift}.Solve()
	if err != nil {
		return nil, err
	}
	w := &window{Best: s.best(out.Best, &p.Plan), Gap: s.gap(&out.Gap), Buys: s.buys(out.Limits)}
	for _, c := range out.Closed {
		w.Closed = append(w.Closed, strconv.Itoa(c.Across)+" across: "+c.Says)
	}
	own, omitted := p.Order.Product.Across, 0
	ways := slices.Clone(out.Ways)
	for len(ways) > 0 {
		across := ways[0].Across
		n := slices.IndexFunc(ways, func(k line.WindowWay) bool { return k.Across != across })
		if n < 0 {
			n = len(ways)
		}
		figure := drawing.Window{ID: s.id(), Title: fmt.Sprintf("How fast it may run, %d across", across), Unit: unit.Describe(p.Plan.Strokes).Held}
		var points []line.AimPoint
		if across == own {
			figure.At, points = float64(p.Plan.Strokes), out.Best
		}
		drawn := worthDrawing(ways[:n], points)
		omitted += n - len(drawn)
		for _, k := range drawn {
			figure.Rows = append(figure.Rows, drawing.Band{
				Name: "in " + batches(k.Batches), Low: float64(k.Low), High: float64(k.High), Steady: float64(k.Steady), LowSays: k.LowLimit, HighSays: k.HighLimit,
			})
			w.Waits = w.Waits || k.Steady > 0 && k.Steady < k.High
		}
		for _, at := range apart(points) {
			row := slices.IndexFunc(drawn, func(k line.WindowWay) bool { return k.Batches == at.points[0].Batches })
			figure.Points = append(figure.Points, drawing.Point{Row: row, At: float64(at.points[0].Strokes), Letter: at.letter, Says: at.names()})
		}
		w.Drawings = append(w.Drawings, figure.Draw())
		ways = ways[n:]
	}
	if omitted > 0 {
		w.More = fmt.Sprintf("%d more numbers of batches work and are not drawn.", omitted)
	}
	return w, nil
}

func batches(n int) string {
	if n == 1 {
		return "1 batch"
	}
	return strconv.Itoa(n) + " batches"
}

// worthDrawing are the ways on which something is best, and of the others the fewest batches, in their order.
func worthDrawing(ways []line.WindowWay, points []line.AimPoint) []line.WindowWay {
	named := func(k line.WindowWay) bool {
		return slices.ContainsFunc(points, func(p line.AimPoint) bool { return p.Batches == k.Batches })
	}
	room := mostWays
	for _, k := range ways {
		if named(k) {
			room--
		}
	}
	var list []line.WindowWay
	for _, k := range ways {
		switch {
		case named(k):
		case room <= 0:
			continue
		default:
			room--
		}
		list = append(list, k)
	}
	return list
}

// setting is one speed and number of batches with all that it is best for.
type setting struct {
	letter string
	points []line.AimPoint
}

// apart puts together what is best at the same settings.
func apart(points []line.AimPoint) []setting {
	var list []setting
	for _, p := range points {
		i := slices.IndexFunc(list, func(s setting) bool {
			return s.points[0].Batches == p.Batches && math.Abs(float64(s.points[0].Strokes-p.Strokes)) < 1e-9
		})
		if i < 0 {
			i = len(list)
			list = append(list, setting{letter: string(rune('A' + i))})
		}
		list[i].points = append(list[i].points, p)
	}
	return list
}

// aims are what settings can be best for, in words.
var aims = map[line.AimFor]string{
	line.Fastest: "fastest", line.WantedRate: "the rate wanted", line.MidDwell: "middle of the stay in the proofer", line.NoWaits: "no waits for dough",
	line.LeastGiveaway: "least dough given away", line.LeastFlour: "least dusting flour", line.FinishInTime: "done in time",
}

// names says what settings are best for.
func (s setting) names() string {
	list := make([]string, len(s.points))
	for i := range s.points {
		list[i] = aims[s.points[i].Aim]
	}
	return strings.Join(list, ", ")
}

// best says what comes of the best settings for each aim.
func (s *shop) best(points []line.AimPoint, plan *line.PlanResult) (list []best) {
	u := s.units
	for _, at := range apart(points) {
		p := &at.points[0]
		says := []string{
			fmt.Sprintf("%s in %s of %d", p.Strokes.In(u), batches(p.Batches), p.PiecesPerBatch),
			p.PieceRate.In(u) + " kept up",
			p.Dwell.In(u) + " in the proofer",
		}
		if p.Waits > 0 {
			says[2] += ", up to " + p.LongestDwell.In(u)
			says = append(says, "the divider waits "+p.Waits.In(u)+" in all")
		}
		says = append(says, "last pieces out of the proofer "+p.Finish.In(u)+" after the first mixing starts")
		if p.Giveaway > 0 {
			says = append(says, p.Giveaway.In(u)+" of dough given away")
		}
		if p.Flour > 0 {
			says = append(says, p.Flour.In(u)+" of dusting flour")
		}
		text := strings.Join(says, "; ")
		for i := range at.points {
			if k := &at.points[i]; k.Missed != "" {
				text += ". Of " + aims[k.Aim] + " it is the nearest: " + k.Missed
			}
		}
		list = append(list, best{at.letter, at.names(), p.Batches == plan.Batch.Batches && p.Strokes == plan.Strokes, text + "."})
	}
	return list
}

// gap says how narrow and how wide the last gap may be, "" where nothing is sheeted.
func (s *shop) gap(g *line.WindowGap) string {
	if g.High == 0 {
		return ""
	}
	return fmt.Sprintf("The last gap may be from %s (%s) to %s (%s).", g.Low.In(s.units), g.LowLimit, g.High.In(s.units), g.HighLimit)
}

// limitWords are the limits as people call them, by the end of the field that sets each. The others go by their names.
var limitWords = map[string]string{
	"divider.strokes_low": "slowest speed of the divider", "divider.strokes_high": "fastest speed of the divider", "divider.stroke_step": "step of the speed setting",
	"divider.hopper_capacity": "what the hopper holds", "product.dwell_low": "shortest stay in the proofer", "product.dwell_high": "longest stay in the proofer",
	"product.hopper_max": "longest time in the hopper", "hopper_drift.growth": "growth of the dough in the hopper", "product.rate_high": "most pieces that the oven takes",
	"product.turns": "least turns of the rolled piece", "product.tear_limit": "thinnest sheet that holds", "mixer.high": "largest batch of the mixer",
	"mixer.low": "smallest batch of the mixer", "mixer.cycle": "time from batch to batch", "stamper.stamps_low": "slowest speed of the stamper",
	"stamper.stamps_high": "fastest speed of the stamper", "moulder.rate_high": "most pieces that the moulder takes",
	"moulder.gap_low": "narrowest last gap of the moulder", "moulder.gap_high": "widest last gap of the moulder",
}

// limitName is what people call the limit that a field sets.
func limitName(field, limit string) string {
	parts := strings.Split(field, ".")
	if words := limitWords[strings.Join(parts[max(0, len(parts)-2):], ".")]; words != "" {
		return words
	}
	return "speed of the " + limit // a belt
}

// buys says what a little more of each limit that binds would buy, the most pieces first, and which buy nothing alone.
func (s *shop) buys(limits []line.WindowLimit) (list []string) {
	limits = slices.DeleteFunc(slices.Clone(limits), func(k line.WindowLimit) bool { return !k.Binds })
	slices.SortStableFunc(limits, func(a, b line.WindowLimit) int {
		switch {
		case a.PieceRate != b.PieceRate:
			return int(math.Copysign(1, float64(b.PieceRate-a.PieceRate)))
		case a.Speeds != b.Speeds:
			return int(math.Copysign(1, float64(b.Speeds-a.Speeds)))
		}
		return 0
	})
	var alone []string
	for i := range limits {
		k := &limits[i]
		stands, moved := k.In(s.units)
		name, gains := limitName(k.Field, k.Limit), s.gains(k)
		switch {
		case gains == "":
			alone = append(alone, name+" ("+stands+")")
		case strings.HasSuffix(k.Field, "stroke_step"):
			list = append(list, name+" ("+stands+"): without steps, "+gains)
		default:
			list = append(list, name+" ("+stands+"): at "+moved+", "+gains)
		}
	}
	if alone != nil {
		list = append(list, "moved a little and alone, these buy nothing: "+strings.Join(alone, ", "))
	}
	return list
}

// gains says what a limit buys, "" if nothing.
func (s *shop) gains(k *line.WindowLimit) string {
	var list []string
	add := func(v float64, text, more, less string) {
		switch {
		case v > 1e-9:
			list = append(list, text+" "+more)
		case v < -1e-9:
			list = append(list, strings.TrimPrefix(text, "-")+" "+less)
		}
	}
	add(float64(k.PieceRate), k.PieceRate.In(s.units), "more", "fewer")
	add(float64(k.Speeds), k.Speeds.In(s.units), "more to choose from", "less to choose from")
	add(float64(k.Gaps), k.Gaps.In(s.units), "more for the last gap", "less for the last gap")
	return strings.Join(list, " and ")
}

// conflict is which limits keep an order from being made, and what would let it.
type conflict struct {
	Says  string
	Needs []string // of each limit alone, how far it would have to move
}

// conflict asks why nothing works; nil if it is no limit of speed, batches or gap that stands in the way.
func (s *shop) conflict(p *line.Planned) *conflict {
	out, err := line.Window{Line: s.scenario.Line, Order: *p.Order, Shift: s.scenario.Shift}.Solve()
	if err != nil || len(out.Conflict) == 0 {
		return nil
	}
	names := make([]string, len(out.Conflict))
	c := &conflict{}
	for i := range out.Conflict {
		k := &out.Conflict[i]
		stands, needs, by := k.In(s.units)
		name := limitName(k.Field, k.Limit)
		names[i] = name + " (" + stands + ")"
		if needs == "" {
			c.Needs = append(c.Needs, name+": no value of it is enough alone")
			continue
		}
		c.Needs = append(c.Needs, fmt.Sprintf("%s: %s, which is %s; then it runs at %s and makes %s", name, needs, by, k.Strokes.In(s.units), k.PieceRate.In(s.units)))
	}
	c.Says = "These exclude one another: " + strings.Join(names, ", ") + "."
	if len(names) == 1 {
		c.Says = "This stands in the way: " + names[0] + "."
	}
	return c
}
