package doughmath

import (
	"math"
	"strconv"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// FrictionModel names what the friction of a mixer is taken to depend on.
type FrictionModel string

const (
	// FrictionMean takes it for one figure with its scatter.
	FrictionMean FrictionModel = "mean"
	// FrictionByTime lets it rise with the mixing time.
	FrictionByTime FrictionModel = "time"
	// FrictionBySize lets it change with the batch size.
	FrictionBySize FrictionModel = "size"
	// FrictionByTimeAndSize lets it change with both.
	FrictionByTimeAndSize FrictionModel = "time-and-size"
)

// LoggedBatch is one line of the mixing log.
type LoggedBatch struct {
	Mixer  string        `json:"mixer"`           // the mixer, as you call it
	Speed  string        `json:"speed,omitzero"`  // its speed or programme, as you call it
	Day    string        `json:"day,omitzero"`    // the day, as you write it; needed for all batches if the first batch of today is to be judged
	Size   unit.Mass     `json:"size"`            // dough in the batch, 0.001 g to 100 t
	Time   unit.Duration `json:"time"`            // mixing time, more than 0 to 4 h
	Dough  unit.Temp     `json:"dough"`           // dough temperature at the end of mixing, -10 to 60 °C
	Water  unit.Temp     `json:"water"`           // water temperature; below 0 °C stands for ice and water; -80 to 55 °C
	Flour  unit.Temp     `json:"flour"`           // flour temperature, -40 to 60 °C
	Room   unit.Temp     `json:"room,omitzero"`   // room temperature, -40 to 60 °C; in all batches or in none
	Third  unit.Temp     `json:"third,omitzero"`  // preferment, starter or soaker, if any, -40 to 60 °C
	Fourth unit.Temp     `json:"fourth,omitzero"` // a second one, if any, -40 to 60 °C
}

// FrictionLog returns the friction to use for the next batch of a mixer, from
// the log of earlier ones, and how far the dough may be off:
//
//	F = a + b*time + s*size,  half width = t*S*sqrt(1 + h),  dough off by half width / N
//
// fitted by least squares, with S the scatter around the fit, h the distance of
// the batch to come from the middle of the log, and t of Student's
// distribution. The friction is that of [FrictionFactor], taken off once.
//
// After the first batch of the day, the share k = D²/(D² + W²) of its surprise
// is taken for the day's own and kept, where D is the spread between days and
// W that within a day, both from the residuals grouped by day. The next dough is
// then off by up to t_1*W*sqrt(1 + k)/N, with t_1 for the degrees of freedom of W, which
// are the batches less the days, or for those of the fit if they are fewer. So a log
// with few days of two batches or more gives a wide interval.
//
// It holds for one formula, one mixer and one speed, and for sizes and times
// within the log. The interval takes batches for independent; if days differ
// much, a log of few days says less than it shows. The interval after the first batch leaves
// out that D is an estimate, and holds fewer batches than promised if it comes from fewer than five days.
//
// The first batch is held against the log too. The condition outlier means that a batch
// of the log, or the first one, lies more than 3 standard deviations off: look
// for a misread thermometer before you use what it says of the day. Extrapolated means that
// the batch to come, or the first one, lies outside the times or sizes that the model
// was fitted on. Few-batches means that the scatter, or with a first batch D or W, rests on
// fewer than 4 degrees of freedom, or that the dough may be off by more than the tolerance.
//
// It returns an *[reckon.InputError] if:
//   - there are more than 10000 batches, or too few of the mixer and speed for the model (one more than its terms),
//   - a batch has a value that [FrictionFactor] refuses, a size outside 0.001 g to 100 t, a time outside 0 to 4 h, or no mixer,
//   - the batches that count differ in the number of temperatures,
//   - the model is not named, or sizes or times do not differ enough to fit it,
//   - size is outside 0.001 g to 100 t, time outside 0 to 4 h, confidence outside 50 to 99.9 %, tolerance outside 0 to 10 C°,
//   - there is a first batch of another mixer or speed than the batch to come, or with another number of temperatures than the log,
//   - there is a first batch, and not every batch has its day, or no day has two batches, or there is only one day.
//
// Source: least squares and prediction interval, NIST/SEMATECH e-Handbook of Statistical Methods, chapter 4;
// days and their degrees of freedom, D. C. Montgomery, Design and Analysis of Experiments, the random effects model; cases in testdata/cases/doughmath/friction-log.json.
//
// One batch alone is [FrictionFactor].
type FrictionLog struct {
	Batches    []LoggedBatch  `json:"batches"`            // the log, up to 10000 batches, of any mixer and speed
	Mixer      string         `json:"mixer"`              // the mixer of the batch to come; only its batches count
	Speed      string         `json:"speed,omitzero"`     // its speed; only batches of this speed count
	Model      FrictionModel  `json:"model"`              // "mean", "time", "size" or "time-and-size"
	Size       unit.Mass      `json:"size"`               // size of the batch to come, 0.001 g to 100 t
	Time       unit.Duration  `json:"time"`               // its mixing time, more than 0 to 4 h
	Confidence unit.Percent   `json:"confidence"`         // how sure the interval is to hold the batch to come, 50 to 99.9 %
	Tolerance  unit.TempDelta `json:"tolerance,omitzero"` // how far the dough may be off, 0 to 10 C°; 0 sets no tolerance
	First      LoggedBatch    `json:"first,omitzero"`     // today's first batch, on the same mixer and speed, if it is out
}

func (FrictionLog) ID() string { return "friction-log" }

// SHELL
func (q FrictionLog) Check(c *reckon.Checks) {
	_, err := explainFrictionLog(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q FrictionLog) Solve() (FrictionLogResult, error) { return explainFrictionLog(q, nil) }

func (q FrictionLog) Show(w *reckon.Working, _ FrictionLogResult) { _, _ = explainFrictionLog(q, w) }

// FrictionLogResult is what the log says.
type FrictionLogResult struct {
	Batches int            `json:"batches"` // batches that count
	Factors int            `json:"factors"` // N of the factor rule in the log
	Mean    unit.TempDelta `json:"mean"`    // mean friction, taken off once
	SD      unit.TempDelta `json:"sd"`      // standard deviation around the mean
	Least   unit.TempDelta `json:"least"`   // least friction in the log
	Most    unit.TempDelta `json:"most"`    // most

	Constant unit.TempDelta `json:"constant"`    // a of the fit
	ByMinute unit.TempDelta `json:"by_minute"`   // b, rise of the friction for each minute; 0 if not in the model
	ByKilo   unit.TempDelta `json:"by_kilogram"` // s, change of the friction for each kilogram; 0 if not in the model
	Scatter  unit.TempDelta `json:"scatter"`     // standard deviation around the fit
	Farthest int            `json:"farthest"`    // number of the batch that lies farthest from the fit, counted from 1

	Friction  unit.TempDelta `json:"friction"`   // friction to use for the batch to come, taken off once
	PerFactor unit.TempDelta `json:"per_factor"` // the same for each factor
	Low       unit.TempDelta `json:"low"`        // interval that holds the friction of the batch to come
	High      unit.TempDelta `json:"high"`       // its upper end
	DoughOff  unit.TempDelta `json:"dough_off"`  // how far the dough may be off on that account, either way

	DaySpread    unit.TempDelta `json:"day_spread"`    // standard deviation between days; 0 if days were not logged
	WithinDay    unit.TempDelta `json:"within_day"`    // standard deviation within a day; 0 if days were not logged
	FirstCounts  unit.Percent   `json:"first_counts"`  // how much of the first batch's surprise is the day's and stays
	Today        unit.TempDelta `json:"today"`         // friction to use for the rest of today, taken off once; as friction without a first batch
	TodayDough   unit.TempDelta `json:"today_dough"`   // how far the dough may be off then, either way; as dough_off without a first batch
	FirstFurther unit.TempDelta `json:"first_further"` // how much more friction the first batch showed than foreseen

	Conditions Conditions `json:"conditions"` // few-batches, extrapolated, outlier, friction-negative
}

const (
	mostBatches = 10000
	// fewFreedom is the number of degrees of freedom below which a scatter is
	// hardly known: with 4 its 95 % interval reaches from 0.6 to 2.9 times the value.
	fewFreedom = 4
	// outlierSDs is how far, in standard deviations, a batch is pointed out. Common practice.
	outlierSDs = 3
)

func explainFrictionLog(in FrictionLog, w *reckon.Working) (out FrictionLogResult, err error) {
	c := reckon.Checks{Func: "friction-log"}
	reckon.CheckWord(&c, "model", in.Model, FrictionMean, FrictionByTime, FrictionBySize, FrictionByTimeAndSize)
	if in.Mixer == "" {
		c.Fail("mixer", "not given", "the name of the mixer")
	}
	checkSizeAndTime(&c, "", in.Size, in.Time)
	reckon.CheckRange(&c, "confidence", in.Confidence, 50, 99.9)
	reckon.CheckRange(&c, "tolerance", in.Tolerance, 0, 10)
	if len(in.Batches) > mostBatches {
		c.Fail("batches", strconv.Itoa(len(in.Batches)), "up to "+strconv.Itoa(mostBatches))
		return FrictionLogResult{}, c.Err()
	}
	log := gather(&c, in)
	terms := in.Model.terms()
	if c.OK() && log.len() < terms+1 {
		c.Fail("batches", strconv.Itoa(log.len())+" of this mixer and speed", strconv.Itoa(terms+1)+" or more for the model "+strconv.Quote(string(in.Model)))
	}
	withFirst := in.First != (LoggedBatch{})
	var firstFriction float64
	if withFirst {
		first, n := in.First.friction(&c, "first")
		firstFriction = first
		if c.OK() && n != log.factors {
			c.Fail("first", strconv.Itoa(n)+" temperatures with the water", strconv.Itoa(log.factors)+" as in the log")
		}
		if in.First.Mixer != "" && in.First.Mixer != in.Mixer {
			c.Fail("first.mixer", strconv.Quote(unit.Clip(in.First.Mixer)), "the mixer of the batch to come")
		}
		if in.First.Speed != in.Speed {
			c.Fail("first.speed", strconv.Quote(unit.Clip(in.First.Speed)), "the speed of the batch to come")
		}
		log.checkDays(&c)
	}
	if err := c.Err(); err != nil {
		return FrictionLogResult{}, err
	}
	fit, ok := log.fit(in.Model)
	if !ok {
		c.Fail("model", strconv.Quote(string(in.Model)), "a model that the log can tell: sizes or times differ too little, or go together")
		return FrictionLogResult{}, c.Err()
	}

	out = FrictionLogResult{Batches: log.len(), Factors: log.factors}
	out.Mean, out.SD, out.Least, out.Most = log.summary()
	out.Constant, out.ByMinute, out.ByKilo = unit.TempDelta(fit.constant), unit.TempDelta(fit.byMinute), unit.TempDelta(fit.byKilo)
	freedom := log.len() - terms
	n := float64(log.factors)
	t := studentsT(in.Confidence, freedom)
	scatter, farthest, distance := log.scatter(fit, freedom)
	out.Scatter, out.Farthest = unit.TempDelta(scatter), log.number[farthest]
	minutes, kilograms := in.Time.Minutes(), in.Size.Kilograms()
	friction, h := fit.at(minutes, kilograms), fit.leverage(minutes, kilograms)
	half := float64(t * scatter * math.Sqrt(1+h))
	out.Friction, out.PerFactor = unit.TempDelta(friction), unit.TempDelta(friction/n)
	out.Low, out.High, out.DoughOff = unit.TempDelta(friction-half), unit.TempDelta(friction+half), unit.TempDelta(half/n)
	out.Today, out.TodayDough = out.Friction, out.DoughOff
	between, within, days := log.daySpread(fit)
	if days {
		out.DaySpread, out.WithinDay = unit.TempDelta(between), unit.TempDelta(within)
	}
	share, today := 0.0, t
	freedomToday := freedom
	if withFirst {
		firstMinutes, firstKilograms := in.First.Time.Minutes(), in.First.Size.Kilograms()
		surprise := firstFriction - fit.at(firstMinutes, firstKilograms)
		if between > 0 {
			share = between * between / (float64(between*between) + float64(within*within))
		}
		out.FirstFurther, out.FirstCounts = unit.TempDelta(surprise), unit.Percent(100*share)
		out.Today = unit.TempDelta(friction + float64(share*surprise))
		// The spread within a day is what carries the interval from here on, and few pairs may stand behind it.
		if freedomToday = min(freedom, log.len()-log.days); freedomToday < freedom {
			today = studentsT(in.Confidence, freedomToday)
		}
		out.TodayDough = unit.TempDelta(today * within * math.Sqrt(1+share) / n)
		if math.Abs(surprise) > float64(outlierSDs*scatter*math.Sqrt(1+fit.leverage(firstMinutes, firstKilograms)))+roundingSlack {
			out.Conditions |= reckon.Outlier
		}
		if !log.spans(in.Model, firstMinutes, firstKilograms) {
			out.Conditions |= reckon.Extrapolated
		}
	}
	few := freedomToday < fewFreedom || withFirst && log.days-1 < fewFreedom
	if few || in.Tolerance > 0 && out.TodayDough > in.Tolerance {
		out.Conditions |= FewBatches
	}
	if !log.spans(in.Model, minutes, kilograms) {
		out.Conditions |= reckon.Extrapolated
	}
	if distance > outlierSDs {
		out.Conditions |= reckon.Outlier
	}
	if out.Today < 0 {
		out.Conditions |= FrictionNegative
	}
	if w != nil {
		w.Given("factors counted, the water included", "N", n, "", "")
		w.Given("constant of the fit", "a", fit.constant, "C°", "least squares")
		w.Given("friction for each minute", "b", fit.byMinute, "C°", "least squares")
		w.Given("friction for each kilogram", "s", fit.byKilo, "C°", "least squares")
		w.Given("mixing time", "time", minutes, "min", "")
		w.Given("batch size", "size", kilograms, "kg", "")
		w.Given("scatter around the fit", "S", scatter, "C°", "residuals over "+strconv.Itoa(freedom)+" degrees of freedom")
		w.Given("distance from the middle of the log", "h", h, "", "leverage of the batch to come")
		w.Given("Student's t", "t", t, "", "for the confidence and degrees of freedom")
		w.Step("half width of the interval", "half", "t*S*sqrt(1 + h)", half, "C°", "prediction interval")
		w.Step("how far the dough may be off", "off", "half / N", float64(out.DoughOff), "C°", "")
		w.Step("friction", "F", "a + b*time + s*size", friction, "C°", "")
		if withFirst {
			w.Given("spread between days", "D", between, "C°", "residuals grouped by day")
			w.Given("spread within a day", "W", within, "C°", "residuals grouped by day")
			w.Given("surprise of the first batch", "u", float64(out.FirstFurther), "C°", "")
			if between > 0 {
				w.Step("share of it that is the day's", "k", "D*D / (D*D + W*W)", share, "", "")
			} else {
				w.Given("share of it that is the day's", "k", 0, "", "days do not differ")
			}
			w.Given("Student's t for the rest of today", "t_1", today, "", "for the confidence and "+strconv.Itoa(freedomToday)+" degrees of freedom, the fewer of W's and the fit's")
			w.Step("how far the next dough may be off", "off_1", "t_1*W*sqrt(1 + k) / N", float64(out.TodayDough), "C°", "")
			w.Step("friction for the rest of today", "F_1", "F + k*u", float64(out.Today), "C°", "")
		}
	}
	return out, nil
}

// studentsT returns the quantile of Student's distribution that holds a share of confidence, half of the rest on each side.
func studentsT(confidence unit.Percent, freedom int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(freedom)}.Quantile(0.5 + float64(confidence)/200)
}

// terms returns how many figures the model fits.
func (m FrictionModel) terms() int {
	switch m {
	case FrictionByTime, FrictionBySize:
		return 2
	case FrictionByTimeAndSize:
		return 3
	}
	return 1
}

func (m FrictionModel) usesTime() bool { return m == FrictionByTime || m == FrictionByTimeAndSize }
func (m FrictionModel) usesSize() bool { return m == FrictionBySize || m == FrictionByTimeAndSize }

func checkSizeAndTime(c *reckon.Checks, prefix string, size unit.Mass, time unit.Duration) {
	reckon.CheckRange(c, prefix+"size", size, leastMass, mostWater)
	if reckon.CheckPositive(c, prefix+"time", time) && time > unit.Hours(4) {
		c.Fail(prefix+"time", time.String(), "up to 4 h")
	}
}

// friction checks the batch and returns its friction, once, and its N.
func (b LoggedBatch) friction(c *reckon.Checks, field string) (float64, int) {
	if b.Mixer == "" {
		c.Fail(field+".mixer", "not given", "the name of the mixer")
	}
	checkSizeAndTime(c, field+".", b.Size, b.Time)
	batch := FrictionFactor{Dough: b.Dough, Water: b.Water, Flour: b.Flour, Room: b.Room, Third: b.Third, Fourth: b.Fourth}
	inner := reckon.Checks{Func: c.Func}
	batch.check(&inner)
	c.Nest(field, inner.Err())
	return batch.once()
}

// mixingLog holds the batches that count.
type mixingLog struct {
	friction, minutes, kilograms []float64
	number                       []int // in the caller's list, from 1
	day                          []int // -1 if not logged
	days                         int
	factors                      int
}

func (l *mixingLog) len() int { return len(l.friction) }

// gather checks every batch and keeps those of the mixer and speed.
func gather(c *reckon.Checks, in FrictionLog) *mixingLog {
	l := &mixingLog{}
	dayNumber := map[string]int{}
	for i, b := range in.Batches {
		field := "batches[" + strconv.Itoa(i) + "]"
		friction, n := b.friction(c, field)
		if !c.OK() || b.Mixer != in.Mixer || b.Speed != in.Speed {
			continue
		}
		if l.factors == 0 {
			l.factors = n
		} else if n != l.factors {
			c.Fail(field, strconv.Itoa(n)+" temperatures with the water", strconv.Itoa(l.factors)+" as in the batches before: a friction is good for one number of factors")
			continue
		}
		day := -1
		if b.Day != "" {
			k, seen := dayNumber[b.Day]
			if !seen {
				k = l.days
				dayNumber[b.Day] = k
				l.days++
			}
			day = k
		}
		l.friction = append(l.friction, friction)
		l.minutes = append(l.minutes, b.Time.Minutes())
		l.kilograms = append(l.kilograms, b.Size.Kilograms())
		l.number = append(l.number, i+1)
		l.day = append(l.day, day)
	}
	return l
}

// daysKnown reports whether the spread between days can be told from that within.
func (l *mixingLog) daysKnown() bool {
	for _, d := range l.day {
		if d < 0 {
			return false
		}
	}
	return l.days >= 2 && l.len() > l.days
}

func (l *mixingLog) checkDays(c *reckon.Checks) {
	if c.OK() && !l.daysKnown() {
		c.Fail("batches", "without days enough", "the day of every batch, at least two days, and a day with at least two batches, to judge the first batch by")
	}
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

func (l *mixingLog) summary() (average, sd, least, most unit.TempDelta) {
	m, squares := mean(l.friction), 0.0
	least, most = unit.TempDelta(l.friction[0]), unit.TempDelta(l.friction[0])
	for _, f := range l.friction {
		squares += float64((f - m) * (f - m))
		least, most = min(least, unit.TempDelta(f)), max(most, unit.TempDelta(f))
	}
	return unit.TempDelta(m), unit.TempDelta(math.Sqrt(squares / float64(l.len()-1))), least, most
}

// frictionFit is the fitted line or plane.
type frictionFit struct {
	constant, byMinute, byKilo float64
	model                      FrictionModel
	n                          float64
	midMinutes, midKilograms   float64
	upper                      *mat.TriDense // R of the centred columns, nil for the mean
}

// fit returns the least-squares fit, and false if the columns do not differ
// enough to tell their effects apart. The columns are centred, which keeps
// digits and makes the constant the mean.
func (l *mixingLog) fit(m FrictionModel) (frictionFit, bool) {
	f := frictionFit{model: m, n: float64(l.len()), midMinutes: mean(l.minutes), midKilograms: mean(l.kilograms), constant: mean(l.friction)}
	columns := m.terms() - 1
	if columns == 0 {
		return f, true
	}
	x, y := mat.NewDense(l.len(), columns, nil), mat.NewVecDense(l.len(), nil)
	for i := range l.friction {
		j := 0
		if m.usesTime() {
			x.Set(i, j, l.minutes[i]-f.midMinutes)
			j++
		}
		if m.usesSize() {
			x.Set(i, j, l.kilograms[i]-f.midKilograms)
		}
		y.SetVec(i, l.friction[i]-f.constant)
	}
	// A column of rounding errors is no column.
	for j := range columns {
		scale := f.midMinutes
		if !m.usesTime() || j == 1 {
			scale = f.midKilograms
		}
		if !(mat.Norm(x.ColView(j), 2) > 1e-9*scale) {
			return f, false
		}
	}
	var qr mat.QR
	qr.Factorize(x)
	var b mat.VecDense
	if err := qr.SolveVecTo(&b, false, y); err != nil {
		return f, false
	}
	var r mat.Dense
	qr.RTo(&r)
	// Times and sizes that go together leave nothing of the second column.
	if columns == 2 && !(math.Abs(r.At(1, 1)) > 1e-9*mat.Norm(x.ColView(1), 2)) {
		return f, false
	}
	f.upper = mat.NewTriDense(columns, mat.Upper, nil)
	for i := range columns {
		for j := i; j < columns; j++ {
			f.upper.SetTri(i, j, r.At(i, j))
		}
	}
	j := 0
	if m.usesTime() {
		f.byMinute = b.AtVec(j)
		j++
	}
	if m.usesSize() {
		f.byKilo = b.AtVec(j)
	}
	f.constant = f.constant - float64(f.byMinute*f.midMinutes) - float64(f.byKilo*f.midKilograms)
	return f, true
}

// at returns the friction that the fit foresees.
func (f frictionFit) at(minutes, kilograms float64) float64 {
	return f.constant + float64(f.byMinute*minutes) + float64(f.byKilo*kilograms)
}

// leverage returns how far a batch lies from the middle of the log, 1/n there.
func (f frictionFit) leverage(minutes, kilograms float64) float64 {
	if f.upper == nil {
		return 1 / f.n
	}
	var x [2]float64
	j := 0
	if f.model.usesTime() {
		x[0] = minutes - f.midMinutes
		j++
	}
	if f.model.usesSize() {
		x[j] = kilograms - f.midKilograms
	}
	// The squared length of the solution of R'z = x.
	z := x[0] / f.upper.At(0, 0)
	h := 1/f.n + float64(z*z)
	if columns, _ := f.upper.Dims(); columns == 2 {
		z = (x[1] - float64(f.upper.At(0, 1)*z)) / f.upper.At(1, 1)
		h += float64(z * z)
	}
	return h
}

// scatter returns the standard deviation around the fit, the batch that lies
// farthest and how many standard deviations it lies off, its own pull on the fit allowed for.
func (l *mixingLog) scatter(f frictionFit, freedom int) (s float64, farthest int, distance float64) {
	squares := 0.0
	for i := range l.friction {
		d := l.friction[i] - f.at(l.minutes[i], l.kilograms[i])
		squares += float64(d * d)
	}
	s = math.Sqrt(squares / float64(freedom))
	for i := range l.friction {
		d := math.Abs(l.friction[i] - f.at(l.minutes[i], l.kilograms[i]))
		if own := s * math.Sqrt(1-min(1, f.leverage(l.minutes[i], l.kilograms[i]))); own > 0 && d/own > distance {
			farthest, distance = i, d/own
		}
	}
	return s, farthest, distance
}

// daySpread returns the standard deviations between and within days of the
// residuals, by the mean squares of one-way analysis of variance. If the days
// scatter less than batches within a day do, the spread between them is none.
func (l *mixingLog) daySpread(f frictionFit) (between, within float64, ok bool) {
	if !l.daysKnown() {
		return 0, 0, false
	}
	sums, counts := make([]float64, l.days), make([]float64, l.days)
	residuals := make([]float64, l.len())
	for i := range residuals {
		residuals[i] = l.friction[i] - f.at(l.minutes[i], l.kilograms[i])
		sums[l.day[i]] += residuals[i]
		counts[l.day[i]]++
	}
	n, squaredCounts, betweenSquares, withinSquares := float64(l.len()), 0.0, 0.0, 0.0
	for d, sum := range sums {
		betweenSquares += float64(sum / counts[d] * sum)
		squaredCounts += float64(counts[d] * counts[d])
	}
	for i, r := range residuals {
		off := r - sums[l.day[i]]/counts[l.day[i]]
		withinSquares += float64(off * off)
	}
	days := float64(l.days)
	withinMean := withinSquares / (n - days)
	size := (n - squaredCounts/n) / (days - 1)
	return math.Sqrt(max(0, (betweenSquares/(days-1)-withinMean)/size)), math.Sqrt(withinMean), true
}

// spans reports whether a batch lies within the sizes and times of the log, as far as the model looks at them.
func (l *mixingLog) spans(m FrictionModel, minutes, kilograms float64) bool {
	inside := func(all []float64, v float64) bool {
		low, high := all[0], all[0]
		for _, x := range all {
			low, high = min(low, x), max(high, x)
		}
		// A hundred-millionth forgives the rounding of units.
		return v >= low*(1-1e-8) && v <= high*(1+1e-8)
	}
	return (!m.usesTime() || inside(l.minutes, minutes)) && (!m.usesSize() || inside(l.kilograms, kilograms))
}
