package calc

import "example.com/dough/doughmath/line"

func faultEntries() []Entry {
	return []Entry{
		ask[line.FaultCauses]("Why are the pieces or the run not as wanted, what is to blame, and which control do we move, which way and how far?", faultCausesExample),
	}
}

// faultCausesExample is the loaf on the invented line with the handle above its mark: pieces too heavy, and the dough hardly warmer than planned.
const faultCausesExample = `{"line":` + changedLine + `,"order":{
 "pieces": 1500,
 "spare": 10,
 "product": {
  "name": "Tin loaf 800 g", ` + tinLoaf + `
  "length": "240 mm"
 }
},"shift":` + changedShift + `,"symptom":"too-heavy",
"readings":{
 "weighings": ["968 g", "955 g", "961 g", "972 g", "958 g", "965 g", "963 g", "970 g", "959 g", "966 g"],
 "sd": "6 g",
 "mark": 37,
 "dough_temp": "26.3 °C"
},
"instruments":{
 "thermometer": "0.3 C°"
}}`
