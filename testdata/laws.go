package testdata

import (
	"encoding/json"
	"fmt"
)

// A Law is what holds of the answers of a calculation whatever its inputs: of two answers whose questions differ in a
// few inputs, or of the numbers of one. Inputs and numbers are paths; "rows[].mass" is every item's.
type Law struct {
	ID      string          `json:"id"`                // of the calculation
	With    json.RawMessage `json:"with,omitempty"`    // what changes in the calculation's example first (RFC 7396)
	Without []string        `json:"without,omitempty"` // inputs that are left out: the law does not hold with them

	More    []string `json:"more,omitempty"`    // inputs that are all multiplied by one factor above 1
	Rises   []string `json:"rises,omitempty"`   // numbers of the answer that do not fall then
	Falls   []string `json:"falls,omitempty"`   // those that do not rise
	Grows   []string `json:"grows,omitempty"`   // those that are multiplied by the factor
	Shrinks []string `json:"shrinks,omitempty"` // those that are divided by it
	Stays   []string `json:"stays,omitempty"`   // those that stay as they are

	Sum []string `json:"sum,omitempty"` // numbers of the answer, or of the question, that add up; one after "-" is taken away
	To  string   `json:"to,omitempty"`  // to this one

	Back  string            `json:"back,omitempty"`  // the calculation that leads back
	From  map[string]string `json:"from,omitempty"`  // its inputs that are numbers of the answer; the others are those of the same name
	Gives map[string]string `json:"gives,omitempty"` // its numbers that are inputs again, by the input

	Why string `json:"why"` // which law of nature or of arithmetic it is
}

// Laws returns all laws.
func Laws() ([]Law, error) { return lists[Law]("laws") }

func (l Law) check() error {
	compares := len(l.Gives) + len(l.Rises) + len(l.Falls) + len(l.Grows) + len(l.Shrinks) + len(l.Stays)
	if l.ID == "" || l.Why == "" || (len(l.More) > 0 || l.Back != "") != (compares > 0) || (len(l.Sum) > 0) != (l.To != "") || compares == 0 && l.To == "" {
		return fmt.Errorf("%s: id, why, and more with what follows from it or sum with to must be there", l.ID)
	}
	return nil
}
