package main

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// An order is one order of a scenario with its live plan.
type order struct {
	*live
	of      *line.Order
	refused error // it cannot be made as asked: nothing is live
	asked   values
}

// planLive plans every order of the scenario and makes each plan live, trying one input in so many.
func planLive(s *line.Scenario, sys unit.System, every int) ([]order, error) {
	plans, err := s.PlanAll()
	if err != nil {
		return nil, err
	}
	e, ok := calc.Lookup(line.Plan{}.ID())
	if !ok {
		return nil, errors.New("the calculator has no line plan")
	}
	out := make([]order, len(plans))
	for i, p := range plans {
		q := reflect.ValueOf(&line.Plan{Line: s.Line, Order: *p.Order, Shift: s.Shift}).Elem()
		out[i] = order{of: p.Order, refused: p.Refused, asked: valuesOf(q, sys)}
		if p.Refused == nil {
			if out[i].live, err = makeLive(e, q, sys, every); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// shared reports whether an input belongs to the line or the shift, and so to every order.
func shared(path string) bool { return !strings.HasPrefix(path, "order.") }

// sharedInputs are the inputs of the line and the shift: where every order's
// plan was tried, and the most values that do not follow in any of them.
func sharedInputs(orders []order) (list []asked) {
	at := map[string]int{}
	for i := range orders {
		o := &orders[i]
		if o.live == nil {
			continue
		}
		for k := range o.inputs {
			in := o.inputs[k].asked()
			if !shared(in.path) {
				continue
			}
			if have, ok := at[in.path]; ok {
				both := &list[have]
				both.low, both.high, both.stale = max(both.low, in.low), min(both.high, in.high), max(both.stale, in.stale)
				both.warned = both.warned || in.warned
			} else {
				at[in.path] = len(list)
				list = append(list, in)
			}
		}
	}
	return list
}

// The totals of the index: outputs of a plan that can be added, each with the
// unit that all orders share there.
var totals = []struct{ heading, path, metric, us, format string }{
	{"pieces", "batch.pieces_made", "", "", "0"},
	{"batches", "batch.batches", "", "", "0"},
	{"dough", "batch.made", "kg", "lb", "0.000"},
	{"oil", "oil.per_run", "ml", "US fl oz", "0.0"},
}

// Other columns of the index.
var settings = []struct{ heading, path string }{
	{"strokes", "strokes"},
	{"piece rate", "rate.piece_rate"},
	{"water", "water_temp"},
	{"last out", "times.last_out"},
}

// scenario makes an index, a sheet for what all orders share, and for each order its own with its working.
func scenario(b *book, s *line.Scenario, orders []order, sys unit.System, command string) {
	index := b.page("orders", 5, 30, 11, 11, 13, 12, 14, 15, 12, 12)
	common := b.page("line and shift", frontWidths...)
	common.add(words(title, s.Title+": line and shift"))
	common.rows[0].height = titleHeight
	common.add(cell{})
	common.rows[1].joined = 1
	common.sentence(note, 0, "", "What is changed here changes every order.")
	common.add()
	e, _ := calc.Lookup(line.Plan{}.ID())
	fields := fieldsOf(e)
	list := sharedInputs(orders)
	cells, now := inputTable(common, "Line and shift", list, fields)
	common.rows[1].cells[0] = status(now)
	place := map[string]place{}
	for i := range list {
		place[list[i].path] = cells[i]
	}
	var given []word
	if len(orders) > 0 {
		for _, w := range orders[0].asked.words {
			if shared(w.path) {
				given = append(given, w)
			}
		}
	}
	wordTable(common, "Words given: the formulas hold for these", given)
	goOn(common, command)

	index.add(words(title, s.Title))
	index.rows[0].height = titleHeight
	index.add(cell{})
	index.rows[1].joined = 1
	index.add()
	names := []cell{words(section, ""), words(section, "product")}
	for _, c := range totals {
		u := c.metric
		if sys == unit.US {
			u = c.us
		}
		if u != "" {
			u = ", " + u
		}
		names = append(names, words(head, c.heading+u))
	}
	for _, c := range settings {
		names = append(names, words(head, c.heading))
	}
	index.add(names...)
	index.top = len(index.rows)
	states := []string{common.on(now)}
	for i := range orders {
		states = append(states, orderSheets(b, index, common, i, &orders[i], place, now, sys, command)...)
	}
	last := len(index.rows)
	sum := []cell{words(total, ""), words(total, "all that are planned")}
	for c := range totals {
		column := cellName(2+c, index.top+1) + ":" + cellName(2+c, last)
		sum = append(sum, formulaCell(total, "SUM("+column+")", sumOf(index, 2+c), totals[c].format))
	}
	index.add(sum...)
	index.rows[1].cells[0] = status(states...)
	index.add()
	index.sentence(result, 1, "", reckon.CautionDeference)
	index.sentence(note, 1, "", "Yellow cells can be changed: those of the line and the shift on their own sheet, those of an order on the order's. Each sheet says how far its formulas hold.")
}

// sumOf adds up a column of the index as it is made.
func sumOf(p *page, column int) (sum float64) {
	for _, l := range p.rows[p.top:] {
		if column < len(l.cells) {
			sum += l.cells[column].number
		}
	}
	return sum
}

// orderSheets makes the sheets of order i and its row in the index. It returns
// the cells that say which inputs were changed.
func orderSheets(b *book, index, common *page, i int, o *order, shares map[string]place, now string, sys unit.System, command string) []string {
	number, name := strconv.Itoa(i+1), o.of.Product.Name
	front := b.page(number+" "+name, frontWidths...)
	front.add(words(title, fmt.Sprintf("%s  %s: %d pieces and %d spare", number, name, o.of.Pieces, o.of.Spare)))
	front.rows[0].height = titleHeight
	if o.refused != nil {
		front.add(words(alert, "NOT AS ASKED"))
		for s := range strings.Lines(o.refused.Error()) {
			front.sentence(plain, 0, "", strings.TrimSpace(s))
		}
		goOn(front, command)
		index.add(text(number), text(name), words(result, "not as asked: see its sheet"))
		index.rows[len(index.rows)-1].joined = 3
		return nil
	}
	front.add(cell{})
	front.rows[1].joined = 1
	front.add()
	var own []asked
	for k := range o.inputs {
		if !shared(o.inputs[k].path) {
			own = append(own, o.inputs[k].asked())
		}
	}
	cells, ownNow := inputTable(front, "The order", own, fieldsOf(o.entry))
	front.rows[1].cells[0] = status(ownNow, common.on(now))
	inputs := make([]place, len(o.inputs))
	next := 0
	for k := range o.inputs {
		if shared(o.inputs[k].path) {
			inputs[k] = shares[o.inputs[k].path]
		} else {
			inputs[k] = cells[next]
			next++
		}
	}
	front.add()
	work := b.page(number+" working", workWidths...)
	results := o.resultTable(front, work, inputs)
	wordTable(front, "What the plan says in words (as when made)", o.said)
	var given []word
	for _, w := range o.asked.words {
		if !shared(w.path) {
			given = append(given, w)
		}
	}
	wordTable(front, "Words given: the formulas hold for these", given)
	remarkTables(front, o.remarks, o.hazards)
	goOn(front, command)
	b.workingPage(work, o.live, number+" "+name, inputs)
	indexRow(index, o, number, results, sys)
	return []string{front.on(ownNow)}
}

func indexRow(index *page, o *order, number string, results []place, sys unit.System) {
	row := []cell{text(number), text(o.of.Product.Name)}
	find := func(path string) int {
		for k := range o.outputs {
			if o.outputs[k].path == path {
				return k
			}
		}
		return -1
	}
	for _, c := range totals {
		k := find(c.path)
		if k < 0 {
			row = append(row, cell{})
			continue
		}
		out, in := &o.outputs[k], unitOf{}
		seen := results[k].seen(index)
		if symbol := c.metric; symbol != "" {
			if sys == unit.US {
				symbol = c.us
			}
			in = inUnit(out.at.Interface().(unit.Quantity), symbol)
			if in != out.in {
				seen = in.asShown(out.in.held(seen))
			}
		}
		row = append(row, formulaCell(plain, seen, in.toShown(out.value), c.format))
	}
	for _, c := range settings {
		k := find(c.path)
		if k < 0 {
			row = append(row, cell{})
			continue
		}
		out := &o.outputs[k]
		format := digits(out.shown(), out.in.symbol, out.whole) + ` "` + out.in.symbol + `"`
		row = append(row, formulaCell(plain, results[k].seen(index), out.shown(), format))
	}
	index.add(row...)
	index.fit()
}
