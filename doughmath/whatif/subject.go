package whatif

import (
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/internal/nearest"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
)

// A Subject is what a study varies: a calculation, a plan or a whole scenario,
// with the input to start from. It keeps its own copy of that input and never
// changes it, so that it may be shared.
type Subject struct {
	id       string
	question any          // pointer to the input as paths see it
	answer   reflect.Type // the answer as paths see it
	part     reflect.Type // the answer of a part
	parts    int          // questions that are solved: one, or one for each order
	way
}

// way is how one kind of subject is taken apart into questions and solved.
type way struct {
	make   func(question any, part int, vary []string) *part // with its own copy of the input
	place  func(path string, input bool) target              // where a path by the numbers of items leads
	show   func(p *part, w *reckon.Working)                  // how the answer of a part comes about
	prefix func(part int) string                             // of the paths into a part's answer
	under  func(part int, field string) string               // the path in the question of a field of the part
}

// target is where a path leads: into which part, and the path there.
type target struct {
	part int // -1 for all of them
	path string
	ok   bool
}

// part is one question that is solved for every scenario.
type part struct {
	q, answer any // pointers
	solve     func() error
}

// Of returns the subject of a calculation that the program holds:
//
//	whatif.Of(doughmath.WaterTemperature{...})
func Of[Q reckon.Calculation[R], R any](base Q) Subject {
	q := clone(&base).(*Q)
	return single(base.ID(), q, reflect.TypeFor[R](),
		func(q any, vary []string) (any, func() error) {
			out := new(R)
			return out, reckon.Repeat(q.(*Q), out, vary)
		},
		func(q any, w *reckon.Working, answer any) { (*q.(*Q)).Show(w, *answer.(*R)) })
}

// ByID returns the subject of the calculation with the id, such as "curls",
// with its input as JSON. It returns an *[reckon.InputError] for each thing
// that is wrong with the JSON, and the nearest id for one that nothing has.
func ByID(id string, base []byte) (Subject, error) {
	e, ok := calc.Lookup(id)
	if !ok {
		var ids []string
		for _, e := range calc.Entries() {
			ids = append(ids, e.ID)
		}
		want := "the id of a calculation, one of those in the calculator's list"
		if near := nearest.Of(id, ids); near != "" {
			want = strconv.Quote(near) + " perhaps"
		}
		return Subject{}, &reckon.InputError{Func: studyID, Field: "calculation", Value: quoted(id), Want: want, Kind: reckon.KindUnknownName}
	}
	q, err := e.Read(base)
	if err != nil {
		return Subject{}, err
	}
	_, answer := e.Types()
	return single(e.ID, q, answer, e.Repeat, e.Show), nil
}

// single is the subject of one calculation. q points to a question that nobody else changes.
func single(id string, q any, answer reflect.Type, repeat func(q any, vary []string) (any, func() error), show func(q any, w *reckon.Working, answer any)) Subject {
	return Subject{id: id, question: q, answer: answer, part: answer, parts: 1, way: way{
		make: func(question any, _ int, vary []string) *part {
			p := &part{q: clone(question)}
			p.answer, p.solve = repeat(p.q, vary)
			return p
		},
		place:  func(path string, _ bool) target { return target{0, path, true} },
		show:   func(p *part, w *reckon.Working) { show(p.q, w, p.answer) },
		prefix: func(int) string { return "" },
		under:  func(_ int, field string) string { return field },
	}}
}

// planned is the answer of a scenario as paths see it.
type planned struct {
	Orders []ordered `json:"orders"`
}

// ordered is the plan of one order, which goes by the name of its product.
type ordered struct {
	Name string `json:"name"`
	line.PlanResult
}

// OfScenario returns the subject of a whole scenario: one line, one shift and
// its orders. Paths lead into it as into its JSON, "shift.tap" or
// "orders[Star bun].product.baked", those of outputs into the plans of its
// orders, "orders[Star bun].water_temp". Only the orders that an output
// names are planned; one that cannot be made as asked leaves the others alone.
func OfScenario(base line.Scenario) Subject {
	day := clone(&base).(*line.Scenario)
	return Subject{
		id: "scenario", question: day, answer: reflect.TypeFor[planned](), part: reflect.TypeFor[line.PlanResult](), parts: len(day.Orders),
		way: way{makeOrder, placeInScenario, showOrder, order, underOrder},
	}
}

func makeOrder(question any, i int, vary []string) *part {
	day := question.(*line.Scenario)
	q, out := clone(&line.Plan{Line: day.Line, Order: day.Orders[i], Shift: day.Shift}).(*line.Plan), new(line.PlanResult)
	return &part{q, out, reckon.Repeat(q, out, vary)}
}

func showOrder(p *part, w *reckon.Working) {
	p.q.(*line.Plan).Show(w, *p.answer.(*line.PlanResult))
}

// order is the path of an order.
func order(i int) string { return "orders[" + strconv.Itoa(i) + "]" }

// placeInScenario leads into the plan of one order, or of all: what belongs to
// the line or the shift stands in each.
func placeInScenario(path string, input bool) target {
	rest, one := strings.CutPrefix(path, "orders[")
	if !one {
		return target{-1, path, input && path != "title" && !strings.HasPrefix(path, "day.")}
	}
	number, inner, _ := strings.Cut(rest, "].")
	i, err := strconv.Atoi(number)
	if input {
		inner = "order." + inner
	}
	return target{i, inner, err == nil}
}

// underOrder is the path in the scenario of an input of the plan of order i.
func underOrder(i int, field string) string {
	if inner, ok := strings.CutPrefix(field, "order."); ok {
		return order(i) + "." + inner
	}
	return field
}

// whole reports whether the subject is a whole scenario.
func (s *Subject) whole() bool { return s.answer == reflect.TypeFor[planned]() }

// named is the path of a part of the answer, with the name of its order if that is its own.
func (s *Subject) named(part int) string {
	day, whole := s.question.(*line.Scenario)
	if !whole {
		return ""
	}
	return "orders[" + itemNames(reflect.ValueOf(day.Orders))[part] + "]"
}

// clone copies what q points to, with its lists and all that pointers in it lead to.
func clone(q any) any {
	fresh := reflect.New(reflect.TypeOf(q).Elem())
	fresh.Elem().Set(reflect.ValueOf(q).Elem())
	own(fresh.Elem())
	return fresh.Interface()
}

// own gives v its own copies of what it shares.
func own(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for _, field := range v.Fields() {
			if field.CanSet() {
				own(field)
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			fresh := reflect.New(v.Type().Elem())
			fresh.Elem().Set(v.Elem())
			own(fresh.Elem())
			v.Set(fresh)
		}
	case reflect.Slice:
		if !v.IsNil() {
			fresh := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(fresh, v)
			v.Set(fresh)
			ownItems(v)
		}
	case reflect.Array:
		ownItems(v)
	}
}

func ownItems(v reflect.Value) {
	switch v.Type().Elem().Kind() {
	case reflect.Struct, reflect.Pointer, reflect.Slice, reflect.Array:
		for i := range v.Len() {
			own(v.Index(i))
		}
	}
}
