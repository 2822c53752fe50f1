package doughmath

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// PrefermentPart is one ingredient of a preferment.
type PrefermentPart struct {
	Name    string             `json:"name"`                        // an ingredient of the formula, or another preferment
	Percent unit.BakersPercent `json:"percent" range:"0 %..1000 %"` // on the flour of this preferment; in a soaker without flour, on whatever is called 100 %
}

// Preferment is a part of the formula that is mixed beforehand: a sponge, a
// poolish, a biga, a levain, a soaker, or old dough.
type Preferment struct {
	Name    string             `json:"name"`                                 // what it is called; neither an ingredient nor "final mix"
	Amount  unit.BakersPercent `json:"amount" sym:"a_#" range:"0 %..1000 %"` // how much goes into the final mix, in the reading named, on what is weighed as flour; 0 if it only goes into another preferment
	Reading PrefermentReading  `json:"reading"`                              // "flour-on-flour", "mass-on-flour" or "mass-on-final-flour"
	Parts   []PrefermentPart   `json:"parts" sym:"-" items:"..1000"`         // its own formula, 1 to 1000 parts; flours in it make 100 %

	Division unit.Mass `json:"division,omitzero" sym:"-" range:"1 mg..1000 t"` // division of the scale that it is weighed on; leave out for that of the dough
}

// PrefermentSplit asks what to weigh out for each preferment and for the final
// mix, given the overall formula:
//
//	S = sum of p_i, F = D * 100 / S or D = F * S / 100
//	flour-on-flour:      d_i = a_i * M_i / f_i
//	mass-on-flour:       d_i = a_i
//	mass-on-final-flour: d_i = a_i * x / 100
//	x = 100 - sum of d_i * f_i / M_i, solved for x
//	T_i = d_i + sum of T_j * u_i_j / M_j
//	in preferment j:     q_i = T_j * s / M_j
//	at the final mix:    q_i = p_i - sum of T_j * s / M_j; of a preferment, q_i = d_i
//	e_i = q_i * F / 100, F_f = x * F / 100
//	without a division m_i = e_i; with one, m_i in whole divisions that add up, mix by mix
//	F_all = F * (100 + F_s) / 100, P = 100 * (100 + F_s - x) / (100 + F_s)
//	h = 100 * W / (100 + F_s), h_f = 100 * W_f / (x + F_sf)
//	D_d = what is weighed into the final mix, each weight to its scale
//
// with F all that is weighed as flour, on which all percentages and amounts count, as in [FormulaScale].
// For 100 of the flour listed in preferment i, M_i is its weight, f_i the flour in it, s what it takes of an
// ingredient and u_i_j what j takes of it. d_i of it goes into the final mix and T_i is made. x is the flour of
// the final mix. W is all water and F_s the flour inside ingredients of the role "starter", W_f and F_sf the
// same at the final mix alone.
//
// F_s is not in F. What is returned as all_flour, prefermented_flour and hydration counts that flour too, in whichever mix
// the starter is, because a starter is flour and water mixed beforehand, as a preferment is.
//
// A preferment may go into another one, as a mother starter goes into a levain;
// its percentage there is its weight on the flour listed there. A soaker without
// flour takes one of the two mass readings.
//
// The rounding is that of [FormulaScale], mix by mix: what is weighed into a mix adds up to the nearest division, the
// coarsest in use there. A preferment that goes whole into another mix is not weighed again: what was made of it goes in. One
// that is divided is weighed for all but the last mix, which takes the rest.
//
// It is exact arithmetic on the percentages. Do not read the final mix as the
// whole dough: its hydration is given beside the dough's.
//
// It is refused if:
//   - the formula is not one that [FormulaScale] takes, or two of its ingredients have the same name,
//   - both dough and flour are given, or neither,
//   - two preferments have the same name, or the name of an ingredient,
//   - a part is neither an ingredient nor another preferment, or is there twice,
//   - the flours of a preferment that has flour do not make 100 %,
//   - flour-on-flour is asked of a preferment into which nothing is weighed as flour,
//   - a preferment contains itself, directly or by way of others, or goes nowhere,
//   - mass-on-final-flour is asked where no flour is left for the final mix,
//   - a preferment is larger than the dough, or the preferments hold more flour than the formula,
//   - the preferments hold more of an ingredient than the formula, which would leave less than nothing for the final mix,
//   - a division and scales are both given, no scale takes a part, or the divisions round a whole mix away.
//
// Source: a flour miller's formula sheet, Ciabatta (three columns); K. Forkish, Flour Water Salt Yeast (2012), levain table; cases in
// testdata/cases/doughmath/preferment-split.json.
//
// The inverse is [FormulaFromMixes]; [PrefermentPercent] turns one reading into the others.
type PrefermentSplit struct {
	Ingredients []Ingredient  `json:"ingredients" items:"1..1000"`                    // the overall formula, with everything that the preferments hold; the flours make 100 %
	Preferments []Preferment  `json:"preferments" items:"1..16"`                      // what is mixed beforehand
	Dough       unit.Mass     `json:"dough,omitzero" sym:"D" range:"1 mg..1000 t"`    // dough wanted; leave out if flour is given
	Flour       unit.Mass     `json:"flour,omitzero" sym:"F" range:"1 mg..1000 t"`    // all that is weighed as flour, in the preferments too, without what a starter holds; leave out if dough is given
	Liquids     LiquidReading `json:"liquids"`                                        // for the hydrations: "whole-mass" or "water-content"
	Division    unit.Mass     `json:"division,omitzero" sym:"-" range:"1 mg..1000 t"` // the scale's division; 0 for weights that are not rounded
	Scales      []Scale       `json:"scales,omitzero" items:"0..16"`                  // in place of a division: the scales to weigh on
}

// MixPart is one weighing of one mix.
type MixPart struct {
	Mix      string             `json:"mix"`                       // the preferment, or "final mix"
	Name     string             `json:"name"`                      // the ingredient, or the preferment that goes in
	Percent  unit.BakersPercent `json:"percent" sym:"q_#"`         // of all that is weighed as flour
	Mass     unit.Mass          `json:"mass" sym:"m_#"`            // what to weigh; of a preferment without a division, all that was made, or is left
	Exact    unit.Mass          `json:"exact" sym:"e_#"`           // what the formula asks for, before rounding
	Scale    string             `json:"scale,omitzero"`            // the scale to weigh it on, if there are several
	Division unit.Mass          `json:"division,omitzero" sym:"-"` // its division; 0 for what is not weighed or not rounded
}

// PrefermentSplitResult is what to weigh for each mix.
type PrefermentSplitResult struct {
	Parts             []MixPart          `json:"parts"`                      // preferments first, each after those that go into it; the final mix last; nothing of 0 g
	Flour             unit.Mass          `json:"flour" sym:"F"`              // all that is weighed as flour, in the preferments too, without what a starter holds: the percentages count on it
	AllFlour          unit.Mass          `json:"all_flour" sym:"F_all"`      // all the flour, that inside starters too
	Dough             unit.Mass          `json:"dough" sym:"D"`              // all the dough, before rounding
	Weighed           unit.Mass          `json:"weighed" sym:"D_d"`          // what the weights at the final mix add up to
	FinalFlour        unit.Mass          `json:"final_flour" sym:"F_f"`      // what is weighed as flour at the final mix
	PrefermentedFlour unit.Percent       `json:"prefermented_flour" sym:"P"` // flour in the preferments and in starters, of all_flour
	Hydration         unit.BakersPercent `json:"hydration" sym:"h"`          // of the dough: all water on all_flour
	FinalHydration    unit.BakersPercent `json:"final_hydration" sym:"h_f"`  // of the final mix without the preferments, a starter weighed into it counted: not the dough's; 0 if it has next to no flour
	Conditions        Conditions         `json:"conditions"`                 // unusual-hydration, unusual-salt, rounded, scale-too-coarse
	Cautions          reckon.Cautions    `json:"cautions"`                   // flour-dust, lifting, spoilage
}

func (PrefermentSplit) ID() string { return "preferment-split" }

func (q PrefermentSplit) Check(c *reckon.Checks) {
	var s splitter
	s.check(c, &q)
}

// splitter holds the preferments while they are sorted and measured.
type splitter struct {
	mixGraph
	mass   [mostPreferments]float64 // of a preferment, for 100 of what its parts count on
	flour  [mostPreferments]float64 // the flour in it, that of other preferments included, likewise
	direct [mostPreferments]float64 // weight that goes into the final mix, in percent of all the flour weighed
	total  [mostPreferments]float64 // weight made, likewise
	final  float64                  // flour left for the final mix, likewise
	sum    float64                  // of the formula's percentages
	salt   float64                  // of the salt's percentages
}

// check requires a split that can be made, and works out how much there is of each mix.
func (s *splitter) check(c *reckon.Checks, q *PrefermentSplit) {
	s.sum, s.salt = checkFormula(c, q.Ingredients)
	for i := range q.Ingredients {
		if name := q.Ingredients[i].Name; findIngredient(q.Ingredients[:i], name) >= 0 {
			refuseItem(c, "ingredients", i, "name", strconv.Quote(unit.Clip(name)), "a name of its own, so that the preferments can refer to it")
		}
	}
	checkAmount(c, q.Dough, q.Flour)
	reckon.CheckEither(c, "liquids", q.Liquids, LiquidsWhole, LiquidsWater)
	scaling{q.Division, q.Scales}.check(c)
	scaling{q.Division, q.Scales}.checkNames(c, q.Ingredients)
	s.checkPreferments(c, q)
	if !c.OK() {
		return
	}
	s.measure(c, q)
	if !c.OK() {
		return
	}
	s.amounts(c, q)
	if !c.OK() {
		return
	}
	for i := range q.Ingredients {
		if s.left(q, i) < 0 {
			g := &q.Ingredients[i]
			refuseItem(c, "ingredients", i, "percent", reckon.Text(g.Percent), "at least the "+reckon.Text(unit.BakersPercent(s.taken(q, g.Name)))+" of "+unit.Clip(g.Name)+" that the preferments hold, or smaller preferments")
		}
	}
	if c.OK() {
		s.checkScales(c, q)
	}
}

// checkScales requires a scale for every weighing, and divisions that leave something of every mix.
func (s *splitter) checkScales(c *reckon.Checks, q *PrefermentSplit) {
	flour, _ := amounts(q.Dough, q.Flour, s.sum)
	gram := float64(flour) / 100
	for k := range q.Preferments {
		p := &q.Preferments[k]
		on := q.scalingOf(k)
		if made := unit.Mass(s.total[k] * gram); on.division > made {
			refuseItem(c, "preferments", k, "division", reckon.Text(on.division), "no more than the "+reckon.Text(made)+" that are made of it: use a finer scale")
			return
		}
		for i := range p.Parts {
			if part := &p.Parts[i]; part.Percent > 0 && !checkScale(c, on, part.Name, float64(s.total[k]*float64(part.Percent))/s.mass[k]*gram) {
				return
			}
		}
	}
	final := q.scalingOf(-1)
	if dough := unit.Mass(s.sum * gram); final.division > dough {
		c.Fail("division", reckon.Text(final.division), "no more than the dough of "+reckon.Text(dough)+": use a finer scale")
		return
	}
	for i := range q.Ingredients {
		if left := s.left(q, i); left > 0 && !checkScale(c, final, q.Ingredients[i].Name, left*gram) {
			return
		}
	}
}

// checkScale requires a scale that takes so much of an ingredient.
func checkScale(c *reckon.Checks, on scaling, name string, grams float64) bool {
	if len(on.scales) == 0 {
		return true
	}
	if _, d := on.on(name, unit.Mass(grams)); d > 0 {
		return true
	}
	on.refuse(c, name, unit.Mass(grams))
	return false
}

// scalingOf is how the weights of preferment k are rounded, or of the final mix if k is -1.
func (q *PrefermentSplit) scalingOf(k int) scaling {
	if k >= 0 && q.Preferments[k].Division != 0 {
		return scaling{division: q.Preferments[k].Division}
	}
	return scaling{q.Division, q.Scales}
}

func (s *splitter) checkPreferments(c *reckon.Checks, q *PrefermentSplit) {
	if len(q.Preferments) == 0 || len(q.Preferments) > mostPreferments {
		c.Fail("preferments", strconv.Itoa(len(q.Preferments))+" preferments", "1 to "+strconv.Itoa(mostPreferments)+" preferments")
		return
	}
	s.n = len(q.Preferments)
	for k := range q.Preferments {
		p := &q.Preferments[k]
		mark := c.Mark()
		switch {
		case p.Name == "" || p.Name == FinalMix:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name other than \""+FinalMix+"\"")
		case findIngredient(q.Ingredients, p.Name) >= 0:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name that no ingredient has")
		case findPreferment(q.Preferments[:k], p.Name) >= 0:
			c.Fail("name", strconv.Quote(unit.Clip(p.Name)), "a name of its own")
		}
		reckon.CheckRange(c, "amount", p.Amount, 0, largestPercent)
		if p.Division != 0 {
			checkMass(c, "division", p.Division)
		}
		reckon.CheckWord(c, "reading", p.Reading, FlourOnFlour, MassOnFlour, MassOnFinalFlour)
		s.checkParts(c, q, k)
		c.Item(mark, "preferments", k)
	}
}

// checkParts requires parts that are there, and adds up those that are ingredients.
func (s *splitter) checkParts(c *reckon.Checks, q *PrefermentSplit, k int) {
	parts := q.Preferments[k].Parts
	if len(parts) > mostListItems {
		c.Fail("parts", strconv.Itoa(len(parts))+" parts", "at most "+strconv.Itoa(mostListItems))
		return
	}
	for i := range parts {
		part := &parts[i]
		mark := c.Mark()
		if slices.ContainsFunc(parts[:i], func(other PrefermentPart) bool { return other.Name == part.Name }) {
			c.Fail("name", strconv.Quote(unit.Clip(part.Name)), "each part once")
		}
		if reckon.CheckRange(c, "percent", part.Percent, 0, largestPercent) {
			if g := findIngredient(q.Ingredients, part.Name); g >= 0 {
				s.mass[k] += float64(part.Percent)
				if q.Ingredients[g].Role == RoleFlour {
					s.flour[k] += float64(part.Percent)
				}
			} else if j := findPreferment(q.Preferments, part.Name); j >= 0 {
				s.use[k][j] = float64(part.Percent)
			} else {
				c.Fail("name", strconv.Quote(unit.Clip(part.Name)), "the name of an ingredient of the formula, or of another preferment")
			}
		}
		c.Item(mark, "parts", i)
	}
}

// measure adds to each preferment the others that go into it.
func (s *splitter) measure(c *reckon.Checks, q *PrefermentSplit) {
	if !s.sort() {
		refuseItem(c, "preferments", s.loop, "parts", "a way back to "+strconv.Quote(unit.Clip(q.Preferments[s.loop].Name))+" itself",
			"preferments that do not contain one another in a circle: start from one that is mixed of ingredients alone")
		return
	}
	for _, k := range s.order[:s.n] {
		own := s.flour[k]
		for j := range s.n {
			if s.use[k][j] > 0 {
				s.mass[k] += s.use[k][j]
				s.flour[k] += s.use[k][j] * s.flour[j] / s.mass[j]
			}
		}
		switch p := &q.Preferments[k]; {
		case !(s.mass[k] > 0):
			refuseItem(c, "preferments", k, "parts", "nothing", "some ingredients, with their percentages on its flour")
			return
		case own > 0 && math.Abs(own-100) > flourSumTolerance:
			refuseItem(c, "preferments", k, "parts", "a preferment whose flours make "+reckon.Text(unit.BakersPercent(own)), "flours that make 100 % together: its percentages count on its own flour")
		case p.Reading == FlourOnFlour && p.Amount > 0 && !(s.flour[k] > 0):
			refuseItem(c, "preferments", k, "reading", strconv.Quote(unit.Clip(string(p.Reading))), "\"mass-on-flour\" or \"mass-on-final-flour\", because nothing is weighed into it as flour")
		}
	}
}

// amounts works out how much of each preferment is made and added, and the
// flour left for the final mix, in percent of all the flour weighed.
func (s *splitter) amounts(c *reckon.Checks, q *PrefermentSplit) {
	taken, perFinal := 0.0, 0.0 // flour taken outright, and for 1 of flour at the final mix
	for k := range q.Preferments {
		p := &q.Preferments[k]
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
	s.final = (100 - taken) / (1 + perFinal)
	switch {
	case s.final < -flourSumTolerance:
		for k := range q.Preferments {
			if p := &q.Preferments[k]; p.Amount > 0 && s.flour[k] > 0 && p.Reading != MassOnFinalFlour {
				refuseItem(c, "preferments", k, "amount", reckon.Text(p.Amount), "preferments with no more flour than the formula has: together they hold "+reckon.Text(unit.BakersPercent(taken))+" of it; check the reading")
			}
		}
		return
	case s.final <= roundingSlack:
		s.final = 0 // what binary arithmetic leaves over is not flour
	}
	for k := range q.Preferments {
		if p := &q.Preferments[k]; p.Reading == MassOnFinalFlour {
			s.direct[k] = float64(float64(p.Amount)*s.final) / 100
			if p.Amount > 0 && s.final == 0 {
				refuseItem(c, "preferments", k, "amount", reckon.Text(p.Amount), "an amount in another reading than \"mass-on-final-flour\": the preferments hold all the flour, none is left for the final mix, and a share of none comes to nothing")
			}
		}
	}
	if !c.OK() {
		return
	}
	s.total = s.direct
	for o := s.n - 1; o >= 0; o-- {
		k := s.order[o]
		switch amount := q.Preferments[k].Amount; {
		case s.total[k] == 0:
			refuseItem(c, "preferments", k, "amount", reckon.Text(amount), "more than 0 %, because it goes into no other preferment that is used")
			continue
		case !(s.total[k] <= s.sum*(1+roundingSlack)):
			refuseItem(c, "preferments", k, "amount", reckon.Text(amount), "a preferment no heavier than the dough, which is "+reckon.Text(unit.BakersPercent(s.sum))+" of the flour; check the reading")
			continue
		}
		for j := range s.n {
			s.total[j] += s.total[k] * s.use[k][j] / s.mass[k]
		}
	}
}

// taken returns what the preferments hold of an ingredient, in percent of all the flour weighed.
func (s *splitter) taken(q *PrefermentSplit, name string) float64 {
	taken := 0.0
	for k := range q.Preferments {
		parts := q.Preferments[k].Parts
		for j := range parts {
			if parts[j].Name == name {
				taken += s.total[k] * float64(parts[j].Percent) / s.mass[k]
			}
		}
	}
	return taken
}

// left returns what they leave of ingredient i, likewise.
func (s *splitter) left(q *PrefermentSplit, i int) float64 {
	g := &q.Ingredients[i]
	left := float64(g.Percent) - s.taken(q, g.Name)
	// What binary arithmetic leaves over is not an ingredient.
	if math.Abs(left) <= roundingSlack*math.Max(1e-3, float64(g.Percent)) {
		return 0
	}
	return left
}

func findPreferment(list []Preferment, name string) int {
	for i := range list {
		if list[i].Name == name {
			return i
		}
	}
	return -1
}

func (q PrefermentSplit) Solve() (PrefermentSplitResult, error) { return q.Append(nil) }

// Append is Solve with the weighings appended to dst.
func (q PrefermentSplit) Append(dst []MixPart) (out PrefermentSplitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	var s splitter
	if s.check(&c, &q); !c.OK() {
		return out, c.Err()
	}
	out.Flour, out.Dough = amounts(q.Dough, q.Flour, s.sum)
	gram := float64(out.Flour) / 100
	first := len(dst)
	add := func(mix int, name string, percent float64) {
		p := MixPart{Mix: FinalMix, Name: name, Percent: unit.BakersPercent(percent), Mass: unit.Mass(percent * gram), Exact: unit.Mass(percent * gram)}
		if mix >= 0 {
			p.Mix = q.Preferments[mix].Name
		}
		p.Scale, p.Division = q.scalingOf(mix).on(name, p.Exact)
		dst = append(dst, p)
	}
	var made [mostPreferments]unit.Mass // as weighed
	for _, k := range s.order[:s.n] {
		p, from := &q.Preferments[k], len(dst)
		for i := range p.Parts {
			if p.Parts[i].Percent > 0 {
				add(k, p.Parts[i].Name, float64(s.total[k]*float64(p.Parts[i].Percent))/s.mass[k])
			}
		}
		made[k] = s.round(&q, dst[first:], from-first, &made)
	}
	var atFinal wetness
	from := len(dst)
	for i := range q.Ingredients {
		g, left := &q.Ingredients[i], s.left(&q, i)
		atFinal = atFinal.with(q.Liquids, g, left)
		if left > 0 {
			add(-1, g.Name, left)
		}
	}
	for k := range q.Preferments {
		if s.direct[k] > 0 {
			add(-1, q.Preferments[k].Name, s.direct[k])
		}
	}
	out.Weighed = s.round(&q, dst[first:], from-first, &made)
	for i := range dst[first:] {
		if p := &dst[first+i]; p.Mass < 0 {
			c.Fail("preferments", "with "+p.Name+" of which less than nothing is left for "+p.Mix, "a finer scale for the mixes that it goes into")
			return PrefermentSplitResult{}, c.Err()
		}
	}
	for i := range dst[first:] {
		p := &dst[first+i]
		out.Conditions |= weighing{p.Exact, p.Division, p.Mass}.seen()
	}
	all := q.Liquids.count(q.Ingredients)
	counted := 100 + all.starterFlour
	out.Parts, out.FinalFlour, out.AllFlour = dst, unit.Mass(s.final*gram), unit.Mass(float64(float64(out.Flour)*counted)/100)
	out.PrefermentedFlour = unit.Percent(100 * (counted - s.final) / counted)
	out.Hydration = unit.BakersPercent(all.hydration(100))
	out.FinalHydration = unit.BakersPercent(atFinal.hydration(s.final))
	out.Conditions |= saltCondition(s.salt) | hydrationCondition(float64(out.Hydration))
	out.Cautions = reckon.FlourDust | reckon.Lifting | reckon.Spoilage
	return out, nil
}

// round rounds the parts of the mix that starts at from, in which preferments
// made before go as they are, and returns what the mix weighs.
func (s *splitter) round(q *PrefermentSplit, parts []MixPart, from int, made *[mostPreferments]unit.Mass) unit.Mass {
	mix := parts[from:]
	total := unit.Mass(0)
	for i := range mix {
		p := &mix[i]
		if j := findPreferment(q.Preferments, p.Name); j >= 0 {
			if s.lastUse(q, j, p.Mix) {
				p.Scale, p.Division = "", 0
				// What differs by no more than the digits of what was made is no rounding of a scale.
				left := rest(parts[:from], p.Name, made[j])
				if off := math.Abs(float64(left - p.Exact)); off > roundingSlack*float64(p.Exact) && off > 1e-12*float64(made[j]) {
					p.Mass = left
				}
			}
		}
		total += p.Exact
	}
	var room [usualParts]weighing
	list := room[:0]
	for i := range mix {
		list = append(list, weighing{mix[i].Exact, mix[i].Division, mix[i].Mass})
	}
	roundWeights(list, total)
	total = 0
	for i := range mix {
		mix[i].Mass = list[i].mass
		total += mix[i].Mass
	}
	return total
}

// rest is what earlier mixes have left of a preferment.
func rest(earlier []MixPart, name string, made unit.Mass) (left unit.Mass) {
	left = made
	for i := range earlier {
		if earlier[i].Name == name {
			left -= earlier[i].Mass
		}
	}
	return left
}

// lastUse reports whether the mix is the last that takes of preferment j.
func (s *splitter) lastUse(q *PrefermentSplit, j int, mix string) bool {
	if s.direct[j] > 0 {
		return mix == FinalMix
	}
	for o := s.n - 1; o >= 0; o-- {
		if k := s.order[o]; s.use[k][j] > 0 {
			return mix == q.Preferments[k].Name
		}
	}
	return false
}

func (q PrefermentSplit) Show(w *reckon.Working, out PrefermentSplitResult) {
	var s splitter
	s.check(new(reckon.Checks), &q) // for the order of the mixes
	w.Inputs(q)
	for k, p := range q.Preferments {
		for _, part := range p.Parts {
			if part.Percent > 0 {
				w.Given(part.Name+" in "+p.Name, q.symbol(k, part.Name), float64(part.Percent), "%", "")
			}
		}
	}
	q.Liquids.given(w, q.Ingredients)
	var l itemLines
	l.line("sum of the percentages: S = sum(p_#) in %", amountLine(q.Dough))
	s.showMade(&l, &q)
	rows, atFinal := s.showParts(&l, &q)
	out.Parts = out.Parts[len(out.Parts)-rows:]
	var all wetTerms
	for i := range q.Ingredients {
		n := strconv.Itoa(i + 1)
		all.add(q.Liquids, &q.Ingredients[i], n, "p_"+n)
	}
	l.line(
		"flour at the final mix: F_f = x*F/100",
		"flour in starters, of all that is weighed as flour: F_s = "+sumOf(all.starterFlour)+" in %",
		"all the flour, with that in starters: F_all = F*(100 + F_s)/100",
		"flour in the preferments and in starters, of all the flour: P = 100*(100 + F_s - x)/(100 + F_s)",
		"all water: W = "+all.allWater()+" in %",
		"hydration: h = 100*W/(100 + F_s)",
	)
	if out.FinalHydration != 0 {
		l.line(
			"water at the final mix: W_f = "+atFinal.allWater()+" in %",
			"flour in starters at the final mix: F_sf = "+sumOf(atFinal.starterFlour)+" in %",
			"hydration of the final mix: h_f = 100*W_f/(x + F_sf)",
		)
	}
	l.show(w, out)
	q.showWeights(w, out)
}

// showWeights records what is weighed, which depends on all the remainders of a mix at once.
func (q *PrefermentSplit) showWeights(w *reckon.Working, out PrefermentSplitResult) {
	final := ""
	for i := range out.Parts {
		p, n := &out.Parts[i], strconv.Itoa(i+1)
		if p.Mix == FinalMix {
			final = plus(final, "m_"+n)
		}
		if p.Division == 0 && p.Mass == p.Exact {
			w.Step(p.Name+" in "+p.Mix+", to weigh", "m_"+n, "e_"+n, float64(p.Mass), "g", "")
			continue
		}
		if findPreferment(q.Preferments, p.Name) >= 0 && p.Division == 0 {
			left := ""
			for j := range out.Parts[:i] {
				m := "m_" + strconv.Itoa(j+1)
				switch o := &out.Parts[j]; p.Name {
				case o.Mix:
					left = plus(left, m)
				case o.Name:
					left += " - " + m
				}
			}
			w.Step(p.Name+" in "+p.Mix+", all that was made of it and is left", "m_"+n, left, float64(p.Mass), "g", "")
			continue
		}
		showRounded(w, p.Name+" in "+p.Mix+", to weigh"+onScale(p.Scale), n, scaling{}.showDivision(w, n, p.Division), p.Exact, p.Division, p.Mass)
	}
	w.Lines(out, "dough as weighed: D_d = "+final)
}

// symbol is that of a part of preferment k: an ingredient or another preferment.
func (q *PrefermentSplit) symbol(k int, part string) string {
	if i := findIngredient(q.Ingredients, part); i >= 0 {
		return "s_" + strconv.Itoa(i+1) + "_" + strconv.Itoa(k+1)
	}
	return "u_" + strconv.Itoa(findPreferment(q.Preferments, part)+1) + "_" + strconv.Itoa(k+1)
}

// showMade adds the lines to how much of each preferment is made.
func (s *splitter) showMade(l *itemLines, q *PrefermentSplit) {
	for _, k := range s.order[:s.n] {
		p := &q.Preferments[k]
		mass, flour := "", ""
		for _, part := range p.Parts {
			if part.Percent == 0 {
				continue
			}
			symbol := q.symbol(k, part.Name)
			mass = plus(mass, symbol)
			if i := findIngredient(q.Ingredients, part.Name); i < 0 {
				n := strconv.Itoa(findPreferment(q.Preferments, part.Name) + 1)
				flour = plus(flour, symbol+"*f_"+n+"/M_"+n)
			} else if q.Ingredients[i].Role == RoleFlour {
				flour = plus(flour, symbol)
			}
		}
		l.item(k+1, p.Name, "weight for 100 of its flour: M_# = "+mass+" in %", "flour in it likewise: f_# = "+sumOf(flour)+" in %")
	}
	taken, perFinal := "", ""
	for k := range q.Preferments {
		n := strconv.Itoa(k + 1)
		switch q.Preferments[k].Reading {
		case FlourOnFlour:
			taken = plus(taken, "a_"+n)
		case MassOnFlour:
			taken = plus(taken, "a_"+n+"*f_"+n+"/M_"+n)
		default:
			perFinal = plus(perFinal, "a_"+n+"/100*f_"+n+"/M_"+n)
		}
	}
	x := "100"
	if taken != "" {
		x = "max(0, 100 - (" + taken + "))"
	}
	if perFinal != "" {
		x += "/(1 + " + perFinal + ")"
	}
	l.line("flour at the final mix, of all the flour weighed: x = " + x + " in %")
	for k := range q.Preferments {
		p, d := &q.Preferments[k], "a_#*x/100"
		switch {
		case p.Amount == 0:
			d = "0"
		case p.Reading == FlourOnFlour:
			d = "a_#*M_#/f_#"
		case p.Reading == MassOnFlour:
			d = "a_#"
		}
		l.item(k+1, p.Name, "into the final mix, of all the flour weighed: d_# = "+d+" in %")
	}
	for o := s.n - 1; o >= 0; o-- {
		k := s.order[o]
		made := "d_#"
		for j := range s.n {
			if s.use[j][k] > 0 {
				n := strconv.Itoa(j + 1)
				made = plus(made, "T_"+n+"*u_#_"+n+"/M_"+n)
			}
		}
		l.item(k+1, q.Preferments[k].Name, "to make, of all the flour weighed: T_# = "+made+" in %")
	}
}

// showParts adds the lines to the weighings, in their order, and returns how
// many there are and what those at the final mix hold of water and flour.
func (s *splitter) showParts(l *itemLines, q *PrefermentSplit) (rows int, atFinal wetTerms) {
	add := func(mix, name, percent string) {
		rows++
		l.item(rows, name+" in "+mix, "of all the flour weighed: q_# = "+percent, "before rounding: e_# = q_#*F/100")
	}
	for _, k := range s.order[:s.n] {
		p, n := &q.Preferments[k], strconv.Itoa(k+1)
		for _, part := range p.Parts {
			if part.Percent > 0 {
				add(p.Name, part.Name, "T_"+n+"*"+q.symbol(k, part.Name)+"/M_"+n)
			}
		}
	}
	for i := range q.Ingredients {
		g, n := &q.Ingredients[i], strconv.Itoa(i+1)
		if s.left(q, i) == 0 {
			continue
		}
		var left strings.Builder
		left.WriteString("p_" + n)
		for k := range q.Preferments {
			m := strconv.Itoa(k + 1)
			for _, part := range q.Preferments[k].Parts {
				if part.Name == g.Name && part.Percent > 0 {
					left.WriteString(" - T_" + m + "*s_" + n + "_" + m + "/M_" + m)
				}
			}
		}
		add("the "+FinalMix, g.Name, left.String())
		atFinal.add(q.Liquids, g, n, "q_"+strconv.Itoa(rows))
	}
	for k := range q.Preferments {
		if s.direct[k] > 0 {
			add("the "+FinalMix, q.Preferments[k].Name, "d_"+strconv.Itoa(k+1))
		}
	}
	return rows, atFinal
}
