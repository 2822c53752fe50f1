package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
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

// inOrder returns the orders of a scenario as its day makes them.
func inOrder(t *testing.T, s *line.Scenario) (orders []line.Order) {
	plans, err := s.PlanAll()
	require.NoError(t, err)
	day, err := s.PlanDay(plans)
	require.NoError(t, err)
	require.Len(t, day.Runs, len(s.Orders))
	for _, r := range day.Runs {
		i := slices.IndexFunc(s.Orders, func(o line.Order) bool { return o.Product.Name == r.Name })
		orders = append(orders, s.Orders[i])
	}
	return orders
}

// withoutDay is the demo without its day.
func withoutDay(t *testing.T) string {
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	var tree map[string]any
	require.NoError(t, json.Unmarshal(day, &tree))
	delete(tree, "day")
	data, err := json.Marshal(tree)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	return file
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
		for i, order := range inOrder(t, &s) {
			at, err := line.ControlSettings{Line: s.Line, Order: order, Shift: s.Shift}.Solve()
			require.NoError(t, err)
			card := cards[max(0, 2*i)]
			assert.Contains(t, card, order.Product.Name)
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
	_, page, _ := call("-people", "3", "-scenario", withoutDay(t))
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

// windows are the drawings of a card, each with its texts.
func windows(page string) []string {
	return regexp.MustCompile(`(?s)<title[^>]*>How fast it may run.*?</svg>`).FindAllString(page, -1)
}

// The window has a row for each way that line-window finds, with its limits, and the best point for each aim.
func TestWindow(t *testing.T) {
	s := demoScenario(t)
	out, err := line.Window{Line: s.Line, Order: s.Orders[0], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	_, page, ok := strings.Cut(demoPage(), "&ensp;Star bun</h2>\n<p>6000")
	require.True(t, ok)
	bun := windows(page)[0]
	assertWays(t, bun, out.Ways)
	assert.Contains(t, bun, ", 2 across: run at 28 strokes/min<")
	says := textOf("<body>" + page)
	for _, p := range out.Best {
		assert.Contains(t, says, fmt.Sprintf("%v in %s of %d; %v kept up", p.Strokes, batches(p.Batches), p.PiecesPerBatch, p.PieceRate))
	}
	assert.Contains(t, bun, "A, fastest, no waits for dough, least dough given away, least dusting flour: 28 strokes/min.")
	assert.Contains(t, bun, "B, middle of the stay in the proofer: 20 strokes/min.")
	assert.Contains(t, says, "longest time in the hopper (25 min): at 26 min, 1 strokes/min more to choose from")
	assert.Contains(t, says, "these buy nothing: shortest stay in the proofer (5 min), fastest speed of the stamper (28 strokes/min)")
}

// Another number across for which there are trial pieces has a drawing of its own.
func TestWindowAcross(t *testing.T) {
	file, s := demo(t, `"dough": "tin bread", "across": 1,`, `"dough": "rolls", "across": 1, "shape": "straight", "weighting": "by-pieces",
		"trials": [{"mark": 6, "weight": "30.4 g", "pieces": 20}, {"mark": 12, "weight": "49.1 g", "pieces": 20}, {"mark": 18, "weight": "68.3 g", "pieces": 20}, {"mark": 24, "weight": "86.2 g", "pieces": 20}]},
		{"dough": "tin bread", "across": 1,`)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	data = bytes.Replace(data, []byte(`"hopper_max": "20 min"`), []byte(`"hopper_max": "40 min"`), 1) // one across takes longer
	require.NoError(t, os.WriteFile(file, data, 0o600))
	s.Orders[1].Product.HopperMax = unit.Minutes(40)
	out, err := line.Window{Line: s.Line, Order: s.Orders[1], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	_, page, complaints := call("-scenario", file)
	require.Empty(t, complaints)
	_, page, ok := strings.Cut(page, "&ensp;Long picnic roll</h2>\n<p>4000")
	require.True(t, ok)
	drawn := windows(page)
	require.GreaterOrEqual(t, len(drawn), 2)
	for i, across := range []int{2, 1} {
		var ways []line.WindowWay
		for _, w := range out.Ways {
			if w.Across == across {
				ways = append(ways, w)
			}
		}
		require.NotEmpty(t, ways)
		assert.Contains(t, drawn[i], fmt.Sprintf("How fast it may run, %d across", across))
		assertWays(t, drawn[i], ways[:1])
	}
	assert.NotContains(t, drawn[1], "run at", "it is not run so")
	assert.NotContains(t, windows(demoPage())[0], "2 across", "of another dough")
}

func assertWays(t *testing.T, figure string, ways []line.WindowWay) {
	t.Helper()
	for _, w := range ways {
		assert.Contains(t, figure, fmt.Sprintf("in %s: %s to %v (%s; %s)", batches(w.Batches), trimmed(w.Low), w.High, w.LowLimit, w.HighLimit))
	}
}

func demoScenario(t *testing.T) line.Scenario {
	_, s := demo(t, "", "")
	return s
}

func trimmed(v unit.StrokeRate) string { return strings.TrimSuffix(v.String(), " strokes/min") }

// Of many ways those are drawn on which something is best, and of the others those of the fewest batches.
func TestWorthDrawing(t *testing.T) {
	var ways []line.WindowWay
	for n := 5; n < 25; n++ {
		ways = append(ways, line.WindowWay{Batches: n})
	}
	var got []int
	for _, w := range worthDrawing(ways, []line.AimPoint{{Batches: 5}, {Batches: 20}, {Batches: 20}}) {
		got = append(got, w.Batches)
	}
	assert.Equal(t, []int{5, 6, 7, 8, 9, 20}, got)
}

// Every limit that a window names has words for people, and each reads in the units of the card.
func TestLimitsInWords(t *testing.T) {
	for _, name := range []string{"demo.json", "alder.json"} {
		data, err := testdata.Scenario(name)
		require.NoError(t, err)
		s, err := line.ReadScenario(data)
		require.NoError(t, err)
		for _, order := range s.Orders {
			out, err := line.Window{Line: s.Line, Order: order, Shift: s.Shift}.Solve()
			require.NoError(t, err)
			belts := 0
			for i := range out.Limits {
				k := &out.Limits[i]
				words := limitName(k.Field, k.Limit)
				if strings.HasPrefix(words, "speed of the ") {
					belts++
					assert.Contains(t, k.Field, "belt", "%s has no words of its own", k.Field)
				}
				stands, moved := k.In(unit.Metric)
				assert.Equal(t, []string{k.Stands, k.Moved}, []string{stands, moved}, k.Field)
				stands, moved = k.In(unit.US)
				assert.NotRegexp(t, `\d (k?g|mm|cm|m|m/min|°C)$`, stands+"\n"+moved, k.Field)
			}
		}
	}
}

// An order that nothing lets run says which limits exclude one another, and how far each would have to move.
func TestConflict(t *testing.T) {
	file, s := demo(t, `"dwell_low": "8 min", "dwell_high": "12 min"`, `"dwell_low": "25 min", "dwell_high": "35 min"`)
	code, page, complaints := call("-scenario", file)
	require.Equal(t, exitRefused, code, complaints)
	says := textOf(page)
	assert.Contains(t, says, "These exclude one another: slowest speed of the divider (12 strokes/min), shortest stay in the proofer (25 min).")
	assert.Contains(t, says, "slowest speed of the divider: no value of it is enough alone")
	out, err := line.Window{Line: s.Line, Order: s.Orders[3], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	require.Len(t, out.Conflict, 2)
	k := out.Conflict[1]
	_, needs, by := k.In(unit.Metric)
	assert.Contains(t, says, "shortest stay in the proofer: "+needs+", which is "+by+"; then it runs at 12 strokes/min and makes 24 pieces/min")
	// With what it says the order is planned.
	s.Orders[3].Product.DwellLow, err = unit.ParseDuration(k.Needs)
	require.NoError(t, err)
	_, err = line.Plan{Line: s.Line, Order: s.Orders[3], Shift: s.Shift}.Solve()
	require.NoError(t, err)
}

// The day is that of the scenario, from when and by whom it says, unless a person says otherwise.
func TestDayOfAScenario(t *testing.T) {
	s := demoScenario(t)
	for _, c := range []struct {
		args   []string
		start  unit.Duration
		people int
	}{{nil, s.Day.Start, s.Day.People}, {[]string{"-start", "20 h 30 min", "-people", "3"}, unit.Minutes(20*60 + 30), 3}} {
		changed := s
		day := *s.Day
		day.Start, day.People = c.start, c.people
		changed.Day = &day
		plans, err := changed.PlanAll()
		require.NoError(t, err)
		out, clock, err := changed.ClockDay(plans)
		require.NoError(t, err)
		_, page, complaints := call(c.args...)
		require.Empty(t, complaints)
		says := textOf(page)
		at := 0
		for i, r := range out.Runs {
			assert.Contains(t, says, span(r.FirstStroke, r.LastStroke))
			assert.Contains(t, says, wall(r.Ready))
			next := strings.Index(page, ">"+strconv.Itoa(i+1)+"&ensp;"+r.Name+"<")
			require.Greater(t, next, at, "the cards hang in the order of the day")
			at = next
		}
		assert.Contains(t, says, "all of it at "+wall(out.Ready))
		assert.Contains(t, says, "must be ready")
		assertClock(t, says, &clock)
	}
}

// assertClock demands that the day by the clock stands on the page: every batch, what is started ahead, what waits and what mends it.
func assertClock(t *testing.T, says string, clock *line.DayClockResult) {
	t.Helper()
	require.NotEmpty(t, clock.Findings)
	for _, f := range clock.Findings {
		assert.Contains(t, says, f.Says)
		assert.Contains(t, says, f.Mend)
	}
	for _, r := range clock.Runs {
		for _, b := range r.Clock.Batches {
			assert.Contains(t, says, strings.Join([]string{"", wall(b.Mix), "", wall(b.Tip), "", span(b.FirstCut, b.LastCut), "", span(b.FirstOven, b.LastOven), ""}, "\n"))
			for _, p := range b.Preferments {
				assert.Contains(t, says, strings.Join([]string{"", wall(p.Start), "", p.Name, ""}, "\n"))
			}
		}
		for _, l := range r.Clock.Lots {
			assert.Contains(t, says, strings.Join([]string{"", wall(l.Start), "", l.Name, ""}, "\n"))
		}
	}
	assert.Contains(t, says, "An oven, its trays")
}

// Without a day the orders stand as given, from five in the morning and with two people if nobody says otherwise.
func TestWithoutDay(t *testing.T) {
	file := withoutDay(t)
	s := demoScenario(t)
	for _, c := range []struct {
		args  []string
		start unit.Duration
	}{{nil, unit.Hours(5)}, {[]string{"-start", "22 h"}, unit.Hours(22)}} {
		_, page, complaints := call(append(c.args, "-scenario", file)...)
		require.Empty(t, complaints)
		q := line.DayPlan{Line: s.Line, Shift: s.Shift, DayTerms: line.DayTerms{Start: c.start, People: 2, Aim: line.EarliestFinish, Allergens: line.CleanedBetween}}
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
		assert.Contains(t, day, "all of it at "+wall(out.Ready))
		assert.NotContains(t, day, "must be ready", "nobody said when")
	}
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
	assert.NotContains(t, page, ">Change over to 4")
	assert.Contains(t, page, ">4&ensp;Tin loaf 800 g<", "what cannot be made stands last")

	file, _ = demo(t, `"sets": "oil",`, `"sets": "oil", "not_with": [{"at": "open", "control": "rounding drum", "control_at": "medium cups", "why": "oil runs into the cups"}],`)
	code, page, _ = call("-scenario", file)
	assert.Equal(t, exitOK, code)
	assert.Equal(t, 2, strings.Count(page, "<b>Mend first:</b> oil cocks at open, rounding drum at medium cups: oil runs into the cups"), "on the card and before the changeover to it")
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
	o := options{demo: "fernhill", paper: "a4"}
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
