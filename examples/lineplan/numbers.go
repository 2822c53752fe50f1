package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
)

// instruments shows numbers as they are read off scales, clocks and thermometers.
type instruments struct {
	units  unit.System
	finest unit.Mass     // the finest division of the scales that a page speaks of
	clock  bool          // times are of the day; without a day they count from the first mixing
	zero   unit.Duration // where times count from
	from   unit.Duration // the earliest time of the day
}

// noDay is when a run is taken to start that no day gives a start for.
const noDay = unit.Duration(24 * 3600)

func newInstruments(s *line.Scenario, units unit.System) instruments {
	n := instruments{units: units, clock: s.Day != nil}
	if !n.clock {
		n.zero = noDay
	}
	return n
}

// scales takes the finest division among those that the orders are weighed on.
func (n *instruments) scales(shift *line.Shift, orders ...*line.Order) {
	n.finest = shift.Division
	add := func(d unit.Mass) {
		if d > 0 && (n.finest == 0 || d < n.finest) {
			n.finest = d
		}
	}
	for _, scale := range shift.Scales {
		add(scale.Division)
	}
	for _, o := range orders {
		for _, f := range o.Product.Preferments {
			add(f.Division)
		}
	}
}

// weight shows a mass as the finest ingredient scale reads.
func (n *instruments) weight(m unit.Mass) string { return n.reads(m, n.finest) }

// reads shows kilograms, or pounds and ounces, to as many decimals as a division has; finer where the division is too
// coarse for the unit.
func (n *instruments) reads(m, division unit.Mass) string {
	if n.units != unit.US {
		return strconv.FormatFloat(m.Kilograms(), 'f', decimals(division.Kilograms()), 64) + " kg"
	}
	places := decimals(division.Ounces())
	scale := math.Pow(10, float64(places))
	all := math.Round(m.Ounces()*scale) / scale
	pounds := math.Floor(all/16 + 1e-9)
	rest := math.Abs(all - float64(pounds*16))
	ounces := strconv.FormatFloat(rest, 'f', places, 64) + " oz"
	switch {
	case pounds == 0:
		return ounces
	case rest < 1e-6:
		return fmt.Sprintf("%.0f lb", pounds)
	}
	return fmt.Sprintf("%.0f lb %s", pounds, ounces)
}

// decimals is how many of them a step has, up to what one division can tell apart.
func decimals(step float64) int {
	for n := range 4 {
		if s := step * math.Pow(10, float64(n)); s >= 1-1e-9 && math.Abs(s-math.Round(s)) < 1e-6 {
			return n
		}
	}
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// fine shows a piece weight to a tenth of a gram, or a hundredth of an ounce.
func (n *instruments) fine(m unit.Mass) string {
	if n.units == unit.US {
		return strconv.FormatFloat(m.Ounces(), 'f', 2, 64) + " oz"
	}
	return strconv.FormatFloat(m.Grams(), 'f', 1, 64) + " g"
}

// small shows a weight of which a little matters to a hundredth of a gram, or a thousandth of an ounce.
func (n *instruments) small(m unit.Mass) string {
	if n.units == unit.US {
		return strconv.FormatFloat(m.Ounces(), 'f', 3, 64) + " oz"
	}
	return strconv.FormatFloat(m.Grams(), 'f', 2, 64) + " g"
}

// span shows two piece weights with one unit.
func (n *instruments) span(low, high unit.Mass) string {
	first, _, _ := strings.Cut(n.fine(low), " ")
	return first + " to " + n.fine(high)
}

// length shows a length as a rule or a caliper reads it.
func (n *instruments) length(l unit.Length) string {
	if n.units == unit.US {
		return strconv.FormatFloat(l.Inches(), 'f', 2, 64) + " in"
	}
	if l.Millimetres() >= 100 {
		return trimmed(l.Millimetres(), 0) + " mm"
	}
	return trimmed(l.Millimetres(), 1) + " mm"
}

// temp shows a temperature to whole degrees Fahrenheit or half degrees Celsius.
func (n *instruments) temp(t unit.Temp) string {
	if n.units == unit.US {
		return fmt.Sprintf("%.0f °F", t.Fahrenheit())
	}
	return trimmed(math.Round(t.Celsius()*2)/2, 1) + " °C"
}

// minutes shows a time in whole minutes, and a short one in seconds.
func (n *instruments) minutes(d unit.Duration) string {
	if d.Minutes() < 3 {
		return unit.Duration(math.Round(float64(d)*10) / 10).In(n.units)
	}
	return unit.Minutes(math.Round(d.Minutes())).In(n.units)
}

// at shows a moment by the clock on the wall; without a day, hours and minutes after the first mixing.
func (n *instruments) at(t unit.Duration) string {
	m := int(math.Round((t - n.zero).Minutes()))
	if !n.clock {
		sign := "+"
		if m < 0 {
			sign, m = "-", -m
		}
		return fmt.Sprintf("%s%d:%02d", sign, m/60, m%60)
	}
	text, day := (t - n.zero).TimeOfDay(n.units)
	switch {
	case m < 0:
		text += " -1"
	case t-n.from >= unit.Hours(24):
		text += fmt.Sprintf(" +%d", day)
	}
	return text
}

// trimmed shows a number with up to so many decimals.
func trimmed(v float64, places int) string {
	scale := math.Pow(10, float64(places))
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}

// listed joins words as a sentence does.
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
