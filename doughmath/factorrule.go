package doughmath

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

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
	n, sum := 2, "T_f"
	for _, x := range [...]struct {
		symbol string
		temp   unit.Temp
	}{{"T_r", f.room}, {"T_3", f.third}, {"T_4", f.fourth}} {
		if x.temp.Given() {
			n, sum = n+1, sum+" + "+x.symbol
		}
	}
	w.Lines(out,
		"factors counted, the water included: N = "+strconv.Itoa(n),
		"sum of the known temperatures: S = "+sum+" in C°",
	)
}
