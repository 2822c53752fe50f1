package describe

import (
	_ "embed" // for the texts taken from the source
	"encoding/json"
	"reflect"
	"sync"
)

// described holds what the source says. It is made anew by
//
//	go generate ./doughmath/calc/describe
//
//go:embed described.json
var described []byte

// docs is the form of described.json.
type docs struct {
	Functions map[string]funcDoc           `json:"functions"` // by Go name
	Types     map[string]map[string]string `json:"types"`     // comments by Go type and field
	Words     map[string][]Choice          `json:"words"`     // by Go type
}

type funcDoc struct {
	Summary    string   `json:"summary"`
	Relation   string   `json:"relation,omitempty"`
	Notes      []string `json:"notes,omitempty"`
	Refusals   []string `json:"refusals,omitempty"`
	Sources    []string `json:"sources"`
	Conditions []string `json:"conditions,omitempty"`
	Cautions   []string `json:"cautions,omitempty"`
}

var loaded = sync.OnceValue(func() *docs {
	d, err := readDocs(described)
	if err != nil {
		panic("describe: described.json: " + err.Error()) // it is part of the program
	}
	return d
})

func readDocs(data []byte) (*docs, error) {
	var d docs
	return &d, json.Unmarshal(data, &d)
}

// comment returns the comment of the field with the index in t or, for a
// field of an embedded struct, in that struct.
func (d *docs) comment(t reflect.Type, index []int) string {
	for _, i := range index[:len(index)-1] {
		t = t.Field(i).Type
	}
	return d.Types[t.String()][t.Field(index[len(index)-1]).Name]
}
