package divider

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// LaneWeighing is a check of one lane.
type LaneWeighing struct {
	Lane   int       `json:"lane" range:"1..32"`                    // which lane, counted as on the line; each once
	Weight unit.Mass `json:"weight" sym:"y_#" range:">0 g..1000 t"` // mean weight of its pieces
	Pieces int       `json:"pieces" sym:"n_#" range:"1..100000"`    // how many pieces the mean is of
}

// Check requires a possible weighing of a lane.
func (l LaneWeighing) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "lane", l.Lane, 1, maxAcross)
	reckon.CheckAbove(c, "weight", l.Weight, maxWeight)
	reckon.CheckCount(c, "pieces", l.Pieces, 1, 100_000)
}

// LaneOffsets asks how the L lanes of a divider differ at one mark:
//
//	m     = sum(y_i) / L
//	shift = m - (y_m + b*u + d*(u^2 - k*u - S_xx/W))    u = x - x_m
//	o_i   = y_i - m
//	t_L   = Student's t, one-sided at 1 - (1 - C/100)/(2*L), for f degrees of freedom
//	l_i   = o_i - t_L * s_p * sqrt((1 - 2/L)/n_i + sum(1/n_j)/L^2)
//	h_i   = o_i + t_L * s_p * sqrt((1 - 2/L)/n_i + sum(1/n_j)/L^2)
//	o     = the o_i that is furthest from 0
//
// with s_p the standard deviation of a piece and n_i the pieces. The intervals
// hold jointly for all lanes at the calibration's confidence, by Bonferroni's
// inequality. The handle moves every lane alike: what is common to them is for
// [NextMark], what is not is for whoever maintains the chambers.
//
// It holds if the pieces of each lane scatter as those of the trials.
//
// It is refused if:
//   - there are fewer than 2 or more than 32 lanes, or not as many as the calibration is of,
//   - a lane is there twice,
//   - the calibration is not one that [MarkFit] makes.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 7.4.7.3 (Bonferroni) and 7.4.3 (one-way layout).
type LaneOffsets struct {
	Calibration Calibration    `json:"calibration"`                    // from [MarkFit], of the same pieces across
	Mark        float64        `json:"mark" sym:"x" range:"-1e9..1e9"` // where the handle stood
	Lanes       []LaneWeighing `json:"lanes" items:"..32"`             // 2 to 32 lanes; all of them, if the calibration says how many
}

// LaneOffset is how one lane differs from the others.
type LaneOffset struct {
	Lane        int       `json:"lane"`             // which lane
	Offset      unit.Mass `json:"offset" sym:"o_#"` // its mean, less the mean of the lanes
	Low         unit.Mass `json:"low" sym:"l_#"`    // lower end of the interval, joint over the lanes
	High        unit.Mass `json:"high" sym:"h_#"`   // upper end
	Significant bool      `json:"significant"`      // whether it differs significantly from the others
}

// LaneOffsetsResult is the lanes together and one by one.
type LaneOffsetsResult struct {
	Mean  unit.Mass    `json:"mean" sym:"m"`      // mean of the lanes, each counted once
	Shift unit.Mass    `json:"shift" sym:"shift"` // that mean, less what the calibration gives at the mark: the handle can correct this
	Worst int          `json:"worst"`             // the lane that is furthest from the mean; the first of several
	Far   unit.Mass    `json:"far" sym:"o"`       // how far, with its sign
	Lanes []LaneOffset `json:"lanes"`             // lane by lane, in the order given: the handle cannot correct these

	Conditions Conditions      `json:"conditions"` // lanes-uneven; scale-too-coarse if the trials show no scatter to judge by
	Cautions   reckon.Cautions `json:"cautions"`   // moving-belt
}

func (LaneOffsets) ID() string { return "lane-offsets" }

func (q LaneOffsets) Check(c *reckon.Checks) {
	mark := c.Mark()
	q.Calibration.Check(c)
	c.Under(mark, "calibration")
	reckon.CheckRange(c, "mark", q.Mark, -maxMark, maxMark)
	n := len(q.Lanes)
	switch across := q.Calibration.Across; {
	case n < 2 || n > maxAcross:
		c.Fail("lanes", strconv.Itoa(n)+" lanes", "2 to "+strconv.Itoa(maxAcross)+" lanes")
		return
	case across > 0 && across <= maxAcross && across != n:
		c.Fail("lanes", strconv.Itoa(n)+" lanes", strconv.Itoa(across)+" lanes, as in the calibration")
	}
	var seen [maxAcross + 1]bool
	for i, l := range q.Lanes {
		mark := c.Mark()
		known := l.Lane >= 1 && l.Lane <= maxAcross
		if known && seen[l.Lane] {
			c.Fail("lane", strconv.Itoa(l.Lane), "each lane once")
		} else if known {
			seen[l.Lane] = true
		}
		l.Check(c)
		c.Item(mark, "lanes", i)
	}
}

func (q LaneOffsets) Solve() (LaneOffsetsResult, error) { return q.Append(nil) }

// Append is Solve with the lanes appended to dst.
func (q LaneOffsets) Append(dst []LaneOffset) (out LaneOffsetsResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	k := &q.Calibration
	lanes := float64(len(q.Lanes))
	first := float64(q.Lanes[0].Weight)
	var mean, inverse float64
	for _, l := range q.Lanes {
		mean += (float64(l.Weight) - first) / lanes
		inverse += 1 / float64(l.Pieces)
	}
	mean += first
	out = LaneOffsetsResult{Mean: unit.Mass(mean), Shift: unit.Mass(mean - k.at(q.Mark-k.MeanMark)), Lanes: dst, Conditions: k.unscattered()}
	t := q.student()
	for _, l := range q.Lanes {
		offset := float64(l.Weight) - mean
		v := (1-2/lanes)/float64(l.Pieces) + inverse/(lanes*lanes)
		half := float64(t * float64(k.PieceSD) * math.Sqrt(v))
		row := LaneOffset{
			Lane: l.Lane, Offset: unit.Mass(offset), Low: unit.Mass(offset - half), High: unit.Mass(offset + half),
			Significant: math.Abs(offset) > half,
		}
		if row.Significant {
			out.Conditions |= LanesUneven
		}
		// Two lanes as far off are told by the first, whatever the last digits of the mean.
		if out.Worst == 0 || math.Abs(offset)-math.Abs(float64(out.Far)) > 1e-12*math.Abs(mean) {
			out.Worst, out.Far = l.Lane, row.Offset
		}
		out.Lanes = append(out.Lanes, row)
	}
	out.Cautions = reckon.MovingBelt
	return out, nil
}

func (q LaneOffsets) Show(w *reckon.Working, out LaneOffsetsResult) {
	k := &q.Calibration
	w.Inputs(q)
	w.Lines(out,
		"lanes: L = count(y_#...)",
		"mean of the lanes: m = sum(y_#)/L  [each lane counted once]",
		"marks from the mean: u = x - x_m",
		"what the handle can correct: shift = m - ("+k.weightText("u")+")",
	)
	w.Given("Student's t for all lanes together", "t_L", q.student(), "", "one-sided at 1 - (1 - C/100)/(2*L)")
	w.Lines(out, "sum of one over the pieces: H = sum(1/n_#)")
	far := 0
	for i, row := range out.Lanes[len(out.Lanes)-len(q.Lanes):] {
		lane := strconv.Itoa(row.Lane)
		w.Item(i+1, row,
			"lane "+lane+", less the mean: o_# = y_# - m",
			"lane "+lane+", lower end: l_# = o_# - t_L*s_p*sqrt((1 - 2/L)/n_# + H/(L*L))",
			"lane "+lane+", upper end: h_# = o_# + t_L*s_p*sqrt((1 - 2/L)/n_# + H/(L*L))",
		)
		if row.Lane == out.Worst {
			far = i + 1
		}
	}
	w.Item(far, out, "furthest off the mean: o = o_#")
}

// student returns Student's t, or the normal value, for all lanes together.
func (q *LaneOffsets) student() float64 {
	k := &q.Calibration
	one := 1 - (1-float64(k.Confidence)/100)/(2*float64(len(q.Lanes)))
	if k.Weighting == KnownSD {
		return normalQuantile(one)
	}
	return distuv.StudentsT{Sigma: 1, Nu: float64(k.DegreesOfFreedom)}.Quantile(one)
}
