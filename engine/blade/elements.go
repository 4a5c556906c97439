package blade

import (
	"fmt"
	"math"

	"thole/engine/fluid"
	"thole/engine/num"
)

// Elements is a blade on its oar in its water, cut into strips: everything the
// equations of motion ask of a blade, without allocation. Fill it with Prepare.
type Elements struct {
	Law    Law
	N      int
	R      [MaxStrips]float64 // R_i, strip's distance from the pin, m
	Half   [MaxStrips]float64 // ½ρ c w_i, kg/m
	Centre float64            // L, blade centre's distance from the pin, m

	KD      float64 // G·drag
	KLTip   float64 // G·lift·(1+e), while the tip leads
	KLNeck  float64 // G·lift·(1−e), while the neck leads
	Along   float64 // ½ρ A C_T, kg/m
	Mass    float64 // m_a, added mass at the blade centre, kg
	Bury    float64 // δ_c, rad
	Release float64 // δ_f, rad

	LightEntry bool // no momentum of the water taken on

	lift, drag *num.Cubic // law table, × G, over the angle of attack
}

// Prepare sets e to blade b with its centre at the radius centre [m] from the pin.
// Equation 3.6.
func (e *Elements) Prepare(b *Blade, water fluid.Water, centre float64) error {
	if b.Strips < 1 || b.Strips > MaxStrips {
		return fmt.Errorf("a blade is cut into 1 to %d strips, not %d", MaxStrips, b.Strips)
	}
	*e = Elements{Law: b.Law, N: b.Strips, Centre: centre, Bury: b.Bury, Release: b.Release,
		LightEntry: b.LightEntry}
	// an arc nobody can see is cut off where its jerk would ask for steps shorter than
	// a double can tell apart; down to 0.001° nothing changes by 1e-5, and 0 itself is
	// another blade (it takes on no water at once)
	if e.Bury > 0 {
		e.Bury = max(e.Bury, shortestArc)
	}
	if e.Release > 0 {
		e.Release = max(e.Release, shortestArc)
	}
	if b.Law == Perfect {
		e.Bury, e.Release = 0, 0
		return nil
	}
	width := b.Area / b.Length
	x, w := num.GaussLegendre(b.Strips)
	for i := range e.N {
		e.R[i] = centre + float64(x[i]*b.Length)/2
		e.Half[i] = 0.5 * water.Density * width * w[i] * b.Length / 2
	}
	lift := b.Grip * b.LiftOrTied()
	e.KD, e.KLTip, e.KLNeck = b.Grip*b.Drag, lift*(1+b.Early), lift*(1-b.Early)
	e.Along = 0.5 * water.Density * b.Area * b.Along
	e.Mass = AddedMassFactor(b.Length,
		width) * math.Pi / 4 * water.Density * width * width * b.Length * b.AddedMass
	if b.Length < width {
		e.Mass = AddedMassFactor(width,
			b.Length) * math.Pi / 4 * water.Density * b.Length * b.Length * width * b.AddedMass
	}
	if b.Law == Table {
		return e.prepareTable(b)
	}
	return nil
}

// shortestArc is the least arc over which a blade goes in or comes out, rad.
const shortestArc = 1e-8

// Load is the water's force on a fully buried blade.
type Load struct {
	Normal float64 // Σ f_n, along n, N
	Along  float64 // Σ f_t, against a·s_t, N
	Moment float64 // Σ R_i f_n, N·m
	Loss   float64 // Σ (f_n s_n + f_t s_t), power left in the water, W
}

// Water gives the force on the strips at hull speed v [m/s] and oar rate omega
// [rad/s], sin and cos of the oar's angle, for a fully buried blade. Equations 1.3 and 3.1.
func (e *Elements) Water(v, omega, sin, cos float64) Load {
	switch e.Law {
	case Plate:
		return e.plate(v, omega, sin, cos)
	case Crossflow:
		return e.crossflow(v, omega, sin, cos)
	case Table:
		return e.table(v, omega, sin, cos)
	}
	return Load{}
}

// Strip gives strip i's slip s_n [m/s] and normal force f_n [N], fully buried.
func (e *Elements) Strip(i int, v, omega, sin, cos float64) (slip, force float64) {
	one := *e
	one.N, one.R[0], one.Half[0] = 1, e.R[i], e.Half[i]
	return float64(e.R[i]*omega) - float64(v*cos), one.Water(v, omega, sin, cos).Normal
}

// Buried is how far the blade is in the water, and how that changes.
type Buried struct {
	Share float64 // b = b_in b_out, 0 to 1
	Entry float64 // b_out db_in/dθ, 1/rad: water taken on while it goes in
}

// Buried gives the share of the blade in the water after the oar has moved by
// since [rad] from the catch, with left [rad] to go to the finish. Equation 3.5.
func (e *Elements) Buried(since, left float64) Buried {
	in, entry, out := 1.0, 0.0, 1.0
	if e.Bury > 0 && since < e.Bury {
		u := since / e.Bury
		in, entry = num.Rise(u), num.RiseSlope(u)/e.Bury
	}
	if e.Release > 0 && left < e.Release {
		out = num.Rise(left / e.Release)
	}
	if e.LightEntry {
		entry = 0
	}
	return Buried{in * out, out * entry}
}
