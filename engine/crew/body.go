package crew

// The body's centre of mass moves toward the bow in the drive by A_com s(φ),
// s = 6φ² − 8φ³ + 3φ⁴: fastest a third of the way (legs, back, arms). It comes back
// by A_com S(τ) in the recovery, S = num.Rise, τ the share of the recovery gone.

// Body is s(φ), 0 at the catch and 1 at the finish. Equation 5.3.
func Body(phi float64) float64 { return float64(phi * phi * (6 + float64(phi*(float64(3*phi)-8)))) }

// BodySlope is s'(φ) = 12 φ (1 − φ)².
func BodySlope(phi float64) float64 { return float64(12 * phi * (1 - phi) * (1 - phi)) }

// BodyCurve is s”(φ) = 12 (1 − φ)(1 − 3φ).
func BodyCurve(phi float64) float64 { return float64(12 * (1 - phi) * (1 - float64(3*phi))) }
