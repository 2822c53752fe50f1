package main

import (
	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// solver answers one row after the other. The first row goes through JSON; those like it
// are set cell by cell into the question that it made, which is solved again. Whatever is
// not as plain as that, and whatever is refused, goes through JSON too: there is one
// reader that says what is wrong.
type solver struct {
	entry   calc.Entry
	options calc.Options
	source  reader
	outputs []output
	quick   *quick
	slow    solved
}

// solved is where an answer stands, and how its outputs are read.
type solved struct {
	at      any // a pointer
	readers []reading
}

// quick is a question that stays open.
type quick struct {
	cells  []*reckon.Cell // by column
	absent []string       // what an empty cell stands for: the base's text, "" for nothing
	solve  func() error
	answer solved
}

// solve answers a row. The result holds until the next row.
func (s *solver) solve(r row) (calc.Result, solved, error) {
	if q := s.quick; q != nil && r.simple && q.set(r.cells) && q.solve() == nil {
		return s.entry.Result(q.answer.at, s.options), q.answer, nil
	}
	object, err := s.json(r)
	if err != nil {
		return calc.Result{}, solved{}, &rowError{err.Error()}
	}
	if s.options.Working {
		out, err := s.entry.Eval(object, s.options)
		return out, solved{}, err
	}
	question, err := s.entry.Read(object)
	if err != nil {
		return calc.Result{}, solved{}, err
	}
	at, solve := s.entry.Repeat(question, nil)
	if solve() != nil {
		_, err := s.entry.Eval(object, s.options) // it shows values as they were typed
		return calc.Result{}, solved{}, err
	}
	if r.simple && (s.quick == nil || len(s.quick.cells) < len(r.cells)) {
		s.quick = s.open(object)
	}
	s.slow = solved{at, readings(s.outputs, at)}
	return s.entry.Result(at, s.options), s.slow, nil
}

func (s *solver) json(r row) ([]byte, error) {
	if lines, ok := s.source.(*lineReader); ok {
		return lines.json(r.object)
	}
	return s.source.form().json(r.cells)
}

// open makes the question that an object holds ready for rows like it. It returns
// a quick without cells, which sets none, if a column is no single value.
func (s *solver) open(object []byte) *quick {
	f := s.source.form()
	none := &quick{cells: make([]*reckon.Cell, len(f.columns))}
	question, err := s.entry.Read(object)
	base, baseErr := tree(f.base)
	whole, wholeErr := tree(object)
	if err != nil || baseErr != nil || wholeErr != nil {
		return none
	}
	q := &quick{}
	var vary []string
	for i := range f.columns {
		c := &f.columns[i]
		absent := ""
		var cell *reckon.Cell
		if !c.kept {
			cell, err = reckon.CellIn(question, c.name, c.unit)
			// A part that this row does not have may miss other values in the next.
			if _, there := at(whole, c.path[:len(c.path)-1]); !there || err != nil {
				return none
			}
			if old, there := at(base, c.path); there {
				if absent, err = textOf(old); err != nil {
					return none
				}
			}
			vary = append(vary, cell.At)
		}
		q.cells, q.absent = append(q.cells, cell), append(q.absent, absent)
	}
	q.answer.at, q.solve = s.entry.Repeat(question, vary)
	q.answer.readers = readings(s.outputs, q.answer.at)
	return q
}

// set puts the cells of a row into the question. It is false if one of them cannot be read,
// or must not be empty.
func (q *quick) set(cells []string) bool {
	if q.solve == nil || len(cells) != len(q.cells) {
		return false
	}
	for i, cell := range cells {
		c := q.cells[i]
		if c == nil {
			continue
		}
		if cell == "" {
			// The base's text carries its own unit.
			if cell = q.absent[i]; cell == "" {
				if c.Required {
					return false
				}
				c.Clear()
				continue
			}
		}
		if !c.Set(cell) {
			return false
		}
	}
	return true
}
