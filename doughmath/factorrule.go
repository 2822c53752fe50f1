package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// namedTemp is a temperature as a sheet names it.
type namedTemp struct {
	words, symbol string
	temp          unit.Temp
}

// factorTemps are the temperatures that the factor rule counts besides the
// water: that of the flour, and of what else is given.
type factorTemps struct{ flour, room, third, fourth unit.Temp }

func (f factorTemps) check(c *reckon.Checks) {
	reckon.CheckTemp(c, "flour_temp", f.flour, coldestReading, hottestReading)
	checkGiven(c, "room", f.room)
	checkGiven(c, "third", f.third)
	checkGiven(c, "fourth", f.fourth)
}

// sum returns the number of factors N, the water included, and the sum S of
// the temperatures in °C.
func (f factorTemps) sum() (n int, sum float64) {
	n, sum = 2, f.flour.Celsius()
	if f.room.Given() {
		n, sum = n+1, sum+f.room.Celsius()
	}
	if f.third.Given() {
		n, sum = n+1, sum+f.third.Celsius()
	}
	if f.fourth.Given() {
		n, sum = n+1, sum+f.fourth.Celsius()
	}
	return n, sum
}

// show records N and S.
func (f factorTemps) show(w *reckon.Working, out any) {
	n, sum, list := 2, "T_f", "T_f"
	for _, x := range [...]namedTemp{{"", "T_r", f.room}, {"", "T_3", f.third}, {"", "T_4", f.fourth}} {
		if x.temp.Given() {
			n, sum, list = n+1, sum+" + "+x.symbol, list+", "+x.symbol
		}
	}
	w.Lines(out,
		"factors counted, the water included: N = 1 + count("+list+")",
		"sum of the known temperatures: S = "+sum+temps(n-1),
	)
}

// temps is the unit, in a sheet, of a sum of so many temperatures.
func temps(n int) string { return " in " + unit.SumOfTemps + strconv.Itoa(n) + ")" }
