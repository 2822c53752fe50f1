package testdata

import (
	"encoding/json"
	"fmt"
	"io/fs"
)

// An Edge is a threshold: an answer says something on one side of it and not on the other. It holds what no
// publication prints as a number to compute: where a caution begins, what is refused, and of what an answer warns.
type Edge struct {
	ID     string          `json:"id"`     // of the calculation
	Says   string          `json:"says"`   // the word of a condition or caution, the field that is refused, or "no-solution"
	At     json.RawMessage `json:"at"`     // what changes in the calculation's example (RFC 7396): it is not said yet
	Beyond json.RawMessage `json:"beyond"` // the same a little further: it is said
	Told   []string        `json:"told"`   // of a refusal: what it says, such as the range that it names, worked out by hand
	Why    string          `json:"why"`    // where the threshold comes from
}

// NoSolution is what an answer says that has none.
const NoSolution = "no-solution"

// Edges returns all thresholds.
func Edges() ([]Edge, error) { return lists[Edge]("edges") }

func (e Edge) check() error {
	if e.ID == "" || e.Says == "" || len(e.At) == 0 || len(e.Beyond) == 0 || e.Why == "" {
		return fmt.Errorf("%s, %s: id, says, at, beyond and why must be there", e.ID, e.Says)
	}
	return nil
}

// lists reads the lists in the files of a folder, and refuses an item that is not whole.
func lists[T interface{ check() error }](folder string) ([]T, error) {
	var out []T
	names, err := fs.Glob(files, folder+"/*.json")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		var list []T
		if err := strict(data, &list); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for _, item := range list {
			if err := item.check(); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		out = append(out, list...)
	}
	return out, nil
}

// Patch returns the input with what the patch changes.
func (Edge) Patch(input, patch []byte) ([]byte, error) {
	var in, change any
	if err := json.Unmarshal(input, &in); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(patch, &change); err != nil {
		return nil, err
	}
	return json.Marshal(merged(in, change))
}

// merged is the merge patch of RFC 7396.
func merged(in, change any) any {
	changes, ok := change.(map[string]any)
	if !ok {
		return change
	}
	out, ok := in.(map[string]any)
	if !ok {
		out = map[string]any{}
	}
	for name, v := range changes {
		if v == nil {
			delete(out, name)
		} else {
			out[name] = merged(out[name], v)
		}
	}
	return out
}
