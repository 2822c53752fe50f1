package divider

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// fewestForCorrelation is the shortest series of which a correlation of neighbours says anything:
// of fewer its own scatter is as large as what it is to show.
const fewestForCorrelation = 10

// WeighingCorrelation asks whether neighbouring weighings resemble one another, and what
// their mean is worth if they do:
//
//	m   = sum(x_i) / n,  s = sqrt(sum((x_i - m)^2) / (n - 1))
//	r_1 = S_1 / S_0,  S_1 = sum of (x_i - m) * (x_(i+1) - m),  S_0 = sum((x_i - m)^2)
//	r_max = z / sqrt(n),  z at (1 + P) / 2
//	r   = (n * r_1 + 1) / (n - 3) if r_1 exceeds r_max, 0 otherwise
//	n_e = n / ((1 + r) / (1 - r) - 2 * r * (1 - r^n) / (n * (1 - r)^2))
//	s_e = s * sqrt((n - 1) / n * n_e / (n_e - 1))
//	m_low, m_high = m -+ t * s_e / sqrt(n_e),  t at (1 + P) / 2 with n_e - 1 degrees of freedom
//	u   = (m_high - m_low) / (2 * t_n * s / sqrt(n)),  t_n with n - 1
//
// Pieces that follow one another share the dough, the hopper's level and the handle, so that
// they may tell less than as many pieces from all over the run: n of them are worth n_e.
// Every interval of [PieceSample], [PiecesToWeigh] and [PiecesToDetect] takes them
// for independent: with correlated weighings, count n_e pieces there, or weigh pieces
// that lie further apart. (n * r_1 + 1)/(n - 3) takes out that r_1 comes out too low in a
// short series.
//
// It holds where the correlation fades from neighbour to neighbour as r, r^2, r^3 (a
// first-order process), for weighings at even distances. A drift or a step is no such
// thing: look at the [ControlChart] and at [WeightDrift]. A correlation below zero, as of two
// lanes weighed in turn that differ, leaves the intervals too wide and is counted as none.
//
// It is refused if:
//   - the weighings are all equal.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.12 (r_1 and its limit); F. H. C.
// Marriott and J. A. Pope, Biometrika 41 (1954), 390-402 (its bias, recalled); G. V. Bayley and
// J. M. Hammersley, J. R. Statist. Soc. Suppl. 8 (1946), 184-197 (n_e, recalled); cases in
// testdata/cases/divider/weighing-correlation.json.
type WeighingCorrelation struct {
	Weighings  []unit.Mass  `json:"weighings" sym:"x_#" range:"1 mg..100 kg" items:"10..20000"` // weights of single pieces of one lane in the order cut, at even distances, not all equal
	Confidence unit.Percent `json:"confidence" sym:"P" range:"50 %..99.99 %"`                   // confidence of the limit and of the interval
}

// WeighingCorrelationResult is what the weighings are worth.
type WeighingCorrelationResult struct {
	Pieces           int             `json:"pieces" sym:"n"`                // pieces weighed
	Mean             unit.Mass       `json:"mean" sym:"m"`                  // mean of the sample
	SD               unit.Mass       `json:"sd" sym:"s"`                    // standard deviation of single pieces, divisor n - 1
	Correlation      float64         `json:"correlation" sym:"r_1"`         // correlation of neighbours, as it comes out of these weighings
	CorrelationLimit float64         `json:"correlation_limit" sym:"r_max"` // above this it is significant at the confidence asked for
	Used             float64         `json:"used" sym:"r"`                  // correlation that is counted with: 0 unless it is significant
	EffectivePieces  float64         `json:"effective_pieces" sym:"n_e"`    // independent pieces that would tell as much of the mean
	CorrectedSD      unit.Mass       `json:"corrected_sd" sym:"s_e"`        // standard deviation of single pieces all over the run, which neighbours show too small
	MeanLow          unit.Mass       `json:"mean_low" sym:"m_low"`          // the mean of all pieces lies from here
	MeanHigh         unit.Mass       `json:"mean_high" sym:"m_high"`        // to here, at the confidence asked for, the correlation counted
	Widening         float64         `json:"widening" sym:"u"`              // how many times as wide that is as if the pieces were independent
	Conditions       Conditions      `json:"conditions"`                    // correlated
	Cautions         reckon.Cautions `json:"cautions"`                      // moving-belt
}

func (WeighingCorrelation) ID() string { return "weighing-correlation" }

func (q WeighingCorrelation) Check(c *reckon.Checks) {
	checkWeighings(c, "weighings", q.Weighings, fewestForCorrelation)
	checkLevel(c, "confidence", q.Confidence)
}

// Solve has no answer if the weights wander so far that they are worth less than two pieces.
func (q WeighingCorrelation) Solve() (out WeighingCorrelationResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	mean, sd := meanSD(q.Weighings)
	n := float64(len(q.Weighings))
	products, squares := neighbours(q.Weighings, mean)
	r1, limit := products/squares, correlationLimit(n, q.Confidence)
	r, effective, spread := 0.0, n, sd
	if r1 > limit {
		r = (float64(n*r1) + 1) / (n - 3)
		effective = effectivePieces(n, r)
		if !(effective >= 2) { // nor is it where r reaches 1
			return out, &reckon.NoSolutionError{
				Func: q.ID(), Unknown: "number of independent pieces", Wanted: "at least 2",
				Advice: "the weights wander: look at them on a control chart for a drift or a step, and weigh over a longer run",
			}
		}
		spread = sd * math.Sqrt((n-1)/n*effective/(effective-1))
	}
	t := studentQuantile(twoSided(q.Confidence), effective-1)
	half := t * spread / math.Sqrt(effective)
	out = WeighingCorrelationResult{
		Pieces: len(q.Weighings), Mean: unit.Mass(mean), SD: unit.Mass(sd), Correlation: r1, CorrelationLimit: limit, Used: r,
		EffectivePieces: effective, CorrectedSD: unit.Mass(spread), MeanLow: unit.Mass(mean - half), MeanHigh: unit.Mass(mean + half),
		Widening: half / (studentQuantile(twoSided(q.Confidence), n-1) * sd / math.Sqrt(n)),
		Cautions: reckon.MovingBelt,
	}
	if r > 0 {
		out.Conditions |= Correlated
	}
	return out, nil
}

func (q WeighingCorrelation) Show(w *reckon.Working, out WeighingCorrelationResult) {
	n := float64(out.Pieces)
	w.Inputs(q)
	w.Lines(out,
		"pieces weighed: n = count(x_#...)",
		"mean: m = sum(x_#)/n",
		"standard deviation: s = sqrt(sum((x_# - m)*(x_# - m))/(n - 1))",
		"sum of squares about the mean: S_0 = sum((x_# - m)*(x_# - m)) in g²",
		"sum of products of neighbours about the mean: S_1 = "+productsText(out.Pieces)+" in g²  [each weighing with the next]",
	)
	w.Given("normal quantile", "z", normalQuantile(twoSided(q.Confidence)), "", "at (1 + P/100)/2")
	w.Lines(out, "correlation of neighbours: r_1 = S_1/S_0", "limit of chance: r_max = z/sqrt(n)")
	if out.Used > 0 {
		w.Lines(out,
			"correlation counted with: r = (n*r_1 + 1)/(n - 3)  [significant; its bias taken out]",
			"independent pieces: n_e = n/((1 + r)/(1 - r) - 2*r*(1 - pow(r, n))/(n*(1 - r)*(1 - r)))",
			"standard deviation over the run: s_e = s*sqrt((n - 1)/n*n_e/(n_e - 1))",
		)
	} else {
		w.Lines(out, "correlation counted with: r = 0  [not significant]", "independent pieces: n_e = n", "standard deviation over the run: s_e = s")
	}
	w.Given("Student's t", "t", studentQuantile(twoSided(q.Confidence), out.EffectivePieces-1), "", "n_e - 1 degrees of freedom, at (1 + P/100)/2")
	w.Given("Student's t of independent pieces", "t_n", studentQuantile(twoSided(q.Confidence), n-1), "", studentAtLevel)
	w.Lines(out,
		"half-width of the mean's interval: U = t*s_e/sqrt(n_e) in g",
		"mean, lower limit: m_low = m - U",
		"mean, upper limit: m_high = m + U",
		"as wide as of independent pieces, times: u = U/(t_n*s/sqrt(n))",
	)
}

// neighbours returns the sum of the products of neighbours about the mean, and that of the squares.
func neighbours(x []unit.Mass, mean float64) (products, squares float64) {
	for i := range x {
		d := float64(x[i]) - mean
		squares += float64(d * d)
		if i > 0 {
			products += float64(d * (float64(x[i-1]) - mean))
		}
	}
	return products, squares
}

// correlationLimit returns the correlation that neighbours reach by chance, either way.
func correlationLimit(n float64, level unit.Percent) float64 {
	return normalQuantile(twoSided(level)) / math.Sqrt(n)
}

// effectivePieces returns how many independent pieces tell as much of the mean as n in a row.
func effectivePieces(n, r float64) float64 {
	rest := 1 - r
	return n / ((1+r)/rest - float64(2*r*(1-math.Pow(r, n)))/(n*rest*rest))
}
