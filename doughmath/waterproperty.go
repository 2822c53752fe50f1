package doughmath

import (
	"math"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// WaterPhase names what the water is.
type WaterPhase string

const (
	// LiquidWater is water from 0 to 100 °C.
	LiquidWater WaterPhase = "liquid"
	// IceWater is ice from -40 to 0 °C.
	IceWater WaterPhase = "ice"
)

// WaterProperty asks for the specific heat c, the density rho and the heat
// content h of water or ice:
//
//	c = -R*(c1 + tau*sum n(n+1)*a*alpha^(n+2) + tau*sum m(m+1)*b*beta^(m+2)) for the liquid
//	1/rho = R*10 K/p * (a5 + sum a*alpha^n + sum b*beta^m)
//	h = R*10 K*(H - H_0)
//
//	c = 2.0967 + 0.00733*t for ice
//	rho = (916.722 - 0.1465*t - 0.000225*t*t) / 1000
//	h = -333.425 + 2.0967*t + 0.00733*t*t/2
//
// with tau = T/10, alpha = 10/(593 - T), beta = 10/(T - 232), T in K, t in °C,
// p the pressure of 100 kPa, and H the Gibbs energy less T times its slope,
// over R*10 K; H_0 is that at 0 °C. The working has the coefficients.
//
// It holds at the pressure of the open air. The liquid follows its standard
// to the last digit printed there; ice is a line laid through the standard's
// values, within 0.0011 kJ/(kg K), 0.003 kg/m³ and 0.011 kJ/kg of them.
//
// Source: IAPWS SR6-08(2011), liquid water at 0.1 MPa; IAPWS R10-06(2009), ice Ih;
// cases in testdata/cases/doughmath/water-property.json.
type WaterProperty struct {
	Temperature unit.Temp  `json:"temperature" sym:"t" range:"-"` // 0 to 100 °C for liquid water, -40 to 0 °C for ice
	Phase       WaterPhase `json:"phase"`                         // "liquid" or "ice"
}

// WaterPropertyResult is what a heat balance needs to know of water.
type WaterPropertyResult struct {
	SpecificHeat unit.SpecificHeat   `json:"specific_heat" sym:"c"` // heat for one degree
	Density      unit.Density        `json:"density" sym:"rho"`     // mass of a volume
	Heat         unit.SpecificEnergy `json:"heat" sym:"h"`          // heat above liquid water at 0 °C; for ice below zero, the heat it takes to melt
}

func (WaterProperty) ID() string { return "water-property" }

func (q WaterProperty) Check(c *reckon.Checks) {
	low, high := unit.Celsius(0), unit.Celsius(100)
	if q.Phase == IceWater {
		low, high = unit.Celsius(-40), unit.Celsius(0)
	}
	reckon.CheckTemp(c, "temperature", q.Temperature, low, high)
	reckon.CheckEither(c, "phase", q.Phase, LiquidWater, IceWater)
}

func (q WaterProperty) Solve() (out WaterPropertyResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	t := q.Temperature.Celsius()
	if q.Phase == IceWater {
		out.SpecificHeat = unit.SpecificHeat(iceHeat0 + float64(iceHeatSlope*t))
		out.Density = unit.KilogramsPerCubicMetre(916.722 - float64(0.1465*t) - float64(0.000225*t*t))
		out.Heat = unit.SpecificEnergy(-heatToMelt(t))
		return out, nil
	}
	out.SpecificHeat, out.Density, out.Heat = unit.SpecificHeat(liquidHeat(t)), unit.Density(liquidDensity(t)), unit.SpecificEnergy(liquidEnthalpy(t))
	return out, nil
}

func (q WaterProperty) Show(w *reckon.Working, out WaterPropertyResult) {
	w.Inputs(q)
	if q.Phase == IceWater {
		w.Lines(out,
			"specific heat: c = 2.0967 + 0.00733*t  [line through IAPWS R10-06(2009)]",
			"density: rho = (916.722 - 0.1465*t - 0.000225*t*t) / 1000{kg/m³ per g/ml}  [curve through IAPWS R10-06(2009)]",
			"heat above liquid water at 0 °C: h = -(333.425 - 2.0967*t - 0.00733*t*t/2)  [heat of melting 333.425 kJ/kg, and the specific heat summed to 0 °C]",
		)
		return
	}
	w.Lines(out,
		"tau: tau = (t + 273.15) / 10  [IAPWS SR6-08(2011)]",
		"alpha: alpha = 10 / (593 - (t + 273.15))",
		"beta: beta = 10 / (t + 273.15 - 232)",
		"specific heat: c = -0.46151805 * (-8.983025854 + tau*(20*(-166147.0539)*pow(alpha, 6) + 30*2708781.64*pow(alpha, 7) + 56*(-155719154.4)*pow(alpha, 9)) + "+
			"tau*(6*(-0.8237426256)*pow(beta, 4) + 12*1.908956353*pow(beta, 5) + 20*(-2.017597384)*pow(beta, 6) + 30*0.8546361348*pow(beta, 7)))  [IAPWS SR6-08(2011)]",
		"density: rho = 100 / (0.46151805*10*1000{kg/m³ per g/ml}) / (0.0193763157 + 6744.58446*pow(alpha, 4) - 222521.604*pow(alpha, 5) + 100231247*pow(alpha, 7) - 1635521180*pow(alpha, 8) + 8322996580*pow(alpha, 9) + "+
			"0.00578545292*beta - 0.0153195665*pow(beta, 2) + 0.0311337859*pow(beta, 3) - 0.0423546241*pow(beta, 4) + 0.0338713507*pow(beta, 5) - 0.0119946761*pow(beta, 6))  [IAPWS SR6-08(2011)]",
		"heat function: H = "+heatFunction("tau", "alpha", "beta")+"  [Gibbs energy less T times its slope, over R * 10 K]",
		"heat function at 0 °C: H_0 = "+heatFunction("27.315", "(10/319.85)", "(10/41.15)"),
		"heat above liquid water at 0 °C: h = 0.46151805*10*(H - H_0)  [IAPWS SR6-08(2011)]",
	)
}

// heatFunction writes out [liquidGibbs] over its three variables.
func heatFunction(tau, alpha, beta string) string {
	return strings.NewReplacer("tau", tau, "alpha", alpha, "beta", beta).Replace(
		"8.983025854*tau - 166147.0539*(pow(alpha, 4) - 4*tau*pow(alpha, 5)) + 2708781.64*(pow(alpha, 5) - 5*tau*pow(alpha, 6)) - 155719154.4*(pow(alpha, 7) - 7*tau*pow(alpha, 8)) - " +
			"0.8237426256*(pow(beta, 2) + 2*tau*pow(beta, 3)) + 1.908956353*(pow(beta, 3) + 3*tau*pow(beta, 4)) - 2.017597384*(pow(beta, 4) + 4*tau*pow(beta, 5)) + 0.8546361348*(pow(beta, 5) + 5*tau*pow(beta, 6))",
	)
}

const (
	iceHeat0        = 2.0967  // kJ/(kg K) at 0 °C; IAPWS R10-06(2009), Table 6 prints 2.09671
	iceHeatSlope    = 0.00733 // kJ/(kg K²); line through the values from -40 to 0 °C
	latentHeatOfIce = 333.425 // kJ/kg at 0 °C and 101.325 kPa; IAPWS R10-06 against SR6-08
)

const heatToMeltLine = "heat to melt the ice: h_ice = 333.425 - 2.0967*T_ice - 0.00733*T_ice*T_ice/2 in kJ/kg  [IAPWS R10-06(2009)]"

// heatToMelt returns the heat in kJ/kg that turns ice of t °C into water of 0 °C.
func heatToMelt(t float64) float64 { return heatToWarmAndMelt(t, latentHeatOfIce) }

// heatToWarmAndMelt is [heatToMelt] with another heat of melting at 0 °C.
func heatToWarmAndMelt(t, melting float64) float64 {
	return melting - float64(iceHeat0*t) - float64(iceHeatSlope*t*t/2)
}

// One term of the standard's series.
type powerTerm struct{ exponent, factor float64 }

// The coefficients of IAPWS SR6-08(2011), as recalled; that all 17 reference
// values come out to their last digit shows that they are right.
var (
	liquidAlphaHeat    = [...]powerTerm{{4, -1.661470539e5}, {5, 2.708781640e6}, {7, -1.557191544e8}}
	liquidBetaHeat     = [...]powerTerm{{2, -8.237426256e-1}, {3, 1.908956353}, {4, -2.017597384}, {5, 8.546361348e-1}}
	liquidAlphaDensity = [...]powerTerm{{4, 6.74458446e3}, {5, -2.22521604e5}, {7, 1.00231247e8}, {8, -1.63552118e9}, {9, 8.32299658e9}}
	liquidBetaDensity  = [...]powerTerm{{1, 5.78545292e-3}, {2, -1.53195665e-2}, {3, 3.11337859e-2}, {4, -4.23546241e-2}, {5, 3.38713507e-2}, {6, -1.19946761e-2}}
)

const (
	waterGasConstant = 0.46151805 // kJ/(kg K)
	liquidC1         = -8.983025854
	liquidA5         = 1.93763157e-2
)

func liquidTerms(t float64) (tau, alpha, beta float64) {
	kelvins := t + unit.KelvinAtZeroCelsius
	return kelvins / 10, 10 / (593 - kelvins), 10 / (kelvins - 232)
}

// liquidHeat returns the specific heat of water at t °C in kJ/(kg K).
func liquidHeat(t float64) float64 {
	tau, alpha, beta := liquidTerms(t)
	sum := 0.0
	for _, k := range liquidAlphaHeat {
		sum += float64(k.exponent * (k.exponent + 1) * k.factor * math.Pow(alpha, k.exponent+2))
	}
	for _, k := range liquidBetaHeat {
		sum += float64(k.exponent * (k.exponent + 1) * k.factor * math.Pow(beta, k.exponent+2))
	}
	return -waterGasConstant * (liquidC1 + float64(tau*sum))
}

// liquidDensity returns the density of water at t °C in g/ml.
func liquidDensity(t float64) float64 {
	_, alpha, beta := liquidTerms(t)
	sum := liquidA5
	for _, k := range liquidAlphaDensity {
		sum += float64(k.factor * math.Pow(alpha, k.exponent))
	}
	for _, k := range liquidBetaDensity {
		sum += float64(k.factor * math.Pow(beta, k.exponent))
	}
	// R*T/p with T = 10 K, p = 100 kPa, in m³/kg; its inverse in kg/m³.
	return 1 / (waterGasConstant * 10 / 100 * sum) / 1000
}

// liquidEnthalpy returns the heat of water at t °C above that at 0 °C, in
// kJ/kg: the Gibbs energy less T times its slope.
func liquidEnthalpy(t float64) float64 {
	return float64(waterGasConstant*10) * (liquidGibbs(t) - liquidGibbs(0))
}

func liquidGibbs(t float64) float64 {
	tau, alpha, beta := liquidTerms(t)
	sum := -liquidC1 * tau
	for _, k := range liquidAlphaHeat {
		sum += float64(k.factor * (math.Pow(alpha, k.exponent) - float64(tau*k.exponent*math.Pow(alpha, k.exponent+1))))
	}
	for _, k := range liquidBetaHeat {
		sum += float64(k.factor * (math.Pow(beta, k.exponent) + float64(tau*k.exponent*math.Pow(beta, k.exponent+1))))
	}
	return sum
}
