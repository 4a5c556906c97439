// Package blade gives the force of water on an oar's blade, cut into strips
// along its length (blade elements). Blade is what a user describes; Elements is
// the same blade on its oar in its water, ready for the equations of motion.
//
// Frame and signs: θ is the oar's angle, 0 with the shaft square to the hull,
// negative toward the bow; n = (cos θ, sin θ) is the way water pushes the blade in
// the drive, a = (−sin θ, cos θ) points outward along the shaft. Slip s_n is
// positive when the blade moves sternward through the water.
//
// Not modelled: the free surface (but for the share of added mass), depth,
// pitch, curvature (grip and early stand for them), and unsteady lift.
package blade

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/defaults"
)

// Law names how the water's force follows from the flow.
type Law uint8

// The laws of the model, section 3; Perfect is the blade that does not slip.
const (
	Plate     Law = iota // C_L = k_L 2 sin α cos α, C_D = k_D sin² α
	Crossflow            // force across the shaft alone, from the slip across it
	Table                // measured coefficients over 0 to 180°
	Perfect              // no slip at the blade's centre
)

// Laws lists the laws' names as they are typed, in the order of the constants.
var Laws = []string{"plate", "crossflow", "table", "perfect"}

func (l Law) String() string { return Laws[l] }

// Kind says what oar a blade belongs on.
type Kind uint8

// The kinds of oar. Either is a perfect blade before it sits on an oar.
const (
	Either Kind = iota
	Scull
	Sweep
)

func (k Kind) String() string { return [...]string{"", "scull", "sweep"}[k] }

// Coefficient is one row of a measured blade table: lift and drag at an angle of
// attack [rad], 0 to π/2 while the tip leads, π/2 to π while the neck leads. Lift
// counts positive in both halves: it pushes to the side of the normal force.
type Coefficient struct {
	Angle, Lift, Drag float64
}

// MaxStrips is the largest number of strips a blade can be cut into.
const MaxStrips = 33

// Blade is a blade as a user describes it. Values are immutable by convention:
// a changed blade is a changed copy.
type Blade struct {
	Shape        string // "scull hatchet"...; "perfect"
	Kind         Kind
	Law          Law
	Area         float64       // A, m²
	Length       float64       // l, m
	Grip         float64       // G, how much more water it holds than a flat plate of its size
	Early        float64       // e, more lift while the tip leads, less while the neck leads; law plate only
	Drag         float64       // k_D at grip 1
	Lift         float64       // k_L at grip 1; NaN = half the drag, whatever the drag becomes
	Along        float64       // C_T, friction of the run along the shaft; 0 = none beyond the law's own
	Coefficients []Coefficient // law table only, angles rising
	AddedMass    float64       // share of the deep-water added mass, 0 = off
	Bury         float64       // δ_c, arc over which it goes in, rad; 0 = at once
	LightEntry   bool          // the water taken on while it goes in costs nothing: a form of the model
	Release      float64       // δ_f, arc over which it comes out, rad; 0 = at once
	Strips       int           // 1 to MaxStrips
}

// Shapes lists the shapes New knows, as they are typed.
var Shapes = []string{"scull hatchet", "sweep hatchet", "scull tulip", "sweep tulip", "perfect"}

// New gives a shape's default blade. "perfect" leaves kind,
// area and length open (Either, NaN): On settles them when it sits on an oar.
func New(shape string) (Blade, error) {
	if !slices.Contains(Shapes, shape) {
		return Blade{}, fmt.Errorf("no blade shape is called %q", shape)
	}
	b := Blade{
		Shape:     shape,
		Grip:      defaults.Must("blade", "grip", shape),
		Early:     defaults.Must("blade", "early", shape),
		AddedMass: defaults.Must("blade", "added_mass", shape),
		Bury:      defaults.Must("blade", "bury", shape),
		Release:   defaults.Must("blade", "release", shape),
		Strips:    int(defaults.Must("blade", "strips", shape)),
		Lift:      math.NaN(),
	}
	if shape == "perfect" {
		b.Law, b.Area, b.Length, b.Drag = Perfect, math.NaN(), math.NaN(), math.NaN()
		return b, nil
	}
	b.Kind = Scull
	if shape[:5] == "sweep" {
		b.Kind = Sweep
	}
	b.Area = defaults.Must("blade", "area", shape)
	b.Length = defaults.Must("blade", "length", shape)
	b.Drag = defaults.Must("blade", "drag", shape)
	return b, nil
}

// SweepLength [m] is the length from which an oar under an open (perfect) blade
// counts as a sweep oar.
const SweepLength = 3.30

// On settles what a perfect blade leaves open for an oar of this length [m]: a
// scull's or, over 330 cm, a sweep oar's hatchet size.
func (b Blade) On(oarLength float64) Blade {
	if b.Kind == Either {
		b.Kind = Scull
		if oarLength > SweepLength {
			b.Kind = Sweep
		}
	}
	shape := b.Kind.String() + " hatchet"
	if math.IsNaN(b.Area) {
		b.Area = defaults.Must("blade", "area", shape)
	}
	if math.IsNaN(b.Length) {
		b.Length = defaults.Must("blade", "length", shape)
	}
	if math.IsNaN(b.Drag) {
		b.Drag = defaults.Must("blade", "drag", shape)
	}
	return b
}

// LiftOrTied is k_L at grip 1: the lift given, or half the drag, which makes the
// force of the plate law exactly normal to the blade (Ortiz, Rival & Wood 2015).
func (b *Blade) LiftOrTied() float64 {
	if math.IsNaN(b.Lift) {
		return b.Drag / 2
	}
	return b.Lift
}

// Equal says whether two blades are the same in everything the physics reads.
func (b *Blade) Equal(o *Blade) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return b.Law == o.Law && same(b.Area, o.Area) && same(b.Length, o.Length) && b.Grip == o.Grip &&
		b.Early == o.Early &&
		same(b.Drag, o.Drag) && same(b.Lift, o.Lift) && slices.Equal(b.Coefficients, o.Coefficients) &&
		b.Along == o.Along && b.LightEntry == o.LightEntry && b.AddedMass == o.AddedMass &&
		b.Bury == o.Bury && b.Release == o.Release && b.Strips == o.Strips
}
