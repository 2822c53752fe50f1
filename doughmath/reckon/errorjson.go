package reckon

import "encoding/json"

// A Refusal is one thing that is wrong as a program reads it: the JSON of an
// [InputError] and of a [NoSolutionError]. The names and the words of kind stay
// the same; sentences may change.
//
//	{"kind":"range","calculation":"hopper-time","field":"batch","value":"20 t",
//	 "low":"0 g","low_open":true,"high":"1e+07 g","unit":"g","want":"more than 0 g to 10000 kg"}
//
//	{"kind":"no-solution","calculation":"hopper-time","unknown":"hopper time","wanted":"10 t at 1 kg/h",
//	 "high":"240 h","advice":"no dough stands that long; check the dough rate"}
//
// The kinds are those of [Kind], "no-solution", and "other" for an error of
// neither kind, whose text is the advice. What is empty is left out.
type Refusal struct {
	Kind        Kind   `json:"kind"`
	Calculation string `json:"calculation,omitempty"` // its id
	Field       string `json:"field,omitempty"`       // the JSON path of the value that is wrong
	Value       string `json:"value,omitempty"`       // as it was given
	Unknown     string `json:"unknown,omitempty"`     // what was to be found
	Wanted      string `json:"wanted,omitempty"`      // what was asked for
	// The range that is accepted, every digit and both bounds in the unit named; of
	// a no-solution the range that can be reached, for reading.
	Low      string `json:"low,omitempty"`
	LowOpen  bool   `json:"low_open,omitempty"` // low itself is not accepted
	High     string `json:"high,omitempty"`
	HighOpen bool   `json:"high_open,omitempty"` // high itself is not accepted
	Unit     string `json:"unit,omitempty"`
	Want     string `json:"want,omitempty"`   // what would be accepted, for reading
	Advice   string `json:"advice,omitempty"` // what a baker can do
}

const (
	kindNoSolution Kind = "no-solution"
	kindOther      Kind = "other"
)

func (e InputError) refusal() Refusal {
	kind := e.Kind
	if kind == "" {
		kind = KindInput
	}
	return Refusal{
		Kind: kind, Calculation: e.Func, Field: e.Field, Value: cut(e.Value), Want: cut(e.Want),
		Low: e.Range.Low, LowOpen: e.Range.LowOpen, High: e.Range.High, HighOpen: e.Range.HighOpen, Unit: e.Unit,
	}
}

func (e NoSolutionError) refusal() Refusal {
	return Refusal{
		Kind: kindNoSolution, Calculation: e.Func, Unknown: e.Unknown, Wanted: cut(e.Wanted),
		Low: e.Low, High: e.High, Advice: cut(e.Advice),
	}
}

// MarshalJSON writes the error as a [Refusal].
func (e InputError) MarshalJSON() ([]byte, error) { return json.Marshal(e.refusal()) }

// MarshalJSON writes the error as a [Refusal].
func (e NoSolutionError) MarshalJSON() ([]byte, error) { return json.Marshal(e.refusal()) }
