package whatif

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// A shape is how a number may come out, in the unit held.
type shape interface {
	quantile(p float64) float64 // a share p, above 0 and below 1, lies below it
	below(x float64) float64    // the share that lies below x
	mean() float64
	sd() float64
}

// normal is the normal distribution.
type normal struct{ m, s float64 }

func (d normal) quantile(p float64) float64 { return d.m + float64(d.s*mathext.NormalQuantile(p)) }
func (d normal) below(x float64) float64    { return normalBelow((x - d.m) / d.s) }
func (d normal) mean() float64              { return d.m }
func (d normal) sd() float64                { return d.s }

// normalBelow returns the share of a standard normal below z.
func normalBelow(z float64) float64 { return float64(0.5 * math.Erfc(-z/math.Sqrt2)) }

// student is Student's t, shifted and scaled. Its scale is the standard
// uncertainty that was stated; its standard deviation is larger.
//
// Source: JCGM 101:2008, 6.4.9.
type student struct{ m, s, dof float64 }

func (d student) standard() distuv.StudentsT { return distuv.StudentsT{Sigma: 1, Nu: d.dof} }
func (d student) quantile(p float64) float64 { return d.m + float64(d.s*d.standard().Quantile(p)) }
func (d student) below(x float64) float64    { return d.standard().CDF((x - d.m) / d.s) }
func (d student) mean() float64              { return d.m }

func (d student) sd() float64 {
	if d.dof <= 2 {
		return math.Inf(1)
	}
	return d.s * math.Sqrt(d.dof/(d.dof-2))
}

// lognormal is that of a number whose logarithm is normal.
type lognormal struct{ m, s float64 } // of the logarithm

// lognormalOf has the mean and the standard deviation of the number itself.
func lognormalOf(mean, sd float64) lognormal {
	v := math.Log1p(sd / mean * (sd / mean))
	return lognormal{math.Log(mean) - float64(v/2), math.Sqrt(v)}
}

func (d lognormal) quantile(p float64) float64 { return math.Exp(normal(d).quantile(p)) }
func (d lognormal) mean() float64              { return math.Exp(d.m + float64(d.s*d.s/2)) }
func (d lognormal) sd() float64                { return d.mean() * math.Sqrt(math.Expm1(d.s*d.s)) }

func (d lognormal) below(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return normal(d).below(math.Log(x))
}

// trapezoidal rises, stays and falls between two limits; top is the share of
// the width on which it stays. With a top of 1 it is rectangular, with 0
// triangular about the middle.
//
// Source: JCGM 101:2008, 6.4.4.
type trapezoidal struct{ low, high, top float64 }

func (d trapezoidal) mean() float64 { return d.low + float64((d.high-d.low)/2) }

func (d trapezoidal) sd() float64 {
	return (d.high - d.low) / 2 * math.Sqrt((1+float64(d.top*d.top))/6)
}

func (d trapezoidal) quantile(p float64) float64 {
	half := (d.high - d.low) / 2
	side := float64((1 - d.top) / (1 + d.top) / 2) // share of one slope
	switch {
	case p < side:
		return d.low + float64(half*math.Sqrt(2*p*(1-float64(d.top*d.top))))
	case p > 1-side:
		return d.high - float64(half*math.Sqrt(2*(1-p)*(1-float64(d.top*d.top))))
	}
	return d.low + float64(half*(1-d.top+float64((p-side)*(1+d.top))))
}

func (d trapezoidal) below(x float64) float64 {
	half := (d.high - d.low) / 2
	slope := half * (1 - d.top)
	height := 1 / (half * (1 + d.top))
	switch from, to := x-d.low, d.high-x; {
	case from <= 0:
		return 0
	case to <= 0:
		return 1
	case from < slope:
		return height * from * from / slope / 2
	case to < slope:
		return 1 - float64(height*to*to/slope/2)
	default:
		return height * (from - float64(slope/2))
	}
}

// triangular has its peak anywhere between two limits.
type triangular struct{ low, peak, high float64 }

func (d triangular) of() distuv.Triangle        { return distuv.NewTriangle(d.low, d.high, d.peak, nil) }
func (d triangular) quantile(p float64) float64 { return d.of().Quantile(p) }
func (d triangular) below(x float64) float64    { return d.of().CDF(x) }
func (d triangular) mean() float64              { return d.of().Mean() }

func (d triangular) sd() float64 {
	a, b := d.high-d.low, d.peak-d.low
	return math.Sqrt((float64(a*a) + float64(b*b) - float64(a*b)) / 18)
}

// arcsine is that of a number that swings between two limits like a pendulum,
// such as a temperature held by a thermostat.
//
// Source: JCGM 101:2008, 6.4.6.
type arcsine struct{ low, high float64 }

func (d arcsine) mean() float64 { return d.low + float64((d.high-d.low)/2) }
func (d arcsine) sd() float64   { return (d.high - d.low) / 2 / math.Sqrt2 }

func (d arcsine) quantile(p float64) float64 {
	return d.mean() - float64((d.high-d.low)/2*math.Cos(math.Pi*p))
}

func (d arcsine) below(x float64) float64 {
	return math.Acos(min(max((d.mean()-x)/((d.high-d.low)/2), -1), 1)) / math.Pi
}

// curvilinear is rectangular between limits that are themselves known only to
// within the same amount on either side.
//
// Source: JCGM 101:2008, 6.4.3 (curvilinear trapezoid).
type curvilinear struct{ low, high, within float64 }

func (d curvilinear) mean() float64 { return d.low + float64((d.high-d.low)/2) }

func (d curvilinear) sd() float64 {
	half := (d.high - d.low) / 2
	return math.Sqrt(float64(half*half)/3 + float64(d.within*d.within)/9)
}

// below adds up the density ln((w+d)/max(|z|, w-d))/(4d), z from the middle.
func (d curvilinear) below(x float64) float64 {
	w, e, z := float64((d.high-d.low)/2), d.within, x-d.mean()
	far := math.Abs(z)
	if far >= w+e {
		return float64(0.5 * (1 + math.Copysign(1, z)))
	}
	area := float64(min(far, w-e) * math.Log((w+e)/(w-e))) // of one side, times 4d
	if far > w-e {
		part := func(r float64) float64 { return float64(r * (1 + math.Log((w+e)/r))) }
		area += part(far) - part(w-e)
	}
	return 0.5 + math.Copysign(area/(4*e), z)
}

func (d curvilinear) quantile(p float64) float64 {
	// The density falls from the middle, so that the share rises all the way.
	// Halved, where a chord would be quicker: at every cut a larger p goes as far up or further, so that quantiles
	// never fall, whatever the last digits of below are.
	low, high := d.low-d.within, d.high+d.within
	for {
		mid := low + float64((high-low)/2)
		if mid <= low || mid >= high {
			return mid
		}
		if d.below(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
}

// discrete takes one of a list of values, each with its share.
type discrete struct {
	values []float64
	upTo   []float64 // share of this value and those before it; the last is 1
}

func (d discrete) quantile(p float64) float64 { return d.values[sort.SearchFloat64s(d.upTo, p)] }

func (d discrete) below(x float64) (share float64) {
	for i, v := range d.values {
		if v < x {
			share += d.share(i)
		}
	}
	return share
}

func (d discrete) share(i int) float64 {
	if i == 0 {
		return d.upTo[0]
	}
	return d.upTo[i] - d.upTo[i-1]
}

func (d discrete) mean() (m float64) {
	for i, v := range d.values {
		m += float64(d.share(i) * v)
	}
	return m
}

func (d discrete) sd() float64 {
	m, v := d.mean(), 0.0
	for i, x := range d.values {
		v += float64(d.share(i) * (x - m) * (x - m))
	}
	return math.Sqrt(v)
}

// truncated is what is left of a distribution between two limits.
type truncated struct {
	whole     shape
	low, high float64
	from, to  float64 // share of the whole below each limit
	m, s      float64
}

// newTruncated returns false if too little of the distribution lies within.
func newTruncated(whole shape, low, high float64) (truncated, bool) {
	d := truncated{whole: whole, low: low, high: high, from: whole.below(low), to: whole.below(high)}
	if d.to-d.from < leastLeft {
		return d, false
	}
	// The mean and the standard deviation are sums over equally likely slices,
	// good to about six digits.
	const slices = 20000
	var all [slices]float64
	for i := range all {
		all[i] = d.quantile((float64(i) + 0.5) / slices)
		d.m += all[i] / slices
	}
	for _, x := range all {
		d.s += float64((x - d.m) * (x - d.m) / slices)
	}
	d.s = math.Sqrt(d.s)
	return d, true
}

// leastLeft of a distribution must lie within the limits that it is truncated
// to: what is left of less says more of the limits than of the input.
const leastLeft = 0.01

func (d truncated) quantile(p float64) float64 {
	// Near 0 and 1 of the whole a share rounds to what lies beyond the limit.
	return min(max(d.whole.quantile(d.from+float64(p*(d.to-d.from))), d.low), d.high)
}

func (d truncated) below(x float64) float64 {
	return min(max((d.whole.below(x)-d.from)/(d.to-d.from), 0), 1)
}
func (d truncated) mean() float64 { return d.m }
func (d truncated) sd() float64   { return d.s }
