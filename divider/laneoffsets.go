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
	Lane   int       `json:"lane"`   // which lane, counted as on the line; 1 to 32, each once
	Weight unit.Mass `json:"weight"` // mean weight of its pieces; above 0 up to 1000 t
	Pieces int       `json:"pieces"` // how many pieces the mean is of; 1 to 100000
}

// LaneOffsets returns how the lanes of a divider differ at one mark, appended
// to the caller's slice:
//
//	offset_i = mean_i - mean over the lanes
//	SD^2 = s^2 * ((1 - 2/L)/n_i + sum(1/n_j)/L^2)
//
// with s the standard deviation of a piece, L lanes, n_i pieces. The intervals
// hold jointly for all lanes at the calibration's confidence, by Bonferroni's
// inequality. The handle moves every lane alike: what is common to them is for
// [NextMark], what is not is for the person who minds the chambers.
//
// It holds if the pieces of each lane scatter as those of the trials.
//
// It returns an *[reckon.InputError] if:
//   - the calibration is not one that [MarkFit] makes, or mark is not -1e9 to 1e9,
//   - there are fewer than 2 or more than 32 lanes, or not as many as the calibration is of,
//   - a lane is not 1 to 32 or is there twice, its weight not above 0 and up to 1000 t, its pieces not 1 to 100000.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 7.4.7.3 (Bonferroni) and 7.4.3 (one-way layout).
type LaneOffsets struct {
	Calibration Calibration    `json:"calibration"` // from [MarkFit], of the same pieces across
	Mark        float64        `json:"mark"`        // where the handle stood; -1e9 to 1e9
	Lanes       []LaneWeighing `json:"lanes"`       // 2 to 32 lanes; all of them, if the calibration says how many
}

func (LaneOffsets) ID() string { return "lane-offsets" }

// SHELL
func (q LaneOffsets) Check(c *reckon.Checks) {
	_, err := explainLaneOffsets(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q LaneOffsets) Solve() (LaneOffsetsResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q LaneOffsets) Append(dst []LaneOffset) (LaneOffsetsResult, error) {
	return explainLaneOffsets(q, dst, nil)
}

func (q LaneOffsets) Show(w *reckon.Working, _ LaneOffsetsResult) {
	_, _ = explainLaneOffsets(q, nil, w)
}

// LaneOffset is how one lane differs from the others.
type LaneOffset struct {
	Lane   int       `json:"lane"`   // which lane
	Offset unit.Mass `json:"offset"` // its mean, less the mean of the lanes
	Low    unit.Mass `json:"low"`    // lower end of the interval, joint over the lanes
	High   unit.Mass `json:"high"`   // upper end
	Told   bool      `json:"told"`   // whether the lane can be told from the others
}

// LaneOffsetsResult is the lanes together and one by one.
type LaneOffsetsResult struct {
	Mean  unit.Mass    `json:"mean"`  // mean of the lanes, each counted once
	Shift unit.Mass    `json:"shift"` // that mean, less what the calibration gives at the mark: the handle can mend this
	Worst int          `json:"worst"` // the lane that is furthest from the mean
	Far   unit.Mass    `json:"far"`   // how far, with its sign
	Lanes []LaneOffset `json:"lanes"` // lane by lane, in the order given: the handle cannot mend these

	Conditions Conditions `json:"conditions"` // lanes-uneven; scale-too-coarse if the trials show no scatter to judge by
}

func explainLaneOffsets(in LaneOffsets, dst []LaneOffset, w *reckon.Working) (out LaneOffsetsResult, err error) {
	c := reckon.Checks{Func: "lane-offsets"}
	in.check(&c)
	if err := c.Err(); err != nil {
		return LaneOffsetsResult{}, err
	}
	k := &in.Calibration
	lanes := float64(len(in.Lanes))
	first := float64(in.Lanes[0].Weight)
	var mean, inverse float64
	for _, l := range in.Lanes {
		mean += (float64(l.Weight) - first) / lanes
		inverse += 1 / float64(l.Pieces)
	}
	mean += first
	out = LaneOffsetsResult{Mean: unit.Mass(mean), Shift: unit.Mass(mean - k.at(in.Mark-k.MeanMark)), Lanes: dst, Conditions: k.unscattered()}
	one := 1 - (1-float64(k.Confidence)/100)/(2*lanes)
	t := normalQuantile(one)
	if k.Weighting != KnownSD {
		t = distuv.StudentsT{Sigma: 1, Nu: float64(k.DegreesOfFreedom)}.Quantile(one)
	}
	for _, l := range in.Lanes {
		offset := float64(l.Weight) - mean
		v := (1-2/lanes)/float64(l.Pieces) + inverse/(lanes*lanes)
		half := float64(t * float64(k.PieceSD) * math.Sqrt(v))
		row := LaneOffset{
			Lane: l.Lane, Offset: unit.Mass(offset), Low: unit.Mass(offset - half), High: unit.Mass(offset + half),
			Told: math.Abs(offset) > half,
		}
		if row.Told {
			out.Conditions |= LanesUneven
		}
		if out.Worst == 0 || math.Abs(offset) > math.Abs(float64(out.Far)) {
			out.Worst, out.Far = l.Lane, row.Offset
		}
		out.Lanes = append(out.Lanes, row)
	}
	if w != nil {
		w.Given("lanes", "L", lanes, "", "")
		w.Given("mean of the lanes", "m", mean, "g", "each lane counted once")
		for _, l := range in.Lanes {
			if l.Lane == out.Worst {
				w.Given("mean of the lane furthest off", "y", float64(l.Weight), "g", "")
				w.Step("its offset", "o", "y - m", float64(out.Far), "g", "")
			}
		}
	}
	return out, nil
}

func (in *LaneOffsets) check(c *reckon.Checks) {
	in.Calibration.check(c)
	reckon.CheckRange(c, "mark", in.Mark, -maxMark, maxMark)
	n := len(in.Lanes)
	switch across := in.Calibration.Across; {
	case n < 2 || n > maxAcross:
		c.Fail("lanes", strconv.Itoa(n)+" lanes", "2 to "+strconv.Itoa(maxAcross)+" lanes")
		return
	case across > 0 && across <= maxAcross && across != n:
		c.Fail("lanes", strconv.Itoa(n)+" lanes", strconv.Itoa(across)+" lanes, as in the calibration")
	}
	var seen [maxAcross + 1]bool
	for i, l := range in.Lanes {
		known := l.Lane >= 1 && l.Lane <= maxAcross
		if known && !seen[l.Lane] && l.Weight > 0 && l.Weight <= maxWeight && l.Pieces >= 1 && l.Pieces <= 100_000 {
			seen[l.Lane] = true
			continue
		}
		// The path is only built for a lane that is wrong.
		path := "lanes[" + strconv.Itoa(i) + "]."
		if known && seen[l.Lane] {
			c.Fail(path+"lane", strconv.Itoa(l.Lane), "each lane once")
		} else if reckon.CheckCount(c, path+"lane", l.Lane, 1, maxAcross) {
			seen[l.Lane] = true
		}
		reckon.CheckAbove(c, path+"weight", l.Weight, maxWeight)
		reckon.CheckCount(c, path+"pieces", l.Pieces, 1, 100_000)
	}
}
