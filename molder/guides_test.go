package molder_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/molder"
)

func TestGuidesGoBack(t *testing.T) {
	for _, clearance := range []unit.Length{0, 5, 30} {
		for _, spread := range []float64{0.9, 1, 1.07} {
			out, err := molder.SideGuides{PanLength: 230, Clearance: clearance, LengthRatio: spread}.Solve()
			require.NoError(t, err)
			want := molder.Conditions(0)
			if spread > 1 {
				want = molder.LongerThanGuides // the exception
			}
			assert.Equal(t, want|reckon.Uncalibrated, out.Conditions)
			back, err := molder.PieceLengthForGuides{Guides: out.Guides, PanLength: 230, LengthRatio: spread, Measured: true}.Solve()
			require.NoError(t, err)
			assert.InDelta(t, float64(clearance), float64(back.Clearance), 1e-9)
			same(t, out.PieceLength, back.PieceLength, "piece")
			assert.Equal(t, want, back.Conditions)
			measured, err := molder.GuideRatioFromPieces{Guides: out.Guides, Lengths: []unit.Length{out.Guides * unit.Length(spread)}}.Solve()
			require.NoError(t, err)
			assert.Equal(t, want, measured.Conditions)
		}
	}
}

func TestGuidesWithinWhatTheyGoBackTo(t *testing.T) {
	var none *reckon.NoSolutionError
	_, err := molder.SideGuides{PanLength: 2000, LengthRatio: 0.5}.Solve()
	require.ErrorAs(t, err, &none, "guides 4 m apart")
	assert.Equal(t, [2]string{"2.5 mm", "1 m"}, [2]string{none.Low, none.High})
	_, err = molder.SideGuides{PanLength: 20, Clearance: 7, LengthRatio: 2}.Solve()
	require.ErrorAs(t, err, &none, "guides 3 mm apart")
	_, err = molder.PieceLengthForGuides{Guides: 8, PanLength: 20, LengthRatio: 0.5}.Solve()
	assert.ErrorContains(t, err, "at least 10 mm", "a piece of 4 mm")
	_, err = molder.PieceLengthForGuides{Guides: 200, PanLength: 1300, LengthRatio: 1}.Solve()
	assert.ErrorContains(t, err, "at least 300 mm", "550 mm free at each end")
}

func TestGuidesRefuse(t *testing.T) {
	_, err := molder.SideGuides{Clearance: -1, Narrowest: 300, Widest: 200}.Solve()
	assert.Equal(t, []string{"pan_length", "clearance", "length_ratio", "widest"}, fields(err))
	_, err = molder.SideGuides{PanLength: 230, Clearance: 115, LengthRatio: 1}.Solve()
	assert.Equal(t, []string{"clearance"}, fields(err))
	var none *reckon.NoSolutionError
	_, err = molder.SideGuides{PanLength: 230, LengthRatio: 1.1, Narrowest: 50, Widest: 200}.Solve()
	require.ErrorAs(t, err, &none)
	assert.Equal(t, [2]string{"55 mm", "220 mm"}, [2]string{none.Low, none.High})
	_, err = molder.PieceLengthForGuides{}.Solve()
	assert.Equal(t, []string{"guides", "pan_length", "length_ratio"}, fields(err))
	_, err = molder.PieceLengthForGuides{Guides: 230, PanLength: 230, LengthRatio: 1.1}.Solve()
	assert.Equal(t, []string{"guides"}, fields(err))
	_, err = molder.GuideRatioFromPieces{Guides: 200, Lengths: []unit.Length{90, 200, 401}}.Solve()
	assert.Equal(t, []string{"lengths[0]", "lengths[2]"}, fields(err))
	_, err = molder.GuideRatioFromPieces{}.Solve()
	assert.Equal(t, []string{"guides", "lengths"}, fields(err))
}

func ExampleSideGuides() {
	out, _ := molder.SideGuides{PanLength: unit.Millimetres(230), Clearance: unit.Millimetres(5), LengthRatio: 0.96, Measured: true}.Solve()
	fmt.Printf("Set the guides %v apart for pieces of %v.\n", out.Guides, out.PieceLength)
	// Output:
	// Set the guides 229.2 mm apart for pieces of 220 mm.
}

func ExamplePieceLengthForGuides() {
	out, _ := molder.PieceLengthForGuides{Guides: unit.Millimetres(200), PanLength: unit.Millimetres(230), LengthRatio: 0.96, Measured: true}.Solve()
	fmt.Printf("The piece comes out %v long and lies %v from each end of the pan.\n", out.PieceLength, out.Clearance)
	// Output:
	// The piece comes out 192 mm long and lies 19 mm from each end of the pan.
}

func ExampleGuideRatioFromPieces() {
	out, _ := molder.GuideRatioFromPieces{
		Guides:  unit.Millimetres(200),
		Lengths: []unit.Length{unit.Millimetres(191), unit.Millimetres(194), unit.Millimetres(191)},
	}.Solve()
	fmt.Printf("%d pieces: %.2f times the guides, give or take %.3f.\n", out.Pieces, out.LengthRatio, out.SD)
	// Output:
	// 3 pieces: 0.96 times the guides, give or take 0.009.
}

func FuzzGuides(f *testing.F) {
	f.Add(230.0, 5.0, 1.04, 80.0, 400.0)
	f.Fuzz(func(t *testing.T, pan, clearance, spread, narrow, wide float64) {
		if out, err := (molder.SideGuides{PanLength: unit.Length(pan), Clearance: unit.Length(clearance), LengthRatio: spread, Narrowest: unit.Length(narrow), Widest: unit.Length(wide)}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.PieceLengthForGuides{Guides: unit.Length(wide), PanLength: unit.Length(pan), LengthRatio: spread}).Solve(); err == nil {
			finite(t, out)
		}
		if out, err := (molder.GuideRatioFromPieces{Guides: unit.Length(pan), Lengths: []unit.Length{unit.Length(narrow), unit.Length(wide)}}).Solve(); err == nil {
			finite(t, out)
		}
	})
}
