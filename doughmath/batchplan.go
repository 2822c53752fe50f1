package doughmath

import (
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

// checkWaste wants an allowance and, unless it is zero, its basis.
func checkWaste(c *reckon.Checks, waste unit.Percent, basis WasteBasis) {
	reckon.CheckBelow(c, "waste", waste, 0, 100)
	if waste != 0 || basis != "" {
		reckon.CheckEither(c, "waste_basis", basis, WasteOnOrder, WasteOnDough)
	}
}

// factor returns the dough to make for 1 of dough in the pieces.
func (b WasteBasis) factor(waste unit.Percent) float64 {
	if b == WasteOnDough {
		return 1 / (1 - float64(waste)/100)
	}
	return 1 + float64(waste)/100
}

func (b WasteBasis) explain(w *reckon.Working, waste unit.Percent, k float64) {
	w.Given("waste allowance", "w", float64(waste), "%", "")
	if b == WasteOnDough {
		w.Step("dough for one of dough in pieces", "k", "1/(1 - w/100)", k, "", "allowance of the dough")
	} else {
		w.Step("dough for one of dough in pieces", "k", "1 + w/100", k, "", "allowance on the order")
	}
}

// BatchPlan returns the dough that an order takes and the equal batches to mix it in.
//
//	dough = (pieces + spare) * piece weight * k
//	waste on the order: k = 1 + w; waste of the dough: k = 1 / (1 - w)
//	most pieces in a batch = floor(mixer_most / (piece weight * k))
//	batches = ceil(all pieces / most pieces), pieces per batch = ceil(all pieces / batches)
//
// It makes as few batches as the mixer allows and makes them all alike, each of
// whole pieces; a few pieces more than ordered can come of it. The condition
// small-batch means that a batch falls below what the mixer mixes well: make
// more for stock, or use a smaller mixer.
//
// It is exact arithmetic on the order.
//
// It returns an *[reckon.InputError] if:
//   - pieces is outside 1 to 100 million, spare is outside 0 to 100 million,
//   - piece_weight or mixer_most is outside 1 mg to 1000 t, or the mixer does not take one piece,
//   - waste is outside 0 to under 100 %, or its basis is not named,
//   - mixer_least is negative or more than mixer_most.
//
// Source: The Fresh Loaf (on the guild's waste factor), waste on the order; French CAP examination EP2 (2014), an order;
// cases in testdata/cases/doughmath/batch-plan.json.
//
// The inverse is [PiecesForDough]; [MixedBatchPlan] takes several pieces from one dough.
type BatchPlan struct {
	Pieces      int          `json:"pieces"`               // pieces ordered; 1 to 100 million
	PieceWeight unit.Mass    `json:"piece_weight"`         // dough weight of one piece; 1 mg to 1000 t
	Spare       int          `json:"spare,omitzero"`       // pieces made on top, for samples and rejects; 0 to 100 million
	Waste       unit.Percent `json:"waste,omitzero"`       // dough that sticks, is trimmed or is swept up; 0 to under 100 %
	WasteBasis  WasteBasis   `json:"waste_basis,omitzero"` // "order" or "dough"; needed with a waste allowance
	MixerMost   unit.Mass    `json:"mixer_most"`           // most dough the mixer takes; 1 mg to 1000 t
	MixerLeast  unit.Mass    `json:"mixer_least,omitzero"` // least dough it mixes well, no more than mixer_most; 0 for no limit
}

func (BatchPlan) ID() string { return "batch-plan" }

// SHELL
func (q BatchPlan) Check(c *reckon.Checks) {
	_, err := explainBatchPlan(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q BatchPlan) Solve() (BatchPlanResult, error) { return explainBatchPlan(q, nil) }

func (q BatchPlan) Show(w *reckon.Working, _ BatchPlanResult) { _, _ = explainBatchPlan(q, w) }

// BatchPlanResult is the dough to make and the batches to make it in.
type BatchPlanResult struct {
	Dough          unit.Mass       `json:"dough"`            // dough that the order takes, with spare and waste
	Batches        int             `json:"batches"`          // batches, all alike
	PiecesPerBatch int             `json:"pieces_per_batch"` // whole pieces in each
	BatchDough     unit.Mass       `json:"batch_dough"`      // dough of each, with its waste
	Made           unit.Mass       `json:"made"`             // dough of all batches
	PiecesMade     int             `json:"pieces_made"`      // pieces of all batches
	Leftover       int             `json:"leftover"`         // pieces beyond the order and the spare, because batches are alike and whole
	Conditions     Conditions      `json:"conditions"`       // rounded, small-batch, leftover-dough
	Cautions       reckon.Cautions `json:"cautions"`         // lifting
}

func explainBatchPlan(in BatchPlan, w *reckon.Working) (out BatchPlanResult, err error) {
	c := reckon.Checks{Func: "batch-plan"}
	reckon.CheckCount(&c, "pieces", in.Pieces, 1, mostPieces)
	reckon.CheckCount(&c, "spare", in.Spare, 0, mostPieces)
	pieceOK := checkMass(&c, "piece_weight", in.PieceWeight)
	checkWaste(&c, in.Waste, in.WasteBasis)
	if checkMixer(&c, in.MixerMost, in.MixerLeast) && pieceOK && c.OK() && float64(in.PieceWeight)*in.WasteBasis.factor(in.Waste) > float64(in.MixerMost)*(1+1e-12) {
		c.Fail("mixer_most", reckon.Text(in.MixerMost), "at least "+reckon.Text(unit.Mass(float64(in.PieceWeight)*in.WasteBasis.factor(in.Waste)))+", for one piece and its waste")
	}
	if err := c.Err(); err != nil {
		return BatchPlanResult{}, err
	}
	k := in.WasteBasis.factor(in.Waste)
	each := float64(in.PieceWeight) * k
	all := in.Pieces + in.Spare
	// More pieces than the order has are of no use, and keep the count in range.
	most := int(min(max(1, wholeBelow(float64(in.MixerMost)/each)), 2*mostPieces))
	batches := (all + most - 1) / most
	per := (all + batches - 1) / batches
	made := batches * per
	out = BatchPlanResult{
		Dough: unit.Mass(float64(all) * each), Batches: batches, PiecesPerBatch: per,
		BatchDough: unit.Mass(float64(per) * each), Made: unit.Mass(float64(made) * each), PiecesMade: made,
		Leftover: made - all, Cautions: reckon.Lifting,
	}
	if out.Leftover > 0 {
		out.Conditions |= reckon.Rounded | LeftoverDough
	}
	if float64(out.BatchDough) < float64(in.MixerLeast)*(1-1e-12) {
		out.Conditions |= SmallBatch
	}
	if w != nil {
		w.Given("pieces ordered", "n_o", float64(in.Pieces), "", "")
		w.Given("spare pieces", "n_s", float64(in.Spare), "", "")
		w.Step("pieces to make", "n", "n_o + n_s", float64(all), "", "")
		w.Given("piece weight", "m", float64(in.PieceWeight), "g", "")
		in.WasteBasis.explain(w, in.Waste, k)
		w.Step("dough for one piece", "m_k", "m*k", each, "g", "")
		w.Step("dough for the order", "D", "n*m_k", float64(out.Dough), "g", "")
		w.Given("most the mixer takes", "M", float64(in.MixerMost), "g", "")
		w.Given("most pieces in a batch", "n_M", float64(most), "", "whole pieces in M/m_k")
		w.Step("batches", "b", "ceil(n/n_M)", float64(batches), "", "")
		w.Step("pieces per batch", "n_b", "ceil(n/b)", float64(per), "", "")
		w.Step("dough per batch", "D_b", "n_b*m_k", float64(out.BatchDough), "g", "")
		w.Step("dough of all batches", "D_a", "b*n_b*m_k", float64(out.Made), "g", "")
	}
	return out, nil
}

func checkMixer(c *reckon.Checks, most, least unit.Mass) bool {
	if !checkMass(c, "mixer_most", most) {
		reckon.CheckNotNegative(c, "mixer_least", least)
		return false
	}
	return reckon.CheckRange(c, "mixer_least", least, 0, most)
}

// PiecesForDough returns the whole pieces that a dough gives, and what is left.
//
//	pieces = floor(dough / (piece weight * k)), leftover = dough - pieces * piece weight * k
//
// It is the inverse of [BatchPlan], with the same validity; k is as there.
//
// It returns an *[reckon.InputError] if:
//   - dough or piece_weight is outside 1 mg to 1000 t, or the dough gives more than 100 million pieces,
//   - waste is outside 0 to under 100 %, or its basis is not named.
//
// Source: US Army, Manual for Army Bakers (1916), field bread; cases in testdata/cases/doughmath/pieces-for-dough.json.
type PiecesForDough struct {
	Dough       unit.Mass    `json:"dough"`                // dough at hand; 1 mg to 1000 t
	PieceWeight unit.Mass    `json:"piece_weight"`         // dough weight of one piece; 1 mg to 1000 t
	Waste       unit.Percent `json:"waste,omitzero"`       // dough that sticks, is trimmed or is swept up; 0 to under 100 %
	WasteBasis  WasteBasis   `json:"waste_basis,omitzero"` // "order" or "dough"; needed with a waste allowance
}

func (PiecesForDough) ID() string { return "pieces-for-dough" }

// SHELL
func (q PiecesForDough) Check(c *reckon.Checks) {
	_, err := explainPiecesForDough(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PiecesForDough) Solve() (PiecesForDoughResult, error) { return explainPiecesForDough(q, nil) }

func (q PiecesForDough) Show(w *reckon.Working, _ PiecesForDoughResult) {
	_, _ = explainPiecesForDough(q, w)
}

// PiecesForDoughResult is the pieces that come of a dough.
type PiecesForDoughResult struct {
	Pieces     int        `json:"pieces"`     // whole pieces
	Leftover   unit.Mass  `json:"leftover"`   // dough after the last whole piece and the waste
	Conditions Conditions `json:"conditions"` // rounded, leftover-dough
}

func explainPiecesForDough(in PiecesForDough, w *reckon.Working) (out PiecesForDoughResult, err error) {
	c := reckon.Checks{Func: "pieces-for-dough"}
	doughOK := checkMass(&c, "dough", in.Dough)
	if checkMass(&c, "piece_weight", in.PieceWeight) && doughOK && float64(in.Dough) > mostPieces*float64(in.PieceWeight) {
		c.Fail("piece_weight", reckon.Text(in.PieceWeight), "a piece that a dough of "+reckon.Text(in.Dough)+" gives at most 100 million times")
	}
	checkWaste(&c, in.Waste, in.WasteBasis)
	if err := c.Err(); err != nil {
		return PiecesForDoughResult{}, err
	}
	k := in.WasteBasis.factor(in.Waste)
	each := float64(in.PieceWeight) * k
	n := wholeBelow(float64(in.Dough) / each)
	left := max(0, float64(in.Dough)-float64(n*each))
	out = PiecesForDoughResult{Pieces: int(n), Leftover: unit.Mass(left)}
	if left > roundingSlack*each {
		out.Conditions = reckon.Rounded | LeftoverDough
	}
	if w != nil {
		w.Given("dough", "D", float64(in.Dough), "g", "")
		w.Given("piece weight", "m", float64(in.PieceWeight), "g", "")
		in.WasteBasis.explain(w, in.Waste, k)
		w.Step("dough for one piece", "m_k", "m*k", each, "g", "")
		w.Step("whole pieces", "n", "floor(D/m_k + 0.000000001)", n, "", "the last term forgives binary rounding")
		w.Step("dough left", "D_l", "max(0, D - n*m_k)", left, "g", "")
	}
	return out, nil
}

// OrderLine is one piece of a mixed order.
type OrderLine struct {
	Name        string    `json:"name,omitzero"`  // what it is called, if it has a name
	Pieces      int       `json:"pieces"`         // pieces ordered; 1 to 100 million
	PieceWeight unit.Mass `json:"piece_weight"`   // dough weight of one piece; 1 mg to 1000 t
	Spare       int       `json:"spare,omitzero"` // pieces made on top; 0 to 100 million
}

// MixedBatchPlan returns the dough that an order of several piece weights
// takes, line by line, and the equal batches to mix it in. The lines are appended to dst.
//
//	dough = sum of (pieces + spare) * piece weight, times k as in batch-plan
//	batches = ceil(dough / mixer_most), dough of each = dough / batches
//
// The batches are equal in dough; a batch need not end on a whole piece, for
// the next one follows on the same line.
//
// It is exact arithmetic on the order. The dough is dough, not flour: pass it to [FormulaScale] as dough.
//
// It returns an *[reckon.InputError] if:
//   - the order is empty or has more than 1000 lines,
//   - pieces is outside 1 to 100 million, spare is outside 0 to 100 million,
//   - piece_weight or mixer_most is outside 1 mg to 1000 t,
//   - waste is outside 0 to under 100 %, or its basis is not named,
//   - mixer_least is negative or more than mixer_most,
//   - the order takes more than 100 million batches.
//
// Source: French CAP examination EP2 (2014), an order in five weights; cases in testdata/cases/doughmath/mixed-batch-plan.json.
type MixedBatchPlan struct {
	Order      []OrderLine  `json:"order"`                // the pieces, in the order of scaling
	Waste      unit.Percent `json:"waste,omitzero"`       // dough that sticks, is trimmed or is swept up; 0 to under 100 %
	WasteBasis WasteBasis   `json:"waste_basis,omitzero"` // "order" or "dough"; needed with a waste allowance
	MixerMost  unit.Mass    `json:"mixer_most"`           // most dough the mixer takes; 1 mg to 1000 t
	MixerLeast unit.Mass    `json:"mixer_least,omitzero"` // least dough it mixes well, no more than mixer_most; 0 for no limit
}

func (MixedBatchPlan) ID() string { return "mixed-batch-plan" }

// SHELL
func (q MixedBatchPlan) Check(c *reckon.Checks) {
	_, err := explainMixedBatchPlan(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q MixedBatchPlan) Solve() (MixedBatchPlanResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q MixedBatchPlan) Append(dst []OrderDough) (MixedBatchPlanResult, error) {
	return explainMixedBatchPlan(q, dst, nil)
}

func (q MixedBatchPlan) Show(w *reckon.Working, _ MixedBatchPlanResult) {
	_, _ = explainMixedBatchPlan(q, nil, w)
}

// OrderDough is the dough of one line of a mixed order.
type OrderDough struct {
	Name   string       `json:"name"`   // as in the order
	Pieces int          `json:"pieces"` // pieces to make, spare included
	Dough  unit.Mass    `json:"dough"`  // dough in the pieces, without waste
	Share  unit.Percent `json:"share"`  // of the dough in all pieces
}

// MixedBatchPlanResult is the dough of a mixed order and the batches to make it in.
type MixedBatchPlanResult struct {
	Lines      []OrderDough    `json:"lines"`       // in the order given
	Pieces     int             `json:"pieces"`      // all pieces
	Net        unit.Mass       `json:"net"`         // dough in the pieces
	Dough      unit.Mass       `json:"dough"`       // the same with its waste
	Batches    int             `json:"batches"`     // batches, all alike
	BatchDough unit.Mass       `json:"batch_dough"` // dough of each
	Conditions Conditions      `json:"conditions"`  // small-batch
	Cautions   reckon.Cautions `json:"cautions"`    // lifting
}

func explainMixedBatchPlan(in MixedBatchPlan, dst []OrderDough, w *reckon.Working) (out MixedBatchPlanResult, err error) {
	c := reckon.Checks{Func: "mixed-batch-plan"}
	if len(in.Order) == 0 || len(in.Order) > mostListItems {
		c.Fail("order", strconv.Itoa(len(in.Order))+" lines", "1 to "+strconv.Itoa(mostListItems)+" lines")
	}
	net, pieces := 0.0, 0
	for i := range in.Order {
		l := &in.Order[i]
		if l.Pieces < 1 || l.Pieces > mostPieces {
			reckon.CheckCount(&c, itemField("order", i, "pieces"), l.Pieces, 1, mostPieces)
		}
		if l.Spare < 0 || l.Spare > mostPieces {
			reckon.CheckCount(&c, itemField("order", i, "spare"), l.Spare, 0, mostPieces)
		}
		if !(l.PieceWeight >= smallestMass && l.PieceWeight <= largestMass) {
			checkMass(&c, itemField("order", i, "piece_weight"), l.PieceWeight)
		}
		if c.OK() {
			pieces += l.Pieces + l.Spare
			net += float64(float64(l.Pieces+l.Spare) * float64(l.PieceWeight))
		}
	}
	checkWaste(&c, in.Waste, in.WasteBasis)
	mixerOK := checkMixer(&c, in.MixerMost, in.MixerLeast)
	k := 1.0
	if c.OK() {
		k = in.WasteBasis.factor(in.Waste)
		if mixerOK && !(net*k <= mostPieces*float64(in.MixerMost)) {
			c.Fail("mixer_most", reckon.Text(in.MixerMost), "a mixer that makes the order in no more than 100 million batches")
		}
	}
	if err := c.Err(); err != nil {
		return MixedBatchPlanResult{}, err
	}
	for i := range in.Order {
		l := &in.Order[i]
		n := l.Pieces + l.Spare
		dough := float64(n) * float64(l.PieceWeight)
		dst = append(dst, OrderDough{Name: l.Name, Pieces: n, Dough: unit.Mass(dough), Share: unit.Percent(100 * dough / net)})
	}
	dough := net * k
	batches := math.Max(1, math.Ceil(dough/float64(in.MixerMost)-roundingSlack))
	out = MixedBatchPlanResult{
		Lines: dst, Pieces: pieces, Net: unit.Mass(net), Dough: unit.Mass(dough), Batches: int(batches),
		BatchDough: unit.Mass(dough / batches), Cautions: reckon.Lifting,
	}
	if float64(out.BatchDough) < float64(in.MixerLeast)*(1-1e-12) {
		out.Conditions |= SmallBatch
	}
	if w != nil {
		sum := ""
		for i, l := range in.Order {
			n := strconv.Itoa(i + 1)
			w.Given("pieces, line "+n, "n_"+n, float64(l.Pieces+l.Spare), "", "")
			w.Given("piece weight, line "+n, "m_"+n, float64(l.PieceWeight), "g", "")
			sum = plus(sum, "n_"+n+"*m_"+n)
		}
		w.Step("dough in the pieces", "D_n", sum, net, "g", "")
		in.WasteBasis.explain(w, in.Waste, k)
		w.Step("dough with its waste", "D", "D_n*k", dough, "g", "")
		w.Given("most the mixer takes", "M", float64(in.MixerMost), "g", "")
		w.Step("batches", "b", "max(1, ceil(D/M - 0.000000001))", batches, "", "")
		w.Step("dough per batch", "D_b", "D/b", float64(out.BatchDough), "g", "")
	}
	return out, nil
}
