package exercise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/doughmath/unit"
)

func TestAnswersAreRead(t *testing.T) {
	for _, c := range []struct {
		text string
		zero unit.Quantity
		want float64
	}{
		{"20.5 °C", unit.Temp{}, 20.5},
		{"20,5 °C", unit.Temp{}, 20.5},
		{"20.5C", unit.Temp{}, 20.5},
		{"68 °F", unit.Temp{}, 20},
		{"−2.5 °C", unit.Temp{}, -2.5},
		{"+3 °C", unit.Temp{}, 3},
		{" 2 1/2 lb ", unit.Mass(0), 1133.980925},
		{"2½ lb", unit.Mass(0), 1133.980925},
		{"1/2 lb", unit.Mass(0), 226.796185},
		{"2 lb 8 oz", unit.Mass(0), 1133.980925},
		{"1 1/4 in", unit.Length(0), 31.75},
		{"1,200.5 g", unit.Mass(0), 1200.5},
		{"1.200,5 g", unit.Mass(0), 1200.5},
		{"1 200 g", unit.Mass(0), 1200},
		{"1 200.5 g", unit.Mass(0), 1200.5},
		{"1,234,567 g", unit.Mass(0), 1234567},
		{"1'200 g", unit.Mass(0), 1200},
		{"0,125 kg", unit.Mass(0), 125},
		{"12,34 kg", unit.Mass(0), 12340},
		{"7 min 30 s", unit.Duration(0), 450},
		{"7.5 min", unit.Duration(0), 450},
		{"1.5e3 g", unit.Mass(0), 1500},
		{"3 kg/m3", unit.Density(0), 0.003},
		{"62.5 %", unit.Percent(0), 62.5},
		{"14 °C", unit.TempDelta(0), 14},
		{"3.43", nil, 3.43},
		{"3,43", nil, 3.43},
	} {
		r, problem := readAnswer(c.text, c.zero, false)
		if assert.Nil(t, problem, "%q: %+v", c.text, problem) {
			assert.InDelta(t, c.want, r.held, 1e-6, c.text)
		}
	}
	r, problem := readAnswer("3 batches", nil, true)
	assert.Nil(t, problem)
	assert.Equal(t, 3.0, r.held)
}

func TestAnswersThatAreNotRead(t *testing.T) {
	for _, c := range []struct {
		text    string
		zero    unit.Quantity
		verdict Verdict
		says    string
	}{
		{"", unit.Temp{}, Empty, "no answer yet"},
		{"  \t ", unit.Temp{}, Empty, "no answer yet"},
		{"1,234 g", unit.Mass(0), Ambiguous, "Is 1,234 the number 1.234 or the number 1234?"},
		{"12.345,678.9 g", unit.Mass(0), Ambiguous, "decimal point"},
		{"1:30", unit.Duration(0), Ambiguous, "1 min 30 s"},
		{"20.5", unit.Temp{}, Ambiguous, "In which unit"},
		{"450 g", unit.Temp{}, WrongQuantity, "That is a weight; a temperature was asked."},
		{"20 °C", unit.Mass(0), WrongQuantity, "That is a temperature; a weight was asked."},
		{"20 min", unit.PieceRate(0), WrongQuantity, "That is a time; a rate of pieces was asked."},
		{"3 kg", nil, WrongQuantity, "That is a weight; a plain number was asked."},
		{"20 quintals", unit.Mass(0), Unread, "is no unit of a weight"},
		{"about 20 °C", unit.Temp{}, Unread, "A number is wanted first"},
		{"20 °C 5", unit.Temp{}, Ambiguous, "In which unit"},
		{"20 °C 5 °C", unit.Temp{}, Unread, "One number"},
		{"3/0 lb", unit.Mass(0), Unread, "fraction"},
		{"2 3/2 lb", unit.Mass(0), Unread, "not less than one"},
		{"1e999 g", unit.Mass(0), Unread, "cannot be read"},
		{"NaN g", unit.Mass(0), Unread, "A number is wanted first"},
		{"Inf", nil, Unread, "A number is wanted first"},
		{".", nil, Unread, "A number is wanted first"},
		{"3 <script>", nil, Unread, "plain number"},
		{"5\x00 g", unit.Mass(0), Unread, "cannot be read"},
		{"\xff\xfe", unit.Mass(0), Unread, "no text"},
		{strings.Repeat("9", 1<<20), unit.Mass(0), Unread, "at most 80 characters"},
	} {
		_, problem := readAnswer(c.text, c.zero, false)
		if assert.NotNil(t, problem, "%.40q", c.text) {
			assert.Equal(t, c.verdict, problem.verdict, "%.40q: %s", c.text, problem.says)
			assert.Contains(t, problem.says, c.says, "%.40q", c.text)
			assert.Less(t, len(problem.says), 400)
		}
	}
}

// Whatever is typed, it is read or refused: there is always something to say.
func FuzzMark(f *testing.F) {
	for _, text := range []string{"20.5 °C", "1,234", "2 1/2 lb", "7 min 30 s", "1.2.3", "½", "-", "3 m3", "1/", "5e", "1 2 3 4", "9 999 999/3 g", "1e308 kg", "'", "º", "2⁄3 lb", "4 kg/m3 5"} {
		f.Add(text)
	}
	var exercises []*Exercise
	for _, spec := range []Spec{{Calculation: "water-temperature", Asked: "water_temp"}, {Calculation: "curls", Asked: "turns"}, {Calculation: "scaling-weight", Asked: "dough", Units: unit.US}, {Calculation: "batch-plan", Asked: "batches"}} {
		e, err := spec.Make()
		if err != nil {
			f.Fatal(err)
		}
		exercises = append(exercises, e)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, e := range exercises {
			m := e.Mark(text)
			if m.Says == "" || m.Verdict == "" || m.Score < 0 || m.Score > 1 || len(m.Says) > 1000 {
				t.Errorf("%q: %+v", text, m)
			}
			if m.Score > 0 && m.Read == "" {
				t.Errorf("%q has a score and was not read: %+v", text, m)
			}
		}
		key, err := exercises[0].Key()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := key.MarkWork([]string{text, text}, text); err != nil {
			t.Error(err)
		}
	})
}
