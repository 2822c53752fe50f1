package whatif

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func demo(t testing.TB) line.Scenario {
	t.Helper()
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	day, err := line.ReadScenario(data)
	require.NoError(t, err)
	return day
}

// bake is an invented calculation with all that a study may meet: lists of
// an answer whose length varies, parts that are left out, words and flags.
type bake struct {
	Trays  []tray    `json:"trays" items:"..100"`
	Count  int       `json:"count" range:"0..10"`
	Oven   unit.Temp `json:"oven" range:"100 °C..300 °C"`
	Spare  *tray     `json:"spare,omitzero"`
	Crust  crust     `json:"crust"`
	Steam  bool      `json:"steam,omitzero"`
	Factor float64   `json:"factor" range:"-"`
}

type tray struct {
	Name string    `json:"name"`
	Load unit.Mass `json:"load" range:">0 g..10 kg"`
}

type crust string

const (
	soft crust = "soft"
	hard crust = "hard"
)

type bakeWords struct{}

func (bakeWords) Conditions() []reckon.Note {
	return []reckon.Note{{Word: "heavy", Says: "It is heavy."}, {Word: "burnt", Says: "It is burnt."}}
}

const (
	heavy reckon.Set[bakeWords] = 1 << (reckon.FirstOwn + iota)
	burnt
)

type baked struct {
	Loaves     []loaf                `json:"loaves"`
	Best       *loaf                 `json:"best,omitzero"`
	Rest       loaf                  `json:"rest,omitzero"`
	Note       string                `json:"note"`
	Steamed    bool                  `json:"steamed"`
	Core       unit.Temp             `json:"core"`
	Total      unit.Mass             `json:"total"`
	Conditions reckon.Set[bakeWords] `json:"conditions"`
	Cautions   reckon.Cautions       `json:"cautions"`
}

type loaf struct {
	Name       string                `json:"name"`
	Weight     unit.Mass             `json:"weight"`
	Conditions reckon.Set[bakeWords] `json:"conditions"`
}

func (bake) ID() string { return "bake" }

func (q bake) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "count", q.Count, 0, 10)
	reckon.CheckTemp(c, "oven", q.Oven, unit.Celsius(100), unit.Celsius(300))
	reckon.CheckEither(c, "crust", q.Crust, soft, hard)
	reckon.CheckRange(c, "factor", q.Factor, 0.1, 2)
	for i := range q.Trays {
		mark := c.Mark()
		reckon.CheckAbove(c, "load", q.Trays[i].Load, 10_000)
		c.Item(mark, "trays", i)
	}
}

func (q bake) Solve() (out baked, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	if q.Oven.Celsius() > 280 && q.Crust == soft {
		return out, &reckon.NoSolutionError{Func: q.ID(), Unknown: "soft crust", Wanted: q.Oven.String(), High: "280 °C", Advice: "bake it cooler"}
	}
	for i := range min(q.Count, len(q.Trays)) {
		l := loaf{Name: q.Trays[i].Name, Weight: unit.Mass(float64(q.Trays[i].Load) * q.Factor)}
		if l.Weight > 1000 {
			l.Conditions |= heavy
		}
		out.Total += l.Weight
		out.Loaves = append(out.Loaves, l)
	}
	if q.Spare != nil {
		out.Best = &loaf{q.Spare.Name, q.Spare.Load, heavy}
	}
	if q.Steam {
		out.Rest = loaf{"rest", 5, 0}
		out.Core = q.Oven
	}
	if q.Oven.Celsius() > 250 {
		out.Conditions, out.Cautions = burnt, reckon.HotWater
	}
	out.Note, out.Steamed = string(q.Crust), q.Steam
	return out, nil
}

func (q bake) Show(w *reckon.Working, out baked) {}

func twoTrays() bake {
	return bake{
		Trays: []tray{{"top", 500}, {"bottom", 900}}, Count: 2, Oven: unit.Celsius(230),
		Spare: &tray{"spare", 100}, Crust: soft, Factor: 1,
	}
}
