package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"example.com/dough/divider"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/keep"
)

// saved is all that the next run needs to go on as if nothing had been.
type saved struct {
	Chart   savedChart      `json:"chart"`
	Mark    *float64        `json:"mark,omitempty"`    // where the handle stood; left out if the table had no marks
	Action  divider.Action  `json:"action,omitempty"`  // of the last advice
	Shift   unit.Mass       `json:"shift,omitempty"`   // what the handle was last moved for
	Ordered *unit.Mass      `json:"ordered,omitempty"` // the same, of a move that was advised and not yet made
	Finding divider.Finding `json:"finding,omitempty"` // of the last subgroup
	Alarmed bool            `json:"alarmed,omitempty"` // a chart signalled and no advice was given since
	Lanes   []savedLane     `json:"lanes"`             // as they first appeared

	Weighings int       `json:"weighings,omitempty"` // taken by the run that wrote this
	Last      unit.Mass `json:"last,omitzero"`       // of them
}

// savedChart is how subgroups are formed and judged. Pieces gathered for one
// chart are none for another.
type savedChart struct {
	Kind  string  `json:"kind"`
	Size  int     `json:"subgroup_size"`
	Width float64 `json:"limit_width"`
	Rules string  `json:"rules"`
}

func (c savedChart) String() string {
	return fmt.Sprintf("-chart %s -subgroup-size %d -limit-width %g -rules %s", c.Kind, c.Size, c.Width, c.Rules)
}

// savedLane holds either a set-up that goes on or a chart in use.
type savedLane struct {
	Lane    int             `json:"lane"`
	SetUp   []unit.Mass     `json:"set_up,omitempty"`  // weighings of the set-up so far
	Watch   *divider.Watch  `json:"watch,omitempty"`   // the chart, with its unfinished subgroup
	Group   []unit.Mass     `json:"group,omitempty"`   // the pieces of the unfinished subgroup
	Signals divider.Signals `json:"signals,omitempty"` // of the last point, whose sentences were said
	Latest  *unit.Mass      `json:"latest,omitempty"`  // mean of a subgroup that no advice rests on yet
}

// restore takes up the charts where the last shift left them. The file is this
// program's alone until it is released.
func (l *line) restore(ctx context.Context) error {
	held, err := keep.Hold(ctx, l.state, 0)
	if err != nil {
		return &broken{err}
	}
	l.held = held
	data, err := held.Read()
	if err != nil {
		return &broken{err}
	}
	if data == nil {
		return nil // the first shift
	}
	var kept saved
	in := json.NewDecoder(bytes.NewReader(data))
	in.DisallowUnknownFields()
	if err := in.Decode(&kept); err != nil {
		return l.noState(err)
	}
	if asked := l.design(); kept.Chart != asked {
		return fmt.Errorf("%s was kept with %s, this call asks for %s: call with the former, or name another -state file to set up anew", l.state, kept.Chart, asked)
	}
	for _, lane := range kept.Lanes {
		if err := l.restoreLane(lane); err != nil {
			return l.noState(fmt.Errorf("lane %d: %w", lane.Lane, err))
		}
	}
	if kept.Mark != nil {
		l.mark, l.marked = *kept.Mark, true
	}
	if l.calibration != nil { // without trials nothing was, or will be, said of the mark
		l.action, l.shift, l.ordered, l.finding, l.alarmed = kept.Action, kept.Shift, kept.Ordered, kept.Finding, kept.Alarmed
	}
	if kept.Weighings > 0 {
		fmt.Fprintf(l.out, "%d weighings of the run before are in %s, the last of them %v\n", kept.Weighings, l.state, kept.Last)
	}
	return nil
}

// noState says that a file is not what keep writes.
func (l *line) noState(err error) error {
	return fmt.Errorf("%s holds no charts to go on with (%w): name another -state file to set up anew", l.state, err)
}

// restoreLane takes up one lane.
func (l *line) restoreLane(kept savedLane) error {
	if kept.Lane < 1 || kept.Lane > mostLanes {
		return fmt.Errorf("want a whole number from 1 to %d", mostLanes)
	}
	if l.lanes[kept.Lane] != nil {
		return errors.New("want each lane once")
	}
	if kept.Watch != nil && len(kept.SetUp) > 0 {
		return errors.New("want a set-up or a chart in use, not both")
	}
	for _, list := range []struct {
		name string
		of   []unit.Mass
	}{{"set_up", kept.SetUp}, {"group", kept.Group}} {
		for _, m := range list.of {
			if !(m >= lightest && m <= heaviest) {
				return fmt.Errorf("%s holds %v: want 1 mg to 100 kg", list.name, m)
			}
		}
	}
	a := l.lane(kept.Lane)
	a.setup, a.signals = kept.SetUp, kept.Signals
	if kept.Watch != nil {
		was := kept.Watch.Setup()
		if was != l.chart(was.Centre, was.SD) {
			return errors.New("want the chart that stands at the head of the file")
		}
		a.watch, a.watched = *kept.Watch, true
		if len(kept.Group) != a.watch.Waiting() {
			return fmt.Errorf("group holds %d weighings, the chart waits with %d", len(kept.Group), a.watch.Waiting())
		}
		a.group = kept.Group
	}
	if kept.Latest != nil && l.calibration != nil {
		l.latest[kept.Lane] = *kept.Latest
	}
	return nil
}

// goOn holds what was kept against the header and the options of this run,
// and sets up the charts that now have enough weighings.
func (l *line) goOn(r *rows) error {
	if len(l.order) == 0 {
		return nil
	}
	switch {
	case l.marked && !r.has("mark"):
		return fmt.Errorf("%s was kept at mark %g, but the table has no column mark, so that nobody can tell whether the handle was moved since: add the column, or name another -state file to set up anew", l.state, l.mark)
	case !l.marked && r.has("mark"):
		return fmt.Errorf("%s was kept from a table without marks, but this one has a column mark, and nobody can tell whether the handle was moved in between: leave the column out, or name another -state file to set up anew", l.state)
	}
	for _, n := range l.order {
		a := l.lanes[n]
		wanted := l.setup * l.subgroupSize
		switch {
		case len(a.setup) > wanted:
			return fmt.Errorf("%s holds %d weighings of lane %d to set up its chart, more than -setup %d takes: call with -setup %d or more", l.state, len(a.setup), n, l.setup, (len(a.setup)+l.subgroupSize-1)/l.subgroupSize)
		case len(a.setup) == wanted:
			if err := l.settle(a); err != nil {
				return err
			}
		}
	}
	return nil
}

// design is the chart that the options ask for, as it is kept.
func (l *line) design() savedChart { return savedChart{l.kind, l.subgroupSize, l.limitWidth, l.rules} }

// keep writes the state, if there is something new that was all said.
func (l *line) keep() error {
	if l.held == nil || !l.unkept || l.out.err != nil || l.keepErr != nil {
		return l.keepErr
	}
	out := saved{
		Chart: l.design(), Action: l.action, Shift: l.shift, Ordered: l.ordered, Finding: l.finding, Alarmed: l.alarmed,
		Lanes: []savedLane{}, Weighings: l.weighings, Last: l.last,
	}
	if l.marked {
		out.Mark = &l.mark
	}
	for _, n := range l.order {
		a := l.lanes[n]
		lane := savedLane{Lane: n, SetUp: a.setup, Signals: a.signals}
		if a.watched {
			lane.Watch, lane.Group = &a.watch, a.group
		}
		if m, ok := l.latest[n]; ok {
			lane.Latest = &m
		}
		out.Lanes = append(out.Lanes, lane)
	}
	data, err := json.MarshalIndent(out, "", " ")
	if err == nil {
		err = l.held.Replace(append(data, '\n'), nil)
	}
	if err != nil {
		l.keepErr = &broken{err}
		return l.keepErr
	}
	l.unkept, l.keptTo = false, l.rows.line()
	return nil
}

// keeping is a table that is read so that nothing is lost while the program waits for its next rows: before it waits, what
// it has is kept.
type keeping struct {
	io.Reader
	line *line
}

func (k *keeping) Read(p []byte) (int, error) {
	if err := k.line.keep(); err != nil {
		return 0, err
	}
	return k.Reader.Read(p)
}
