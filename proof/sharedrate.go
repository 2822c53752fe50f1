package proof

import (
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// ShareBasis names what the shares of a machine that several products use are shares of.
type ShareBasis string

const (
	// ShareOfOutput counts the mass made: the mean is harmonic.
	ShareOfOutput ShareBasis = "output"
	// ShareOfTime counts the hours run: the mean is arithmetic.
	ShareOfTime ShareBasis = "time"
)

// ProductShare is one product on a shared proofer or oven.
type ProductShare struct {
	Share    unit.Percent  `json:"share" sym:"s_#" range:">0 %..100 %"`                     // its share
	MassRate unit.MassRate `json:"mass_rate" sym:"P_#" range:"0.000001 kg/h..1000000 kg/h"` // what the machine makes of it when it makes nothing else
}

func (p *ProductShare) check(c *reckon.Checks) {
	if !(p.Share > 0 && p.Share <= 100) {
		c.Fail("share", p.Share.String(), "above 0 % to 100 %")
	}
	reckon.CheckRange(c, "mass_rate", p.MassRate, 1e-6, 1e6)
}

// SharedRate asks how much a final proof or oven makes on average when several
// products share it:
//
//	output: P = 100 / sum(s_i / P_i)
//	time:   P = sum(s_i * P_i) / 100
//
// The two differ, and a plan in shares of output read as shares of time
// promises too much. Time lost between products is not counted.
//
// It is refused if:
//   - the shares do not add to 100 % within 0.01 %.
//
// Source: course paper on the organisation of production, in
// testdata/cases/proof/shared-rate.json.
type SharedRate struct {
	Products []ProductShare `json:"products" items:"1..1000"` // the products; their shares add to 100 %
	Basis    ShareBasis     `json:"basis"`                    // "output" or "time"
}

// SharedRateResult is what the machine makes over all products.
type SharedRateResult struct {
	MassRate unit.MassRate `json:"mass_rate" sym:"P"` // mean over all products
}

func (SharedRate) ID() string { return "shared-rate" }

func (q SharedRate) Check(c *reckon.Checks) {
	before := c.Mark()
	reckon.CheckEither(c, "basis", q.Basis, ShareOfOutput, ShareOfTime)
	if len(q.Products) == 0 || len(q.Products) > 1000 {
		c.Fail("products", strconv.Itoa(len(q.Products))+" products", "1 to 1000 products")
		return
	}
	total := 0.0
	for i := range q.Products {
		mark := c.Mark()
		q.Products[i].check(c)
		c.Item(mark, "products", i)
		total += float64(q.Products[i].Share)
	}
	if c.Mark() == before && !(total >= 99.99 && total <= 100.01) {
		c.Fail("products", unit.Percent(total).String()+" in all", "shares that add to 100 %")
	}
}

func (q SharedRate) Solve() (out SharedRateResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	over, times := 0.0, 0.0
	for _, p := range q.Products {
		over += float64(p.Share) / float64(p.MassRate)
		times += float64(float64(p.Share) * float64(p.MassRate))
	}
	out.MassRate = unit.MassRate(100 / over)
	if q.Basis == ShareOfTime {
		out.MassRate = unit.MassRate(times / 100)
	}
	return out, nil
}

func (q SharedRate) Show(w *reckon.Working, out SharedRateResult) {
	w.Inputs(q)
	if q.Basis == ShareOfTime {
		w.Lines(out, "mean rate: P = sum(s_#*P_#)/100  [hours are shared]")
	} else {
		w.Lines(out, "mean rate: P = 100/sum(s_#/P_#)  [every kilogram takes its own time]")
	}
}
