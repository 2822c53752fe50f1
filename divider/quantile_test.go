package divider

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/dough/doughmath/unit"
)

// agreeingDigits is the log relative error: how many leading digits of got are right.
func agreeingDigits(got, want float64) float64 {
	if got == want {
		return 17
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

func TestCentralQuantilesReachTwelveDigits(t *testing.T) {
	for df, row := range studentTable {
		for i, want := range row {
			assert.Greater(t, agreeingDigits(studentQuantile(studentColumns[i], df), want), 12.0, "t(%v; %v)", studentColumns[i], df)
		}
	}
	for _, row := range chiSquareTable {
		assert.Greater(t, agreeingDigits(chiSquareQuantile(row[0], row[1]), row[2]), 12.0, "chi-square(%v; %v)", row[0], row[1])
		assert.InDelta(t, row[0], chiSquareBelow(row[2], row[1]), 1e-12)
	}
}

func TestNormal(t *testing.T) {
	for p, want := range normalTable {
		// Near one, the double nearest to p is itself off by up to 6e-17, which
		// the steep tail turns into 1e-11 of the quantile.
		assert.InDelta(t, want, normalQuantile(p), 1e-15/(1-p)+1e-15, "z(%v)", p)
	}
	for z, want := range normalBelowTable {
		assert.Greater(t, agreeingDigits(normalBelow(z), want), 13.5, "Phi(%v)", z)
	}
}

// The noncentral t is checked against the central one, against gonum where
// gonum is exact, and through the tolerance factors among the published cases.
func TestNoncentralT(t *testing.T) {
	for _, df := range []float64{1, 2, 3, 5, 10, 30, 100, 1000, 10000} {
		q, ok := noncentralQuantile(0.95, df, 0)
		require.True(t, ok)
		assert.Greater(t, agreeingDigits(q, studentQuantile(0.95, df)), 12.0, "df %v", df)
		for _, delta := range []float64{0.5, 1.5, 6, 20} {
			want := distuv.NoncentralT{Nu: df, Mu: delta}.CDF(2)
			assert.InDelta(t, want, noncentralBelow(2, df, delta), 1e-11, "df %v, delta %v", df, delta)
		}
		at := noncentralBelow(60.5, df, 60) // where gonum no longer sums its series
		assert.True(t, at > 0 && at < 1)
		back, ok := noncentralQuantile(at, df, 60)
		require.True(t, ok)
		assert.InDelta(t, 60.5, back, 1e-8)
	}
	assert.Zero(t, testing.AllocsPerRun(10, func() { noncentralQuantile(0.95, 20, 3) }))
}

// NIST Statistical Reference Datasets, univariate summary statistics
// (https://www.itl.nist.gov/div898/strd/): certified to 15 digits. Where fewer
// are asked for, the data lose digits when they are held in binary: the exact
// standard deviation of the doubles nearest to Mavro's and NumAcc4's data
// agrees with the certified one in 13.1 and 8.3 digits, no more.
func TestCertifiedMeanAndDeviation(t *testing.T) {
	digits := map[string][2]float64{
		"Lew": {15, 14.8}, "Lottery": {15, 14.8}, "Mavro": {15, 13}, "NumAcc1": {15, 15},
		"NumAcc2": {15, 14}, "NumAcc4": {15, 8.2}, "PiDigits": {15, 14.8},
	}
	files, err := filepath.Glob("testdata/strd/*.json")
	require.NoError(t, err)
	require.Len(t, files, len(digits))
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		var set struct {
			Dataset  string
			Mean, SD string
			Y        []float64
		}
		require.NoError(t, json.Unmarshal(data, &set))
		y := make([]unit.Mass, len(set.Y))
		for i, v := range set.Y {
			y[i] = unit.Grams(v)
		}
		mean, sd := meanSD(y)
		for i, pair := range [][2]any{{mean, set.Mean}, {sd, set.SD}} {
			want, err := strconv.ParseFloat(pair[1].(string), 64)
			require.NoError(t, err)
			got := agreeingDigits(pair[0].(float64), want)
			t.Logf("%s %s: %.1f digits", set.Dataset, [...]string{"mean", "sd"}[i], got)
			assert.GreaterOrEqual(t, got, digits[set.Dataset][i], "%s %v", set.Dataset, pair)
		}
		assert.Zero(t, testing.AllocsPerRun(1, func() { meanSD(y) }))
	}
}
