package molder

import (
	"fmt"
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// A Pan is a rectangular pan, measured inside.
type Pan struct {
	Length       unit.Length `json:"length"`                 // at the top, 20 to 2000 mm
	Width        unit.Length `json:"width"`                  // at the top, 20 to 2000 mm
	Depth        unit.Length `json:"depth"`                  // 5 to 1000 mm
	BottomLength unit.Length `json:"bottom_length,omitzero"` // at the bottom, 10 to 2000 mm and at most length; leave both bottoms out for straight sides
	BottomWidth  unit.Length `json:"bottom_width,omitzero"`  // at the bottom, 10 to 2000 mm and at most width
}

// panFields are the names under which a pan is checked, put together once.
type panFields struct{ length, width, depth, bottomLength, bottomWidth string }

var (
	thePan   = panFields{"pan.length", "pan.width", "pan.depth", "pan.bottom_length", "pan.bottom_width"}
	knownPan = panFields{"known_pan.length", "known_pan.width", "known_pan.depth", "known_pan.bottom_length", "known_pan.bottom_width"}
)

func (p Pan) check(c *reckon.Checks, f panFields) bool {
	ok := reckon.CheckRange(c, f.length, p.Length, 20, 2000)
	ok = reckon.CheckRange(c, f.width, p.Width, 20, 2000) && ok
	ok = reckon.CheckRange(c, f.depth, p.Depth, 5, 1000) && ok
	if p.BottomLength != 0 || p.BottomWidth != 0 {
		ok = reckon.CheckRange(c, f.bottomLength, p.BottomLength, 10, 2000) && ok
		ok = reckon.CheckRange(c, f.bottomWidth, p.BottomWidth, 10, 2000) && ok
	}
	if ok && p.BottomLength > p.Length {
		ok = tooWide(c, f.bottomLength, p.BottomLength, p.Length, "length")
	}
	if p.BottomWidth > p.Width && p.Width >= 20 && p.BottomWidth <= 2000 {
		ok = tooWide(c, f.bottomWidth, p.BottomWidth, p.Width, "width")
	}
	return ok
}

// tooWide says that the bottom of a pan is larger than its top.
func tooWide(c *reckon.Checks, field string, bottom, top unit.Length, side string) bool {
	c.Fail(field, bottom.String(), "at most "+top.String()+", the "+side+" at the top: a loaf does not come out of a pan that closes upward")
	return false
}

// bottom returns the sides of the bottom.
func (p Pan) bottom() (length, width float64) {
	if p.BottomLength == 0 {
		return float64(p.Length), float64(p.Width)
	}
	return float64(p.BottomLength), float64(p.BottomWidth)
}

// volume returns the volume in mm³ by the prismoidal rule, which is exact for
// flat sloping sides.
func (p Pan) volume() float64 {
	l, w := p.bottom()
	top := float64(float64(p.Length) * float64(p.Width))
	middle := float64((float64(p.Length) + l) * (float64(p.Width) + w)) // four times the area half way up
	return float64(p.Depth) / 6 * (top + middle + float64(l*w))
}

func (p Pan) explain(w *reckon.Working, symbol string) {
	l, b := p.bottom()
	w.Given("pan length at the top", "l"+symbol, float64(p.Length), "mm", "")
	w.Given("pan width at the top", "w"+symbol, float64(p.Width), "mm", "")
	w.Given("pan length at the bottom", "k"+symbol, l, "mm", "")
	w.Given("pan width at the bottom", "b"+symbol, b, "mm", "")
	w.Given("pan depth", "h"+symbol, float64(p.Depth), "mm", "")
	s := symbol
	w.Step("pan volume", "P"+s, "h"+s+"/6 * (l"+s+"*w"+s+" + (l"+s+"+k"+s+")*(w"+s+"+b"+s+") + k"+s+"*b"+s+") / 1000", p.volume()/1000, "ml", "prismoidal rule; 1 ml = 1000 mm³")
}

// PanFit returns how far a piece fills its pan when it has proofed, and how it lies in it:
//
//	pan volume = h/6 (A_top + 4 A_middle + A_bottom)
//	fill = growth * (m / rho) / pan volume
//
// The growth is measured in the shop with [GrowthFromJar].
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, or density outside 0.1 to 1.5 g/ml,
//   - length is outside 5 to 2000 mm, or longer than the bottom of the pan,
//   - length is so short that the piece, as a cylinder, is thicker than the pan is wide at the top,
//   - a side of the pan is outside 20 to 2000 mm (bottom 10 to 2000 mm and no larger than the top), or its depth outside 5 to 1000 mm,
//   - growth is outside 1 to 8, fill_low not above 0 and up to 200 %, or fill_high not between it and 200 %.
//
// Source: prismoidal rule; dough weight per pan volume from wholegrain100 (2015);
// cases in testdata/cases/molder/pan-fit.json.
//
// The inverse is [PieceForPan].
type PanFit struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough as it is panned, 0.1 to 1.5 g/ml
	Length   unit.Length  `json:"length"`            // length of the moulded piece, 5 to 2000 mm
	Pan      Pan          `json:"pan"`               // the pan, measured inside
	Growth   float64      `json:"growth"`            // volume at the end of the proof over volume as panned, 1 to 8: see [GrowthFromJar]
	FillLow  unit.Percent `json:"fill_low"`          // least wanted fill of the pan at the end of the proof, above 0 to 200 %
	FillHigh unit.Percent `json:"fill_high"`         // largest wanted fill, above fill_low and up to 200 %
	Measured bool         `json:"measured,omitzero"` // true if growth was measured on this dough
}

func (PanFit) ID() string { return "pan-fit" }

// SHELL
func (q PanFit) Check(c *reckon.Checks) {
	_, err := explainPanFit(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PanFit) Solve() (PanFitResult, error) { return explainPanFit(q, nil) }

func (q PanFit) Show(w *reckon.Working, _ PanFitResult) { _, _ = explainPanFit(q, w) }

// PanFitResult is how the piece fills its pan.
type PanFitResult struct {
	Volume     unit.Volume  `json:"volume"`     // of the pan
	Loading    unit.Density `json:"loading"`    // dough weight over pan volume
	Fill       unit.Percent `json:"fill"`       // dough volume at the end of the proof over pan volume
	Clearance  unit.Length  `json:"clearance"`  // free space at each end of the piece at the bottom of the pan
	Conditions Conditions   `json:"conditions"` // pan-overfull, pan-underfull, uncalibrated
}

func explainPanFit(in PanFit, w *reckon.Working) (out PanFitResult, err error) {
	c := reckon.Checks{Func: "pan-fit"}
	mass := checkPiece(&c, in.Piece, in.Density)
	ok := reckon.CheckRange(&c, "length", in.Length, 5, 2000)
	bottom, _ := in.Pan.bottom()
	if in.Pan.check(&c, thePan) && ok {
		if float64(in.Length) > bottom {
			c.Fail("length", in.Length.String(), "at most "+unit.Length(bottom).String()+", the length of the pan's bottom: close the side guides")
		}
		// Compared by volume: the cylinder of this length that is as thick as the pan is wide.
		if wide := float64(in.Pan.Width); mass && volume(in.Piece, in.Density) > math.Pi/4*wide*wide*float64(in.Length)*(1+1e-9) {
			thick := unit.Length(math.Sqrt(4 * volume(in.Piece, in.Density) / (math.Pi * float64(in.Length))))
			c.Fail("length", in.Length.String(), "a piece no thicker than the pan is wide: of this length it is "+thick.String()+" thick, and the pan is "+in.Pan.Width.String()+" wide at the top; take a wider pan, or a lighter or longer piece")
		}
	}
	reckon.CheckRange(&c, "growth", in.Growth, 1, 8)
	ok = in.FillLow > 0 && in.FillLow <= 200
	if !ok {
		c.Fail("fill_low", in.FillLow.String(), "more than 0 %, up to 200 %")
	}
	switch {
	case !(in.FillHigh > 0 && in.FillHigh <= 200):
		c.Fail("fill_high", in.FillHigh.String(), "more than fill_low, up to 200 %")
	case ok && in.FillHigh <= in.FillLow:
		c.Fail("fill_high", in.FillHigh.String(), "more than fill_low, "+in.FillLow.String())
	}
	if err := c.Err(); err != nil {
		return PanFitResult{}, err
	}
	v, pan := volume(in.Piece, in.Density)/1000, in.Pan.volume()/1000
	out = PanFitResult{
		Volume: unit.Volume(pan), Loading: unit.Density(float64(in.Piece) / pan),
		Fill: unit.Percent(100 * in.Growth * v / pan), Clearance: unit.Length((bottom - float64(in.Length)) / 2),
	}
	if out.Fill > in.FillHigh {
		out.Conditions |= PanOverfull
	}
	if out.Fill < in.FillLow {
		out.Conditions |= PanUnderfull
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("piece", "m", float64(in.Piece), "g", "")
		w.Given("dough density", "rho", float64(in.Density), "g/ml", "")
		w.Given("growth in the proof", "G", in.Growth, "", "")
		w.Given("length of the piece", "L", float64(in.Length), "mm", "")
		in.Pan.explain(w, "")
		w.Step("dough per pan volume", "q", "m / P", float64(out.Loading), "g/ml", "")
		w.Step("clearance at each end", "c", "(k - L) / 2", float64(out.Clearance), "mm", "")
		w.Step("fill at the end of the proof", "F", "100 * G * (m/rho) / P", float64(out.Fill), "%", "")
	}
	return out, nil
}

// PieceForPan returns the piece for a pan, in proportion to one that is known to work:
//
//	loading = m_known / V_known
//	m = loading * V
//
// It holds for the same dough and the same proof, in pans of like shape.
//
// It returns an *[reckon.InputError] if:
//   - known_piece is outside 1 g to 10 kg,
//   - a side of a pan is outside 20 to 2000 mm (bottom 10 to 2000 mm and no larger than the top), or its depth outside 5 to 1000 mm.
//
// It returns a *[reckon.NoSolutionError] if the piece would be outside the 1 g to 10 kg that [PanFit] takes.
//
// Source: wholegrain100 (2015), dough weight per pan volume; cases in testdata/cases/molder/piece-for-pan.json.
//
// It is the inverse of [PanFit].
type PieceForPan struct {
	KnownPiece unit.Mass `json:"known_piece"` // piece weight that suits the known pan, 1 g to 10 kg
	KnownPan   Pan       `json:"known_pan"`   // the known pan, measured inside
	Pan        Pan       `json:"pan"`         // the other pan
}

func (PieceForPan) ID() string { return "piece-for-pan" }

// SHELL
func (q PieceForPan) Check(c *reckon.Checks) {
	_, err := explainPieceForPan(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceForPan) Solve() (PieceForPanResult, error) { return explainPieceForPan(q, nil) }

func (q PieceForPan) Show(w *reckon.Working, _ PieceForPanResult) { _, _ = explainPieceForPan(q, w) }

// PieceForPanResult is the piece to scale.
type PieceForPanResult struct {
	Piece   unit.Mass    `json:"piece"`   // for the other pan
	Loading unit.Density `json:"loading"` // dough weight over pan volume, the same in both
}

func explainPieceForPan(in PieceForPan, w *reckon.Working) (out PieceForPanResult, err error) {
	c := reckon.Checks{Func: "piece-for-pan"}
	reckon.CheckRange(&c, "known_piece", in.KnownPiece, lightestPiece, heaviestPiece)
	in.KnownPan.check(&c, knownPan)
	in.Pan.check(&c, thePan)
	if err := c.Err(); err != nil {
		return PieceForPanResult{}, err
	}
	loading := float64(in.KnownPiece) / (in.KnownPan.volume() / 1000)
	out = PieceForPanResult{Piece: unit.Mass(loading * (in.Pan.volume() / 1000)), Loading: unit.Density(loading)}
	if !(out.Piece >= lightestPiece && out.Piece <= heaviestPiece) {
		return PieceForPanResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "piece", Wanted: "this loading in a pan of " + unit.Volume(in.Pan.volume()/1000).String(),
			Low: unit.Volume(float64(lightestPiece) / loading).String(), High: unit.Volume(float64(heaviestPiece) / loading).String(),
			Advice: "it would weigh " + out.Piece.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; measure both pans again",
		}
	}
	if w != nil {
		w.Given("known piece", "m_1", float64(in.KnownPiece), "g", "")
		in.KnownPan.explain(w, "_1")
		in.Pan.explain(w, "_2")
		w.Step("dough per pan volume", "q", "m_1 / P_1", loading, "g/ml", "")
		w.Step("piece", "m", "q * P_2", float64(out.Piece), "g", "")
	}
	return out, nil
}

// TrayFit returns how many round pieces a flat tray holds when they have proofed, in straight rows:
//
//	d = flatness (6 growth m / (pi rho))^(1/3)
//	along = floor((length - gap) / (d + gap)),  across likewise
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, or density outside 0.1 to 1.5 g/ml,
//   - growth is outside 1 to 8, or flatness outside 1 to 3,
//   - length or width is outside 20 to 3000 mm, or gap outside 0 to 500 mm.
//
// It returns a *[reckon.NoSolutionError] if not one piece fits.
//
// Source: sphere volume (derived); flatness from judgement; cases in testdata/cases/molder/tray-fit.json.
//
// The inverse is [PieceForTray].
type TrayFit struct {
	Piece    unit.Mass    `json:"piece"`             // piece weight, 1 g to 10 kg
	Density  unit.Density `json:"density"`           // density of the dough as it is trayed, 0.1 to 1.5 g/ml
	Growth   float64      `json:"growth"`            // volume at the end of the proof over volume as trayed, 1 to 8: see [GrowthFromJar]
	Flatness float64      `json:"flatness"`          // diameter on the tray over the diameter of a ball of the same volume, 1 to 3: see [FlatnessFromPieces]; about 1.1 to 1.25 by judgement
	Length   unit.Length  `json:"length"`            // inside length of the tray, 20 to 3000 mm
	Width    unit.Length  `json:"width"`             // inside width of the tray, 20 to 3000 mm
	Gap      unit.Length  `json:"gap"`               // least gap wanted between proofed pieces and to the edge, 0 to 500 mm
	Measured bool         `json:"measured,omitzero"` // true if growth and flatness were measured on this dough
}

func (TrayFit) ID() string { return "tray-fit" }

// SHELL
func (q TrayFit) Check(c *reckon.Checks) {
	_, err := explainTrayFit(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q TrayFit) Solve() (TrayFitResult, error) { return explainTrayFit(q, nil) }

func (q TrayFit) Show(w *reckon.Working, _ TrayFitResult) { _, _ = explainTrayFit(q, w) }

// TrayFitResult is how many pieces go on the tray.
type TrayFitResult struct {
	Diameter   unit.Length `json:"diameter"`   // of a proofed piece on the tray
	Along      int         `json:"along"`      // pieces along the length
	Across     int         `json:"across"`     // pieces across the width
	Pieces     int         `json:"pieces"`     // on the tray
	Conditions Conditions  `json:"conditions"` // rounded, uncalibrated
}

func explainTrayFit(in TrayFit, w *reckon.Working) (out TrayFitResult, err error) {
	c := reckon.Checks{Func: "tray-fit"}
	checkPiece(&c, in.Piece, in.Density)
	checkTray(&c, in.Growth, in.Flatness, in.Length, in.Width, in.Gap)
	if err := c.Err(); err != nil {
		return TrayFitResult{}, err
	}
	v, gap := volume(in.Piece, in.Density), float64(in.Gap)
	d := float64(in.Flatness * math.Cbrt(6*in.Growth*v/math.Pi))
	// A tray made for exactly so many must not lose one for its last binary digit.
	along := math.Floor((float64(in.Length)-gap)/(d+gap) + 1e-9)
	across := math.Floor((float64(in.Width)-gap)/(d+gap) + 1e-9)
	if along < 1 || across < 1 {
		return TrayFitResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "place", Wanted: "room for a proofed piece of " + unit.Length(d).String(),
			Advice: "take a larger tray, a smaller piece or a smaller gap",
		}
	}
	out = TrayFitResult{Diameter: unit.Length(d), Along: int(along), Across: int(across), Pieces: int(along * across), Conditions: reckon.Rounded}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("growth in the proof", "G", in.Growth, "", "")
		w.Given("flatness", "f", in.Flatness, "", "")
		w.Given("tray length", "l", float64(in.Length), "mm", "")
		w.Given("tray width", "w", float64(in.Width), "mm", "")
		w.Given("gap", "g", gap, "mm", "")
		w.Step("diameter of a proofed piece", "d", "f * pow(6*G*V/pi, 1.0/3)", d, "mm", "sphere volume")
		w.Step("pieces along", "n_1", "floor((l - g) / (d + g) + 0.000000001)", along, "", "whole pieces; the last term forgives binary rounding")
		w.Step("pieces across", "n_2", "floor((w - g) / (d + g) + 0.000000001)", across, "", "whole pieces")
		w.Step("pieces", "n", "n_1 * n_2", float64(out.Pieces), "", "")
	}
	return out, nil
}

// mostInRow bounds the places asked for in one row: the longest tray holds 276 of the lightest pieces.
const mostInRow = 300

func checkTray(c *reckon.Checks, growth, flatness float64, length, width, gap unit.Length) {
	reckon.CheckRange(c, "growth", growth, 1, 8)
	reckon.CheckRange(c, "flatness", flatness, 1, 3)
	reckon.CheckRange(c, "length", length, 20, 3000)
	reckon.CheckRange(c, "width", width, 20, 3000)
	reckon.CheckRange(c, "gap", gap, 0, 500)
}

// PieceForTray returns the heaviest piece of which a flat tray holds so many when they have proofed:
//
//	d = min((length - gap) / along, (width - gap) / across) - gap
//	m = rho / growth * pi/6 * (d / flatness)^3
//
// It is the inverse of [TrayFit], with the same validity.
//
// It returns an *[reckon.InputError] if:
//   - along or across is outside 1 to 300,
//   - density is outside 0.1 to 1.5 g/ml,
//   - growth, flatness, length, width or gap is out of the range that [TrayFit] names.
//
// It returns a *[reckon.NoSolutionError] if the gaps leave no room for
// pieces, or only for pieces outside the 1 g to 10 kg that [TrayFit] takes.
//
// Source: sphere volume (derived).
type PieceForTray struct {
	Along    int          `json:"along"`             // pieces along the length, 1 to 300
	Across   int          `json:"across"`            // pieces across the width, 1 to 300
	Density  unit.Density `json:"density"`           // density of the dough as it is trayed, 0.1 to 1.5 g/ml
	Growth   float64      `json:"growth"`            // volume at the end of the proof over volume as trayed, 1 to 8: see [GrowthFromJar]
	Flatness float64      `json:"flatness"`          // diameter on the tray over the diameter of a ball of the same volume, 1 to 3
	Length   unit.Length  `json:"length"`            // inside length of the tray, 20 to 3000 mm
	Width    unit.Length  `json:"width"`             // inside width of the tray, 20 to 3000 mm
	Gap      unit.Length  `json:"gap"`               // least gap wanted between proofed pieces and to the edge, 0 to 500 mm
	Measured bool         `json:"measured,omitzero"` // true if growth and flatness were measured on this dough
}

func (PieceForTray) ID() string { return "piece-for-tray" }

// SHELL
func (q PieceForTray) Check(c *reckon.Checks) {
	_, err := explainPieceForTray(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q PieceForTray) Solve() (PieceForTrayResult, error) { return explainPieceForTray(q, nil) }

func (q PieceForTray) Show(w *reckon.Working, _ PieceForTrayResult) { _, _ = explainPieceForTray(q, w) }

// PieceForTrayResult is the heaviest piece that fits so often.
type PieceForTrayResult struct {
	Piece      unit.Mass   `json:"piece"`      // heaviest piece
	Diameter   unit.Length `json:"diameter"`   // of it when proofed, on the tray
	Conditions Conditions  `json:"conditions"` // uncalibrated
}

func explainPieceForTray(in PieceForTray, w *reckon.Working) (out PieceForTrayResult, err error) {
	c := reckon.Checks{Func: "piece-for-tray"}
	reckon.CheckCount(&c, "along", in.Along, 1, mostInRow)
	reckon.CheckCount(&c, "across", in.Across, 1, mostInRow)
	reckon.CheckRange(&c, "density", in.Density, loosestDough, densestDough)
	checkTray(&c, in.Growth, in.Flatness, in.Length, in.Width, in.Gap)
	if err := c.Err(); err != nil {
		return PieceForTrayResult{}, err
	}
	gap := float64(in.Gap)
	d := min((float64(in.Length)-gap)/float64(in.Along), (float64(in.Width)-gap)/float64(in.Across)) - gap
	if d <= 0 {
		return PieceForTrayResult{}, &reckon.NoSolutionError{
			Func: c.Func, Unknown: "piece", Wanted: "so many places",
			Advice: "the gaps alone fill the tray; ask for fewer pieces or smaller gaps",
		}
	}
	ball := d / in.Flatness
	out = PieceForTrayResult{
		Piece:    unit.Mass(float64(in.Density) / in.Growth * math.Pi / 6 * ball * ball * ball / 1000),
		Diameter: unit.Length(d),
	}
	if !(out.Piece >= lightestPiece && out.Piece <= heaviestPiece) {
		none := &reckon.NoSolutionError{
			Func: c.Func, Unknown: "piece", Wanted: number(float64(in.Along)) + " by " + number(float64(in.Across)) + " places",
			Advice: "it would weigh " + out.Piece.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; ask for more places or take a smaller tray",
		}
		if out.Piece < lightestPiece {
			least := float64(in.Flatness * math.Cbrt(6*in.Growth*volume(lightestPiece, in.Density)/math.Pi))
			along := math.Floor((float64(in.Length) - gap) / (least + gap))
			across := math.Floor((float64(in.Width) - gap) / (least + gap))
			if along >= 1 && across >= 1 {
				none.High = number(along) + " by " + number(across) + " places"
			}
			none.Advice = "it would weigh " + out.Piece.String() + ", and pieces weigh " + lightestPiece.String() + " to " + heaviestPiece.String() + "; ask for fewer places or smaller gaps"
		}
		return PieceForTrayResult{}, none
	}
	if !in.Measured {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("pieces along", "n_1", float64(in.Along), "", "")
		w.Given("pieces across", "n_2", float64(in.Across), "", "")
		w.Given("tray length", "l", float64(in.Length), "mm", "")
		w.Given("tray width", "w", float64(in.Width), "mm", "")
		w.Given("gap", "g", gap, "mm", "")
		w.Given("growth in the proof", "G", in.Growth, "", "")
		w.Given("flatness", "f", in.Flatness, "", "")
		w.Given("dough density", "rho", float64(in.Density), "g/ml", "")
		w.Step("diameter of a proofed piece", "d", "min((l - g)/n_1, (w - g)/n_2) - g", d, "mm", "")
		w.Step("piece", "m", "rho / G * pi/6 * pow(d/f, 3) / 1000", float64(out.Piece), "g", "sphere volume; 1 ml = 1000 mm³")
	}
	return out, nil
}

// A JarTrial is dough that proofed in a straight-sided jar.
type JarTrial struct {
	Before unit.Length `json:"before"` // height of the dough when the pieces are panned, 1 to 1000 mm
	After  unit.Length `json:"after"`  // height when they are proofed, before to 8 times before
}

// GrowthFromJar returns how far dough grows in the proof, from dough in straight-sided jars that proofed beside the pieces:
//
//	growth = mean(height after / height before)
//
// It belongs to the dough and to the time, warmth and damp of that proof.
//
// It returns an *[reckon.InputError] if:
//   - jars is empty,
//   - before is outside 1 to 1000 mm, or after less than before or more than 8 times it.
//
// Source: volume of a straight jar (derived); common practice; cases in testdata/cases/molder/growth-from-jar.json.
//
// It calibrates [PanFit] and [TrayFit].
type GrowthFromJar struct {
	Jars []JarTrial `json:"jars"` // at least one
}

func (GrowthFromJar) ID() string { return "growth-from-jar" }

// SHELL
func (q GrowthFromJar) Check(c *reckon.Checks) {
	_, err := explainGrowthFromJar(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q GrowthFromJar) Solve() (GrowthFromJarResult, error) { return explainGrowthFromJar(q, nil) }

func (q GrowthFromJar) Show(w *reckon.Working, _ GrowthFromJarResult) {
	_, _ = explainGrowthFromJar(q, w)
}

// GrowthFromJarResult is how far the dough grows.
type GrowthFromJarResult struct {
	Growth  float64 `json:"growth"`           // mean of the heights' ratio, which is that of the volumes
	Scatter float64 `json:"scatter,omitzero"` // sample standard deviation of it; left out for a single jar
	Jars    int     `json:"jars"`             // number of jars
}

func explainGrowthFromJar(in GrowthFromJar, w *reckon.Working) (out GrowthFromJarResult, err error) {
	c := reckon.Checks{Func: "growth-from-jar"}
	if len(in.Jars) == 0 {
		c.Fail("jars", "empty", "at least one jar")
	}
	sum, squares := 0.0, 0.0
	for i, j := range in.Jars {
		switch {
		case !(j.Before >= 1 && j.Before <= 1000):
			reckon.CheckRange(&c, fmt.Sprintf("jars[%d].before", i), j.Before, 1, 1000)
		case !(j.After >= j.Before && j.After <= 8*j.Before):
			reckon.CheckRange(&c, fmt.Sprintf("jars[%d].after", i), j.After, j.Before, 8*j.Before)
		}
		sum += float64(j.After / j.Before)
	}
	if err := c.Err(); err != nil {
		return GrowthFromJarResult{}, err
	}
	n := float64(len(in.Jars))
	out = GrowthFromJarResult{Growth: sum / n, Jars: len(in.Jars)}
	if len(in.Jars) > 1 {
		for _, j := range in.Jars {
			d := float64(j.After/j.Before) - out.Growth
			squares += float64(d * d)
		}
		out.Scatter = math.Sqrt(squares / (n - 1))
	}
	if w != nil {
		w.Given("jars", "n", n, "", "")
		w.Given("sum of height after over height before", "S", sum, "", "")
		w.Step("growth", "G", "S / n", out.Growth, "", "straight jar: heights are as volumes")
	}
	return out, nil
}

// FlatnessFromPieces returns how much wider a piece lies on the tray than a ball of its volume, from pieces measured:
//
//	flatness = mean(diameter) / (6 growth m / (pi rho))^(1/3)
//
// It returns an *[reckon.InputError] if:
//   - piece is outside 1 g to 10 kg, density outside 0.1 to 1.5 g/ml, or growth outside 1 to 8,
//   - diameters is empty, or one is less than that of the ball or more than 3 times it.
//
// Source: sphere volume (derived); cases in testdata/cases/molder/flatness-from-pieces.json.
//
// It calibrates [TrayFit].
type FlatnessFromPieces struct {
	Piece     unit.Mass     `json:"piece"`     // piece weight, 1 g to 10 kg
	Density   unit.Density  `json:"density"`   // density of the dough as it is trayed, 0.1 to 1.5 g/ml
	Growth    float64       `json:"growth"`    // volume when measured over volume as trayed, 1 to 8; 1 if measured unproofed
	Diameters []unit.Length `json:"diameters"` // of pieces on the tray from above, 1 to 3 times that of the ball; at least one
}

func (FlatnessFromPieces) ID() string { return "flatness-from-pieces" }

// SHELL
func (q FlatnessFromPieces) Check(c *reckon.Checks) {
	_, err := explainFlatnessFromPieces(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FlatnessFromPieces) Solve() (FlatnessFromPiecesResult, error) {
	return explainFlatnessFromPieces(q, nil)
}

func (q FlatnessFromPieces) Show(w *reckon.Working, _ FlatnessFromPiecesResult) {
	_, _ = explainFlatnessFromPieces(q, w)
}

// FlatnessFromPiecesResult is how far a piece sags.
type FlatnessFromPiecesResult struct {
	Flatness float64     `json:"flatness"`         // mean diameter over the diameter of the ball
	Scatter  float64     `json:"scatter,omitzero"` // sample standard deviation of it; left out for a single piece
	Ball     unit.Length `json:"ball"`             // diameter of a ball of the same volume
	Pieces   int         `json:"pieces"`           // number of pieces measured
}

func explainFlatnessFromPieces(in FlatnessFromPieces, w *reckon.Working) (out FlatnessFromPiecesResult, err error) {
	c := reckon.Checks{Func: "flatness-from-pieces"}
	ok := checkPiece(&c, in.Piece, in.Density)
	ok = reckon.CheckRange(&c, "growth", in.Growth, 1, 8) && ok
	if len(in.Diameters) == 0 {
		c.Fail("diameters", "empty", "at least one piece measured on the tray")
	}
	ball := unit.Length(math.Cbrt(6 * in.Growth * volume(in.Piece, in.Density) / math.Pi))
	if ok {
		for i, d := range in.Diameters {
			if !(d >= ball && d <= 3*ball) {
				reckon.CheckRange(&c, fmt.Sprintf("diameters[%d]", i), d, ball, 3*ball)
			}
		}
	}
	if err := c.Err(); err != nil {
		return FlatnessFromPiecesResult{}, err
	}
	sum, mean, scatter := ratios(in.Diameters, ball)
	out = FlatnessFromPiecesResult{Flatness: mean / float64(ball), Scatter: scatter, Ball: ball, Pieces: len(in.Diameters)}
	if w != nil {
		givenPiece(w, in.Piece, in.Density)
		w.Given("growth", "G", in.Growth, "", "")
		w.Given("pieces measured", "n", float64(len(in.Diameters)), "", "")
		w.Given("sum of their diameters", "S", sum, "mm", "")
		w.Step("diameter of the ball", "d", "pow(6*G*V/pi, 1.0/3)", float64(ball), "mm", "sphere volume")
		w.Step("mean diameter", "D", "S / n", mean, "mm", "")
		w.Step("flatness", "f", "D / d", out.Flatness, "", "")
	}
	return out, nil
}
