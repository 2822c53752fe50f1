package main

import (
	"bytes"
	"encoding/json"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

func call(args ...string) (code int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	code = run(args, &out, &complaints)
	return code, out.String(), complaints.String()
}

// demo returns the demo scenario, changed in one place.
func demo(t *testing.T, old, now string) (file string, s line.Scenario) {
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	if old != "" {
		require.Contains(t, string(day), old)
	}
	day = bytes.Replace(day, []byte(old), []byte(now), 1)
	s, err = line.ReadScenario(day)
	require.NoError(t, err)
	file = filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, day, 0o600))
	return file, s
}

// The cards of the demo, made once for all tests.
var (
	demoPage = sync.OnceValue(func() string { return pageOf() })
	demoInUS = sync.OnceValue(func() string { return pageOf("-units", "us", "-paper", "letter") })
)

// pageOf is what is printed, and what went wrong if anything did.
func pageOf(args ...string) string {
	code, page, complaints := call(args...)
	if code != exitOK {
		return complaints
	}
	return page
}

// textOf is what a person reads on a page: its texts without the marks, each on a line of its own.
func textOf(page string) string {
	body := page[strings.Index(page, "<body>"):]
	return html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(body, "\n"))
}

// Every control that a product sets stands on its card, where the plan sets it, and what is left alone is named.
func TestEveryControlIsDrawn(t *testing.T) {
	fernhill, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	alder, err := testdata.Scenario("alder.json")
	require.NoError(t, err)
	for _, c := range []struct {
		data  []byte
		units unit.System
		page  string
	}{{fernhill, unit.Metric, demoPage()}, {fernhill, unit.US, demoInUS()}, {alder, unit.US, pageOf("-demo", "alder", "-units", "us")}} {
		s, err := line.ReadScenario(c.data)
		require.NoError(t, err)
		page, units := c.page, c.units
		cards := regexp.MustCompile(`(?s)<section id="s\d+".*?</section>`).FindAllString(page, -1)
		require.Len(t, cards, 2*len(s.Orders)-1, "products and the changeovers between them")
		for i := range s.Orders {
			at, err := line.ControlSettings{Line: s.Line, Order: s.Orders[i], Shift: s.Shift}.Solve()
			require.NoError(t, err)
			card := cards[max(0, 2*i)]
			assert.Contains(t, card, s.Orders[i].Product.Name)
			assert.Equal(t, at.Set, strings.Count(card, ">ran at <"), "a blank for each")
			for k := range at.Settings {
				control := &at.Settings[k]
				if control.At == "" {
					assert.Regexp(t, `Leave as they are:</b>[^<]*`+regexp.QuoteMeta(control.Control), card)
					continue
				}
				assert.Regexp(t, `(?s)</span>`+regexp.QuoteMeta(control.Control)+`</h4><span class="at[^>]*>`+strings.ReplaceAll(regexp.QuoteMeta(control.In(units)), " ", ` (<small>)?`), card)
				drawn := control.Control + ": "
				if control.Unit != "" {
					drawn += "pointer at " + control.In(units)
				}
				assert.Contains(t, card, "-t\">"+html.EscapeString(drawn), "its drawing")
			}
		}
		assert.Equal(t, units == unit.US, !regexp.MustCompile(`\d (mm|g|kg|°C)\b`).MatchString(strings.ReplaceAll(textOf(page), "Tin loaf 800 g", "")), "one system of units")
	}
}

// A step of a changeover has its box, and what hurts stands at the step where it first comes up.
func TestChangeover(t *testing.T) {
	_, s := demo(t, "", "")
	_, page, _ := call("-people", "3")
	out, err := line.Changeover{Line: s.Line, Before: s.Orders[1], Next: s.Orders[2], Shift: s.Shift, People: 3}.Solve()
	require.NoError(t, err)
	sheet := regexp.MustCompile(`(?s)<section id="s4".*?</section>`).FindString(page)
	assert.Contains(t, sheet, "Tin loaf 800 g")
	assert.Equal(t, len(out.Steps), strings.Count(sheet, `type="checkbox"`))
	for i := range out.Steps {
		_, row, ok := strings.Cut(sheet, `aria-label="step `+strconv.Itoa(i+1)+` done"`)
		require.True(t, ok)
		row, _, _ = strings.Cut(row, "</tr>")
		assert.Contains(t, html.UnescapeString(row), out.Steps[i].In(unit.Metric))
		assert.Equal(t, out.Steps[i].Critical, strings.Contains(row, "may not be late"))
	}
	told := textOf("<body>" + sheet)
	for _, caution := range out.Cautions.Sentences() {
		assert.Equal(t, 1, strings.Count(told, caution), caution)
	}
	before, after, ok := strings.Cut(told, "Isolate and lock out the machine before you take parts out")
	require.True(t, ok)
	assert.Equal(t, 1, strings.Count(before, "isolate "), "it stands at the first machine that is isolated")
	assert.Contains(t, after, "isolate ")
	assert.Contains(t, told, "milk", "the allergen that is cleaned away")
	assert.Contains(t, told, "with 3, from the last stroke to the first")
	assert.Equal(t, out.Conditions.Has(line.NotProven), strings.Contains(told, "in whatever order it is done"))
	assert.NotContains(t, told, "see least", "that is for who reads JSON")
}

// The window names what limits the speed with the number across of the product, and with the others that the divider has trials for.
func TestWindow(t *testing.T) {
	file, _ := demo(t, `"dough": "tin bread", "across": 1,`, `"dough": "rolls", "across": 1, "shape": "straight", "weighting": "by-pieces",
		"trials": [{"mark": 6, "weight": "30.4 g", "pieces": 20}, {"mark": 12, "weight": "49.1 g", "pieces": 20}, {"mark": 18, "weight": "68.3 g", "pieces": 20}, {"mark": 24, "weight": "86.2 g", "pieces": 20}]},
		{"dough": "tin bread", "across": 1,`)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	data = bytes.Replace(data, []byte(`"hopper_max": "20 min"`), []byte(`"hopper_max": "40 min"`), 1) // one across takes longer
	require.NoError(t, os.WriteFile(file, data, 0o600))
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	_, page, complaints := call("-scenario", file)
	require.Empty(t, complaints)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	o := &plans[1].Plan
	window := regexp.MustCompile(`(?s)<title[^>]*>How fast it may run.*?</svg>`).FindAllString(page, -1)[1]
	assert.Contains(t, window, "How fast it may run: run at 23 strokes/min<")
	assert.Contains(t, window, "divider: 12 to 30 strokes/min.")
	assert.Contains(t, window, "moulder: up to 30 strokes/min (up to 60 pieces/min).")
	assert.Contains(t, window, "mixer keeps up: up to ")
	between := func(low, high unit.StrokeRate) string {
		round := func(v unit.StrokeRate) string {
			return strconv.FormatFloat(math.Round(float64(v)*1e6)/1e6, 'f', -1, 64)
		}
		return round(low) + " to " + round(high) + " strokes/min"
	}
	assert.Contains(t, window, "all, 2 across: "+between(o.Speed.Low, o.Speed.High)+" ("+o.Speed.LowLimit+"; "+o.Speed.HighLimit+").")
	other := s.Orders[1]
	other.Product.Across = 1
	one, err := line.Plan{Line: s.Line, Order: other, Shift: s.Shift}.Solve()
	require.NoError(t, err)
	assert.Contains(t, window, "all, 1 across: "+between(one.Speed.Low, one.Speed.High))
	loaf := regexp.MustCompile(`(?s)<title[^>]*>How fast it may run.*?</svg>`).FindAllString(page, -1)[2]
	assert.NotContains(t, loaf, "all, 2 across", "of another dough")
}

// The day has the times of day-plan, with the orders as the scenario has them.
func TestDayOfAScenario(t *testing.T) {
	_, s := demo(t, "", "")
	_, page, _ := call("-start", "22 h")
	q := line.DayPlan{Line: s.Line, Shift: s.Shift, DayTerms: line.DayTerms{Start: unit.Hours(22), People: 2, Aim: line.EarliestFinish, Allergens: line.CleanedBetween}}
	for i, o := range s.Orders {
		order := line.DayOrder{Name: strconv.Itoa(i), Order: o}
		if i > 0 {
			order.After = []string{strconv.Itoa(i - 1)}
		}
		q.Orders = append(q.Orders, order)
	}
	out, err := q.Solve()
	require.NoError(t, err)
	day := textOf(page)
	for i, r := range out.Runs {
		assert.Equal(t, strconv.Itoa(i), r.Name)
		assert.Contains(t, day, span(r.FirstStroke, r.LastStroke))
		assert.Contains(t, day, wall(r.Ready))
	}
	assert.Contains(t, day, "22:00 to 23:26, 5 batches")
	assert.Contains(t, day, "all of it at "+wall(out.Ready))
	assert.NotContains(t, day, "must be ready", "nobody said when")
}

func TestWall(t *testing.T) {
	for _, c := range []struct {
		at   unit.Duration
		want string
	}{{0, "0:00"}, {unit.Minutes(5*60 + 7), "5:07"}, {unit.Hours(24) - 20, "0:00 day 2"}, {unit.Hours(49), "1:00 day 3"}, {-unit.Minutes(30), "23:30 the day before"}} {
		assert.Equal(t, c.want, wall(c.at))
	}
	assert.Equal(t, "23:00 to 1:00 day 2", span(unit.Hours(23), unit.Hours(25)))
	assert.Equal(t, "1:00 to 2:00 day 2", span(unit.Hours(25), unit.Hours(26)))
	assert.Equal(t, "22:00 to 23:00 the day before", span(-unit.Hours(2), -unit.Hours(1)))
	assert.Equal(t, "23:00 the day before to 1:00", span(-unit.Hours(1), unit.Hours(1)))
	assert.Equal(t, "1:00 to 2:00", span(unit.Hours(1), unit.Hours(2)))
}

// A day with due times has the cards in the order that it finds, and says what is late.
func TestDayWithDueTimes(t *testing.T) {
	_, s := demo(t, "", "")
	q := line.DayPlan{Line: s.Line, Shift: s.Shift, DayTerms: line.DayTerms{Start: unit.Hours(22), People: 2, Aim: line.FewestLate, Allergens: line.PlainFirst}}
	for i, due := range []float64{29, 26, 31, 30} {
		q.Orders = append(q.Orders, line.DayOrder{Name: "order " + strconv.Itoa(i), Order: s.Orders[i], DayTimes: line.DayTimes{Due: unit.Hours(due), Bake: unit.Minutes(15), Packing: unit.Minutes(40)}})
	}
	out, err := q.Solve()
	require.NoError(t, err)
	require.Positive(t, out.Total.Late)
	data, err := json.Marshal(q)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	code, page, complaints := call("-day", file)
	require.Equal(t, exitOK, code, complaints)
	day := textOf(page)
	at := 0
	for i, r := range out.Runs {
		j, _ := strconv.Atoi(strings.TrimPrefix(r.Name, "order "))
		head := regexp.MustCompile(`<h2 id="s\d+-h">` + strconv.Itoa(i+1) + `&ensp;` + regexp.QuoteMeta(s.Orders[j].Product.Name)).FindStringIndex(page)
		require.NotNil(t, head, r.Name)
		assert.Greater(t, head[0], at)
		at = head[0]
		assert.Contains(t, day, "("+r.Name+")")
		if r.Late > 0 {
			assert.Contains(t, day, "late by "+r.Late.In(unit.Metric))
		}
	}
	assert.Contains(t, day, "must be ready")
	assert.Contains(t, day, "start "+out.Remedies.StartEarlier.In(unit.Metric)+" earlier")

	// One that cannot be made is said so on its card, and there is no chart.
	q.Orders[2].Product.RateHigh = 6
	data, err = json.Marshal(q)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, data, 0o600))
	code, page, complaints = call("-day", file)
	assert.Equal(t, exitRefused, code)
	assert.Empty(t, complaints)
	assert.Contains(t, page, "<p>There is no chart of the day: day-plan: ")
	assert.Equal(t, 1, strings.Count(page, "Not as asked"))
	assert.Equal(t, 2, strings.Count(page, ">Change over to "))

	// What is wrong is named with its path.
	require.NoError(t, os.WriteFile(file, bytes.Replace(data, []byte(`"people":2,"aim"`), []byte(`"people":0,"aim"`), 1), 0o600))
	code, page, complaints = call("-day", file)
	assert.Equal(t, exitFile, code)
	assert.Empty(t, page)
	assert.Contains(t, complaints, "people is 0")
}

// A run that was good stands beside the plan, as a bar on the scale and in words.
func TestKnownGood(t *testing.T) {
	_, s := demo(t, "", "")
	at, err := line.ControlSettings{Line: s.Line, Order: s.Orders[1], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	var book line.RunBook
	for i, mark := range []string{"18.5", "19", "19.5", "19.5"} {
		r := line.RunRecord{Date: "2026-11-0" + strconv.Itoa(i+1), Line: s.Line, Order: s.Orders[1], Shift: s.Shift, Good: true}
		r.Shift.Room = unit.Celsius(22)
		for _, k := range at.Settings {
			if k.At == "" {
				continue
			}
			stood := line.Standing{Control: k.Control, At: k.At}
			switch {
			case k.Sets == line.SetsMark:
				stood.At = mark
			case k.Sets == line.SetsChain && i == 3:
				stood.At = "middle"
			}
			r.Settings = append(r.Settings, stood)
		}
		book.Records = append(book.Records, r)
	}
	data, err := json.Marshal(book)
	require.NoError(t, err)
	runs := filepath.Join(t.TempDir(), "runs.json")
	require.NoError(t, os.WriteFile(runs, data, 0o600))
	code, page, complaints := call("-runs", runs)
	require.Equal(t, exitOK, code, complaints)
	says := textOf(page)
	assert.Contains(t, says, "4 good runs looked at, the last on 2026-11-04")
	assert.Contains(t, says, "since then shift.room was 22 °C, is 25 °C")
	assert.Contains(t, says, "good at 18.5 to 19.5; start at 19")
	assert.Contains(t, says, "Good runs stood at 18.5 to 19.5.")
	assert.Contains(t, says, "last good at middle")
	assert.Equal(t, 2, strings.Count(says, "good at"), "what always stood as planned is not told")
	assert.NotContains(t, demoPage(), "good runs")

	require.NoError(t, os.WriteFile(runs, bytes.Replace(data, []byte(`"19.5"`), []byte(`"19.5 kg"`), 1), 0o600))
	code, page, complaints = call("-runs", runs)
	assert.Equal(t, exitFile, code)
	assert.Empty(t, page)
	assert.Contains(t, complaints, "19.5 kg")
}

// An order that cannot be made is said so in its place, and what two controls must not do together stands at the head of the card.
func TestNotAsAsked(t *testing.T) {
	file, s := demo(t, `"rate_high": "16 pieces/min"`, `"rate_high": "6 pieces/min"`)
	code, page, complaints := call("-scenario", file)
	assert.Equal(t, exitRefused, code)
	assert.Empty(t, complaints)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	assert.Contains(t, html.UnescapeString(page), plans[2].Refused.Error())
	assert.Equal(t, 2, strings.Count(page, ">Change over to "))
	assert.Contains(t, page, ">Change over to 4&ensp;Slow stick<")
	assert.NotContains(t, page, ">Change over to 3")

	file, _ = demo(t, `"sets": "oil",`, `"sets": "oil", "not_with": [{"at": "open", "control": "rounding drum", "control_at": "large cups", "why": "oil runs into the cups"}],`)
	code, page, _ = call("-scenario", file)
	assert.Equal(t, exitOK, code)
	assert.Equal(t, 2, strings.Count(page, "<b>Mend first:</b> oil cocks at open, rounding drum at large cups: oil runs into the cups"), "on the card and before the changeover to it")
}

// A line that does not say how it is changed over has cards, no changeover and no day, and it says so.
func TestNoChanging(t *testing.T) {
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	var s map[string]any
	require.NoError(t, json.Unmarshal(day, &s))
	delete(s, "day")
	delete(s["line"].(map[string]any), "changing")
	orders := s["orders"].([]any)
	write := func() string {
		data, err := json.Marshal(s)
		require.NoError(t, err)
		file := filepath.Join(t.TempDir(), "day.json")
		require.NoError(t, os.WriteFile(file, data, 0o600))
		return file
	}
	code, page, complaints := call("-scenario", write())
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, page, "so no changeover is printed")
	assert.Contains(t, page, "There is no chart of the day, since the line does not say how it is changed over.")
	assert.NotContains(t, page, ">Change over to ")
	s["orders"] = orders[:1]
	code, page, complaints = call("-scenario", write())
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, page, "The day by station and time", "one order needs no changeover")
	orders[0].(map[string]any)["pieces"] = 550_000
	s["shift"].(map[string]any)["mixer"] = map[string]any{"low": "10 kg", "high": "25 kg", "mixing": "7 min", "cycle": "8 min"}
	code, page, complaints = call("-scenario", write())
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, textOf(page), "There is no chart of the day: day-plan: orders[0].pieces is 550000")
	assert.Contains(t, page, "divider handle", "its card is there all the same")

	delete(s["line"].(map[string]any), "controls")
	code, page, complaints = call("-scenario", write())
	assert.Equal(t, exitFile, code)
	assert.Empty(t, page)
	assert.Contains(t, complaints, "the controls of the line, in walking order")
}

// A file is written whole or not at all.
func TestFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "cards.html")
	code, out, complaints := call("-o", file)
	require.Equal(t, exitOK, code, complaints)
	assert.Empty(t, out)
	first, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, demoPage() == string(first), "what is printed is what is written")
	code, _, _ = call("-o", file, "-people", "1")
	assert.Equal(t, exitFile, code)
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, now), "what was there is left alone")
	there, err := filepath.Glob(filepath.Join(filepath.Dir(file), "*"))
	require.NoError(t, err)
	assert.Len(t, there, 1, "nothing is left lying about")
	day, _ := demo(t, "", "")
	before, err := os.ReadFile(day)
	require.NoError(t, err)
	code, _, complaints = call("-scenario", day, "-o", day)
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, complaints, "-scenario")
	now, err = os.ReadFile(day)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(before, now), "what is read is not written over")
	code, _, complaints = call("-o", filepath.Join(t.TempDir(), "nowhere", "cards.html"))
	assert.Equal(t, exitFile, code)
	assert.NotEmpty(t, complaints)
}

func TestCalledWrongly(t *testing.T) {
	broken := filepath.Join(t.TempDir(), "broken.json")
	require.NoError(t, os.WriteFile(broken, []byte(`{"title": 1}`), 0o600))
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"-people", "0"}, exitFile, "people is 0"},
		{[]string{"-people", "1"}, exitFile, "takes so many"},
		{[]string{"-start", "0 h"}, exitFile, "start is 0 s"},
		{[]string{"-start", "5"}, exitUsage, "unit"},
		{[]string{"-paper", "a5"}, exitUsage, "a4 or letter"},
		{[]string{"-demo", "oak"}, exitUsage, "fernhill or alder"},
		{[]string{"-demo", "alder", "-scenario", "x.json"}, exitUsage, "either -demo or a file"},
		{[]string{"-units", "imperial"}, exitUsage, "units"},
		{[]string{"-day", "x.json", "-people", "2"}, exitUsage, "no -scenario, -start or -people"},
		{[]string{"-day", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-scenario", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-runs", "nowhere.json"}, exitFile, "nowhere.json"},
		{[]string{"-scenario", broken}, exitFile, "title"},
		{[]string{"-day", broken}, exitFile, "title"},
		{[]string{"-cards"}, exitUsage, "-cards"},
		{[]string{"now"}, exitUsage, `"now" is not an option`},
		{[]string{"-help"}, exitOK, "-people"},
	} {
		code, out, complaints := call(c.args...)
		assert.Equal(t, c.code, code, c.args)
		assert.Empty(t, out, c.args)
		assert.Contains(t, complaints, c.says, c.args)
	}
}

func BenchmarkCards(b *testing.B) {
	o := options{demo: "fernhill", paper: "a4", people: 2, start: unit.Hours(5)}
	b.ReportAllocs()
	var page bytes.Buffer
	for b.Loop() {
		page.Reset()
		c, err := o.cards()
		if err != nil {
			b.Fatal(err)
		}
		if err := c.write(&page); err != nil {
			b.Fatal(err)
		}
	}
}
