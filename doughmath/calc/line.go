package calc

import "example.com/dough/doughmath/line"

func lineEntries() []Entry {
	return []Entry{
		ask[line.Plan]("How do I set the whole line for this product today?", linePlanExample),
		ask[line.Window]("Which speeds, batches, numbers across and roller gaps work for this product, what limits them, what would a little more of a limit buy, and where nothing works, why not?", lineWindowExample),
		ask[line.Clock]("What time of day do we start, and when is each batch mixed, tipped, scaled and at the oven? Does anything wait?", lineClockExample),
		ask[line.OvenRate]("How many pieces does the oven take, on decks, in racks or on the belt of a tunnel, and how fast does its belt run?",
			`{"kind":"rack","places":4,"loading":"3 min","time":"22 min","per_load":96,"piece":"800 g"}`),
	}
}

// linePlanExample is a loaf on an invented line, with nothing that may be left out.
const linePlanExample = `{
"line": {
 "name": "line 2",
 "divider": {
  "strokes_low": "12 strokes/min",
  "strokes_high": "30 strokes/min",
  "stroke_step": "0.5 strokes/min",
  "mark_low": 0,
  "mark_high": 40,
  "mark_step": 0.5,
  "hopper_capacity": "160 kg",
  "confidence": "95 %",
  "interval": "fieller",
  "lanes": [
   {
    "across": 1,
    "shape": "straight",
    "weighting": "by-pieces",
    "trials": [
     {
      "mark": 10,
      "weight": "318 g",
      "pieces": 10
     },
     {
      "mark": 18,
      "weight": "511 g",
      "pieces": 10
     },
     {
      "mark": 26,
      "weight": "702 g",
      "pieces": 10
     },
     {
      "mark": 34,
      "weight": "899 g",
      "pieces": 10
     },
     {
      "mark": 38,
      "weight": "994 g",
      "pieces": 10
     }
    ]
   }
  ]
 },
 "proofer": {
  "pockets": 6,
  "trays": 50,
  "last_pass_trays": 40,
  "trays_per_stroke": 1
 },
 "drums": [
  {
   "name": "medium cups",
   "cup": "80 mm"
  },
  {
   "name": "large cups",
   "cup": "130 mm"
  }
 ],
 "cup_ratio": {
  "low": 0.8,
  "high": 0.97
 },
 "moulder": {
  "rate_high": "60 pieces/min",
  "gap_low": "1 mm",
  "gap_high": "14 mm",
  "gap_step": "0.25 mm",
  "recovery": 1.6,
  "measured": true
 },
 "belts": [
  {
   "name": "discharge belt",
   "place": "before-moulder",
   "belt_speed": "14 m/min",
   "across": 2,
   "least_gap": "40 mm"
  },
  {
   "name": "moulder belt",
   "place": "before-moulder",
   "even_merge": true,
   "belt_speed": "18 m/min",
   "route": "moulder",
   "across": 1,
   "least_gap": "60 mm"
  }
 ]
},
"order": {
 "pieces": 1500,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g", ` + tinLoaf + `
  "length": "240 mm"
 }
},
"shift": {
 "flour_temp": "22 °C",
 "room": "25 °C",
 "tap": "15 °C",
 "waste": "1 %",
 "waste_basis": "order",
 "mixer": {
  "low": "40 kg",
  "high": "200 kg",
  "mixing": "12 min",
  "cycle": "10 min"
 },
 "division": "10 g"
}
}`

// lineClockExample is the same loaf with a soaker from the day before, to be in the oven at six.
const lineClockExample = `{"line":{` + loafLine + `,
 "final_proof": {
  "carrier": "rack",
  "handling": "12 min",
  "available": 30
 },
 "oven": {
  "kind": "rack",
  "places": 7,
  "loading": "2 min"
 }
},"order":{
 "pieces": 800,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g", ` + tinLoaf + `
  "length": "240 mm",
  "final_stay": "55 min",
  "per_carrier": 96,
  "preferments": [
   {
    "name": "wholemeal soaker",
    "amount": "10 %",
    "reading": "flour-on-flour",
    "parts": [
     {
      "name": "wholemeal flour",
      "percent": "100 %"
     },
     {
      "name": "water",
      "percent": "100 %"
     }
    ]
   }
  ],
  "preferment_mixes": [
   {
    "name": "wholemeal soaker",
    "mixing": "10 min",
    "ripening": "12 h",
    "keeps": "30 min"
   }
  ],
  "baking": {
   "time": "35 min",
   "per_load": 96,
   "stay_max": "70 min"
  }
 }
},"shift":` + changedShift + `,"oven_at":"6 h","piece":500,"at":"6 h 30 min"}`

// lineWindowExample asks for everything at which the same loaf runs.
const lineWindowExample = `{"line":` + changedLine + `,"order":` + changedOrder + `,"shift":` + changedShift + `}`
