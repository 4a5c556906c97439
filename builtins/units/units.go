// Package units is the one place where the trade's units become the engine's:
// centimetres become metres, degrees radians. Scripts, cards and tables speak in
// the trade's units; engine/oar, engine/blade and engine/stroke compute in SI.
//
// A value times a constant is in SI; divided by it, it is in the trade's unit
// again. Units that both sides share (kg, m/s, W, N) need no change.
package units

import "math"

const (
	Cm  = 0.01          // m
	Mm  = 0.001         // m
	Cm2 = 1e-4          // m²
	Deg = math.Pi / 180 // rad
)

// Tidy takes the dust of a change of units off a number: 0.88 m is 88 cm and
// not 88.00000000000001.
func Tidy(x float64) float64 {
	if r := math.Round(x*1e9) / 1e9; math.Abs(r-x) <= 1e-13*math.Abs(x) {
		return r
	}
	return x
}
