package unit

import (
	"fmt"
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

// TimeOfDay is the moment so long after a midnight as the clock on the wall shows it, to the minute: "5:07", in US units
// "5:07 am". day counts the midnights from that one: 0 on the day that it begins, -1 on the day before. What is no
// moment within a thousand years is shown as the duration that it is.
func (d Duration) TimeOfDay(s System) (text string, day int) {
	const whole = 24 * 60
	all := math.Round(d.Minutes())
	if !(math.Abs(all) < 1000*365*whole) {
		return d.clock(), 0
	}
	day = int(math.Floor(all / whole))
	minute := int(all) - day*whole
	hour := minute / 60
	minute %= 60
	if s != US {
		return fmt.Sprintf("%d:%02d", hour, minute), day
	}
	half := "am"
	if hour >= 12 {
		half = "pm"
	}
	return fmt.Sprintf("%d:%02d %s", (hour+11)%12+1, minute, half), day
}

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
