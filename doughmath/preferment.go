package doughmath

import (
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PrefermentReading names what "20 % levain" means. Sources use all three.
type PrefermentReading string

const (
	// FlourOnFlour is the flour weighed into the preferment on all the flour weighed.
	FlourOnFlour PrefermentReading = "flour-on-flour"
	// MassOnFlour is the weight of the preferment on all the flour weighed.
	MassOnFlour PrefermentReading = "mass-on-flour"
	// MassOnFinalFlour is the weight of the preferment on the flour added at the final mix.
	MassOnFinalFlour PrefermentReading = "mass-on-final-flour"
)

// FinalMix is the name of the last mix, to which the preferments are added.
const FinalMix = "final mix"

// mostPreferments bounds the mixes of one dough, so that they are sorted without a heap.
const mostPreferments = 16

// mixGraph says which mix goes into which.
type mixGraph struct {
	n     int
	use   [mostPreferments][mostPreferments]float64 // use[k][j]: how much of mix j goes into mix k
	order [mostPreferments]int                      // mixes, each after those that go into it
	state [mostPreferments]int8                     // 0 not seen, 1 on the way, 2 in order
	done  int
	loop  int // a mix that contains itself, by way of others, if sort returned false
}

// sort fills order, and returns false if a mix contains itself.
func (g *mixGraph) sort() bool {
	for k := range g.n {
		if !g.visit(k) {
			return false
		}
	}
	return true
}

func (g *mixGraph) visit(k int) bool {
	switch g.state[k] {
	case 1:
		g.loop = k
		return false
	case 2:
		return true
	}
	g.state[k] = 1
	for j := range g.n {
		if g.use[k][j] > 0 && !g.visit(j) {
			return false
		}
	}
	g.state[k] = 2
	g.order[g.done] = k
	g.done++
	return true
}

// PrefermentPart is one ingredient of a preferment.
type PrefermentPart struct {
	Name    string             `json:"name"`    // an ingredient of the formula, or another preferment
	Percent unit.BakersPercent `json:"percent"` // on the flour of this preferment; in a soaker without flour, on whatever is called 100 %; 0 to 1000 %
}

// Preferment is a part of the formula that is mixed beforehand: a sponge, a
// poolish, a biga, a levain, a soaker, or old dough.
type Preferment struct {
	Name    string             `json:"name"`    // what it is called; neither an ingredient nor "final mix"
	Amount  unit.BakersPercent `json:"amount"`  // how much goes into the final mix, in the reading named, on what is weighed as flour; 0 to 1000 %; 0 if it only goes into another preferment
	Reading PrefermentReading  `json:"reading"` // "flour-on-flour", "mass-on-flour" or "mass-on-final-flour"
	Parts   []PrefermentPart   `json:"parts"`   // its own formula; flours in it make 100 %
}

// PrefermentSplit returns what to weigh for each preferment and for the final
// mix, from the overall formula. The weighings are appended to dst.
//
//	final_i = overall_i - sum of what the preferments hold of it
//	flour-on-flour:      flour in the preferment = a * F
//	mass-on-flour:       preferment = a * F
//	mass-on-final-flour: preferment = a * (F - flour in all preferments)
//	prefermented flour = 100 * (F + F_s - flour at the final mix) / (F + F_s)
//
// with F all that is weighed as flour. All percentages and amounts count on it,
// as in [FormulaScale]; the flour F_s inside ingredients of the role "starter" is not in it.
// What is returned as all_flour, prefermented_flour and hydration counts that flour too, in whichever mix
// the starter is, because a starter is flour and water mixed beforehand, as a preferment is.
//
// A preferment may go into another one, as a mother starter goes into a levain;
// its percentage there is its weight on the flour listed there. A soaker without
// flour takes one of the two mass readings.
//
// It is exact arithmetic on the percentages. Do not read the final mix as the
// whole dough: its hydration is given beside the dough's.
//
// It returns an *[reckon.InputError] if:
//   - the formula is not one that [FormulaScale] takes, or two of its ingredients have one name,
//   - not exactly one of dough and flour is given, or it is outside 1 mg to 1000 t,
//   - there are no preferments or more than 16, or two have one name, or the name of an ingredient,
//   - an amount or a percentage is outside 0 to 1000 %, or a reading is not named,
//   - a part is neither an ingredient nor another preferment, or is there twice,
//   - the flours of a preferment that has flour do not make 100 %,
//   - flour-on-flour is asked of a preferment into which nothing is weighed as flour,
//   - a preferment contains itself, directly or by way of others, or goes nowhere,
//   - mass-on-final-flour is asked where no flour is left for the final mix,
//   - a preferment is larger than the dough, or the preferments hold more flour than the formula,
//   - the preferments hold more of an ingredient than the formula, which would leave less than nothing for the final mix,
//   - the reading of liquids is not named.
//
// Source: a flour miller's formula sheet, Ciabatta (three columns); K. Forkish, Flour Water Salt Yeast (2012), levain table; cases in
// testdata/cases/doughmath/preferment-split.json.
//
// The inverse is [FormulaFromMixes]; [PrefermentPercent] turns one reading into the others.
type PrefermentSplit struct {
	Ingredients []Ingredient  `json:"ingredients"`    // the overall formula, with everything that the preferments hold; the flours make 100 %
	Preferments []Preferment  `json:"preferments"`    // 1 to 16
	Dough       unit.Mass     `json:"dough,omitzero"` // dough wanted, 1 mg to 1000 t; leave out if flour is given
	Flour       unit.Mass     `json:"flour,omitzero"` // all that is weighed as flour, in the preferments too, without what a starter holds, 1 mg to 1000 t; leave out if dough is given
	Liquids     LiquidReading `json:"liquids"`        // for the hydrations: "whole-mass" or "water-content"
}

func (PrefermentSplit) ID() string { return "preferment-split" }

// SHELL
func (q PrefermentSplit) Check(c *reckon.Checks) {
	_, err := explainPrefermentSplit(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PrefermentSplit) Solve() (PrefermentSplitResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q PrefermentSplit) Append(dst []MixPart) (PrefermentSplitResult, error) {
	return explainPrefermentSplit(q, dst, nil)
}

func (q PrefermentSplit) Show(w *reckon.Working, _ PrefermentSplitResult) {
	_, _ = explainPrefermentSplit(q, nil, w)
}

// MixPart is one weighing of one mix.
type MixPart struct {
	Mix     string             `json:"mix"`     // the preferment, or "final mix"
	Name    string             `json:"name"`    // the ingredient, or the preferment that goes in
	Percent unit.BakersPercent `json:"percent"` // of all that is weighed as flour
	Mass    unit.Mass          `json:"mass"`    // what to weigh
}

// PrefermentSplitResult is what to weigh for each mix.
type PrefermentSplitResult struct {
	Parts             []MixPart          `json:"parts"`              // preferments first, each after those that go into it; the final mix last; nothing of 0 g
	Flour             unit.Mass          `json:"flour"`              // all that is weighed as flour, in the preferments too, without what a starter holds: the percentages count on it
	AllFlour          unit.Mass          `json:"all_flour"`          // all the flour, that inside starters too
	Dough             unit.Mass          `json:"dough"`              // all the dough
	FinalFlour        unit.Mass          `json:"final_flour"`        // what is weighed as flour at the final mix
	PrefermentedFlour unit.Percent       `json:"prefermented_flour"` // flour in the preferments and in starters, of all_flour
	Hydration         unit.BakersPercent `json:"hydration"`          // of the dough: all water on all_flour
	FinalHydration    unit.BakersPercent `json:"final_hydration"`    // of the final mix without the preferments, a starter weighed into it counted: not the dough's; 0 if it has next to no flour
	Conditions        Conditions         `json:"conditions"`         // unusual-hydration, unusual-salt
	Cautions          reckon.Cautions    `json:"cautions"`           // flour-dust, lifting
}

func explainPrefermentSplit(in PrefermentSplit, dst []MixPart, w *reckon.Working) (out PrefermentSplitResult, err error) {
	c := reckon.Checks{Func: "preferment-split"}
	sum, salt := checkFormula(&c, in.Ingredients)
	for i := range in.Ingredients {
		if findIngredient(in.Ingredients[:i], in.Ingredients[i].Name) >= 0 {
			c.Fail(itemField("ingredients", i, "name"), strconv.Quote(unit.Clip(in.Ingredients[i].Name)), "a name of its own, so that the preferments can refer to it")
		}
	}
	checkAmount(&c, in.Dough, in.Flour)
	reckon.CheckEither(&c, "liquids", in.Liquids, LiquidsWhole, LiquidsWater)
	var s splitter
	s.check(&c, &in)
	if err := c.Err(); err != nil {
		return PrefermentSplitResult{}, err
	}
	out = PrefermentSplitResult{Flour: in.Flour, Dough: in.Dough, Conditions: saltCondition(salt), Cautions: reckon.FlourDust | reckon.Lifting}
	if in.Dough != 0 {
		out.Flour = unit.Mass(float64(float64(in.Dough)*100) / sum)
	} else {
		out.Dough = unit.Mass(float64(float64(in.Flour)*sum) / 100)
	}
	// From here on everything counts in percent of all the flour weighed.
	final := s.amounts(&c, &in, sum)
	if err := c.Err(); err != nil {
		return PrefermentSplitResult{}, err
	}
	gram := float64(out.Flour) / 100
	for _, k := range s.order[:s.n] {
		p := &in.Preferments[k]
		for i := range p.Parts {
			if p.Parts[i].Percent > 0 {
				percent := float64(s.total[k]*float64(p.Parts[i].Percent)) / s.mass[k]
				dst = append(dst, MixPart{Mix: p.Name, Name: p.Parts[i].Name, Percent: unit.BakersPercent(percent), Mass: unit.Mass(percent * gram)})
			}
		}
	}
	var wet wetness
	for i := range in.Ingredients {
		g := &in.Ingredients[i]
		left := s.left(&c, &in, i)
		wet = wet.with(in.Liquids, g, left)
		if left > 0 {
			dst = append(dst, MixPart{Mix: FinalMix, Name: g.Name, Percent: unit.BakersPercent(left), Mass: unit.Mass(left * gram)})
		}
	}
	if err := c.Err(); err != nil {
		return PrefermentSplitResult{}, err
	}
	for k := range in.Preferments {
		if s.direct[k] > 0 {
			dst = append(dst, MixPart{Mix: FinalMix, Name: in.Preferments[k].Name, Percent: unit.BakersPercent(s.direct[k]), Mass: unit.Mass(s.direct[k] * gram)})
		}
	}
	all := in.Liquids.count(in.Ingredients)
	counted := 100 + all.starterFlour
	out.Parts, out.FinalFlour, out.AllFlour = dst, unit.Mass(final*gram), unit.Mass(float64(float64(out.Flour)*counted)/100)
	out.PrefermentedFlour = unit.Percent(100 * (counted - final) / counted)
	out.Hydration = unit.BakersPercent(all.hydration(100))
	out.FinalHydration = unit.BakersPercent(wet.hydration(final))
	out.Conditions |= hydrationCondition(float64(out.Hydration))
	if w != nil {
		s.explain(w, &in, &out, final, all.starterFlour)
	}
	return out, nil
}

// hydration returns all water on all flour, with flour of listed flours, or 0
// if there is next to no flour for the water to count on.
func (s wetness) hydration(flour float64) float64 {
	if flour += s.starterFlour; flour >= float64(smallestMass) {
		return 100 * (s.water + s.starterWater) / flour
	}
	return 0
}

func findIngredient(list []Ingredient, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}

func findPreferment(list []Preferment, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}

// splitter holds the preferments while they are sorted and measured.
type splitter struct {
	mixGraph
	mass   [mostPreferments]float64 // of a preferment, for 100 of what its parts count on
	flour  [mostPreferments]float64 // the flour in it, that of other preferments included, likewise
	direct [mostPreferments]float64 // weight that goes into the final mix, in percent of all the flour weighed
	total  [mostPreferments]float64 // weight made, likewise
}

// check wants preferments that can be made from the formula, and measures them.
func (s *splitter) check(c *reckon.Checks, in *PrefermentSplit) {
	if len(in.Preferments) == 0 || len(in.Preferments) > mostPreferments {
		c.Fail("preferments", strconv.Itoa(len(in.Preferments))+" preferments", "1 to "+strconv.Itoa(mostPreferments)+" preferments")
		return
	}
	s.n = len(in.Preferments)
	for k := range in.Preferments {
		p := &in.Preferments[k]
		switch {
		case p.Name == "" || p.Name == FinalMix:
			c.Fail(itemField("preferments", k, "name"), strconv.Quote(p.Name), "a name other than \""+FinalMix+"\"")
		case findIngredient(in.Ingredients, p.Name) >= 0:
			c.Fail(itemField("preferments", k, "name"), strconv.Quote(unit.Clip(p.Name)), "a name that no ingredient has")
		case findPreferment(in.Preferments[:k], p.Name) >= 0:
			c.Fail(itemField("preferments", k, "name"), strconv.Quote(unit.Clip(p.Name)), "a name of its own")
		}
		if !(p.Amount >= 0 && p.Amount <= largestPercent) {
			reckon.CheckRange(c, itemField("preferments", k, "amount"), p.Amount, 0, largestPercent)
		}
		if p.Reading != FlourOnFlour && p.Reading != MassOnFlour && p.Reading != MassOnFinalFlour {
			reckon.CheckWord(c, itemField("preferments", k, "reading"), p.Reading, FlourOnFlour, MassOnFlour, MassOnFinalFlour)
		}
		s.checkParts(c, in, k)
	}
	if !c.OK() {
		return
	}
	if !s.sort() {
		c.Fail(itemField("preferments", s.loop, "parts"), "a way back to "+strconv.Quote(unit.Clip(in.Preferments[s.loop].Name))+" itself",
			"preferments that do not contain one another in a ring: start from one that is mixed of ingredients alone")
		return
	}
	for _, k := range s.order[:s.n] {
		own := s.flour[k] > 0
		for j := range s.n {
			if s.use[k][j] > 0 {
				s.mass[k] += s.use[k][j]
				s.flour[k] += s.use[k][j] * s.flour[j] / s.mass[j]
			}
		}
		switch p := &in.Preferments[k]; {
		case !(s.mass[k] > 0):
			c.Fail(itemField("preferments", k, "parts"), "nothing", "some ingredients, with their percentages on its flour")
			return
		case own && math.Abs(s.ownFlour(in, k)-100) > flourSumTolerance:
			c.Fail(itemField("preferments", k, "parts"), "a preferment whose flours make "+reckon.Text(unit.BakersPercent(s.ownFlour(in, k))), "flours that make 100 % together: its percentages count on its own flour")
		case p.Reading == FlourOnFlour && p.Amount > 0 && !(s.flour[k] > 0):
			c.Fail(itemField("preferments", k, "reading"), strconv.Quote(string(p.Reading)), "\"mass-on-flour\" or \"mass-on-final-flour\", because nothing is weighed into it as flour")
		}
	}
}

func (s *splitter) checkParts(c *reckon.Checks, in *PrefermentSplit, k int) {
	p := &in.Preferments[k]
	list := ""
	field := func(i int, name string) string {
		if list == "" {
			list = itemField("preferments", k, "parts")
		}
		return itemField(list, i, name)
	}
	if len(p.Parts) > mostListItems {
		c.Fail(itemField("preferments", k, "parts"), strconv.Itoa(len(p.Parts))+" parts", "at most "+strconv.Itoa(mostListItems))
		return
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		for j := range p.Parts[:i] {
			if p.Parts[j].Name == part.Name {
				c.Fail(field(i, "name"), strconv.Quote(unit.Clip(part.Name)), "each part once")
			}
		}
		if !(part.Percent >= 0 && part.Percent <= largestPercent) {
			reckon.CheckRange(c, field(i, "percent"), part.Percent, 0, largestPercent)
			continue
		}
		if g := findIngredient(in.Ingredients, part.Name); g >= 0 {
			s.mass[k] += float64(part.Percent)
			if in.Ingredients[g].Role == RoleFlour {
				s.flour[k] += float64(part.Percent)
			}
		} else if j := findPreferment(in.Preferments, part.Name); j >= 0 {
			s.use[k][j] = float64(part.Percent)
		} else {
			c.Fail(field(i, "name"), strconv.Quote(unit.Clip(part.Name)), "the name of an ingredient of the formula, or of another preferment")
		}
	}
}

// ownFlour returns the flour listed in preferment k.
func (s *splitter) ownFlour(in *PrefermentSplit, k int) float64 {
	sum := 0.0
	for _, part := range in.Preferments[k].Parts {
		if g := findIngredient(in.Ingredients, part.Name); g >= 0 && in.Ingredients[g].Role == RoleFlour {
			sum += float64(part.Percent)
		}
	}
	return sum
}

// amounts works out how much of each preferment is made and added, and
// returns the flour left for the final mix; like all, the whole dough, in percent of all the flour weighed.
func (s *splitter) amounts(c *reckon.Checks, in *PrefermentSplit, all float64) (final float64) {
	taken, perFinal := 0.0, 0.0 // flour taken outright, and for 1 of flour at the final mix
	for k := range in.Preferments {
		p := &in.Preferments[k]
		a, share := float64(p.Amount), s.flour[k]/s.mass[k]
		switch p.Reading {
		case FlourOnFlour:
			if a > 0 {
				s.direct[k] = a / share
			}
			taken += a
		case MassOnFlour:
			s.direct[k] = a
			taken += float64(a * share)
		default:
			perFinal += float64(a / 100 * share)
		}
	}
	final = (100 - taken) / (1 + perFinal)
	switch {
	case final < -flourSumTolerance:
		for k := range in.Preferments {
			if p := &in.Preferments[k]; p.Amount > 0 && s.flour[k] > 0 && p.Reading != MassOnFinalFlour {
				c.Fail(itemField("preferments", k, "amount"), reckon.Text(p.Amount), "preferments with no more flour than the formula has: together they hold "+reckon.Text(unit.BakersPercent(taken))+" of it; check the reading")
			}
		}
		return 0
	case final <= roundingSlack:
		final = 0 // what binary arithmetic leaves over is not flour
	}
	for k := range in.Preferments {
		if in.Preferments[k].Reading == MassOnFinalFlour {
			s.direct[k] = float64(float64(in.Preferments[k].Amount)*final) / 100
			if in.Preferments[k].Amount > 0 && final == 0 {
				c.Fail(itemField("preferments", k, "amount"), reckon.Text(in.Preferments[k].Amount), "an amount in another reading than \"mass-on-final-flour\": the preferments hold all the flour, none is left for the final mix, and a share of none comes to nothing")
			}
		}
	}
	if !c.OK() {
		return final
	}
	s.total = s.direct
	for o := s.n - 1; o >= 0; o-- {
		k := s.order[o]
		switch {
		case s.total[k] == 0:
			c.Fail(itemField("preferments", k, "amount"), reckon.Text(in.Preferments[k].Amount), "more than 0 %, because it goes into no other preferment that is used")
			continue
		case !(s.total[k] <= all*(1+roundingSlack)):
			c.Fail(itemField("preferments", k, "amount"), reckon.Text(in.Preferments[k].Amount), "a preferment no larger than the dough, which is "+reckon.Text(unit.BakersPercent(all))+" of the flour; check the reading")
			continue
		}
		for j := range s.n {
			s.total[j] += s.total[k] * s.use[k][j] / s.mass[k]
		}
	}
	return final
}

// left returns what the preferments leave of ingredient i, in percent of all the flour weighed.
func (s *splitter) left(c *reckon.Checks, in *PrefermentSplit, i int) float64 {
	g := &in.Ingredients[i]
	taken := 0.0
	for k := range in.Preferments {
		parts := in.Preferments[k].Parts
		for j := range parts {
			if parts[j].Name == g.Name {
				taken += s.total[k] * float64(parts[j].Percent) / s.mass[k]
			}
		}
	}
	left := float64(g.Percent) - taken
	// What binary arithmetic leaves over is not an ingredient.
	if math.Abs(left) <= roundingSlack*math.Max(1e-3, float64(g.Percent)) {
		return 0
	}
	if left < 0 {
		c.Fail(itemField("ingredients", i, "percent"), reckon.Text(g.Percent), "at least the "+reckon.Text(unit.BakersPercent(taken))+" of "+unit.Clip(g.Name)+" that the preferments hold, or smaller preferments")
	}
	return left
}

func (s *splitter) explain(w *reckon.Working, in *PrefermentSplit, out *PrefermentSplitResult, final, starterFlour float64) {
	expression := explainPercents(w, in.Ingredients)
	w.Step("sum of the percentages", "S", expression, 100*float64(out.Dough)/float64(out.Flour), "%", "")
	if in.Dough != 0 {
		w.Given("dough wanted", "D", float64(in.Dough), "g", "")
		w.Step("flour", "F", "D*100/S", float64(out.Flour), "g", "")
	} else {
		w.Given("flour", "F", float64(in.Flour), "g", "")
	}
	taken, perFinal := "0", "0"
	for k := range in.Preferments {
		p, n := &in.Preferments[k], strconv.Itoa(k+1)
		w.Given(p.Name+", amount", "a_"+n, float64(p.Amount), "%", string(p.Reading))
		w.Given(p.Name+", its weight for 100 of its flour", "M_"+n, s.mass[k], "%", "")
		w.Given(p.Name+", its flour likewise", "f_"+n, s.flour[k], "%", "")
		switch p.Reading {
		case FlourOnFlour:
			taken = plus(taken, "a_"+n)
		case MassOnFlour:
			taken = plus(taken, "a_"+n+"*f_"+n+"/M_"+n)
		default:
			perFinal = plus(perFinal, "a_"+n+"/100*f_"+n+"/M_"+n)
		}
	}
	w.Step("flour at the final mix, of all the flour weighed", "x", "max(0, (100 - ("+taken+"))/(1 + "+perFinal+"))", final, "%", "")
	for k := range in.Preferments {
		p, n := &in.Preferments[k], strconv.Itoa(k+1)
		if p.Amount == 0 {
			w.Given(p.Name+" into the final mix", "d_"+n, 0, "%", "")
			continue
		}
		how := map[PrefermentReading]string{FlourOnFlour: "a_" + n + "*M_" + n + "/f_" + n, MassOnFlour: "a_" + n, MassOnFinalFlour: "a_" + n + "*x/100"}
		w.Step(p.Name+" into the final mix, of all the flour weighed", "d_"+n, how[p.Reading], s.direct[k], "%", "")
	}
	for o := s.n - 1; o >= 0; o-- {
		k := s.order[o]
		n := strconv.Itoa(k + 1)
		made := "d_" + n
		for j := range s.n {
			if u := s.use[j][k]; u > 0 {
				m := strconv.Itoa(j + 1)
				w.Given(in.Preferments[k].Name+" in "+in.Preferments[j].Name, "u_"+n+"_"+m, u, "%", "")
				made = plus(made, "T_"+m+"*u_"+n+"_"+m+"/M_"+m)
			}
		}
		w.Step(in.Preferments[k].Name+" to make, of all the flour weighed", "T_"+n, made, s.total[k], "%", "")
	}
	for _, part := range out.Parts {
		if part.Mix != FinalMix {
			continue
		}
		i := findIngredient(in.Ingredients, part.Name)
		if i < 0 {
			continue
		}
		n := strconv.Itoa(i + 1)
		var left strings.Builder
		left.WriteString("p_" + n)
		for k := range in.Preferments {
			for _, t := range in.Preferments[k].Parts {
				if t.Name == part.Name && t.Percent > 0 {
					m := strconv.Itoa(k + 1)
					w.Given(t.Name+" in "+in.Preferments[k].Name, "s_"+n+"_"+m, float64(t.Percent), "%", "")
					left.WriteString(" - T_" + m + "*s_" + n + "_" + m + "/M_" + m)
				}
			}
		}
		w.Step(part.Name+" at the final mix, of all the flour weighed", "q_"+n, left.String(), float64(part.Percent), "%", "")
		w.Step(part.Name+" at the final mix", "m_"+n, "q_"+n+"*F/100", float64(part.Mass), "g", "")
	}
	inStarters := givenStarters(w, in.Ingredients, "", "p_")
	if inStarters == "" {
		w.Given("flour in starters, of all that is weighed as flour", "x_s", 0, "%", "there are none")
	} else {
		w.Step("flour in starters, of all that is weighed as flour", "x_s", inStarters, starterFlour, "%", "")
	}
	w.Step("all the flour, with that in starters", "F_all", "F*(100 + x_s)/100", float64(out.AllFlour), "g", "")
	w.Step("flour in the preferments and in starters, of all the flour", "P", "100*(100 + x_s - x)/(100 + x_s)", float64(out.PrefermentedFlour), "%", "")
	w.Step("flour at the final mix", "F_f", "x*F/100", float64(out.FinalFlour), "g", "")
}

// MixUse is a preferment that goes into another mix.
type MixUse struct {
	Name string    `json:"name"` // the preferment's
	Mass unit.Mass `json:"mass"` // how much of it; 0 to 1000 t, in all no more than is made
}

// WeighedMix is a preferment by weight.
type WeighedMix struct {
	Name    string              `json:"name"`             // what it is called; not "final mix"
	Weights []WeighedIngredient `json:"weights,omitzero"` // what is weighed into it
	Uses    []MixUse            `json:"uses,omitzero"`    // other preferments that go into it
}

// FormulaFromMixes returns the overall formula of a dough that is weighed in
// several mixes. The ingredients are appended to dst and can go to [FormulaScale] as they are.
//
//	overall_i = final_i + sum over the preferments of (used / made) * weight_i
//	p_i = 100 * overall_i / F
//	prefermented flour = 100 * (F + F_s - flour at the final mix) / (F + F_s)
//
// with F all that is weighed as flour. The percentages count on it, as in
// [FormulaScale]; the flour F_s inside ingredients of the role "starter" is not in it.
// What is returned as all_flour, prefermented_flour and hydration counts that flour too, in whichever mix
// the starter is, because a starter is flour and water mixed beforehand, as a preferment is.
//
// It counts of each preferment only what goes into the dough: what is kept back
// for the next day does not count. Ingredients with one name are one ingredient.
//
// It is exact arithmetic on the weights.
//
// It returns an *[reckon.InputError] if:
//   - there are no preferments or more than 16, or two have one name,
//   - a weight is outside 0 to 1000 t, a name is empty, a role is not named,
//   - a water content or a starter's hydration is missing, out of range, or given where it does not belong,
//   - an ingredient has another role, water content or hydration in another mix,
//   - a use names no preferment, a preferment is not used at all, or more of it is used than is made,
//   - a preferment contains itself, directly or by way of others,
//   - nothing in the dough is weighed as flour, or an ingredient is more than ten times the flour,
//   - the reading of liquids is not named.
//
// Source: K. Forkish, Flour Water Salt Yeast (2012), levain table; Bake magazine, French bread with poolish; cases in
// testdata/cases/doughmath/formula-from-mixes.json.
//
// The inverse is [PrefermentSplit].
type FormulaFromMixes struct {
	Preferments []WeighedMix        `json:"preferments"` // 1 to 16, as they are made; what is kept back is not used
	Final       []WeighedIngredient `json:"final"`       // what is weighed into the final mix
	FinalUses   []MixUse            `json:"final_uses"`  // preferments that go into the final mix
	Liquids     LiquidReading       `json:"liquids"`     // for the hydrations: "whole-mass" or "water-content"
}

func (FormulaFromMixes) ID() string { return "formula-from-mixes" }

// SHELL
func (q FormulaFromMixes) Check(c *reckon.Checks) {
	_, err := explainFormulaFromMixes(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FormulaFromMixes) Solve() (FormulaFromMixesResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q FormulaFromMixes) Append(dst []Ingredient) (FormulaFromMixesResult, error) {
	return explainFormulaFromMixes(q, dst, nil)
}

func (q FormulaFromMixes) Show(w *reckon.Working, _ FormulaFromMixesResult) {
	_, _ = explainFormulaFromMixes(q, nil, w)
}

// FormulaFromMixesResult is the overall formula behind the mixes.
type FormulaFromMixesResult struct {
	Ingredients       []Ingredient       `json:"ingredients"`        // the overall formula, each ingredient once
	Flour             unit.Mass          `json:"flour"`              // all that is weighed as flour, in the preferments too, without what a starter holds: the percentages count on it
	AllFlour          unit.Mass          `json:"all_flour"`          // all the flour, that inside starters too
	Dough             unit.Mass          `json:"dough"`              // all the dough
	TotalPercent      unit.BakersPercent `json:"total_percent"`      // sum of the percentages
	PrefermentedFlour unit.Percent       `json:"prefermented_flour"` // flour in the preferments and in starters, of all_flour
	Hydration         unit.BakersPercent `json:"hydration"`          // of the dough: all water on all_flour
	FinalHydration    unit.BakersPercent `json:"final_hydration"`    // of the final mix without the preferments, a starter weighed into it counted: not the dough's; 0 if it has next to no flour
	Conditions        Conditions         `json:"conditions"`         // unusual-hydration, unusual-salt
}

func explainFormulaFromMixes(in FormulaFromMixes, dst []Ingredient, w *reckon.Working) (out FormulaFromMixesResult, err error) {
	c := reckon.Checks{Func: "formula-from-mixes"}
	var m mixer
	m.check(&c, &in)
	reckon.CheckEither(&c, "liquids", in.Liquids, LiquidsWhole, LiquidsWater)
	if err := c.Err(); err != nil {
		return FormulaFromMixesResult{}, err
	}
	m.fractions()
	// Until the flour is known, the percentages are grams.
	first := len(dst)
	var wet wetness
	finalFlour := 0.0
	for i := range in.Final {
		g := &in.Final[i]
		dst = merge(&c, dst, first, listPath{"final", -1, ""}, i, g, 1)
		wet = wet.with(in.Liquids, &Ingredient{Role: g.Role, Water: g.Water, Hydration: g.Hydration}, float64(g.Mass))
		if g.Role == RoleFlour {
			finalFlour += float64(g.Mass)
		}
	}
	for k := range in.Preferments {
		for i := range in.Preferments[k].Weights {
			dst = merge(&c, dst, first, listPath{"preferments", k, "weights"}, i, &in.Preferments[k].Weights[i], m.fraction[k])
		}
	}
	list := dst[first:]
	flour, dough, salt := 0.0, 0.0, 0.0
	for i := range list {
		dough += float64(list[i].Percent)
		switch list[i].Role {
		case RoleFlour:
			flour += float64(list[i].Percent)
		case RoleSalt:
			salt += float64(list[i].Percent)
		}
	}
	if c.OK() && !(flour > 0) {
		c.Fail("final", "a dough without flour", "some flour (role \"flour\") to count the percentages on")
	}
	for i := range list {
		list[i].Percent = unit.BakersPercent(100 * float64(list[i].Percent) / flour)
		if c.OK() && !(list[i].Percent <= largestPercent) {
			c.Fail("final", unit.Clip(list[i].Name)+" at "+reckon.Text(list[i].Percent)+" of the flour", "no ingredient of more than ten times the flour")
		}
	}
	if err := c.Err(); err != nil {
		return FormulaFromMixesResult{}, err
	}
	all := in.Liquids.count(list)
	allFlour := flour + float64(all.starterFlour*flour)/100
	out = FormulaFromMixesResult{
		Ingredients: dst, Flour: unit.Mass(flour), AllFlour: unit.Mass(allFlour), Dough: unit.Mass(dough), TotalPercent: unit.BakersPercent(100 * dough / flour),
		PrefermentedFlour: unit.Percent(max(0, 100*(allFlour-finalFlour)/allFlour)), Hydration: unit.BakersPercent(all.hydration(100)),
		FinalHydration: unit.BakersPercent(wet.hydration(finalFlour)), Conditions: saltCondition(100 * salt / flour),
	}
	out.Conditions |= hydrationCondition(float64(out.Hydration))
	if w != nil {
		m.explain(w, &in, &out, list, finalFlour)
	}
	return out, nil
}

// mixer holds weighed preferments while they are sorted and measured.
type mixer struct {
	mixGraph
	made     [mostPreferments]float64 // weight of a preferment as made, in g
	fraction [mostPreferments]float64 // how much of what is made ends in the dough
}

func (m *mixer) check(c *reckon.Checks, in *FormulaFromMixes) {
	checkWeights(c, listPath{"final", -1, ""}, in.Final)
	if len(in.Preferments) == 0 || len(in.Preferments) > mostPreferments {
		c.Fail("preferments", strconv.Itoa(len(in.Preferments))+" preferments", "1 to "+strconv.Itoa(mostPreferments)+" preferments")
		return
	}
	m.n = len(in.Preferments)
	var used [mostPreferments]float64
	for k := range in.Preferments {
		p := &in.Preferments[k]
		if p.Name == "" || p.Name == FinalMix {
			c.Fail(itemField("preferments", k, "name"), strconv.Quote(p.Name), "a name other than \""+FinalMix+"\"")
		}
		for _, other := range in.Preferments[:k] {
			if other.Name == p.Name {
				c.Fail(itemField("preferments", k, "name"), strconv.Quote(unit.Clip(p.Name)), "a name of its own")
			}
		}
		if len(p.Weights) > 0 || len(p.Uses) == 0 {
			_, m.made[k] = checkWeights(c, listPath{"preferments", k, "weights"}, p.Weights)
		}
		uses := checkUses(c, in, listPath{"preferments", k, "uses"}, p.Uses)
		for j := range m.n {
			m.use[k][j] = uses[j]
			m.made[k] += uses[j]
			used[j] += uses[j]
		}
		if c.OK() && !(m.made[k] > 0) {
			c.Fail(itemField("preferments", k, "weights"), "nothing", "some ingredients, with their weights")
		}
	}
	final := checkUses(c, in, listPath{"final_uses", -1, ""}, in.FinalUses)
	if !c.OK() {
		return
	}
	if !m.sort() {
		c.Fail(itemField("preferments", m.loop, "uses"), "a way back to "+strconv.Quote(unit.Clip(in.Preferments[m.loop].Name))+" itself",
			"preferments that do not contain one another in a ring: start from one that is mixed of ingredients alone")
		return
	}
	for j := range m.n {
		all := used[j] + final[j]
		if all == 0 {
			c.Fail(itemField("preferments", j, "name"), strconv.Quote(unit.Clip(in.Preferments[j].Name)), "a use in the final mix or in another preferment: add it to final_uses with its weight")
		}
		if all > m.made[j]*(1+1e-9) {
			c.Fail(itemField("preferments", j, "weights"), reckon.Text(unit.Mass(m.made[j])), "at least the "+reckon.Text(unit.Mass(all))+" that is used of it")
		}
	}
	m.fraction = final
}

// checkUses wants uses of preferments that are there, and returns them by preferment.
func checkUses(c *reckon.Checks, in *FormulaFromMixes, list listPath, uses []MixUse) (by [mostPreferments]float64) {
	for i := range uses {
		u := &uses[i]
		k := 0
		for k < len(in.Preferments) && in.Preferments[k].Name != u.Name {
			k++
		}
		if k >= len(in.Preferments) {
			c.Fail(list.item(i, "name"), strconv.Quote(unit.Clip(u.Name)), "the name of a preferment")
		}
		if !(u.Mass >= 0 && u.Mass <= largestMass) {
			reckon.CheckRange(c, list.item(i, "mass"), u.Mass, 0, largestMass)
		} else if k < mostPreferments {
			by[k] += float64(u.Mass)
		}
	}
	return by
}

// fractions turns the weights that go into the final mix into shares of what
// is made, and adds what goes there by way of other preferments.
func (m *mixer) fractions() {
	for o := m.n - 1; o >= 0; o-- {
		k := m.order[o]
		m.fraction[k] /= m.made[k]
		for j := range m.n {
			m.fraction[j] += float64(m.fraction[k] * m.use[k][j])
		}
	}
}

// merge adds a weight to the ingredient of its name.
func merge(c *reckon.Checks, dst []Ingredient, first int, list listPath, i int, g *WeighedIngredient, fraction float64) []Ingredient {
	at := findIngredient(dst[first:], g.Name)
	if at < 0 {
		return append(dst, Ingredient{Name: g.Name, Percent: unit.BakersPercent(float64(g.Mass) * fraction), Role: g.Role, Water: g.Water, Hydration: g.Hydration})
	}
	same := &dst[first+at]
	if same.Role != g.Role || same.Water != g.Water || same.Hydration != g.Hydration {
		c.Fail(list.item(i, "name"), strconv.Quote(unit.Clip(g.Name)), "the role, water content and hydration that it has in another mix, or a name of its own")
	}
	same.Percent += unit.BakersPercent(float64(g.Mass) * fraction)
	return dst
}

// givenStarters records the hydration of each starter and adds the flour in it
// to an expression; its amount stands under the symbol and its number.
func givenStarters(w *reckon.Working, ingredients []Ingredient, sum, symbol string) string {
	for i, g := range ingredients {
		if g.Role == RoleStarter {
			n := strconv.Itoa(i + 1)
			w.Given(g.Name+", hydration", "h_"+n, float64(g.Hydration), "%", "")
			sum = plus(sum, symbol+n+"*100/(100 + h_"+n+")")
		}
	}
	return sum
}

func (m *mixer) explain(w *reckon.Working, in *FormulaFromMixes, out *FormulaFromMixesResult, list []Ingredient, finalFlour float64) {
	for o := m.n - 1; o >= 0; o-- {
		k := m.order[o]
		n := strconv.Itoa(k + 1)
		w.Given(in.Preferments[k].Name+" made", "M_"+n, m.made[k], "g", "")
		used, final := "", 0.0
		for _, u := range in.FinalUses {
			if u.Name == in.Preferments[k].Name {
				final += float64(u.Mass)
			}
		}
		w.Given(in.Preferments[k].Name+" into the final mix", "d_"+n, final, "g", "")
		used = "d_" + n
		for j := range m.n {
			if u := m.use[j][k]; u > 0 {
				b := strconv.Itoa(j + 1)
				w.Given(in.Preferments[k].Name+" into "+in.Preferments[j].Name, "u_"+n+"_"+b, u, "g", "")
				used = plus(used, "x_"+b+"*u_"+n+"_"+b)
			}
		}
		w.Step(in.Preferments[k].Name+", share that ends in the dough", "x_"+n, "("+used+")/M_"+n, m.fraction[k], "", "")
	}
	flours, all := "", ""
	for i, g := range list {
		n := strconv.Itoa(i + 1)
		expression, count := "", 0
		weigh := func(mix string, weights []WeighedIngredient, fraction string) {
			for _, t := range weights {
				if t.Name == g.Name {
					count++
					symbol := "w_" + n + "_" + strconv.Itoa(count)
					w.Given(g.Name+" in the "+mix, symbol, float64(t.Mass), "g", "")
					expression = plus(expression, symbol+fraction)
				}
			}
		}
		weigh(FinalMix, in.Final, "")
		for k := range in.Preferments {
			weigh(in.Preferments[k].Name, in.Preferments[k].Weights, "*x_"+strconv.Itoa(k+1))
		}
		w.Step(g.Name+" in all", "m_"+n, expression, float64(g.Percent)*float64(out.Flour)/100, "g", "")
		all = plus(all, "m_"+n)
		if g.Role == RoleFlour {
			flours = plus(flours, "m_"+n)
		}
	}
	w.Step("dough", "D", all, float64(out.Dough), "g", "")
	w.Step("all that is weighed as flour", "F", flours, float64(out.Flour), "g", "")
	w.Step("all the flour, with that in starters", "F_all", givenStarters(w, list, "F", "m_"), float64(out.AllFlour), "g", "")
	w.Given("what is weighed as flour at the final mix", "F_f", finalFlour, "g", "")
	w.Step("flour in the preferments and in starters, of all the flour", "P", "max(0, 100*(F_all - F_f)/F_all)", float64(out.PrefermentedFlour), "%", "")
	for i, g := range list {
		n := strconv.Itoa(i + 1)
		w.Step(g.Name, "p_"+n, "100*m_"+n+"/F", float64(g.Percent), "%", "")
	}
	w.Step("sum of the percentages", "S", "100*D/F", float64(out.TotalPercent), "%", "")
}

// PrefermentPercent returns what a preferment's percentage is in each of the
// three readings that are in use.
//
//	a = flour in it on all the flour, b = its weight on all the flour, c = its weight on the final mix's flour
//	b = a * T / 100, c = 100 * b / (100 - a), a = 100 * c / (T + c)
//
// with T the sum of its own percentages. It holds for a dough with one preferment that
// has flour; [PrefermentSplit] does several.
//
// It returns an *[reckon.InputError] if:
//   - the percentage is outside 0 to 1000 %, or stands for all the flour or more,
//   - the reading is not named,
//   - the total is outside 100 to 1000 %.
//
// Source: K. Forkish, Flour Water Salt Yeast (2012), whose 20 % levain is 36 % and 45 % in the other readings; cases in
// testdata/cases/doughmath/preferment-percent.json.
//
// It is its own inverse.
type PrefermentPercent struct {
	Percent unit.BakersPercent `json:"percent"` // as the formula gives it; 0 to 1000 %, and not all the flour
	Reading PrefermentReading  `json:"reading"` // "flour-on-flour", "mass-on-flour" or "mass-on-final-flour"
	Total   unit.BakersPercent `json:"total"`   // sum of the preferment's own percentages, such as 200 % for equal flour and water; 100 to 1000 %
}

func (PrefermentPercent) ID() string { return "preferment-percent" }

// SHELL
func (q PrefermentPercent) Check(c *reckon.Checks) {
	_, err := explainPrefermentPercent(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PrefermentPercent) Solve() (PrefermentPercentResult, error) {
	return explainPrefermentPercent(q, nil)
}

func (q PrefermentPercent) Show(w *reckon.Working, _ PrefermentPercentResult) {
	_, _ = explainPrefermentPercent(q, w)
}

// PrefermentPercentResult is the same preferment in all three readings.
type PrefermentPercentResult struct {
	FlourOnFlour     unit.BakersPercent `json:"flour_on_flour"`      // flour in it on all the flour
	MassOnFlour      unit.BakersPercent `json:"mass_on_flour"`       // its weight on all the flour
	MassOnFinalFlour unit.BakersPercent `json:"mass_on_final_flour"` // its weight on the flour added at the final mix
}

func explainPrefermentPercent(in PrefermentPercent, w *reckon.Working) (PrefermentPercentResult, error) {
	c := reckon.Checks{Func: "preferment-percent"}
	p := reckon.CheckRange(&c, "percent", in.Percent, 0, largestPercent)
	r := reckon.CheckWord(&c, "reading", in.Reading, FlourOnFlour, MassOnFlour, MassOnFinalFlour)
	t := reckon.CheckRange(&c, "total", in.Total, 100, largestPercent)
	if p && r && t {
		switch {
		case in.Reading == FlourOnFlour && in.Percent >= 100:
			c.Fail("percent", reckon.Text(in.Percent), "under 100 %: the preferment cannot hold all the flour")
		case in.Reading == MassOnFlour && in.Percent >= in.Total:
			c.Fail("percent", reckon.Text(in.Percent), "under the "+reckon.Text(in.Total)+" at which the preferment holds all the flour")
		}
	}
	if err := c.Err(); err != nil {
		return PrefermentPercentResult{}, err
	}
	v, total := float64(in.Percent), float64(in.Total)
	a := v
	switch in.Reading {
	case MassOnFlour:
		a = 100 * v / total
	case MassOnFinalFlour:
		a = 100 * v / (total + v)
	}
	b := float64(a*total) / 100
	onFinal := 100 * b / (100 - a)
	if w != nil {
		w.Given("percentage given", "v", v, "%", string(in.Reading))
		w.Given("sum of the preferment's own percentages", "T", total, "%", "")
		switch in.Reading {
		case FlourOnFlour:
			w.Step("flour in it on all the flour", "a", "v", a, "%", "")
		case MassOnFlour:
			w.Step("flour in it on all the flour", "a", "100*v/T", a, "%", "")
		default:
			w.Step("flour in it on all the flour", "a", "100*v/(T + v)", a, "%", "")
		}
		w.Step("its weight on all the flour", "b", "a*T/100", b, "%", "")
		w.Step("its weight on the flour of the final mix", "c", "100*b/(100 - a)", onFinal, "%", "")
	}
	return PrefermentPercentResult{FlourOnFlour: unit.BakersPercent(a), MassOnFlour: unit.BakersPercent(b), MassOnFinalFlour: unit.BakersPercent(onFinal)}, nil
}
