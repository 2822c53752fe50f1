package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Belt is one belt of the line and the piece as it lies on it.
type Belt struct {
	Name             string      `json:"name"`                                                     // what the shop calls it; not empty
	BeltSpeed        unit.Speed  `json:"belt_speed,omitzero" sym:"v_#" range:"0.1 mm/s..10 m/s"`   // its own speed; leave out if it is geared to the line
	AdvancePerStroke unit.Length `json:"advance_per_stroke,omitzero" sym:"a_#" range:"1 mm..10 m"` // how far it goes for each stroke of the line, which puts one piece on this lane; leave out if it has a speed of its own
	PieceLength      unit.Length `json:"piece_length" sym:"l_#" range:"1 mm..5 m"`                 // length of a piece along this belt: of a ball before the moulder, of a moulded piece behind it
}

// Geared belts, taken wide.
const (
	shortestAdvance unit.Length = 1
	longestAdvance  unit.Length = 10000
)

// speed returns the belt's own speed, or that which the line gives it.
func (b *Belt) speed(rate unit.PieceRate) unit.Speed {
	if b.AdvancePerStroke != 0 {
		return unit.Speed(float64(b.AdvancePerStroke) * float64(rate) / 60)
	}
	return b.BeltSpeed
}

// pitch returns the distance from piece to piece: on a geared belt it is the
// advance, whatever the rate.
func (b *Belt) pitch(rate unit.PieceRate) unit.Length {
	if b.AdvancePerStroke != 0 {
		return b.AdvancePerStroke
	}
	return pitchOf(b.BeltSpeed, rate)
}

// A BeltRow is how the pieces run on one belt.
type BeltRow struct {
	Name  string      `json:"name"`                     // of the belt
	Pitch unit.Length `json:"pitch" sym:"p_#"`          // from one piece to the same point of the next
	Gap   unit.Length `json:"gap" sym:"g_#"`            // free belt between them
	Ratio float64     `json:"ratio,omitzero" sym:"R_#"` // its speed over that of the belt before; left out for the first
}

// BeltTrain asks how far apart the pieces are on every belt of the line, and
// what the ratios of the belt speeds are:
//
//	v_i = a_i * r / 60  of a belt that is geared to the line
//	p_i = v_i * 60 / r
//	g_i = p_i - l_i
//	R_i = v_i / v_(i-1)
//
// A belt that is faster than the one before pulls the pieces apart, a slower
// one pushes them together. It holds for pieces that arrive evenly; for
// uneven arrival see [DoublesRisk]. Lanes that merge do not come evenly unless they are
// staggered for it. On a belt that is geared to the line the pieces lie its advance apart at any rate.
//
// It is refused if:
//   - a belt has neither a speed of its own nor an advance, or both,
//   - a belt is so slow, or advances so little, that the pieces touch,
//   - a belt is so fast that more than 100 m of it are free between two pieces.
//
// Source: kinematics (derived); cases in testdata/cases/molder/belt-train.json.
//
// The inverse, belt by belt, is [BeltForGap].
type BeltTrain struct {
	PieceRate unit.PieceRate `json:"piece_rate" sym:"r" range:"0.01 pieces/min..10000 pieces/min"` // pieces on this lane
	Belts     []Belt         `json:"belts" items:"1..100"`                                         // in the order of travel; at least one
	LeastGap  unit.Length    `json:"least_gap,omitzero" range:"0 mm..5 m"`                         // smallest gap wanted; with 0 only touching pieces are refused
}

// BeltTrainResult is how the pieces run on every belt.
type BeltTrainResult struct {
	Rows       []BeltRow       `json:"rows"`       // one for each belt
	Tightest   int             `json:"tightest"`   // index of the belt with the smallest gap
	Conditions Conditions      `json:"conditions"` // risk-of-doubles
	Cautions   reckon.Cautions `json:"cautions"`   // moving-machinery, running-drive
}

func (BeltTrain) ID() string { return "belt-train" }

func (q BeltTrain) Check(c *reckon.Checks) {
	rate := reckon.CheckRange(c, "piece_rate", q.PieceRate, slowestRate, fastestRate)
	reckon.CheckRange(c, "least_gap", q.LeastGap, 0, longestBody)
	reckon.CheckItems(c, "belts", len(q.Belts), mostParts)
	if len(q.Belts) == 0 {
		c.Fail("belts", "empty", "at least one belt")
	}
	for i := range q.Belts {
		mark := c.Mark()
		if q.Belts[i].check(c) && rate {
			q.Belts[i].checkSpacing(c, q.PieceRate)
		}
		c.Item(mark, "belts", i)
	}
}

func (b *Belt) check(c *reckon.Checks) bool {
	if b.Name == "" {
		c.Fail("name", `""`, "a name to tell the belt by")
	}
	ok := false
	switch {
	case b.BeltSpeed == 0 && b.AdvancePerStroke == 0:
		c.Fail("belt_speed", "missing", "a speed of its own, or advance_per_stroke if it is geared to the line")
	case b.AdvancePerStroke == 0:
		ok = reckon.CheckRange(c, "belt_speed", b.BeltSpeed, slowestBelt, fastestBelt)
	case b.BeltSpeed == 0:
		ok = reckon.CheckRange(c, "advance_per_stroke", b.AdvancePerStroke, shortestAdvance, longestAdvance)
	default:
		reckon.CheckRange(c, "belt_speed", b.BeltSpeed, slowestBelt, fastestBelt)
		c.Fail("advance_per_stroke", b.AdvancePerStroke.String(), "nothing beside belt_speed: a belt has a speed of its own or is geared to the line")
	}
	return reckon.CheckRange(c, "piece_length", b.PieceLength, shortestBody, longestBody) && ok
}

// checkSpacing requires a speed at which the pieces neither touch nor lie farther
// apart than can be meant.
func (b *Belt) checkSpacing(c *reckon.Checks, rate unit.PieceRate) {
	switch gap := b.pitch(rate) - b.PieceLength; {
	case gap <= 0 && b.AdvancePerStroke != 0:
		c.Fail("advance_per_stroke", b.AdvancePerStroke.String(), "more than "+b.PieceLength.String()+", at which pieces of this length touch: geared to the line, it holds them as close at any speed")
	case gap <= 0:
		c.Fail("belt_speed", b.BeltSpeed.String(), apartWant(rate, b.PieceLength))
	case gap > widestFree*(1+1e-9):
		tooFree(c, "belt_speed", b.BeltSpeed.String(), gap)
	}
}

func (q BeltTrain) Solve() (BeltTrainResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q BeltTrain) Append(dst []BeltRow) (out BeltTrainResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	out.Cautions = reckon.MovingMachinery | reckon.RunningDrive
	tightest := unit.Length(math.Inf(1))
	for i, b := range q.Belts {
		row := BeltRow{Name: b.Name, Pitch: b.pitch(q.PieceRate)}
		row.Gap = row.Pitch - b.PieceLength
		if i > 0 {
			row.Ratio = float64(b.speed(q.PieceRate)) / float64(q.Belts[i-1].speed(q.PieceRate))
		}
		if row.Gap < tightest {
			tightest, out.Tightest = row.Gap, i
		}
		if row.Gap < q.LeastGap {
			out.Conditions |= RiskOfDoubles
		}
		dst = append(dst, row)
	}
	out.Rows = dst
	return out, nil
}

func (q BeltTrain) Show(w *reckon.Working, out BeltTrainResult) {
	w.Inputs(q)
	for i, row := range out.Rows[len(out.Rows)-len(q.Belts):] {
		if q.Belts[i].AdvancePerStroke != 0 {
			w.Item(i+1, nil, "speed of belt #: v_# = a_#*r/60{s/min} in mm/s  [geared to the line]")
		}
		w.Item(i+1, row,
			"pitch on belt #: p_# = v_#*60{s/min}/r",
			"gap on belt #: g_# = p_# - l_#",
		)
		if i > 0 {
			w.Item(i+1, row, fmt.Sprintf("speed of belt # over that of the belt before: R_# = v_#/v_%d", i))
		}
	}
}
