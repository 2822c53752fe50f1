package whatif

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
)

func waterSpread() Spread {
	return Spread{Study: waterStudy(
		Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, HalfWidth: "2 C°"}},
		Factor{Path: "room", Distribution: Distribution{Shape: Normal, Mean: "73 °F", SD: "0.5 C°"}},
		Factor{Path: "friction", Distribution: Distribution{Shape: Triangular, HalfWidth: "1.5 C°"}},
	)}
}

// Of a sum everything is known in closed form.
//
// Source: variances of the shapes, JCGM 101:2008, 6.4 (derived).
func TestSpreadOfASum(t *testing.T) {
	s := waterSpread()
	s.Screen = true
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Empty(t, got.Notes)
	parts := []float64{2 / math.Sqrt(3), 0.5, 1.5 / math.Sqrt(6)}
	variance := 0.0
	for _, p := range parts {
		variance += p * p
	}
	o := got.Outputs[0]
	assert.InDelta(t, 64-21-(73-32)/1.8, o.FirstOrder.Estimate, 1e-9)
	assert.InDelta(t, math.Sqrt(variance), o.FirstOrder.U, 1e-9)
	assert.Zero(t, o.FirstOrder.DoF)
	assert.InDelta(t, 1.959963985, o.FirstOrder.Factor, 1e-9)
	for k, slope := range []float64{-1, -1 / 1.8, -1} { // the room is in °F
		assert.InDelta(t, slope, o.FirstOrder.Inputs[k].Slope, 1e-9)
		assert.InDelta(t, parts[k], o.FirstOrder.Inputs[k].Part, 1e-9)
		share := parts[k] * parts[k] / variance
		assert.InDelta(t, share, o.FirstOrder.Inputs[k].Share, 1e-9)
		in := o.Influences[k]
		assert.InDelta(t, share, in.First.Value, 2*in.First.Error)
		assert.InDelta(t, share, in.Total.Value, 2*in.Total.Error)
		assert.InDelta(t, 0, o.Effects[k].SD, 1e-9, "no effect of one hangs on another")
	}
	assert.True(t, o.Trials.Reached)
	assert.InDelta(t, math.Sqrt(variance), o.Trials.U.Value, 2*o.Trials.U.Error+1e-6)
	assert.InDelta(t, o.FirstOrder.Estimate, o.Trials.Mean.Value, 2*o.Trials.Mean.Error+1e-6)
	assert.Len(t, o.Values(), got.Trials)
	assert.Zero(t, got.Refused.Count)
	assert.Equal(t, 0.9, got.Inputs[1].U, "0.5 C° are 0.9 F°")
	_, err = json.Marshal(got)
	require.NoError(t, err)
}

// The same digits, whatever the workers are.
func TestSpreadDoesNotDependOnWorkers(t *testing.T) {
	for _, scheme := range []Combine{"", Random, LatinHypercube, Halton} {
		s := waterSpread()
		s.Study.Combine, s.Study.Samples, s.Points = scheme, 20000, 64
		one, err := s.Run(t.Context(), Options{})
		require.NoError(t, err)
		three, err := s.Run(t.Context(), Options{Workers: 3})
		require.NoError(t, err)
		assert.Equal(t, one, three, "%q", scheme)
		s.Study.Seed++
		other, err := s.Run(t.Context(), Options{})
		require.NoError(t, err)
		assert.NotEqual(t, one.Outputs[0].Trials.Mean, other.Outputs[0].Trials.Mean)
	}
}

// Conditions and refusals are counted: water below freezing in the half of the
// trials where the flour is above 41 °C, and refused in the quarter above 45 °C.
func TestSpreadCountsConditionsAndRefusals(t *testing.T) {
	s := Spread{Study: waterStudy(Factor{Path: "flour_temp", Distribution: Distribution{Shape: Uniform, Low: "37 °C", High: "45 °C"}})}
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	shares := map[string]float64{}
	for _, c := range got.Conditions {
		shares[c.Word] = c.Share.Value
	}
	assert.InDelta(t, 0.5, shares["below-freezing"], 1e-3)
	s.Study.Vary[0].Distribution = Distribution{Shape: Uniform, Low: "-12 °C", High: "12 °C"}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.InDelta(t, 1./3, got.Refused.Value, 1e-3, "water above 45 °C is refused")
	assert.Equal(t, got.Refused.Of-got.Refused.Count, got.Outputs[0].Trials.Answered)
	assert.Nil(t, got.Outputs[0].Influences)
	assert.Contains(t, strings.Join(got.Notes, "\n"), "of their points are refused")
	s.Study.Vary[0].Distribution = Distribution{Shape: Uniform, Low: "-12 °C", High: "-6 °C"}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Nil(t, got.Outputs[0].Trials)
	assert.Nil(t, got.Outputs[0].FirstOrder)
	_, err = json.Marshal(got)
	require.NoError(t, err, "nothing that JSON cannot hold")
}

// Lists, words and correlated inputs: what cannot be had is left out and said.
func TestSpreadSaysWhatItLeavesOut(t *testing.T) {
	s := waterSpread()
	s.Study.Vary = append(s.Study.Vary, Factor{Path: "friction_basis", Values: []string{"once", "per-factor"}})
	s.Study.Samples, s.Points = 4096, 64
	got, err := s.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Nil(t, got.Outputs[0].FirstOrder)
	assert.Contains(t, got.Notes[0], "no first order: friction_basis takes only some values")
	assert.Greater(t, got.Outputs[0].Influences[3].Total.Value, 0.9, "28 C° between the readings drown the rest")
	_, err = json.Marshal(got)
	require.NoError(t, err)

	s = waterSpread()
	s.Correlation = [][]float64{{1, 0.8, 0}, {0.8, 1, 0}, {0, 0, 1}}
	got, err = s.Run(t.Context(), Options{})
	require.NoError(t, err)
	variance := 4./3 + 0.25 + 2.25/6 + 2*0.8*2/math.Sqrt(3)*0.5
	assert.InDelta(t, math.Sqrt(variance), got.Outputs[0].FirstOrder.U, 1e-9)
	assert.Nil(t, got.Outputs[0].Influences)
	assert.Contains(t, got.Notes[0], "no indices of variance: they are for inputs that are independent")
}

// dip is y = x² + z/10, whose slope along x is zero at its bottom.
type dip struct {
	X float64 `json:"x" range:"-100..100"`
	Z float64 `json:"z" range:"-100..100"`
}

type dipResult struct {
	Y float64 `json:"y"`
}

func (dip) ID() string                          { return "dip" }
func (dip) Check(*reckon.Checks)                {}
func (q dip) Solve() (dipResult, error)         { return dipResult{q.X*q.X + q.Z/10}, nil }
func (dip) Show(_ *reckon.Working, _ dipResult) {}

// What the first order cannot see is said.
//
// Source: JCGM 101:2008, 9.4 (a squared input about zero): its variance is 2u⁴ (derived).
func TestSpreadTellsWhatTheFirstOrderDoesNotSee(t *testing.T) {
	got, err := Spread{Study: Study{Subject: Of(dip{}), Vary: []Factor{
		{Path: "x", Distribution: Distribution{Shape: Normal, SD: "1"}}, {Path: "z", Distribution: Distribution{Shape: Normal, SD: "1"}},
	}, Outputs: path("y")}}.Run(t.Context(), Options{})
	require.NoError(t, err)
	o := got.Outputs[0]
	assert.InDelta(t, 0.1, o.FirstOrder.U, 1e-9)
	assert.InDelta(t, math.Sqrt(2+0.01), o.Trials.U.Value, 2*o.Trials.U.Error)
	assert.Equal(t, Differs, o.Agreement.Verdict)
	assert.InDelta(t, 2/2.01, o.Influences[0].Total.Value, 2*o.Influences[0].Total.Error)
	assert.Equal(t, []string{"y: the first order does not see x, whose slope is all but zero at the means; it has 100 % of the variance"}, got.Notes)
}

// An output that does not vary has no uncertainty at all, not that of rounding.
func TestSpreadOfWhatDoesNotVary(t *testing.T) {
	for _, scheme := range []Combine{Sobol, Random} {
		study := waterStudy(Factor{Path: "room", Distribution: Distribution{Shape: Normal, SD: "0.5 C°"}}, Factor{Path: "target_temp", Values: []string{"26.1 °C"}})
		study.Outputs, study.Combine, study.Samples = path("base"), scheme, 100_000 // 3 x 26.1 °C less 14 C° is no binary fraction
		got, err := Spread{Study: study, Points: 16}.Run(t.Context(), Options{})
		require.NoError(t, err)
		u := got.Outputs[0].Trials.U
		assert.Equal(t, Estimate{}, u, scheme)
		assert.True(t, got.Outputs[0].Trials.Reached, scheme)
	}
}

// Inputs that cancel leave rounding, which no verdict may rest on.
func TestSpreadOfWhatCancels(t *testing.T) {
	study := waterStudy(
		Factor{Path: "room", Distribution: Distribution{Shape: Normal, SD: "0.3 C°"}},
		Factor{Path: "flour_temp", Distribution: Distribution{Shape: Normal, Mean: "20.7 °C", SD: "0.3 C°"}},
	)
	study.Samples = 20_000
	got, err := Spread{Study: study, Correlation: [][]float64{{1, -1}, {-1, 1}}}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Less(t, got.Outputs[0].Trials.U.Value, 1e-12)
	assert.Equal(t, Agrees, got.Outputs[0].Agreement.Verdict)
	assert.True(t, got.Outputs[0].Trials.Reached)
}

// Of a straight line in a normal input the first order is right: a handful of trials must not
// say that it is not.
func TestSpreadOfAHandfulOfTrials(t *testing.T) {
	study := waterStudy(Factor{Path: "room", Distribution: Distribution{Shape: Normal, SD: "0.5 C°"}})
	for _, n := range []int{16, 100, 400} {
		study.Samples = n
		got, err := Spread{Study: study, Points: 16}.Run(t.Context(), Options{})
		require.NoError(t, err)
		assert.Equal(t, Undecided, got.Outputs[0].Agreement.Verdict, n)
	}
}

// Where some trials have no answer the figures are of the others, and say so.
func TestSpreadSaysWhichTrialsItIsOf(t *testing.T) {
	study := waterStudy(Factor{Path: "target_temp", Distribution: Distribution{Shape: Normal, Mean: "33.5 °C", SD: "1 C°"}})
	study.Samples = 4096
	got, err := Spread{Study: study, Points: 16}.Run(t.Context(), Options{})
	require.NoError(t, err)
	// Water of 3T - 58 °C may be 45 °C at most: a dough of 34.33 °C, which is 0.8333 standard deviations up.
	assert.InDelta(t, normalBelow(0.8333333), 1-got.Refused.Value, 0.002)
	assert.Contains(t, strings.Join(got.Notes, "\n"), "of 4096 trials have it; the figures of the trials are of those alone")
}

// An uncertainty of a temperature is a difference: its unit is told with the column.
func TestUncertaintiesHaveTheUnitOfDifferences(t *testing.T) {
	study := waterStudy(Factor{Path: "room", Unit: "°F", Distribution: Distribution{Shape: Normal, SD: "0.5 C°"}}, Factor{Path: "friction", Distribution: Distribution{Shape: Normal, SD: "0.5 C°"}})
	study.Samples = 4096
	got, err := Spread{Study: study, Points: 16}.Run(t.Context(), Options{})
	require.NoError(t, err)
	assert.Equal(t, "F°", got.Inputs[0].Column.Apart)
	assert.InDelta(t, 0.9, got.Inputs[0].U, 1e-12)
	assert.Empty(t, got.Inputs[1].Column.Apart)
	assert.Equal(t, "C°", got.Outputs[0].Column.Apart)
}
