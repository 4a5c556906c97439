package blade

import (
	"math"
	"testing"

	"thole/engine/fluid"
)

var fresh = fluid.FreshWater(15)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.12g, expected %.12g", what, got, want)
	}
}

// hatchet is the default sculling blade, changed.
func hatchet(t *testing.T, change func(b *Blade)) *Elements {
	t.Helper()
	b, err := New("scull hatchet")
	if err != nil {
		t.Fatal(err)
	}
	change(&b)
	e := new(Elements)
	if err := e.Prepare(&b, fresh, 1.75); err != nil {
		t.Fatal(err)
	}
	return e
}

// The text of model 3, word by word and strip by strip: coefficients of the
// angle of attack, signs of slip and run. Slower than the package, written otherwise.
func byTheText(e *Elements, b *Blade, v, omega, theta float64) Load {
	var l Load
	sin, cos := math.Sincos(theta)
	for i := range e.N {
		sn, st := e.R[i]*omega-v*cos, -v*sin
		w := math.Hypot(sn, st)
		sinA, cosA := math.Abs(sn)/w, math.Abs(st)/w
		kD, kL := b.Grip*b.Drag, b.Grip*b.LiftOrTied()*(1+b.Early)
		if st < 0 {
			kL = b.Grip * b.LiftOrTied() * (1 - b.Early)
		}
		cL, cD := kL*2*sinA*cosA, kD*sinA*sinA
		fn := e.Half[i] * w * w * (cL*cosA + cD*sinA)
		ft := e.Half[i] * w * w * (cD*cosA - cL*sinA)
		if sn < 0 {
			fn = -fn
		}
		if st < 0 {
			ft = -ft
		}
		if b.Law == Crossflow {
			fn, ft = e.Half[i]*kD*sn*math.Abs(sn), 0
		}
		l.Normal += fn
		l.Along += ft
		l.Moment += e.R[i] * fn
		l.Loss += fn*sn + ft*st
	}
	return l
}

// The package's short forms are the text's: to rounding, over the flows of a stroke.
// Equations 1.3, 3.1, 3.2 and 3.3.
func TestForcesFollowTheText(t *testing.T) {
	for name, change := range map[string]func(b *Blade){
		"plate":                  func(b *Blade) {},
		"plate, lift of its own": func(b *Blade) { b.Lift = 1.25 },
		"plate, early":           func(b *Blade) { b.Early, b.Grip = 0.3, 1.1 },
		"crossflow":              func(b *Blade) { b.Law = Crossflow },
		"one strip":              func(b *Blade) { b.Strips = 1 },
		"33 strips":              func(b *Blade) { b.Strips = 33 },
	} {
		b, err := New("scull hatchet")
		if err != nil {
			t.Fatal(err)
		}
		change(&b)
		e := hatchet(t, change)
		for theta := -1.1; theta < 0.8; theta += 0.0937 {
			for omega := 0.0; omega < 5; omega += 0.61 {
				sin, cos := math.Sincos(theta)
				got, want := e.Water(4.7, omega, sin, cos), byTheText(e, &b, 4.7, omega, theta)
				near(t, name+" Σ f_n", got.Normal, want.Normal, 1e-12)
				near(t, name+" Σ f_t", got.Along, want.Along, 1e-12)
				near(t, name+" Σ R f_n", got.Moment, want.Moment, 1e-12)
				near(t, name+" loss", got.Loss, want.Loss, 1e-11)
			}
		}
	}
}

// Identity 7: with lift = drag/2 the plate's force is normal to it (Ortiz, Rival & Wood
// 2015: D/L = tan α), at every angle and grip; exactly, for it is so by algebra.
func TestPlateForceIsNormal(t *testing.T) {
	e := hatchet(t, func(b *Blade) { b.Grip = 1.3 })
	for theta := -1.1; theta < 0.8; theta += 0.1 {
		sin, cos := math.Sincos(theta)
		if l := e.Water(5, 2.5, sin, cos); l.Along != 0 || l.Normal == 0 {
			t.Errorf("at %.1f rad the plate is pushed %g N along itself, %g N across", theta, l.Along, l.Normal)
		}
	}
	// the published lift of 1.25 with a drag of 2.07 would make water push the blade
	// along its own motion: f_t against the run is negative
	e = hatchet(t, func(b *Blade) { b.Lift = 1.25 })
	sin, cos := math.Sincos(-0.9)
	if l := e.Water(5, 2.5, sin, cos); l.Along >= 0 {
		t.Errorf("lift 1.25: f_t = %g N should drive the blade along itself", l.Along)
	}
}

// A measured table whose coefficients are those of the plate gives the plate's force, as
// close as the cubic follows them: rows each degree, C² off by (π/180)⁴-ish, 1e-5.
func TestTableOfAPlateIsThePlate(t *testing.T) {
	plate := hatchet(t, func(b *Blade) { b.Grip = 1.2 })
	table := hatchet(t, func(b *Blade) {
		b.Law, b.Grip = Table, 1.2
		for deg := 0; deg <= 180; deg++ {
			a := float64(deg) * math.Pi / 180
			b.Coefficients = append(b.Coefficients, Coefficient{a, math.Abs(2.07 / 2 * 2 * math.Sin(a) * math.Cos(a)), 2.07 * math.Sin(a) * math.Sin(a)})
		}
	})
	for theta := -1.1; theta < 0.8; theta += 0.0937 {
		for omega := 0.5; omega < 5; omega += 0.61 {
			sin, cos := math.Sincos(theta)
			a, b := plate.Water(4.7, omega, sin, cos), table.Water(4.7, omega, sin, cos)
			scale := math.Abs(a.Normal) + 1
			if math.Abs(a.Normal-b.Normal) > 3e-4*scale || math.Abs(b.Along) > 3e-4*scale {
				t.Errorf("θ %.2f ω %.2f: plate %.4f N, table %.4f N across, %.4f along", theta, omega, a.Normal, b.Normal, b.Along)
			}
		}
	}
}

// A table with more lift than a plate pushes along the blade's own motion: C_T is
// negative, and its sign stays. One strip, so that the angle of attack is known:
// at 20° with C_L 0.7, C_D 0.3, C_N = 0.7 cos 20° + 0.3 sin 20°, C_T = 0.3 cos 20° − 0.7 sin 20°.
// Equation 3.4.
func TestTableKeepsTheSignOfItsCoefficients(t *testing.T) {
	rows := [][3]float64{{0, 0, .05}, {20, .7, .2}, {45, 1, 1}, {90, .05, 2}, {135, .9, 1.1}, {160, .6, .15}, {180, 0, .05}}
	e := hatchet(t, func(b *Blade) {
		b.Law, b.Strips, b.Grip = Table, 1, 1
		for _, r := range rows {
			b.Coefficients = append(b.Coefficients, Coefficient{r[0] * math.Pi / 180, r[1], r[2]})
		}
	})
	const v, deg = 5.0, math.Pi / 180
	half := 0.5 * fresh.Density * 0.0820 // ½ρA
	for _, c := range []struct {
		name              string
		theta, attack     float64 // oar angle; atan2(|s_n|, s_t)
		sternward         float64 // sign of the slip
		lift, drag, along float64 // sign of s_t
	}{
		{"tip leads, sternward", -50, 20, 1, .7, .2, 1},
		{"tip leads, backing", -50, 20, -1, .7, .2, 1},
		{"neck leads, sternward", 40, 160, 1, .6, .15, -1},
		{"neck leads, backing", 40, 160, -1, .6, .15, -1},
		{"neck leads, 135°", 40, 135, 1, .9, 1.1, -1},
	} {
		sin, cos := math.Sincos(c.theta * deg)
		run := -v * sin
		alpha := math.Min(c.attack, 180-c.attack) * deg
		slip := c.sternward * math.Abs(run) * math.Tan(alpha)
		omega := (slip + v*cos) / 1.75
		w2 := slip*slip + run*run
		l := e.Water(v, omega, sin, cos)
		near(t, c.name+" f_n", l.Normal, c.sternward*half*w2*(c.lift*math.Cos(alpha)+c.drag*math.Sin(alpha)), 1e-12)
		near(t, c.name+" f_t", l.Along, c.along*half*w2*(c.drag*math.Cos(alpha)-c.lift*math.Sin(alpha)), 1e-12)
	}
}

// Σ w_i = l, so the strips together are the blade: a flow alike at all of them (ω = 0)
// gives the same force with any number of strips, and ½ρA k_D V² square to the flow.
func TestStripsSumToTheBlade(t *testing.T) {
	for _, n := range []int{1, 2, 5, 33} {
		e := hatchet(t, func(b *Blade) { b.Strips = n })
		near(t, "force of a blade held square", e.Water(4, 0, 0, 1).Normal, -0.5*fresh.Density*0.0820*2.07*16, 1e-12)
	}
}

// The rows of the table (DNV-RP-C205, from memory), between them and
// beyond; and the numbers of the open cases (κ 0.805668293, 9.24115205 kg; 0.79396,
// 17.6992935 kg), computed by an independent implementation. Equation 3.6.
func TestAddedMass(t *testing.T) {
	for i, x := range slenderness {
		near(t, "κ at a row", AddedMassFactor(x, 1), kappa[i], 1e-15)
		near(t, "κ of the swapped plate", AddedMassFactor(1, x), kappa[i], 1e-15)
	}
	near(t, "κ between rows", AddedMassFactor(2.25, 1), (0.757+0.801)/2, 1e-14)
	near(t, "κ beyond the last row", AddedMassFactor(20, 1), 1-0.053/2, 1e-14)
	scull := hatchet(t, func(b *Blade) { b.AddedMass = 1 })
	near(t, "κ of the sculling hatchet", AddedMassFactor(0.46, 0.0820/0.46), 0.805668293, 1e-9)
	near(t, "its added mass", scull.Mass, 9.24115205, 1e-8)
	b, err := New("sweep hatchet")
	if err != nil {
		t.Fatal(err)
	}
	b.AddedMass = 1
	e := new(Elements)
	if err := e.Prepare(&b, fresh, 2.295); err != nil {
		t.Fatal(err)
	}
	near(t, "κ of the sweep hatchet", AddedMassFactor(0.55, 0.1250/0.55), 0.79396, 1e-9)
	near(t, "its added mass", e.Mass, 17.6992935, 1e-8)
	// a blade wider than long is the same plate turned
	wide := hatchet(t, func(b *Blade) { b.AddedMass, b.Length, b.Area = 1, 0.2, 0.2*0.4 })
	long := hatchet(t, func(b *Blade) { b.AddedMass, b.Length, b.Area = 1, 0.4, 0.2*0.4 })
	near(t, "a wide blade's added mass", wide.Mass, long.Mass, 1e-12)
}

// b(θ): 0 at the catch, 1 between, 0 at the finish; an arc of 0 makes its factor 1; the
// entry term is the slope of b_in times b_out. Equation 3.5.
func TestBurying(t *testing.T) {
	e := hatchet(t, func(b *Blade) {})
	if b := e.Buried(0, 1.8); b.Share != 0 || b.Entry != 0 {
		t.Errorf("at the catch the blade is in by %v", b)
	}
	if b := e.Buried(0.9, 0.9); b.Share != 1 || b.Entry != 0 {
		t.Errorf("mid-drive the blade is in by %v", b)
	}
	if b := e.Buried(1.8, 0); b.Share != 0 {
		t.Errorf("at the finish the blade is in by %v", b)
	}
	half := e.Bury / 2
	near(t, "half way in", e.Buried(half, 1.8-half).Share, 0.5, 1e-14)
	const h = 1e-6
	slope := (e.Buried(half+h, 1).Share - e.Buried(half-h, 1).Share) / (2 * h)
	near(t, "entry", e.Buried(half, 1).Entry, slope, 1e-8)
	// an arc so short that the blade comes out while it still goes in
	near(t, "entry of a blade half out", e.Buried(half, e.Release/2).Entry, 0.5*e.Buried(half, 1).Entry, 1e-14)
	at := hatchet(t, func(b *Blade) { b.Bury, b.Release = 0, 0 })
	if b := at.Buried(0, 0); b.Share != 1 || b.Entry != 0 {
		t.Errorf("a blade buried at once is in by %v", b)
	}
}

func TestShapes(t *testing.T) {
	if _, err := New("spoon"); err == nil {
		t.Error("a shape nobody knows was made")
	}
	for _, c := range []struct {
		length float64
		kind   Kind
	}{{2.88, Scull}, {3.30, Scull}, {3.31, Sweep}} {
		b, err := New("perfect")
		if err != nil {
			t.Fatal(err)
		}
		if b = b.On(c.length); b.Kind != c.kind || math.IsNaN(b.Length) || math.IsNaN(b.Area) {
			t.Errorf("a perfect blade on an oar of %g m is %v, %g m long", c.length, b.Kind, b.Length)
		}
	}
}

// The run along the shaft is rubbed under every law: ½ρ A C_T s_t |s_t| against it, and the
// loss grows by that force times the run. Equation 3.8.
func TestRunAlongTheShaft(t *testing.T) {
	for _, law := range []Law{Plate, Crossflow} {
		plain := hatchet(t, func(b *Blade) { b.Law = law })
		rubbed := hatchet(t, func(b *Blade) { b.Law, b.Along = law, 0.02 })
		for _, theta := range []float64{-0.9, 0.5} {
			sin, cos := math.Sincos(theta)
			a, b := plain.Water(5, 2.4, sin, cos), rubbed.Water(5, 2.4, sin, cos)
			run := -5 * sin
			force := 0.5 * fresh.Density * 0.0820 * 0.02 * run * math.Abs(run)
			near(t, "force along", b.Along-a.Along, force, 1e-12)
			near(t, "force across", b.Normal, a.Normal, 0)
			near(t, "loss", b.Loss-a.Loss, force*run, 1e-9)
		}
	}
}
