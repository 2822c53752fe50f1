package divider

import (
	"example.com/dough/doughmath/reckon"
)

// DustAuthority names who set a figure on flour dust. Their limits differ
// twenty- to thirtyfold, so there is no limit without an authority.
type DustAuthority string

const (
	// DustACGIH is the American Conference of Governmental Industrial Hygienists, which recommends.
	DustACGIH DustAuthority = "acgih-2001"
	// DustUK is the Health and Safety Executive's list EH40.
	DustUK DustAuthority = "uk-eh40"
	// DustUSOSHA is Table Z-1 of the United States' OSHA.
	DustUSOSHA DustAuthority = "us-osha-z1"
	// DustAustralia is the Australian workplace limit for grain and flour dust.
	DustAustralia DustAuthority = "au-workplace"
	// DustExplosionUK is the British millers' booklet on the explosibility of flour.
	DustExplosionUK DustAuthority = "uk-nabim-2004"
	// DustExplosionRecalled is general figures on dust explosion, recalled.
	DustExplosionRecalled DustAuthority = "explosion-memory"
	// DustLayerUSOSHA is OSHA's letter on housekeeping in grain handling.
	DustLayerUSOSHA DustAuthority = "us-osha-1988-letter"
)

// DustFigure is one figure of an authority. A single value has To equal to From.
type DustFigure struct {
	What  string  `json:"what"`  // what is limited or measured
	From  float64 `json:"from"`  // the value, or the lower end of the range printed, in unit
	To    float64 `json:"to"`    // the value again, or the upper end, in unit
	Unit  string  `json:"unit"`  // such as "mg/m3"
	Basis string  `json:"basis"` // how it is averaged or measured, and of what
}

// DustLimit returns what a named authority says on flour dust: limits of
// exposure, figures on explosion, or layers to be cleaned away.
//
//	figures(authority), as printed
//
// No figure here is the limit for a shop. Authorities differ twenty- to
// thirtyfold and change their lists; exposure and explosion are different
// hazards; a limit is a ceiling and not a target, for flour makes people
// allergic. The local authority and a licensed or authorised person decide.
//
// It returns an *[reckon.InputError] if:
//   - authority is not one of those named.
//
// Source: Government of Canada, report on the flour-dust limit (ACGIH); a summary
// of HSE EH40, 2018; Federal Register, 24 December 1990 (OSHA); Australian
// occupational hygienists' pages; nabim, 2004; OSHA letter of 20 October 1988;
// general explosion figures from memory.
type DustLimit struct {
	Authority DustAuthority `json:"authority"` // "acgih-2001", "uk-eh40", "us-osha-z1", "au-workplace", "uk-nabim-2004", "explosion-memory" or "us-osha-1988-letter"
}

func (DustLimit) ID() string { return "dust-limit" }

// SHELL
func (q DustLimit) Check(c *reckon.Checks) {
	_, err := explainDustLimit(q, nil, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q DustLimit) Solve() (DustLimitResult, error) { return q.Append(nil) }

// Append is Solve with the rows appended to dst.
func (q DustLimit) Append(dst []DustFigure) (DustLimitResult, error) {
	return explainDustLimit(q, dst, nil)
}

func (q DustLimit) Show(w *reckon.Working, _ DustLimitResult) { _, _ = explainDustLimit(q, nil, w) }

// DustLimitResult is what the authority says.
type DustLimitResult struct {
	Authority  string          `json:"authority"`  // who, in full
	Year       string          `json:"year"`       // of the text or of the report on it; "" if it was not seen
	Standing   Standing        `json:"provenance"` // "published", "secondary" or "memory"
	Note       string          `json:"note"`       // what the figure is and is not
	Figures    []DustFigure    `json:"figures"`    // the caller's slice with the authority's figures added
	Conditions Conditions      `json:"conditions"` // rule-set-dated, from-memory
	Cautions   reckon.Cautions `json:"cautions"`   // flour-dust
}

// The figures as the sources print them.
//
// Source: the authorities named; see testdata/cases/divider/dust-limit.json.
var (
	dustACGIH = [...]DustFigure{
		{"exposure, inhalable flour dust", 0.5, 0.5, "mg/m3", "threshold limit value, time-weighted mean (TLV-TWA), recommended"},
	}
	dustUK = [...]DustFigure{
		{"exposure, flour dust", 10, 10, "mg/m3", "workplace exposure limit, mean of 8 hours"},
		{"exposure, flour dust, short", 30, 30, "mg/m3", "workplace exposure limit, mean of 15 minutes"},
	}
	dustUSOSHA = [...]DustFigure{
		{"exposure, grain dust (oat, wheat, barley)", 10, 10, "mg/m3", "permissible exposure limit, time-weighted mean"},
		{"exposure, particulates not otherwise regulated, total", 15, 15, "mg/m3", "permissible exposure limit, time-weighted mean"},
		{"exposure, particulates not otherwise regulated, respirable", 5, 5, "mg/m3", "permissible exposure limit, time-weighted mean"},
	}
	dustAustralia = [...]DustFigure{
		{"exposure, grain and flour dust", 4, 4, "mg/m3", "time-weighted mean (TWA)"},
	}
	dustExplosionUK = [...]DustFigure{
		{"explosion violence, flour dusts (Kst)", 53, 100, "bar m/s", "dusts as tested; class St 1"},
		{"explosion violence, wheat dusts (Kst)", 105, 122, "bar m/s", "dusts as tested; class St 1"},
		{"smallest igniting spark, gluten", 30, 100, "mJ", "minimum ignition energy"},
	}
	dustExplosionRecalled = [...]DustFigure{
		{"leanest cloud that explodes, wheat flour", 50, 125, "g/m3", "minimum explosible concentration, order of magnitude"},
		{"cloud ignition temperature, wheat flour", 380, 500, "°C", "order of magnitude"},
		{"layer ignition temperature, wheat flour", 250, 450, "°C", "order of magnitude"},
	}
	dustLayerUSOSHA = [...]DustFigure{
		{"dust layer that calls for cleaning at once", 3.175, 3.175, "mm", "grain handling and mills, an eighth of an inch; not written for bakeries"},
		{"largest particle that counts as dust", 425, 425, "µm", "grain handling and mills"},
	}
)

func explainDustLimit(in DustLimit, dst []DustFigure, w *reckon.Working) (out DustLimitResult, err error) {
	c := reckon.Checks{Func: "dust-limit"}
	reckon.CheckWord(&c, "authority", in.Authority, DustACGIH, DustUK, DustUSOSHA, DustAustralia, DustExplosionUK, DustExplosionRecalled, DustLayerUSOSHA)
	if err := c.Err(); err != nil {
		return DustLimitResult{}, err
	}
	out = DustLimitResult{Standing: SeenInText, Conditions: RuleSetDated, Cautions: reckon.FlourDust}
	start := len(dst)
	switch in.Authority {
	case DustACGIH:
		out.Authority, out.Year = "American Conference of Governmental Industrial Hygienists", "2001"
		out.Note = "A recommendation, adopted by some authorities; before 2001 it was 10 mg/m3. Read in a report of the Government of Canada."
		dst = append(dst, dustACGIH[:]...)
	case DustUK:
		out.Authority, out.Year, out.Standing = "Health and Safety Executive, EH40", "2018", SeenInReports
		out.Note = "Flour causes asthma: exposure goes as low as reasonably practicable, the limit is a ceiling and not a target."
		dst = append(dst, dustUK[:]...)
	case DustUSOSHA:
		out.Authority, out.Year = "Occupational Safety and Health Administration, 29 CFR 1910.1000, Table Z-1", "1990"
		out.Note = "Wheat flour has no limit of its own: it falls under particulates not otherwise regulated, in some readings under grain dust."
		dst = append(dst, dustUSOSHA[:]...)
	case DustAustralia:
		out.Authority, out.Standing = "Australia, workplace exposure standard for grain and flour dust", SeenInReports
		out.Note = "Read on pages of occupational hygienists, which report irritation from 4 to 10 and sensitisation from 1 to 2.5 mg/m3."
		dst = append(dst, dustAustralia[:]...)
	case DustExplosionUK:
		out.Authority, out.Year = "National Association of British and Irish Millers, The Explosibility of Flour, Gluten and Wheat Dust", "2004"
		out.Note = "Measured on dusts of mills. Dusts of class St 1 explode, if weakly."
		dst = append(dst, dustExplosionUK[:]...)
	case DustExplosionRecalled:
		out.Authority, out.Standing = "general figures on dust explosion", Recalled
		out.Note = "Recalled, not seen: for the order of magnitude only. A tested figure for the flour in use comes before it."
		out.Conditions |= reckon.FromMemory
		dst = append(dst, dustExplosionRecalled[:]...)
	case DustLayerUSOSHA:
		out.Authority, out.Year = "Occupational Safety and Health Administration, letter of 20 October 1988 on 29 CFR 1910.272", "1988"
		out.Note = "For grain handling and flour mills, not for bakeries; stricter layers are in use elsewhere."
		dst = append(dst, dustLayerUSOSHA[:]...)
	}
	out.Figures = dst
	if w != nil {
		for _, f := range dst[start:] {
			w.Given(f.What+", from", "a", f.From, f.Unit, out.Authority)
			w.Given(f.What+", to", "b", f.To, f.Unit, out.Authority)
		}
	}
	return out, nil
}
