package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// write writes the workbook.
func (b *book) write(w io.Writer) (err error) {
	b.file, b.styles = excelize.NewFile(), map[look]int{}
	defer func() { _ = b.file.Close() }() // it holds no more than memory
	for i, p := range b.pages {
		if i == 0 {
			err = b.file.SetSheetName(b.file.GetSheetName(0), p.name)
		} else {
			_, err = b.file.NewSheet(p.name)
		}
		if err == nil {
			err = b.put(p)
		}
		if err != nil {
			return fmt.Errorf("sheet %q: %w", p.name, err)
		}
	}
	always := true
	if err = b.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &always}); err != nil {
		return err
	}
	return b.file.Write(w)
}

func (b *book) put(p *page) error {
	for _, set := range []func(*page) error{b.layOut, b.guard, b.colour, b.fill} {
		if err := set(p); err != nil {
			return err
		}
	}
	return nil
}

// layOut sets paper, margins and what is printed on every page.
func (b *book) layOut(p *page) error {
	landscape, one, many := "landscape", 1, 0
	if err := b.file.SetPageLayout(p.name, &excelize.PageLayoutOptions{Size: &b.paper, Orientation: &landscape, FitToWidth: &one, FitToHeight: &many}); err != nil {
		return err
	}
	fit := true
	if err := b.file.SetSheetProps(p.name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	side, end := 0.5, 0.7
	if err := b.file.SetPageMargins(p.name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &end, Bottom: &end}); err != nil {
		return err
	}
	if err := b.file.SetHeaderFooter(p.name, &excelize.HeaderFooterOptions{OddFooter: "&L&A&RPage &P of &N"}); err != nil {
		return err
	}
	grid := false
	if err := b.file.SetSheetView(p.name, 0, &excelize.ViewOptions{ShowGridLines: &grid}); err != nil {
		return err
	}
	if p.top == 0 {
		return nil
	}
	return b.file.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", Scope: p.name,
		RefersTo: p.on("$" + strconv.Itoa(p.top) + ":$" + strconv.Itoa(p.top)),
	})
}

// guard locks everything but the inputs, without a password, and refuses in an
// input what is no value of it.
func (b *book) guard(p *page) error {
	for _, c := range p.checks {
		v := excelize.NewDataValidation(false)
		v.SetSqref(c.cell)
		kind := excelize.DataValidationTypeDecimal
		if c.whole {
			kind = excelize.DataValidationTypeWhole
		}
		if err := v.SetRange(c.low, c.high, kind, excelize.DataValidationOperatorBetween); err != nil {
			return err
		}
		v.SetInput("", clip(c.says, 250))
		v.SetError(excelize.DataValidationErrorStyleStop, "No value of this input", clip(c.says, 220))
		if err := b.file.AddDataValidation(p.name, v); err != nil {
			return err
		}
	}
	return b.file.ProtectSheet(p.name, &excelize.SheetProtectionOptions{
		SelectLockedCells: true, SelectUnlockedCells: true, FormatCells: true, FormatColumns: true, FormatRows: true,
	})
}

func (b *book) colour(p *page) error {
	if len(p.colour) == 0 {
		return nil
	}
	mark, err := b.file.NewConditionalStyle(&excelize.Style{
		Font: &excelize.Font{Bold: true, Color: "9C2B00"}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FBE3D6"}},
	})
	if err != nil {
		return err
	}
	for _, c := range p.colour {
		if err := b.file.SetConditionalFormat(p.name, c.cells, []excelize.ConditionalFormatOptions{{Type: "formula", Criteria: c.formula, Format: &mark}}); err != nil {
			return err
		}
	}
	return nil
}

func (b *book) fill(p *page) error {
	w, err := b.file.NewStreamWriter(p.name)
	if err != nil {
		return err
	}
	for i, width := range p.widths {
		if err := w.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	if p.top > 0 {
		below := cellName(0, p.top+1)
		if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: p.top, TopLeftCell: below, ActivePane: "bottomLeft"}); err != nil {
			return err
		}
	}
	for i, l := range p.rows {
		cells := make([]any, len(l.cells))
		for k, c := range l.cells {
			if cells[k], err = b.cell(c); err != nil {
				return err
			}
		}
		if err := w.SetRow(cellName(0, i+1), cells, excelize.RowOpts{Height: min(max(l.height, lineHeight), 400)}); err != nil {
			return err
		}
		if l.joined > 0 && l.joined < len(p.widths) {
			if err := w.MergeCell(cellName(l.joined-1, i+1), cellName(len(p.widths)-1, i+1)); err != nil {
				return err
			}
		}
	}
	return w.Flush()
}

func (b *book) cell(c cell) (any, error) {
	if c.is == 0 {
		return nil, nil
	}
	style, err := b.style(c.look)
	out := excelize.Cell{StyleID: style, Formula: c.formula}
	switch c.is {
	case 't':
		out.Value = c.text
	case 'n', 'f':
		out.Value = fifteen(c.number)
	}
	return out, err
}

const family = "Arial"

// style returns the number of a look, made when it is first met.
func (b *book) style(l look) (int, error) {
	if id, made := b.styles[l]; made {
		return id, nil
	}
	top := &excelize.Alignment{Vertical: "top", WrapText: true}
	s := &excelize.Style{Font: &excelize.Font{Family: family, Size: 10}, Alignment: top, Protection: &excelize.Protection{Locked: l.kind != entry}}
	shade := func(colour string) {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
	}
	edge := func(colour string, sides ...string) {
		for _, side := range sides {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: colour, Style: 1})
		}
	}
	switch l.kind {
	case title:
		s.Font = &excelize.Font{Family: family, Size: 15, Bold: true}
		s.Alignment = nil // it may reach over the next columns
	case head:
		s.Font.Bold = true
		shade("E7EAEE")
		edge("5B6673", "bottom")
		s.Alignment = &excelize.Alignment{Vertical: "top", Horizontal: "right"}
	case beside:
		s.Alignment = &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1, WrapText: true}
	case aside:
		s.Font.Color = "6B7280"
		s.Alignment = &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1, WrapText: true}
	case section:
		s.Font.Bold = true
		shade("E7EAEE")
		edge("5B6673", "bottom")
	case quiet:
		s.Font.Color = "6B7280"
	case entry:
		shade("FFF6CC")
		edge("B08900", "left", "right", "top", "bottom")
	case frozen:
		s.Font.Italic = true
		shade("EDEDED")
	case result:
		s.Font.Bold = true
	case total:
		s.Font.Bold = true
		edge("5B6673", "top")
	case alert:
		s.Font.Bold = true
		edge("5B6673", "bottom")
	}
	if l.format != "" {
		s.Alignment = &excelize.Alignment{Vertical: "top", Horizontal: "right"}
		if l.format != "General" {
			format := strings.Clone(l.format)
			s.CustomNumFmt = &format
		}
	}
	id, err := b.file.NewStyle(s)
	b.styles[l] = id
	return id, err
}
