package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A sheet is what is printed, whatever it is printed as.
type sheet struct {
	Title string
	About string
	Items []item
	Key   bool
	Defer string // to whom the hazards defer; "" if there are none
	Seed  int64
	Units unit.System

	study *exercise.CaseStudy     // if it is one
	fault *exercise.FaultExercise // if it is one
}

// An item is one exercise with its key.
type item struct {
	Number   int
	Title    string
	Setting  string
	Given    []string
	Find     string
	Hazards  []string
	Hints    []string
	Blanks   []string
	Answer   string
	Working  []string
	Mistakes []string
	Unneeded string
	Sources  []string

	exercise *exercise.Exercise
	key      *exercise.Key
}

func setSheet(set []*exercise.Exercise, o options) (*sheet, error) {
	s := &sheet{Title: "Exercises", About: fmt.Sprintf("Sheet %d, %d exercises, %s units.", o.set.Seed, len(set), systemName(o)), Key: o.key, Seed: o.set.Seed, Units: o.set.Units}
	for i, e := range set {
		if err := s.add(i+1, e, o); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func caseSheet(c *exercise.CaseStudy, o options) (*sheet, error) {
	s := &sheet{
		Title: c.Title, Key: o.key, Seed: o.set.Seed, Units: o.set.Units, study: c,
		About: fmt.Sprintf("A case study in %d parts, sheet %d, %s units. A later part goes on with your answer to an earlier one.", len(c.Parts), o.set.Seed, systemName(o)),
	}
	for i, p := range c.Parts {
		if err := s.add(i+1, p.Exercise, o); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func faultSheet(f *exercise.FaultExercise, o options) (*sheet, error) {
	s := &sheet{Title: "What would you change?", About: fmt.Sprintf("Sheet %d, %s units.", o.set.Seed, systemName(o)), Key: o.key, Seed: o.set.Seed, Units: o.set.Units, fault: f}
	first := item{Number: 1, Title: f.Symptom, Setting: f.Setting, Find: "what is to blame most, and what next."}
	for i, p := range f.Plan {
		first.Given = append(first.Given, fmt.Sprintf("(%c) %s: planned %s, measured %s", 'a'+i, p.Words, p.Planned, p.Measured))
	}
	for i, c := range f.Causes() {
		line := fmt.Sprintf("%d. %s: alone it makes %s, %.0f %% of the difference", i+1, c.Words, c.Explains, c.Share)
		if i == 0 {
			first.Answer = c.Words
		}
		first.Working = append(first.Working, line)
	}
	s.Items = append(s.Items, first)
	return s, s.add(2, f.Change, o)
}

func systemName(o options) string {
	if o.set.Units == unit.US {
		return "US"
	}
	return "metric"
}

// add puts an exercise on the sheet.
func (s *sheet) add(number int, e *exercise.Exercise, o options) error {
	key, err := e.Key()
	if err != nil {
		return err
	}
	it := item{
		Number: number, Title: e.Question, Setting: e.Setting, Given: e.Lines(), Find: e.Asked.Words + ", " + e.Asked.Text() + ".",
		Answer: key.Answer, Working: key.Lines(false), Sources: key.Sources,
		exercise: e, key: key,
	}
	for _, h := range e.Hazards {
		it.Hazards = append(it.Hazards, h.Says)
		s.Defer = reckon.CautionDeference
	}
	for _, m := range key.Mistakes {
		it.Mistakes = append(it.Mistakes, m.Answer+": "+m.Says)
	}
	if len(key.Unneeded) > 0 {
		it.Unneeded = strings.Join(key.Unneeded, ", ")
	}
	if o.hints {
		it.Hints = key.Hints
	}
	if o.blanks {
		it.Blanks = key.Lines(true)
	}
	s.Items = append(s.Items, it)
	return nil
}

// width is how many characters a line of plain text has.
const width = 92

// writeText prints the sheet as plain text.
func (s *sheet) writeText(w *bytes.Buffer) {
	fmt.Fprintf(w, "%s\n%s\n\nName ______________________________   Date ______________\n", strings.ToUpper(s.Title), s.About)
	for i := range s.Items {
		it := &s.Items[i]
		fmt.Fprintln(w)
		wrap(w, strconv.Itoa(it.Number)+". ", it.Title)
		if it.Setting != "" {
			wrap(w, "   ", it.Setting)
		}
		fmt.Fprintln(w)
		for _, line := range it.Given {
			wrap(w, "   - ", line)
		}
		fmt.Fprintln(w)
		wrap(w, "   ", "Find: "+it.Find)
		for _, h := range it.Hazards {
			wrap(w, "   ! ", h)
		}
		for _, line := range it.Blanks {
			wrap(w, "     ", line)
		}
		for _, hint := range it.Hints {
			wrap(w, "   ? ", hint)
		}
		fmt.Fprintln(w, "\n   Answer: ____________________")
	}
	if s.Defer != "" {
		fmt.Fprintln(w)
		wrap(w, "", s.Defer)
	}
	if s.Key {
		fmt.Fprint(w, "\f") // a page of its own
		s.writeKey(w)
	}
}

func (s *sheet) writeKey(w *bytes.Buffer) {
	fmt.Fprintf(w, "KEY: %s\n%s\n", strings.ToUpper(s.Title), s.About)
	for i := range s.Items {
		it := &s.Items[i]
		fmt.Fprintln(w)
		wrap(w, strconv.Itoa(it.Number)+". ", it.Answer)
		for _, line := range it.Working {
			wrap(w, "     ", line)
		}
		if it.Unneeded != "" {
			wrap(w, "   Not needed: ", it.Unneeded)
		}
		for _, m := range it.Mistakes {
			wrap(w, "   x ", m)
		}
		if len(it.Sources) > 0 {
			wrap(w, "   Sources: ", strings.Join(it.Sources, "; "))
		}
	}
}

// wrap writes a text behind its lead, the lines that follow under the first.
func wrap(w *bytes.Buffer, lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	line, used := lead, 0
	for word := range strings.FieldsSeq(text) {
		if used > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			fmt.Fprintln(w, line)
			line, used = indent, 0
		}
		if used > 0 {
			line += " "
		}
		line += word
		used++
	}
	fmt.Fprintln(w, strings.TrimRight(line, " "))
}
