package divider

import (
	"strconv"

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
	What      string  `json:"what"`                 // what is limited or measured
	ValueLow  float64 `json:"value_low" sym:"a_#"`  // the value, or the lower end of the range printed, in unit
	ValueHigh float64 `json:"value_high" sym:"b_#"` // the value again, or the upper end, in unit
	Unit      string  `json:"unit"`                 // such as "mg/m3"
	Basis     string  `json:"basis"`                // how it is averaged or measured, and of what
}

// DustLimit asks what a named authority says on flour dust: limits of
// exposure, figures on explosion, or layers to be cleaned away:
//
//	a_i to b_i, as the authority prints them
//
// No figure here is the limit for a shop. Authorities differ twenty- to
// thirtyfold and change their lists; exposure and explosion are different
// hazards; a limit is a ceiling and not a target, for flour makes people
// allergic. The local authority and a licensed or authorised person decide.
//
// Source: Government of Canada, report on the flour-dust limit (ACGIH); a summary
// of HSE EH40, 2018; Federal Register, 24 December 1990 (OSHA); Australian
// occupational hygienists' pages; nabim, 2004; OSHA letter of 20 October 1988;
// general explosion figures from memory.
type DustLimit struct {
	Authority DustAuthority `json:"authority"` // whose figures
}

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

func (DustLimit) ID() string { return "dust-limit" }

func (q DustLimit) Check(c *reckon.Checks) {
	reckon.CheckWord(c, "authority", q.Authority, DustACGIH, DustUK, DustUSOSHA, DustAustralia, DustExplosionUK, DustExplosionRecalled, DustLayerUSOSHA)
}

func (q DustLimit) Solve() (DustLimitResult, error) { return q.Append(nil) }

// Append is Solve with the figures appended to dst.
func (q DustLimit) Append(dst []DustFigure) (out DustLimitResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	said := q.Authority.says()
	out = DustLimitResult{
		Authority: said.authority, Year: said.year, Standing: said.standing, Note: said.note,
		Figures: append(dst, said.figures...), Conditions: RuleSetDated, Cautions: reckon.FlourDust,
	}
	if said.standing == Recalled {
		out.Conditions |= reckon.FromMemory
	}
	return out, nil
}

func (q DustLimit) Show(w *reckon.Working, out DustLimitResult) {
	for i, f := range out.Figures[len(out.Figures)-len(q.Authority.says().figures):] {
		n := strconv.Itoa(i + 1)
		if f.ValueLow == f.ValueHigh {
			w.Given(f.What, "a_"+n, f.ValueLow, f.Unit, out.Authority)
			continue
		}
		w.Given(f.What+", from", "a_"+n, f.ValueLow, f.Unit, out.Authority)
		w.Given(f.What+", to", "b_"+n, f.ValueHigh, f.Unit, out.Authority)
	}
}

// dustText is what one authority says.
type dustText struct {
	authority, year string
	standing        Standing
	note            string
	figures         []DustFigure
}

// says returns what the authority says.
func (a DustAuthority) says() dustText {
	switch a {
	case DustACGIH:
		return dustText{
			"American Conference of Governmental Industrial Hygienists", "2001", SeenInText,
			"A recommendation, adopted by some authorities; before 2001 it was 10 mg/m3. Read in a report of the Government of Canada.",
			dustACGIH[:],
		}
	case DustUK:
		return dustText{
			"Health and Safety Executive, EH40", "2018", SeenInReports,
			"Flour causes asthma: exposure goes as low as reasonably practicable, the limit is a ceiling and not a target.",
			dustUK[:],
		}
	case DustUSOSHA:
		return dustText{
			"Occupational Safety and Health Administration, 29 CFR 1910.1000, Table Z-1", "1990", SeenInText,
			"Wheat flour has no limit of its own: it falls under particulates not otherwise regulated, in some readings under grain dust.",
			dustUSOSHA[:],
		}
	case DustAustralia:
		return dustText{
			"Australia, workplace exposure standard for grain and flour dust", "", SeenInReports,
			"Read on pages of occupational hygienists, which report irritation from 4 to 10 and sensitisation from 1 to 2.5 mg/m3.",
			dustAustralia[:],
		}
	case DustExplosionUK:
		return dustText{
			"National Association of British and Irish Millers, The Explosibility of Flour, Gluten and Wheat Dust", "2004", SeenInText,
			"Measured on dusts of mills. Dusts of class St 1 explode, if weakly.",
			dustExplosionUK[:],
		}
	case DustExplosionRecalled:
		return dustText{
			"general figures on dust explosion", "", Recalled,
			"Recalled, not seen: for the order of magnitude only. A tested figure for the flour in use comes before it.",
			dustExplosionRecalled[:],
		}
	case DustLayerUSOSHA:
		return dustText{
			"Occupational Safety and Health Administration, letter of 20 October 1988 on 29 CFR 1910.272", "1988", SeenInText,
			"For grain handling and flour mills, not for bakeries; stricter layers are in use elsewhere.",
			dustLayerUSOSHA[:],
		}
	}
	return dustText{}
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
