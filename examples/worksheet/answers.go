package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/tabular"
)

// mostAnswers bounds what is read, in bytes: a thousand exercises with all
// their blanks are well below it.
const mostAnswers = 4 << 20

// answers are what a student wrote, by exercise and by blank, both from 1;
// blank 0 is the answer itself.
type answers map[[2]int]string

// readAnswers reads lines such as "3: 68 °F", and "3.1: 44 °F" for the first
// blank of the working of exercise 3. All that is wrong is told at once.
func (o options) readAnswers(stdin io.Reader) (answers, error) {
	if o.mark != "-" {
		f, err := intake.Open(o.mark)
		if err != nil {
			return nil, err
		}
		defer func() { _ = f.Close() }() // it was only read
		stdin = f
	}
	text, err := io.ReadAll(io.LimitReader(stdin, mostAnswers+1))
	switch {
	case err != nil:
		return nil, err
	case len(text) > mostAnswers:
		return nil, fmt.Errorf("%s holds more than %d MB: want a line for each answer", o.mark, mostAnswers>>20)
	}
	out := answers{}
	var wrong []error
	n := 0
	for line := range strings.Lines(string(text)) {
		n++
		if strings.TrimSpace(line) == "" {
			continue
		}
		at, answer, err := readAnswer(line)
		if _, twice := out[at]; twice && err == nil {
			err = errors.New("it was answered before: want one line for each")
		}
		if err != nil {
			wrong = append(wrong, fmt.Errorf("line %d of the answers: %w", n, err))
			continue
		}
		out[at] = answer
	}
	return out, errors.Join(wrong...)
}

func readAnswer(line string) (at [2]int, answer string, err error) {
	number, answer, ok := strings.Cut(line, ":")
	exerciseNumber, blank, hasBlank := strings.Cut(strings.TrimSpace(number), ".")
	at[0], err = strconv.Atoi(exerciseNumber)
	if hasBlank && err == nil {
		at[1], err = strconv.Atoi(blank)
	}
	if !ok || err != nil || at[0] < 1 || hasBlank && at[1] < 1 {
		return at, "", errors.New(`want the number of the exercise, a colon and the answer, such as "3: 68 °F", or "3.1: 44 °F" for its first blank`)
	}
	return at, strings.TrimSpace(answer), nil
}

// A markedItem is what one exercise of the sheet is worth.
type markedItem struct {
	answer string
	mark   exercise.Mark
	score  float64
	blanks []string // as far as they were filled in
	steps  []exercise.StepMark
}

// marks marks the answers exercise by exercise.
func (s *sheet) marks(given answers) ([]markedItem, error) {
	if err := s.fits(given); err != nil {
		return nil, err
	}
	out := make([]markedItem, len(s.Items))
	for i := range out {
		out[i].answer = given[[2]int{i + 1, 0}]
	}
	switch {
	case s.study != nil:
		texts := make([]string, len(out))
		for i := range out {
			texts[i] = out[i].answer
		}
		m, err := s.study.Mark(texts)
		if err != nil {
			return nil, err
		}
		for i := range out {
			out[i].mark, out[i].score = m.Parts[i], m.Parts[i].Score
		}
	case s.fault != nil:
		m := s.fault.Mark(strings.FieldsFunc(out[0].answer, func(r rune) bool { return r == ',' || r == ' ' }), out[1].answer)
		out[0].mark, out[0].score = m.Cause, m.Cause.Score
		out[1].mark, out[1].score = m.Change, m.Change.Score
	default:
		for i := range out {
			blanks := make([]string, len(s.Items[i].key.Blanks))
			for j := range blanks {
				blanks[j] = given[[2]int{i + 1, j + 1}]
			}
			m, err := s.Items[i].key.MarkWork(blanks, out[i].answer)
			if err != nil {
				return nil, err
			}
			out[i].mark, out[i].score, out[i].blanks, out[i].steps = m.Answer, m.Score, blanks, m.Steps
		}
	}
	return out, nil
}

// fits refuses answers to what is not on the sheet.
func (s *sheet) fits(given answers) error {
	var wrong []error
	for i := range s.Items { // in the order of the sheet
		for at := range given {
			if blanks := s.blanks(i); at[0] == i+1 && at[1] > blanks {
				wrong = append(wrong, fmt.Errorf("%d.%d: exercise %d has %d blanks", at[0], at[1], at[0], blanks))
			}
		}
	}
	for at := range given {
		if at[0] > len(s.Items) {
			wrong = append(wrong, fmt.Errorf("%d: the sheet has exercises 1 to %d", at[0], len(s.Items)))
		}
	}
	return errors.Join(wrong...)
}

// blanks is how many numbers of a working are marked.
func (s *sheet) blanks(i int) int {
	if s.study != nil || s.fault != nil {
		return 0
	}
	return len(s.Items[i].key.Blanks)
}

// writeMarks says of every answer what it is worth and what to do about it.
func (s *sheet) writeMarks(w *bytes.Buffer, given answers) error {
	marks, err := s.marks(given)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "MARKS: %s\n%s\n", strings.ToUpper(s.Title), s.About)
	total := 0.0
	for i := range marks {
		m := &marks[i]
		total += m.score
		fmt.Fprintln(w)
		wrap(w, strconv.Itoa(i+1)+". ", s.Items[i].Title)
		answer := harmless(m.answer)
		if answer == "" {
			answer = "(none)"
		}
		wrap(w, "   ", fmt.Sprintf("Answer %s: %.2f, %s. %s", answer, m.score, strings.ReplaceAll(string(m.mark.Verdict), "-", " "), m.mark.Says))
		for j, text := range m.blanks {
			if text != "" {
				wrap(w, "   ", strings.TrimSpace(fmt.Sprintf("Blank %d, %s: %s. %s", j+1, harmless(text), strings.ReplaceAll(string(m.steps[j].Verdict), "-", " "), m.steps[j].Says)))
			}
		}
	}
	fmt.Fprintf(w, "\nTogether %.2f of %d.\n", total, len(marks))
	return nil
}

// harmless is what a student wrote, cut short, with nothing in it that moves the cursor.
func harmless(text string) string { return tabular.Harmless(unit.Clip(text), false) }
