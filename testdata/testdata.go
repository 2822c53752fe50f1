// Package testdata holds the published checks, their sources and the invented
// demo plant, embedded so that tests, examples and users read the same files.
package testdata

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed sources.json cases edges laws scenario
var files embed.FS

// Scenario returns a file of the invented demo plant.
func Scenario(name string) ([]byte, error) { return files.ReadFile(path.Join("scenario", name)) }

// A Source is where a value to check against comes from.
type Source struct {
	Author     string     `json:"author"`
	Title      string     `json:"title"`
	Year       string     `json:"year"`
	URL        string     `json:"url"`
	Provenance Provenance `json:"provenance"`
}

// Provenance says how a value came to this project.
type Provenance string

// The kinds of provenance.
const (
	Published        Provenance = "published"         // seen in a publication
	CommonPractice   Provenance = "common-practice"   // a fact of the trade, no source
	Memory           Provenance = "memory"            // recalled, not seen
	ReferenceLibrary Provenance = "reference-library" // computed with a general-purpose library
	Derived          Provenance = "derived"           // worked out from the source's own figures
)

// Status says how a source's value and ours stand to each other.
type Status string

// The kinds of status.
const (
	Agrees  Status = "agrees"
	Rounded Status = "rounded" // the source rounded an intermediate value; Note says which
	Erratum Status = "erratum" // the source is wrong; Printed holds its value, Want ours
	Open    Status = "open"    // not settled; none may be left at a release
)

// A Case is one check against a value from outside the project.
type Case struct {
	ID         string          `json:"id"`
	Func       string          `json:"func"`                 // the calculation's id
	Source     string          `json:"source"`               // a key of sources.json
	Locator    string          `json:"locator"`              // where in the source
	Provenance Provenance      `json:"provenance,omitempty"` // if other than the source's
	In         json.RawMessage `json:"in"`
	// Want holds values by the path of the result field, as printed, with
	// units. Two names are special: "conditions" lists words that must be
	// set, and "errors" the fields (or "no-solution") that must be refused.
	Want      map[string]json.RawMessage `json:"want"`
	Printed   map[string]json.RawMessage `json:"printed,omitempty"`    // an erratum's values, which must differ from ours
	Tol       map[string]string          `json:"tol,omitempty"`        // by path; otherwise half a unit of the last printed digit
	TolReason string                     `json:"tol_reason,omitempty"` // why
	Status    Status                     `json:"status"`
	Note      string                     `json:"note"`

	from Source // what Source names
}

// Cite says whose value the case holds, and where it stands.
func (c Case) Cite() string {
	parts := []string{c.from.Author, c.from.Title, c.from.Year, c.Locator}
	parts = slices.DeleteFunc(parts, func(part string) bool { return part == "" })
	return fmt.Sprintf("%s, source %s: %s", c.Provenance, c.Source, strings.Join(parts, ", "))
}

// Sources returns the sources by key.
func Sources() (map[string]Source, error) {
	data, err := files.ReadFile("sources.json")
	if err != nil {
		return nil, err
	}
	var out map[string]Source
	return out, strict(data, &out)
}

// Cases returns every case, by file name, and refuses files that are not in order.
func Cases() ([]Case, error) {
	sources, err := Sources()
	if err != nil {
		return nil, fmt.Errorf("sources.json: %w", err)
	}
	var out []Case
	seen := map[string]string{}
	err = fs.WalkDir(files, "cases", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) != ".json" {
			return err
		}
		data, err := files.ReadFile(name)
		if err != nil {
			return err
		}
		var cases []Case
		if err := strict(data, &cases); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for _, c := range cases {
			if err := c.check(sources, strings.TrimSuffix(path.Base(name), ".json")); err != nil {
				return fmt.Errorf("%s: case %q: %w", name, c.ID, err)
			}
			if other, dup := seen[c.ID]; dup {
				return fmt.Errorf("%s: case %q is in %s too", name, c.ID, other)
			}
			seen[c.ID] = name
			if c.from = sources[c.Source]; c.Provenance == "" {
				c.Provenance = c.from.Provenance
			}
			out = append(out, c)
		}
		return nil
	})
	return out, err
}

func (c Case) check(sources map[string]Source, file string) error {
	_, known := sources[c.Source]
	provenances := []Provenance{"", Published, CommonPractice, Memory, ReferenceLibrary, Derived}
	switch {
	case c.ID == "" || len(c.In) == 0 || len(c.Want) == 0:
		return fmt.Errorf("id, in and want must be there")
	case c.Func != file:
		return fmt.Errorf("func is %q, the file says %q", c.Func, file)
	case !known:
		return fmt.Errorf("source %q is not in sources.json", c.Source)
	case !slices.Contains(provenances, c.Provenance):
		return fmt.Errorf("provenance %q is unknown", c.Provenance)
	case !slices.Contains([]Status{Agrees, Rounded, Erratum, Open}, c.Status):
		return fmt.Errorf("status %q is unknown", c.Status)
	case (c.Status == Erratum) != (len(c.Printed) > 0):
		return fmt.Errorf("printed goes with an erratum, and an erratum has one")
	case (c.Status == Rounded || c.Status == Erratum) && c.Note == "":
		return fmt.Errorf("a note must say what the source did")
	case len(c.Tol) > 0 && c.TolReason == "":
		return fmt.Errorf("a tolerance needs its reason")
	}
	return nil
}

func strict(data []byte, dst any) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	return dec.Decode(dst)
}
