package line

import (
	"errors"
	"strings"

	"example.com/dough/doughmath/reckon"
)

// places says where a plan holds the values that a station's question asks
// for: what the station calls "cup_ratio_low" is line.cup_ratio.low here. The first
// place whose name fits counts; the name "" fits every field.
//
// They are only put together where something is wrong.
//
// A path that starts with ~ holds what an earlier station found. It is not at
// fault while that station has not answered.
type places []place

type place struct{ field, path string }

// all is the places of a station whose fields the plan holds under one path.
func all(path string) func() places {
	return func() places { return places{{"", path}} }
}

// of returns the path at which the plan holds the station's field, and whether
// the value is the person's own rather than an earlier station's.
func (at places) of(field string) (path string, given bool) {
	for _, p := range at {
		rest, ok := strings.CutPrefix(field, p.field)
		if !ok || p.field != "" && rest != "" && rest[0] != '.' && rest[0] != '[' {
			continue
		}
		path, found := strings.CutPrefix(p.path, "~")
		return path + rest, !found
	}
	return field, false
}

// ready reports whether a station can be asked: all before it have answered.
// Otherwise it only tells what is wrong with the values given, so that a
// person mends everything in one go.
func (r *run) ready() bool { return !r.telling && r.c.OK() }

// tell tells what a station finds wrong with the values given.
func (r *run) tell(at func() places, check func(*reckon.Checks)) {
	c := reckon.Checks{Func: planID}
	check(&c)
	r.adopt(c.Err(), at, false)
}

// settled reports whether a station has answered. If it has not, what it says
// is wrong with the plan too. It is small enough to be inlined while all is well.
func (r *run) settled(err error, at func() places) bool {
	return err == nil || r.adopt(err, at, true)
}

// adopt takes over what a station said, each value once under its path here.
// It returns false.
func (r *run) adopt(err error, at func() places, all bool) bool {
	where := at()
	for _, e := range reckon.InputErrors(err) {
		here := *e
		var given bool
		here.Func = planID
		if here.Field, given = where.of(e.Field); (given || all) && !r.c.Told(here.Field) {
			r.c.Nest("", &here)
		}
	}
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		none.Func = planID
		r.c.Nest("", none)
	}
	return false
}

// under tells what is wrong with a plan that another question holds, with its order under the name that it has there.
func (q Plan) under(c *reckon.Checks, order string) {
	wrong := reckon.Checks{Func: planID}
	q.Check(&wrong)
	nestPlan(c, order, wrong.Err())
}

// nestPlan takes over what a plan refused, each value once.
func nestPlan(c *reckon.Checks, order string, err error) {
	for _, e := range reckon.InputErrors(err) {
		here := *e
		here.Func = c.Func
		if rest, ok := strings.CutPrefix(e.Field, "order."); ok {
			here.Field = order + "." + rest
		}
		if !c.Told(here.Field) {
			c.Nest("", &here)
		}
	}
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		here := *none
		here.Func = c.Func
		if order != "order" {
			here.Unknown += " for the order " + order
		}
		c.Nest("", &here)
	}
}
