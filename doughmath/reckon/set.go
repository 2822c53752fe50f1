package reckon

import (
	"encoding/json"
	"fmt"
	"math/bits"
	"strings"

	"example.com/dough/doughmath/unit"
)

// A Note is a stable word for programs and a sentence for people.
type Note struct {
	Word string `json:"word"`
	Says string `json:"says"`
}

// A Vocabulary names a station's own conditions, in the order of their bits.
// It is the type of an empty struct.
type Vocabulary interface{ Conditions() []Note }

// Set is a set of things to look at in an answer that was computed all the
// same: the general conditions below and those of the vocabulary W. A
// calculation never bends a value to make a condition go away. A word of
// another vocabulary does not compile.
//
//	package proof
//
//	type Conditions = reckon.Set[words]
//
//	const (
//		PartPass Conditions = 1 << (reckon.FirstOwn + iota)
//		SurfaceDrying
//	)
type Set[W Vocabulary] uint64

// FirstOwn is the bit of a station's first condition of its own; 48 are left for them.
const FirstOwn = 16

// The general conditions, which every set takes.
const (
	// Rounded says that a value was rounded to what a scale, a tray or a whole piece allows.
	Rounded = 1 << iota
	// Uncalibrated says that the result is a model's estimate, to be replaced by a measurement on the line.
	Uncalibrated
	// OutsideSource says that an input lies outside the range for which the relation's source vouches.
	OutsideSource
	// Extrapolated says that the result lies outside the data it was fitted on.
	Extrapolated
	// FromMemory says that a table value behind the result was recalled, not seen in its source.
	FromMemory
	// RateLimited says that a machine's limit holds the rate below what was asked.
	RateLimited
	// Outlier says that a measurement lies far from the others.
	Outlier
	// ScaleTooCoarse says that the scale's division is too coarse for the job.
	ScaleTooCoarse

	generalEnd // one past the last
)

var general = [...]Note{
	{"rounded", "A value was rounded to what the scale, the tray or whole pieces allow."},
	{"uncalibrated", "This is a model's estimate: measure it on the line and put the measured value in."},
	{"outside-source", "An input lies outside the range that the relation's source vouches for."},
	{"extrapolated", "The result lies outside the data it was fitted on: weigh trial pieces there first."},
	{"from-memory", "A table value behind this was recalled, not seen in its source: check it before you rely on it."},
	{"rate-limited", "A machine's limit holds the rate below what was asked."},
	{"outlier", "A weighing lies far from the others: it is kept, look for the cause."},
	{"scale-too-coarse", "The scale's division is too coarse for this job."},
}

// Every general condition has its note and leaves the bits of the stations alone, or this does not compile.
var (
	_ [1]struct{} = [generalEnd >> len(general)]struct{}{}
	_ [FirstOwn - len(general)]struct{}
)

// Has reports whether every condition of want is set.
func (s Set[W]) Has(want Set[W]) bool { return s&want == want }

// Notes returns the conditions that are set, in a fixed order.
func (s Set[W]) Notes() []Note {
	var w W
	return notes(uint64(s), general[:], w.Conditions())
}

// Words returns the words of the conditions that are set.
func (s Set[W]) Words() []string { return wordsOf(s.Notes()) }

// Sentences returns what to tell a person, in the order of Words.
func (s Set[W]) Sentences() []string { return sentencesOf(s.Notes()) }

// String returns the words, separated by commas.
func (s Set[W]) String() string { return strings.Join(s.Words(), ", ") }

// Known returns every condition that the set can hold.
func (Set[W]) Known() []Note {
	var w W
	return append(append([]Note{}, general[:]...), w.Conditions()...)
}

// MarshalJSON writes the words as a list.
func (s Set[W]) MarshalJSON() ([]byte, error) { return json.Marshal(s.Words()) }

// UnmarshalJSON reads a list of words.
func (s *Set[W]) UnmarshalJSON(data []byte) error {
	var w W
	got, err := readWords(data, "condition", general[:], w.Conditions())
	if err == nil {
		*s = Set[W](got)
	}
	return err
}

// notes returns the notes of the bits that are set: common ones from bit 0,
// own ones from FirstOwn.
func notes(set uint64, common, own []Note) []Note {
	out := make([]Note, 0, bits.OnesCount64(set))
	for ; set != 0; set &= set - 1 {
		switch bit := bits.TrailingZeros64(set); {
		case bit < len(common):
			out = append(out, common[bit])
		case bit >= FirstOwn && bit-FirstOwn < len(own):
			out = append(out, own[bit-FirstOwn])
		}
	}
	return out
}

func wordsOf(list []Note) []string {
	out := make([]string, len(list))
	for i, n := range list {
		out[i] = n.Word
	}
	return out
}

func sentencesOf(list []Note) []string {
	out := make([]string, len(list))
	for i, n := range list {
		out[i] = n.Says
	}
	return out
}

func readWords(data []byte, kind string, common, own []Note) (set uint64, err error) {
	var words []string
	if err := json.Unmarshal(data, &words); err != nil {
		return set, err
	}
next:
	for _, w := range words {
		for first, list := range [2][]Note{common, own} {
			for i, n := range list {
				if n.Word == w {
					set |= 1 << (first*FirstOwn + i)
					continue next
				}
			}
		}
		return set, fmt.Errorf("no %s is called %q", kind, unit.Clip(w))
	}
	return set, nil
}
