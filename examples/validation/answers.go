package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// Two kinds of processor need not find the same last digit: what the standard library and gonum
// make of a logarithm differs with the instructions that they use. What people read must not differ.

// furthest is how far an answer of another machine may be from ours, as a part of it.
const furthest = 1e-12

// answer is one answer of this machine, in every digit and as people read it.
type answer struct {
	Of     string          `json:"of"` // the calculation, and the case or "its example"
	Digits json.RawMessage `json:"digits"`
	Shown  string          `json:"shown"`
}

// answers asks every example and every case, in an order that never changes.
func answers(entries []calc.Entry, cases []testdata.Case, each func(answer) error) error {
	ask := func(e calc.Entry, of string, input []byte) error {
		a := answer{Of: e.ID + ", " + of}
		for i, system := range []unit.System{unit.Metric, unit.US} {
			r, err := e.Eval(input, calc.Options{Units: system, Rounded: true, Working: true})
			if err != nil {
				a.Digits, _ = json.Marshal(err.Error())
				break
			}
			text, err := r.AppendText(nil)
			if err != nil {
				return fmt.Errorf("%s: %w", a.Of, err)
			}
			a.Shown += string(calc.AppendWorking(text, r.Working, system))
			if i > 0 {
				continue
			}
			exact, err := e.Eval(input, calc.Options{})
			if err == nil {
				a.Digits, err = exact.AppendJSON(nil)
			}
			if err != nil {
				return fmt.Errorf("%s: %w", a.Of, err)
			}
		}
		return each(a)
	}
	for _, e := range entries {
		if err := ask(e, "its example", []byte(e.Example)); err != nil {
			return err
		}
	}
	for _, c := range cases {
		e, ok := calc.Lookup(c.Func)
		if !ok {
			return fmt.Errorf("case %s: no calculation is called %q", c.ID, c.Func)
		}
		if err := ask(e, "case "+c.ID, c.In); err != nil {
			return err
		}
	}
	return nil
}

// writeAnswers writes the answers of this machine, one on a line.
func writeAnswers(w io.Writer, entries []calc.Entry, cases []testdata.Case) error {
	b := bufio.NewWriter(w)
	out := json.NewEncoder(b)
	if err := answers(entries, cases, func(a answer) error { return out.Encode(a) }); err != nil {
		return err
	}
	return b.Flush()
}

// mostLine bounds a line of another machine's answers.
const mostLine = 16 << 20

// against holds the answers of this machine against those of another, and says how far they agree.
// It returns an error if people would read another answer, or if one is too far off.
func against(r io.Reader, entries []calc.Entry, cases []testdata.Case) (string, error) {
	theirs := bufio.NewScanner(r)
	theirs.Buffer(nil, mostLine)
	count, other, worst, at := 0, 0, 0.0, ""
	err := answers(entries, cases, func(ours answer) error {
		var a answer
		if !theirs.Scan() {
			return fmt.Errorf("the other machine's answers end before %s: %w", ours.Of, io.ErrUnexpectedEOF)
		}
		if err := json.Unmarshal(theirs.Bytes(), &a); err != nil {
			return fmt.Errorf("the other machine's answer to %s: %w", ours.Of, err)
		}
		count++
		switch {
		case a.Of != ours.Of:
			return fmt.Errorf("the other machine answers %s where %s was asked: it is another version", a.Of, ours.Of)
		case a.Shown != ours.Shown:
			return fmt.Errorf("%s is read differently there: %s", a.Of, firstDifference(ours.Shown, a.Shown))
		case bytes.Equal(a.Digits, ours.Digits):
			return nil
		}
		other++
		off, err := apart(ours.Digits, a.Digits)
		if err != nil {
			return fmt.Errorf("%s: %w", a.Of, err)
		}
		if off > worst {
			worst, at = off, ours.Of
		}
		return nil
	})
	switch {
	case err != nil:
		return "", err
	case theirs.Scan():
		return "", fmt.Errorf("the other machine answers more than the %d questions asked", count)
	case theirs.Err() != nil:
		return "", theirs.Err()
	case worst > furthest:
		return "", fmt.Errorf("%s is %.1e of itself away from the other machine's answer; %.0e is allowed", at, worst, furthest)
	case other == 0:
		return fmt.Sprintf("%d answers: all are the same to the last digit.", count), nil
	}
	return fmt.Sprintf("%d answers: all read the same; %d differ in digits that nobody is shown, by %.1e of the value at most (%s).", count, other, worst, at), nil
}

// firstDifference quotes the first lines that differ.
func firstDifference(ours, theirs string) string {
	a, b := strings.Split(ours, "\n"), strings.Split(theirs, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("%q here, %q there", strings.TrimSpace(a[i]), strings.TrimSpace(b[i]))
		}
	}
	return fmt.Sprintf("%d lines here, %d there", len(a), len(b))
}

// apart returns how far two answers are from one another, as a part of the value that is furthest off.
func apart(ours, theirs []byte) (float64, error) {
	var a, b any
	if err := json.Unmarshal(ours, &a); err != nil {
		return 0, err
	}
	if err := json.Unmarshal(theirs, &b); err != nil {
		return 0, err
	}
	return valuesApart(a, b)
}

func valuesApart(a, b any) (worst float64, err error) {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok || len(a) != len(b) {
			return 0, fmt.Errorf("%v here, %v there", a, b)
		}
		for k := range a {
			off, err := valuesApart(a[k], b[k])
			if err != nil {
				return 0, fmt.Errorf("%s: %w", k, err)
			}
			worst = max(worst, off)
		}
		return worst, nil
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return 0, fmt.Errorf("%v here, %v there", a, b)
		}
		for i := range a {
			off, err := valuesApart(a[i], b[i])
			if err != nil {
				return 0, fmt.Errorf("[%d]: %w", i, err)
			}
			worst = max(worst, off)
		}
		return worst, nil
	}
	if reflect.DeepEqual(a, b) {
		return 0, nil
	}
	x, unitX, okX := number(a)
	y, unitY, okY := number(b)
	if !okX || !okY || unitX != unitY {
		return 0, fmt.Errorf("%v here, %v there", a, b)
	}
	return math.Abs(x-y) / max(math.Abs(x), math.Abs(y)), nil
}

// number takes a value apart into its number and its unit.
func number(v any) (x float64, of string, ok bool) {
	switch v := v.(type) {
	case float64:
		return v, "", true
	case string:
		digits, of, _ := strings.Cut(v, " ")
		x, err := strconv.ParseFloat(digits, 64)
		return x, of, err == nil
	}
	return 0, "", false
}
