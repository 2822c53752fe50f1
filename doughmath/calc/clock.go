package calc

import "example.com/dough/doughmath/line"

func clockEntries() []Entry {
	return []Entry{
		ask[line.Clock]("What time of day do we start, and when is each batch mixed, tipped, scaled and at the oven? Does anything wait?", lineClockExample),
		ask[line.OvenRate]("How many pieces does the oven take, on decks, in racks or on the belt of a tunnel, and how fast does its belt run?",
			`{"kind":"rack","places":4,"loading":"3 min","time":"22 min","per_load":96,"piece":"800 g"}`),
	}
}

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
