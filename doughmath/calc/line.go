package calc

import "example.com/dough/doughmath/line"

func lineEntries() []Entry {
	return []Entry{
		listEntry("line-plan", "What are all the settings for this product on this line today?", linePlanExample, line.ExplainPlan),
	}
}

// linePlanExample is a loaf on an invented line.
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
  "hopper": "160 kg",
  "confidence": "95 %",
  "interval": "fieller",
  "lanes": [
   {
    "across": 2,
    "shape": "straight",
    "weighting": "by-pieces",
    "trials": [
     {
      "mark": 6,
      "weight": "30.4 g",
      "pieces": 20
     },
     {
      "mark": 12,
      "weight": "49.1 g",
      "pieces": 20
     },
     {
      "mark": 18,
      "weight": "68.3 g",
      "pieces": 20
     },
     {
      "mark": 24,
      "weight": "86.2 g",
      "pieces": 20
     },
     {
      "mark": 30,
      "weight": "105.5 g",
      "pieces": 20
     }
    ]
   },
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
   "name": "small cups",
   "cup": "52 mm"
  },
  {
   "name": "medium cups",
   "cup": "80 mm"
  },
  {
   "name": "large cups",
   "cup": "130 mm"
  }
 ],
 "drum_fill": {
  "low": 0.8,
  "high": 0.97
 },
 "stamper": {
  "stamps_low": "10 strokes/min",
  "stamps_high": "28 strokes/min",
  "die": "rotating",
  "around": 8,
  "contact": "12 %"
 },
 "moulder": {
  "rate_high": "60 pieces/min",
  "gap_low": "1 mm",
  "gap_high": "14 mm",
  "gap_step": "0.25 mm",
  "recovery": 1.6,
  "measured": true,
  "first_pair": {
   "recovery": 1.5,
   "limit": 4,
   "scale": {
    "method": "table",
    "points": [
     {
      "number": 1,
      "gap": "4 mm"
     },
     {
      "number": 4,
      "gap": "12 mm"
     },
     {
      "number": 8,
      "gap": "25 mm"
     },
     {
      "number": 12,
      "gap": "40 mm"
     }
    ]
   },
   "last_scale": {
    "method": "table",
    "points": [
     {
      "number": 1,
      "gap": "1 mm"
     },
     {
      "number": 5,
      "gap": "5.5 mm"
     },
     {
      "number": 9,
      "gap": "10 mm"
     },
     {
      "number": 13,
      "gap": "14 mm"
     }
    ]
   }
  },
  "curling_chain": {
   "heights": [
    {
     "name": "low",
     "up_to": "90 g"
    },
    {
     "name": "middle",
     "up_to": "400 g"
    },
    {
     "name": "high",
     "up_to": "1200 g"
    }
   ],
   "margin": "5 %",
   "measured": true
  },
  "pressure_board": {
   "length": "900 mm",
   "belt": "18 m/min",
   "spring": 1.3,
   "bite": "12 %",
   "seal_turns": 2,
   "measured": true
  },
  "side_guides": {
   "spread": 1.02,
   "narrowest": "60 mm",
   "widest": "320 mm",
   "measured": true
  }
 },
 "final_proof": {
  "holder": "rack",
  "handling": "12 min",
  "available": 40
 },
 "parts": [
  {
   "part": "rounding-drum",
   "material": "plastic"
  },
  {
   "part": "drum-brush",
   "material": "glued"
  },
  {
   "part": "stamp-die",
   "material": "plastic"
  }
 ],
 "oil_valves": [
  "1.2 ml/min",
  "1.2 ml/min"
 ],
 "flour_duster": {
  "intercept": "0.05 g",
  "per_step": "0.12 g",
  "from": 1,
  "to": 5,
  "spread": "0.03 g",
  "trials": 8
 },
 "rounder": {
  "diameter": "620 mm",
  "speed": "38 rev/min",
  "path": "2.4 m",
  "travel": "rolling",
  "least": "3 s",
  "most": "8 s"
 },
 "belts": [
  {
   "name": "discharge belt",
   "speed": "14 m/min",
   "lanes": 2,
   "least_gap": "40 mm"
  },
  {
   "name": "moulder belt",
   "speed": "18 m/min",
   "route": "moulder",
   "lanes": 1,
   "least_gap": "60 mm"
  }
 ]
},
"order": {
 "pieces": 1500,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g",
  "formula": [
   {
    "name": "bread flour",
    "percent": "90 %",
    "role": "flour"
   },
   {
    "name": "wholemeal flour",
    "percent": "10 %",
    "role": "flour"
   },
   {
    "name": "water",
    "percent": "61 %",
    "role": "water"
   },
   {
    "name": "fresh yeast",
    "percent": "2.5 %",
    "role": "other"
   },
   {
    "name": "salt",
    "percent": "1.8 %",
    "role": "salt"
   },
   {
    "name": "fat",
    "percent": "2 %",
    "role": "other"
   }
  ],
  "baked": "800 g",
  "loss": {
   "bake": {
    "percent": "10.5 %",
    "basis": "dough"
   },
   "cooling": {
    "percent": "1.5 %",
    "basis": "dough"
   },
   "combine": "compounded"
  },
  "tolerance": "12 g",
  "dough": "26 °C",
  "friction": "24 C°",
  "friction_basis": "once",
  "floor_time": "10 min",
  "hopper_max": "15 min",
  "across": 1,
  "dwell_low": "10 min",
  "dwell_high": "20 min",
  "rate_high": "16 pieces/min",
  "density": "1.05 g/ml",
  "route": "moulder",
  "turns": 2.5,
  "sheet_aspect": 2.5,
  "length": "240 mm",
  "stickiness": 1.5,
  "final_stay": "55 min",
  "per_holder": 96,
  "panned": {
   "pan": {
    "length": "260 mm",
    "width": "112 mm",
    "depth": "108 mm",
    "bottom_length": "250 mm",
    "bottom_width": "100 mm"
   },
   "growth": 2.8,
   "fill_low": "75 %",
   "fill_high": "95 %",
   "measured": true
  },
  "heat": {
   "specific_heats": "composition",
   "hydration_heat": "15.1 kJ/kg",
   "power": "16 kW",
   "time": "5 min",
   "cooling": "400 kJ",
   "ice_temp": "-8 °C",
   "ingredients": [
    {
     "kind": "bread-flour",
     "temp": "22 °C"
    },
    {
     "kind": "whole-grain-flour",
     "temp": "22 °C"
    },
    {
     "kind": "water"
    },
    {
     "kind": "compressed-yeast",
     "temp": "6 °C"
    },
    {
     "kind": "salt",
     "temp": "25 °C"
    },
    {
     "kind": "fat",
     "temp": "20 °C"
    }
   ]
  },
  "label": {
   "rules": "eu-76-211",
   "spread": "7 g",
   "first_share": "2 %",
   "second_share": "0.1 %"
  },
  "check": {
   "sd": "6 g",
   "half_width": "4 g",
   "level": "95 %",
   "every": "15 min"
  }
 }
},
"shift": {
 "flour": "22 °C",
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
