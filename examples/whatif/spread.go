package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"

	"example.com/dough/doughmath/unit"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/tabular"
)

// spread says how far outputs may be off when inputs are, and which input matters most.
func (a *app) spread(f *flags) error {
	q, err := readQuestion(f, func(q *whatif.Spread) *whatif.Study { return &q.Study })
	if err != nil {
		return err
	}
	var s shard
	if err := f.drawing(&q.Study, &s); err != nil {
		return err
	}
	if q.Digits, err = f.whole("digits", q.Digits); err != nil {
		return err
	}
	if text := f.text("probability"); text != "" {
		if err := q.Probability.UnmarshalText([]byte(text)); err != nil {
			return wrong(misused, "-probability: %w", err)
		}
	}
	if _, err := f.choose("chart", "tornado", "histogram"); err != nil {
		return err
	}
	tell, end := a.progress(-1, f.text("file") != "")
	found, err := q.Run(a.ctx, whatif.Options{Workers: s.workers, Progress: tell})
	end()
	if err != nil {
		return stopped(err)
	}
	if err := a.report(f, found, func(w io.Writer) { writeSpread(w, found) }); err != nil {
		return err
	}
	if len(f.given["plot"]) == 0 {
		return nil
	}
	p, err := spreadPicture(found, f.text("chart"), cmp.Or(f.text("product"), f.text("id"), q.Study.Calculation))
	return savePictures(f, p, err)
}

// savePictures writes the picture to every file asked for.
func savePictures(f *flags, p *plot.Plot, err error) error {
	if err != nil {
		return &failure{misused, err}
	}
	for _, name := range f.given["plot"] {
		if err := save(name, p, 0); err != nil {
			return &failure{broken, err}
		}
	}
	return nil
}

// digits is x with six significant digits.
func digits(x float64) string {
	if math.Abs(x) >= 1e6 && math.Abs(x) < 1e15 {
		return string(tabular.AppendNumber(nil, math.Round(x)))
	}
	return strconv.FormatFloat(x, 'g', 6, 64)
}

// difference is the unit of a difference of a column's values.
func difference(symbol string) string {
	return map[string]string{"°C": "C°", "°F": "F°", "K": "K"}[symbol]
}

func apart(c *whatif.Column) string {
	if d := difference(c.Unit); d != "" {
		return " " + d
	}
	return unitAfter(c.Unit)
}

func writeSpread(w io.Writer, s *whatif.SpreadResult) {
	for i := range s.Outputs {
		o := &s.Outputs[i]
		if i > 0 {
			fmt.Fprintln(w)
		}
		writeScatter(w, o, s.Probability)
		writeShares(w, o, s.Inputs)
	}
	fmt.Fprintf(w, "\n%d trials", s.Trials)
	if s.Refused.Count > 0 {
		fmt.Fprintf(w, "; %s of them have no answer", share(s.Refused))
	}
	fmt.Fprintln(w)
	for _, c := range s.Conditions {
		fmt.Fprintf(w, "  %s: %s\n", c.Word, share(c.Share))
	}
	for _, n := range s.Notes {
		fmt.Fprintln(w, n)
	}
}

// share is how often something was so.
func share(s whatif.Share) string {
	if s.Count == s.Of {
		return "all"
	}
	return fmt.Sprintf("%s %% (%s to %s)", number(100*s.Value), number(100*s.Low), number(100*s.High))
}

// writeScatter sets the two ways side by side.
func writeScatter(w io.Writer, o *whatif.SpreadOutput, probability unit.Percent) {
	c := &o.Column
	fmt.Fprintf(w, "%s\n", c.Path)
	head := fmt.Sprintf("%v interval", probability)
	line := func(way, value, u, interval string) {
		fmt.Fprintf(w, "  %-12s  %-14s  %-22s  %s\n", way, value, u, interval)
	}
	line("", "value", "standard uncertainty", head)
	if p := o.FirstOrder; p != nil {
		line("first order", number(p.Estimate)+unitAfter(c.Unit), number(p.U)+apart(c), number(p.Low)+" to "+number(p.High)+unitAfter(c.Unit))
	}
	if t := o.Trials; t != nil {
		line("trials", number(t.Mean.Value)+unitAfter(c.Unit), number(t.U.Value)+apart(c), number(t.Low.Value)+" to "+number(t.High.Value)+unitAfter(c.Unit))
	}
	if g := o.Agreement; g != nil {
		says := map[whatif.Verdict]string{
			whatif.Agrees:    "The two agree to within %s%s.",
			whatif.Differs:   "The two differ by more than %s%s: take the trials.",
			whatif.Undecided: "Too few trials to tell whether the two agree to within %s%s.",
		}[g.Verdict]
		fmt.Fprintf(w, "  "+says+"\n", number(g.Tolerance), apart(c))
	}
}

// writeShares lists what each input has in the scatter, the largest first.
func writeShares(w io.Writer, o *whatif.SpreadOutput, inputs []whatif.SpreadInput) {
	bars := barsOf(o, inputs)
	if len(bars) == 0 {
		return
	}
	fmt.Fprintf(w, "  %-34s  %14s  %16s  %20s\n", "what decides it", "uncertainty", "moves it by", "share of the scatter")
	for _, b := range bars {
		moves := ""
		if b.part > 0 {
			moves = number(b.part) + apart(&o.Column)
		}
		fmt.Fprintf(w, "  %-34s  %14s  %16s  %20s\n", b.name, b.u, moves, percent(b.share))
	}
}

// percent is a share with two digits: chance moves the third.
func percent(share float64) string { return strconv.FormatFloat(share, 'g', 2, 64) + " %" }

// barsOf are the shares of the inputs, the largest first: by trials where there are, else to
// first order.
func barsOf(o *whatif.SpreadOutput, inputs []whatif.SpreadInput) []bar {
	var out []bar
	for i := range inputs {
		in := &inputs[i]
		b := bar{name: in.Column.Path, u: number(in.U) + apart(&in.Column), low: math.NaN(), high: math.NaN(), rises: true}
		if o.FirstOrder != nil {
			k := o.FirstOrder.Inputs[i]
			b.share, b.part, b.rises = 100*k.Share, k.Part, k.Slope >= 0
		}
		if len(o.Influences) > 0 {
			total := o.Influences[i].Total
			b.share, b.low, b.high = 100*total.Value, 100*(total.Value-total.Error), 100*(total.Value+total.Error)
		}
		if o.FirstOrder != nil || len(o.Influences) > 0 {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b bar) int { return cmp.Compare(b.share, a.share) })
	return out
}

// spreadPicture draws the first output.
func spreadPicture(s *whatif.SpreadResult, chart, of string) (*plot.Plot, error) {
	o := &s.Outputs[0]
	if chart == "histogram" {
		h := &histogram{title: heading(of, "scatter of "+words(o.Column.Path)), x: title(o.Column), values: o.Values()}
		if t := o.Trials; t != nil {
			h.mean, h.low, h.high, h.covers = t.Mean.Value, t.Low.Value, t.High.Value, float64(s.Probability)
		}
		if p := o.FirstOrder; p != nil && p.U > 0 {
			h.curve = func(x float64) float64 {
				z := (x - p.Estimate) / p.U
				return math.Exp(-z*z/2) / (p.U * math.Sqrt(2*math.Pi))
			}
			h.notes = append(h.notes, "dotted: what first-order propagation says")
		}
		return h.plot()
	}
	t := &tornado{title: heading(of, "what decides "+words(o.Column.Path)), x: "share of the scatter (%)", bars: barsOf(o, s.Inputs)}
	if slices.ContainsFunc(t.bars, func(b bar) bool { return !b.rises }) {
		t.notes = append(t.notes, "filled: it rises with the input; hatched: it falls")
	}
	if slices.ContainsFunc(t.bars, func(b bar) bool { return b.high-b.low > 1 }) {
		t.notes = append(t.notes, "strong line: how far chance may have moved the share")
	}
	return t.plot()
}
