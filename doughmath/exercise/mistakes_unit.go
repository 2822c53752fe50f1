package exercise

// unitMistakes are slips of the unit, made with any calculation. Asked is the
// quantity, and x in the relation is the right answer in the unit held.
var unitMistakes = []Mistake{
	{ID: "minutes-for-seconds", Asked: "duration", Relation: "x*60", Says: "A time in seconds was called minutes, or one in minutes hours: 60 of the smaller make one of the larger."},
	{ID: "seconds-for-minutes", Asked: "duration", Relation: "x/60", Says: "A time in minutes was called seconds, or one in hours minutes: 60 of the smaller make one of the larger."},
	{ID: "grams-called-kilograms", Asked: "mass", Units: "metric", Relation: "x*1000", Says: "A weight in grams was called kilograms: 1 kg is 1000 g."},
	{ID: "kilograms-called-grams", Asked: "mass", Units: "metric", Relation: "x/1000", Says: "A weight in kilograms was called grams: 1 kg is 1000 g."},
	{ID: "ounces-called-pounds", Asked: "mass", Units: "us", Relation: "x*16", Says: "A weight in ounces was called pounds: 1 lb is 16 oz."},
	{ID: "pounds-called-ounces", Asked: "mass", Units: "us", Relation: "x/16", Says: "A weight in pounds was called ounces: 1 lb is 16 oz."},
	{ID: "millimetres-called-centimetres", Asked: "length", Units: "metric", Relation: "x*10", Says: "A length in millimetres was called centimetres: 1 cm is 10 mm."},
	{ID: "centimetres-called-millimetres", Asked: "length", Units: "metric", Relation: "x/10", Says: "A length in centimetres was called millimetres: 1 cm is 10 mm."},
	{ID: "inches-called-feet", Asked: "length", Units: "us", Relation: "x*12", Says: "A length in inches was called feet: 1 ft is 12 in."},
	{ID: "feet-called-inches", Asked: "length", Units: "us", Relation: "x/12", Says: "A length in feet was called inches: 1 ft is 12 in."},
	{ID: "share-for-percent", Asked: "percent", Relation: "x/100", Says: "That is the share of one; as a percentage it is 100 times as much."},
	{ID: "share-for-bakers-percent", Asked: "baker's percent", Relation: "x/100", Says: "That is the share of one; as a percentage it is 100 times as much."},
	{ID: "fahrenheit-called-celsius", Asked: "temperature", Units: "metric", Relation: "x*9/5 + 32", Says: "That number is right in °F and was written as °C."},
	{ID: "celsius-called-fahrenheit", Asked: "temperature", Units: "us", Relation: "(x - 32)*5/9", Says: "That number is right in °C and was written as °F."},
	{ID: "difference-with-32", Asked: "temperature difference", Units: "us", Relation: "x + 160/9", Says: "A difference of temperatures is converted by 9/5 alone; the 32 belongs to temperatures on the scale."},
	{ID: "difference-not-converted", Asked: "temperature difference", Units: "us", Relation: "x*5/9", Says: "That is the difference in C°; in F° it is 9/5 of that."},
	{ID: "metres-a-minute-for-millimetres-a-second", Asked: "speed", Units: "metric", Relation: "x*1000/60", Says: "1 m/min is 1000 mm in 60 s: the speed in one unit was called the other."},
	{ID: "pieces-an-hour-for-a-minute", Asked: "piece rate", Relation: "x*60", Says: "That is the rate for an hour; it was called a rate for a minute."},
	{ID: "pieces-a-minute-for-an-hour", Asked: "piece rate", Relation: "x/60", Says: "That is 60 times too little: an hour has 60 minutes."},
	{ID: "strokes-an-hour-for-a-minute", Asked: "stroke rate", Relation: "x*60", Says: "That is 60 times too much: an hour has 60 minutes."},
	{ID: "strokes-a-second-for-a-minute", Asked: "stroke rate", Relation: "x/60", Says: "Those are strokes a second; a minute has 60 of them."},
	{ID: "dough-a-minute-for-an-hour", Asked: "mass rate", Relation: "x/60", Says: "That is what is used in a minute; an hour has 60 of them."},
	{ID: "oil-an-hour-for-a-minute", Asked: "volume rate", Relation: "x*60", Says: "That is 60 times too much: an hour has 60 minutes."},
}
