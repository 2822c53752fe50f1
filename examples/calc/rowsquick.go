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
	notes   *notes
	entry   *calc.Entry
	options calc.Options
	whole   *calc.Result // if it was made on the way
}

// result is the whole answer.
func (a *solved) result() calc.Result {
	if a.whole != nil {
		return *a.whole
	}
	return a.entry.Result(a.at, a.options)
}

// quick is a question that stays open.
type quick struct {
	cells  []*reckon.Cell // by column
	absent []string       // what an empty cell stands for: the base's text, "" for nothing
	solve  func() error
	answer solved
}

// solve answers a row. The answer holds until the next row.
func (s *solver) solve(r row) (*solved, error) {
	if q := s.quick; q != nil && r.simple && q.set(r.cells) && q.solve() == nil {
		return &q.answer, nil
	}
	object, err := s.json(r)
	if err != nil {
		return nil, &rowError{err.Error()}
	}
	if s.options.Working {
		out, err := s.entry.Eval(object, s.options)
		return &solved{whole: &out}, err
	}
	question, err := s.entry.Read(object)
	if err != nil {
		return nil, err
	}
	at, solve := s.entry.Repeat(question, nil)
	if solve() != nil {
		_, err := s.entry.Eval(object, s.options) // it shows values as they were typed
		return nil, err
	}
	if r.simple && (s.quick == nil || len(s.quick.cells) < len(r.cells)) {
		if s.quick, err = s.open(object); err != nil {
			return nil, err
		}
	}
	s.slow = s.answer(at)
	return &s.slow, nil
}

func (s *solver) answer(at any) solved {
	return solved{at: at, readers: readings(s.outputs, at), notes: newNotes(at), entry: &s.entry, options: s.options}
}

func (s *solver) json(r row) ([]byte, error) {
	if lines, ok := s.source.(*lineReader); ok {
		return lines.json(r.object)
	}
	return s.source.form().json(r.cells)
}

// open makes the question that an object holds ready for rows like it. It returns
// a quick without cells, which sets none, if a column is no single value, and a *rowError
// for two columns that are the same value under two names.
func (s *solver) open(object []byte) (*quick, error) {
	f := s.source.form()
	none := &quick{cells: make([]*reckon.Cell, len(f.columns))}
	question, err := s.entry.Read(object)
	base, baseErr := tree(f.base)
	whole, wholeErr := tree(object)
	if err != nil || baseErr != nil || wholeErr != nil {
		return none, nil //nolint:nilerr // the rows are read the slow way then, which tells
	}
	q, single := &quick{}, true
	var vary []string
	names := map[string]string{}
	for i := range f.columns {
		c := &f.columns[i]
		absent := ""
		var cell *reckon.Cell
		if !c.kept {
			cell, err = reckon.CellIn(question, c.name, c.unit)
			if err != nil {
				single = false
				continue
			}
			if other, twice := names[cell.At]; twice {
				return nil, &rowError{c.name + " is the same value as " + other}
			}
			names[cell.At] = c.name
			// A part that this row does not have may miss other values in the next.
			_, there := at(whole, c.path[:len(c.path)-1])
			single = single && there
			if old, there := at(base, c.path); there {
				if absent, err = textOf(old); err != nil {
					single = false
				}
			}
			vary = append(vary, cell.At)
		}
		q.cells, q.absent = append(q.cells, cell), append(q.absent, absent)
	}
	if !single {
		return none, nil
	}
	out, solve := s.entry.Repeat(question, vary)
	q.answer, q.solve = s.answer(out), solve
	return q, nil
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
