package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/dough/examples/internal/tabular"
)

// A page is what one sheet of paper holds in a type that can be read at arm's length.
const (
	width     = 80 // columns
	pageLines = 60
)

// paper gathers what is printed, page by page.
type paper struct {
	pages []page
	sheet *sheet // being written
}

// page is one page, with its head.
type page struct{ rows []string }

// A sheet is one thing to print, such as what hangs at the line for one product. It takes a page, or more if it is long.
type sheet struct {
	title, right string
	blocks       [][]string // none is broken over two pages, unless it is longer than one
}

// open starts a sheet; right stands beside its title.
func (p *paper) open(title, right string) {
	p.close()
	p.sheet = &sheet{title: title, right: right}
}

// close lays the open sheet out in pages.
func (p *paper) close() {
	s := p.sheet
	p.sheet = nil
	if s == nil {
		return
	}
	head := beside(s.title, s.right)
	rows := append([]string{}, head...)
	turn := func() {
		p.pages = append(p.pages, page{rows})
		rows = append([]string{}, beside(s.title+", continued", s.right)...)
	}
	const room = pageLines - 1 // the last line numbers the page
	for _, block := range s.blocks {
		if len(rows)+len(block) > room && len(rows) > len(head) {
			turn()
		}
		for _, row := range block {
			if len(rows) == room {
				turn()
			}
			rows = append(rows, row)
		}
	}
	p.pages = append(p.pages, page{rows})
}

// beside sets a head with what stands to the right of it.
func beside(title, right string) []string {
	room := min(utf8.RuneCountInString(right), 36)
	rows := columns([]int{width - 1 - room, room}, "", title, right)
	return append(rows, strings.Repeat("=", width))
}

// print writes all pages, each with its number in its last line and a form feed before the next.
func (p *paper) print(w io.Writer, title string) {
	p.close()
	for i, page := range p.pages {
		if i > 0 {
			fmt.Fprint(w, "\f")
		}
		for _, row := range page.rows {
			fmt.Fprintln(w, row)
		}
		number := fmt.Sprintf("page %d of %d", i+1, len(p.pages))
		room := width - 2 - len(number)
		fmt.Fprintln(w, padded(cut(tabular.Harmless(title, false), room), room)+"  "+number)
	}
}

// block adds rows that stay together.
func (p *paper) block(rows ...string) { p.sheet.blocks = append(p.sheet.blocks, rows) }

// blank leaves a line free, but not at the top of a page.
func (p *paper) blank() {
	if n := len(p.sheet.blocks); n > 0 {
		p.sheet.blocks[n-1] = append(p.sheet.blocks[n-1], "")
	}
}

const labelWidth = 12

// row writes text beside its label; further rows of the same label have none.
func (p *paper) row(label, format string, args ...any) {
	p.block(columns([]int{labelWidth - 1, width - labelWidth}, "", label, fmt.Sprintf(format, args...))...)
}

// columns sets cells side by side, each wrapped in its width; 0 is what it takes. indent stands before all. Names come from a
// file that anybody may have written: what a terminal would obey is shown as a sign that it is not.
func columns(widths []int, indent string, cells ...string) []string {
	wrapped, most := make([][]string, len(cells)), 0
	for i, cell := range cells {
		cell = tabular.Harmless(cell, false)
		w := widths[i]
		if w == 0 {
			w = utf8.RuneCountInString(cell)
		}
		wrapped[i] = wrap(cell, w)
		most = max(most, len(wrapped[i]))
	}
	rows := make([]string, most)
	for r := range rows {
		var row strings.Builder
		row.WriteString(indent)
		for i := range cells {
			text := ""
			if r < len(wrapped[i]) {
				text = wrapped[i][r]
			}
			row.WriteString(padded(text, widths[i]) + " ")
		}
		rows[r] = strings.TrimRight(row.String(), " ")
	}
	return rows
}

func padded(text string, w int) string {
	return text + strings.Repeat(" ", max(0, w-utf8.RuneCountInString(text)))
}

// wrap breaks a text at its blanks, and a word that is too long where the room ends.
func wrap(text string, w int) []string {
	if utf8.RuneCountInString(text) <= w {
		return []string{text} // as it is, set to the right or not
	}
	var rows []string
	row := ""
	for word := range strings.FieldsSeq(text) {
		for {
			room := w - utf8.RuneCountInString(row)
			if row != "" {
				room--
			}
			n := utf8.RuneCountInString(word)
			if n <= room {
				break
			}
			if row == "" { // longer than a whole row
				head := string([]rune(word)[:w])
				rows, word = append(rows, head), word[len(head):]
				continue
			}
			rows, row = append(rows, row), ""
		}
		if row != "" {
			row += " "
		}
		row += word
	}
	if row != "" {
		rows = append(rows, row)
	}
	return rows
}

// cut shortens what only repeats a text that stands in full elsewhere.
func cut(text string, w int) string {
	if r := []rune(text); len(r) > w {
		return string(r[:w-1]) + "…"
	}
	return text
}
