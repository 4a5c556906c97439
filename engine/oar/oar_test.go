package oar

import (
	"math"
	"testing"

	"thole/engine/blade"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, expected %.9g to %.1g", what, got, want, tol)
	}
}

func made(t *testing.T, length, inboard float64, shape string) Oar {
	t.Helper()
	b, err := blade.New(shape)
	if err != nil {
		t.Fatal(err)
	}
	return New(length/100, inboard/100, b)
}

// The derived numbers of the open cases, computed by an independent implementation.
// Equations 1.1, 1.2, 4.1, 4.3 and 4.4.
func TestLeversAndInertia(t *testing.T) {
	s := made(t, 288, 88, "scull hatchet")
	near(t, "L_in", s.Lever(), 0.84, 1e-12)
	near(t, "L", s.Centre(), 1.75, 1e-12)
	near(t, "I", s.Inertia(), 1.42506, 1e-9)
	longer := made(t, 289.5, 89.5, "scull hatchet")
	near(t, "I with a longer inboard", longer.Inertia(), 1.42386375, 1e-9)
	o := made(t, 374, 115, "sweep hatchet")
	near(t, "sweep L_in", o.Lever(), 1.02, 1e-12)
	near(t, "sweep L", o.Centre(), 2.295, 1e-12)
	near(t, "sweep I", o.Inertia(), 4.13908333, 1e-8)
	bends := s.WithStiffness(0.038)
	f := bends.Shaft()
	near(t, "kL²/L²", f.Stiffness/s.Centre()/s.Centre(), 2580.69737, 1e-5)
	near(t, "I_h", f.HandleInertia, 0.111863344, 1e-9)
	near(t, "I_b", f.BladeInertia, 1.31319666, 1e-8)
	near(t, "damping", f.Damping, 2*0.05*math.Sqrt(f.Stiffness*f.BladeInertia), 1e-12)
}

// Oar inertia about the pivot, m(k² + c²), of a fixed-seat boat's long oars: Shaw in
// Rankov (ed.) 2012, app. (P2), c = cg − 1.092 m, mass from lbf/2.2046. Printed 10.8 and
// 10.3 to three figures; the others as his formula gives them. An oar of that
// radius of gyration is a rod of length k√12.
func TestInertiaOfPublishedOars(t *testing.T) {
	for _, r := range []struct{ lbf, k2, cg, want, tol float64 }{
		{12, 1.48, 1.81, 10.86, 0.005}, {10.5, 1.45, 1.94, 10.33, 0.005}, {10, 1.42, 1.94, 9.70, 0.005}, {9, 1.38, 1.90, 8.30, 0.005},
		{21, 1.45, 1.62, 16.47, 0.005}, // printed 18.2: a misprint, or other data, by 10 %
		{12, 1.48, 1.81, 10.8, 0.07}, {10.5, 1.45, 1.94, 10.3, 0.05},
	} {
		o := Oar{Length: math.Sqrt(12 * r.k2), Inboard: 1.092, Mass: r.lbf / 2.2046, Balance: r.cg - 1.092, SwingWeight: math.NaN()}
		near(t, "I", o.Inertia(), r.want, r.tol)
	}
}

// A balance point moves the centre of mass, a swing weight given stands as it is.
// Equation 4.2.
func TestBalanceAndSwingWeight(t *testing.T) {
	o := made(t, 288, 88, "scull hatchet")
	near(t, "hand weight", o.HandWeight(), 9.80665*1.45*0.54/0.84, 1e-12)
	o.Balance = 0.50
	near(t, "I by balance", o.Inertia(), 1.45*(2.88*2.88/12+0.48*0.48), 1e-12)
	near(t, "hand weight by balance", o.HandWeight(), 9.80665*1.45*0.48/0.84, 1e-12)
	o.SwingWeight = 1.3
	near(t, "I given", o.Inertia(), 1.3, 0)
}

// The trade's stiffness: 98.0665 N at the blade centre bend it so far, and a cantilever
// held at the collar bends as the third power of its length. Derived: 98.1 N
// at 2.0 m that bends 50 mm is EI 5232 N m²; with the same EI a shorter shaft's k follows
// 3EI/L³, which is what a change of outboard must give.
func TestShaftIsACantilever(t *testing.T) {
	ei := 98.1 * 8 / (3 * 0.050)
	near(t, "EI", ei, 5232, 0.5)
	near(t, "end slope, deg", 98.1*4/(2*ei)*180/math.Pi, 2.149, 5e-4)
	o := made(t, 288, 88, "scull hatchet")
	o = o.WithStiffness(0.050)
	l := o.Centre()
	k := o.Shaft().Stiffness / l / l
	ei = k * l * l * l / 3
	o.Length -= 0.10
	l = o.Centre()
	near(t, "k of the cut oar", o.Shaft().Stiffness/l/l, 3*ei/l/l/l, 1e-9)
	// stiffness given anew counts at the outboard it is given at
	anew := o.WithStiffness(0.050)
	near(t, "k given anew", anew.Shaft().Stiffness/l/l, 98.0665/0.050, 1e-9)
	// another blade changes L and L_made alike
	o = made(t, 288, 88, "scull hatchet").WithStiffness(0.050)
	o.Blade.Length = 0.40
	l = o.Centre()
	near(t, "k under another blade", o.Shaft().Stiffness/l/l, 98.0665/0.050, 1e-9)
}

// Reach kept: the angles of the open case 1x_reach_kept_longer_inboard, computed by an
// independent implementation; −1.4° per cm at a catch of 65° (model 1); hands
// that would have to pass the square are an error. Equation 1.4.
func TestKeepReach(t *testing.T) {
	const deg = math.Pi / 180
	was, is := made(t, 288, 88, "scull hatchet"), made(t, 289.5, 89.5, "scull hatchet")
	c, f, err := KeepReach(&was, &is, 64*deg, 43*deg)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "catch", c/deg, 62.00953755743073, 1e-11)
	near(t, "finish", f/deg, 42.06964859118944, 1e-11)
	one := made(t, 289, 89, "scull hatchet")
	c, _, err = KeepReach(&was, &one, 65*deg, 43*deg)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "catch change per cm", c/deg-65, -1.4, 0.05)
	// a longer outboard changes nothing, to the last bit: arc is a matter of the handle
	long := made(t, 295, 88, "scull hatchet")
	if c, f, _ := KeepReach(&was, &long, 64*deg, 43*deg); c != 64*deg || f != 43*deg {
		t.Error("the outboard changed the arc")
	}
	short := made(t, 280, 75, "scull hatchet")
	if _, _, err := KeepReach(&was, &short, 70*deg, 43*deg); err == nil {
		t.Error("hands that pass the square were let through")
	}
}

func TestCheck(t *testing.T) {
	for what, change := range map[string]func(o *Oar){
		"inboard longer than the oar": func(o *Oar) { o.Inboard = 3 },
		"hands at the pin":            func(o *Oar) { o.Hand = 0.89 },
		"no shaft":                    func(o *Oar) { o.Length = 1.2 },
	} {
		o := made(t, 288, 88, "scull hatchet")
		if o.Check() != nil {
			t.Fatal("an ordinary oar is refused")
		}
		change(&o)
		if o.Check() == nil {
			t.Errorf("%s: let through", what)
		}
	}
}
