package proof

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

const (
	lowestActivity  = 0.8
	highestActivity = 1
)

// Surface asks how long the surface of a piece sweats and dries in a proofer,
// and by what margin:
//
//	T_dew and p_v from T_a, p and one of RH, T_wb and T_dew, as in [Air]
//	T(t) = T_a - (T_a - T_0) * exp(-t / tau), T_end = T at the end
//	sweats for t_s while T < T_dew, d = T_dew - T_0
//	dries for t_d while a_w * p_ws(T) > p_v, from T_dry up, m = a_w * p_ws(T_end) - p_v
//
// Dough comes in below the dew point at every usual setting, so that the bare
// sign of the margin says nothing: what counts is how long it sweats, and
// whether it dries at the end. The conditions are set by the two limits.
//
// It is an estimate. The surface is taken to follow the air with one time
// constant; condensation warms it faster at first, and a drying surface stays
// cooler than the air, so that both times are rather too long.
//
// It is refused if:
//   - the air is refused in [Air].
//
// Source: criterion of the dew point; cases in
// testdata/cases/proof/humidity-for-surface.json. Wiggins, in Cauvain and
// Young, Technology of Breadmaking (1998), has no skin above some 90 % humidity.
//
// [HumidityForSurface] solves for the humidity, [WarmingForSurface] measures
// the time constant.
type Surface struct {
	Air        Air           `json:"air"`                                      // air of the proofer
	DoughTemp  unit.Temp     `json:"dough_temp" sym:"T_0" range:"0 °C..50 °C"` // temperature of the piece's surface as it comes in
	Activity   float64       `json:"water_activity" sym:"a_w" range:"0.8..1"`  // vapour pressure over the dough as a share of that over water; about 0.97 for bread dough, that is a balance humidity of 95 % or more
	Warming    unit.Duration `json:"warming" sym:"tau" range:"1 s..24 h"`      // time constant with which the surface follows the air; see [WarmingForSurface]
	Origin     ValueOrigin   `json:"origin"`                                   // "measured" or "assumed": where warming and water_activity come from; measured only if both are
	Time       unit.Duration `json:"time" sym:"t" range:"1 s..7 d"`            // time in the proofer
	SweatLimit unit.Duration `json:"sweating_limit" range:"0 s..7 d"`          // how long this product may sweat before it sticks or blisters: from trials
	DryLimit   unit.Duration `json:"drying_limit" range:"0 s..7 d"`            // how long it may dry before it skins: from trials
}

// SurfaceResult is how moist or dry the surface gets.
type SurfaceResult struct {
	DewPoint    unit.Temp      `json:"dew_point" sym:"T_dew"`   // of the air
	SweatMargin unit.TempDelta `json:"sweat_margin" sym:"d"`    // dew point above the surface as the piece comes in; above 0 it sweats
	Sweating    unit.Duration  `json:"sweating" sym:"t_s"`      // how long moisture condenses, from the start or until the end
	DriesAbove  unit.Temp      `json:"dries_above" sym:"T_dry"` // surface temperature above which it gives off moisture; between the dew point and this one nothing happens
	Drying      unit.Duration  `json:"drying" sym:"t_d"`        // how long it dries
	EndTemp     unit.Temp      `json:"end_temp" sym:"T_end"`    // surface at the end
	DryMargin   unit.Pressure  `json:"dry_margin" sym:"m"`      // vapour pressure of the surface above that of the air at the end; above 0 it dries
	Conditions  Conditions     `json:"conditions"`              // surface-sweating, surface-drying (each longer than its limit), uncalibrated
}

func (Surface) ID() string { return "proof-surface" }

func (q Surface) Check(c *reckon.Checks) { q.check(c) }

// check returns everything about the air as well.
func (q *Surface) check(c *reckon.Checks) AirResult {
	mark := c.Mark()
	air := q.Air.check(c)
	c.Under(mark, "air")
	reckon.CheckTemp(c, "dough_temp", q.DoughTemp, coldestDough, hottestDough)
	reckon.CheckRange(c, "water_activity", q.Activity, lowestActivity, highestActivity)
	reckon.CheckRange(c, "warming", q.Warming, 1, unit.Hours(24))
	reckon.CheckEither(c, "origin", q.Origin, OriginMeasured, OriginAssumed)
	reckon.CheckRange(c, "time", q.Time, 1, maxStay)
	reckon.CheckRange(c, "sweating_limit", q.SweatLimit, 0, maxStay)
	reckon.CheckRange(c, "drying_limit", q.DryLimit, 0, maxStay)
	return air
}

func (q Surface) Solve() (out SurfaceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	air := q.check(&c)
	if !c.OK() {
		return out, c.Err()
	}
	p := q.piece()
	time := float64(q.Time)
	dries, _ := saturated(float64(air.Vapour) / q.Activity)
	end := p.at(time)
	out = SurfaceResult{
		DewPoint: air.DewPoint, SweatMargin: air.DewPoint.Sub(q.DoughTemp), DriesAbove: unit.Celsius(dries),
		Sweating: unit.Duration(p.below(air.DewPoint.Celsius(), time)),
		Drying:   unit.Duration(time - p.below(dries, time)),
		EndTemp:  unit.Celsius(end), DryMargin: unit.Pressure(float64(q.Activity*saturation(end)) - float64(air.Vapour)),
	}
	if out.Sweating > q.SweatLimit {
		out.Conditions |= SurfaceSweating
	}
	if out.Drying > q.DryLimit {
		out.Conditions |= SurfaceDrying
	}
	if q.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q Surface) Show(w *reckon.Working, out SurfaceResult) {
	w.Inputs(q)
	var c reckon.Checks
	q.Air.show(w, q.Air.check(&c))
	w.Root("dries above", "T_dry", out.DriesAbove.Celsius(), "°C", "where a_w*p_ws is p_v, by bisection")
	w.Lines(nil, "saturation pressure there: p_dry = "+saturationLine("T_dry", out.DriesAbove.Celsius()))
	w.PutBack("vapour pressure at such a surface: p_v = a_w*p_dry in kPa")
	p := q.piece()
	sweats, _ := p.belowText("T_dew", out.DewPoint.Celsius())
	_, dries := p.belowText("T_dry", out.DriesAbove.Celsius())
	w.Lines(out,
		"dew point above the surface: d = T_dew - T_0",
		"sweats for: t_s = "+sweats+"  [while the surface is colder than the dew point]",
		"dries for: t_d = "+dries+"  [while the surface is warmer than that]",
		"surface at the end: T_end = T_a - (T_a - T_0)*exp(-t/tau)",
		"saturation pressure at the end: p_end = "+saturationLine("T_end", out.EndTemp.Celsius()),
		"vapour pressure above that of the air: m = a_w*p_end - p_v",
	)
}

// piece is a surface that follows the air, in °C and s.
type piece struct{ start, air, tau float64 }

func (q *Surface) piece() piece {
	return piece{start: q.DoughTemp.Celsius(), air: q.Air.DryBulb.Celsius(), tau: float64(q.Warming)}
}

func (p piece) at(t float64) float64 {
	return p.air - float64((p.air-p.start)*math.Exp(-t/p.tau))
}

// crosses reports whether the surface ever comes to the level: whether it lies
// between the start and the air.
func (p piece) crosses(level float64) bool { return (level-p.start)*(p.air-level) > 0 }

// below returns how long the surface is colder than level in the first while.
// It moves one way only, so that it crosses a level once at most.
func (p piece) below(level, while float64) float64 {
	startsBelow := p.start < level
	if !p.crosses(level) {
		if startsBelow {
			return while
		}
		return 0
	}
	crossing := math.Min(while, p.tau*math.Log((p.air-p.start)/(p.air-level)))
	if startsBelow {
		return crossing
	}
	return while - crossing
}

// belowText is what a sheet says of below in the first t, for the level called
// symbol, and of the rest of the time.
func (p piece) belowText(symbol string, level float64) (below, rest string) {
	crossing := "min(t, tau*ln((T_a - T_0)/(T_a - " + symbol + ")))"
	switch startsBelow := p.start < level; {
	case startsBelow && p.crosses(level):
		return crossing, "t - " + crossing
	case startsBelow:
		return "t", "0"
	case p.crosses(level):
		return "t - " + crossing, crossing
	}
	return "0", "t"
}

// WarmingForSurface asks how quickly the surface of a piece follows the
// temperature of the air, as the time constant from its temperature before and
// after a stay:
//
//	tau = t / ln((T_a - T_0) / (T_a - T))
//
// It is the calibration for [Surface]: use the value with origin "measured",
// for this piece weight and this proofer only. Measure the surface, not the core.
//
// It is refused if:
//   - after_temp does not lie between start_temp and air_temp, at least a tenth of a degree from both.
//
// Source: Newton's law of cooling.
//
// The inverse is [Surface].
type WarmingForSurface struct {
	AirTemp   unit.Temp     `json:"air_temp" sym:"T_a" range:"0 °C..90 °C"`   // temperature of the air
	StartTemp unit.Temp     `json:"start_temp" sym:"T_0" range:"0 °C..50 °C"` // surface as the piece came in
	AfterTemp unit.Temp     `json:"after_temp" sym:"T" range:"0 °C..90 °C"`   // surface after time, between start_temp and air_temp
	Time      unit.Duration `json:"time" sym:"t" range:"1 s..7 d"`            // time in the proofer
}

// WarmingForSurfaceResult is how fast a piece follows the air.
type WarmingForSurfaceResult struct {
	Warming unit.Duration `json:"warming" sym:"tau"` // time constant
}

func (WarmingForSurface) ID() string { return "warming-for-surface" }

func (q WarmingForSurface) Check(c *reckon.Checks) {
	ok := reckon.CheckTemp(c, "air_temp", q.AirTemp, coldestAir, hottestAir)
	ok = reckon.CheckTemp(c, "start_temp", q.StartTemp, coldestDough, hottestDough) && ok
	ok = reckon.CheckTemp(c, "after_temp", q.AfterTemp, coldestAir, hottestAir) && ok
	reckon.CheckRange(c, "time", q.Time, 1, maxStay)
	a, s, t := q.AirTemp.Celsius(), q.StartTemp.Celsius(), q.AfterTemp.Celsius()
	// A thermometer reads to a tenth of a degree; nearer, the answer would be noise.
	if ok && !(math.Min(a, s)+0.1 <= t && t <= math.Max(a, s)-0.1) {
		c.Fail("after_temp", q.AfterTemp.String(), "between start_temp, "+q.StartTemp.String()+", and air_temp, "+q.AirTemp.String()+", at least a tenth of a degree from both")
	}
}

func (q WarmingForSurface) Solve() (out WarmingForSurfaceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	a, s, t := q.AirTemp.Celsius(), q.StartTemp.Celsius(), q.AfterTemp.Celsius()
	out.Warming = unit.Duration(float64(q.Time) / math.Log((a-s)/(a-t)))
	return out, nil
}

func (q WarmingForSurface) Show(w *reckon.Working, out WarmingForSurfaceResult) {
	w.Inputs(q)
	w.Lines(out, "time constant: tau = t/ln((T_a - T_0)/(T_a - T))  [Newton's law of cooling]")
}

// HumidityForSurface asks at which relative humidities a surface begins to
// sweat and to dry:
//
//	RH_s = p_s / p_a * 100, RH_d = a_w * p_s / p_a * 100
//	p_s = p_ws(T), p_a = p_ws(T_a)
//
// It sweats above RH_s and dries below RH_d; between the two nothing happens.
// Take the dough as it comes in for the first, and as it leaves for the second.
//
// It is the inverse of [Surface] at one moment and exact for the temperatures
// and the water activity given; with one that is assumed the second is an estimate.
//
// Source: criterion of the dew point, with the saturation pressure of Hyland and Wexler.
//
// The inverse is [Surface].
type HumidityForSurface struct {
	AirTemp   unit.Temp   `json:"air_temp" sym:"T_a" range:"0 °C..90 °C"`  // temperature of the air
	DoughTemp unit.Temp   `json:"dough_temp" sym:"T" range:"0 °C..50 °C"`  // temperature of the surface
	Activity  float64     `json:"water_activity" sym:"a_w" range:"0.8..1"` // as in [Surface]; about 0.97 for bread dough
	Origin    ValueOrigin `json:"origin"`                                  // "measured" or "assumed": where water_activity comes from
}

// HumidityForSurfaceResult is the humidity between sweating and drying.
type HumidityForSurfaceResult struct {
	SweatsAbove unit.Percent `json:"sweats_above" sym:"RH_s"` // relative humidity above which it sweats; above 100 % it never does; it does not depend on the water activity
	DriesBelow  unit.Percent `json:"dries_below" sym:"RH_d"`  // relative humidity below which it dries; above 100 % it always does
	Conditions  Conditions   `json:"conditions"`              // uncalibrated (water activity assumed)
}

func (HumidityForSurface) ID() string { return "humidity-for-surface" }

func (q HumidityForSurface) Check(c *reckon.Checks) {
	reckon.CheckTemp(c, "air_temp", q.AirTemp, coldestAir, hottestAir)
	reckon.CheckTemp(c, "dough_temp", q.DoughTemp, coldestDough, hottestDough)
	reckon.CheckRange(c, "water_activity", q.Activity, lowestActivity, highestActivity)
	reckon.CheckEither(c, "origin", q.Origin, OriginMeasured, OriginAssumed)
}

func (q HumidityForSurface) Solve() (out HumidityForSurfaceResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	surface, air := saturation(q.DoughTemp.Celsius()), saturation(q.AirTemp.Celsius())
	out.SweatsAbove = unit.Percent(surface / air * 100)
	out.DriesBelow = unit.Percent(q.Activity * surface / air * 100)
	if q.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	return out, nil
}

func (q HumidityForSurface) Show(w *reckon.Working, out HumidityForSurfaceResult) {
	w.Inputs(q)
	w.Lines(out,
		"saturation pressure of the air: p_a = "+saturationLine("T_a", q.AirTemp.Celsius()),
		"saturation pressure at the surface: p_s = "+saturationLine("T", q.DoughTemp.Celsius()),
		"sweats above: RH_s = p_s/p_a*100",
		"dries below: RH_d = a_w*p_s/p_a*100",
	)
}
