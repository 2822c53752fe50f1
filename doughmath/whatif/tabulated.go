package whatif

import "gonum.org/v1/gonum/mathext"

// tabulated is a distribution whose quantiles cost microseconds each, with a
// table of them over the normal score: four neighbours and the cubic through them are
// good to a millionth of the value. Beyond the table, once in a billion
// draws, the distribution itself is asked.
type tabulated struct {
	shape
	table []float64 // quantiles at even normal scores from -tableEnd to tableEnd
}

const (
	tableEnd   = 6.0
	tableSteps = 1024
)

// tabulate returns d, with a table if it is slow.
func tabulate(d shape) shape {
	switch d := d.(type) {
	case student, curvilinear:
	case truncated:
		if _, slow := d.whole.(student); !slow {
			return d
		}
	default:
		return d
	}
	t := tabulated{d, make([]float64, tableSteps+1)}
	for i := range t.table {
		t.table[i] = d.quantile(normalBelow(tableEnd * (float64(2*float64(i)/tableSteps) - 1)))
	}
	return t
}

func (t tabulated) quantile(p float64) float64 {
	z := mathext.NormalQuantile(p)
	at := float64((z + tableEnd) * (tableSteps / (2 * tableEnd)))
	if !(at >= 1 && at < tableSteps-1) {
		return t.shape.quantile(p)
	}
	i := int(at)
	f := at - float64(i)
	a, b, c, d := t.table[i-1], t.table[i], t.table[i+1], t.table[i+2]
	// Lagrange's cubic, written about b so that what is level stays level.
	right, left, far := c-b, a-b, d-b
	cubic := float64(right*f*(f+1)*(2-f)/2) + float64(left*f*(1-f)*(f-2)/6) + float64(far*f*(f-1)*(f+1)/6)
	return b + min(max(cubic, 0), right) // quantiles never fall
}
