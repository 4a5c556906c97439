package problemtest

import (
	"math"
	"math/rand"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke/problem"
)

// Dice is what a random problem is made from: rapid's generators in the tests of
// random_test.go of engine/stroke, so that a failing draw shrinks to a simple one.
type Dice interface {
	Between(name string, low, high float64) float64
	Pick(name string, n int) int
}

// Width says how far a draw goes.
type Width int

const (
	UsualRange Width = iota // the trade's own ranges (federation handbooks) at race powers
	WideRange               // everything plausible
)

// DrawProblem makes a random problem.
func DrawProblem(d Dice, w Width) problem.Problem {
	boat := hull.Boats[d.Pick("boat", len(hull.Boats))]
	h, err := hull.New(boat)
	if err != nil {
		panic(err)
	}
	p := problem.Problem{Hull: h, OarsPerRower: h.OarsPerRower(), Air: fluid.StandardAir(),
		Water: fluid.FreshWater(15), Target: math.NaN()}
	if h.Coxed() {
		p.CoxMass = 55
	}
	if d.Pick("plain law", 2) == 1 {
		p.Hull = h.Plain()
	}
	kinds := 1
	if w == WideRange {
		p.Rate = d.Between("rate", 16, 44)
		p.Wind = d.Between("wind", -6, 6)
		p.Water = fluid.FreshWater(d.Between("temperature", 0, 30))
		if d.Pick("shallow", 2) == 1 {
			p.Water.Depth = []float64{1.5, 3, 3.5, 6}[d.Pick("depth", 4)]
		}
		if d.Pick("laminar start", 2) == 1 {
			p.Hull.Transition = d.Between("transition", 1e5, 3e6)
		}
		p.Hull.Mass *= d.Between("hull mass", 0.8, 1.5)
		p.Hull.ClassFactor *= d.Between("drag factor", 0.8, 1.3)
		kinds = min(h.Seats(), 1+d.Pick("kinds of seat", 3))
	} else {
		p.Rate = d.Between("rate", 24, 38)
		p.Wind = d.Between("wind", -3, 3)
	}
	for i := range kinds {
		p.Seats = append(p.Seats, drawSeat(d, w, &h, p.Rate))
		p.Seats[i].Count = h.Seats() / kinds
		if i == 0 {
			p.Seats[i].Count += h.Seats() % kinds
		}
	}
	drawHold(d, &p)
	return p
}

// drawSeat makes a random rower with an oar.
func drawSeat(d Dice, w Width, h *hull.Hull, rate float64) problem.Seat {
	shapes := [2][2]string{{"sweep hatchet", "sweep tulip"}, {"scull hatchet", "scull tulip"}}
	sculling, tulip := 0, d.Pick("tulip", 2)
	if h.Sculling() {
		sculling = 1
	}
	b, err := blade.New(shapes[sculling][tulip])
	if err != nil {
		panic(err)
	}
	var o oar.Oar
	s := problem.Seat{}
	if h.Sculling() {
		o = oar.New(d.Between("length", 2.81, 2.93)+0.06*float64(tulip), d.Between("inboard", 0.83, 0.89), b)
		s.Catch, s.Finish = num.Radians(d.Between("catch", 58, 68)), num.Radians(d.Between("finish", 40, 46))
	} else {
		o = oar.New(d.Between("length", 3.66, 3.78)+0.05*float64(tulip), d.Between("inboard", 1.12, 1.18), b)
		s.Catch, s.Finish = num.Radians(d.Between("catch", 50, 58)), num.Radians(d.Between("finish", 30, 36))
	}
	mass := d.Between("mass", 60, 100)
	// race power (race powers: women 300-380 W, men 480-600 W) at 36 strokes a
	// minute, in proportion at other rates
	power := d.Between("race power", 300, 600) * rate / 36
	if w == WideRange {
		power = d.Between("power", 80, 600)
	}
	s.Rower = crew.New(mass, power)
	style, err := crew.Named(crew.Styles[d.Pick("style", len(crew.Styles))])
	if err != nil {
		panic(err)
	}
	s.Rower.Style = style
	if w == WideRange {
		widen(d, &s, &o)
	}
	s.Oar = o
	return s
}

// widen draws what the usual ranges leave at its default.
func widen(d Dice, s *problem.Seat, o *oar.Oar) {
	s.Rower.Squaring = d.Between("squaring", 0, 0.5)
	if d.Pick("along", 2) == 1 {
		o.Blade.Along = d.Between("along", 0, 0.05)
	}
	s.Rower.FreeSpeed = d.Between("free speed", 3.8, 6.7)
	if d.Pick("prescribed force", 6) == 0 {
		s.Rower.FreeSpeed = math.Inf(1)
	}
	s.Rower.BodyTravel = d.Between("body travel", 0.3, 0.75)
	if d.Pick("measured style", 4) == 0 {
		s.Rower.Style = crew.Measured([]crew.Point{
			{Along: 0, Force: d.Between("f0", 0.05, 0.3)}, {Along: 0.2, Force: d.Between("f2", 0.4, 0.9)},
			{Along: 0.4, Force: 1},
			{Along: 0.7, Force: d.Between("f7", 0.5, 0.9)}, {Along: 1, Force: d.Between("f10", 0, 0.2)}})
	}
	b := &o.Blade
	b.Area *= d.Between("area", 0.8, 1.25)
	b.Length *= d.Between("blade length", 0.8, 1.2)
	b.Drag = d.Between("drag", 1.2, 2.3)
	b.Grip = d.Between("grip", 0.8, 1.4)
	b.Early = d.Between("early", -0.3, 0.3)
	b.AddedMass = d.Between("added mass", 0, 1.5)
	b.Bury, b.Release = arcDrawn(d.Between("bury", 0, 12)), arcDrawn(d.Between("release", 0, 15))
	b.Strips = 1 + d.Pick("strips", 9)
	switch d.Pick("law", 6) {
	case 0:
		b.Law, b.Early = blade.Crossflow, 0
	case 1:
		b.Law, b.Early = blade.Table, 0
		for _, c := range [][3]float64{{0, 0, 0.02}, {20, 0.9, 0.4}, {45, 1.1, 1.1}, {70, 0.6, 1.8},
			{90, 0, 2.05}, {115, 0.5, 1.8}, {135, 0.9, 1}, {160, 0.7, 0.3}, {180, 0, 0.02}} {
			b.Coefficients = append(b.Coefficients, blade.Coefficient{Angle: num.Radians(c[0]), Lift: c[1],
				Drag: c[2]})
		}
	case 2:
		b.Law, b.Early = blade.Perfect, 0
	}
	s.Catch, s.Finish = s.Catch*d.Between("catch factor", 0.8, 1.1),
		s.Finish*d.Between("finish factor", 0.8, 1.2)
	if b.Law != blade.Perfect && d.Pick("flexible", 4) == 0 {
		*o = o.WithStiffness(d.Between("stiffness", 0.02, 0.07))
	}
	if d.Pick("swing weight", 6) == 0 {
		o.SwingWeight = o.Inertia() * d.Between("swing", 0.7, 1.3)
	}
}

// arcDrawn is an arc [deg] in rad; one under half a degree is none, for nobody buries a
// blade within a hair's breadth (TestArcsOfAHairsBreadth has those).
func arcDrawn(deg float64) float64 {
	if deg < 0.5 {
		return 0
	}
	return num.Radians(deg)
}

// drawHold picks what is held, at a target near what the crew's own power gives.
func drawHold(d Dice, p *problem.Problem) {
	p.Hold = problem.Hold(d.Pick("hold", len(problem.Holds)))
	power, n := 0.0, p.Rowers()
	for i := range p.Seats {
		power += p.Seats[i].Rowers() * p.Seats[i].Rower.Power / n
	}
	switch p.Hold {
	case problem.Power:
		if d.Pick("own power", 2) == 0 {
			p.Target = power
		}
	case problem.HandlePower:
		p.Target = 0.85 * power
	case problem.Speed:
		drag := p.Hull.Resistance(p.TotalMass(), p.Water, p.Air, p.Wind)
		v := 4.0
		for range 60 {
			v *= math.Cbrt(math.Max(0.2, math.Min(5, 0.72*power*n/math.Max(1e-3, drag.Total(v)*v))))
		}
		p.Target = v * d.Between("speed factor", 0.95, 1.05)
	default: // forces: from the work of a stroke over the mean way of the hands
		way := 0.0
		for i := range p.Seats {
			way += p.Seats[i].Rowers() * p.Seats[i].Oar.Lever() * p.Seats[i].Arc() / n
		}
		mean := 0.85 * power * p.Period() / way
		p.Target = mean * 1.8
		if p.Hold == problem.Effort {
			p.Target = mean * 3 * d.Between("effort factor", 0.8, 1.2)
		}
	}
}

// Rolls is dice without shrinking, for tests that want many draws.
type Rolls struct{ *rand.Rand }

func (r Rolls) Between(_ string, low, high float64) float64 { return low + (high-low)*r.Float64() }
func (r Rolls) Pick(_ string, n int) int                    { return r.Intn(n) }

func NewRolls(seed int64) Rolls { return Rolls{rand.New(rand.NewSource(seed))} }
