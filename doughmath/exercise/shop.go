package exercise

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/unit"
)

// A grid is the values that a slot draws from: multiples of step from low to
// high, in the unit. A fixed one has texts alone.
type grid struct {
	fixed     []string // one of these
	unit      string
	decimals  int
	tenths    int64 // the step, in units of the last decimal
	low, high int64 // how many steps
	middle    int64 // the example's own value, for what is drawn together
}

// text writes n steps.
func (g *grid) text(n int64) string {
	b := make([]byte, 0, 24)
	v := n * g.tenths
	if v < 0 {
		b, v = append(b, '-'), -v
	}
	digits := strconv.FormatInt(v, 10)
	if g.decimals > 0 {
		for len(digits) <= g.decimals {
			digits = "0" + digits
		}
		whole, part := digits[:len(digits)-g.decimals], strings.TrimRight(digits[len(digits)-g.decimals:], "0")
		b = append(b, whole...)
		if part != "" {
			b = append(append(b, '.'), part...)
		}
	} else {
		b = append(b, digits...)
	}
	if g.unit != "" {
		b = append(append(b, ' '), g.unit...)
	}
	return string(b)
}

// shopRanges says what a shop knows of a value, by calculation and path or by
// the name of the input alone: "low..high", some values with | between them, or
// "fixed" for what stays as the example has it. An input without a line is drawn around the example's value.
// All of it is common practice; a legal range is far wider.
var shopRanges = map[string]string{
	// temperatures
	"target_temp": "23 °C..29 °C", "flour_temp": "15 °C..28 °C", "room": "17 °C..30 °C",
	"dough_temp": "23 °C..30 °C", "got_temp": "22 °C..30 °C", "tap": "8 °C..22 °C", "hot_tap": "50 °C..65 °C", "cold": "5 °C..18 °C", "hot": "45 °C..65 °C",
	"wanted_temp": "22 °C..38 °C", "needed_temp": "1 °C..7 °C", "ice_temp": "-18 °C..-2 °C", "around_temp": "10 °C..26 °C",
	"water_temp": "5 °C..30 °C", "friction": "6 C°..22 C°", "base": "52 C°..76 C°", "reference": "24 °C..30 °C",
	"dough-temperature-for-water.water_temp": "4 °C..26 °C", "base-for-water.water_temp": "4 °C..26 °C",
	"base-for-water.flour_temp": "18 °C..28 °C", "water-for-base.flour_temp": "18 °C..26 °C", "water-for-base.room": "18 °C..26 °C",
	"base-temperature.friction": "4 C°..22 C°", "factors": "fixed", "friction-log.batch_size": "fixed", "friction-log.time": "fixed", "roller-gaps.friction": "fixed", "roller-grip.friction": "0.6..0.95", "gap-for-grip.friction": "0.5..0.8",
	"temperature": "5 °C..35 °C", "temp": "18 °C..34 °C",
	"proof-air.dry_bulb": "30 °C..40 °C", "proof-air.wet_bulb": "26 °C..37 °C", "proof-surface.dough_temp": "24 °C..30 °C", "humidity-for-surface.dough_temp": "28 °C..35 °C",
	"dry_bulb": "34 °C..40 °C", "air_temp": "35 °C..42 °C", "start_temp": "24 °C..29 °C", "until_temp": "31 °C..35 °C", "after_temp": "31 °C..36 °C",
	"humidity": "75 %..88 %",

	// weights and orders
	"piece": "40 g..900 g", "piece_weight": "45 g..600 g", "baked": "250 g..900 g", "batch": "60 kg..180 kg", "dough_rate": "180 kg/h..600 kg/h", "water": "20 kg..60 kg",
	"bake.percent": "8 %..14 %", "cooling.percent": "1 %..3 %", "fermentation.percent": "0.5 %..1.5 %", "waste": "1 %..4 %", "unsold": "2 %..8 %",
	"baked-weight-for-dough.dough": "280 g..1000 g", "loss-from-weights.dough": "480 g..620 g", "loss-from-weights.baked": "420 g..560 g",
	"batch-plan.pieces": "1200..9000", "batch-plan.spare": "10..60", "mixer_high": "60 kg..150 kg", "mixer_low": "15 kg..30 kg",
	"takt.pieces": "3000..12000", "shift": "6 h..9 h", "breaks": "30 min..75 min", "time_limit": "10 min..30 min",
	"formula-scale.dough": "30 kg..160 kg", "formula-scale.division": "fixed", "preferment-split.dough": "40 kg..140 kg",
	"pieces-for-dough.dough": "30 kg..140 kg", "yield": "128 %..142 %", "total_percent": "160 %..185 %",
	"tolerance-factor.pieces": "8..40", "loaf-limits.nominal": "1 lb|1.5 lb|2 lb|3 lb", "slide_step": "fixed", "division": "fixed", "scale-division.division": "0.5 g|1 g|2 g|5 g", "piece-sample.division": "fixed", "handle-band.expected": "84 g..86.4 g", "handle-band.target": "fixed", "sd-for-target.target": "401 g..406 g", "gas-for-chamber-weight.weight": "404 g..440 g",
	"gas-for-chamber-weight.volume": "fixed", "gas-for-chamber-weight.gas_free": "fixed", "gas-after-mixing.gas": "3 %..8 %", "mixing-heat.time": "3 min..8 min", "ratio-for-feeding.water": "3.5 kg..4.8 kg",
	"liquid-for-water.water": "1 kg..4 kg", "stamp-drift.stamps": "30.1 strokes/min..30.9 strokes/min", "stamp-drift.piece_rate": "fixed", "stamp-drift.across": "fixed", "doubles-risk.belt": "10 m/min..13 m/min",
	"doubles-risk.piece_rate": "54 pieces/min..64 pieces/min", "doubles-risk.piece_length": "95 mm..112 mm", "sweat-water.piece": "300 g..900 g",
	"latent_heat": "2300 kJ/kg..2500 kJ/kg", "drum-speed-for-rounding-time.time": "1.2 s..3 s", "capability.mean": "84.4 g..85.6 g", "capability.low": "fixed", "capability.high": "fixed", "capability.target": "fixed",
	"sd-for-capability.mean": "84 g..86 g", "sd-for-capability.low": "fixed", "sd-for-capability.high": "fixed", "fraction-below.mean": "401 g..408 g", "drum-choice.piece": "72 g..104 g",
	"gas-for-chamber-weight.chamber": "140 kPa..260 kPa", "roller-gaps.piece": "fixed", "roller-gaps.last_gap": "4 mm..7 mm", "roller-gaps.thickness": "50 mm..64 mm", "roller_diameter": "fixed", "roll_diameter": "54 mm..66 mm", "height_in": "62 mm..72 mm", "height_out": "40 mm..50 mm",
	"guide-ratio-from-pieces.guides": "fixed", "pan-fit.piece": "440 g..470 g", "pan-fit.length": "170 mm..186 mm", "flatness-from-pieces.piece": "55 g..64 g", "flatness-from-pieces.density": "1.06 g/ml..1.15 g/ml",
	"cool.time": "70 min..78 min", "warm.time": "47 min..54 min", "roller-gaps.reduction_limit": "fixed", "proofer-lanes.first_pass_trays": "55..95", "proofer-lanes.last_pass_trays": "45..90", "piece-for-pan.pan.length": "210 mm..260 mm", "piece-for-pan.pan.width": "95 mm..110 mm", "piece-for-pan.pan.depth": "90 mm..110 mm", "known_pan.length": "fixed", "known_pan.width": "fixed", "known_pan.depth": "fixed",
	"pan.length": "fixed", "pan.width": "fixed", "pan.depth": "fixed", "pan.bottom_length": "fixed", "pan.bottom_width": "fixed",
	"order_pieces": "2000..9000", "across": "1..4", "strokes": "14 strokes/min..36 strokes/min", "piece_rate": "24 pieces/min..90 pieces/min",
	"strokes_low": "fixed", "strokes_high": "fixed", "strokes-for-rate.piece_rate": "30 pieces/min..75 pieces/min", "strokes-for-rate.across": "2..3",

	// the divider
	"gas": "4 %..16 %", "gas_free": "1.2 g/ml..1.3 g/ml", "ambient": "fixed", "growth": "0.15 %/min..0.6 %/min", "time": "4 min..25 min", "drift_limit": "1 g..3 g",
	"mark": "fixed", "confidence": "fixed", "lane": "fixed", "lane-offsets.mark": "4..6", "weight-for-mark.mark": "2..6", "mark-for-weight.weight": "64 g..94 g",
	"mark_low": "fixed", "mark_high": "fixed", "mark_step": "fixed", "mark_count": "fixed", "rounds": "fixed", "trial_count": "fixed",
	"student_t": "fixed", "degrees_of_freedom": "fixed", "mean_mark": "fixed", "mean_weight": "fixed", "slope": "fixed", "sum_weights": "fixed", "sxx": "fixed",
	"residual_sd": "fixed", "piece_sd": "fixed", "pieces": "fixed", "half-width-for-pieces.pieces": "8..40", "pieces-for-takt.takt": "2 s..6 s",
	"divider-rate.piece": "40 g..600 g", "next-mark.mark": "3..6", "next-mark.weight": "70 g..94 g", "next-mark.target": "70 g..94 g",
	"needless": "fixed", "detection_chance": "fixed", "share": "fixed", "second_share": "fixed", "subgroup_size": "3..8", "limit_width": "fixed",
	"nominal": "fixed", "lot": "fixed", "required": "fixed", "cost_per_kg": "0.6..1.6", "days_per_year": "fixed", "stickiness_low": "fixed", "stickiness_high": "fixed",
	"shared-rate.share": "fixed", "sweat-water.share": "25 %..55 %", "tolerable-deficiency.nominal": "310 g..480 g", "fraction-below.nominal": "fixed",
	"set-up-chart.subgroup_size": "fixed", "control-chart.subgroup_size": "fixed", "proofer-clear.pieces": "1500..6000", "shift-for-line-capacity.pieces": "6000..15000",

	// the proofer
	"pockets": "fixed", "trays": "60..180", "trays_per_stroke": "fixed", "last_pass_trays": "50..170", "next": "fixed", "load": "fixed", "steps": "fixed",
	"proofer-lanes.trays": "fixed", "proofer-dwell.across": "1..3", "dwell": "8 min..20 min", "strokes-for-dwell.across": "1..3", "proofer-speed.across": "2..3",
	"proofer-clear.across": "fixed", "proofer-run.across": "fixed", "proofer-speed-change.across": "fixed", "proofer-tradeoff.across": "fixed", "mark-fit.across": "fixed",
	"next-mark.across": "fixed", "mark-for-weight.across": "fixed", "weight-for-mark.across": "fixed", "lane-offsets.across": "fixed", "next_across": "fixed",
	"stay": "40 min..75 min", "per_carrier": "120..360", "handling": "5 min..15 min", "available": "8..24", "model_value": "fixed", "pressure": "fixed",
	"temperature-for-saturation.pressure": "4 kPa..7 kPa", "altitude-for-air-pressure.pressure": "80 kPa..98 kPa", "altitude": "200 m..2000 m", "water_activity": "fixed",
	"saturation-pressure.temp": "20 °C..42 °C", "cool.temp": "23 °C..24.5 °C", "warm.temp": "28 °C..30 °C",

	// the moulder
	"density": "1.02 g/ml..1.15 g/ml", "recovery": "1.4..2", "aspect": "1.4..2.2", "turns": "2..4", "core": "4 mm..10 mm", "belt": "8 m/min..24 m/min",
	"cup_ratio_low": "fixed", "cup_ratio_high": "fixed", "diameter": "500 mm..1000 mm", "drum_speed": "12 rev/min..30 rev/min", "rows": "3..6", "number": "fixed",
	"gap-for-indicator.number": "1..9", "slide": "fixed", "flow-for-slide.slide": "1..3", "stickiness": "fixed", "flour-use.stickiness": "1..4", "height": "fixed",
	"thickness-for-passes.passes": "2..4", "sheeting-passes.recovery": "fixed", "thickness-for-passes.recovery": "1.1..1.4", "spring": "1.02..1.1", "around": "fixed", "contact": "fixed",
	"gap_low": "fixed", "gap_high": "fixed", "gap_step": "fixed", "turns_ratio": "fixed", "length_ratio": "0.9..1", "pan_length": "200 mm..330 mm",
	"board-length-for-turns.turns": "4..8", "feed": "2..8", "index": "0.25..0.5", "gas-for-density.density": "1.05 g/ml..1.18 g/ml", "growth-from-jar.height_before": "fixed",
	"pocket-fit.growth": "1.1..1.5", "piece-for-pocket.growth": "1.1..1.5", "pan-fit.growth": "2.4..2.8", "fill_low": "fixed", "fill_high": "fixed", "pan-fit.density": "1.06 g/ml..1.14 g/ml", "tray-fit.growth": "2.2..3.4", "piece-for-tray.growth": "2.2..3.4", "flatness-from-pieces.growth": "fixed",
	"oil-rate-for-use.valve_count": "2..6", "oil-use.pieces_per_run": "1200..4800", "shifts": "fixed", "ewma_weight": "fixed",
}

// A value without a line of its own is drawn from four fifths to six fifths of
// the example's; values that are drawn together keep within 8 % of it, each a
// step or so off, so that trials stay a series.
const (
	spreadLow, spreadHigh = 0.8, 1.2
	togetherPermille      = 80
	leastChoice           = 10 // steps in a range
	mostTyped             = 8  // characters of a number
)

// shopGrids says from what a slot is drawn in each unit system.
func shopGrids(id string, s *slot) (out [2]grid) {
	if s.choices != nil {
		return out
	}
	for system := range out {
		out[system] = shopGrid(id, s, unit.System(system))
	}
	return out
}

func shopGrid(id string, s *slot, system unit.System) grid {
	line, ok := shopLine(id, s)
	if ok && strings.Contains(line, "|") {
		return grid{fixed: strings.Split(line, "|")}
	}
	low, high := s.held*spreadLow, s.held*spreadHigh
	if s.held < 0 {
		low, high = high, low
	}
	if ok && line != "fixed" {
		from, to, _ := strings.Cut(line, "..")
		a, okA := readBound(from, s.quantity)
		b, okB := readBound(to, s.quantity)
		if ok = okA && okB; ok { // else the name is that of another quantity here
			low, high = a, b
		}
	}
	at := s.held
	if ok && s.list == 0 {
		at = low
	}
	r := instrument(s.quantity, s.whole, at, system)
	if s.list > 0 { // as fine as the example was read
		r = exampleRung(s, r, system)
	}
	if line == "fixed" || s.held == 0 || s.list > 0 && isFlour(s) {
		return fixedGrid(s, r, system)
	}
	if ok && s.list == 0 && !s.whole {
		r.step = fineEnough(s, r, low, high)
	}
	return newGrid(s, r, low, high)
}

// shopLine finds the line for a value, that for the narrowest case first.
func shopLine(id string, s *slot) (line string, ok bool) {
	for _, key := range [...]string{id + "." + s.path, lastTwo(s.path), id + "." + s.name, s.name} {
		if line, ok = shopRanges[key]; ok {
			return line, true
		}
	}
	return "", false
}

// aboutShop is how far, in C°, an answer may lie outside of what a shop draws from.
const aboutShop = 2

// shopBounds is the range in which a temperature of the answer makes sense to
// a shop, by its path; without a line for it any does.
func shopBounds(id, path string) (b bounds) {
	name := path[strings.LastIndexByte(path, '.')+1:]
	line, ok := shopLine(id, &slot{path: path, name: name})
	from, to, isRange := strings.Cut(line, "..")
	if !ok || !isRange {
		return b
	}
	b.low, b.hasLow = readBound(from, unit.Temp{})
	b.high, b.hasHigh = readBound(to, unit.Temp{})
	b.low, b.high = b.low-aboutShop, b.high+aboutShop
	return b
}

// fineEnough makes the step of a narrow range so fine that there is a choice.
// Thermometers stay as they are.
func fineEnough(s *slot, r rung, low, high float64) float64 {
	switch s.quantity.(type) {
	case unit.Temp, unit.TempDelta:
		return r.step
	}
	width := shown(s.quantity, high, r.unit) - shown(s.quantity, low, r.unit)
	step := r.step
	for range 4 {
		if width >= leastChoice*step {
			break
		}
		step = roundStep(step * 0.3)
	}
	return step
}

// isFlour reports whether a percentage is that of the whole flour, which stays 100.
func isFlour(s *slot) bool { return s.name == "percent" && strings.HasSuffix(s.group, "flour") }

// lastTwo is the end of a path: "bake.percent".
func lastTwo(path string) string {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		if j := strings.LastIndexByte(path[:i], '.'); j >= 0 {
			return path[j+1:]
		}
	}
	return path
}

// exampleRung is the rung with the step of the example's own digits, or in
// another unit the nearest round step that is hardly coarser.
func exampleRung(s *slot, r rung, system unit.System) rung {
	number, symbol, _ := strings.Cut(s.text, " ")
	_, decimals, _ := strings.Cut(number, ".")
	own := rung{unit: symbol, step: powerOfTen(-len(decimals))}
	if _, temp := s.quantity.(unit.Temp); temp {
		own.step = max(own.step, r.step) // no thermometer shows more
	}
	if system == unit.Metric || s.quantity == nil {
		return own
	}
	if _, temp := s.quantity.(unit.Temp); temp {
		return r
	}
	step := shown(s.quantity, stepHeld(s.quantity, own.step, symbol), r.unit)
	r.step = roundStep(step)
	return r
}

// roundStep is the largest of 1, 2 and 5 with zeros that is not above one and a half times v.
func roundStep(v float64) float64 {
	n := exponent(v)
	for _, k := range [...]float64{10, 5, 2} {
		if step := float64(k * powerOfTen(n)); step <= 1.5*v {
			return step
		}
	}
	return powerOfTen(n)
}

// shown is a held value in the unit of the rung.
func shown(zero unit.Quantity, held float64, symbol string) float64 {
	if zero == nil {
		return held
	}
	v, _ := unit.InUnit(quantityOf(zero, held), symbol)
	return v
}

// fixedGrid keeps the example's value: as it is typed, or to a hundredth of
// the instrument's step in the other unit system.
func fixedGrid(s *slot, r rung, system unit.System) grid {
	number, symbol, _ := strings.Cut(s.text, " ")
	switch {
	case len(number) > mostTyped: // nobody types so many digits
		if system != unit.Metric && s.quantity != nil {
			symbol = r.unit
		}
		return grid{fixed: []string{strings.TrimSpace(figures(shown(s.quantity, s.held, symbol), tableFigures) + " " + symbol)}}
	case system == unit.Metric || s.quantity == nil:
		return grid{fixed: []string{s.text}}
	}
	v := shown(s.quantity, s.held, r.unit)
	return grid{fixed: []string{figures(math.Round(v/r.step*100)*r.step/100, 12) + " " + r.unit}}
}

// newGrid lays the steps of the rung between low and high.
func newGrid(s *slot, r rung, low, high float64) grid {
	a, b := shown(s.quantity, low, r.unit), shown(s.quantity, high, r.unit)
	g := grid{unit: r.unit, decimals: decimalsOf(r.step)}
	g.tenths = int64(math.Round(r.step * powerOfTen(g.decimals)))
	g.low, g.high = int64(math.Ceil(a/r.step-1e-6)), int64(math.Floor(b/r.step+1e-6))
	g.middle = int64(math.Round(shown(s.quantity, s.held, r.unit) / r.step))
	g.high = max(g.high, g.low)
	return g
}
