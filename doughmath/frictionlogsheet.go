package doughmath

import (
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
)

func (q FrictionLog) Show(w *reckon.Working, out FrictionLogResult) {
	w.Inputs(q)
	log := q.read(new(reckon.Checks)) // which batches count, and the degrees of freedom, are not in the answer
	degrees := strconv.Itoa(log.freedom()) + " degrees of freedom"
	var frictions []string
	for i, number := range log.number {
		frictions = append(frictions, q.Log[number-1].show(w, "batch "+strconv.Itoa(number), strconv.Itoa(i+1)))
	}
	w.Lines(out, "factors counted, the water included: N = 1 + count("+log.temps(&q)+")")
	w.Lines(out, frictions...)
	w.Lines(out,
		"batches that count: n = count(f_#...)",
		"mean friction: F_mean = sum(f_#)/n",
		"standard deviation around the mean: s_F = sqrt(sum(pow(f_# - F_mean, 2))/(n - 1))",
		"least friction: F_min = min(f_#...)",
		"most friction: F_max = max(f_#...)",
	)
	log.showFit(w, out)
	friction := q.Model.line("t_m", "M")
	w.Lines(out, "sum of the squared distances from the fit: Q = sum(pow(e_#, 2))")
	w.Given("batches less the figures fitted", "v", float64(log.freedom()), "", degrees)
	w.Lines(out, "scatter around the fit: S = sqrt(Q/v)  [residuals]")
	w.Given("number of the batch farthest from the fit", "j", float64(out.Farthest), "", "the largest distance, its own pull on the fit allowed for")
	w.Given("Student's t", "t", studentsT(q.Confidence, log.freedom()), "", "two-sided at the confidence, "+degrees)
	w.Lines(out,
		"friction: F = "+friction,
		"friction, per factor: r = F / N",
		"half width of the interval: half = t*S*sqrt(1 + h) in C°  [prediction interval]",
		"lower end of the interval: F_low = F - half",
		"upper end of the interval: F_high = F + half",
		"how far the dough may be off: off = half / N",
	)
	if log.daysKnown() {
		log.showDays(w, out)
	}
	if !q.hasFirst() {
		w.Lines(out, "friction for the rest of today: F_1 = F  [no first batch yet]", "how far the next dough may be off: off_1 = off")
		return
	}
	share := "share of it that is the day's: k = 0  [days do not differ]"
	if out.DaySD > 0 {
		share = "share of it that is the day's: k = 100*D*D / (D*D + W*W)"
	}
	w.Lines(out, q.FirstBatch.show(w, "first batch", "0"), "friction foreseen for it: f_fit = "+q.Model.line("t_0", "M_0")+" in C°", "surprise of the first batch: u = f_0 - f_fit  [its friction less that of the fit]")
	w.Given("Student's t for the rest of today", "t_day", studentsT(q.Confidence, log.freedomToday()), "",
		"two-sided at the confidence, "+strconv.Itoa(log.freedomToday())+" degrees of freedom, the fewer of W's and the fit's")
	w.Lines(out,
		share,
		"how far the next dough may be off: off_1 = t_day*W*sqrt(1 + k/100) / N",
		"friction for the rest of today: F_1 = F + k/100*u",
	)
}

// show records a batch of the log and returns the line of the friction that it shows.
func (b *LoggedBatch) show(w *reckon.Working, name, n string) (line string) {
	known := make([]string, 0, 5)
	for _, x := range b.temps() {
		w.Given(name+", "+x.words, x.symbol+"_"+n, x.temp.Celsius(), "°C", "")
		known = append(known, x.symbol+"_"+n)
	}
	w.Given(name+", mixing time", "t_"+n, float64(b.Time), "s", "")
	w.Given(name+", size", "M_"+n, float64(b.BatchSize), "g", "")
	return name + ", friction: f_" + n + " = N*" + known[0] + " - (" + strings.Join(known[1:], " + ") + ") in C°  [factor rule]"
}

// temps are those that were read of the batch, the dough's first.
func (b *LoggedBatch) temps() (list []namedTemp) {
	for _, x := range [...]namedTemp{
		{"dough", "T_d", b.DoughTemp},
		{"water", "T_w", b.WaterTemp},
		{"flour", "T_f", b.FlourTemp},
		{"room", "T_r", b.Room},
		{"third", "T_3", b.Third},
		{"fourth", "T_4", b.Fourth},
	} {
		if x.temp.Given() {
			list = append(list, x)
		}
	}
	return list
}

// temps lists the symbols of the temperatures that the factor rule counts besides the water's.
func (l *mixingLog) temps(q *FrictionLog) string {
	var list []string
	for _, x := range q.Log[l.number[0]-1].temps()[2:] {
		list = append(list, x.symbol+"_1")
	}
	return strings.Join(list, ", ")
}

// line is the fitted friction, in a sheet, of a batch of this time and size.
func (m FrictionModel) line(time, size string) string {
	text := "a"
	if m.usesTime() {
		text += " + b*" + time + "/60{s/min}"
	}
	if m.usesSize() {
		text += " + s*" + size + "/1000{g/kg}"
	}
	return text
}

// showFit records the sums, the normal equations of least squares and the
// distance h of the batch to come from the middle of the log.
func (l *mixingLog) showFit(w *reckon.Working, out FrictionLogResult) {
	m := l.fit.model
	if !m.usesTime() {
		w.Lines(out, "friction for each minute: b = 0 in C°  [not in the model]")
	}
	if !m.usesSize() {
		w.Lines(out, "friction for each kilogram: s = 0 in C°  [not in the model]")
	}
	if m.usesTime() {
		w.Lines(out, "mean time: t_mean = sum(t_#/60{s/min})/n in min")
		w.Lines(out, l.each("time from the mean: x_# = t_#/60{s/min} - t_mean in min")...)
		w.Lines(out,
			"sum of squares of the times: S_xx = sum(x_#*x_#)",
			"sum of products of time and friction: S_xf = sum(x_#*f_#)",
			"time of the batch to come from the mean: x = t_m/60{s/min} - t_mean in min",
		)
	}
	if m.usesSize() {
		w.Lines(out, "mean size: M_mean = sum(M_#/1000{g/kg})/n in kg")
		w.Lines(out, l.each("size from the mean: z_# = M_#/1000{g/kg} - M_mean in kg")...)
		w.Lines(out,
			"sum of squares of the sizes: S_zz = sum(z_#*z_#)",
			"sum of products of size and friction: S_zf = sum(z_#*f_#)",
			"size of the batch to come from the mean: z = M/1000{g/kg} - M_mean in kg",
		)
	}
	switch {
	case m.usesTime() && m.usesSize():
		w.Lines(out,
			"sum of products of time and size: S_xz = sum(x_#*z_#)",
			"determinant of the normal equations: Delta = S_xx*S_zz - S_xz*S_xz",
			"friction for each minute: b = (S_xf*S_zz - S_zf*S_xz)/Delta  [least squares]",
			"friction for each kilogram: s = (S_zf*S_xx - S_xf*S_xz)/Delta  [least squares]",
			"constant of the fit: a = F_mean - b*t_mean - s*M_mean",
			"distance from the middle of the log: h = 1/n + (x*x*S_zz - 2*x*z*S_xz + z*z*S_xx)/Delta  [leverage of the batch to come]",
		)
	case m.usesTime():
		w.Lines(out,
			"friction for each minute: b = S_xf/S_xx  [least squares]",
			"constant of the fit: a = F_mean - b*t_mean",
			"distance from the middle of the log: h = 1/n + x*x/S_xx  [leverage of the batch to come]",
		)
	case m.usesSize():
		w.Lines(out,
			"friction for each kilogram: s = S_zf/S_zz  [least squares]",
			"constant of the fit: a = F_mean - s*M_mean",
			"distance from the middle of the log: h = 1/n + z*z/S_zz  [leverage of the batch to come]",
		)
	default:
		w.Lines(out, "constant of the fit: a = F_mean", "distance from the middle of the log: h = 1/n  [leverage of the batch to come]")
	}
	fit := m.line("t_#", "M_#")
	if m.terms() > 1 {
		fit = "(" + fit + ")"
	}
	w.Lines(out, l.each("distance from the fit: e_# = f_# - "+fit+" in C°")...)
}

// each writes a line for every batch that counts.
func (l *mixingLog) each(line string) []string {
	lines := make([]string, l.len())
	for i, number := range l.number {
		lines[i] = "batch " + strconv.Itoa(number) + ", " + strings.ReplaceAll(line, "#", strconv.Itoa(i+1))
	}
	return lines
}

// showDays records the analysis of variance of the distances from the fit, day by day.
func (l *mixingLog) showDays(w *reckon.Working, out FrictionLogResult) {
	days := make([][]string, l.days)
	for i, d := range l.day {
		days[d] = append(days[d], "e_"+strconv.Itoa(i+1))
	}
	between, within, squares := "", "", ""
	for d, list := range days {
		n := strconv.Itoa(d + 1)
		w.Lines(out,
			"batches of day "+n+": n_"+n+" = count("+strings.Join(list, ", ")+")",
			"mean distance of day "+n+": m_"+n+" = ("+strings.Join(list, " + ")+")/n_"+n+" in C°",
		)
		between, squares = plus(between, "n_"+n+"*m_"+n+"*m_"+n), plus(squares, "n_"+n+"*n_"+n)
		for _, e := range list {
			within = plus(within, "pow("+e+" - m_"+n+", 2)")
		}
	}
	spread := "spread between days: D = sqrt(max(0, (Q_b/(g - 1) - Q_w/(n - g))/n_0))  [one-way analysis of variance]"
	if out.DaySD == 0 {
		spread = "spread between days: D = 0  [days scatter no more than batches within a day]"
	}
	w.Lines(out,
		"days: g = count(m_#...)",
		"sum of squares between days: Q_b = "+between,
		"sum of squares within days: Q_w = "+within,
		"batches of a day, on average: n_0 = (n - ("+squares+")/n)/(g - 1)",
		spread,
		"spread within a day: W = sqrt(Q_w/(n - g))",
	)
}
