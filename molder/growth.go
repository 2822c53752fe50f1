package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A JarTrial is dough that proofed in a straight-sided jar.
type JarTrial struct {
	HeightBefore unit.Length `json:"height_before" sym:"b_#" range:"1 mm..1 m"` // height of the dough when the pieces are panned
	HeightAfter  unit.Length `json:"height_after" sym:"a_#" range:"-"`          // height when they are proofed, height_before to 8 times that
}

// GrowthFromJar asks how much dough grows in the proof, from dough in
// straight-sided jars that proofed beside the pieces:
//
//	G = (a_1 / b_1 + ... + a_n / b_n) / n
//	u = sqrt(sum((a_i / b_i - G)^2) / (n - 1))
//
// It belongs to the dough and to the time, warmth and damp of that proof.
//
// It is refused if:
//   - there is no jar,
//   - the dough in a jar fell, or rose to more than 8 times its height.
//
// Source: volume of a straight jar (derived); common practice; cases in testdata/cases/molder/growth-from-jar.json.
//
// It calibrates [PanFit] and [TrayFit].
type GrowthFromJar struct {
	Jars []JarTrial `json:"jars" items:"1..10000"` // at least one
}

// GrowthFromJarResult is how much the dough grows.
type GrowthFromJarResult struct {
	Growth float64 `json:"growth" sym:"G"`      // mean of the heights' ratio, which is that of the volumes
	SD     float64 `json:"sd,omitzero" sym:"u"` // sample standard deviation of it; left out for a single jar
	Count  int     `json:"count" sym:"n"`       // number of jars
}

func (GrowthFromJar) ID() string { return "growth-from-jar" }

func (q GrowthFromJar) Check(c *reckon.Checks) {
	reckon.CheckItems(c, "jars", len(q.Jars), mostTrials)
	if len(q.Jars) == 0 {
		c.Fail("jars", "empty", "at least one jar")
	}
	for i := range q.Jars {
		mark := c.Mark()
		q.Jars[i].Check(c)
		c.Item(mark, "jars", i)
	}
}

// Check requires dough that did not fall.
func (j *JarTrial) Check(c *reckon.Checks) {
	if reckon.CheckRange(c, "height_before", j.HeightBefore, 1, 1000) {
		reckon.CheckRange(c, "height_after", j.HeightAfter, j.HeightBefore, 8*j.HeightBefore)
	}
}

func (q GrowthFromJar) Solve() (out GrowthFromJarResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	sum, squares, n := 0.0, 0.0, float64(len(q.Jars))
	for _, j := range q.Jars {
		sum += float64(j.HeightAfter / j.HeightBefore)
	}
	out = GrowthFromJarResult{Growth: sum / n, Count: len(q.Jars)}
	if len(q.Jars) > 1 {
		for _, j := range q.Jars {
			d := float64(j.HeightAfter/j.HeightBefore) - out.Growth
			squares += float64(d * d)
		}
		out.SD = math.Sqrt(squares / (n - 1))
	}
	return out, nil
}

func (q GrowthFromJar) Show(w *reckon.Working, out GrowthFromJarResult) {
	w.Inputs(q)
	w.Lines(out,
		"jars: n = count(a_#...)",
		"growth: G = sum(a_#/b_#)/n  [straight jar: heights are as volumes]",
	)
	if out.Count > 1 {
		w.Lines(out, "standard deviation of the growth: u = sqrt(sum((a_#/b_# - G)*(a_#/b_# - G))/(n - 1))  [sample standard deviation]")
	}
}
