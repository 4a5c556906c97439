// Package oar knows levers: the oar as it is built (Oar), its lever arms,
// inertia and shaft, and the angles that keep the hands' reach.
//
// Lengths are measured as on a survey sheet: length from handle end to blade
// end, inboard from handle end to the collar's face that rests on the gate,
// outboard = length − inboard.
package oar

import (
	"fmt"
	"math"

	"thole/engine/blade"
	"thole/engine/defaults"
	"thole/engine/num"
)

// Oar is an oar as a user describes it. A changed oar is a changed copy.
type Oar struct {
	Length      float64 // m, handle end to blade end
	Inboard     float64 // m, handle end to the collar's face
	Mass        float64 // m, kg
	Balance     float64 // centre of mass from the collar's face outward, m; NaN = half the length
	SwingWeight float64 // I, moment of inertia about the pin, kg·m²; NaN = from mass and balance
	// stiffness as the trade measures it: m at the blade centre under 10 kg; NaN = rigid
	Deflection float64
	Made       float64     // outboard at which Deflection was measured, m; NaN = the present one
	Hand       float64     // h, handle end to the centre of the pull, m
	Gate       float64     // 2g, width of the gate, m
	Diameter   float64     // of the shaft, for the air, m
	Blade      blade.Blade // settled: kind, area and length known
}

// New gives an oar with the defaults of its kind, which is the blade's, or by
// its length under a perfect blade (over 330 cm: sweep).
func New(length, inboard float64, b blade.Blade) Oar {
	b = b.On(length)
	kind := b.Kind.String()
	return Oar{
		Length: length, Inboard: inboard, Blade: b,
		Mass:     defaults.Must("oar", "mass", kind),
		Hand:     defaults.Must("oar", "hand", kind),
		Gate:     defaults.Must("oar", "gate", kind),
		Diameter: defaults.Must("oar", "diameter", kind),
		Balance:  math.NaN(), SwingWeight: math.NaN(), Deflection: math.NaN(), Made: math.NaN(),
	}
}

// Kind says whether it is a scull or a sweep oar.
func (o *Oar) Kind() blade.Kind { return o.Blade.Kind }

// Outboard is length − inboard, m.
func (o *Oar) Outboard() float64 { return o.Length - o.Inboard }

// HalfGate is g, from the pin to the collar's face, m.
func (o *Oar) HalfGate() float64 { return o.Gate / 2 }

// Lever is L_in = inboard + g − h, from the pin to the centre of the pull, m. Equation 1.1.
func (o *Oar) Lever() float64 { return o.Inboard + o.HalfGate() - o.Hand }

// Centre is L = outboard − g − l/2, from the pin to the blade's centre, m. Equation 1.2.
func (o *Oar) Centre() float64 { return o.Outboard() - o.HalfGate() - o.Blade.Length/2 }

// MassArm is d, the centre of mass outward from the pin, m.
func (o *Oar) MassArm() float64 {
	if math.IsNaN(o.Balance) {
		return o.Length/2 - o.Inboard - o.HalfGate()
	}
	return o.Balance - o.HalfGate()
}

// Inertia is I about the pin, kg·m²: given as swing weight, or m (ℓ²/12 + d²).
// Equation 4.1.
func (o *Oar) Inertia() float64 {
	if !math.IsNaN(o.SwingWeight) {
		return o.SwingWeight
	}
	d := o.MassArm()
	return float64(o.Mass * (o.Length*o.Length/12 + float64(d*d)))
}

// HandWeight is what the hands carry with the oar level, N: 9.80665 m d/L_in. Equation 4.2.
func (o *Oar) HandWeight() float64 { return 9.80665 * o.Mass * o.MassArm() / o.Lever() }

// WithStiffness gives the oar with a shaft of this deflection [m under 10 kg],
// measured at its present outboard; NaN is a rigid shaft.
func (o Oar) WithStiffness(deflection float64) Oar {
	o.Deflection, o.Made = deflection, math.NaN()
	if !math.IsNaN(deflection) {
		o.Made = o.Outboard()
	}
	return o
}

// Flexible says whether the shaft bends.
func (o *Oar) Flexible() bool { return !math.IsNaN(o.Deflection) }

// Shaft is a flexible shaft: two inertias joined by a spring and a damper.
type Shaft struct {
	HandleInertia float64 // I_h, kg·m²
	BladeInertia  float64 // I_b, kg·m²
	Stiffness     float64 // k L², N·m/rad
	Damping       float64 // 2ζ √(k L² I_b), N·m·s/rad
}

// Shaft gives the flexible shaft: k = 98.0665 N/deflection at the outboard as
// made, scaled by (L_made/L)³ for a later change of outboard. Equations 4.3 and 4.4.
func (o *Oar) Shaft() Shaft {
	l := o.Centre()
	k := 98.0665 / o.Deflection
	if !math.IsNaN(o.Made) {
		made := o.Made - o.HalfGate() - o.Blade.Length/2
		k *= num.Pow(made/l, 3)
	}
	in, out := num.Pow(o.Inboard, 3), num.Pow(o.Outboard(), 3)
	inertia := o.Inertia()
	s := Shaft{HandleInertia: inertia * in / (in + out), Stiffness: k * l * l}
	s.BladeInertia = inertia - s.HandleInertia
	s.Damping = 2 * defaults.Must("oar", "damping", "") * math.Sqrt(s.Stiffness*s.BladeInertia)
	return s
}

// Check says what is wrong with an oar that cannot be rowed.
func (o *Oar) Check() error {
	switch {
	case o.Inboard >= o.Length:
		return fmt.Errorf("an inboard of %.1f cm is longer than the oar, %.1f cm", 100*o.Inboard,
			100*o.Length)
	case o.Lever() <= 0.05:
		return fmt.Errorf("the hands are at the pin: inboard %.1f cm, centre of the pull %.1f cm from the "+
			"handle's end", 100*o.Inboard, 100*o.Hand)
	case o.Centre() <= o.Blade.Length/2:
		return fmt.Errorf("an outboard of %.1f cm leaves no shaft for a blade of %.1f cm", 100*o.Outboard(),
			100*o.Blade.Length)
	case o.Inertia() <= 0:
		return fmt.Errorf("an oar without swing weight cannot be rowed")
	}
	return nil
}

// Equal says whether two oars are the same in everything the physics reads.
func (o *Oar) Equal(p *Oar) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return o.Length == p.Length && o.Inboard == p.Inboard && o.Mass == p.Mass && same(o.Balance, p.Balance) &&
		same(o.SwingWeight, p.SwingWeight) && same(o.Deflection, p.Deflection) && same(o.Made, p.Made) &&
		o.Hand == p.Hand && o.Gate == p.Gate && o.Diameter == p.Diameter && o.Blade.Equal(&p.Blade)
}
