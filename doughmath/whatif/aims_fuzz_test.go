package whatif

import (
	"encoding/json"
	"math"
	"testing"
)

// Whatever is read as an aim, nothing panics, what is refused is refused by
// name, and a result is one that JSON can hold.
func FuzzAims(f *testing.F) {
	spread := waterSpread()
	spread.Study.Samples, spread.Points = 64, 16
	for _, q := range []any{
		spread,
		Seek{Study: waterStudy(Factor{Path: "flour_temp", From: "20 °C", To: "40 °C"}), Value: "4 °C", Points: 3},
		Best{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Aim: Most, Must: Must{Without: []string{"below-freezing"}}},
		Robust{Study: waterStudy(Factor{Path: "room", From: "20 °C", To: "24 °C", Count: 3}), Scatter: spread.Study.Vary[:1], Must: Must{With: []string{"below-freezing"}}, Trials: 10},
	} {
		data, err := json.Marshal(q)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	result := func(t *testing.T, out any, err error) {
		if err != nil {
			return
		}
		if _, err := json.Marshal(out); err != nil {
			t.Fatal(err)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if q, err := ReadSeek(data); err == nil && q.Points < 1000 {
			out, err := q.Run(t.Context())
			result(t, out, err)
		}
		if q, err := ReadBest(data); err == nil && !q.Study.Force {
			q.Study.Limit = 100
			out, err := q.Run(t.Context(), Options{})
			result(t, out, err)
		}
		if q, err := ReadSpread(data); err == nil {
			q.Study.Samples, q.Points, q.Study.Limit, q.Study.Force = 64, 16, 100, false
			out, err := q.Run(t.Context(), Options{})
			result(t, out, err)
		}
		if q, err := ReadRobust(data); err == nil {
			q.Trials, q.Study.Limit, q.Study.Force = 10, 100, false
			out, err := q.Run(t.Context(), Options{})
			result(t, out, err)
		}
	})
}

// Whatever the texts of a distribution, it is refused by name or its quantiles are numbers
// within the range of the input.
func FuzzDistribution(f *testing.F) {
	f.Add("normal", "21 °C", "0.5 C°", "", "", "", "", 0., 0., "", false)
	f.Add("uniform", "", "", "2 C°", "", "", "", 0., 0., "", false)
	f.Add("triangular", "", "", "", "10 °C", "12 °C", "70 °F", 0., 0., "", false)
	f.Add("trapezoidal", "", "", "", "10 °C", "", "20 °C", 0.3, 0., "", false)
	f.Add("student-t", "", "1 C°", "", "", "", "", 0., 4., "", true)
	f.Add("lognormal", "21 °C", "1 C°", "", "", "", "", 0., 0., "", true)
	f.Add("curvilinear-trapezoid", "", "", "2 C°", "", "", "", 0., 0., "0.1 C°", false)
	f.Fuzz(func(t *testing.T, kind, mean, sd, half, low, mode, high string, top, dof float64, within string, truncate bool) {
		s := Spread{Study: waterStudy(Factor{Path: "flour_temp", Distribution: Distribution{
			Shape: Shape(kind), Mean: mean, SD: sd, HalfWidth: half, Low: low, Mode: mode, High: high, Top: top, DoF: dof, Within: within, Truncate: truncate,
		}})}
		r, err := s.compile()
		if err != nil {
			return
		}
		d := r.inputs[0]
		for _, p := range []float64{1e-9, 0.001, 0.25, 0.5, 0.75, 0.999, 1 - 1e-9} {
			x := d.quantile(p)
			if math.IsNaN(x) || truncate && (x < -40 || x > 60) || p > 0.0005 && p < 0.9995 && (x < -40-1e-9 || x > 60+1e-9) {
				t.Errorf("%v at %v of %+v", x, p, s.Study.Vary[0].Distribution)
			}
		}
		if u := d.u(); math.IsNaN(u) || u < 0 {
			t.Errorf("standard uncertainty %v of %+v", u, s.Study.Vary[0].Distribution)
		}
	})
}
