package main

import (
	"encoding/json"
	"io"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
)

// planned is one order as a program reads it.
type planned struct {
	Product  string                 `json:"product"`
	Pieces   int                    `json:"pieces"`
	Plan     *line.PlanResult       `json:"plan,omitempty"`
	Settings []line.Setting         `json:"settings,omitempty"`
	Clock    *line.ClockResult      `json:"clock,omitempty"`      // from midnight; of a scenario without a day, as if the first mixing started at 24 h
	Change   *line.ChangeoverResult `json:"changeover,omitempty"` // to it from the order before
	Known    *line.KnownGoodResult  `json:"known_good,omitempty"`
	Refused  string                 `json:"refused,omitempty"`
	Look     []string               `json:"look_at,omitempty"`
	Care     []string               `json:"take_care,omitempty"`
	Working  *reckon.Working        `json:"working,omitempty"`
}

func (b *book) writeJSON(w io.Writer) error {
	out := struct {
		Title    string               `json:"title"`
		Day      *line.DayPlanResult  `json:"day,omitempty"`
		DayClock *line.DayClockResult `json:"day_clock,omitempty"`
		Orders   []planned            `json:"orders"`
	}{Title: b.s.Title}
	if len(b.day.Runs) > 0 {
		out.Day, out.DayClock = &b.day, &b.dayClock
	}
	for _, o := range b.orders {
		p := planned{Product: o.name(), Pieces: o.order().Pieces, Working: o.working, Known: o.known, Change: o.change}
		if o.refused() != nil {
			p.Refused = o.refused().Error()
		} else {
			p.Plan, p.Settings, p.Clock = o.plan(), o.settings.Settings, &o.clock
			for _, n := range reckon.Distinct(reckon.Remarks(*o.plan())) {
				p.Look = append(p.Look, n.Says)
			}
			p.Care = append(reckon.Hazards(*o.plan()).Sentences(), reckon.CautionDeference)
		}
		out.Orders = append(out.Orders, p)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
