package calc

// Products of the invented line that several examples make: what they have in common.
const (
	// tinLoaf is also made with seeds.
	tinLoaf = `
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
 "dough_temp": "26 °C",
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
 "sheet_aspect": 2.5,`
	sandwichLoaf = `
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
 "baked": "500 g",
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
 "dough_temp": "26 °C",
 "friction": "24 C°",
 "friction_basis": "once",
 "floor_time": "10 min",
 "hopper_max": "15 min",
 "across": 1,
 "dwell_low": "10 min",
 "dwell_high": "20 min",
 "rate_high": "18 pieces/min",
 "density": "1.05 g/ml",
 "route": "moulder",
 "turns": 2.5,
 "sheet_aspect": 2.5,
 "length": "200 mm",`
)
