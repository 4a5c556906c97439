// Package units is the one place where the trade's units become the engine's:
// centimetres become metres, degrees radians. Scripts, cards and tables speak in
// the trade's units; engine/oar, engine/blade and engine/stroke compute in SI.
//
// SI and Trade change a number by the unit that a record or a field names. In a
// formula a value times Cm is in metres, and a value divided by it in centimetres
// again. Units that both sides share (kg, m/s, W, N) need no change.
package units

import (
	"math"

	"thole/engine/rounding"
)

const (
	Cm  = 0.01          // m
	Mm  = 0.001         // m
	Cm2 = 1e-4          // m²
	Deg = math.Pi / 180 // rad
)

var factors = map[string]float64{"cm": Cm, "mm": Mm, "cm²": Cm2, "deg": Deg}

// SI gives a number typed in the trade's unit as the engine takes it.
func SI(x float64, unit string) float64 {
	if factor, ok := factors[unit]; ok {
		return x * factor
	}
	return x
}

// Trade gives an engine's number in the trade's unit, without the dust of the
// change: 0.88 m is 88 cm and not 88.00000000000001.
func Trade(x float64, unit string) float64 {
	if factor, ok := factors[unit]; ok {
		return rounding.Clean(x / factor)
	}
	return x
}

// Clean takes that dust off a number already in the trade's unit; numbers in a unit
// that both sides share keep all their bits.
func Clean(x float64, unit string) float64 {
	if _, ok := factors[unit]; ok {
		return rounding.Clean(x)
	}
	return x
}
