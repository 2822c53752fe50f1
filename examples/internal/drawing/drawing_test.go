package drawing

import (
	"encoding/xml"
	"errors"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// parse demands that a drawing is well formed, has its title and description, and nothing that runs or is fetched; it returns its texts.
func parse(t *testing.T, drawing template.HTML) (texts []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(drawing)))
	inside := []string{}
	said := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, string(drawing))
		switch k := token.(type) {
		case xml.StartElement:
			inside = append(inside, k.Name.Local)
			assert.Contains(t, []string{"svg", "title", "desc", "path", "rect", "circle", "text", "defs", "pattern"}, k.Name.Local)
			for _, a := range k.Attr {
				assert.False(t, strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" || a.Name.Local == "style", a.Name.Local)
				assert.NotContains(t, a.Value, "NaN")
				assert.NotContains(t, a.Value, "Inf")
			}
			if k.Name.Local == "svg" {
				assert.Equal(t, "img", attribute(k, "role"))
			}
		case xml.EndElement:
			inside = inside[:len(inside)-1]
		case xml.CharData:
			switch at := inside[len(inside)-1]; at {
			case "text":
				texts = append(texts, string(k))
			case "title", "desc":
				said[at] = len(k) > 0
			}
		}
	}
	assert.True(t, said["title"], "a title")
	return texts
}

func attribute(k xml.StartElement, name string) string {
	for _, a := range k.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// The pointer stands on its number, and the numbers beside it are the scale's.
func TestScale(t *testing.T) {
	for _, c := range []struct {
		name    string
		scale   Scale
		pointer float64 // millimetres from the left
		texts   string
		says    string
	}{
		// 76 mm for the stretch from 7 mm on: 12.5 is halfway from 5 to 20.
		{
			"cut on both sides",
			Scale{Low: 0, High: 40, Step: 0.5, At: 12.5},
			45, "6 8 10 12 14 16 18 20",
			"The scale goes from 0 to 40. Drawn from 5 to 20.",
		},
		{"whole", Scale{Low: 12, High: 30, Step: 0.5, At: 28, Unit: "strokes/min"}, 7 + 76*16.0/18, "15 20 25 30", "The scale goes from 12 to 30 strokes/min."},
		{"at its low end", Scale{Low: 1, High: 9, Step: 0.5, At: 1}, 7, "1 2 3 4 5 6 7 8 9", "The scale goes from 1 to 9."},
		{"at its high end", Scale{Low: 0, High: 100, Step: 1, At: 100}, 83, "70 75 80 85 90 95 100", "The scale goes from 0 to 100. Drawn from 70 to 100."},
		{"no ends, and nothing below nothing", Scale{Step: 0.5, At: 3, Unit: "mm"}, 7 + 76*3.0/15, "0 2 4 6 8 10 12 14", "Drawn from 0 to 15."},
		{"below nothing", Scale{Low: -10, High: 10, Step: 1, At: -4}, 7 + 76*6.0/20, "-10 -5 0 5 10", "The scale goes from -10 to 10."},
		{"free", Scale{Low: 0, High: 50, At: 12.3}, 7 + 76*12.3/50, "0 5 10 15 20 25 30 35 40 45 50", "The scale goes from 0 to 50."},
		// A step of 1 mm is no mark of a scale in inches: twentieths are.
		{"a step made in another unit", Scale{Low: 0, High: 2, Step: 1 / 25.4, At: 0.5}, 7 + 76*0.5/2, "0 0.5 1 1.5 2", "The scale goes from 0 to 2."},
		{"sixteenths", Scale{Low: 0, High: 2, Step: 0.0625, At: 1}, 45, "0 0.5 1 1.5 2", "The scale goes from 0 to 2."},
		{"outside what was measured", Scale{Low: 1, High: 9, Step: 1, At: 11}, 83, "1 2 3 4 5 6 7 8 9 10 11", "The scale goes from 1 to 9."},
		{
			"good runs",
			Scale{Low: 0, High: 10, Step: 1, At: 5, Kept: true, KeptLow: 6, KeptHigh: 8, Left: "in", Right: "out"},
			45, "0 1 2 3 4 5 6 7 8 9 10 ← in out →",
			"The scale goes from 0 to 10. Good runs stood at 6 to 8. To the left: in. To the right: out.",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.scale.ID, c.scale.Name, c.scale.Reads = "d1", "handle", number(c.scale.At)
			svg := c.scale.Draw()
			assert.Equal(t, c.texts, strings.Join(parse(t, svg), " "))
			assert.Contains(t, string(svg), "M"+num(c.pointer-3)+" 0.4 "+num(c.pointer+3)+" 0.4 "+num(c.pointer)+" ", "the pointer")
			assert.Contains(t, string(svg), ">"+c.says+"</desc>")
			assert.Contains(t, string(svg), ">handle: pointer at "+number(c.scale.At)+"</title>")
		})
	}
}

// Where good runs stood lies under the bar; what is beyond the stretch drawn is only told.
func TestGoodRunsOnTheScale(t *testing.T) {
	s := Scale{ID: "d1", Name: "handle", Low: 0, High: 10, Step: 1, At: 5, Kept: true, KeptLow: 6, KeptHigh: 8}
	assert.Contains(t, string(s.Draw()), `<rect x="`+num(7+76*0.6-0.8)+`"`)
	assert.Contains(t, string(s.Draw()), `width="`+num(76*0.2+1.6)+`"`)
	s = Scale{ID: "d1", Name: "handle", Low: 0, High: 1000, Step: 1, At: 5, Kept: true, KeptLow: 600, KeptHigh: 800}
	assert.NotContains(t, string(s.Draw()), "<rect")
	assert.Contains(t, string(s.Draw()), "Good runs stood at 600 to 800.")
}

func FuzzScale(f *testing.F) {
	f.Add(0.0, 40.0, 0.5, 12.5, 12.0, 13.0, "clockwise")
	f.Add(0.0, 0.0, 0.0, -3.0, 0.0, 0.0, "<up>")
	f.Add(1e-6, 1e8, 1e-7, 1e-3, -1.0, 1e9, "")
	f.Fuzz(func(t *testing.T, low, high, step, at, keptLow, keptHigh float64, way string) {
		s := Scale{ID: "d1", Name: way, Low: low, High: high, Step: step, At: at, Kept: true, KeptLow: keptLow, KeptHigh: keptHigh, Left: way, Right: way}
		if !strings.Contains(strings.ToValidUTF8(way, ""), way) || strings.ContainsFunc(way, func(r rune) bool { return r < ' ' || r > 0xd7ff }) {
			s.Name, s.Left, s.Right = "handle", "", ""
		}
		svg := s.Draw()
		if bad(low) || bad(high) || bad(step) || bad(at) {
			if svg != "" {
				t.Fatal("drawn without numbers")
			}
			return
		}
		if len(svg) > 100_000 {
			t.Fatalf("%d bytes", len(svg))
		}
		parse(t, svg)
		// The pointer stands on the ruler.
		p := s.stretch()
		x := scaleEdge + (at-p.low)/(p.high-p.low)*(scaleWidth-2*scaleEdge)
		if !(x >= scaleEdge-0.01 && x <= scaleWidth-scaleEdge+0.01) {
			t.Fatalf("pointer at %v mm of %+v for %+v", x, p, s)
		}
	})
}

func TestLever(t *testing.T) {
	l := Lever{ID: "d1", Name: "chute", Places: []Place{{Word: "wide", Lanes: 2}, {Word: "narrow", Lanes: 1, Here: true}}}
	svg := l.Draw()
	assert.Equal(t, []string{"wide", "narrow"}, parse(t, svg))
	assert.Equal(t, 3, strings.Count(string(svg), "<circle"), "a piece for each lane")
	assert.Contains(t, string(svg), ">chute: narrow</title>")
	assert.Contains(t, string(svg), "Its positions: wide, 2 pieces across; narrow, 1 piece across.")
	assert.Contains(t, string(svg), `fill="#fff" font-weight="bold">narrow<`)

	// Of many, those around the one that counts.
	many := Lever{ID: "d1", Name: "rack"}
	for i := range 20 {
		many.Places = append(many.Places, Place{Word: strconv.Itoa(i), Means: "for", Here: i == 18})
	}
	assert.Equal(t, []string{"(for)", "15", "(for)", "16", "(for)", "17", "(for)", "18", "(for)", "19"}, parse(t, many.Draw()))
	many.Places[18].Here = false
	assert.Contains(t, string(many.Draw()), "rack: left as it is")
	assert.Contains(t, string(many.Draw()), ">0<")

	// A long word is cut in the drawing, and whole for whoever has it read out.
	long := Lever{ID: "d1", Name: "x", Places: []Place{{Word: strings.Repeat("long ", 20) + "<end>", Means: "never", Here: true}}}
	assert.Len(t, parse(t, long.Draw()), 1)
	assert.Contains(t, parse(t, long.Draw())[0], "…")
	assert.Contains(t, string(long.Draw()), "&lt;end&gt;")
	assert.NotContains(t, string(long.Draw()), "<end>")
}

func TestFitting(t *testing.T) {
	assert.Equal(t, []string{"in"}, parse(t, Fitting("d1", "brush", true)))
	assert.Equal(t, []string{"out"}, parse(t, Fitting("d1", "<brush>", false)))
}

// A band reaches from its low end to its high one, white where something waits, and a point stands on its row.
func TestWindow(t *testing.T) {
	w := Window{ID: "d1", Title: "speed", Unit: "strokes/min", At: 25, Rows: []Band{
		{Name: "in 5 batches", Low: 10, High: 30, Steady: 20, LowSays: "hopper", HighSays: "stamper"},
		{Name: "in 6 batches", Low: 15, High: 25, Steady: 26, LowSays: "dwell", HighSays: "dwell and something with a name that is long"},
		{Name: "in 7 batches", Low: 15, High: 25, Steady: 14},
	}, Points: []Point{{Row: 0, At: 25, Letter: "A", Says: "fastest"}, {Row: 1, At: 20, Letter: "B", Says: "middle"}, {Row: 1, At: 20.1, Letter: "C", Says: "calm"}}}
	svg := w.Draw()
	texts := strings.Join(parse(t, svg), "|")
	for _, want := range []string{"in 5 batches", "hopper", "stamper", "dwell and something with a name that is long", "run at 25 strokes/min", "5|10|15|20|25|30|35|", "|A|B|C"} {
		assert.Contains(t, texts, want)
	}
	at := func(v float64) float64 { return 46 + (v-5)/30*134 }
	says := string(svg)
	assert.Contains(t, says, `<rect x="`+num(at(10))+`" y="8" width="`+num(at(30)-at(10))+`" height="6.4" fill="#bbb"`)
	assert.Contains(t, says, `<rect x="`+num(at(20))+`" y="8" width="`+num(at(30)-at(20))+`" height="6.4" fill="#fff"`, "from there on it waits")
	assert.Contains(t, says, `<circle cx="`+num(at(25))+`" cy="11.2"`)
	assert.Contains(t, says, `<circle cx="`+num(at(20))+`" cy="24.2"`)
	assert.Contains(t, says, `<circle cx="`+num(at(20)+6.4)+`" cy="24.2"`, "beside the one that is in the way")
	assert.Contains(t, says, "in 5 batches: 10 to 30 strokes/min (hopper; stamper), without a wait up to 20. A, fastest: 25 strokes/min. in 6 batches: 15 to 25")
	assert.Contains(t, says, "in 7 batches: 15 to 25 strokes/min, with waits at any of them.")

	w.Rows[0].HighSays = "oven"
	assert.Contains(t, string(w.Draw()), `<text x="`+num(at(30)+1.5)+`" y="12.6"`)
	w.Points[0].At = 30
	assert.Contains(t, string(w.Draw()), `<text x="`+num(at(30)+4.5)+`" y="12.6"`, "beside the ring at its end")

	w.At, w.Points = 0, nil
	assert.NotContains(t, string(w.Draw()), "run at")
	parse(t, w.Draw())
	w.Rows = nil
	assert.Empty(t, w.Draw())
	w.Rows, w.At = []Band{{Name: "x", Low: 1, High: 2}}, math.NaN()
	assert.Empty(t, w.Draw())
	w.Rows, w.At = []Band{{Name: "x", Low: math.NaN(), High: 2}}, 2
	assert.Empty(t, w.Draw())
	w.Rows = []Band{{Name: "one speed", Low: 2, High: 2}}
	parse(t, w.Draw())
	w.Rows, w.At = make([]Band, 500), 1
	assert.Less(t, len(w.Draw()), 100_000)
}

// A job lies on the rows of its people, and what may not be late is black.
func TestWork(t *testing.T) {
	w := Work{
		ID: "d1", Title: "who", Zero: "last stroke", Marked: "the line stands", From: 5, To: 20,
		Jobs: []Job{
			{Number: 1, Start: -5, End: 0, Who: []int{1}},
			{Number: 2, Start: 0, End: 5, Critical: true},
			{Number: 3, Start: 5, End: 20, Who: []int{1, 2}, Critical: true},
			{Number: 4, Start: 20, End: 20.1, Who: []int{2}},
		},
	}
	svg := w.Draw()
	texts := strings.Join(parse(t, svg), "|")
	for _, want := range []string{"no one", "person 1", "person 2", "the line stands", "last stroke", "|-5|0|5|"} {
		assert.Contains(t, texts, want)
	}
	at := func(v float64) float64 { return 24 + (v+5)/25.1*159 }
	for _, y := range []string{"17", "27"} { // of both people
		assert.Contains(t, string(svg), `<rect x="`+num(at(5))+`" y="`+y+`" width="`+num(at(20)-at(5))+`" height="8" fill="#000"`)
	}
	assert.Contains(t, string(svg), `<rect x="`+num(at(-5))+`" y="17" width="`+num(at(0)-at(-5))+`" height="8" fill="#fff"`)
	assert.NotContains(t, texts, "|4|", "no room for its number")
	assert.Contains(t, string(svg), "Steps that may not be late: 2, 3.")
	assert.Empty(t, Work{}.Draw())
	assert.Empty(t, Work{Jobs: []Job{{Start: 0, End: math.Inf(1)}}}.Draw())
	parse(t, Work{ID: "d1", Title: "t", Zero: "z", Jobs: []Job{{Start: 0, End: 1, Who: []int{999}}}}.Draw())
}

// What overlaps at a station lies one below the other, and each hour stands where it is.
func TestDay(t *testing.T) {
	d := Day{
		ID: "d1", Title: "day", Rows: []string{"mixer", "oven"},
		Bars: []Bar{{"mixer", 1, 22, 23}, {"mixer", 2, 22.5, 24.5}, {"mixer", 7, 23, 24}, {"oven", 1, 25, 28}},
		Due:  []Due{{Order: 1, At: 27, Late: true}, {Order: 2, At: 30}},
	}
	svg := d.Draw()
	assert.Equal(t, "mixer|oven|22:00|23:00|0:00|day 2|1:00|2:00|3:00|4:00|5:00|6:00|1|2|7|1|must be ready|1 late|2", strings.Join(parse(t, svg), "|"))
	at := func(v float64) float64 { return 47 + (v-22)/8*133 }
	assert.Contains(t, string(svg), `<rect x="47" y="6" width="`+num(at(23)-at(22))+`"`)
	assert.Contains(t, string(svg), `<rect x="`+num(at(22.5))+`" y="14.2"`, "the second mixing overlaps the first")
	assert.Contains(t, string(svg), `<rect x="`+num(at(23))+`" y="6"`, "the third does not")
	assert.Contains(t, string(svg), "mixer: busy from 22:00 to 0:30 of day 2. oven: busy from 1:00 of day 2 to 4:00 of day 2.")
	assert.Contains(t, string(svg), `fill="url(#d1-p0)"`)
	assert.Empty(t, Day{}.Draw())
	assert.Empty(t, Day{Rows: []string{"mixer"}, Bars: []Bar{{"mixer", 1, 0, math.NaN()}}}.Draw())
	week := Day{ID: "d1", Title: "week", Rows: []string{"mixer"}}
	for i := range 500 {
		week.Bars = append(week.Bars, Bar{"mixer", i, -30, 300 + float64(i)/60})
	}
	parse(t, week.Draw())
	assert.Less(t, len(week.Draw()), 300_000)
}
