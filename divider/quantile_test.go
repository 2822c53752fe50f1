package divider

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
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
	for _, r := range [][4]float64{ // pt(t, df, ncp) of R 4.2.2
		{2, 5, 1.5, 0.63144924725562},
		{3, 10, 1, 0.9470508616927},
		{0.5, 3, 2, 0.065478985564607},
		{-1, 4, 1, 0.032773295332264},
		{20.5, 20, 20, 0.51950978798556},
	} {
		assert.InDelta(t, r[3], noncentralBelow(r[0], r[1], r[2]), 1e-11, "pt(%v, %v, %v)", r[0], r[1], r[2])
	}
	assert.Zero(t, testing.AllocsPerRun(10, func() { noncentralQuantile(0.95, 20, 3) }))
}
