// Package rounding is the one place where numbers are rounded: Decimals as people do
// on paper, Clean against the last-bit dust of a sum or of a change of units.
//
// What may enter: functions from a number to a number. What may not: numbers as text
// (engine/table writes them), units, anything of one room's own such as the rounded
// grid of the fast route. It imports no room of the house.
package rounding

import (
	"math"
	"strconv"
)

// Decimals rounds to that many decimals, half away from nought, as people do on
// paper: what 2.675 means is taken from its shortest decimal writing, not from its
// bits, so that it rounds to 2.68. Numbers too large to have the decimal, infinities
// and NaN come back as they are, and so does any number for digits outside 0 to 15.
func Decimals(x float64, digits int) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) || digits < 0 || digits > 15 {
		return x
	}
	power := math.Pow(10, float64(digits))
	scaled := x * power
	if math.Abs(scaled) > 1e15 {
		return x
	}
	// a product a few bits under the half is the half: 2.675*100 is 267.49999999999997
	whole := math.Trunc(scaled)
	if math.Abs(math.Abs(scaled-whole)-0.5) < 1e-9*math.Max(1, math.Abs(scaled)) {
		return (whole + math.Copysign(1, scaled)) / power
	}
	return math.Round(scaled) / power
}

// dust is how far a few operations may move a number's last bits, relative. It lies
// between a double's 1e-16 and half a unit of the twelfth figure, 5e-13 or more.
const dust = 1e-13

// Clean takes off the dust that a sum or a change of units leaves in the last bits:
// 8.1 dm² are 810 cm² and not 810.0000000000001. A number within 1e-13 of itself of
// one with twelve figures or fewer is that one; any other stays as it is, so that
// 1/3 keeps all its bits. Rejected: rounding every number to twelve or fifteen
// figures, which changes numbers that never had dust.
func Clean(x float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err == nil && math.Abs(short-x) <= dust*math.Abs(x) {
		return short
	}
	return x
}
