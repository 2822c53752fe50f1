package calc

import "example.com/dough/doughmath/line"

func changeoverEntries() []Entry {
	return []Entry{
		ask[line.Changeover]("What do we change and clean from this product to the next, allergens too, in which safe order, who does what, and how long does it take?", changeoverExample),
		ask[line.CriticalPath]("In which order do so many people do these jobs, how long does it take, and which must not be late?", criticalPathExample),
	}
}

const (
	changeoverExample = `{"line":` + changedLine + `,"before":{
 "pieces": 1500,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g", ` + tinLoaf + `
  "length": "240 mm",
  "allergens": [
   "wheat",
   "sesame"
  ]
 }
},"next":{
 "pieces": 1200,
 "spare": 10,
 "product": {
  "name": "Sandwich loaf 500 g", ` + sandwichLoaf + `
  "allergens": [
   "wheat"
  ]
 }
},"shift":` + changedShift + `,"people":2}`

	criticalPathExample = `{
"jobs": [
 {"name": "proofer runs empty", "time": "12 min"},
 {"name": "take the drum out", "time": "8 min", "people": 2, "after": ["proofer runs empty"]},
 {"name": "wash the hopper", "time": "15 min", "people": 1, "after": ["proofer runs empty"]},
 {"name": "put the other drum in", "time": "10 min", "people": 2, "after": ["take the drum out"]},
 {"name": "set the rollers", "time": "3 min", "people": 1, "after": ["proofer runs empty"]}
],
"people": 2
}`
)
