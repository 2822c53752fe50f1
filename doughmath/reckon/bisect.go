package reckon

import "math"

// Bisect returns x in [low, high] with f(x) = 0, where f is continuous and
// changes sign once between low and high. It is for inverses that have no
// closed form. It returns false if f has the same sign at both ends or is not
// a number somewhere on the way, or if the ends are further apart than a number can tell.
//
// Method: the bracket is cut where the chord between its ends meets zero, and
// halved whenever that has not been worth it (the Illinois method, kept safe),
// down to neighbouring floating-point numbers: some dozen steps for a smooth f,
// never more than four times as many as halving takes. It cannot miss and needs
// no tolerance to be chosen.
func Bisect(low, high float64, f func(float64) float64) (x float64, ok bool) {
	fl, fh := f(low), f(high)
	switch {
	case math.IsNaN(fl) || math.IsNaN(fh) || !(low <= high && high-low <= math.MaxFloat64):
		return 0, false
	case fl == 0:
		return low, true
	case fh == 0:
		return high, true
	case (fl < 0) == (fh < 0):
		return 0, false
	}
	chord := chord{gl: fl, gh: fh, width: high - low}
	for {
		mid := low + float64((high-low)/2)
		if mid <= low || mid >= high {
			break
		}
		at := chord.cut(low, high, mid)
		fm := f(at)
		switch {
		case math.IsNaN(fm):
			return 0, false
		case fm == 0:
			return at, true
		case (fm < 0) == (fl < 0):
			low, fl = at, fm
			chord.keep(fm, true)
		default:
			high, fh = at, fm
			chord.keep(fm, false)
		}
	}
	if math.Abs(fl) <= math.Abs(fh) {
		return low, true
	}
	return high, true
}

// A chord says where to cut the bracket next.
type chord struct {
	gl, gh float64 // the values at the ends, as they are weighed
	side   int     // the end that moved last: -1 low, 1 high
	width  float64 // of the bracket when it was last halved or better
	tries  int     // since then
	step   float64 // how far from an end to cut when the chord meets zero right beside it
}

// mostTries is how many chords may fail to halve the bracket before it is halved.
const mostTries = 3

func (c *chord) cut(low, high, mid float64) float64 {
	if high-low <= c.width/2 {
		c.width, c.tries = high-low, 0
	}
	if c.tries++; c.tries > mostTries {
		c.tries = 0
		return mid
	}
	at := low + float64((high-low)*(c.gl/(c.gl-c.gh)))
	// Right beside an end nothing would be won: the root is there, and a cut a little further in closes the bracket.
	beside := 4 * (math.Nextafter(math.Max(math.Abs(low), math.Abs(high)), math.Inf(1)) - math.Max(math.Abs(low), math.Abs(high)))
	if c.step = math.Max(beside, c.step); at-low < c.step {
		at = low + c.step
	} else if high-at < c.step {
		at = high - c.step
	}
	if !(at > low && at < high) {
		return mid
	}
	return at
}

// keep notes the value at the end that has moved. When one end moves twice, the
// value at the other is halved, so that the next chord meets zero beyond the root.
func (c *chord) keep(f float64, isLow bool) {
	switch {
	case isLow && c.side < 0:
		c.gl, c.gh = f, c.gh/2
	case isLow:
		c.gl, c.side = f, -1
	case c.side > 0:
		c.gl, c.gh = c.gl/2, f
	default:
		c.gh, c.side = f, 1
	}
}
