package fluid

import (
	"math"

	"thole/engine/num"
)

// The rows of fresh water. Density [kg/m³] P2 ITTC 7.5-02-01-03; viscosity
// [m²/s] P2 ITTC at 15 °C, from memory (high) at the other rows.
var (
	densityAt   = []float64{0, 4, 10, 15, 20, 25, 30}
	density     = []float64{999.843, 999.972, 999.7026, 999.1026, 998.2071, 997.0479, 995.6502}
	viscosityAt = []float64{0, 5, 10, 15, 20, 25, 30}
	viscosity   = []float64{1.787e-6, 1.518e-6, 1.3063e-6, 1.13858e-6, 1.0034e-6, 0.8927e-6, 0.801e-6}

	densityCurve, logViscosityCurve = curves()
)

func curves() (*num.Cubic, *num.Cubic) {
	rho, err := num.NewCubic(densityAt, density)
	if err != nil {
		panic(err)
	}
	logs := make([]float64, len(viscosity))
	for i, v := range viscosity {
		logs[i] = num.Ln(v)
	}
	nu, err := num.NewCubic(viscosityAt, logs)
	if err != nil {
		panic(err)
	}
	return rho, nu
}

// FreshWater gives fresh water at a temperature [°C] of 0 to 30; colder or warmer
// counts as the nearest row. Through every row of the table exactly; between rows
// a monotone cubic in density and in the logarithm of viscosity (viscosity falls
// nearly as an exponential, so its logarithm is the straighter curve).
func FreshWater(celsius float64) Water {
	celsius = math.Min(30, math.Max(0, celsius))
	// the rows themselves to the last bit, past the round trip of exp and log
	for i, t := range viscosityAt {
		if t == celsius {
			return Water{Density: densityCurve.At(celsius), Viscosity: viscosity[i]}
		}
	}
	return Water{Density: densityCurve.At(celsius), Viscosity: num.Exp(logViscosityCurve.At(celsius))}
}
