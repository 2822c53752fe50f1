package reckon

import "math"

// Bisect returns x in [low, high] with f(x) = 0, where f is continuous and
// changes sign once between low and high. It is for inverses that have no
// closed form. It returns false if f has the same sign at both ends or is not
// a number somewhere on the way.
//
// Method: bisection down to neighbouring floating-point numbers, which takes
// some sixty steps, cannot miss and needs no tolerance to be chosen.
func Bisect(low, high float64, f func(float64) float64) (x float64, ok bool) {
	fl, fh := f(low), f(high)
	switch {
	case math.IsNaN(fl) || math.IsNaN(fh) || !(low <= high) || math.IsInf(low, 0) || math.IsInf(high, 0):
		return 0, false
	case fl == 0:
		return low, true
	case fh == 0:
		return high, true
	case (fl < 0) == (fh < 0):
		return 0, false
	}
	for {
		mid := low + float64((high-low)/2)
		if mid <= low || mid >= high {
			break
		}
		fm := f(mid)
		switch {
		case math.IsNaN(fm):
			return 0, false
		case fm == 0:
			return mid, true
		case (fm < 0) == (fl < 0):
			low, fl = mid, fm
		default:
			high, fh = mid, fm
		}
	}
	if math.Abs(fl) <= math.Abs(fh) {
		return low, true
	}
	return high, true
}
