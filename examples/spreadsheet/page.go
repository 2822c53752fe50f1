package main

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// A book is a workbook in the making.
type book struct {
	file   *excelize.File
	styles map[look]int
	paper  int // paperA4 or paperLetter
	pages  []*page
}

// A page is one sheet: its rows are gathered first, so that a formula can name
// a cell that comes later.
type page struct {
	name   string
	widths []float64
	rows   []pageRow
	top    int // rows that stay in view and are printed on every page
	checks []check
	colour []colouring
}

type pageRow struct {
	cells  []cell
	height float64 // 0 for that of one line of text
	joined int     // the first cell reaches over so many columns
}

// A cell holds a text, a number or a formula.
type cell struct {
	text    string
	number  float64
	formula string
	is      byte // 't', 'n', 'f' for a formula that gives a number, 's' for one that gives a text, 0 for nothing
	look    look
}

// A look is how a cell is shown.
type look struct {
	kind   kind
	format string // of a number
}

type kind uint8

const (
	plain   kind = iota
	title        // what the sheet is about
	section      // the head of a table
	head         // the same above numbers
	aside        // a word beside a number
	beside       // the unit beside a number
	note         // a sentence
	quiet        // a value for comparison
	entry        // an input that can be changed
	frozen       // a value that does not follow
	result       // a value that was asked for
	total        // the sum of a column
	alert        // the line that says how things stand
)

// check refuses what cannot be a value of an input cell.
type check struct {
	cell, says string
	whole      bool
	low, high  float64
}

// colouring marks cells in which a formula holds.
type colouring struct{ cells, formula string }

func text(s string) cell          { return cell{text: harmless(s), is: 't'} }
func words(k kind, s string) cell { return cell{text: harmless(s), is: 't', look: look{kind: k}} }

func numberCell(k kind, v float64, format string) cell {
	return cell{number: v, is: 'n', look: look{k, format}}
}

// formulaCell is a number with the formula that gives it.
func formulaCell(k kind, formula string, v float64, format string) cell {
	return cell{formula: formula, number: v, is: 'f', look: look{k, format}}
}

// sayingCell is a text with the formula that gives it.
func sayingCell(k kind, formula string) cell {
	return cell{formula: formula, is: 's', look: look{kind: k}}
}

// add appends a row.
func (p *page) add(cells ...cell) { p.rows = append(p.rows, pageRow{cells: cells}) }

// sentence appends a text that reaches over all columns from the first given.
func (p *page) sentence(k kind, first int, lead, s string) {
	room := 0.0
	for _, w := range p.widths[first:] {
		room += w
	}
	cells := make([]cell, first+1)
	if first > 0 {
		cells[0] = words(note, lead)
	}
	cells[first] = words(k, s)
	lines := math.Max(wrapped(s, room), wrapped(lead, p.widths[0]))
	p.rows = append(p.rows, pageRow{cells: cells, joined: first + 1, height: lineHeight * lines})
}

// lineHeight is that of one line of text, in points.
const lineHeight = 13.5

// titleHeight is that of the line that says what a sheet is about.
const titleHeight = 22

// wrapped estimates into how many lines a text breaks.
func wrapped(s string, room float64) float64 {
	return max(1, math.Ceil(float64(utf8.RuneCountInString(s))/(1.2*room)))
}

// fit makes the last row as high as its texts need.
func (p *page) fit() {
	l := &p.rows[len(p.rows)-1]
	lines := 1.0
	for i, c := range l.cells {
		if c.is == 't' {
			lines = max(lines, wrapped(c.text, p.widths[i]))
		}
	}
	if lines > 1 {
		l.height = lineHeight * lines
	}
}

// cellName is the cell in a column, counted from 0, and a row.
func cellName(column, row int) string { return string(rune('A'+column)) + strconv.Itoa(row) }

// on is a cell of this page as the formulas of any page name it.
func (p *page) on(cell string) string {
	return "'" + strings.ReplaceAll(p.name, "'", "''") + "'!" + cell
}

// page begins a sheet. The name is made legal and unlike those before it.
func (b *book) page(name string, widths ...float64) *page {
	p := &page{name: b.freeName(name), widths: widths}
	b.pages = append(b.pages, p)
	return p
}

// The longest name that a sheet may have, counted as spreadsheets count.
const longestSheetName = 31

// freeName makes a legal sheet name: at most 31 characters, none of []:*?/\,
// no apostrophe at its ends, not the one that is kept for a spreadsheet's own
// use, and unlike any other, whatever the case.
func (b *book) freeName(name string) string {
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || strings.ContainsRune(`[]:*?/\`, r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(name, " "))
	name = strings.Join(strings.Fields(name), " ")
	for n := 1; ; n++ {
		tail := ""
		if n > 1 {
			tail = " (" + strconv.Itoa(n) + ")"
		}
		try := strings.Trim(clip(strings.Trim(name, "' "), longestSheetName-len(tail)), "' ") + tail
		if try == "" || strings.EqualFold(try, "history") {
			name = "sheet " + try
			continue
		}
		if !b.has(try) {
			return try
		}
	}
}

func (b *book) has(name string) bool {
	for _, p := range b.pages {
		if strings.EqualFold(p.name, name) {
			return true
		}
	}
	return false
}

// clip cuts s to so many UTF-16 units, in which spreadsheets count.
func clip(s string, units int) string {
	n := 0
	for i, r := range s {
		if n += utf16.RuneLen(r); n > units {
			return s[:i]
		}
	}
	return s
}

// longestText is what a cell takes.
const longestText = 32000

// harmless is a text that no spreadsheet takes for a formula, also not when it
// is saved as plain text and opened again: a sign in front that would start one
// is quoted. What does not print becomes a space.
func harmless(s string) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if first, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, " ")); strings.ContainsRune("=+-@＝＋－＠", first) {
		s = "'" + s
	}
	if short := clip(s, longestText); short != s {
		s = short + " … (cut: too long for a cell)"
	}
	return s
}

// digits is the number format in which an instrument of that unit would show
// v; the cell keeps every digit.
func digits(v float64, unit string, whole bool) string {
	if whole {
		return "0"
	}
	size := math.Abs(v)
	decimals, known := decimalsOf[unit]
	switch {
	case size != 0 && (size < 1e-6 || size >= 1e9):
		return "0.000E+00"
	case !known && v == math.Trunc(v):
		return "General"
	case !known:
		decimals = 3 - int(math.Floor(math.Log10(size)))
	case size != 0:
		decimals = max(decimals, 2-int(math.Floor(math.Log10(size))))
	}
	if decimals <= 0 {
		return "0"
	}
	return "0." + strings.Repeat("0", decimals)
}

// finer adds to a format the decimals without which low and high look alike.
func finer(format string, low, high float64) string {
	if format == "General" || strings.Contains(format, "E") || !(high > low) {
		return format
	}
	_, decimals, _ := strings.Cut(format, ".")
	if need := 1 - int(math.Floor(math.Log10(high-low))); need > len(decimals) {
		return "0." + strings.Repeat("0", min(need, 12))
	}
	return format
}

// decimalsOf are those that thermometers, scales and rules show.
var decimalsOf = map[string]int{
	"°C": 1, "°F": 1, "C°": 1, "F°": 1, "g": 1, "kg": 3, "oz": 2, "lb": 3, "mm": 2, "m": 3, "in": 3, "ft": 2,
	"%": 2, "s": 1, "min": 2, "h": 2, "ml": 1, "l": 2, "strokes/min": 2, "pieces/min": 2, "kg/h": 1, "lb/h": 1, "rev/min": 1, "m/min": 2,
}

// fifteen rounds to the fifteen figures that a spreadsheet keeps.
func fifteen(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v
	}
	return r
}
