package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// place is one cell.
type place struct {
	page *page
	cell string
}

// seen is the cell as a formula of page p names it.
func (c place) seen(p *page) string {
	if c.page == p {
		return c.cell
	}
	return c.page.on(c.cell)
}

// An asked is an input as a sheet shows it: how far its value was tried, and
// how many values do not follow it.
type asked struct {
	number
	low, high float64
	stale     int
	warned    bool
}

func (in *input) asked() asked { return asked{in.number, in.low, in.high, len(in.stale), in.warned} }

// follows says what follows a change of the input.
func (a *asked) follows() string {
	says := "everything"
	switch {
	case !(a.low < a.high):
		return "nothing: make it anew"
	case a.stale > 0:
		says = "all but " + counted(a.stale, "marked value")
	}
	if a.warned {
		says += "; other conditions"
	}
	return says
}

// The columns of a front page, counted from 0, and what stands in them.
const (
	colValue = 2
	colMade  = 4
	colFrom  = 5
	colTo    = 6
	colNow   = 8
)

var frontWidths = []float64{34, 9, 13, 12, 12, 11, 11, 26, 12}

// inputTable writes the inputs and returns the cell of each, and the cells
// that say which were changed.
func inputTable(p *page, heading string, inputs []asked, fields map[string]describe.Field) (cells []place, now string) {
	p.add(words(section, heading), words(section, "symbol"), words(head, "value"), words(section, "  unit"), words(head, "when made"),
		words(head, "tried from"), words(head, "to"), words(section, "  what follows a change"), words(section, "now"))
	first := len(p.rows) + 1
	for i := range inputs {
		in := &inputs[i]
		row := len(p.rows) + 1
		format := digits(in.shown(), in.in.symbol, in.whole)
		value, made, from, to := cellName(colValue, row), cellName(colMade, row), cellName(colFrom, row), cellName(colTo, row)
		cells = append(cells, place{p, value})
		none := cell{text: "–", is: 't', look: look{quiet, "General"}}
		low, high := none, none
		state := fmt.Sprintf(`IF(%s=%s,"","make anew")`, value, made)
		if in.low < in.high {
			least, most := in.in.toShown(in.low), in.in.toShown(in.high)
			format := finer(format, least, most)
			low, high = numberCell(quiet, least, format), numberCell(quiet, most, format)
			state = fmt.Sprintf(`IF(%s=%s,"",IF(AND(%s>=%s,%s<=%s),"changed","make anew"))`, value, made, value, from, value, to)
		}
		p.add(text(inWords(in.path)), text(in.symbol), numberCell(entry, in.shown(), format), words(beside, in.in.symbol), numberCell(quiet, in.shown(), format),
			low, high, words(aside, in.follows()), sayingCell(note, state))
		p.fit()
		p.checks = append(p.checks, checkOf(value, &in.number, fields))
	}
	if len(inputs) == 0 {
		p.add(words(quiet, "no numbers to change"))
	}
	now = cellName(colNow, first) + ":" + cellName(colNow, len(p.rows))
	p.colour = append(p.colour, colouring{now, cellName(colNow, first) + `="make anew"`})
	return cells, now
}

func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return strconv.Itoa(n) + " " + what
}

// checkOf is what a spreadsheet refuses in the input's cell: what the
// calculation would refuse there, as far as it is a range.
func checkOf(cell string, n *number, fields map[string]describe.Field) check {
	const most = 1e30 // what a spreadsheet takes for a bound
	c := check{cell: cell, whole: n.whole, low: -most, high: most}
	f := fields[withoutItems(n.path)]
	if v, ok := boundIn(f.Range.Low, n); ok {
		c.low = max(v, -most)
	}
	if v, ok := boundIn(f.Range.High, n); ok {
		c.high = min(v, most)
	}
	c.says = "a number"
	if n.in.symbol != "" {
		c.says += " in " + n.in.symbol
	}
	if s := f.Range.String(); s != "" {
		c.says += ", " + s
	}
	if f.Meaning != "" {
		c.says = f.Meaning + ": " + c.says
	}
	c.says = harmless(c.says)
	return c
}

// boundIn reads the bound of a range and gives it in the unit of the sheet,
// rounded to what a person would type.
func boundIn(bound string, n *number) (float64, bool) {
	if bound == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(bound, 64)
	if n.held != "" {
		q, ok := n.at.Interface().(unit.Quantity)
		if !ok {
			return 0, false
		}
		v, err = unit.Parse(q, bound)
		v = n.in.toShown(v)
	}
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	return v, err == nil
}

// withoutItems is a path as the descriptions write it: "trials[].mark".
func withoutItems(path string) string {
	for i := 0; i < len(path); i++ {
		if path[i] == '[' {
			end := i + strings.IndexByte(path[i:], ']')
			path = path[:i+1] + path[end:]
		}
	}
	return path
}

func fieldsOf(e calc.Entry) map[string]describe.Field {
	out := map[string]describe.Field{}
	for _, f := range describe.Of(e).Inputs {
		out[f.Name] = f
	}
	return out
}

// The columns of a working page.
const (
	workValue = 2
	workMade  = 6
	workHead  = 4 // the row of its head
)

var workWidths = []float64{34, 9, 13, 12, 48, 26, 12, 10}

// workCell is the cell of a row of the working.
func workCell(p *page, row int) place { return place{p, cellName(workValue, workHead+1+row)} }

// workingPage writes the working. inputs are the cells of the inputs.
func (b *book) workingPage(p *page, l *live, about string, inputs []place) {
	last := workHead + max(1, len(l.rows))
	checks := fmt.Sprintf("%s:%s", cellName(7, workHead+1), cellName(7, last))
	p.add(words(title, "Working: "+about))
	p.rows[0].height = titleHeight
	p.add(sayingCell(alert, fmt.Sprintf(`IF(SUMPRODUCT(--(LEN(%s)>0))=0,"Every value is as when the sheet was made.","Values that are not as when the sheet was made: "&SUMPRODUCT(--(LEN(%s)>0)))`, checks, checks)))
	p.rows[1].joined = 1
	p.sentence(note, 0, "", "Values are in the units held. Grey and slanting: it does not follow some input, as no step says how; it stays as it was made.")
	p.add(words(section, "step"), words(section, "symbol"), words(head, "value"), words(section, "  unit"), words(section, "how it comes about"),
		words(section, "source"), words(head, "when made"), words(section, "now"))
	p.top = workHead
	for i := range l.rows {
		r := &l.rows[i]
		if r.how == heading {
			p.add(words(section, r.ID))
			p.rows[len(p.rows)-1].joined = 1
			continue
		}
		format, looks := digits(r.Value, r.Unit, false), plain
		if r.stale {
			looks = frozen
		}
		value := numberCell(looks, r.Value, format)
		if f := l.rowFormula(i, p, inputs); f != "" {
			value = formulaCell(looks, f, r.Value, format)
		}
		row := len(p.rows) + 1
		now, made := cellName(workValue, row), cellName(workMade, row)
		p.add(text(r.ID), text(r.Symbol), value, words(beside, r.Unit), text(l.origin(i)), text(r.Source), numberCell(quiet, r.Value, format),
			sayingCell(note, fmt.Sprintf(`IF(ISNUMBER(%s),IF(ABS(%s-%s)<=%s,"","differs"),"no number")`, now, now, made, plainNumber(l.tolerance(i)))))
		p.fit()
	}
	p.colour = append(p.colour, colouring{checks, fmt.Sprintf(`LEN(%s)>0`, cellName(7, workHead+1))})
}

// tolerance is what row i may differ by and still be the same.
func (l *live) tolerance(i int) float64 {
	scale := math.Abs(l.rows[i].Value) * 1e3
	for _, from := range l.rows[i].symbols {
		scale = max(scale, math.Abs(l.rows[from].Value))
	}
	return 1e-12 * scale
}

// rowFormula is the formula of row i, or "" if it is a value.
func (l *live) rowFormula(i int, p *page, inputs []place) string {
	r := &l.rows[i]
	switch {
	case r.how == computed:
		return string(appendFormula(nil, r.expression, func(symbol string) string {
			at, ok := r.symbols[symbol]
			if !ok {
				return ""
			}
			return workCell(p, at).cell
		}))
	case r.from.kind == 'i':
		return l.inputs[r.from.at].in.held(inputs[r.from.at].seen(p))
	case r.from.kind == 'r':
		return workCell(p, r.from.at).cell
	}
	return ""
}

// origin says how a row comes about.
func (l *live) origin(i int) string {
	r := &l.rows[i]
	switch {
	case r.how == computed:
		return r.Symbol + " = " + r.Expression
	case r.from.kind == 'i':
		return "input: " + inWords(l.inputs[r.from.at].path)
	case r.from.kind == 'r':
		from, part := &l.rows[r.from.at], ""
		for k := r.from.at; k >= 0; k-- {
			if l.rows[k].how == heading {
				part = ", under " + l.rows[k].ID
				break
			}
		}
		where := "from above: "
		if r.from.at > i {
			where = "from below: "
		}
		return where + from.ID + " (" + from.Symbol + ")" + part
	case r.how == fixed:
		return "does not follow: as when made"
	}
	return "given"
}

// resultTable writes the answer and returns the cell of each number.
func (l *live) resultTable(p, work *page, inputs []place) (cells []place) {
	p.add(words(section, "Results"), words(section, "symbol"), words(head, "value"), words(section, "  unit"), words(head, "when made"),
		words(head, "change"), words(section, ""), words(section, ""), words(section, ""))
	for i := range l.outputs {
		o := &l.outputs[i]
		row := len(p.rows) + 1
		format, looks, says := digits(o.shown(), o.in.symbol, o.whole), result, ""
		if o.stale || o.how == fixed {
			looks, says = frozen, "does not follow some input"
		}
		value := numberCell(looks, o.shown(), format)
		if f := l.outputFormula(o, p, work, inputs); f != "" {
			value = formulaCell(looks, f, o.shown(), format)
		} else if o.how == given {
			says = "not changed by any input"
		}
		now, made := cellName(colValue, row), cellName(colMade, row)
		cells = append(cells, place{p, now})
		change := fmt.Sprintf(`IF(ABS(%s-%s)<=%s,"",%s-%s)`, now, made, plainNumber(1e-9*max(math.Abs(o.shown()), 1e-6)), now, made)
		p.add(text(inWords(o.path)), text(o.symbol), value, words(beside, o.in.symbol), numberCell(quiet, o.shown(), format),
			cell{formula: change, is: 's', look: look{note, format}}, cell{}, words(aside, says))
		p.fit()
	}
	if len(l.outputs) == 0 {
		p.add(words(quiet, "no numbers"))
	}
	return cells
}

func (l *live) outputFormula(o *output, p, work *page, inputs []place) string {
	switch o.from.kind {
	case 'i':
		in := &l.inputs[o.from.at]
		if in.in == o.in {
			return inputs[o.from.at].seen(p)
		}
		return o.in.asShown("(" + in.in.held(inputs[o.from.at].seen(p)) + ")")
	case 'r':
		return o.in.asShown(workCell(work, o.from.at).seen(p))
	}
	return ""
}

// wordTable writes what is no number.
func wordTable(p *page, heading string, list []word) {
	if len(list) == 0 {
		return
	}
	p.add()
	sectionRow(p, heading)
	for _, w := range list {
		p.sentence(plain, 1, inWords(w.path), w.text)
	}
}

// remarkTables writes what to look at and what to take care of.
func remarkTables(p *page, remarks []reckon.Remark, hazards reckon.Cautions) {
	if len(remarks) > 0 {
		p.add()
		sectionRow(p, "Look out for (as when made)")
		for _, r := range remarks {
			where := r.Word
			if r.Path != "" {
				where = inWords(r.Path) + ": " + r.Word
			}
			p.sentence(plain, 1, where, r.Says)
		}
	}
	p.add()
	sectionRow(p, "Take care")
	for _, n := range hazards.Notes() {
		p.sentence(plain, 1, n.Word, n.Says)
	}
	p.sentence(result, 1, "always", reckon.CautionDeference)
}

func sectionRow(p *page, s string) {
	cells := []cell{words(section, s)}
	for range p.widths[1:] {
		cells = append(cells, words(section, ""))
	}
	p.add(cells...)
}

// goOn says how the sheet is used and made anew.
func goOn(p *page, command string) {
	p.add()
	sectionRow(p, "Going on from here")
	p.sentence(plain, 1, "change", "Put another number into a yellow cell, in the unit beside it. What follows is computed at once; the column \"now\" says if the sheet no longer holds.")
	p.sentence(plain, 1, "where it holds", "The formulas are those of the words given here and of the steps of the working. At values from \"tried from\" to \"to\", one input changed at a time, they gave what the calculation gives, but for what is marked grey. Beyond, or with other words, make the sheet anew.")
	p.sentence(plain, 1, "other conditions", "Conditions and cautions are texts: they do not follow. Where \"other conditions\" stands beside an input, the calculation told others at some of the values tried: make the sheet anew before anybody works by it.")
	p.sentence(plain, 1, "make it anew", command+"   with the new values, and with another name after -o, or -replace to write over this workbook")
	p.sentence(plain, 1, "locked", "Everything but the yellow cells is locked, without a password, so that no formula is lost by accident. Unprotect a sheet to build on it.")
}

// status says on top of a front page how things stand. now are the cells that
// say which inputs were changed.
func status(now ...string) cell {
	count := func(what string) string {
		var sum []string
		for _, cells := range now {
			sum = append(sum, `COUNTIF(`+cells+`,"`+what+`")`)
		}
		return strings.Join(sum, "+")
	}
	return sayingCell(alert, `IF(`+count("make anew")+`>0,"An input is beyond what the formulas were tried at: make the sheet anew.",`+
		`IF(`+count("changed")+`>0,"Inputs were changed. What is marked does not follow them; words, conditions and cautions are as when the sheet was made.","As when the sheet was made."))`)
}

// calculation makes the sheets of one calculation.
func calculation(b *book, l *live, command string) {
	about := describe.Of(l.entry)
	front := b.page(l.entry.ID, frontWidths...)
	front.add(words(title, about.Question))
	front.rows[0].height = titleHeight
	front.sentence(quiet, 0, "", l.entry.ID+": "+strings.TrimRight(about.Summary, ":."))
	front.add(cell{})
	front.rows[2].joined = 1
	front.add()
	list := make([]asked, len(l.inputs))
	for i := range l.inputs {
		list[i] = l.inputs[i].asked()
	}
	inputs, now := inputTable(front, "Inputs", list, fieldsOf(l.entry))
	front.rows[2].cells[0] = status(now)
	front.add()
	work := b.page("working", workWidths...)
	l.resultTable(front, work, inputs)
	wordTable(front, "What the answer says in words (as when made)", l.said)
	wordTable(front, "Words given: the formulas hold for these", l.words)
	remarkTables(front, l.remarks, l.hazards)
	goOn(front, command)
	b.workingPage(work, l, l.entry.ID, inputs)
}
