package proof

import (
	"math"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Surface returns how long the surface of a piece sweats and dries in a
// proofer, and by what margin:
//
//	T(t) = T_air - (T_air - T_0) * exp(-t / tau)
//	sweats while T < T_dew, dries while a_w * p_ws(T) > p_v
//
// Dough comes in below the dew point at every usual setting, so that the bare
// sign of the margin says nothing: what counts is how long it sweats, and
// whether it dries at the end. The conditions are set by the two limits.
//
// It is an estimate. The surface is taken to follow the air with one time
// constant; condensation warms it faster at first, and a drying surface stays
// cooler than the air, so that both times are rather too long.
//
// It returns an *[reckon.InputError] if:
//   - the air is wrong as in [Air],
//   - dough, water_activity, warming, time or a limit is out of its range,
//   - origin is not named.
//
// Source: criterion of the dew point; cases in
// testdata/cases/proof/humidity-for-surface.json. Wiggins, in Cauvain and
// Young, Technology of Breadmaking (1998), has no skin above some 90 % humidity.
//
// [HumidityForSurface] solves for the humidity, [WarmingForSurface] measures
// the time constant.
type Surface struct {
	Air        Air           `json:"air"`            // air of the proofer
	Dough      unit.Temp     `json:"dough"`          // temperature of the piece's surface as it comes in, 0 to 50 °C
	Activity   float64       `json:"water_activity"` // vapour pressure over the dough as a share of that over water, 0.8 to 1; about 0.97 for bread dough, that is a balance humidity of 95 % or more
	Warming    unit.Duration `json:"warming"`        // time constant with which the surface follows the air, 1 s to 1 d; see [WarmingForSurface]
	Origin     ValueOrigin   `json:"origin"`         // "measured" or "assumed": where warming and water_activity come from; measured only if both are
	Time       unit.Duration `json:"time"`           // time in the proofer, 1 s to 7 d
	SweatLimit unit.Duration `json:"sweating_limit"` // how long this product may sweat before it sticks or blisters, 0 to 7 d: from trials
	DryLimit   unit.Duration `json:"drying_limit"`   // how long it may dry before it skins, 0 to 7 d: from trials
}

func (Surface) ID() string { return "proof-surface" }

// SHELL
func (q Surface) Check(c *reckon.Checks) {
	_, err := explainSurface(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q Surface) Solve() (SurfaceResult, error) { return explainSurface(q, nil) }

func (q Surface) Show(w *reckon.Working, _ SurfaceResult) { _, _ = explainSurface(q, w) }

// SurfaceResult is how moist or dry the surface gets.
type SurfaceResult struct {
	DewPoint    unit.Temp      `json:"dew_point"`    // of the air
	SweatMargin unit.TempDelta `json:"sweat_margin"` // dew point above the surface as the piece comes in; above 0 it sweats
	Sweating    unit.Duration  `json:"sweating"`     // how long moisture condenses, from the start or until the end
	DriesAbove  unit.Temp      `json:"dries_above"`  // surface temperature above which it gives off moisture; between the dew point and this one nothing happens
	Drying      unit.Duration  `json:"drying"`       // how long it dries
	End         unit.Temp      `json:"end"`          // surface at the end
	DryMargin   unit.Pressure  `json:"dry_margin"`   // vapour pressure of the surface above that of the air at the end; above 0 it dries
	Conditions  Conditions     `json:"conditions"`   // surface-sweating, surface-drying (each longer than its limit), uncalibrated
}

const (
	lowestActivity  = 0.8
	highestActivity = 1
)

func explainSurface(in Surface, w *reckon.Working) (out SurfaceResult, err error) {
	c := reckon.Checks{Func: "proof-surface"}
	ofAir := reckon.Checks{Func: c.Func}
	air := in.Air.state(&ofAir)
	c.Nest("air", ofAir.Err())
	reckon.CheckTemp(&c, "dough", in.Dough, coldestDough, hottestDough)
	reckon.CheckRange(&c, "water_activity", in.Activity, lowestActivity, highestActivity)
	reckon.CheckRange(&c, "warming", in.Warming, 1, unit.Hours(24))
	reckon.CheckEither(&c, "origin", in.Origin, OriginMeasured, OriginAssumed)
	reckon.CheckRange(&c, "time", in.Time, 1, maxStay)
	reckon.CheckRange(&c, "sweating_limit", in.SweatLimit, 0, maxStay)
	reckon.CheckRange(&c, "drying_limit", in.DryLimit, 0, maxStay)
	if err := c.Err(); err != nil {
		return SurfaceResult{}, err
	}
	p := piece{start: in.Dough.Celsius(), air: in.Air.Dry.Celsius(), tau: float64(in.Warming)}
	time := float64(in.Time)
	dries, _ := saturated(float64(air.Vapour) / in.Activity)
	end := p.at(time)
	out = SurfaceResult{
		DewPoint: air.DewPoint, SweatMargin: air.DewPoint.Sub(in.Dough), DriesAbove: unit.Celsius(dries),
		Sweating: unit.Duration(p.below(air.DewPoint.Celsius(), time)),
		Drying:   unit.Duration(time - p.below(dries, time)),
		End:      unit.Celsius(end), DryMargin: unit.Pressure(float64(in.Activity*saturation(end)) - float64(air.Vapour)),
	}
	if out.Sweating > in.SweatLimit {
		out.Conditions |= SurfaceSweating
	}
	if out.Drying > in.DryLimit {
		out.Conditions |= SurfaceDrying
	}
	if in.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		in.explain(w, air, out)
	}
	return out, nil
}

// piece is a surface that follows the air, in °C and s.
type piece struct{ start, air, tau float64 }

func (p piece) at(t float64) float64 {
	return p.air - float64((p.air-p.start)*math.Exp(-t/p.tau))
}

// below returns how long the surface is colder than level in the first while.
// It moves one way only, so that it crosses a level once at most.
func (p piece) below(level, while float64) float64 {
	startsBelow := p.start < level
	if (level-p.start)*(p.air-level) <= 0 { // level is not between the start and the air
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

func (in Surface) explain(w *reckon.Working, air AirResult, out SurfaceResult) {
	w.Given("air temperature", "T_a", in.Air.Dry.Celsius(), "°C", "")
	w.Given("dew point of the air", "T_dew", air.DewPoint.Celsius(), "°C", "proof-air")
	w.Given("vapour pressure of the air", "p_v", float64(air.Vapour), "kPa", "proof-air")
	w.Given("surface as it comes in", "T_0", in.Dough.Celsius(), "°C", "")
	w.Given("time constant", "tau", float64(in.Warming), "s", "")
	w.Given("time in the proofer", "t", float64(in.Time), "s", "")
	w.Given("water activity", "a_w", in.Activity, "", "")
	w.Given("dries above", "T_dry", out.DriesAbove.Celsius(), "°C", "where a_w * p_ws = p_v, by bisection")
	w.Step("dew point above the surface", "d", "T_dew - T_0", float64(out.SweatMargin), "C°", "")
	warms := in.Dough.Celsius() < air.DewPoint.Celsius() && out.Sweating < in.Time
	if warms {
		w.Step("sweats for", "t_s", "tau * ln((T_a - T_0) / (T_a - T_dew))", float64(out.Sweating), "s", "until the surface reaches the dew point")
	} else {
		w.Given("sweats for", "t_s", float64(out.Sweating), "s", "the surface does not cross the dew point")
	}
	w.Step("surface at the end", "T_end", "T_a - (T_a - T_0) * exp(-t / tau)", out.End.Celsius(), "°C", "")
	explainSaturation(w, "saturation pressure at the end", "p_end", "T_end", out.End.Celsius())
	w.Step("vapour pressure above that of the air", "m", "a_w * p_end - p_v", float64(out.DryMargin), "kPa", "")
}

// WarmingForSurface returns the time constant with which a piece follows the
// air, from its temperature before and after a stay:
//
//	tau = t / ln((T_air - T_0) / (T_air - T))
//
// It is the calibration for [Surface]: use the value with origin "measured",
// for this piece weight and this proofer only. Measure the surface, not the core.
//
// It returns an *[reckon.InputError] if:
//   - a temperature is missing or out of its range, or time outside 1 s to 7 d,
//   - after does not lie between start and air, at least a tenth of a degree from both.
//
// Source: Newton's law of cooling.
type WarmingForSurface struct {
	Air   unit.Temp     `json:"air"`   // temperature of the air, 0 to 90 °C
	Start unit.Temp     `json:"start"` // surface as the piece came in, 0 to 50 °C
	After unit.Temp     `json:"after"` // surface after time, between start and air
	Time  unit.Duration `json:"time"`  // 1 s to 7 d
}

func (WarmingForSurface) ID() string { return "warming-for-surface" }

// SHELL
func (q WarmingForSurface) Check(c *reckon.Checks) {
	_, err := explainWarmingForSurface(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q WarmingForSurface) Solve() (WarmingForSurfaceResult, error) {
	return explainWarmingForSurface(q, nil)
}

func (q WarmingForSurface) Show(w *reckon.Working, _ WarmingForSurfaceResult) {
	_, _ = explainWarmingForSurface(q, w)
}

// WarmingForSurfaceResult is how fast a piece follows the air.
type WarmingForSurfaceResult struct {
	Warming unit.Duration `json:"warming"` // time constant
}

func explainWarmingForSurface(in WarmingForSurface, w *reckon.Working) (out WarmingForSurfaceResult, err error) {
	c := reckon.Checks{Func: "warming-for-surface"}
	ok := reckon.CheckTemp(&c, "air", in.Air, coldestAir, hottestAir)
	ok = reckon.CheckTemp(&c, "start", in.Start, coldestDough, hottestDough) && ok
	ok = reckon.CheckTemp(&c, "after", in.After, coldestAir, hottestAir) && ok
	reckon.CheckRange(&c, "time", in.Time, 1, maxStay)
	a, s, t := in.Air.Celsius(), in.Start.Celsius(), in.After.Celsius()
	// A thermometer tells a tenth of a degree; nearer, the answer would be noise.
	if ok && !(math.Min(a, s)+0.1 <= t && t <= math.Max(a, s)-0.1) {
		c.Fail("after", in.After.String(), "between start, "+in.Start.String()+", and air, "+in.Air.String()+", a tenth of a degree from both")
	}
	if err := c.Err(); err != nil {
		return WarmingForSurfaceResult{}, err
	}
	out = WarmingForSurfaceResult{Warming: unit.Duration(float64(in.Time) / math.Log((a-s)/(a-t)))}
	if w != nil {
		w.Given("air temperature", "T_a", a, "°C", "")
		w.Given("surface as it came in", "T_0", s, "°C", "")
		w.Given("surface after the time", "T", t, "°C", "")
		w.Given("time", "t", float64(in.Time), "s", "")
		w.Step("time constant", "tau", "t / ln((T_a - T_0) / (T_a - T))", float64(out.Warming), "s", "")
	}
	return out, nil
}

// HumidityForSurface returns the relative humidities at which a surface begins
// to sweat and to dry:
//
//	sweats above 100 * p_ws(T) / p_ws(T_air), dries below 100 * a_w * p_ws(T) / p_ws(T_air)
//
// Between the two nothing happens. Take the dough as it comes in for the
// first, and as it leaves for the second.
//
// It is the inverse of [Surface] at one moment and exact for the temperatures
// and the water activity given; with one that is assumed the second is an estimate.
//
// It returns an *[reckon.InputError] if:
//   - air is missing or outside 0 to 90 °C, dough missing or outside 0 to 50 °C,
//   - water_activity is outside 0.8 to 1, or origin is not named.
//
// Source: criterion of the dew point, with the saturation pressure of Hyland and Wexler.
type HumidityForSurface struct {
	Air      unit.Temp   `json:"air"`            // temperature of the air, 0 to 90 °C
	Dough    unit.Temp   `json:"dough"`          // temperature of the surface, 0 to 50 °C
	Activity float64     `json:"water_activity"` // as in [SurfaceInput], 0.8 to 1; about 0.97 for bread dough
	Origin   ValueOrigin `json:"origin"`         // "measured" or "assumed": where water_activity comes from
}

func (HumidityForSurface) ID() string { return "humidity-for-surface" }

// SHELL
func (q HumidityForSurface) Check(c *reckon.Checks) {
	_, err := explainHumidityForSurface(q, nil)
	for _, e := range reckon.InputErrors(err) {
		c.Fail(e.Field, e.Value, e.Want)
	}
}

func (q HumidityForSurface) Solve() (HumidityForSurfaceResult, error) {
	return explainHumidityForSurface(q, nil)
}

func (q HumidityForSurface) Show(w *reckon.Working, _ HumidityForSurfaceResult) {
	_, _ = explainHumidityForSurface(q, w)
}

// HumidityForSurfaceResult is the humidity between sweating and drying.
type HumidityForSurfaceResult struct {
	SweatsAbove unit.Percent `json:"sweats_above"` // relative humidity above which it sweats; above 100 % it never does; it does not hang on the water activity
	DriesBelow  unit.Percent `json:"dries_below"`  // relative humidity below which it dries; above 100 % it always does
	Conditions  Conditions   `json:"conditions"`   // uncalibrated (water activity assumed)
}

func explainHumidityForSurface(in HumidityForSurface, w *reckon.Working) (out HumidityForSurfaceResult, err error) {
	c := reckon.Checks{Func: "humidity-for-surface"}
	reckon.CheckTemp(&c, "air", in.Air, coldestAir, hottestAir)
	reckon.CheckTemp(&c, "dough", in.Dough, coldestDough, hottestDough)
	reckon.CheckRange(&c, "water_activity", in.Activity, lowestActivity, highestActivity)
	reckon.CheckEither(&c, "origin", in.Origin, OriginMeasured, OriginAssumed)
	if err := c.Err(); err != nil {
		return HumidityForSurfaceResult{}, err
	}
	surface, air := saturation(in.Dough.Celsius()), saturation(in.Air.Celsius())
	out = HumidityForSurfaceResult{
		SweatsAbove: unit.Percent(surface / air * 100),
		DriesBelow:  unit.Percent(in.Activity * surface / air * 100),
	}
	if in.Origin == OriginAssumed {
		out.Conditions |= reckon.Uncalibrated
	}
	if w != nil {
		w.Given("air temperature", "T_a", in.Air.Celsius(), "°C", "")
		w.Given("surface", "T", in.Dough.Celsius(), "°C", "")
		w.Given("water activity", "a_w", in.Activity, "", "")
		explainSaturation(w, "saturation pressure of the air", "p_a", "T_a", in.Air.Celsius())
		explainSaturation(w, "saturation pressure at the surface", "p_s", "T", in.Dough.Celsius())
		w.Step("sweats above", "RH_s", "p_s / p_a * 100", float64(out.SweatsAbove), "%", "")
		w.Step("dries below", "RH_d", "a_w * p_s / p_a * 100", float64(out.DriesBelow), "%", "")
	}
	return out, nil
}
