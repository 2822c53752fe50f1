package whatif

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// A Robust asks which setting of a study keeps its outputs where they must be most
// often, while other inputs scatter. Every setting meets the same draws of what
// scatters, so that settings differ by what they are and not by chance.
type Robust struct {
	Study       Study       `json:"study"`                               // what may be set in vary, as a grid or side by side
	Scatter     []Factor    `json:"scatter" items:"1..64"`               // what scatters, each with its distribution, a list or a range
	Correlation [][]float64 `json:"correlation,omitzero" items:"1..64"`  // of what scatters, in its order; leave out if nothing is correlated
	Must        Must        `json:"must"`                                // what an answer has to keep to
	Trials      int         `json:"trials,omitzero" range:"10..1000000"` // of each setting; leave out for 1000
	Seed        int         `json:"seed,omitzero"`                       // of the draws
}

// DefaultRobustTrials tell shares apart that differ by some 4 in 100.
const DefaultRobustTrials = 1000

// A RobustResult is the setting that keeps to what it must most often.
type RobustResult struct {
	Columns  []Column        `json:"columns"` // the inputs that are set
	Trials   int             `json:"trials"`  // of each setting
	Settings int             `json:"settings"`
	Best     RobustSetting   `json:"best"`              // the first of those that are best
	Tied     int             `json:"tied,omitempty"`    // other settings that keep as often
	Ahead    *Estimate       `json:"ahead,omitempty"`   // by how much the share of the best is above that of the second; left out if there is no second
	Next     []RobustSetting `json:"next,omitempty"`    // the settings after the best, at most nine
	Cautions reckon.Cautions `json:"cautions,omitzero"` // of the best, whatever scatters
}

// A RobustSetting is one setting with how often it keeps to all.
type RobustSetting struct {
	Index   int               `json:"index"`           // of the scenario of the study
	Inputs  []float64         `json:"inputs"`          // in the units of the columns; 0 for a word
	Words   map[string]string `json:"words,omitempty"` // inputs that are words, by path
	Kept    Share             `json:"kept"`
	Refused int               `json:"refused,omitempty"` // trials without an answer
}

// ReadRobust reads a robust from JSON, as [ReadStudy] reads a study.
func ReadRobust(data []byte) (Robust, error) {
	s, err := reckon.Decode[Robust](studyID, data)
	if err != nil {
		return Robust{}, err
	}
	return *s, s.Study.find()
}

// enduring is a Robust that was checked: settings and what scatters in one study.
type enduring struct {
	Compiled
	requirement
	settings *Compiled
	noise    *population
	draws    sampler
	trials   int
}

func (s Robust) compile() (*enduring, error) {
	c := reckon.Checks{Func: studyID}
	setDefault(&s.Trials, DefaultRobustTrials)
	reckon.CheckCount(&c, "trials", s.Trials, 10, 1_000_000)
	if len(s.Scatter) == 0 {
		c.Fail("scatter", "empty", "at least one input that scatters")
	}
	if s.Study.drawn() {
		c.Fail("study.combine", quoted(string(s.Study.Combine)), reckon.OneOf(Grid, SideBySide)+": what is set is not drawn")
	}
	checkCorrelation(&c, "correlation", s.Correlation, len(s.Scatter))
	mark := c.Mark()
	s.Must.check(&c)
	c.Under(mark, "must")
	if len(s.Must.Limits)+len(s.Must.With)+len(s.Must.Without) == 0 {
		c.Fail("must", "empty", "at least one limit or word to keep to")
	}
	if !c.OK() {
		return nil, c.Err()
	}
	s.Study.Outputs = s.Must.outputsOf(s.Study.Outputs)
	settings, err := s.Study.Compile()
	c.Nest("study", err)
	noise := s.Study
	noise.Vary, noise.Combine, noise.Samples, noise.Seed = s.Scatter, Random, s.Trials, s.Seed
	noise.Force = true // how many there are is told below, with the settings
	scatter, err := noise.Compile()
	for _, e := range reckon.InputErrors(err) {
		if in := *e; strings.HasPrefix(in.Field, "vary") {
			in.Field = "scatter" + strings.TrimPrefix(in.Field, "vary")
			c.Nest("", &in)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	out := &enduring{Compiled: *settings, settings: settings, draws: randomPoints{uint64(s.Seed)}, trials: s.Trials}
	out.join(&c, scatter)
	mark = c.Mark()
	out.requirement = s.Must.compile(&c, &out.Compiled)
	c.Under(mark, "must")
	var shapes []shape
	for k := range scatter.factors {
		if in := scatter.factors[k].known(&c, item("scatter", k), scatter.columns[k].Kind); in != nil {
			shapes = append(shapes, in.shape)
		}
	}
	out.noise = newPopulation(shapes, s.Correlation)
	limit := s.Study.Limit
	setDefault(&limit, DefaultLimit)
	if !s.Study.Force && settings.size > limit/s.Trials {
		c.Fail("study.vary", strconv.Itoa(settings.size)+" settings with "+strconv.Itoa(s.Trials)+" trials each", "at most "+strconv.Itoa(limit)+" scenarios, or force to run them all the same")
	}
	if settings.size > math.MaxInt/s.Trials {
		c.Fail("study.vary", strconv.Itoa(settings.size)+" settings", "fewer: they cannot be counted with their trials")
	}
	return out, c.Err()
}

// join adds the inputs that scatter behind those that are set.
func (r *enduring) join(c *reckon.Checks, scatter *Compiled) {
	set, n := r.settings, len(r.settings.factors)
	for k := range scatter.m.ins {
		for i := range set.m.ins {
			if scatter.m.ins[k].at == set.m.ins[i].at {
				c.Fail(item("scatter", k)+".path", quoted(scatter.m.ins[k].path), "an input that is not set as well: "+item("study.vary", i)+" is the same")
			}
		}
	}
	r.m = set.m.subject.model(slices.Concat(set.m.ins, scatter.m.ins), set.m.outs)
	r.factors = slices.Concat(set.factors, scatter.factors)
	k := len(scatter.factors)
	r.columns = slices.Concat(set.columns[:n], scatter.columns[:k], set.columns[n:])
	r.convert = slices.Concat(set.convert[:n], scatter.convert[:k], set.convert[n:])
	r.turned = slices.Concat(set.turned[:n], scatter.turned[:k], set.turned[n:])
	r.plan = r
}

// point is trial i%trials of setting i/trials.
func (r *enduring) point(i int, x, shown, u []float64) {
	n := len(r.settings.factors)
	r.settings.plan.point(i/r.trials, x[:n], shown[:n], u[:n])
	r.draws.Point(i%r.trials, u[n:])
	r.noise.draw(u[n:], x[n:])
	for k := n; k < len(x); k++ {
		shown[k] = r.factors[k].fromHeld(x[k])
	}
}

// Run tries every setting. It returns an *[reckon.InputError] for each thing that is
// wrong, and the error of the context if that is done first. Of the options only
// Workers and Progress count; neither changes a digit.
//
// Source: common random numbers; the interval of a share as in [Share], that of a
// difference of paired shares by Q. McNemar, Psychometrika 12 (1947) 153.
func (s Robust) Run(ctx context.Context, o Options) (*RobustResult, error) {
	r, err := s.compile()
	if err = errors.Join(err, o.whole()); err != nil {
		return nil, err
	}
	n := len(r.settings.factors)
	out := &RobustResult{Columns: r.settings.columns[:n], Trials: r.trials, Settings: r.settings.size}
	var top []RobustSetting
	var now RobustSetting
	r.size = r.settings.size * r.trials
	done := 0
	for row, err := range r.Rows(ctx, Options{Workers: o.Workers, Progress: o.Progress, ValuesOnly: len(r.words) == 0}) {
		if err != nil {
			return nil, err
		}
		if done%r.trials == 0 {
			now = RobustSetting{Index: done / r.trials, Inputs: slices.Clone(row.Values[:n]), Words: map[string]string{}}
			for k, v := range now.Inputs {
				if math.IsNaN(v) {
					now.Inputs[k], now.Words[r.columns[k].Path] = 0, row.Word(k)
				}
			}
		}
		if row.err != nil {
			now.Refused++
		} else if r.missed(row) == 0 {
			now.Kept.Count++
		}
		if done++; done%r.trials == 0 {
			top = rank(top, now, out)
		}
	}
	for i := range top {
		top[i].Kept = newShare(top[i].Kept.Count, r.trials)
	}
	out.Best, out.Next = top[0], top[1:]
	for row, err := range r.Rows(ctx, Options{Workers: o.Workers, First: out.Best.Index * r.trials, Count: r.trials}) {
		if err != nil {
			return nil, err
		}
		out.Cautions |= row.Cautions()
	}
	if len(top) > 1 {
		ahead, err := r.ahead(ctx, o, top[0].Index, top[1].Index)
		if err != nil {
			return nil, err
		}
		out.Ahead = &ahead
	}
	return out, nil
}

// rank keeps the ten best settings, the earlier one of two that do as well, and counts those that tie with the best.
func rank(top []RobustSetting, now RobustSetting, out *RobustResult) []RobustSetting {
	switch {
	case len(top) == 0 || now.Kept.Count > top[0].Kept.Count:
		out.Tied = 0
	case now.Kept.Count == top[0].Kept.Count:
		out.Tied++
	}
	top = append(top, now)
	slices.SortStableFunc(top, func(a, b RobustSetting) int { return cmp.Compare(b.Kept.Count, a.Kept.Count) })
	return top[:min(len(top), 10)]
}

// ahead tries two settings once more to see in which trials only one of them kept.
func (r *enduring) ahead(ctx context.Context, o Options, first, second int) (Estimate, error) {
	var kept [2][]bool
	for i, setting := range []int{first, second} {
		for row, err := range r.Rows(ctx, Options{Workers: o.Workers, First: setting * r.trials, Count: r.trials, ValuesOnly: len(r.words) == 0}) {
			if err != nil {
				return Estimate{}, err
			}
			kept[i] = append(kept[i], r.missed(row) == 0)
		}
	}
	only, n := [2]float64{}, float64(r.trials)
	for i := range kept[0] {
		switch {
		case kept[0][i] && !kept[1][i]:
			only[0]++
		case kept[1][i] && !kept[0][i]:
			only[1]++
		}
	}
	by := only[0] - only[1]
	return newEstimate(by/n, 2*math.Sqrt(only[0]+only[1]-by*by/n)/n), nil
}
