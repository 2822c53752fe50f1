package whatif

import (
	"encoding/json"
	"testing"
)

// Whatever is read as a study or a comparison, nothing panics, and a study that
// compiles solves its first and its last scenario.
func FuzzStudy(f *testing.F) {
	for _, s := range []Study{smallStudy(), {
		Calculation: "curls", Base: []byte(`{"length":"300 mm","thickness":"5 mm"}`), Combine: Random, Samples: 3,
		Vary: []Factor{{Path: "length", From: "100 mm", To: "300 mm"}}, Outputs: path("turns"),
	}} {
		data, err := json.Marshal(s)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"calculation":"curls","base":{"length":"300 mm","thickness":"5 mm"},"vary":[{"path":"thickness","values":["1e3 mm","-1 in"]}],"outputs":[{"path":"turns","unit":"x"}]}`))
	f.Add([]byte(`{"calculation":"formula-scale","base":{"dough":"10 kg","parts":[{"name":"flour","percent":"100 %","role":"flour"}]},"vary":[{"path":"parts[flour].percent","from":"1 %","to":"2 %","count":3}]}`))
	f.Add([]byte(`{"calculation":"curls","base":{"length":"300 mm","thickness":"5 mm"},"cases":[{"name":"a"},{"name":"b","change":[{"path":"thickness","value":"4 mm"}]},{"name":"c","base":{}}]}`))
	f.Add([]byte(`{"scenario":{"title":"","orders":[]},"vary":[{"path":"[x].[","values":[""]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if q, err := ReadComparison(data); err == nil {
			if out, err := q.Solve(); err == nil {
				if _, err := json.Marshal(out); err != nil {
					t.Fatal(err)
				}
			}
		}
		s, err := ReadStudy(data)
		if err != nil {
			return
		}
		c, err := s.Compile()
		if err != nil {
			return
		}
		for _, i := range []int{0, c.Size() - 1} {
			r, err := c.At(i)
			if err != nil {
				t.Fatal(err)
			}
			_, _, _ = r.Refusals(), r.Conditions(), r.Cautions()
		}
	})
}
