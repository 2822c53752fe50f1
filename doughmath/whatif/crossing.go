package whatif

import (
	"cmp"
	"math"
	"slices"
)

// crossing is a value of the input at which the output meets what is wanted.
type crossing struct {
	kind     Meet
	from, to float64    // of the input; the same for a crossing of an input without steps
	y        [2]float64 // the output there
}

// A Meet is how an output meets a wanted value.
type Meet string

// The ways to meet.
const (
	Crossing Meet = "crossing" // it passes through it, or stands on it at one setting
	Touch    Meet = "touch"    // it reaches it and turns back
	Level    Meet = "level"    // it stands on it from one value to the other
	Between  Meet = "between"  // the input has steps: it passes between two neighbouring settings
	Jump     Meet = "jump"     // it leaps over it without ever being there
)

// A sought is all that a search found.
type sought struct {
	met     []crossing
	refused [][2]float64 // stretches without an answer, kept out
	least   float64      // output, as far as the search saw; infinite if nothing is answered
	leastAt float64
	most    float64
	mostAt  float64
	solved  int  // scenarios
	more    bool // more was met or refused than is kept
}

const (
	seekPoints   = 512 // places looked at before narrowing
	maxCrossings = 100
	// A gap that narrowing the input to the last digit leaves at more than this
	// part of what it was is a jump: of a smooth output it goes to rounding, of a
	// square root to its root.
	jumpPart = 1e-5
	// A turning point nearer to the wanted value than this part of how far
	// the output moves about it is a touch.
	touchPart = 1e-9
)

// seeker looks for the values of x in a range at which f is the wanted value.
// With a step it looks only at low, low+step ... up to high.
type seeker struct {
	f         func(x float64) float64 // NaN where there is no answer
	want      float64
	low, high float64
	step      float64
	around    float64 // the value in the base; NaN or 0 if there is none
	points    int
	sought
}

// at is place i of an input with steps.
func (s *seeker) at(i float64) float64 {
	return min(tidy(s.low+float64(i*s.step)), s.high)
}

// last is the last place of an input with steps.
func (s *seeker) last() float64 { return math.Floor((s.high-s.low)/s.step + 1e-9) }

// value is how far the output at x is from what is wanted.
func (s *seeker) value(x float64) float64 {
	y := s.f(x)
	s.solved++
	if y < s.least {
		s.least, s.leastAt = y, x
	}
	if y > s.most {
		s.most, s.mostAt = y, x
	}
	return y - s.want
}

// search looks at places from one end of the range to the other and narrows
// down what lies between two of them that differ: a crossing, a jump, the edge
// of a refused or a level stretch, or a turning point that comes near. What happens
// and is undone between two places is not seen.
func (s *seeker) search() sought {
	s.sought = sought{least: math.Inf(1), most: math.Inf(-1)}
	places := s.places()
	d := make([]float64, len(places)) // from the wanted value
	for i, x := range places {
		d[i] = s.value(x)
	}
	s.runs(places, d)
	for i := 1; i < len(places); i++ {
		if opposed(d[i-1], d[i]) {
			s.narrow(places[i-1], places[i], d[i-1], d[i])
		}
		if i+1 < len(places) {
			s.turn(places[i-1:i+2], d[i-1:i+2])
		}
	}
	s.extremes(places, d)
	slices.SortStableFunc(s.met, func(a, b crossing) int { return cmp.Compare(a.from, b.from) })
	slices.SortStableFunc(s.refused, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	return s.sought
}

// places are evenly spaced; those of an input with few steps are all of them. A
// range that spans several powers of ten has as many again that are evenly spaced
// on a logarithmic scale, and about the value in the base some are closer.
func (s *seeker) places() []float64 {
	n := max(s.points, 3)
	if s.step > 0 {
		n = int(min(float64(n), s.last()+1))
	}
	var out []float64
	for i := range n {
		out = append(out, s.low+float64((s.high-s.low)*float64(i)/float64(max(n-1, 1))))
	}
	if from := max(s.low, s.high*1e-9); s.low >= 0 && s.high > 100*from {
		for i := range n {
			out = append(out, from*math.Pow(s.high/from, float64(i)/float64(n)))
		}
	}
	for _, part := range []float64{0.5, 0.8, 0.9, 0.95, 0.99, 1, 1.01, 1.05, 1.1, 1.2, 2} {
		if !math.IsNaN(s.around) {
			out = append(out, s.around*part)
		}
	}
	for i, x := range out {
		out[i] = min(max(x, s.low), s.high)
		if s.step > 0 {
			out[i] = s.at(min(math.Round((out[i]-s.low)/s.step), s.last()))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// middle is between a and b; false if nothing is.
func (s *seeker) middle(a, b float64) (float64, bool) {
	if s.step > 0 {
		i, k := math.Round((a-s.low)/s.step), math.Round((b-s.low)/s.step)
		if k-i < 2 {
			return 0, false
		}
		m := s.at(math.Floor((i + k) / 2))
		return m, m > a && m < b
	}
	m := a + float64((b-a)/2)
	return m, m > a && m < b
}

func opposed(a, b float64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// edge narrows down where is changes between a, where it holds, and b.
func (s *seeker) edge(a, b float64, is func(d float64) bool) (last, first float64) {
	for {
		lo, hi := min(a, b), max(a, b)
		m, ok := s.middle(lo, hi)
		if !ok {
			return a, b
		}
		if is(s.value(m)) {
			a = m
		} else {
			b = m
		}
	}
}

// runs finds the stretches that are refused and those that stand on the wanted value.
func (s *seeker) runs(places, d []float64) {
	zero := func(d float64) bool { return d == 0 }
	for i := 0; i < len(places); {
		k := i + 1
		is := math.IsNaN
		switch {
		case math.IsNaN(d[i]):
		case d[i] == 0:
			is = zero
		default:
			i = k
			continue
		}
		for k < len(places) && is(d[k]) {
			k++
		}
		from, to := places[i], places[k-1]
		if i > 0 {
			from, _ = s.edge(from, places[i-1], is)
		}
		if k < len(places) {
			to, _ = s.edge(to, places[k], is)
		}
		switch {
		case math.IsNaN(d[i]):
			s.refuse(from, to)
		case from == to || s.step == 0 && k == i+1 && to-from <= float64(4*(math.Nextafter(math.Abs(from), math.Inf(1))-math.Abs(from))):
			s.meet(crossing{kind: Crossing, from: places[i], to: places[i], y: [2]float64{s.want, s.want}})
		default:
			s.meet(crossing{kind: Level, from: from, to: to, y: [2]float64{s.want, s.want}})
		}
		i = k
	}
}

func (s *seeker) refuse(from, to float64) {
	if len(s.refused) == maxCrossings {
		s.more = true
		return
	}
	s.refused = append(s.refused, [2]float64{from, to})
}

func (s *seeker) meet(c crossing) {
	if len(s.met) == maxCrossings {
		s.more = true
		return
	}
	s.met = append(s.met, c)
}

// narrow halves a stretch over which the output changes sides until its ends are
// neighbours.
func (s *seeker) narrow(a, b, da, db float64) {
	gap := math.Abs(db - da)
	for {
		m, ok := s.middle(a, b)
		if !ok {
			break
		}
		dm := s.value(m)
		switch {
		case math.IsNaN(dm):
			s.beside(a, b, m, da, db)
			return
		case dm == 0:
			last, _ := s.edge(m, b, func(d float64) bool { return d == 0 })
			first, _ := s.edge(m, a, func(d float64) bool { return d == 0 })
			if s.step == 0 && last-first > jumpPart*(s.high-s.low) || s.step > 0 && last > first {
				s.meet(crossing{kind: Level, from: first, to: last, y: [2]float64{s.want, s.want}})
			} else {
				s.meet(crossing{kind: Crossing, from: m, to: m, y: [2]float64{s.want, s.want}})
			}
			return
		case (dm < 0) == (da < 0):
			a, da = m, dm
		default:
			b, db = m, dm
		}
	}
	found := crossing{from: a, to: b, y: [2]float64{s.want + da, s.want + db}}
	switch {
	case s.step > 0:
		found.kind = Between
	case math.Abs(db-da) > jumpPart*gap:
		found.kind = Jump
	default:
		found.kind = Crossing
		if math.Abs(db) < math.Abs(da) {
			found.from, found.y[0] = found.to, found.y[1]
		}
		found.to, found.y[1] = found.from, found.y[0]
	}
	s.meet(found)
}

// beside goes on beside a refused stretch that came up at m between a and b.
func (s *seeker) beside(a, b, m, da, db float64) {
	first, before := s.edge(m, a, math.IsNaN)
	last, after := s.edge(m, b, math.IsNaN)
	s.refuse(first, last)
	if d := s.value(before); opposed(da, d) {
		s.narrow(a, before, da, d)
	}
	if d := s.value(after); opposed(d, db) {
		s.narrow(after, b, d, db)
	}
}

// turn looks closer at three places of which the middle one comes nearest to the
// wanted value from one side: between them the output may reach it.
func (s *seeker) turn(x, d []float64) {
	side := math.Copysign(1, d[1])
	if !(d[1]*side > 0 && d[0]*side >= d[1]*side && d[2]*side >= d[1]*side && d[0]*side > 0 && d[2]*side > 0) {
		return
	}
	if d[0] == d[1] && d[1] == d[2] {
		return
	}
	at, least := s.lowest(x[0], x[2], 0, func(x float64) float64 { return s.value(x) * side })
	switch moved := max(d[0]*side, d[2]*side) - min(d[1]*side, least); {
	case least < 0:
		s.narrow(x[0], at, d[0], least*side)
		s.narrow(at, x[2], least*side, d[2])
	case least <= touchPart*moved:
		s.meet(crossing{kind: Touch, from: at, to: at, y: [2]float64{s.want + float64(least*side), s.want + float64(least*side)}})
	}
}

// lowest finds where g is least between a and b by golden sections, or by thirds
// of an input with steps. It stops as soon as g falls below enough.
func (s *seeker) lowest(a, b, enough float64, g func(x float64) float64) (at, least float64) {
	at, least = math.NaN(), math.Inf(1)
	try := func(x float64) float64 {
		y := g(x)
		if y < least {
			at, least = x, y
		}
		return y
	}
	if s.step > 0 {
		for i, k := math.Round((a-s.low)/s.step), math.Round((b-s.low)/s.step); k-i > 2; {
			third := math.Ceil((k - i) / 3)
			if try(s.at(i+third)) < try(s.at(k-third)) {
				k -= third
			} else {
				i += third
			}
			if least < enough || third == 1 {
				if m, ok := s.middle(s.at(i), s.at(k)); ok {
					try(m)
				}
				break
			}
		}
		return at, least
	}
	golden := (math.Sqrt(5) - 1) / 2
	l, r := b-float64(golden*(b-a)), a+float64(golden*(b-a))
	yl, yr := try(l), try(r)
	for range 60 { // to some twelve digits of the range
		if least < enough || math.IsNaN(yl) || math.IsNaN(yr) {
			break
		}
		if yl < yr {
			b, r, yr = r, l, yl
			l = b - float64(golden*(b-a))
			yl = try(l)
		} else {
			a, l, yl = l, r, yr
			r = a + float64(golden*(b-a))
			yr = try(r)
		}
	}
	return at, least
}

// extremes looks closer about the least and the greatest output, so that the
// reachable range is what can be reached and not only what was looked at.
func (s *seeker) extremes(places, d []float64) {
	for _, side := range []float64{1, -1} {
		best := -1
		for i := range d {
			if !math.IsNaN(d[i]) && (best < 0 || d[i]*side < d[best]*side) {
				best = i
			}
		}
		if best < 0 {
			return
		}
		s.lowest(places[max(best-1, 0)], places[min(best+1, len(places)-1)], math.Inf(-1), func(x float64) float64 { return s.value(x) * side })
	}
}
