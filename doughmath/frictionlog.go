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
	Mixer      string        `json:"mixer"`                                 // the mixer, as you call it
	MixerSpeed string        `json:"mixer_speed,omitzero"`                  // its speed or programme, as you call it
	Day        string        `json:"day,omitzero"`                          // the day, as you write it; needed for all batches if there is a first_batch
	BatchSize  unit.Mass     `json:"batch_size" range:"1 mg..100 t"`        // dough in the batch
	Time       unit.Duration `json:"time" range:">0 s..4 h"`                // mixing time
	DoughTemp  unit.Temp     `json:"dough_temp" range:"-10 °C..60 °C"`      // dough temperature at the end of mixing
	WaterTemp  unit.Temp     `json:"water_temp" range:"-80 °C..55 °C"`      // water temperature; below 0 °C stands for ice and water
	FlourTemp  unit.Temp     `json:"flour_temp" range:"-40 °C..60 °C"`      // flour temperature
	Room       unit.Temp     `json:"room,omitzero" range:"-40 °C..60 °C"`   // room temperature; in all batches or in none
	Third      unit.Temp     `json:"third,omitzero" range:"-40 °C..60 °C"`  // preferment, starter or soaker, if any
	Fourth     unit.Temp     `json:"fourth,omitzero" range:"-40 °C..60 °C"` // a second one, if any
}

// factor asks for the friction that the batch shows.
func (b *LoggedBatch) factor() FrictionFactor {
	return FrictionFactor{DoughTemp: b.DoughTemp, WaterTemp: b.WaterTemp, FlourTemp: b.FlourTemp, Room: b.Room, Third: b.Third, Fourth: b.Fourth}
}

func (b *LoggedBatch) check(c *reckon.Checks) {
	checkMixerName(c, b.Mixer)
	checkSizeAndTime(c, b.BatchSize, b.Time)
	b.factor().Check(c)
}

func checkMixerName(c *reckon.Checks, mixer string) {
	if mixer == "" {
		c.Fail("mixer", "not given", "the name of the mixer")
	}
}

func checkSizeAndTime(c *reckon.Checks, size unit.Mass, time unit.Duration) {
	reckon.CheckRange(c, "batch_size", size, leastMass, mostMass)
	checkUpTo(c, "time", time, unit.Hours(4))
}

// FrictionLog asks what friction to use for the next batch of a mixer, from
// the log of earlier ones, and how far the dough may be off:
//
//	F = a + b*t_m/60 + s*M/1000,  r = F/N
//	F_low = F - half,  F_high = F + half,  half = t*S*sqrt(1 + h),  off = half/N
//
// fitted by least squares, with S the scatter around the fit, h the distance of
// the batch to come from the middle of the log, and t of Student's
// distribution. The friction is that of [FrictionFactor], taken off once.
//
// The friction F_i of the n batches that count is summed up by
//
//	F_mean = sum F_i / n,  F_min = min F_i,  F_max = max F_i
//	s_F = sqrt(sum (F_i - F_mean)^2 / (n - 1))
//	j = the i of the batch that lies farthest from the fit
//
// After the first batch of the day, the share k of its surprise u is taken for
// the day's own and kept:
//
//	k = 100*D*D/(D*D + W*W),  F_1 = F + k/100*u
//	off_1 = t_day*W*sqrt(1 + k/100)/N
//
// where D is the spread between days and W that within a day, both from the
// residuals grouped by day, and t_day is Student's t for the degrees of freedom
// of W, which are the batches less the days, or for those of the fit if they are
// fewer. So a log with few days of two batches or more gives a wide interval.
//
// It holds for one formula, one mixer and one speed, and for sizes and times
// within the log. The interval takes batches to be independent; if days differ
// much, a log of few days says less than it shows. The interval after the first batch
// ignores that D is an estimate, and holds fewer batches than promised if D comes from fewer than five days.
//
// The first batch is held against the log too. The condition outlier means that a batch
// of the log, or the first one, lies more than 3 standard deviations off: look
// for a misread thermometer before you use what it says about the day. Extrapolated means that
// the batch to come, or the first one, lies outside the times or sizes that the model
// was fitted on. Few-batches means that the scatter, or with a first batch D or W, rests on
// fewer than 4 degrees of freedom, or that the dough may be off by more than the tolerance.
//
// It is refused if:
//   - the log has too few batches of the mixer and speed for the model (one more than its terms),
//   - the batches that count differ in the number of temperatures,
//   - sizes or times do not differ enough to fit the model,
//   - there is a first batch of another mixer or speed than the batch to come, or with another number of temperatures than the log,
//   - there is a first batch, and not every batch has its day, or no day has two batches, or there is only one day.
//
// Source: least squares and prediction interval, NIST/SEMATECH e-Handbook of Statistical Methods, chapter 4;
// days and their degrees of freedom, D. C. Montgomery, Design and Analysis of Experiments, the random effects model; cases in testdata/cases/doughmath/friction-log.json.
//
// One batch alone is [FrictionFactor].
type FrictionLog struct {
	Log           []LoggedBatch  `json:"log" items:"1..10000"`                        // the log, of any mixer and speed
	Mixer         string         `json:"mixer"`                                       // the mixer of the batch to come; only its batches count
	MixerSpeed    string         `json:"mixer_speed,omitzero"`                        // its speed; only batches of this speed count
	Model         FrictionModel  `json:"model"`                                       // "mean", "time", "size" or "time-and-size"
	BatchSize     unit.Mass      `json:"batch_size" sym:"M" range:"1 mg..100 t"`      // size of the batch to come
	Time          unit.Duration  `json:"time" sym:"t_m" range:">0 s..4 h"`            // its mixing time
	Confidence    unit.Percent   `json:"confidence" range:"50 %..99.9 %"`             // how sure the interval is to hold the batch to come
	TempTolerance unit.TempDelta `json:"temp_tolerance,omitzero" range:"0 C°..10 C°"` // how far the dough may be off; 0 sets no tolerance
	FirstBatch    LoggedBatch    `json:"first_batch,omitzero"`                        // today's first batch, on the same mixer and speed, if it is out
}

// FrictionLogResult is what the log says.
type FrictionLogResult struct {
	Batches      int            `json:"batches" sym:"n"`            // batches that count
	Factors      int            `json:"factors" sym:"N"`            // N of the factor rule in the log
	MeanFriction unit.TempDelta `json:"mean_friction" sym:"F_mean"` // mean friction, taken off once
	SD           unit.TempDelta `json:"sd" sym:"s_F"`               // standard deviation around the mean
	Lowest       unit.TempDelta `json:"lowest" sym:"F_min"`         // least friction in the log
	Highest      unit.TempDelta `json:"highest" sym:"F_max"`        // most

	Constant unit.TempDelta `json:"constant" sym:"a"`    // a of the fit
	ByMinute unit.TempDelta `json:"by_minute" sym:"b"`   // b, rise of the friction for each minute; 0 if not in the model
	ByKilo   unit.TempDelta `json:"by_kilogram" sym:"s"` // s, change of the friction for each kilogram; 0 if not in the model
	FitSD    unit.TempDelta `json:"fit_sd" sym:"S"`      // standard deviation around the fit
	Farthest int            `json:"farthest" sym:"j"`    // number of the batch that lies farthest from the fit, counted from 1

	Friction  unit.TempDelta `json:"friction" sym:"F"`    // friction to use for the batch to come, taken off once
	PerFactor unit.TempDelta `json:"per_factor" sym:"r"`  // the same for each factor
	Low       unit.TempDelta `json:"low" sym:"F_low"`     // interval that holds the friction of the batch to come
	High      unit.TempDelta `json:"high" sym:"F_high"`   // its upper end
	DoughOff  unit.TempDelta `json:"dough_off" sym:"off"` // how far the dough may be off on that account, either way

	DaySD        unit.TempDelta `json:"day_sd" sym:"D"`          // standard deviation between days; 0 if days were not logged
	WithinDay    unit.TempDelta `json:"within_day" sym:"W"`      // standard deviation within a day; 0 if days were not logged
	FirstCounts  unit.Percent   `json:"first_counts" sym:"k"`    // how much of the first batch's surprise is the day's and stays
	Today        unit.TempDelta `json:"today" sym:"F_1"`         // friction to use for the rest of today, taken off once; as friction without a first batch
	TodayDough   unit.TempDelta `json:"today_dough" sym:"off_1"` // how far the dough may be off then, either way; as dough_off without a first batch
	FirstFurther unit.TempDelta `json:"first_further" sym:"u"`   // how much more friction the first batch showed than foreseen

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

func (FrictionLog) ID() string { return "friction-log" }

func (q FrictionLog) Check(c *reckon.Checks) { q.read(c) }

func (q FrictionLog) Solve() (out FrictionLogResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	log := q.read(&c)
	if !c.OK() {
		return out, c.Err()
	}
	out.Batches, out.Factors = log.len(), log.factors
	out.MeanFriction, out.SD, out.Lowest, out.Highest = log.summary()
	out.Constant, out.ByMinute, out.ByKilo = unit.TempDelta(log.fit.constant), unit.TempDelta(log.fit.byMinute), unit.TempDelta(log.fit.byKilo)
	scatter, farthest, distance := log.scatter()
	out.FitSD, out.Farthest = unit.TempDelta(scatter), log.number[farthest]

	n := float64(log.factors)
	minutes, kilograms := q.Time.Minutes(), q.BatchSize.Kilograms()
	friction := log.fit.at(minutes, kilograms)
	half := float64(studentsT(q.Confidence, log.freedom()) * scatter * math.Sqrt(1+log.fit.leverage(minutes, kilograms)))
	out.Friction, out.PerFactor = unit.TempDelta(friction), unit.TempDelta(friction/n)
	out.Low, out.High, out.DoughOff = unit.TempDelta(friction-half), unit.TempDelta(friction+half), unit.TempDelta(half/n)
	out.Today, out.TodayDough = out.Friction, out.DoughOff
	if between, within, ok := log.daySpread(); ok {
		out.DaySD, out.WithinDay = unit.TempDelta(between), unit.TempDelta(within)
	}

	few := log.freedom() < fewFreedom
	if q.hasFirst() {
		q.afterFirst(log, &out)
		few = log.freedomToday() < fewFreedom || log.days-1 < fewFreedom
	}
	if few || q.TempTolerance > 0 && out.TodayDough > q.TempTolerance {
		out.Conditions |= FewBatches
	}
	if !log.spans(minutes, kilograms) {
		out.Conditions |= reckon.Extrapolated
	}
	if distance > outlierSDs {
		out.Conditions |= reckon.Outlier
	}
	if out.Today < 0 {
		out.Conditions |= FrictionNegative
	}
	return out, nil
}

// afterFirst corrects the friction by what the first batch of the day showed.
func (q *FrictionLog) afterFirst(log *mixingLog, out *FrictionLogResult) {
	between, within, share := float64(out.DaySD), float64(out.WithinDay), 0.0
	if between > 0 {
		share = between * between / (float64(between*between) + float64(within*within))
	}
	minutes, kilograms := q.FirstBatch.Time.Minutes(), q.FirstBatch.BatchSize.Kilograms()
	shown, _ := q.FirstBatch.factor().once()
	surprise := shown - log.fit.at(minutes, kilograms)
	out.FirstFurther, out.FirstCounts = unit.TempDelta(surprise), unit.Percent(100*share)
	out.Today = unit.TempDelta(float64(out.Friction) + float64(share*surprise))
	out.TodayDough = unit.TempDelta(studentsT(q.Confidence, log.freedomToday()) * within * math.Sqrt(1+share) / float64(log.factors))
	if math.Abs(surprise) > float64(outlierSDs*float64(out.FitSD)*math.Sqrt(1+log.fit.leverage(minutes, kilograms)))+roundingSlack {
		out.Conditions |= reckon.Outlier
	}
	if !log.spans(minutes, kilograms) {
		out.Conditions |= reckon.Extrapolated
	}
}

// hasFirst reports whether the first batch of today is out.
func (q *FrictionLog) hasFirst() bool { return q.FirstBatch != (LoggedBatch{}) }

// read checks the question and the log, keeps the batches that count and fits
// the model to them. What it returns is of use only if nothing was wrong.
func (q *FrictionLog) read(c *reckon.Checks) *mixingLog {
	reckon.CheckWord(c, "model", q.Model, FrictionMean, FrictionByTime, FrictionBySize, FrictionByTimeAndSize)
	checkMixerName(c, q.Mixer)
	checkSizeAndTime(c, q.BatchSize, q.Time)
	reckon.CheckRange(c, "confidence", q.Confidence, 50, 99.9)
	reckon.CheckRange(c, "temp_tolerance", q.TempTolerance, 0, 10)
	if len(q.Log) > mostBatches {
		c.Fail("log", strconv.Itoa(len(q.Log)), "up to "+strconv.Itoa(mostBatches))
		return nil
	}
	log := q.gather(c)
	terms := q.Model.terms()
	if c.OK() && log.len() < terms+1 {
		c.Fail("log", strconv.Itoa(log.len())+" of this mixer and speed", strconv.Itoa(terms+1)+" or more for the model "+strconv.Quote(string(q.Model)))
	}
	if q.hasFirst() {
		mark := c.Mark()
		q.FirstBatch.check(c)
		c.Under(mark, "first_batch")
		if _, n := q.FirstBatch.factor().once(); c.OK() && n != log.factors {
			c.Fail("first_batch", strconv.Itoa(n)+" temperatures with the water", strconv.Itoa(log.factors)+" as in the log")
		}
		if q.FirstBatch.Mixer != "" && q.FirstBatch.Mixer != q.Mixer {
			c.Fail("first_batch.mixer", strconv.Quote(unit.Clip(q.FirstBatch.Mixer)), "the mixer of the batch to come")
		}
		if q.FirstBatch.MixerSpeed != q.MixerSpeed {
			c.Fail("first_batch.mixer_speed", strconv.Quote(unit.Clip(q.FirstBatch.MixerSpeed)), "the speed of the batch to come")
		}
		log.checkDays(c)
	}
	if c.OK() && !log.fitModel(q.Model) {
		c.Fail("model", strconv.Quote(string(q.Model)), "a model that the log can support: its sizes or times differ too little, or change together")
	}
	return log
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

// mixingLog holds the batches that count, and the model fitted to them.
type mixingLog struct {
	friction, minutes, kilograms []float64
	number                       []int // in the caller's list, from 1
	day                          []int // -1 if not logged
	days                         int
	factors                      int
	fit                          frictionFit
}

func (l *mixingLog) len() int { return len(l.friction) }

// freedom is the number of degrees of freedom of the scatter around the fit.
func (l *mixingLog) freedom() int { return l.len() - l.fit.model.terms() }

// freedomToday is that of the spread within a day, which carries the interval
// after the first batch, and few pairs may stand behind it.
func (l *mixingLog) freedomToday() int { return min(l.freedom(), l.len()-l.days) }

// gather checks every batch and keeps those of the mixer and speed.
func (q *FrictionLog) gather(c *reckon.Checks) *mixingLog {
	log, dayNumber := &mixingLog{}, map[string]int{}
	for i := range q.Log {
		b, mark := &q.Log[i], c.Mark()
		b.check(c)
		if c.OK() && b.Mixer == q.Mixer && b.MixerSpeed == q.MixerSpeed {
			log.add(c, i, b, dayNumber)
		}
		c.Item(mark, "log", i)
	}
	return log
}

// add keeps batch i of the list if it counts as many temperatures as those before.
func (l *mixingLog) add(c *reckon.Checks, i int, b *LoggedBatch, dayNumber map[string]int) {
	friction, n := b.factor().once()
	if l.factors == 0 {
		l.factors = n
	} else if n != l.factors {
		c.Fail("", strconv.Itoa(n)+" temperatures with the water", strconv.Itoa(l.factors)+" as in the batches before: a friction is good for one number of factors")
		return
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
	l.kilograms = append(l.kilograms, b.BatchSize.Kilograms())
	l.number = append(l.number, i+1)
	l.day = append(l.day, day)
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
		c.Fail("log", "too few days", "the day of every batch, at least two days, and a day with at least two batches, to judge the first batch by")
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

// fitModel fits the model by least squares. It returns false if the columns do
// not differ enough to separate their effects. The columns are centred, which
// keeps digits and makes the constant the mean.
func (l *mixingLog) fitModel(m FrictionModel) bool {
	f := &l.fit
	*f = frictionFit{model: m, n: float64(l.len()), midMinutes: mean(l.minutes), midKilograms: mean(l.kilograms), constant: mean(l.friction)}
	columns := m.terms() - 1
	if columns == 0 {
		return true
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
			return false
		}
	}
	var qr mat.QR
	qr.Factorize(x)
	var b mat.VecDense
	if err := qr.SolveVecTo(&b, false, y); err != nil {
		return false
	}
	var r mat.Dense
	qr.RTo(&r)
	// Times and sizes that go together leave nothing of the second column.
	if columns == 2 && !(math.Abs(r.At(1, 1)) > 1e-9*mat.Norm(x.ColView(1), 2)) {
		return false
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
	return true
}

// at returns the friction that the fit foresees.
func (f *frictionFit) at(minutes, kilograms float64) float64 {
	return f.constant + float64(f.byMinute*minutes) + float64(f.byKilo*kilograms)
}

// leverage returns how far a batch lies from the middle of the log, 1/n there.
func (f *frictionFit) leverage(minutes, kilograms float64) float64 {
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
func (l *mixingLog) scatter() (s float64, farthest int, distance float64) {
	f, squares := &l.fit, 0.0
	for i := range l.friction {
		d := l.friction[i] - f.at(l.minutes[i], l.kilograms[i])
		squares += float64(d * d)
	}
	s = math.Sqrt(squares / float64(l.freedom()))
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
func (l *mixingLog) daySpread() (between, within float64, ok bool) {
	if !l.daysKnown() {
		return 0, 0, false
	}
	sums, counts := make([]float64, l.days), make([]float64, l.days)
	residuals := make([]float64, l.len())
	for i := range residuals {
		residuals[i] = l.friction[i] - l.fit.at(l.minutes[i], l.kilograms[i])
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
func (l *mixingLog) spans(minutes, kilograms float64) bool {
	inside := func(all []float64, v float64) bool {
		low, high := all[0], all[0]
		for _, x := range all {
			low, high = min(low, x), max(high, x)
		}
		// A hundred-millionth forgives the rounding of units.
		return v >= low*(1-1e-8) && v <= high*(1+1e-8)
	}
	return (!l.fit.model.usesTime() || inside(l.minutes, minutes)) && (!l.fit.model.usesSize() || inside(l.kilograms, kilograms))
}
