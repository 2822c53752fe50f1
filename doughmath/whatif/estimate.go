package whatif

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// An Estimate is a number found by trials, with how far it is likely to be from
// what endless trials would give.
type Estimate struct {
	Value  float64 `json:"value"`
	Error  float64 `json:"error"`  // two standard deviations of what chance does to the value
	Digits int     `json:"digits"` // leading digits of the value that chance leaves standing; 0 if none
}

// newEstimate counts the digits of which half a unit of the last one is no
// smaller than the error.
func newEstimate(value, err float64) Estimate {
	e := Estimate{Value: value, Error: err}
	switch {
	case value == 0 || math.IsNaN(err):
	case err == 0:
		e.Digits = 15
	default:
		e.Digits = min(max(exponent(value)-exponent(2*err), 0), 15)
		if 0.5*math.Pow(10, float64(exponent(value)-e.Digits)) >= err {
			e.Digits = min(e.Digits+1, 15)
		}
	}
	return e
}

// exponent of the first digit of x: 0 for 1 to 9.99, -1 for 0.1 to 0.999.
func exponent(x float64) int { return int(math.Floor(math.Log10(math.Abs(x)))) }

// tolerance is half a unit of the last of so many leading digits of u.
//
// Source: JCGM 101:2008, 7.9.2.
func tolerance(u float64, digits int) float64 {
	if u == 0 {
		return 0
	}
	e := exponent(u)
	if r := math.Round(u/math.Pow(10, float64(e-digits+1))) / math.Pow(10, float64(digits)); r >= 1 {
		e++ // 0.0996 is 0.10 with two digits
	}
	return 0.5 * math.Pow(10, float64(e-digits+1))
}

// A Share is how often something was so, with the interval in which its
// probability lies with 95 % confidence.
type Share struct {
	Count int     `json:"count"`
	Of    int     `json:"of"`
	Value float64 `json:"value"` // count / of
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// newShare takes Wilson's interval.
//
// Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209.
func newShare(count, of int) Share {
	s := Share{Count: count, Of: of}
	if of == 0 {
		s.High = 1
		return s
	}
	n, k := float64(of), float64(count)
	s.Value = k / n
	z := normal{0, 1}.quantile(0.975)
	z2 := float64(z * z)
	middle := (k + float64(z2/2)) / (n + z2)
	half := float64(z / (n + z2) * math.Sqrt(float64(k*(n-k)/n)+float64(z2/4)))
	s.Low, s.High = max(middle-half, 0), min(middle+half, 1)
	if count == 0 {
		s.Low = 0 // not a rounding's width beside it
	}
	if count == of {
		s.High = 1
	}
	return s
}

// studentQuantile returns t with a share p of Student's t distribution below it;
// endless degrees of freedom are the normal distribution.
func studentQuantile(p, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return normal{0, 1}.quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile(p)
}

// over returns the mean of replicates and twice its standard error, NaN for too few.
func over(replicates []float64) Estimate {
	mean, s := meanAndSD(replicates)
	return newEstimate(mean, 2*s/math.Sqrt(float64(len(replicates)-1)))
}

// meanAndSD returns the mean of x and the root of the mean square about it. Of
// points that fill a space evenly that is the standard deviation; of n
// independent ones it is so but for a factor of 1 - 1/(2n). They are counted
// from the first, so that numbers that are all the same have a deviation of 0.
func meanAndSD(x []float64) (mean, sd float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += (v - x[0]) / n
	}
	if len(x) > 0 {
		mean += x[0]
	}
	for _, v := range x {
		sd += float64((v - mean) * (v - mean))
	}
	return mean, math.Sqrt(sd / n)
}

// coverage returns the two intervals that hold a share p of a sorted sample: the
// one with as much below it as above it, and the shortest.
//
// Source: JCGM 101:2008, 7.7.
func coverage(sorted []float64, p float64) (symmetric, shortest [2]float64) {
	m := len(sorted)
	q := min(int(math.Floor(float64(p*float64(m))+0.5)), m-1)
	r := (m - q) / 2
	if (m-q)%2 == 1 {
		r = (m - q + 1) / 2
	}
	r = max(r, 1)
	symmetric = [2]float64{sorted[r-1], sorted[r-1+q]}
	best := 0
	for i := 1; i+q < m; i++ {
		if sorted[i+q]-sorted[i] < sorted[best+q]-sorted[best] {
			best = i
		}
	}
	return symmetric, [2]float64{sorted[best], sorted[best+q]}
}
