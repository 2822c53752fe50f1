package main

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/dough/doughmath/calc"
	"example.com/dough/testdata"
)

// answered reads what the program printed as JSON.
func answered(t *testing.T, out string) map[string]any {
	var whole struct {
		Result map[string]any `json:"result"`
	}
	if err := json.Unmarshal([]byte(out), &whole); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return whole.Result
}

// A relation turned round gives back what went in: curls for a length, solve for the length of these curls, and curls of it
// again; by the inverse in the catalogue, and by searching, whatever the numbers and their units.
func FuzzSolve(f *testing.F) {
	f.Add(300.0, 5.0, 0.0, "mm")
	f.Add(12.5, 0.2, 0.1, "in")
	f.Add(-1.0, math.Inf(1), math.NaN(), "lb")
	f.Fuzz(func(t *testing.T, length, thickness, core float64, unit string) {
		write := func(v float64) string { return fmt.Sprint(v, " ", unit) }
		given := []string{"-thickness", write(thickness)}
		if core != 0 {
			given = append(given, "-core", write(core))
		}
		code, out, errs := call("", append([]string{"do", "-json", "curls", "-length", write(length)}, given...)...)
		if code != done {
			if strings.TrimSpace(errs+out) == "" || code == broken {
				t.Fatalf("it left with %d and said %q", code, errs)
			}
			return
		}
		turns := answered(t, out)["turns"].(float64)
		code, out, errs = call("", append([]string{"solve", "-json", "curls", "length", "-turns", fmt.Sprint(turns)}, given...)...)
		if code != done {
			if turns >= 0.5 && turns <= 20 && code == broken {
				t.Fatalf("%d: %s%s", code, out, errs)
			}
			return
		}
		found, _ := answered(t, out)["length"].(string)
		code, out, errs = call("", append([]string{"do", "-json", "curls", "-length", found}, given...)...)
		if code != done {
			t.Fatalf("%q was found and is refused: %s", found, errs)
		}
		if again := answered(t, out)["turns"].(float64); math.Abs(again-turns) > 1e-9*turns {
			t.Errorf("%v turns, and %v by the length %s that was found", turns, again, found)
		}
	})
}

// A row of a table is what do says of it, whichever way the table is written; and what rows read and wrote they read again.
func FuzzRowsAndDo(f *testing.F) {
	f.Add("hopper-time", uint64(1))
	f.Add("scale-division", uint64(2))
	f.Add("curls", uint64(3))
	entries := calc.Entries()
	f.Fuzz(func(t *testing.T, id string, seed uint64) {
		e, ok := calc.Lookup(id)
		if !ok {
			e = entries[seed%uint64(len(entries))]
		}
		if e.Station == "line" || e.Station == "day" || e.Station == "clock" || e.Station == "window" || e.Station == "set-up" || e.Station == "changeover" {
			return // a whole plan for each
		}
		row := testdata.Mutate(rand.New(rand.NewPCG(seed, 1)), oneLine(e.Example))
		if strings.ContainsAny(row, "\n\r") {
			return
		}
		one, said, _ := call(row, "do", "-json", e.ID, "-")
		code, out, errs := call(row+"\n", "rows", "-from", "jsonl", "-to", "jsonl", "-bad", "skip", e.ID)
		if code == broken {
			t.Fatalf("nothing was broken: %s", errs)
		}
		if one != done {
			if code == done && strings.Contains(out, `"result"`) {
				t.Errorf("%s: do refuses, rows say %s", row, out)
			}
			return
		}
		if want, got := answered(t, said), answered(t, out); fmt.Sprint(want) != fmt.Sprint(got) {
			t.Errorf("%s: do says %v, rows say %v", row, want, got)
		}
	})
}

// oneLine is the JSON without its line breaks.
func oneLine(text string) string {
	var v any
	if json.Unmarshal([]byte(text), &v) != nil {
		return text
	}
	out, err := json.Marshal(v)
	if err != nil {
		return text
	}
	return string(out)
}
