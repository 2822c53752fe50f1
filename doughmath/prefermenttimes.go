package doughmath

import (
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PrefermentTime is how long one preferment takes, and what it goes into.
type PrefermentTime struct {
	Name     string        `json:"name"`                                  // what it is called; each name once, and not "final mix"
	Into     []string      `json:"into,omitzero" items:"..16"`            // the preferments that it goes into, up to 16; leave out if it only goes into the final mix
	Mixing   unit.Duration `json:"mixing" sym:"t_#" range:"0 s..4 h"`     // weighing and mixing
	Ripening unit.Duration `json:"ripening" sym:"r_#" range:"0 s..168 h"` // from mixed to ripe
}

// PrefermentTimes asks when each preferment is to be started:
//
//	b_i = t_i + r_i + the largest b of the mixes that it goes into
//	b_m = max(b_i)
//
// counted back from the start of the final mix, whose b is 0. A preferment that goes into another is
// ripe when that one is started.
//
// It holds for a preferment that is used when it is ripe. One that waits longer goes on ripening: cool it, or start it later.
//
// It is refused if:
//   - a name is empty, there twice, or "final mix",
//   - a preferment goes into what is not there, or into itself by way of others.
//
// Source: common practice; cases in testdata/cases/doughmath/preferment-times.json.
type PrefermentTimes struct {
	Preferments []PrefermentTime `json:"preferments" items:"1..16"` // everything that is mixed beforehand
}

// PrefermentStart is when one preferment is started.
type PrefermentStart struct {
	Name   string        `json:"name"`             // the preferment
	Before unit.Duration `json:"before" sym:"b_#"` // how long before the start of the final mix it is started
}

// PrefermentTimesResult is when to start.
type PrefermentTimesResult struct {
	Starts   []PrefermentStart `json:"starts"`             // in the order given
	Earliest unit.Duration     `json:"earliest" sym:"b_m"` // the first start, before the final mix
	Cautions reckon.Cautions   `json:"cautions"`           // flour-dust, lifting, spoilage
}

func (PrefermentTimes) ID() string { return "preferment-times" }

func (q PrefermentTimes) Check(c *reckon.Checks) { q.check(c) }

// check returns which goes into which, and the order: each after those that go into it.
func (q PrefermentTimes) check(c *reckon.Checks) (g mixGraph) {
	if len(q.Preferments) == 0 || len(q.Preferments) > mostPreferments {
		c.Fail("preferments", strconv.Itoa(len(q.Preferments))+" preferments", "1 to "+strconv.Itoa(mostPreferments)+" preferments")
		return g
	}
	g.n = len(q.Preferments)
	for i := range q.Preferments {
		p, mark := &q.Preferments[i], c.Mark()
		switch {
		case p.Name == "" || p.Name == FinalMix:
			c.Fail("name", strconv.Quote(p.Name), "a name other than \""+FinalMix+"\"")
		case q.find(p.Name) != i:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name of its own")
		}
		if len(p.Into) > mostPreferments {
			c.Fail("into", strconv.Itoa(len(p.Into))+" mixes", "up to "+strconv.Itoa(mostPreferments))
		} else {
			for j, into := range p.Into {
				if k := q.find(into); k >= 0 {
					g.use[k][i] = 1
				} else if into != FinalMix {
					c.Fail("into["+strconv.Itoa(j)+"]", strconv.Quote(unit.Clip(into)), "another preferment, or \""+FinalMix+"\"")
				}
			}
		}
		reckon.CheckRange(c, "mixing", p.Mixing, 0, unit.Hours(4))
		reckon.CheckRange(c, "ripening", p.Ripening, 0, unit.Hours(168))
		c.Item(mark, "preferments", i)
	}
	if c.OK() && !g.sort() {
		refuseItem(c, "preferments", g.loop, "into", "a way back to "+strconv.Quote(unit.Clip(q.Preferments[g.loop].Name))+" itself", "preferments that do not contain one another in a circle")
	}
	return g
}

func (q PrefermentTimes) find(name string) int {
	return slices.IndexFunc(q.Preferments, func(p PrefermentTime) bool { return p.Name == name })
}

func (q PrefermentTimes) Solve() (PrefermentTimesResult, error) { return q.Append(nil) }

// Append is Solve with the starts appended to dst.
func (q PrefermentTimes) Append(dst []PrefermentStart) (out PrefermentTimesResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	g := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	first := len(dst)
	dst = slices.Grow(dst, g.n)[:first+g.n]
	for o := g.n - 1; o >= 0; o-- {
		i := g.order[o]
		p, after := &q.Preferments[i], unit.Duration(0)
		for k := range g.n {
			if g.use[k][i] > 0 {
				after = max(after, dst[first+k].Before)
			}
		}
		dst[first+i] = PrefermentStart{Name: p.Name, Before: p.Mixing + p.Ripening + after}
		out.Earliest = max(out.Earliest, dst[first+i].Before)
	}
	out.Starts, out.Cautions = dst, reckon.FlourDust|reckon.Lifting|reckon.Spoilage
	return out, nil
}

func (q PrefermentTimes) Show(w *reckon.Working, out PrefermentTimesResult) {
	out.Starts = out.Starts[len(out.Starts)-len(q.Preferments):]
	w.Inputs(q)
	g := q.check(new(reckon.Checks))
	var l itemLines
	var all strings.Builder
	for o := g.n - 1; o >= 0; o-- {
		i := g.order[o]
		after := ""
		for k := range g.n {
			if g.use[k][i] > 0 {
				after += ", b_" + strconv.Itoa(k+1)
			}
		}
		if after != "" {
			after = " + max(0" + after + ")"
		}
		l.item(i+1, q.Preferments[i].Name, "started before the final mix: b_# = t_# + r_#"+after)
		all.WriteString(", b_" + strconv.Itoa(i+1))
	}
	l.line("first start before the final mix: b_m = max(0" + all.String() + ")")
	l.show(w, out)
}
