package calc_test

import (
	"encoding/json"
	"os"
	"sync"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
)

// all asks for everything (CHECKS=all). Every day the largest questions, which hold a whole line or day, are tried as
// a sample: they take longer than all the others together.
var all = os.Getenv("CHECKS") == "all"

// large reports whether a question is tried as a sample: one in eight of what would be tried.
func large(e calc.Entry) bool { return !all && len(e.Example) > 2500 }

// mutations is how many of an example are tried: fewer of those that are long.
func mutations(e calc.Entry) int {
	if all {
		return 100
	}
	return max(5, min(40, 40_000/len(e.Example)))
}

// ran is how an input comes out. Many tests look at the same examples and cases: each is run once, with
// its working and without.
type ran struct {
	explained, plain any
	err, plainErr    error
	working          reckon.Working
}

var once sync.Map // by id and input

func runOnce(e calc.Entry, in json.RawMessage) *ran {
	made, _ := once.LoadOrStore(e.ID+" "+string(in), sync.OnceValue(func() *ran {
		r := new(ran)
		r.explained, r.err = e.Run(in, &r.working)
		r.plain, r.plainErr = e.Run(in, nil)
		return r
	}))
	return made.(func() *ran)()
}
