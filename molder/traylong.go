package molder

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// How long pieces lie on a tray.
const (
	alongTray  = "along"
	acrossTray = "across"
)

// LongTrayFit asks how many long pieces a flat tray holds when they have
// proofed, in straight rows all lying one way:
//
//	n_l = floor((l - e) / (L + e)) * floor((w - s) / (B + s))  lying along the tray
//	n_w = floor((l - s) / (B + s)) * floor((w - e) / (L + e))  lying across it
//	n = max(n_l, n_w) = n_e * n_s
//
// with n_e of them one behind the other and n_s beside one another, s the gap beside a piece, where it grows most, and e that at its ends;
// each is kept to the edge of the tray as well. The size is that of the
// proofed piece, measured on the tray. If both ways hold as many, the pieces
// lie along.
//
// Source: counting of rows (derived); cases in testdata/cases/molder/long-tray-fit.json.
//
// The inverse is [LongPieceForTray].
type LongTrayFit struct {
	PieceLength unit.Length `json:"piece_length" sym:"L" range:"5 mm..2 m"` // length of a proofed piece
	PieceWidth  unit.Length `json:"piece_width" sym:"B" range:"5 mm..1 m"`  // width of it, at most its length
	Length      unit.Length `json:"length" sym:"l" range:"20 mm..3 m"`      // inside length of the tray
	Width       unit.Length `json:"width" sym:"w" range:"20 mm..3 m"`       // inside width of the tray
	SideGap     unit.Length `json:"side_gap" sym:"s" range:"0 mm..500 mm"`  // least gap wanted beside a piece
	EndGap      unit.Length `json:"end_gap" sym:"e" range:"0 mm..500 mm"`   // least gap wanted at its ends
}

// LongTrayFitResult is how many pieces go on the tray.
type LongTrayFitResult struct {
	Lying      string     `json:"lying"`                  // "along" the tray or "across" it
	EndToEnd   int        `json:"end_to_end" sym:"n_e"`   // pieces one behind the other
	SideBySide int        `json:"side_by_side" sym:"n_s"` // pieces beside one another
	Pieces     int        `json:"pieces" sym:"n"`         // on the tray
	Along      int        `json:"along" sym:"n_l"`        // that would lie along it
	Across     int        `json:"across" sym:"n_w"`       // that would lie across it
	Conditions Conditions `json:"conditions"`             // rounded
}

func (LongTrayFit) ID() string { return "long-tray-fit" }

func (q LongTrayFit) Check(c *reckon.Checks) {
	long := reckon.CheckRange(c, "piece_length", q.PieceLength, 5, 2000)
	if reckon.CheckRange(c, "piece_width", q.PieceWidth, 5, 1000) && long && q.PieceWidth > q.PieceLength {
		c.Fail("piece_width", q.PieceWidth.String(), "at most piece_length, "+q.PieceLength.String())
	}
	checkLongTray(c, q.Length, q.Width, q.SideGap, q.EndGap)
}

func checkLongTray(c *reckon.Checks, length, width, side, end unit.Length) {
	reckon.CheckRange(c, "length", length, 20, 3000)
	reckon.CheckRange(c, "width", width, 20, 3000)
	reckon.CheckRange(c, "side_gap", side, 0, 500)
	reckon.CheckRange(c, "end_gap", end, 0, 500)
}

// inRow counts pieces of a size in a row. A tray made for exactly so many must
// not lose one for its last binary digit.
func inRow(tray, piece, gap unit.Length) int {
	return max(0, int(math.Floor(float64((tray-gap)/(piece+gap))+1e-9)))
}

// Solve has no answer if not one piece fits.
func (q LongTrayFit) Solve() (out LongTrayFitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	end, side := inRow(q.Length, q.PieceLength, q.EndGap), inRow(q.Width, q.PieceWidth, q.SideGap)
	endAcross, sideAcross := inRow(q.Width, q.PieceLength, q.EndGap), inRow(q.Length, q.PieceWidth, q.SideGap)
	out = LongTrayFitResult{Lying: alongTray, EndToEnd: end, SideBySide: side, Along: end * side, Across: endAcross * sideAcross, Conditions: reckon.Rounded}
	if out.Pieces = out.Along; out.Across > out.Along {
		out.Lying, out.EndToEnd, out.SideBySide, out.Pieces = acrossTray, endAcross, sideAcross, out.Across
	}
	if out.Pieces == 0 {
		return LongTrayFitResult{}, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "place", Wanted: "room for a proofed piece of " + q.PieceLength.String() + " by " + q.PieceWidth.String(),
			Advice: "take a larger tray, a shorter piece or smaller gaps",
		}
	}
	return out, nil
}

func (q LongTrayFit) Show(w *reckon.Working, out LongTrayFitResult) {
	w.Inputs(q)
	w.Lines(out,
		"one behind the other, lying along the tray: n_1 = max(0, floor((l - e)/(L + e)))  [whole pieces]",
		"beside one another, lying along: n_2 = max(0, floor((w - s)/(B + s)))",
		"pieces lying along the tray: n_l = n_1*n_2",
		"one behind the other, lying across it: n_3 = max(0, floor((w - e)/(L + e)))",
		"beside one another, lying across: n_4 = max(0, floor((l - s)/(B + s)))",
		"pieces lying across it: n_w = n_3*n_4",
		"pieces: n = max(n_l, n_w)")
	end, side := "n_1", "n_2"
	if out.Lying == acrossTray {
		end, side = "n_3", "n_4"
	}
	w.Lines(out,
		"one behind the other: n_e = "+end+"  [lying "+out.Lying+"]",
		"beside one another: n_s = "+side)
}

// LongPieceForTray asks how long and wide pieces can be when they have
// proofed, for a flat tray to hold the wanted rows lying along it:
//
//	L = (l - e) / n_e - e
//	B = (w - s) / n_s - s
//
// For pieces that lie across the tray, exchange its length and its width. It
// is the inverse of [LongTrayFit], with the same validity.
//
// Source: counting of rows (derived).
//
// The inverse is [LongTrayFit].
type LongPieceForTray struct {
	EndToEnd   int         `json:"end_to_end" sym:"n_e" range:"1..300"`   // wanted pieces one behind the other, along the length
	SideBySide int         `json:"side_by_side" sym:"n_s" range:"1..300"` // wanted pieces beside one another, across the width
	Length     unit.Length `json:"length" sym:"l" range:"20 mm..3 m"`     // inside length of the tray
	Width      unit.Length `json:"width" sym:"w" range:"20 mm..3 m"`      // inside width of the tray
	SideGap    unit.Length `json:"side_gap" sym:"s" range:"0 mm..500 mm"` // least gap wanted beside a piece
	EndGap     unit.Length `json:"end_gap" sym:"e" range:"0 mm..500 mm"`  // least gap wanted at its ends
}

// LongPieceForTrayResult is the largest proofed piece.
type LongPieceForTrayResult struct {
	PieceLength unit.Length `json:"piece_length" sym:"L"` // longest proofed piece
	PieceWidth  unit.Length `json:"piece_width" sym:"B"`  // widest
}

func (LongPieceForTray) ID() string { return "long-piece-for-tray" }

func (q LongPieceForTray) Check(c *reckon.Checks) {
	reckon.CheckCount(c, "end_to_end", q.EndToEnd, 1, mostInRow)
	reckon.CheckCount(c, "side_by_side", q.SideBySide, 1, mostInRow)
	checkLongTray(c, q.Length, q.Width, q.SideGap, q.EndGap)
}

// Solve has no answer if the pieces would be shorter or narrower than the 5 mm
// that [LongTrayFit] takes, longer than 2 m, wider than 1 m or wider than long.
func (q LongPieceForTray) Solve() (out LongPieceForTrayResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	long := (q.Length-q.EndGap)/unit.Length(q.EndToEnd) - q.EndGap
	wide := (q.Width-q.SideGap)/unit.Length(q.SideBySide) - q.SideGap
	if !(long >= 5 && long <= 2000 && wide >= 5 && wide <= 1000 && wide <= long) {
		advice := "ask for fewer pieces or smaller gaps"
		switch {
		case long < 5 || wide < 5:
		case wide > long:
			advice = "there is room for " + wide.String() + " beside and " + long.String() + " lengthways; ask for more pieces side by side, or exchange the length and the width of the tray"
		default:
			advice = "there is room for " + long.String() + " by " + wide.String() + ", more than a long piece takes; ask for more pieces"
		}
		return out, &reckon.NoSolutionError{
			Func: q.ID(), Unknown: "piece", Wanted: number(float64(q.EndToEnd)) + " by " + number(float64(q.SideBySide)) + " places", Advice: advice,
		}
	}
	return LongPieceForTrayResult{PieceLength: long, PieceWidth: wide}, nil
}

func (q LongPieceForTray) Show(w *reckon.Working, out LongPieceForTrayResult) {
	w.Inputs(q)
	w.Lines(out,
		"longest piece: L = (l - e)/n_e - e  [equal places]",
		"widest piece: B = (w - s)/n_s - s  [equal places]")
}
