package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/testdata"
)

// confidence is that of the trials' curve. Source: common practice.
const confidence = unit.Percent(95)

// scale is that of the handle, as far as the options say.
func (l *line) scale() marks {
	if l.trials == "" && !l.demo {
		return anyMark
	}
	return marks{l.markLow, l.markHigh, "the handle's scale as -mark-low and -mark-high give it"}
}

// calibrate fits weight to mark, if trials were named.
func (l *line) calibrate() error {
	var data []byte
	var err error
	switch {
	case l.trials != "":
		data, err = intake.Read(l.trials)
	case l.demo:
		data, err = testdata.Scenario("trials.csv")
	default:
		return nil
	}
	if err != nil {
		return &broken{err}
	}
	trials, err := readTrials(data, l.scale())
	if err != nil {
		return fmt.Errorf("trials: %w", err)
	}
	fit, err := divider.MarkFit{Trials: trials, Confidence: confidence, Shape: divider.Straight, Weighting: divider.ByPieces}.Solve()
	if err != nil {
		return fmt.Errorf("trials: %w", err)
	}
	l.calibration = &fit.Calibration
	for _, s := range fit.Conditions.Sentences() {
		fmt.Fprintln(l.out, "trials: "+s)
	}
	return nil
}

// mostWrong is how many bad rows are named before the rest is left to the next time.
const mostWrong = 100

// readTrials reads the table of trials, or complains of every row that cannot be read.
func readTrials(data []byte, scale marks) ([]divider.Trial, error) {
	rows, err := newRows(bytes.NewReader(data), scale, "mark", "pieces")
	if err != nil {
		return nil, err
	}
	var wrong complaints
	for _, name := range []string{"mark", "pieces"} {
		if !rows.has(name) {
			wrong.add("line 1: no column %s: want mark, weight (%s) and pieces", name, rows.unit)
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	var trials []divider.Trial
	for {
		r, err := rows.next()
		if errors.Is(err, io.EOF) {
			return trials, errors.Join(wrong...)
		}
		var row *badRow
		if err != nil && !errors.As(err, &row) {
			return nil, err
		}
		if err != nil && len(wrong) == mostWrong {
			wrong.add("and more")
			return nil, errors.Join(wrong...)
		}
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		trials = append(trials, divider.Trial{Mark: r.mark, Weight: r.weight, Pieces: r.pieces})
	}
}

// advise says where to set the mark, once every lane that runs has a new
// subgroup: one handle serves them all. A lane that has a second one before
// another has its first does not wait for it. A subgroup that shows something
// else than the mark stops the advice: all lanes begin a fresh one.
func (l *line) advise(a *lane, p divider.ChartPoint, group []unit.Mass) error {
	if l.calibration == nil {
		return nil
	}
	verdict, err := l.judge(a, p, group)
	if err != nil {
		return err
	}
	if verdict.LookAt != "" {
		clear(l.latest)
		l.printFinding(a, verdict)
		return nil
	}
	l.finding = verdict.Finding
	_, again := l.latest[a.number]
	l.latest[a.number] = p.Value
	if len(l.latest) < len(l.order) && !again {
		return nil
	}
	var sum unit.Mass
	variance := 0.0             // of single pieces, as the lanes' charts know it
	for _, n := range l.order { // in the order of lanes, so that sums come out alike
		if m, ok := l.latest[n]; ok {
			sd := float64(l.lanes[n].watch.Setup().SD)
			sum, variance = sum+m, variance+float64(sd*sd)
		}
	}
	lanes := len(l.latest)
	mean := sum / unit.Mass(lanes)
	clear(l.latest)
	given, err := l.given()
	if err != nil {
		return err
	}
	next, err := divider.NextMark{
		Calibration: *l.calibration, Mark: l.mark, Weight: mean, Pieces: l.subgroupSize * lanes, Target: l.target, Expected: given.Weight,
		SD: unit.Mass(math.Sqrt(variance / float64(lanes))), Needless: divider.NeedlessMoves, MoveLimit: l.moveLimit, MarkStep: l.markStep, MarkLow: l.markLow, MarkHigh: l.markHigh,
	}.Solve()
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		l.adviseNothing(none.Advice)
		return nil
	}
	if err != nil {
		return err
	}
	l.adviseNothing("")
	l.ordered = nil
	if next.Action == divider.Move {
		l.ordered = &next.Shift
	}
	l.printAdvice(next, mean)
	return nil
}

// given is what the set mark gives by the trials and by what the handle was last moved for.
func (l *line) given() (divider.WeightForMarkResult, error) {
	out, err := divider.WeightForMark{Calibration: *l.calibration, Mark: l.mark, Of: divider.OfMean}.Solve()
	if shifted := out.Weight + l.shift; err == nil && shifted > 0 {
		out.Weight = shifted
	}
	return out, err
}

// judge says what the pieces of a lane's subgroup show, beside their mean. The
// lane's own chart knows how they scatter.
func (l *line) judge(a *lane, p divider.ChartPoint, group []unit.Mass) (divider.WeighingVerdictResult, error) {
	setup := a.watch.Setup()
	given, err := l.given()
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		given.Weight, err = setup.Centre, nil // the trials say nothing of this mark
	}
	if err != nil {
		return divider.WeighingVerdictResult{}, err
	}
	verdict, err := divider.WeighingVerdict{
		Weighings: group, Expected: given.Weight, Target: l.target, PerMark: given.PerMark, MarkStep: l.markStep, MoveLimit: l.moveLimit,
		SD: setup.SD, Needless: divider.NeedlessMoves,
	}.Solve()
	if err == nil && verdict.LookAt == "" && p.Signals.Has(divider.SpreadBeyondLimit) {
		verdict.Finding, verdict.LookAt, verdict.Advice = divider.FoundSpread, divider.FoundSpread.LookAt(), divider.FoundSpread.Advice()
	}
	return verdict, err
}

// printFinding prints what stops the advice, in full if it is not that of the last time.
func (l *line) printFinding(a *lane, v divider.WeighingVerdictResult) {
	fmt.Fprintf(l.out, "lane %d: %s", a.number, v.Finding)
	if v.Piece > 0 {
		fmt.Fprintf(l.out, ", piece %d of the subgroup", v.Piece)
	}
	fmt.Fprintln(l.out)
	if v.Finding != l.finding {
		l.say(v.LookAt)
		l.say(v.Advice)
		for _, s := range v.Cautions.Sentences() {
			l.say(s)
		}
	}
	l.finding, l.alarmed = v.Finding, false
}

// unexplained says of a signal that no move of the mark answers that its cause is to be found.
func (l *line) unexplained() {
	if l.alarmed {
		l.say(divider.OutOfControl.Sentences()[0])
	}
	l.alarmed = false
}

// adviseNothing says why no advice can be given, once for each reason: the
// charts do not need it and go on. The empty reason says that there is advice again.
func (l *line) adviseNothing(why string) {
	if why != "" && why != l.unadvised {
		fmt.Fprintf(l.out, "mark %g: no advice can be given\n", l.mark)
		l.say(why)
	}
	if why != "" {
		l.unexplained()
	}
	l.unadvised = why
}

// printAdvice prints an advice, and in full if it is not that of the last time.
func (l *line) printAdvice(next divider.NextMarkResult, mean unit.Mass) {
	switch next.Action {
	case divider.Move, divider.OffScale:
		fmt.Fprintf(l.out, "mark %g: %s to %.6g (mean %s, target %s)\n", l.mark, next.Action, next.Mark, l.show(mean), l.show(l.target))
	case divider.Between:
		fmt.Fprintf(l.out, "mark %g: %s (mean %s, target %s)\n", l.mark, next.Action, l.show(mean), l.show(l.target))
	default:
		fmt.Fprintf(l.out, "mark %g: %s (mean %s)\n", l.mark, next.Action, l.show(mean))
	}
	if next.Action == divider.Weigh {
		l.say(fmt.Sprintf("%d more pieces would tell.", next.WeighMore))
	}
	if next.Action != l.action {
		l.say(next.Advice)
		for _, s := range next.Cautions.Sentences() {
			l.say(s)
		}
	}
	if next.Action == divider.Move {
		l.alarmed = false // the mark is the cause
	}
	l.unexplained()
	l.action = next.Action
}
