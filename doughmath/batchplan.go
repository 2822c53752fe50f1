package doughmath

import (
	"cmp"
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// WasteBasis names what a waste allowance counts on. Sources use both.
type WasteBasis string

const (
	// WasteOnOrder adds the allowance to the order: dough = order * (1 + w).
	WasteOnOrder WasteBasis = "order"
	// WasteOnDough takes the allowance out of the dough: dough = order / (1 - w).
	WasteOnDough WasteBasis = "dough"
)

// Bounds on an order.
const mostPieces = 100_000_000

// checkWaste requires an allowance and, unless it is zero, its basis.
func checkWaste(c *reckon.Checks, waste unit.Percent, basis WasteBasis) {
	reckon.CheckBelow(c, "waste", waste, 0, 100)
	if waste != 0 || basis != "" {
		reckon.CheckEither(c, "waste_basis", basis, WasteOnOrder, WasteOnDough)
	}
}

// Factor returns the dough to make for 1 of dough in the pieces.
func (b WasteBasis) Factor(waste unit.Percent) float64 {
	if b == WasteOnDough {
		return 1 / (1 - float64(waste)/100)
	}
	return 1 + float64(waste)/100
}

// line is the step to [WasteBasis.Factor].
func (b WasteBasis) line() string {
	if b == WasteOnDough {
		return "dough for one of dough in pieces: k = 1/(1 - w/100)  [allowance of the dough]"
	}
	return "dough for one of dough in pieces: k = 1 + w/100  [allowance on the order]"
}

// BatchPlan asks how much dough an order takes, and in what equal batches to mix it:
//
//	n = n_o + n_s, D = n * m_k, m_k = m * k
//	waste on the order: k = 1 + w / 100; waste of the dough: k = 1 / (1 - w / 100)
//	n_M = floor(M / m_k)
//	b = ceil(n / n_M), n_b = ceil(n / b), D_b = n_b * m_k
//	n_a = b * n_b, D_a = n_a * m_k, n_l = n_a - n
//
// It makes as few batches as the mixer allows and makes them all alike, each of
// whole pieces; a few pieces more than ordered can come of it. The condition
// small-batch means that a batch is smaller than the mixer mixes well: make
// more for stock, or use a smaller mixer.
//
// It is exact arithmetic on the order.
//
// It is refused if:
//   - the mixer is too small for one piece and its waste,
//   - waste is allowed for and its basis is not named,
//   - mixer_low exceeds mixer_high.
//
// Source: The Fresh Loaf (on the guild's waste factor), waste on the order; French CAP examination EP2 (2014), an order;
// cases in testdata/cases/doughmath/batch-plan.json.
//
// The inverse is [PiecesForDough]; [MixedBatchPlan] takes several pieces from one dough.
type BatchPlan struct {
	Pieces      int          `json:"pieces" sym:"n_o" range:"1..100000000"`           // pieces ordered
	PieceWeight unit.Mass    `json:"piece_weight" sym:"m" range:"1 mg..1000 t"`       // dough weight of one piece
	Spare       int          `json:"spare,omitzero" sym:"n_s,0" range:"0..100000000"` // pieces made on top, for samples and rejects
	Waste       unit.Percent `json:"waste,omitzero" sym:"w,0" range:"0 %..<100 %"`    // dough that sticks, is trimmed or is swept up
	WasteBasis  WasteBasis   `json:"waste_basis,omitzero"`                            // "order" or "dough"; needed with a waste allowance
	MixerHigh   unit.Mass    `json:"mixer_high" sym:"M" range:"1 mg..1000 t"`         // most dough the mixer takes, at least one piece with its waste
	MixerLow    unit.Mass    `json:"mixer_low,omitzero" range:"-"`                    // least dough it mixes well, no more than mixer_high; 0 for no limit
}

// BatchPlanResult is the dough to make and the batches to make it in.
type BatchPlanResult struct {
	Dough          unit.Mass       `json:"dough" sym:"D"`              // dough that the order takes, with spare and waste
	Batches        int             `json:"batches" sym:"b"`            // batches, all alike
	PiecesPerBatch int             `json:"pieces_per_batch" sym:"n_b"` // whole pieces in each
	BatchDough     unit.Mass       `json:"batch_dough" sym:"D_b"`      // dough of each, with its waste
	Made           unit.Mass       `json:"made" sym:"D_a"`             // dough of all batches
	PiecesMade     int             `json:"pieces_made" sym:"n_a"`      // pieces of all batches
	LeftoverPieces int             `json:"leftover_pieces" sym:"n_l"`  // pieces beyond the order and the spare, because batches are alike and whole
	Conditions     Conditions      `json:"conditions"`                 // rounded, small-batch, leftover-dough
	Cautions       reckon.Cautions `json:"cautions"`                   // lifting
}

func (BatchPlan) ID() string { return "batch-plan" }

func (q BatchPlan) Check(c *reckon.Checks) { q.check(c) }

// check returns the dough for one piece with its waste, in g.
func (q *BatchPlan) check(c *reckon.Checks) (each float64) {
	reckon.CheckCount(c, "pieces", q.Pieces, 1, mostPieces)
	reckon.CheckCount(c, "spare", q.Spare, 0, mostPieces)
	checkMass(c, "piece_weight", q.PieceWeight)
	checkWaste(c, q.Waste, q.WasteBasis)
	checkMixer(c, q.MixerHigh, q.MixerLow)
	each = float64(q.PieceWeight) * q.WasteBasis.Factor(q.Waste)
	if c.OK() && each > float64(q.MixerHigh)*(1+1e-12) {
		c.Fail("mixer_high", reckon.Text(q.MixerHigh), "at least "+reckon.Text(unit.Mass(each))+", for one piece and its waste")
	}
	return each
}

func checkMixer(c *reckon.Checks, most, least unit.Mass) {
	if checkMass(c, "mixer_high", most) {
		reckon.CheckRange(c, "mixer_low", least, 0, most)
	} else {
		reckon.CheckNotNegative(c, "mixer_low", least)
	}
}

func (q BatchPlan) Solve() (out BatchPlanResult, err error) {
	err = q.SolveInto(&out)
	return out, err
}

// SolveInto is Solve with the answer written to out.
func (q *BatchPlan) SolveInto(out *BatchPlanResult) error {
	*out = BatchPlanResult{}
	c := reckon.Checks{Func: q.ID()}
	each := q.check(&c)
	if !c.OK() {
		return c.Err()
	}
	all := q.Pieces + q.Spare
	// More pieces than the order has are of no use, and keep the count in range.
	most := int(min(max(1, wholeBelow(float64(q.MixerHigh)/each)), 2*mostPieces))
	batches := (all + most - 1) / most
	per := (all + batches - 1) / batches
	made := batches * per
	out.Dough, out.Batches, out.PiecesPerBatch = unit.Mass(float64(all)*each), batches, per
	out.BatchDough, out.Made, out.PiecesMade = unit.Mass(float64(per)*each), unit.Mass(float64(made)*each), made
	out.LeftoverPieces, out.Cautions = made-all, reckon.Lifting
	if out.LeftoverPieces > 0 {
		out.Conditions |= reckon.Rounded | LeftoverDough
	}
	if float64(out.BatchDough) < float64(q.MixerLow)*(1-1e-12) {
		out.Conditions |= SmallBatch
	}
	return nil
}

func (q BatchPlan) Show(w *reckon.Working, out BatchPlanResult) {
	w.Inputs(q)
	w.Lines(out,
		"pieces to make: n = n_o + n_s",
		q.WasteBasis.line(),
		"dough for one piece: m_k = m*k in g",
		"dough for the order: D = n*m_k",
	)
	// A quotient that binary arithmetic puts just under a whole number is that number.
	each := float64(q.PieceWeight) * q.WasteBasis.Factor(q.Waste)
	w.Step("most pieces in a batch", "n_M", "floor(M/m_k)", wholeBelow(float64(q.MixerHigh)/each), "", "")
	w.Lines(out,
		"batches: b = ceil(n/n_M)",
		"pieces per batch: n_b = ceil(n/b)",
		"dough per batch: D_b = n_b*m_k",
		"pieces of all batches: n_a = b*n_b",
		"pieces left over: n_l = n_a - n",
		"dough of all batches: D_a = n_a*m_k",
	)
}

// PiecesForDough asks how many whole pieces a dough gives, and what is left:
//
//	n = floor(D / m_k), D_l = D - n * m_k, m_k = m * k
//	waste on the order: k = 1 + w / 100; waste of the dough: k = 1 / (1 - w / 100)
//
// It is the inverse of [BatchPlan], with the same validity.
//
// It is refused if:
//   - the dough gives more than 100 million pieces,
//   - waste is allowed for and its basis is not named.
//
// Source: US Army, Manual for Army Bakers (1916), field bread; cases in testdata/cases/doughmath/pieces-for-dough.json.
//
// The inverse is [BatchPlan].
type PiecesForDough struct {
	Dough       unit.Mass    `json:"dough" sym:"D" range:"1 mg..1000 t"`           // dough at hand
	PieceWeight unit.Mass    `json:"piece_weight" sym:"m" range:"1 mg..1000 t"`    // dough weight of one piece
	Waste       unit.Percent `json:"waste,omitzero" sym:"w,0" range:"0 %..<100 %"` // dough that sticks, is trimmed or is swept up
	WasteBasis  WasteBasis   `json:"waste_basis,omitzero"`                         // "order" or "dough"; needed with a waste allowance
}

// PiecesForDoughResult is the pieces that come of a dough.
type PiecesForDoughResult struct {
	Pieces        int        `json:"pieces" sym:"n"`           // whole pieces
	LeftoverDough unit.Mass  `json:"leftover_dough" sym:"D_l"` // dough after the last whole piece and the waste
	Conditions    Conditions `json:"conditions"`               // rounded, leftover-dough
}

func (PiecesForDough) ID() string { return "pieces-for-dough" }

func (q PiecesForDough) Check(c *reckon.Checks) {
	doughOK := checkMass(c, "dough", q.Dough)
	if checkMass(c, "piece_weight", q.PieceWeight) && doughOK && float64(q.Dough) > mostPieces*float64(q.PieceWeight) {
		c.Fail("piece_weight", reckon.Text(q.PieceWeight), "a weight of which a dough of "+reckon.Text(q.Dough)+" gives at most 100 million pieces")
	}
	checkWaste(c, q.Waste, q.WasteBasis)
}

func (q PiecesForDough) Solve() (out PiecesForDoughResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	each := float64(q.PieceWeight) * q.WasteBasis.Factor(q.Waste)
	n := wholeBelow(float64(q.Dough) / each)
	left := max(0, float64(q.Dough)-float64(n*each))
	out.Pieces, out.LeftoverDough = int(n), unit.Mass(left)
	if left > roundingSlack*each {
		out.Conditions = reckon.Rounded | LeftoverDough
	}
	return out, nil
}

func (q PiecesForDough) Show(w *reckon.Working, out PiecesForDoughResult) {
	w.Inputs(q)
	w.Lines(out,
		q.WasteBasis.line(),
		"dough for one piece: m_k = m*k in g",
		"whole pieces: n = floor(D/m_k)",
		"dough left: D_l = D - n*m_k",
	)
}

// OrderLine is one piece of a mixed order.
type OrderLine struct {
	Name        string    `json:"name,omitzero"`                                   // what it is called, if it has a name
	Pieces      int       `json:"pieces" sym:"n_#" range:"1..100000000"`           // pieces ordered
	PieceWeight unit.Mass `json:"piece_weight" sym:"m_#" range:"1 mg..1000 t"`     // dough weight of one piece
	Spare       int       `json:"spare,omitzero" sym:"s_#,0" range:"0..100000000"` // pieces made on top
}

// MixedBatchPlan asks how much dough an order of several piece weights takes,
// line by line, and in what equal batches to mix it:
//
//	N_i = n_i + s_i, D_i = N_i * m_i
//	n = sum of N_i, D_o = sum of D_i, x_i = 100 * D_i / D_o
//	waste on the order: k = 1 + w / 100; waste of the dough: k = 1 / (1 - w / 100)
//	D = D_o * k, b = ceil(D / M), D_b = D / b
//
// The batches are equal in dough; a batch need not end on a whole piece, for
// the next one follows on the same line.
//
// It is exact arithmetic on the order. The dough is dough, not flour: pass it to [FormulaScale] as dough.
//
// It is refused if:
//   - waste is allowed for and its basis is not named,
//   - mixer_low exceeds mixer_high,
//   - the order takes more than 100 million batches.
//
// Source: French CAP examination EP2 (2014), an order in five weights; cases in testdata/cases/doughmath/mixed-batch-plan.json.
type MixedBatchPlan struct {
	Order      []OrderLine  `json:"order" items:"1..1000"`                        // the pieces, in the order of scaling
	Waste      unit.Percent `json:"waste,omitzero" sym:"w,0" range:"0 %..<100 %"` // dough that sticks, is trimmed or is swept up
	WasteBasis WasteBasis   `json:"waste_basis,omitzero"`                         // "order" or "dough"; needed with a waste allowance
	MixerHigh  unit.Mass    `json:"mixer_high" sym:"M" range:"1 mg..1000 t"`      // most dough the mixer takes
	MixerLow   unit.Mass    `json:"mixer_low,omitzero" range:"-"`                 // least dough it mixes well, no more than mixer_high; 0 for no limit
}

// OrderDough is the dough of one line of a mixed order.
type OrderDough struct {
	Name   string       `json:"name"`             // as in the order
	Pieces int          `json:"pieces" sym:"N_#"` // pieces to make, spare included
	Dough  unit.Mass    `json:"dough" sym:"D_#"`  // dough in the pieces, without waste
	Share  unit.Percent `json:"share" sym:"x_#"`  // of the dough in all pieces
}

// MixedBatchPlanResult is the dough of a mixed order and the batches to make it in.
type MixedBatchPlanResult struct {
	Lines      []OrderDough    `json:"lines"`                 // in the order given
	Pieces     int             `json:"pieces" sym:"n"`        // all pieces
	NetDough   unit.Mass       `json:"net_dough" sym:"D_o"`   // dough in the pieces
	Dough      unit.Mass       `json:"dough" sym:"D"`         // the same with its waste
	Batches    int             `json:"batches" sym:"b"`       // batches, all alike
	BatchDough unit.Mass       `json:"batch_dough" sym:"D_b"` // dough of each
	Conditions Conditions      `json:"conditions"`            // small-batch
	Cautions   reckon.Cautions `json:"cautions"`              // lifting
}

func (MixedBatchPlan) ID() string { return "mixed-batch-plan" }

func (q MixedBatchPlan) Check(c *reckon.Checks) { q.check(c) }

// check returns the pieces, their dough, and the dough with its waste, in g.
func (q MixedBatchPlan) check(c *reckon.Checks) (pieces int, net, dough float64) {
	if len(q.Order) == 0 || len(q.Order) > mostListItems {
		c.Fail("order", strconv.Itoa(len(q.Order))+" lines", "1 to "+strconv.Itoa(mostListItems)+" lines")
	}
	for i := range q.Order {
		l := &q.Order[i]
		mark := c.Mark()
		reckon.CheckCount(c, "pieces", l.Pieces, 1, mostPieces)
		reckon.CheckCount(c, "spare", l.Spare, 0, mostPieces)
		checkMass(c, "piece_weight", l.PieceWeight)
		c.Item(mark, "order", i)
		pieces += l.Pieces + l.Spare
		net += float64(float64(l.Pieces+l.Spare) * float64(l.PieceWeight))
	}
	checkWaste(c, q.Waste, q.WasteBasis)
	checkMixer(c, q.MixerHigh, q.MixerLow)
	if !c.OK() {
		return 0, 0, 0
	}
	dough = net * q.WasteBasis.Factor(q.Waste)
	if !(dough <= mostPieces*float64(q.MixerHigh)) {
		c.Fail("mixer_high", reckon.Text(q.MixerHigh), "a mixer that takes the order in at most 100 million batches")
	}
	return pieces, net, dough
}

func (q MixedBatchPlan) Solve() (MixedBatchPlanResult, error) { return q.Append(nil) }

// Append is Solve with the lines appended to dst.
func (q MixedBatchPlan) Append(dst []OrderDough) (out MixedBatchPlanResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	pieces, net, dough := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	for i := range q.Order {
		l := &q.Order[i]
		n := l.Pieces + l.Spare
		each := float64(n) * float64(l.PieceWeight)
		dst = append(dst, OrderDough{Name: l.Name, Pieces: n, Dough: unit.Mass(each), Share: unit.Percent(100 * each / net)})
	}
	batches := math.Max(1, math.Ceil(dough/float64(q.MixerHigh)-roundingSlack))
	out = MixedBatchPlanResult{
		Lines: dst, Pieces: pieces, NetDough: unit.Mass(net), Dough: unit.Mass(dough), Batches: int(batches),
		BatchDough: unit.Mass(dough / batches), Cautions: reckon.Lifting,
	}
	if float64(out.BatchDough) < float64(q.MixerLow)*(1-1e-12) {
		out.Conditions |= SmallBatch
	}
	return out, nil
}

func (q MixedBatchPlan) Show(w *reckon.Working, out MixedBatchPlanResult) {
	out.Lines = out.Lines[len(out.Lines)-len(q.Order):]
	w.Inputs(q)
	names := make([]string, len(out.Lines))
	for i, l := range out.Lines {
		names[i] = cmp.Or(l.Name, "line "+strconv.Itoa(i+1))
	}
	var all itemLines
	for i, name := range names {
		all.item(i+1, name, "pieces to make: N_# = n_# + s_#", "dough: D_# = N_#*m_#")
	}
	all.line("all pieces: n = sum(N_#)", "dough in the pieces: D_o = sum(D_#)")
	for i, name := range names {
		all.item(i+1, name, "share of the dough: x_# = 100*D_#/D_o")
	}
	all.line(
		q.WasteBasis.line(),
		"dough with its waste: D = D_o*k",
		"batches: b = ceil(D/M)",
		"dough per batch: D_b = D/b",
	)
	all.show(w, out)
}
