package doughmath_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

func flakeIce() doughmath.IceMelt {
	return doughmath.IceMelt{IceSize: 2, IceTemp: unit.Celsius(-5), AroundTemp: unit.Celsius(20), HeatTransfer: 200, Time: unit.Minutes(6)}
}

func ExampleIceMelt() {
	out, err := flakeIce().Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("gone after", out.Melt)
	// Output: gone after 1 min 19 s
}

func ExampleSizeForIceMelt() {
	out, err := doughmath.SizeForIceMelt{Time: unit.Minutes(6), IceTemp: unit.Celsius(-5), AroundTemp: unit.Celsius(20), HeatTransfer: 200}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("ice up to", out.IceSize)
	// Output: ice up to 9.138 mm
}

func ExampleTransferForIceMelt() {
	out, err := doughmath.TransferForIceMelt{IceSize: 10, Melt: unit.Minutes(4), IceTemp: unit.Celsius(-5), AroundTemp: unit.Celsius(20)}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f W/(m2 K)\n", out.HeatTransfer)
	// Output: 328 W/(m2 K)
}

func TestIceMeltThereAndBack(t *testing.T) {
	for _, size := range []unit.Length{0.01, 0.5, 2, 15, 200} {
		for _, around := range []float64{1, 12, 45} {
			for _, transfer := range []unit.HeatTransfer{20, 300, 5000} {
				in := flakeIce()
				in.IceSize, in.AroundTemp, in.HeatTransfer = size, unit.Celsius(around), transfer
				out, err := in.Solve()
				require.NoError(t, err)
				// What is left and what has melted are the whole.
				melted := float64(size) * min(1, float64(in.Time)/float64(out.Melt))
				assert.InDelta(t, float64(size), melted+float64(size)*float64(out.Unmelted)/100, 1e-9)
				assert.Equal(t, out.Unmelted > 0, out.Conditions.Has(doughmath.MuchIce))
				if out.Melt < 1 || out.Melt > unit.Hours(4) {
					continue
				}
				back, err := doughmath.SizeForIceMelt{Time: out.Melt, IceTemp: in.IceTemp, AroundTemp: in.AroundTemp, HeatTransfer: transfer}.Solve()
				require.NoError(t, err)
				assert.InEpsilon(t, float64(size), float64(back.IceSize), 1e-12)
				found, err := doughmath.TransferForIceMelt{IceSize: size, Melt: out.Melt, IceTemp: in.IceTemp, AroundTemp: in.AroundTemp}.Solve()
				require.NoError(t, err)
				assert.InEpsilon(t, float64(transfer), float64(found.HeatTransfer), 1e-12)
			}
		}
	}
	odd, err := doughmath.TransferForIceMelt{IceSize: 0.01, Melt: unit.Hours(1), IceTemp: unit.Celsius(0), AroundTemp: unit.Celsius(20)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, doughmath.Conditions(reckon.OutsideSource), odd.Conditions)
}

func TestIceMeltNamesEveryBadField(t *testing.T) {
	_, err := doughmath.IceMelt{AroundTemp: unit.Celsius(0), IceTemp: unit.Celsius(1), HeatTransfer: 10}.Solve()
	assert.Equal(t, []string{"ice_size", "ice_temp", "around_temp", "heat_transfer", "time"}, fields(err))
	_, err = doughmath.SizeForIceMelt{}.Solve()
	assert.Equal(t, []string{"time", "ice_temp", "around_temp", "heat_transfer"}, fields(err))
	_, err = doughmath.TransferForIceMelt{}.Solve()
	assert.Equal(t, []string{"ice_size", "melt", "ice_temp", "around_temp"}, fields(err))
}

func TestIceMeltAllocatesNothing(t *testing.T) {
	in, ok := flakeIce(), true
	n := testing.AllocsPerRun(100, func() {
		_, e1 := in.Solve()
		_, e2 := doughmath.TargetTemperature{DoughType: doughmath.PizzaDough}.Solve()
		ok = ok && e1 == nil && e2 == nil
	})
	assert.True(t, ok)
	assert.Zero(t, n)
}

func BenchmarkIceMelt(b *testing.B) {
	in := flakeIce()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := in.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzIceMelt(f *testing.F) {
	f.Add(2.0, -5.0, 20.0, 200.0, 360.0)
	f.Add(math.NaN(), math.Inf(-1), 1.0, 5e-324, 1e308)
	f.Fuzz(func(t *testing.T, size, ice, around, transfer, seconds float64) {
		a, _ := doughmath.IceMelt{IceSize: unit.Length(size), IceTemp: unit.Celsius(ice), AroundTemp: unit.Celsius(around), HeatTransfer: unit.HeatTransfer(transfer), Time: unit.Duration(seconds)}.Solve()
		marshals(t, a)
		b, _ := doughmath.SizeForIceMelt{Time: unit.Duration(seconds), IceTemp: unit.Celsius(ice), AroundTemp: unit.Celsius(around), HeatTransfer: unit.HeatTransfer(transfer)}.Solve()
		marshals(t, b)
		c, _ := doughmath.TransferForIceMelt{IceSize: unit.Length(size), Melt: unit.Duration(seconds), IceTemp: unit.Celsius(ice), AroundTemp: unit.Celsius(around)}.Solve()
		marshals(t, c)
	})
}
