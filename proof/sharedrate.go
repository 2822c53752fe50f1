package proof

import (
	"fmt"
	"strconv"
	"strings"

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
	Share unit.Percent  `json:"share"` // its share, above 0 to 100 %
	Rate  unit.MassRate `json:"rate"`  // what the machine makes of it when it makes nothing else, above 0 to 1 million kg/h
}

// SharedRate returns the mean rate of a final proof or oven that several
// products share:
//
//	output: P = 100 / sum(share_i / P_i)
//	time:   P = sum(share_i * P_i) / 100
//
// The two differ, and a plan in shares of output read as shares of time
// promises too much. Time lost between products is not counted.
//
// It returns an *[reckon.InputError] if:
//   - there are no products or more than 1000, or the basis is not named,
//   - a share or a rate is out of its range, or the shares do not add to 100 % within 0.01 %.
//
// Source: course paper on the organisation of production, in
// testdata/cases/proof/shared-rate.json.
type SharedRate struct {
	Products []ProductShare `json:"products"` // 1 to 1000 products; the shares add to 100 %
	Basis    ShareBasis     `json:"basis"`    // "output" or "time"
}

func (SharedRate) ID() string { return "shared-rate" }

// SHELL
func (q SharedRate) Check(c *reckon.Checks) {
	_, err := explainSharedRate(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q SharedRate) Solve() (SharedRateResult, error) { return explainSharedRate(q, nil) }

func (q SharedRate) Show(w *reckon.Working, _ SharedRateResult) { _, _ = explainSharedRate(q, w) }

// SharedRateResult is what the machine makes over all products.
type SharedRateResult struct {
	Rate unit.MassRate `json:"rate"` // mean over all products
}

func explainSharedRate(in SharedRate, w *reckon.Working) (out SharedRateResult, err error) {
	c := reckon.Checks{Func: "shared-rate"}
	reckon.CheckEither(&c, "basis", in.Basis, ShareOfOutput, ShareOfTime)
	if len(in.Products) == 0 || len(in.Products) > 1000 {
		c.Fail("products", strconv.Itoa(len(in.Products))+" products", "1 to 1000 products")
		return SharedRateResult{}, c.Err()
	}
	total, over, times := 0.0, 0.0, 0.0
	for i, p := range in.Products {
		if !(p.Share > 0 && p.Share <= 100) {
			c.Fail(fmt.Sprintf("products[%d].share", i), p.Share.String(), "above 0 % to 100 %")
		}
		if !(p.Rate >= 1e-6 && p.Rate <= 1e6) {
			c.Fail(fmt.Sprintf("products[%d].rate", i), p.Rate.String(), "a rate above nothing, up to a million kg/h")
		}
		total += float64(p.Share)
		over += float64(p.Share) / float64(p.Rate)
		times += float64(float64(p.Share) * float64(p.Rate))
	}
	if c.OK() && !(total >= 99.99 && total <= 100.01) {
		c.Fail("products", unit.Percent(total).String()+" in all", "shares that add to 100 %")
	}
	if err := c.Err(); err != nil {
		return SharedRateResult{}, err
	}
	out = SharedRateResult{Rate: unit.MassRate(100 / over)}
	if in.Basis == ShareOfTime {
		out.Rate = unit.MassRate(times / 100)
	}
	if w != nil {
		var sum strings.Builder
		for i, p := range in.Products {
			n := strconv.Itoa(i + 1)
			w.Given("share of product "+n, "s_"+n, float64(p.Share), "%", "")
			w.Given("rate of product "+n, "P_"+n, float64(p.Rate), "kg/h", "")
			if i > 0 {
				sum.WriteString(" + ")
			}
			if in.Basis == ShareOfTime {
				sum.WriteString("s_" + n + "*P_" + n)
			} else {
				sum.WriteString("s_" + n + "/P_" + n)
			}
		}
		if in.Basis == ShareOfTime {
			w.Step("mean rate", "P", "("+sum.String()+") / 100", float64(out.Rate), "kg/h", "hours are shared")
		} else {
			w.Step("mean rate", "P", "100 / ("+sum.String()+")", float64(out.Rate), "kg/h", "every kilogram takes its own time")
		}
	}
	return out, nil
}
