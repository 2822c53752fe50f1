package calc

import "example.com/dough/doughmath/line"

func setUpEntries() []Entry {
	return []Entry{
		ask[line.ControlSettings]("Where does every control, lever and fitting of the line stand for this product, and what contradicts itself?", controlSettingsExample),
		ask[line.KnownGood]("What do our records say ran well last time, where do we start today, and what has changed since?", knownGoodExample),
	}
}

// The examples of what a line is set to are those of a loaf on the invented line, with its controls.
const (
	// loafLine is its machines, without what is set and changed.
	loafLine = `
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
   "cup": "105 mm"
  },
  {
   "name": "large cups",
   "cup": "130 mm",
   "takes_out": [
    "chutes"
   ]
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
 ]`
	changedLine  = "{" + changedParts + "}"
	changedParts = loafLine + `,
 "controls": [
  {
   "name": "handle",
   "machine": "divider",
   "sets": "mark",
   "more": "clockwise",
   "less": "anticlockwise",
   "change": "stopped",
   "time": "1 min"
  },
  {
   "name": "speed wheel",
   "machine": "divider",
   "sets": "strokes",
   "more": "clockwise",
   "less": "anticlockwise",
   "change": "running",
   "time": "1 min"
  },
  {
   "name": "rounding drum",
   "machine": "rounder",
   "sets": "drum",
   "change": "locked-out",
   "time": "10 min",
   "people": 2
  },
  {
   "name": "chutes",
   "machine": "rounder",
   "sets": "fitting",
   "change": "locked-out",
   "time": "4 min"
  },
  {
   "name": "small guides",
   "machine": "rounder",
   "sets": "fitting",
   "drums": [
    "medium cups"
   ],
   "change": "locked-out",
   "time": "3 min"
  },
  {
   "name": "route lever",
   "machine": "discharge belt",
   "sets": "route",
   "positions": [
    {
     "name": "left",
     "value": "moulder"
    },
    {
     "name": "right",
     "value": "panning"
    }
   ],
   "change": "stopped",
   "time": "30 s"
  },
  {
   "name": "moulder switch",
   "machine": "moulder",
   "sets": "moulder",
   "not_with": [
    {
     "at": "off",
     "control": "route lever",
     "control_at": "left",
     "why": "loaves jam in front of the moulder"
    }
   ],
   "change": "any-time",
   "time": "10 s"
  },
  {
   "name": "rollers",
   "machine": "moulder",
   "sets": "last-gap",
   "more": "up",
   "less": "down",
   "change": "stopped",
   "time": "1 min"
  }
 ],
 "changing": {
  "stop": "30 s",
  "lock_out": "1 min",
  "guards": "2 min",
  "start": "1 min",
  "first_check": "4 min",
  "set_aside": 12,
  "tasks": [
   {
    "name": "bring the other drum",
    "machine": "rounder",
    "when": "ahead",
    "for": "move",
    "control": "rounding drum",
    "time": "5 min",
    "people": 2
   },
   {
    "name": "scrape the hopper",
    "machine": "divider",
    "when": "locked-out",
    "for": "always",
    "time": "6 min"
   },
   {
    "name": "wash the hopper",
    "machine": "divider",
    "when": "locked-out",
    "for": "allergens",
    "after": [
     "scrape the hopper"
    ],
    "time": "12 min"
   }
  ]
 }`
	changedOrder = `{
 "pieces": 1500,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g", ` + tinLoaf + `
  "length": "240 mm",
  "allergens": [
   "wheat"
  ]
 }
}`
	changedShift = `{
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
}`

	controlSettingsExample = `{"line":` + changedLine + `,"order":` + changedOrder + `,"shift":` + changedShift + `,
"stands":[
 {
  "control": "handle",
  "at": "30"
 },
 {
  "control": "rounding drum",
  "at": "large cups"
 },
 {
  "control": "small guides",
  "at": "in"
 }
]}`

	knownGoodExample = `{"line":` + changedLine + `,"order":` + changedOrder + `,"shift":{
 "flour_temp": "22 °C",
 "room": "28 °C",
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
},
"records":[{"date":"2026-11-02","line":` + changedLine + `,"order":` + changedOrder + `,"shift":` + changedShift + `,
"settings":[
 {
  "control": "handle",
  "at": "35"
 },
 {
  "control": "rounding drum",
  "at": "large cups"
 },
 {
  "control": "rollers",
  "at": "11.75 mm"
 }
],"good":true,"made":1500,"weighed":20,"mean":"924 g","sd":"6 g","dough_temp":"26.2 °C"}],"last":4}`
)
