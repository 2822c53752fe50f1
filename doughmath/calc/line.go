package calc

import "example.com/dough/doughmath/line"

func lineEntries() []Entry {
	return []Entry{
		ask[line.Plan]("How do I set the whole line for this product today?", linePlanExample),
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
