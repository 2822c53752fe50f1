package describe

import (
	"embed"
	"encoding/json"
	"reflect"
	"sync"
)

// described holds what the source says, a file for each package. It is made anew by
//
//	go generate ./doughmath/calc/describe
//
//go:embed described/*.json
var described embed.FS

// docs is the form of the files, and what all of them say together.
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
	d, err := readDocs(parts()...)
	if err != nil {
		panic("describe: " + err.Error()) // it is part of the program
	}
	return d
})

// parts returns the files of described, which are part of the program.
func parts() [][]byte {
	const folder = "described"
	files, err := described.ReadDir(folder)
	out := make([][]byte, len(files))
	for i := range files {
		if err == nil {
			out[i], err = described.ReadFile(folder + "/" + files[i].Name())
		}
	}
	if err != nil {
		panic("describe: " + err.Error())
	}
	return out
}

func readDocs(parts ...[]byte) (*docs, error) {
	var d docs
	for _, part := range parts {
		if err := json.Unmarshal(part, &d); err != nil { // which adds to what is there
			return nil, err
		}
	}
	return &d, nil
}

// comment returns the comment of the field with the index in t or, for a
// field of an embedded struct, in that struct.
func (d *docs) comment(t reflect.Type, index []int) string {
	for _, i := range index[:len(index)-1] {
		t = t.Field(i).Type
	}
	return d.Types[t.String()][t.Field(index[len(index)-1]).Name]
}
