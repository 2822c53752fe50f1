package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"html"
	"io"
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
	"example.com/dough/doughmath/reckon"
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
	_, s := demo(t, "", "")
	for _, units := range []unit.System{unit.Metric, unit.US} {
		page := map[unit.System]func() string{unit.Metric: demoPage, unit.US: demoInUS}[units]()
		cards := regexp.MustCompile(`(?s)<section id="s\d+".*?</section>`).FindAllString(page, -1)
		require.Len(t, cards, 7, "four products and three changeovers")
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
}

// The day has the times of day-plan, with the orders as the scenario has them.
func TestDayOfAScenario(t *testing.T) {
	_, s := demo(t, "", "")
	_, page, _ := call("-start", "22 h")
	q := line.DayPlan{Line: s.Line, Shift: s.Shift, Start: unit.Hours(22), People: 2, Aim: line.EarliestFinish, Allergens: line.CleanedBetween}
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
	}{{0, "0:00"}, {unit.Minutes(5*60 + 7), "5:07"}, {unit.Hours(24) - 20, "0:00 day 2"}, {unit.Hours(49), "1:00 day 3"}, {-unit.Minutes(30), "23:30 day 0"}} {
		assert.Equal(t, c.want, wall(c.at))
	}
	assert.Equal(t, "23:00 to 1:00 day 2", span(unit.Hours(23), unit.Hours(25)))
	assert.Equal(t, "1:00 to 2:00 day 2", span(unit.Hours(25), unit.Hours(26)))
	assert.Equal(t, "1:00 to 2:00", span(unit.Hours(1), unit.Hours(2)))
}

// A day with due times has the cards in the order that it finds, and says what is late.
func TestDayWithDueTimes(t *testing.T) {
	_, s := demo(t, "", "")
	q := line.DayPlan{Line: s.Line, Shift: s.Shift, Start: unit.Hours(22), People: 2, Aim: line.FewestLate, Allergens: line.PlainFirst}
	for i, due := range []float64{29, 26, 31, 30} {
		q.Orders = append(q.Orders, line.DayOrder{Name: "order " + strconv.Itoa(i), Order: s.Orders[i], Due: unit.Hours(due), Bake: unit.Minutes(15), Packing: unit.Minutes(40)})
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
	assert.Contains(t, page, "not every order can be made as asked")
	assert.Equal(t, 1, strings.Count(page, "Not as asked"))
	assert.Equal(t, 2, strings.Count(page, ">Change over</h2>"))

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
	assert.Equal(t, 2, strings.Count(page, ">Change over</h2>"))
	assert.Contains(t, page, "<b>4 Slow stick</b>")
	assert.NotContains(t, page, "<b>3 Tin loaf")

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
	assert.NotContains(t, page, ">Change over</h2>")
	s["orders"] = orders[:1]
	code, page, complaints = call("-scenario", write())
	assert.Equal(t, exitOK, code, complaints)
	assert.Contains(t, page, "The day by station and time", "one order needs no changeover")

	delete(s["line"].(map[string]any), "controls")
	code, page, complaints = call("-scenario", write())
	assert.Equal(t, exitFile, code)
	assert.Empty(t, page)
	assert.Contains(t, complaints, "the controls of the line, in walking order")
}

// Whatever a shop calls its things, nothing of it runs, is fetched, or leaves its place.
func TestHostileNames(t *testing.T) {
	evil := `</style></title></svg><script src=http://x>alert(1)</script>"');}*{}<!-- &amp; {{.}} ` + "\u202e"
	day, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(day)
	for _, name := range []string{"Star bun", "divider handle", "star die", "wide", "rounding drum", "large cups", "clockwise", "route lever", "overhead proofer", "milk", "sponge"} {
		quoted, err := json.Marshal((evil + name)[:min(len(evil+name), 99)])
		require.NoError(t, err)
		text = strings.ReplaceAll(text, `"`+name+`"`, string(quoted))
	}
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	code, page, complaints := call("-scenario", file)
	require.Equal(t, exitFile, code, "a name of a product that cannot be printed is refused")
	assert.Empty(t, page)
	assert.Contains(t, complaints, "printable characters")
	require.NoError(t, os.WriteFile(file, []byte(strings.ReplaceAll(text, "\u202e", "")), 0o600))
	code, page, complaints = call("-scenario", file)
	require.Equal(t, exitOK, code, complaints)
	selfContained(t, page)
	assert.Contains(t, page, "&lt;script")
	assert.Contains(t, textOf(page), strings.TrimSuffix(evil, "\u202e")+"Star bun")
}

// selfContained demands a page that is well formed, needs nothing else, runs nothing, and can be read out.
func selfContained(t *testing.T, page string) {
	t.Helper()
	assert.Contains(t, page, `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">`)
	assert.Contains(t, page, `<html lang="en-GB">`)
	assert.Equal(t, 1, strings.Count(page, "<style"))
	assert.Equal(t, 1, strings.Count(page, "</style"))
	style := page[strings.Index(page, "<style"):strings.Index(page, "</style")]
	for _, outside := range []string{"url(", "@import", "http", "expression("} {
		assert.NotContains(t, strings.ReplaceAll(style, `\`, ""), outside+"x", "nothing is fetched")
	}
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	ids, points := map[string]int{}, []string{}
	level, headers := 0, 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		k, opens := token.(xml.StartElement)
		if !opens {
			continue
		}
		switch name := k.Name.Local; name {
		case "script", "link", "img", "iframe", "object", "embed", "base", "form", "a", "use", "image", "foreignObject":
			assert.Fail(t, name)
		case "h1", "h2", "h3", "h4":
			now := int(name[1] - '0')
			assert.LessOrEqual(t, now, level+1, "no heading is left out before %s", name)
			level = now
		case "th":
			headers++
			assert.Contains(t, []string{"col", "row"}, attribute(k, "scope"))
		case "svg":
			assert.Equal(t, "img", attribute(k, "role"))
			assert.NotEmpty(t, attribute(k, "aria-labelledby"))
		case "section":
			assert.NotEmpty(t, attribute(k, "aria-labelledby"))
		}
		for _, a := range k.Attr {
			switch a.Name.Local {
			case "id":
				ids[a.Value]++
			case "aria-labelledby":
				points = append(points, strings.Fields(a.Value)...)
			case "src", "href", "style", "action", "background":
				assert.Fail(t, a.Name.Local)
			case "fill", "stroke":
				assert.Regexp(t, `^(none|#000|#777|#aaa|#bbb|#ddd|#fff|url\(#d\d+-p\d\))$`, a.Value, "black, grey or white")
			}
			assert.False(t, strings.HasPrefix(strings.ToLower(a.Name.Local), "on"), a.Name.Local)
		}
	}
	assert.Positive(t, headers)
	for id, n := range ids {
		assert.Equal(t, 1, n, "id %s", id)
	}
	for _, p := range points {
		assert.Contains(t, ids, p)
	}
}

func attribute(k xml.StartElement, name string) string {
	for _, a := range k.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func TestThePageNeedsNothingElse(t *testing.T) {
	for _, page := range []string{demoPage(), demoInUS()} {
		selfContained(t, page)
		assert.Contains(t, textOf(page), reckon.CautionDeference)
	}
	assert.Contains(t, demoPage(), "size: A4;")
	assert.Contains(t, demoInUS(), "size: letter;")
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
	o := options{paper: "a4", people: 2, start: unit.Hours(5)}
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
