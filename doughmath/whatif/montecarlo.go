package whatif

import (
	"math"
	"slices"

	"example.com/dough/doughmath/reckon"
)

// The bounds of trials.
const (
	defaultTrials = DefaultLimit
	maxTrials     = 1 << 26 // outputs of trials held at the same time, twice: 1 GiB
	leastBatches  = 8
	batchTrials   = 10000 // as Supplement 1 has it, unless the probability needs more
	leastBeyond   = 10    // trials of a batch beyond the ends of the interval, for a verdict; derived: of fewer the ends are those of a batch by chance
)

// trials asks for a Monte Carlo evaluation.
type trials struct {
	scheme      Combine
	seed        uint64
	digits      int // significant digits wanted of the standard uncertainty
	most        int // trials, whatever the digits
	probability float64
}

// A trialled is what trials say of one output.
type trialled struct {
	answered             int // trials with a number for this output
	mean, u              Estimate
	low, high            Estimate // probabilistically symmetric coverage interval
	shortLow, shortHigh  Estimate // shortest coverage interval
	tolerance            float64  // wanted of mean, u and the ends of the intervals
	reached              bool     // all errors are within the tolerance
	thin                 bool     // batches are too short for their scatter to say how sure the ends are
	sorted               []float64
	means, us            []float64 // by batch
	ends, shortestOfEach [2][]float64
}

// A run is all outputs of all trials.
type run struct {
	trials  int
	refused int // trials that the calculation refused
	outputs []trialled
	joint   [][]float64 // covariance of the outputs over the trials that have all of them
}

// evaluate fills y, row by row, with the outputs of as many points, NaN where
// there is none, and returns how many were refused.
type evaluate func(points sampler, y []float64) (refused int, err error)

// try runs batches of trials until the mean, the standard uncertainty and the
// ends of the coverage interval of every output stand still to within the
// tolerance, or as many trials as are allowed are made. A batch of Sobol points
// has a scrambling of its own, so that batches are independent of one another
// and their scatter says how far chance moves the result.
//
// Source: JCGM 101:2008, 7.9.4, from the eighth batch on instead of the second.
func try(c *reckon.Checks, do evaluate, dims, outputs int, ask trials) (*run, error) {
	batch := batchSize(ask)
	all := &run{outputs: make([]trialled, outputs)}
	y := make([]float64, 0, leastBatches*batch*outputs)
	for b := 0; all.trials+batch <= ask.most; b++ {
		points := newSampler(c, ask.scheme, dims, batch, nth(ask.seed, b))
		if points == nil {
			return nil, c.Err()
		}
		first := len(y)
		y = slices.Grow(y, batch*outputs)[:first+batch*outputs]
		refused, err := do(points, y[first:])
		if err != nil {
			return nil, err
		}
		all.refused += refused
		all.trials += batch
		settled := b+1 >= leastBatches
		for o := range all.outputs {
			all.outputs[o].take(y[first:], o, outputs, ask.probability)
			settled = all.outputs[o].settled(ask.digits) && settled
		}
		if settled {
			break
		}
	}
	for o := range all.outputs {
		all.outputs[o].finish(ask)
	}
	all.joint = sampleCovariance(y, outputs)
	return all, nil
}

// batchSize is how many trials make a batch: enough for the ends of the interval,
// and never more than leaves room for the least number of batches.
//
// Source: JCGM 101:2008, 7.9.4 b (the larger of 10,000 and 100/(1-p)).
func batchSize(ask trials) int {
	want := max(batchTrials, int(math.Ceil(100/(1-ask.probability))))
	fits := max(ask.most/leastBatches, 2)
	if ask.scheme != Sobol {
		return min(want, fits)
	}
	size := 2 // Sobol points are even in powers of two
	for size < want && 2*size <= fits {
		size *= 2
	}
	return size
}

// take adds a batch of which the output o is one column.
func (t *trialled) take(y []float64, o, outputs int, probability float64) {
	var column []float64
	for i := o; i < len(y); i += outputs {
		if !math.IsNaN(y[i]) {
			column = append(column, y[i])
		}
	}
	t.sorted = append(t.sorted, column...)
	if len(column) < 2 {
		return
	}
	slices.Sort(column)
	mean, s := meanAndSD(column)
	symmetric, shortest := coverage(column, probability)
	t.means, t.us = append(t.means, mean), append(t.us, s)
	for side := range 2 {
		t.ends[side] = append(t.ends[side], symmetric[side])
		t.shortestOfEach[side] = append(t.shortestOfEach[side], shortest[side])
	}
}

// settled reports whether chance leaves the digits alone. An output that no trial
// has does not wait for any.
func (t *trialled) settled(digits int) bool {
	if len(t.us) < 2 {
		return len(t.us) == 0
	}
	// Of an output that stands still but for rounding no digits are wanted.
	t.tolerance = max(tolerance(over(t.us).Value, digits), rounding*math.Abs(over(t.means).Value))
	for _, list := range [][]float64{t.means, t.us, t.ends[0], t.ends[1]} {
		if !(over(list).Error <= t.tolerance) {
			return false
		}
	}
	return true
}

// finish takes the results from all trials together, and their errors from the
// scatter of the batches.
//
// Source: JCGM 101:2008, 7.9.4 note 4 and 7.6.
func (t *trialled) finish(ask trials) {
	t.answered = len(t.sorted)
	t.thin = float64(batchSize(ask))*(1-ask.probability) < leastBeyond
	t.reached = len(t.us) > 1 && t.settled(ask.digits)
	if t.answered < 2 {
		nan := Estimate{Value: math.NaN(), Error: math.NaN()}
		t.mean, t.u, t.low, t.high, t.shortLow, t.shortHigh = nan, nan, nan, nan, nan, nan
		return
	}
	slices.Sort(t.sorted)
	mean, s := meanAndSD(t.sorted)
	symmetric, shortest := coverage(t.sorted, ask.probability)
	t.mean, t.u = newEstimate(mean, over(t.means).Error), newEstimate(s, over(t.us).Error)
	t.low, t.high = newEstimate(symmetric[0], over(t.ends[0]).Error), newEstimate(symmetric[1], over(t.ends[1]).Error)
	t.shortLow = newEstimate(shortest[0], over(t.shortestOfEach[0]).Error)
	t.shortHigh = newEstimate(shortest[1], over(t.shortestOfEach[1]).Error)
}

// sampleCovariance is over the trials that have every output.
//
// Source: JCGM 102:2011, 7.6.
func sampleCovariance(y []float64, outputs int) [][]float64 {
	mean, complete := make([]float64, outputs), 0.0
	rows := func(visit func(row []float64)) {
		for i := 0; i < len(y); i += outputs {
			if row := y[i : i+outputs]; !slices.ContainsFunc(row, math.IsNaN) {
				visit(row)
			}
		}
	}
	rows(func(row []float64) {
		complete++
		for o, v := range row {
			mean[o] += v
		}
	})
	joint := make([][]float64, outputs)
	for a := range joint {
		joint[a] = make([]float64, outputs)
		mean[a] /= complete
	}
	rows(func(row []float64) {
		for a := range joint {
			for b := range joint {
				joint[a][b] += float64((row[a] - mean[a]) * (row[b] - mean[b]) / (complete - 1))
			}
		}
	})
	return joint
}

// A Verdict says whether the first-order result stands beside the trials.
type Verdict string

const (
	Agrees    Verdict = "agrees"    // both ends are within the tolerance
	Differs   Verdict = "differs"   // an end is not: take the trials
	Undecided Verdict = "undecided" // more trials would tell
)

// compare holds the ends of the first-order interval against those of the
// trials, at the tolerance of the digits of the first-order uncertainty.
//
// Source: JCGM 101:2008, 8.1 and 8.2.
func (t *trialled) compare(p *propagation, digits int) (Verdict, float64) {
	wanted := max(tolerance(p.u, digits), rounding*math.Abs(p.estimate))
	worst := Agrees
	if t.thin {
		return Undecided, wanted
	}
	for _, end := range []struct{ first, trial Estimate }{
		{Estimate{Value: p.estimate - p.expanded}, t.low},
		{Estimate{Value: p.estimate + p.expanded}, t.high},
	} {
		switch apart := math.Abs(end.first.Value - end.trial.Value); {
		case apart-end.trial.Error > wanted:
			return Differs, wanted
		case !(apart+end.trial.Error <= wanted):
			worst = Undecided
		}
	}
	return worst, wanted
}
