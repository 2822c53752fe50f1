package unit

import (
	"math"
	"strconv"
	"time"
)

// DurationOf converts from the standard library's duration. Every duration up
// to about 104 days comes through to the nanosecond.
func DurationOf(d time.Duration) Duration { return Duration(float64(d) / float64(time.Second)) }

// Std converts to the standard library's duration, rounded to the nearest
// nanosecond. It returns false if d is not finite or too long for it (about 292 years).
func (d Duration) Std() (time.Duration, bool) {
	ns := math.Round(float64(d) * float64(time.Second))
	if math.IsNaN(ns) || math.Abs(ns) >= 1<<63 {
		return 0, false
	}
	return time.Duration(ns), true
}

// daysFrom is the number of hours from which people count in days.
const daysFrom = 72

func (d Duration) clock() string {
	v := float64(d)
	if math.IsNaN(v) || math.Abs(v) >= 1e15 {
		return strconv.FormatFloat(v, 'g', -1, 64) + " s"
	}
	if math.Abs(v) < 10 {
		return roundedText(v) + " s"
	}
	sign := ""
	if math.Signbit(v) {
		sign = "-"
	}
	s := int64(math.Round(math.Abs(v)))
	h, m, s := s/3600, s/60%60, s%60
	var days int64
	if h >= daysFrom {
		days, h = h/24, h%24
	}
	text := sign
	part := func(n int64, symbol string) {
		if n == 0 {
			return
		}
		if text != sign {
			text += " "
		}
		text += strconv.FormatInt(n, 10) + " " + symbol
	}
	part(days, "d")
	part(h, "h")
	part(m, "min")
	part(s, "s")
	return text
}
