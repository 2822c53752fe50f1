package calc

import (
	"cmp"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Append appends the value of one output as text: "21.5 °C", "3", "once". A
// list of such is joined by commas, an object is written as JSON, a value that
// is not there as nothing. The path is a name, or names joined by points.
func (r Result) Append(b []byte, path string) ([]byte, error) {
	v, p, err := r.output(path)
	if p == nil {
		return b, err
	}
	switch p.kind { // the common ones without a detour
	case outQuantity:
		return appendQuantity(b, quantity(v), r.options)
	case outInt:
		return strconv.AppendInt(b, v.Int(), 10), nil
	case outFloat:
		return appendNumber(b, v.Float(), r.options)
	}
	cell, err := p.cell(v, r.options)
	return append(b, cell...), err
}

// AppendColumn is [Result.Append] for a column that results of many inputs
// share. The first quantity in it picks its unit by its size, and in keeps that
// unit for all that follow: a column that runs from grams to kilograms cannot
// be compared by eye, summed or sorted.
func (r Result) AppendColumn(b []byte, path string, in *string) ([]byte, error) {
	v, p, err := r.output(path)
	if p == nil {
		return b, err
	}
	if p.kind == outQuantity {
		if b, ok := r.options.inColumn(b, quantity(v), in); ok {
			return b, nil
		}
	}
	return r.Append(b, path)
}

// inColumn appends q in the unit of its column, which the first one picks.
func (o Options) inColumn(b []byte, q unit.Quantity, in *string) ([]byte, bool) {
	if *in == "" {
		text, err := q.AppendIn(nil, o.Units)
		if err != nil {
			return b, false
		}
		_, *in, _ = strings.Cut(string(text), " ")
	}
	return unit.AppendUnit(b, q, *in, o.Rounded)
}

// output finds the output at the path. The plan is nil if there is no value.
func (r Result) output(path string) (reflect.Value, *outPlan, error) {
	v, p := r.value, r.plan
	if p == nil {
		return v, nil, errNoResult
	}
	for rest, more := path, true; more; {
		var name string
		name, rest, more = strings.Cut(rest, ".")
		for p.kind == outPointer {
			if v.IsNil() {
				return v, nil, nil
			}
			v, p = v.Elem(), p.elem
		}
		i := slices.IndexFunc(p.fields, func(f outField) bool { return f.name == name })
		if i < 0 {
			return v, nil, &reckon.InputError{Func: r.ID, Field: "output", Value: strconv.Quote(path), Want: "the name of an output"}
		}
		f := &p.fields[i]
		v, p = v.FieldByIndex(f.index), f.plan
		if f.skipped(v) {
			return v, nil, nil
		}
	}
	return v, p, nil
}

// AppendText appends the result as aligned lines for a person: one line for
// each value, and a table for each list.
func (r Result) AppendText(b []byte) ([]byte, error) {
	if r.plan == nil {
		return b, errNoResult
	}
	var lines [][]string
	var tables []func(b []byte) ([]byte, error)
	var walk func(p *outPlan, v reflect.Value, path string) error
	walk = func(p *outPlan, v reflect.Value, path string) error {
		switch {
		case p.kind == outPointer && v.IsNil(), p.kind == outConditions, p.kind == outCautions:
			return nil
		case p.kind == outPointer:
			return walk(p.elem, v.Elem(), path)
		case p.kind == outObject:
			for _, f := range p.fields {
				fv := v.FieldByIndex(f.index)
				if f.skipped(fv) {
					continue
				}
				if err := walk(f.plan, fv, strings.TrimPrefix(path+"."+f.name, ".")); err != nil {
					return err
				}
			}
			return nil
		case p.kind == outList && p.elem.kind == outObject:
			tables = append(tables, func(b []byte) ([]byte, error) { return r.appendTable(b, p.elem, v, path) })
			return nil
		}
		cell, err := p.cell(v, r.options)
		lines = append(lines, []string{path, cell})
		return err
	}
	if err := walk(r.plan, r.value, ""); err != nil {
		return b, err
	}
	b = AppendAligned(b, lines)
	for _, t := range tables {
		var err error
		if b, err = t(b); err != nil {
			return b, err
		}
	}
	return b, nil
}

// appendTable appends the list v of objects with one row each.
func (r Result) appendTable(b []byte, p *outPlan, v reflect.Value, path string) ([]byte, error) {
	b = append(b, path...)
	b = append(b, ":\n"...)
	head := []string{" "}
	for _, f := range p.fields {
		head = append(head, f.name)
	}
	rows := [][]string{head}
	in := make([]string, len(p.fields)) // the unit of each column
	for i := range v.Len() {
		row := []string{strconv.Itoa(i + 1)}
		for j, f := range p.fields {
			fv, cell := v.Index(i).FieldByIndex(f.index), ""
			if f.plan.kind == outQuantity && !f.skipped(fv) {
				if text, ok := r.options.inColumn(nil, quantity(fv), &in[j]); ok {
					row = append(row, string(text))
					continue
				}
			}
			if !f.skipped(fv) {
				var err error
				if cell, err = f.plan.cell(fv, r.options); err != nil {
					return b, err
				}
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	return AppendAligned(b, rows), nil
}

// cell returns the text of one value: without quotes if it is a text, as a
// plain list if it is a list of such, otherwise as JSON.
func (p *outPlan) cell(v reflect.Value, o Options) (string, error) {
	switch p.kind {
	case outConditions, outCautions:
		return strings.Join(v.Interface().(interface{ Words() []string }).Words(), ", "), nil
	case outWord:
		return v.String(), nil
	case outPointer:
		if v.IsNil() {
			return "", nil
		}
		return p.elem.cell(v.Elem(), o)
	case outList:
		if p.elem.kind != outObject && p.elem.kind != outMap {
			parts := make([]string, v.Len())
			for i := range parts {
				var err error
				if parts[i], err = p.elem.cell(v.Index(i), o); err != nil {
					return "", err
				}
			}
			return strings.Join(parts, ", "), nil
		}
	}
	b, err := p.append(nil, v, o, false)
	if err == nil && (p.kind == outQuantity || p.kind == outText) {
		var s string
		return s, json.Unmarshal(b, &s)
	}
	return string(b), err
}

// AppendWorking appends the working in the units chosen, one step to a line,
// as [reckon.ShowSteps] writes it:
//
//	F  friction factor   = 14 C°
//	B  base temperature  = 64 C°  from N*T_d - F = 3*26 - 14
func AppendWorking(b []byte, steps []reckon.Step, units unit.System) []byte {
	return AppendSteps(b, reckon.ShowSteps(steps, units))
}

// AppendSteps is [AppendWorking] of steps that are written out already.
func AppendSteps(b []byte, shown []reckon.ShownStep) []byte {
	rows := make([][]string, len(shown))
	for i := range shown {
		s := &shown[i]
		if s.Kind == reckon.HeadingStep {
			rows[i] = []string{"", s.ID}
			continue
		}
		origin := ""
		switch {
		case s.Numbers != "" && s.Numbers != s.Value && s.Numbers != s.Expression && s.Expression != "":
			origin = "from " + s.Expression + " = " + s.Numbers
		case s.Expression+s.Numbers != "":
			origin = "from " + cmp.Or(s.Expression, s.Numbers)
		}
		if note := s.Note(); note != "" {
			origin = strings.TrimSpace(origin + " (" + note + ")")
		}
		rows[i] = []string{s.Symbol, s.ID, "= " + s.Result(), origin}
	}
	return AppendAligned(b, rows)
}

// AppendAligned appends rows of text with their cells below one another, two spaces apart.
func AppendAligned(b []byte, rows [][]string) []byte {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			line.WriteString(cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2))
		}
		b = append(b, strings.TrimRight(line.String(), " ")...)
		b = append(b, '\n')
	}
	return b
}
