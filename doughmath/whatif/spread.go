package whatif

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Spread asks how far the outputs of a study may be off when its inputs are:
// by the law of propagation to first order, and by trials beside it, which need
// no derivative and take the shapes as they are. It says where the two differ,
// how often there is no answer, how often each condition arises, and which input
// matters most.
//
// What varies is each input with its distribution; a list or a range of values
// stands for values that are equally likely. Combine says how trials are drawn,
// Sobol points if it is left out, and Samples how many there may be at most.
//
// Source: JCGM 100:2008 (GUM), JCGM 101:2008 (Supplement 1), JCGM 102:2011 (Supplement 2).
type Spread struct {
	Study Study `json:"study"` // what is uncertain in vary, and the outputs

	Correlation [][]float64  `json:"correlation,omitzero" items:"1..64"`         // of what varies, in its order, between normal scores (of normal inputs: between the values); leave out if nothing is correlated
	Probability unit.Percent `json:"probability,omitzero" range:"50 %..99.99 %"` // that the interval covers; leave out for 95 %
	Digits      int          `json:"digits,omitzero" range:"1..4"`               // of the standard uncertainty that trials must settle; leave out for 2
	Points      int          `json:"points,omitzero" range:"16..1048576"`        // points of a replicate for the indices of variance; leave out for 512
	Screen      bool         `json:"screen,omitzero"`                            // true for elementary effects as well
}

// The settings of a spread that says nothing else.
const (
	DefaultProbability = unit.Percent(95) // as is usual, GUM 6.3.3
	defaultDigits      = 2                // GUM 7.2.6: at most two
	defaultPoints      = 512
)

// A SpreadResult is how far the outputs may be off.
type SpreadResult struct {
	Inputs      []SpreadInput  `json:"inputs"`
	Outputs     []SpreadOutput `json:"outputs"`
	Probability unit.Percent   `json:"probability"` // that the intervals cover
	Trials      int            `json:"trials"`
	Refused     Share          `json:"refused"`              // trials without an answer, or of a scenario without one of its plans
	Conditions  []WordShare    `json:"conditions,omitempty"` // how often each arose
	// Correlation of the outputs, to first order and over the trials; left out where an output does not vary.
	FirstOrderCorrelation [][]float64 `json:"first_order_correlation,omitempty"`
	TrialsCorrelation     [][]float64 `json:"trials_correlation,omitempty"`
	IndexPointsRefused    *Share      `json:"index_points_refused,omitempty"` // points left out of the indices: refused, or without one of the outputs
	Notes                 []string    `json:"notes,omitempty"`                // what was left out, and why
}

// A SpreadInput is what was taken for an input, in the unit of its column, its uncertainty in that of differences.
type SpreadInput struct {
	Column Column  `json:"column"`
	Mean   float64 `json:"mean"`          // 0 for words
	U      float64 `json:"u"`             // standard uncertainty
	DoF    float64 `json:"dof,omitempty"` // its degrees of freedom; left out if endless
}

// A SpreadOutput is how far one output may be off, in the unit of its column, uncertainties in that of differences.
type SpreadOutput struct {
	Column     Column      `json:"column"`
	FirstOrder *FirstOrder `json:"first_order,omitempty"` // left out where there is none: see the notes
	Trials     *Trials     `json:"trials,omitempty"`      // left out if too few trials have this output
	Agreement  *Agreement  `json:"agreement,omitempty"`
	Influences []Influence `json:"influences,omitempty"` // of each input; left out if inputs are correlated or the output does not vary
	Effects    []Effect    `json:"effects,omitempty"`    // of each input, if asked for

	values []float64 // of the trials, sorted
}

// Values returns the output of every trial that has it, from the least to the greatest.
func (o *SpreadOutput) Values() []float64 { return slices.Clone(o.values) }

// FirstOrder is an output by the law of propagation.
type FirstOrder struct {
	Estimate float64        `json:"estimate"`      // at the means of the inputs
	U        float64        `json:"u"`             // combined standard uncertainty
	DoF      float64        `json:"dof,omitempty"` // effective degrees of freedom, by Welch and Satterthwaite; left out if endless, or if inputs with finite ones are correlated
	Factor   float64        `json:"factor"`        // coverage factor, Student's t at the whole degrees of freedom
	Expanded float64        `json:"expanded"`      // factor * u
	Low      float64        `json:"low"`
	High     float64        `json:"high"`
	Inputs   []Contribution `json:"inputs"`
}

// A Contribution is the part that an input has in the uncertainty of an output.
type Contribution struct {
	Slope      float64 `json:"slope"`       // sensitivity coefficient, in the units of the columns
	SlopeError float64 `json:"slope_error"` // how far the slope may be off
	Part       float64 `json:"part"`        // size of slope * u
	Share      float64 `json:"share"`       // of the variance; all add up to 1, and a correlation can make one negative
}

// Trials is an output by trials.
type Trials struct {
	Answered     int      `json:"answered"` // trials that have this output
	Mean         Estimate `json:"mean"`
	U            Estimate `json:"u"`
	Low          Estimate `json:"low"` // with as much below it as above high
	High         Estimate `json:"high"`
	ShortestLow  Estimate `json:"shortest_low"` // the shortest interval that covers as much
	ShortestHigh Estimate `json:"shortest_high"`
	Tolerance    float64  `json:"tolerance"` // that the digits ask of each
	Reached      bool     `json:"reached"`   // all of them keep it
}

// Agreement says whether the first order stands beside the trials.
type Agreement struct {
	Verdict   Verdict `json:"verdict"`
	Tolerance float64 `json:"tolerance"` // of the ends of the interval: half of the last digit of u
}

// Influence is the part of an output's variance that goes back to an input.
type Influence struct {
	First Estimate `json:"first"` // by itself
	Total Estimate `json:"total"` // with all that it does together with others
}

// Effect is what moving an input through its range does to an output.
type Effect struct {
	Mean     float64 `json:"mean"`     // mu
	Absolute float64 `json:"absolute"` // mu*, the mean size: the larger, the more the input matters
	SD       float64 `json:"sd"`       // sigma: how much the effect depends on the other inputs, or on where the input is
}

// ReadSpread reads a spread from JSON, as [ReadStudy] reads a study.
func ReadSpread(data []byte) (Spread, error) {
	s, err := reckon.Decode[Spread](studyID, data)
	if err != nil {
		return Spread{}, err
	}
	return *s, s.Study.find()
}

// find finds the subject that a study read from JSON names.
func (s *Study) find() error {
	c := reckon.Checks{Func: studyID}
	s.Subject = s.subject(&c)
	if c.OK() {
		return nil
	}
	c.Under(0, "study")
	return c.Err()
}

// subject is what the study is of.
func (s *Study) subject(c *reckon.Checks) Subject {
	return source{s.Subject, s.Calculation, s.Base, s.Scenario}.subject(c)
}

// spreading is a spread that was checked.
type spreading struct {
	*Compiled
	ask         trials
	inputs      []uncertain
	correlation [][]float64
	points      int
	screen      bool
	out         SpreadResult
}

// compile checks the spread.
func (s Spread) compile() (*spreading, error) {
	if s.Study.Combine == "" {
		s.Study.Combine = Sobol
		if len(s.Study.Vary) > maxSpaceful {
			s.Study.Combine = LatinHypercube
		}
	}
	if s.Study.Samples == 0 {
		s.Study.Samples = defaultTrials
	}
	c := reckon.Checks{Func: studyID}
	setDefault(&s.Probability, DefaultProbability)
	setDefault(&s.Digits, defaultDigits)
	setDefault(&s.Points, defaultPoints)
	reckon.CheckRange(&c, "probability", s.Probability, 50, 99.99)
	reckon.CheckCount(&c, "digits", s.Digits, 1, 4)
	reckon.CheckCount(&c, "points", s.Points, 16, 1<<20)
	reckon.CheckWord(&c, "study.combine", s.Study.Combine, Random, LatinHypercube, Sobol, Halton)
	checkCorrelation(&c, "correlation", s.Correlation, len(s.Study.Vary))
	if len(s.Study.Outputs) == 0 {
		c.Fail("study.outputs", "empty", "at least one output")
	}
	// A batch needs two trials, and all trials are kept.
	reckon.CheckCount(&c, "study.samples", s.Study.Samples, 2*leastBatches, maxTrials/max(len(s.Study.Outputs), 1))
	if !c.OK() {
		s.Study.Combine, s.Study.Samples = Random, 1 // so that what was told is not told twice
	}
	study, err := s.Study.Compile()
	c.Nest("study", err)
	if !c.OK() {
		return nil, c.Err()
	}
	out := &spreading{Compiled: study, correlation: s.Correlation, points: s.Points, screen: s.Screen}
	out.out.Probability = s.Probability
	limit := s.Study.Limit
	setDefault(&limit, DefaultLimit)
	if n := indexReplicates * s.Points * (len(s.Study.Vary) + 2); n > limit && !s.Study.Force && len(s.Correlation) == 0 {
		c.Fail("points", strconv.Itoa(s.Points)+" points, which make "+strconv.Itoa(n)+" scenarios", "at most "+strconv.Itoa(limit)+" scenarios, or force to run them all the same")
	} else if outputs := (len(s.Study.Vary) + 2) * len(s.Study.Outputs); s.Points > maxTrials/outputs && len(s.Correlation) == 0 {
		c.Fail("points", strconv.Itoa(s.Points)+" points of "+strconv.Itoa(outputs)+" outputs each", "at most "+strconv.Itoa(maxTrials/outputs)+" points, which are held at the same time; or fewer inputs or outputs")
	}
	out.ask = trials{scheme: s.Study.Combine, seed: uint64(s.Study.Seed), digits: s.Digits, most: s.Study.Samples, probability: float64(s.Probability) / 100}
	for k := range study.factors {
		if in := study.factors[k].known(&c, "study."+item("vary", k), study.columns[k].Kind); in != nil {
			out.inputs = append(out.inputs, *in)
		}
	}
	for j, col := range study.columns[len(study.factors):] {
		if col.Kind == Word {
			c.Fail("study."+item("outputs", j)+".path", quoted(col.Path), "an output that is a number: words do not spread")
		}
	}
	return out, c.Err()
}

// setDefault gives a setting that was left out its usual value.
func setDefault[T comparable](v *T, usual T) {
	var zero T
	if *v == zero {
		*v = usual
	}
}

// Run works the spread out. It returns an *[reckon.InputError] for each thing
// that is wrong with it, and the error of the context if that is done first. Of
// the options only Workers and Progress count; neither changes a digit.
func (s Spread) Run(ctx context.Context, o Options) (*SpreadResult, error) {
	r, err := s.compile()
	if err = errors.Join(err, o.whole()); err != nil {
		return nil, err
	}
	r.describe()
	first := r.firstOrder()
	if err := r.try(ctx, o, first); err != nil {
		return nil, err
	}
	if err := r.influence(ctx, o); err != nil {
		return nil, err
	}
	r.effects()
	return &r.out, nil
}

func (r *spreading) note(format string, args ...any) {
	r.out.Notes = append(r.out.Notes, fmt.Sprintf(format, args...))
}

// scale is how much of the unit of its column one of the unit held is, for differences.
func (c *Compiled) scale(k int) float64 {
	f := &c.factors[k]
	return tidy(f.fromHeld(1) - f.fromHeld(0))
}

// describe says what is taken for the inputs.
func (r *spreading) describe() {
	for k, in := range r.inputs {
		row := SpreadInput{Column: r.columns[k], Mean: r.factors[k].fromHeld(in.mean()), U: in.u() * r.scale(k)}
		if r.columns[k].Kind == Word {
			row.Mean, row.U = 0, 0
		}
		if dof := in.freedom(); !math.IsInf(dof, 1) {
			row.DoF = dof
		}
		r.out.Inputs = append(r.out.Inputs, row)
	}
	for _, col := range r.columns[len(r.factors):] {
		r.out.Outputs = append(r.out.Outputs, SpreadOutput{Column: col})
	}
}

// firstOrder propagates the uncertainties, where all inputs move without steps.
func (r *spreading) firstOrder() []propagation {
	for k, in := range r.inputs {
		if _, steps := in.shape.(discrete); steps {
			r.note("no first order: %s takes only some values", r.columns[k].Path)
			return nil
		}
		if math.IsInf(in.u(), 1) {
			r.note("no first order: the standard uncertainty of %s is endless", r.columns[k].Path)
			return nil
		}
	}
	first, joint, err := propagate(r.bench().function, r.inputs, r.correlation, r.outputs(), r.ask.probability)
	if err != nil {
		r.note("no first order: there is no answer at the means of the inputs: %v", err)
		return nil
	}
	whole := true
	for o := range first {
		p := &first[o]
		if math.IsNaN(p.estimate) {
			r.note("no first order of %s: the answer at the means of the inputs leaves it out", r.out.Outputs[o].Column.Path)
			whole = false
			continue
		}
		if bad := slices.IndexFunc(p.slopes, func(s slope) bool { return math.IsNaN(s.value) }); bad >= 0 {
			r.note("no first order of %s: it has no answer close to the mean of %s", r.out.Outputs[o].Column.Path, r.columns[bad].Path)
			whole = false
			continue
		}
		out := &FirstOrder{Estimate: p.estimate, U: p.u, Factor: p.factor, Expanded: p.expanded, Low: p.estimate - p.expanded, High: p.estimate + p.expanded}
		if !math.IsInf(p.dof, 1) && !math.IsNaN(p.dof) {
			out.DoF = p.dof
		}
		if math.IsNaN(p.dof) {
			r.note("%s: inputs with few degrees of freedom are correlated, for which there is no formula; the coverage factor is that of endless ones", r.out.Outputs[o].Column.Path)
		}
		for k, s := range p.slopes {
			out.Inputs = append(out.Inputs, Contribution{Slope: s.value / r.scale(k), SlopeError: s.err / math.Abs(r.scale(k)), Part: p.parts[k], Share: p.shares[k]})
			if p.parts[k] > 0 && s.err > 0.05*math.Abs(s.value) {
				r.note("%s moves in steps or bends sharply with %s: its slope there is good to %.2g only", r.out.Outputs[o].Column.Path, r.columns[k].Path, s.err/math.Abs(r.scale(k)))
			}
		}
		r.out.Outputs[o].FirstOrder = out
	}
	if whole {
		r.out.FirstOrderCorrelation = correlationOf(joint)
	}
	return first
}

// correlationOf is left out for one output, and where one does not vary.
func correlationOf(joint [][]float64) [][]float64 {
	out := make([][]float64, len(joint))
	for a := range joint {
		for b := range joint {
			r := joint[a][b] / math.Sqrt(joint[a][a]*joint[b][b])
			if math.IsNaN(r) || math.IsInf(r, 0) || len(joint) < 2 {
				return nil
			}
			out[a] = append(out[a], min(max(r, -1), 1))
		}
	}
	return out
}

func (r *spreading) shapes() (out []shape) {
	for _, in := range r.inputs {
		out = append(out, in.shape)
	}
	return out
}

// try makes the trials.
func (r *spreading) try(ctx context.Context, o Options, first []propagation) error {
	p, n, done := newPopulation(r.shapes(), r.correlation), r.outputs(), 0
	words := newTally(r.m)
	o.ValuesOnly = false // conditions are counted
	c := reckon.Checks{Func: studyID}
	all, err := try(&c, func(points sampler, y []float64) (refused int, err error) {
		at := 0
		err = r.each(ctx, o, &sample{p, points, r.Compiled}, len(y)/n, func(row *Row) {
			at += copy(y[at:], row.Values[len(r.factors):])
			if row.err != nil {
				refused++
			}
			words.add(row)
			done++
			o.tell(done)
		})
		return refused, err
	}, len(r.inputs), n, r.ask)
	if err != nil {
		return err
	}
	r.out.Trials, r.out.Refused, r.out.Conditions = all.trials, newShare(all.refused, all.trials), words.shares()
	r.out.TrialsCorrelation = correlationOf(all.joint)
	for k := range r.out.Outputs {
		t, out := &all.outputs[k], &r.out.Outputs[k]
		if len(t.us) < 2 {
			r.note("no trials of %s: only %d of %d have it", out.Column.Path, t.answered, all.trials)
			continue
		}
		out.values = t.sorted
		out.Trials = &Trials{t.answered, t.mean, t.u, t.low, t.high, t.shortLow, t.shortHigh, t.tolerance, t.reached}
		if t.answered < all.trials {
			r.note("%s: %d of %d trials have it; the figures of the trials are of those alone", out.Column.Path, t.answered, all.trials)
		}
		if !t.reached {
			r.note("%s: %d trials do not settle %d digits of its uncertainty; the errors say how far chance may have moved it", out.Column.Path, all.trials, r.ask.digits)
		}
		if out.FirstOrder != nil {
			says, wanted := t.compare(&first[k], r.ask.digits)
			out.Agreement = &Agreement{says, wanted}
		}
	}
	return nil
}

const (
	// indexRefusedShare of the points of the indices may be missing: what is left is
	// no longer made of inputs that are independent.
	indexRefusedShare = 0.05
	// An input that has less than hiddenShare of the variance to first order and more than
	// seenShare of it in truth is hidden by a slope that is zero just there.
	hiddenShare = 0.001
	seenShare   = 0.05
)

// influence works out the indices of variance, where inputs are independent.
func (r *spreading) influence(ctx context.Context, o Options) error {
	if len(r.correlation) > 0 {
		r.note("no indices of variance: they are for inputs that are independent")
		return nil
	}
	p := newPopulation(r.shapes(), nil)
	c := reckon.Checks{Func: studyID}
	o.ValuesOnly = true
	found, refused, err := influences(
		func(seed uint64) *pairs { return newPairs(&c, p, r.points, seed, r.show) },
		func(plan design, n int, visit func(y []float64)) error {
			return r.each(ctx, o, plan, n, func(row *Row) { visit(row.Values[len(r.factors):]) })
		}, r.outputs(), r.points, indexReplicates, r.ask.seed,
	)
	if err != nil {
		return err
	}
	if refused.Count > 0 {
		r.out.IndexPointsRefused = &refused
	}
	if refused.Value > indexRefusedShare {
		r.note("no indices of variance: %.3g %% of their points are refused or leave an output out, so that what is left is not independent", 100*refused.Value)
		return nil
	}
	for k := range r.out.Outputs {
		out := &r.out.Outputs[k]
		if math.IsNaN(found[k][0].first.Error) {
			r.note("no indices of variance of %s: it does not vary", out.Column.Path)
			continue
		}
		for j, in := range found[k] {
			out.Influences = append(out.Influences, Influence{in.first, in.total})
			if out.FirstOrder != nil && out.FirstOrder.Inputs[j].Share < hiddenShare && in.total.Value-in.total.Error > seenShare {
				r.note("%s: the first order does not see %s, whose slope is all but zero at the means; it has %.0f %% of the variance", out.Column.Path, r.columns[j].Path, 100*in.total.Value)
			}
		}
	}
	return nil
}

// effects adds elementary effects, if they are wanted.
func (r *spreading) effects() {
	switch {
	case !r.screen:
		return
	case len(r.correlation) > 0:
		r.note("no elementary effects: they are for inputs that are independent")
		return
	}
	p := newPopulation(r.shapes(), nil)
	all := screening(r.bench().function, p.draw, len(p.shapes), r.outputs(), screenPaths, r.ask.seed)
	for k := range r.out.Outputs {
		for j, e := range all[k] {
			if e.of < 2 {
				r.note("no elementary effect of %s on %s: too few steps are answered", r.columns[j].Path, r.out.Outputs[k].Column.Path)
				r.out.Outputs[k].Effects = nil
				break
			}
			r.out.Outputs[k].Effects = append(r.out.Outputs[k].Effects, Effect{e.mean, e.absolute, e.sd})
		}
	}
}
