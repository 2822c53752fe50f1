package divider_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// drawn returns n packages, some of them light, around a mean that passes.
func drawn(n int, light ...unit.Mass) []unit.Mass {
	out := make([]unit.Mass, n)
	for i := range out {
		out[i] = unit.Grams(405 + float64(i%3) - 1)
	}
	copy(out[n-len(light):], light)
	return out
}

func same(n int, m unit.Mass) []unit.Mass {
	out := make([]unit.Mass, n)
	for i := range out {
		out[i] = m
	}
	return out
}

func TestLotCheck(t *testing.T) {
	const d = 387.9 // a defective of 400 g: below 388 g
	for _, tt := range []struct {
		id             string
		rules          divider.RuleSetName
		sampling       divider.Sampling
		lot            int
		sample, second []unit.Mass
		verdict        divider.Verdict
		mean, contents divider.Outcome
		defective      int
	}{
		{"double: first sample accepts one", divider.RulesEU, divider.SampleDouble, 500, drawn(30, d), nil, divider.Accept, divider.Pass, divider.Pass, 1},
		{"double: two leave it open", divider.RulesEU, divider.SampleDouble, 500, drawn(30, d, d), nil, divider.DrawSecond, divider.Pass, divider.Undecided, 2},
		{"double: three reject", divider.RulesEU, divider.SampleDouble, 500, drawn(30, d, d, d), nil, divider.Reject, divider.Pass, divider.Fail, 3},
		{"double: four of both accept", divider.RulesEU, divider.SampleDouble, 500, drawn(30, d, d), drawn(30, d, d), divider.Accept, divider.Pass, divider.Pass, 4},
		{"double: five of both reject", divider.RulesEU, divider.SampleDouble, 500, drawn(30, d, d), drawn(30, d, d, d), divider.Reject, divider.Pass, divider.Fail, 5},
		{"double: a mean too low rejects whatever is open", divider.RulesUK, divider.SampleDouble, 100, append(same(28, 399), d, d), nil, divider.Reject, divider.Fail, divider.Undecided, 2},
		{"at the very limit a package is not defective", divider.RulesUK, divider.SampleSingle, 100, drawn(50, 388, 388, 388, 388), nil, divider.Accept, divider.Pass, divider.Pass, 0},
		{"single: four reject", divider.RulesUK, divider.SampleSingle, 100, drawn(50, d, d, d, d), nil, divider.Reject, divider.Pass, divider.Fail, 4},
		{"destructive: one is accepted", divider.RulesEU, divider.SampleDestructive, 20000, drawn(20, d), nil, divider.Accept, divider.Pass, divider.Pass, 1},
		{"whole lot: a mean at the label passes", divider.RulesUK, divider.SampleAll, 40, same(40, 400), nil, divider.Accept, divider.Pass, divider.Pass, 0},
		{"whole lot: no allowance for chance", divider.RulesUK, divider.SampleAll, 3, []unit.Mass{399, 400, 400.9}, nil, divider.Reject, divider.Fail, divider.Pass, 0},
		{"whole lot of one", divider.RulesUK, divider.SampleAll, 1, same(1, 400), nil, divider.Accept, divider.Pass, divider.Pass, 0},
		{"Australia: an inadequate package rejects, and the plan is recalled", divider.RulesAustralia, divider.SampleSingle, 100, drawn(50, 375), nil, divider.UnverifiedReject, divider.Pass, divider.Pass, 1},
		{"Australia: a good lot is not accepted on memory", divider.RulesAustralia, divider.SampleSingle, 3201, drawn(125), nil, divider.UnverifiedAccept, divider.Pass, divider.Pass, 0},
		{"New Zealand: none may be light in a small lot", divider.RulesNewZealand, divider.SampleSingle, 12, drawn(12, d), nil, divider.Reject, divider.Pass, divider.Fail, 1},
		{"New Zealand: one may in a larger", divider.RulesNewZealand, divider.SampleSingle, 79, drawn(12, d), nil, divider.Accept, divider.Pass, divider.Pass, 1},
		{"US: a lot of five is weighed whole", divider.RulesUSCategoryA, divider.SampleSingle, 5, drawn(5), nil, divider.UnverifiedAccept, divider.Pass, divider.Pass, 0},
	} {
		t.Run(tt.id, func(t *testing.T) {
			got, err := divider.LotCheck{Rules: tt.rules, Sampling: tt.sampling, Nominal: 400, Lot: tt.lot, Sample: tt.sample, SecondWeights: tt.second}.Solve()
			require.NoError(t, err)
			assert.Equal(t, tt.verdict, got.Verdict)
			assert.Equal(t, tt.mean, got.MeanTest, "mean %v against %v", got.Mean, got.MeanLimit)
			assert.Equal(t, tt.contents, got.Contents)
			assert.Equal(t, tt.defective, got.Defective)
			assert.True(t, got.Conditions.Has(divider.RuleSetDated))
			assert.True(t, got.Cautions.Has(reckon.WeightsLaw))
			assert.Equal(t, tt.verdict == divider.DrawSecond, got.Conditions.Has(divider.WeighMore))
			assert.Equal(t, tt.lot > 10000, got.Conditions.Has(reckon.OutsideSource))
			assert.Equal(t, tt.mean == divider.Fail || tt.defective > 0, got.Conditions.Has(divider.BelowLabel))
			if tt.lot == 1 {
				assert.Zero(t, got.SD, "one package has no scatter")
			}
		})
	}
}

func TestInadequatePackagesAreCountedApart(t *testing.T) {
	got, err := divider.LotCheck{Rules: divider.RulesUK, Sampling: divider.SampleSingle, Nominal: 400, Lot: 200, Sample: drawn(50, 375.9, 376)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, 2, got.Defective)
	assert.Equal(t, 1, got.Inadequate)
	assert.Equal(t, divider.Accept, got.Verdict, "the reference test knows no second limit")
	assert.Equal(t, 30, got.MeanSample)
}

// A samplingLaw is a table of samples as its source prints it.
type samplingLaw struct {
	Rules      divider.RuleSetName `json:"rules"`
	Sampling   divider.Sampling    `json:"sampling"`
	Source     string              `json:"source"` // a key of sources.json
	Locator    string              `json:"locator"`
	Provenance testdata.Provenance `json:"provenance"`
	Rows       []samplingRow       `json:"rows"`
}

type samplingRow struct {
	Lot        [2]int  `json:"lot"` // from and to; 0 for no end
	Sample     int     `json:"sample"`
	Accept     int     `json:"accept"` // light packages up to which the first sample is accepted
	Reject     int     `json:"reject"` // from which it is rejected, of a double plan
	Second     int     `json:"second"`
	AcceptBoth int     `json:"accept_both"`
	MeanSample int     `json:"mean_sample"` // packages in the test of the mean
	Factor     float64 `json:"factor"`
}

// Every row of every law, at both of its ends: how many are drawn, how many light ones are forgiven, and
// what the test of the mean allows for chance.
func TestSamplesAreTheLaws(t *testing.T) {
	data, err := os.ReadFile("testdata/law/samples.json")
	require.NoError(t, err)
	var laws []samplingLaw
	require.NoError(t, json.Unmarshal(data, &laws))
	sources, err := testdata.Sources()
	require.NoError(t, err)
	for _, law := range laws {
		require.Contains(t, sources, law.Source)
		for _, row := range law.Rows {
			cite := fmt.Sprintf("%s, lots of %v (%s, source %s: %s, %s)", law.Rules, row.Lot, law.Provenance, law.Source, sources[law.Source].Title, law.Locator)
			if row.Lot[1] == 0 {
				row.Lot[1] = math.MaxInt32
			}
			for _, lot := range row.Lot {
				in := divider.LotCheck{Rules: law.Rules, Sampling: law.Sampling, Nominal: 400, Lot: lot}
				t.Run(fmt.Sprintf("%s %s %d", law.Rules, law.Sampling, lot), func(t *testing.T) { row.holds(t, in, cite) })
			}
		}
	}
}

func (row samplingRow) holds(t *testing.T, in divider.LotCheck, cite string) {
	with := func(light, lightOfSecond int) divider.LotCheckResult {
		in.Sample, in.SecondWeights = drawn(row.Sample, same(light, 300)...), nil
		if lightOfSecond >= 0 {
			in.SecondWeights = drawn(row.Second, same(lightOfSecond, 300)...)
		}
		out, err := in.Solve()
		require.NoError(t, err, "%d are drawn: %s", row.Sample, cite)
		return out
	}
	const none = -1
	got := with(row.Accept, none)
	assert.Equal(t, divider.Pass, got.Contents, "%d light ones are forgiven: %s", row.Accept, cite)
	assert.Equal(t, row.Accept, got.Allowed, "as many are forgiven: %s", cite)
	assert.Equal(t, row.MeanSample, got.MeanSample, "as many make the mean: %s", cite)
	if got = with(0, none); row.MeanSample > 1 {
		assert.InDelta(t, row.Factor, (400-got.MeanLimit.Grams())/got.SD.Grams(), 1e-9, "factor for chance: %s", cite)
	}
	if row.Second == 0 {
		assert.Equal(t, divider.Fail, with(row.Accept+1, none).Contents, "%d light ones are too many: %s", row.Accept+1, cite)
		return
	}
	assert.Equal(t, divider.Undecided, with(row.Accept+1, none).Contents, "%d light ones leave it open: %s", row.Accept+1, cite)
	assert.Equal(t, divider.Undecided, with(row.Reject-1, none).Contents, "%d light ones leave it open: %s", row.Reject-1, cite)
	assert.Equal(t, divider.Fail, with(row.Reject, none).Contents, "%d light ones are too many: %s", row.Reject, cite)
	first := row.Accept + 1
	assert.Equal(t, divider.Pass, with(first, row.AcceptBoth-first).Contents, "%d of both are forgiven: %s", row.AcceptBoth, cite)
	assert.Equal(t, divider.Fail, with(first, row.AcceptBoth-first+1).Contents, "%d of both are too many: %s", row.AcceptBoth+1, cite)
}

// The printed factors must be what the sources say they are. Where the printed
// digit differs from t/sqrt(n), the table rules and the difference is named.
func TestFactorsAreStudentsT(t *testing.T) {
	factor := func(p float64, n, lot int) float64 {
		f := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(p) / math.Sqrt(float64(n))
		if lot > 0 { // correction for a finite lot
			f *= math.Sqrt(1 - float64(n)/float64(lot))
		}
		return f
	}
	for _, tt := range []struct {
		id       string
		rules    divider.RuleSetName
		sampling divider.Sampling
		lot      int
		drawn    int
		want     float64
		within   float64
	}{
		{"EU 30", divider.RulesEU, divider.SampleDouble, 500, 30, factor(0.995, 30, 0), 0.0005},
		{"EU 50", divider.RulesEU, divider.SampleDouble, 501, 50, factor(0.995, 50, 0), 0.0005},
		{"EU 80, of which 50", divider.RulesEU, divider.SampleDouble, 3201, 80, factor(0.995, 50, 0), 0.0005},
		{"EU 20", divider.RulesEU, divider.SampleDestructive, 100, 20, factor(0.995, 20, 0), 0.0005},
		{"UK 125, of which 50", divider.RulesUK, divider.SampleSingle, 3201, 125, factor(0.995, 50, 0), 0.0005},
		{"Australia 50", divider.RulesAustralia, divider.SampleSingle, 500, 50, factor(0.995, 50, 0), 0.0005},
		{"Australia 80", divider.RulesAustralia, divider.SampleSingle, 501, 80, factor(0.995, 80, 0), 0.0005},
		{"Australia 125", divider.RulesAustralia, divider.SampleSingle, 3201, 125, factor(0.995, 125, 0), 0.0005},
		{"New Zealand to 39", divider.RulesNewZealand, divider.SampleSingle, 13, 12, factor(0.995, 12, 39), 0.0005},
		{"New Zealand to 79", divider.RulesNewZealand, divider.SampleSingle, 40, 12, factor(0.995, 12, 79), 0.0005},
		{"New Zealand to 149", divider.RulesNewZealand, divider.SampleSingle, 80, 12, factor(0.995, 12, 149), 0.0005},
		{"New Zealand to 399", divider.RulesNewZealand, divider.SampleSingle, 150, 32, factor(0.995, 32, 399), 0.0005},
		{"New Zealand to 4000", divider.RulesNewZealand, divider.SampleSingle, 400, 32, factor(0.995, 32, 4000), 0.0005},
		{"New Zealand above", divider.RulesNewZealand, divider.SampleSingle, 4001, 80, factor(0.995, 80, 0), 0.0005},
		{"US 2", divider.RulesUSCategoryA, divider.SampleSingle, 2, 2, factor(0.975, 2, 0), 0.0005},
		{"US 12", divider.RulesUSCategoryA, divider.SampleSingle, 250, 12, factor(0.975, 12, 0), 0.0005},
		{"US 24", divider.RulesUSCategoryA, divider.SampleSingle, 251, 24, factor(0.975, 24, 0), 0.0005},
		// The factors remembered for 5, 6 and 48 differ from t in the last digit.
		{"US 5, one off", divider.RulesUSCategoryA, divider.SampleSingle, 5, 5, factor(0.975, 5, 0), 0.001},
		{"US 6, one off", divider.RulesUSCategoryA, divider.SampleSingle, 6, 6, factor(0.975, 6, 0), 0.001},
		{"US 48, one off", divider.RulesUSCategoryA, divider.SampleSingle, 3201, 48, factor(0.975, 48, 0), 0.001},
	} {
		t.Run(tt.id, func(t *testing.T) {
			sample := drawn(tt.drawn, 404, 403)
			got, err := divider.LotCheck{Rules: tt.rules, Sampling: tt.sampling, Nominal: 400, Lot: tt.lot, Sample: sample}.Solve()
			require.NoError(t, err)
			k := (400 - got.MeanLimit.Grams()) / got.SD.Grams()
			assert.InDelta(t, tt.want, k, tt.within+1e-9)
			assert.InDelta(t, math.Round(k*1000)/1000, k, 1e-9, "printed with three decimals")
		})
	}
}

func TestLotCheckRefuses(t *testing.T) {
	good := divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: 300, Sample: drawn(30)}
	for _, tt := range []struct {
		id   string
		bend func(*divider.LotCheck)
		want []string
	}{
		{"nothing given", func(in *divider.LotCheck) { *in = divider.LotCheck{} }, []string{"rules", "nominal"}},
		{"unknown rules, and a weight", func(in *divider.LotCheck) { in.Rules = "x"; in.Sample[3] = -1 }, []string{"rules", "sample[3]"}},
		{"nominal zero", func(in *divider.LotCheck) { in.Nominal = 0 }, []string{"nominal"}},
		{"a size that is not in the plan", func(in *divider.LotCheck) { in.Sample = drawn(29) }, []string{"sample"}},
		{"no plan of the name", func(in *divider.LotCheck) { in.Sampling = divider.SampleSingle }, []string{"sampling"}},
		{"a lot too small", func(in *divider.LotCheck) { in.Lot = 99 }, []string{"lot"}},
		{"a second sample without need", func(in *divider.LotCheck) { in.SecondWeights = drawn(30) }, []string{"second_weights"}},
		{"a second sample too short", func(in *divider.LotCheck) { in.Sample = drawn(30, 300, 300); in.SecondWeights = drawn(29) }, []string{"second_weights"}},
		{"a single weight without need", func(in *divider.LotCheck) { in.SecondWeights = drawn(1) }, []string{"second_weights"}},
		{"a single weight for a second sample", func(in *divider.LotCheck) { in.Sample = drawn(30, 300, 300); in.SecondWeights = drawn(1) }, []string{"second_weights"}},
		{"above a tonne", func(in *divider.LotCheck) { in.Sample[1] = 1_000_001 }, []string{"sample[1]"}},
		{"not a number", func(in *divider.LotCheck) { in.Sample[0] = unit.Mass(math.NaN()) }, []string{"sample[0]"}},
		{"infinite", func(in *divider.LotCheck) { in.Sample[29] = unit.Mass(math.Inf(1)) }, []string{"sample[29]"}},
		{"several at once", func(in *divider.LotCheck) { in.Nominal = 1; in.Lot = -1; in.Sampling = "once" }, []string{"nominal", "sampling"}},
		{"a lot too large to weigh whole", func(in *divider.LotCheck) {
			in.Rules, in.Sampling, in.Lot = divider.RulesUK, divider.SampleAll, 100
		}, []string{"lot"}},
		{"a lot of one in New Zealand", func(in *divider.LotCheck) {
			in.Rules, in.Sampling, in.Lot, in.Sample = divider.RulesNewZealand, divider.SampleSingle, 1, drawn(1)
		}, []string{"lot"}},
		{"a small lot sampled in the UK", func(in *divider.LotCheck) { in.Rules, in.Lot = divider.RulesUK, 50 }, []string{"lot"}},
	} {
		t.Run(tt.id, func(t *testing.T) {
			in := good
			in.Sample = drawn(30)
			tt.bend(&in)
			got, err := in.Solve()
			assert.Equal(t, tt.want, refusedFields(err), "%v", err)
			assert.Zero(t, got)
		})
	}
}

// What a refused lot should have been is told by the law that is asked.
func TestSmallLotsAreToldTheirRule(t *testing.T) {
	for _, tt := range []struct {
		rules    divider.RuleSetName
		sampling divider.Sampling
		lot      int
		want     string
	}{
		{divider.RulesEU, divider.SampleDouble, 99, "100 packages or more; the plan has no row for a smaller lot"},
		{divider.RulesAustralia, divider.SampleSingle, 99, "100 packages or more; the plan has no row for a smaller lot"},
		{divider.RulesUK, divider.SampleSingle, 99, `weigh a smaller lot whole, with sampling "all"`},
		{divider.RulesUK, divider.SampleAll, 100, "1 to 99 packages; a larger lot is sampled"},
		{divider.RulesNewZealand, divider.SampleSingle, 1, "2 packages or more"},
		{divider.RulesUSCategoryA, divider.SampleSingle, 1, "2 packages or more"},
	} {
		_, err := divider.LotCheck{Rules: tt.rules, Sampling: tt.sampling, Nominal: 400, Lot: tt.lot, Sample: drawn(30)}.Solve()
		assert.ErrorContains(t, err, tt.want, "%s, %d packages", tt.rules, tt.lot)
	}
	if many := math.MaxInt32; strconv.IntSize > 32 { // elsewhere no number is larger
		_, err := divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: many + 1, Sample: drawn(80)}.Solve()
		assert.ErrorContains(t, err, "at most 2147483647 packages")
	}
	_, err := divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: 300, Sample: drawn(30, 300, 300), SecondWeights: drawn(29)}.Solve()
	assert.ErrorContains(t, err, "want 30 weights", "of the second sample (Directive 76/211/EEC, Annex II)")
	_, err = divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: 300, Sample: drawn(30), SecondWeights: drawn(30)}.Solve()
	assert.ErrorContains(t, err, "no second sample: the first one decides")
}

func TestFractionForAcceptanceGoesThereAndBack(t *testing.T) {
	for _, plan := range []struct {
		rules    divider.RuleSetName
		sampling divider.Sampling
		lot      int
	}{
		{divider.RulesEU, divider.SampleDouble, 400},
		{divider.RulesEU, divider.SampleDestructive, 400},
		{divider.RulesUK, divider.SampleSingle, 4000},
		{divider.RulesAustralia, divider.SampleSingle, 1000},
		{divider.RulesNewZealand, divider.SampleSingle, 12},
		{divider.RulesUSCategoryA, divider.SampleSingle, 5000},
	} {
		for _, p := range []float64{0.001, 0.1, 0.5, 0.95, 0.999} {
			f, err := divider.FractionForAcceptance{Rules: plan.rules, Sampling: plan.sampling, Lot: plan.lot, Accepted: p}.Solve()
			require.NoError(t, err)
			back, err := divider.LotOperatingCurve{Rules: plan.rules, Sampling: plan.sampling, Lot: plan.lot, Fractions: []unit.Percent{f.Fraction}}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, p, back.Points[0].Accepted, 1e-12, "%v at %v", plan, p)
		}
	}
}

func TestOperatingCurveFallsFromOneToNone(t *testing.T) {
	var fractions []unit.Percent
	for f := 0; f <= 100; f++ {
		fractions = append(fractions, unit.Percent(f))
	}
	kept := []divider.OperatingPoint{{Fraction: 7, Accepted: 7}}
	got, err := divider.LotOperatingCurve{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 900, Fractions: fractions}.Append(kept)
	require.NoError(t, err)
	require.Len(t, got.Points, 102)
	assert.Equal(t, kept[0], got.Points[0], "the caller's points stay")
	points := got.Points[1:]
	assert.Equal(t, 1.0, points[0].Accepted)
	assert.Equal(t, 0.0, points[100].Accepted)
	for i := 1; i < len(points); i++ {
		assert.LessOrEqual(t, points[i].Accepted, points[i-1].Accepted)
	}
	assert.False(t, got.Conditions.Has(reckon.FromMemory))
	assert.True(t, got.Conditions.Has(reckon.OutsideSource), "100 of 900 is more than a tenth")
}

func TestOperatingCurveRefuses(t *testing.T) {
	_, err := divider.LotOperatingCurve{Rules: divider.RulesUK, Sampling: divider.SampleAll, Lot: 50}.Solve()
	assert.Equal(t, []string{"sampling", "fractions"}, refusedFields(err))
	_, err = divider.LotOperatingCurve{Rules: "mine", Sampling: "x", Fractions: []unit.Percent{1, -1, 101}}.Solve()
	assert.Equal(t, []string{"rules", "fractions[1]", "fractions[2]"}, refusedFields(err))
	_, err = divider.FractionForAcceptance{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 10, Accepted: 1}.Solve()
	assert.Equal(t, []string{"lot", "accepted"}, refusedFields(err))
}

func FuzzLotCheck(f *testing.F) {
	f.Add("eu-76-211", "double", 400.0, 300, 30, 401.0, 387.0)
	f.Add("nz-1999-373", "single", 400.0, 5, 5, 0.0, 1e6)
	f.Add("us-hb133-a", "single", 453.6, 200, 12, 450.0, 440.0)
	f.Fuzz(func(t *testing.T, rules, sampling string, nominal float64, lot, n int, a, b float64) {
		if n < 0 || n > 200 {
			return
		}
		sample := same(n, unit.Mass(a))
		if n > 0 {
			sample[0] = unit.Mass(b)
		}
		got, err := divider.LotCheck{Rules: divider.RuleSetName(rules), Sampling: divider.Sampling(sampling), Nominal: unit.Mass(nominal), Lot: lot, Sample: sample}.Solve()
		if err == nil {
			_, err = json.Marshal(got) // refuses NaN and infinity
			require.NoError(t, err)
			assert.NotEmpty(t, got.Verdict)
		}
		curve, err := divider.LotOperatingCurve{Rules: divider.RuleSetName(rules), Sampling: divider.Sampling(sampling), Lot: lot, Fractions: []unit.Percent{unit.Percent(a)}}.Solve()
		if err == nil {
			p := curve.Points[0].Accepted
			assert.True(t, p >= 0 && p <= 1, "%v", p)
		}
	})
}

func TestLotCheckAllocatesNothing(t *testing.T) {
	sample := drawn(30)
	points := make([]divider.OperatingPoint, 0, 1)
	fractions := []unit.Percent{2.5}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := (divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: 300, Sample: sample}).Solve(); err != nil {
			t.Error(err)
		}
		if _, err := (divider.LotOperatingCurve{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 300, Fractions: fractions}).Append(points); err != nil {
			t.Error(err)
		}
		if _, err := (divider.FractionForAcceptance{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 300, Accepted: 0.9}).Solve(); err != nil {
			t.Error(err)
		}
	}))
}

func BenchmarkLotCheck(b *testing.B) {
	in := divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: 400, Lot: 300, Sample: drawn(30)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFractionForAcceptance(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (divider.FractionForAcceptance{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 300, Accepted: 0.9}).Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleLotCheck() {
	sample := []unit.Mass{403, 398, 407, 401, 396, 410, 399, 402, 405, 395, 400, 404, 397, 406, 401, 399, 403, 408, 394, 402, 400, 398, 405, 401, 397, 403, 399, 402, 404, 396}
	loaves, err := divider.LotCheck{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Nominal: unit.Grams(400), Lot: 300, Sample: sample}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %s, lowest that passes %s, light loaves %d of %d allowed: %s\n", loaves.Mean, loaves.MeanLimit, loaves.Defective, loaves.Allowed, loaves.Verdict)
	fmt.Println(loaves.Cautions.Sentences()[0])
	// Output:
	// mean 401.2 g, lowest that passes 398 g, light loaves 0 of 1 allowed: accept
	// Weights promised to a buyer are under the law: the local weights and measures authority decides, this arithmetic does not.
}

func ExampleLotOperatingCurve() {
	curve, err := divider.LotOperatingCurve{
		Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 3000,
		Fractions: []unit.Percent{1, 2.5, 5, 10},
	}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range curve.Points {
		fmt.Printf("%s light: passes %.0f times in 100\n", p.Fraction, 100*p.Accepted)
	}
	// Output:
	// 1 % light: passes 100 times in 100
	// 2.5 % light: passes 98 times in 100
	// 5 % light: passes 78 times in 100
	// 10 % light: passes 17 times in 100
}

func ExampleFractionForAcceptance() {
	lot, err := divider.FractionForAcceptance{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 3000, Accepted: 0.95}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("with %s light packages 95 lots in 100 pass\n", lot.Fraction)
	// Output:
	// with 3.307 % light packages 95 lots in 100 pass
}
