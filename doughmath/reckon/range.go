package reckon

import "strings"

// A Range is the values that a field may have. The tag range of a field says
// it, the tag items how many items a list may have:
//
//	Batch  unit.Mass `json:"batch" range:">0 g..10 t"`       // more than 0 g to 10 t
//	Loss   Percent   `json:"loss" range:"0 %..<100 %"`       // 0 % to under 100 %
//	Run    Duration  `json:"run" range:">0 s.."`             // more than 0 s
//	Across int       `json:"across" range:"1..200"`
//	Marks  []float64 `json:"marks" range:"0..40" items:"3..100"` // 3 to 100 items, each from 0 to 40
//
// A field whose bounds depend on another has range:"-".
type Range struct {
	Low      string `json:"low,omitempty"`      // with the unit of the quantity; "" where there is no bound
	LowOpen  bool   `json:"low_open,omitempty"` // Low itself is out of the range
	High     string `json:"high,omitempty"`
	HighOpen bool   `json:"high_open,omitempty"`
}

// ParseRange reads what a tag says. It returns false if the tag names no range.
func ParseRange(tag string) (r Range, ok bool) {
	r.Low, r.High, ok = strings.Cut(tag, "..")
	if !ok {
		return Range{}, false
	}
	r.Low, r.LowOpen = strings.CutPrefix(r.Low, ">")
	r.High, r.HighOpen = strings.CutPrefix(r.High, "<")
	return r, true
}

// String says the range in words: "more than 0 g to 10 t".
func (r Range) String() string {
	low, high := r.Low, r.High
	if r.LowOpen {
		low = "more than " + low
	}
	switch {
	case r.HighOpen:
		high = "under " + high
	case r.Low == "" && high != "":
		high = "up to " + high
	}
	switch {
	case r.High == "" && r.Low != "" && !r.LowOpen:
		return low + " or more"
	case r.High == "":
		return low
	case r.Low == "":
		return high
	}
	return low + " to " + high
}
