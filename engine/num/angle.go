package num

import "math"

// Degrees turns radians into degrees.
func Degrees(rad float64) float64 { return rad * 180 / math.Pi }

// Radians turns degrees into radians.
func Radians(deg float64) float64 { return deg * math.Pi / 180 }
