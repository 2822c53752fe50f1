package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/keep"
	"example.com/dough/examples/internal/program"
	"example.com/dough/testdata"
)

// line is the divider: all its lanes behind one handle.
type line struct {
	options
	out         *printing
	rows        *rows
	held        *keep.Held // the state; nil if none is kept
	unkept      bool       // something came that the state does not hold yet
	keepErr     error      // why it could not be written
	keptTo      int        // the line up to which it holds the table
	unit        string     // of the weighings, for all that is shown
	lanes       map[int]*lane
	order       []int // lanes as they first appeared
	calibration *divider.Calibration
	mark        float64
	marked      bool
	moves       []move            // in this run, to be drawn
	latest      map[int]unit.Mass // mean of the newest subgroup of each lane at this mark
	action      divider.Action    // of the last advice
	finding     divider.Finding   // of the last subgroup
	shift       unit.Mass         // what the handle was last moved for: how far today's dough lies off the trials
	ordered     *unit.Mass        // the same, of a move that was advised and not yet made
	alarmed     bool              // a chart signalled and no advice was given since
	unadvised   string            // why the last time no advice could be given
	weighings   int
	last        unit.Mass
	skipped     int // rows that could not be read
	drawn       int // points and moves that are held for the picture
}

// lane is one lane's chart.
type lane struct {
	number  int
	setup   []unit.Mass // gathered until they set the limits
	watch   divider.Watch
	watched bool
	settled int                  // points that set the limits
	last    int                  // number of the last point in this run, 0 before it
	group   []unit.Mass          // the pieces of the subgroup that is being weighed
	points  []divider.ChartPoint // to be drawn
	signals divider.Signals      // of the last point
	moves   []laneMove
}

// move is a move of the handle from one mark to another.
type move struct{ from, to float64 }

// laneMove is a move as a lane saw it: after which of its points, and the
// move's number in the run, counted from 1.
type laneMove struct{ after, number int }

func (l *line) process(ctx context.Context, args []string, stdin io.Reader, stderr io.Writer) error {
	if err := l.calibrate(); err != nil {
		return err
	}
	if l.state != "" {
		defer func() {
			if l.held != nil {
				l.held.Release()
			}
		}()
		if err := l.restore(ctx); err != nil {
			return err
		}
	}
	in, done, err := l.open(args, stdin)
	if err != nil {
		return err
	}
	defer done()
	if l.rows, err = newRows(&keeping{program.Reading(ctx, in), l}, l.scale(), "lane", "mark"); err != nil {
		return err
	}
	l.unit, l.keptTo = l.rows.unit, l.rows.line()
	if l.calibration != nil && !l.rows.has("mark") {
		return errors.New("line 1: no column mark: -trials says where to set the mark, and for that every weighing needs the mark it was made at; add the column, or leave out -trials")
	}
	if err := l.goOn(l.rows); err != nil {
		return err
	}
	// What was read is kept and drawn even if the reading came to a bad end.
	stopped := l.read(stderr)
	l.summary()
	kept := l.keep()
	if kept != nil && errors.Is(stopped, kept) {
		kept = nil // it is what stopped the reading
	}
	if stopped != nil && l.held != nil {
		next := l.rows.line() + 1
		if l.unkept {
			next = l.keptTo + 1
		} else if bad := (*badRow)(nil); errors.As(stopped, &bad) {
			next = bad.line // once it is mended
		}
		stopped = fmt.Errorf("%w\n%s keeps what was read before it: go on with a table that begins at line %d, under the header", stopped, l.state, next)
	}
	if stopped == nil {
		stopped = l.out.err
	}
	return errors.Join(stopped, kept, l.picture())
}

// open returns the table of weighings, and what to do when it has been read.
func (l *line) open(args []string, stdin io.Reader) (io.Reader, func(), error) {
	nothing := func() {}
	switch {
	case l.demo:
		data, err := testdata.Scenario("weighings.csv")
		return bytes.NewReader(data), nothing, err
	case args[0] == "-":
		return stdin, nothing, nil
	}
	file, err := intake.Open(args[0])
	if err != nil {
		return nil, nothing, &broken{err}
	}
	return file, func() { _ = file.Close() }, nil // only read
}

// read takes the weighings one by one, and returns what stopped it before the end.
func (l *line) read(stderr io.Writer) error {
	for l.out.err == nil {
		row, err := l.rows.next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		var bad *badRow
		switch {
		case errors.As(err, &bad) && l.badRows == "skip":
			complain(stderr, err)
			l.skipped++
			continue
		case bad != nil:
			return fmt.Errorf("%w (nothing after it was read; -bad-rows skip leaves it out)", err)
		case err != nil:
			return err
		}
		if err := l.weigh(row); err != nil {
			return fmt.Errorf("line %d: %w (nothing after it was read)", row.line, err)
		}
	}
	return l.out.err
}

// lane returns the lane of that number, a new one if it was not seen before.
func (l *line) lane(number int) *lane {
	a := l.lanes[number]
	if a == nil {
		a = &lane{number: number}
		l.lanes[number] = a
		l.order = append(l.order, number)
	}
	return a
}

// weigh takes one weighing.
func (l *line) weigh(r row) error {
	l.weighings++
	l.last, l.unkept = r.weight, true
	if r.hasMark {
		if l.marked && r.mark != l.mark {
			l.move(r.mark)
		}
		l.mark, l.marked = r.mark, true
	}
	a := l.lane(r.lane)
	if !a.watched {
		a.setup = append(a.setup, r.weight)
		if len(a.setup) == l.setup*l.subgroupSize {
			return l.settle(a)
		}
		return nil
	}
	p, complete, err := a.watch.Add(r.weight)
	if err != nil {
		return err
	}
	a.group = append(a.group, r.weight)
	if !complete {
		return nil
	}
	group := a.group
	a.group = a.group[:0]
	a.last = p.Point
	if l.draws() { // only a picture needs what is past
		a.points = append(a.points, p)
	}
	l.report(a, p)
	return l.advise(a, p, group)
}

// move notes that the handle was moved: a subgroup of two settings would be none.
func (l *line) move(to float64) {
	fmt.Fprintf(l.out, "mark moved from %g to %g\n", l.mark, to)
	clear(l.latest)
	if l.ordered != nil { // as advised: the mark was set for the dough of today
		l.shift, l.ordered = *l.ordered, nil
	}
	if l.draws() {
		l.moves = append(l.moves, move{l.mark, to})
	}
	for _, n := range l.order {
		if dropped := l.startAfresh(l.lanes[n]); dropped > 0 {
			fmt.Fprintf(l.out, "lane %d: %d weighings before the move belong to no subgroup and are left out\n", n, dropped)
		}
	}
}

// startAfresh gives up what a lane gathered at the mark before, and returns
// how many weighings that were. The chart of a lane that is being set up only
// begins after the move, so the move is none of its chart.
func (l *line) startAfresh(a *lane) (dropped int) {
	if !a.watched {
		dropped, a.setup = len(a.setup), nil
		return dropped
	}
	if l.draws() {
		a.moves = append(a.moves, laneMove{a.last, len(l.moves)})
	}
	a.group = a.group[:0]
	return a.watch.Restart()
}

// settle sets up a lane's chart on the pieces gathered.
func (l *line) settle(a *lane) error {
	l.unkept = true
	gathered, design := a.setup, l.chart(0, 0)
	a.setup = nil // if they make no chart they are not gone on with
	out, err := divider.SetUpChart{
		Kind: design.Kind, SubgroupSize: design.SubgroupSize, Weighings: gathered, LimitWidth: design.LimitWidth, Rules: design.Rules,
	}.Solve()
	if err != nil {
		return fmt.Errorf("lane %d has no chart, and the %d weighings for it are left out: %w", a.number, len(gathered), err)
	}
	if a.watch, err = divider.NewWatch(out.Setup); err != nil {
		return err
	}
	for _, m := range gathered { // so that runs carry over into use, and numbers go on
		if _, _, err := a.watch.Add(m); err != nil {
			return err
		}
	}
	a.points, a.settled, a.last, a.watched = out.Chart.Points, out.Subgroups, out.Subgroups, true
	fmt.Fprintf(l.out, "lane %d  set up on %d subgroups of %d: %s from %s to %s, pieces scatter by %s\n",
		a.number, out.Subgroups, l.subgroupSize, l.show(out.Setup.Centre), l.show(out.Chart.Low), l.show(out.Chart.High), l.show(out.Setup.SD))
	for _, p := range a.points {
		if p.Signals != 0 {
			l.report(a, p)
		}
		a.signals = p.Signals
	}
	for _, s := range (out.Conditions &^ divider.OutOfControl).Sentences() {
		l.say(s)
	}
	if out.Conditions.Has(divider.OutOfControl) {
		l.say("The set-up run was not steady: find each cause, leave out the subgroups it explains and set up again before you trust the limits.")
	}
	return nil
}

// mostDrawn is how many points and moves a picture can hold.
const mostDrawn = 100_000

// draws reports whether one more of them is to be drawn.
func (l *line) draws() bool {
	if !l.pictured() {
		return false
	}
	l.drawn++
	return l.drawn <= mostDrawn
}

// report prints the state at a point, and a sentence for each signal that the
// point before did not have.
func (l *line) report(a *lane, p divider.ChartPoint) {
	state := "steady"
	if p.Signals != 0 {
		state = "SIGNAL " + p.Signals.String()
	}
	fmt.Fprintf(l.out, "lane %d  point %d  %s  %s\n", a.number, p.Point, l.show(p.Value), state)
	for _, s := range (p.Signals &^ a.signals).Sentences() {
		l.say(s)
	}
	if a.signals == 0 && p.Signals != 0 {
		// Where advice follows, it says first whether the mark is the cause.
		if l.calibration == nil || !a.watched || !l.marked {
			l.say(divider.OutOfControl.Sentences()[0])
		} else {
			l.alarmed = true
		}
	}
	a.signals = p.Signals
}

// value is a weight in the unit of the weighings.
func (l *line) value(m unit.Mass) float64 {
	v, _ := unit.InUnit(m, l.unit) // newRows made sure of the unit
	return v
}

// show is a weight in the unit of the weighings, to four figures or the whole.
func (l *line) show(m unit.Mass) string {
	v := l.value(m)
	decimals := 3
	for size := math.Abs(v); size >= 10 && decimals > 0; size /= 10 {
		decimals--
	}
	return strconv.FormatFloat(v, 'f', decimals, 64) + " " + l.unit
}

// say prints a sentence that goes with the line above.
func (l *line) say(sentence string) { fmt.Fprintln(l.out, "        "+sentence) }

// summary says how many weighings there were and what is not finished.
func (l *line) summary() {
	fmt.Fprintf(l.out, "%d weighings", l.weighings)
	if l.skipped > 0 {
		fmt.Fprintf(l.out, ", %d rows skipped", l.skipped)
	}
	fmt.Fprintln(l.out)
	if l.state == "" { // no other run goes on with it
		l.unexplained()
	}
	for _, n := range l.order {
		a := l.lanes[n]
		switch {
		case !a.watched && l.state != "":
			fmt.Fprintf(l.out, "lane %d: %d of %d weighings to set up its chart; %s keeps them for the next run\n", n, len(a.setup), l.setup*l.subgroupSize, l.state)
		case !a.watched:
			fmt.Fprintf(l.out, "lane %d: %d of %d weighings to set up its chart; weigh more, or set up on fewer subgroups\n", n, len(a.setup), l.setup*l.subgroupSize)
		case a.watch.Waiting() > 0:
			fmt.Fprintf(l.out, "lane %d: %d of %d weighings of the next subgroup\n", n, a.watch.Waiting(), l.subgroupSize)
		}
	}
}
