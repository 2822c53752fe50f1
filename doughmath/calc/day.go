package calc

import "example.com/dough/doughmath/line"

func dayEntries() []Entry {
	return []Entry{
		ask[line.DayPlan]("In which order do we make today's products, when does each batch start, is everything ready in time, and what do we draw from the store?", dayPlanExample),
		ask[line.DayClock]("What happens today by the clock: when is each order mixed, scaled, proofed and baked, where is a piece, do racks, hopper or oven run short?", dayClockExample),
		ask[line.RunOrder]("In which order do we make these runs, if the changeover depends on what was made before?", runOrderExample),
	}
}

const (
	// dayPlanExample is three loaves through a night on the invented line, the seeds last.
	dayPlanExample = `{"line":` + changedLine + `,"shift":` + changedShift + `,"orders":[
 {
  "name": "tin loaves",
  "pieces": 1500,
  "product": {
   "name": "Tin loaf 800 g", ` + tinLoaf + `
   "length": "240 mm",
   "allergens": [
    "wheat"
   ]
  },
  "due": "34 h",
  "bake": "35 min",
  "bake_temp": "220 °C",
  "packing": "90 min"
 },
 {
  "name": "seeded loaves",
  "pieces": 600,
  "product": {
   "name": "Seeded loaf 800 g", ` + tinLoaf + `
   "length": "240 mm",
   "allergens": [
    "wheat",
    "sesame"
   ]
  },
  "bake": "35 min",
  "bake_temp": "220 °C",
  "packing": "90 min"
 },
 {
  "name": "sandwich loaves",
  "pieces": 900,
  "product": {
   "name": "Sandwich loaf 500 g", ` + sandwichLoaf + `
   "allergens": [
    "wheat"
   ]
  },
  "due": "29 h",
  "bake": "28 min",
  "bake_temp": "220 °C",
  "packing": "90 min"
 }
],
 "start": "22 h",
 "people": 2,
 "aim": "fewest-late",
 "allergens": "plain-first",
 "oven_reset": "10 min",
 "changeovers": [
  {
   "next": "sandwich loaves",
   "time": "15 min"
  },
  {
   "before": "seeded loaves",
   "time": "25 min"
  }
 ]
}`

	// dayClockExample is two loaves through a night and a tunnel oven, the seeds last.
	dayClockExample = `{"day":{"line":{` + loafLine + `,
 "final_proof": {
  "carrier": "rack",
  "handling": "12 min",
  "available": 30
 },
 "oven": {
  "kind": "tunnel",
  "belt": "24 m"
 }
},"shift":` + changedShift + `,"orders":[
 {
  "name": "seeded loaves",
  "pieces": 600,
  "product": {
   "name": "Seeded loaf 800 g", ` + tinLoaf + `
   "length": "240 mm",
   "allergens": [
    "wheat",
    "sesame"
   ],
   "final_stay": "55 min",
   "per_carrier": 96,
   "baking": {
    "time": "35 min",
    "per_load": 640
   }
  },
  "packing": "90 min"
 },
 {
  "name": "sandwich loaves",
  "pieces": 900,
  "product": {
   "name": "Sandwich loaf 500 g", ` + sandwichLoaf + `
   "allergens": [
    "wheat"
   ],
   "final_stay": "50 min",
   "per_carrier": 120,
   "baking": {
    "time": "28 min",
    "per_load": 800
   }
  },
  "due": "29 h",
  "packing": "90 min"
 }
],
 "start": "22 h",
 "people": 2,
 "aim": "fewest-late",
 "allergens": "plain-first",
 "oven_reset": "10 min",
 "changeover": "40 min"
},
"order": "seeded loaves", "piece": 100, "at": "24 h"}`

	runOrderExample = `{
"runs": [
 {"name": "white rolls", "time": "50 min", "due": "5 h", "next": ["0 s", "10 min", "25 min", "40 min"]},
 {"name": "brown rolls", "time": "40 min", "due": "4 h", "next": ["20 min", "0 s", "25 min", "40 min"]},
 {"name": "tin loaves", "time": "90 min", "due": "3 h", "weight": 2, "first": "15 min", "next": ["30 min", "30 min", "0 s", "15 min"]},
 {"name": "cheese sticks", "time": "30 min", "due": "5 h 30 min", "first": "15 min", "next": ["60 min", "60 min", "45 min", "0 s"], "last": "20 min", "after": ["white rolls"]}
],
"aim": "fewest-late"
}`
)
