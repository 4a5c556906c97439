package stroke

import (
	"math"
	"sync"

	"thole/engine/blade"
)

// An anchor is a problem nearby, solved once and remembered: the problem with its
// continuous inputs rounded to a coarse lattice. Which one it is depends on the
// problem alone, and so does its solution, so a stroke solved from its anchor is the
// same to the last bit whatever was solved before, in whatever order, on however
// many cores; the memory of anchors is only a memo. Nearly all points of a sweep
// share a few of them.

// anchor is what is remembered: where Newton's method starts, and its Jacobian.
type anchor struct {
	ok    bool
	x     pair
	j     square
	level int // the level it was trusted on

	coarse bool // the coarse grid is worth using
	gap    pair // its residuals where those of the level are nothing
}

// anchorKey is everything an anchor depends on.
type anchorKey struct {
	inputs [continuous]uint64
	added  uint64
	peak   float64
	law    blade.Law
	hold   Hold
	own    bool
	oars   int
	count  int
	strips int
}

// anchors remembers them; a full memory is emptied, which costs time and no bit.
var anchors = struct {
	sync.RWMutex
	known map[anchorKey]anchor
}{known: map[anchorKey]anchor{}}

const mostAnchors = 20000

// continuous is the number of inputs that are rounded, the angles first.
const continuous, angles = 36, 4

// inputs lists where a problem of one seat keeps its continuous inputs, angles
// first. The style is not among them: a peak is one of four, and a measured one
// goes without an anchor.
func inputs(p *Problem, s *Seat) [continuous]*float64 {
	h, r, o := &p.Hull, &s.Rower, &s.Oar
	b := &o.Blade
	return [continuous]*float64{
		&s.Catch, &s.Finish, &b.Bury, &b.Release,
		&h.Mass, &h.Waterline, &h.FormFactor, &h.WaveFactor, &h.DragFactor, &h.AirArea, &h.WettedArea,
		&p.CoxMass, &p.Rate, &p.Water.Density, &p.Water.Viscosity, &p.Air.Density, &p.Wind, &p.Target,
		&r.Mass, &r.Power, &r.FreeSpeed, &r.BodyTravel, &r.Style.Start,
		&o.Length, &o.Inboard, &o.Mass, &o.Balance, &o.SwingWeight, &o.Hand, &o.Gate,
		&b.Area, &b.Length, &b.Grip, &b.Early, &b.Drag, &b.Lift,
	}
}

// lattice rounds x to a multiple of a step of about half a percent of it, and a
// round number, so that inputs as people type them stand on the lattice and only
// what a study varies is moved.
func lattice(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	step := latticeSteps[int(math.Float64bits(x)>>52)&0x7ff]
	return math.Round(x/step) * step
}

// latticeSteps holds the step for each binary exponent: the 1, 2 or 5 times a
// power of ten next below 0.8 % of the power of two.
var latticeSteps = func() (steps [2048]float64) {
	for i := range steps {
		least := math.Log10(0.008) + (float64(i)-1023)*math.Log10(2)
		ten := math.Floor(least)
		steps[i] = math.Pow(10, ten)
		for _, m := range []float64{2, 5} {
			if ten+math.Log10(m) <= least {
				steps[i] = m * math.Pow(10, ten)
			}
		}
	}
	return steps
}()

// round puts the anchor's problem into f.near and gives its key.
func (f *fastRoute) round(p *Problem) anchorKey {
	f.near, f.nearSeat[0] = *p, p.Seats[0]
	f.near.Seats = f.nearSeat[:]
	q, s := &f.near, &f.nearSeat[0]
	if !p.OwnPower() {
		s.Rower.Power = 0 // is not asked for
	}
	key := anchorKey{
		peak: s.Rower.Style.Peak, law: s.Oar.Blade.Law, hold: p.Hold, own: p.OwnPower(),
		oars: p.OarsPerRower, count: max(1, s.Count), strips: s.Oar.Blade.Strips,
	}
	for i, at := range inputs(q, s) {
		if i < angles {
			*at = lattice(*at*180/math.Pi) * math.Pi / 180
		} else {
			*at = lattice(*at)
		}
		key.inputs[i] = math.Float64bits(*at)
	}
	s.Oar.Blade.AddedMass = lattice(s.Oar.Blade.AddedMass)
	key.added = math.Float64bits(s.Oar.Blade.AddedMass)
	return key
}

// anchored gives the anchor of a problem with one kind of seat, solving it when it
// is not remembered; false where it has none.
func (f *fastRoute) anchored(p *Problem) (anchor, bool) {
	if p.Seats[0].Rower.Style.Points != nil {
		return anchor{}, false
	}
	key := f.round(p)
	anchors.RLock()
	a, known := anchors.known[key]
	anchors.RUnlock()
	if known {
		return a, a.ok
	}
	a = f.solveAnchor()
	anchors.Lock()
	if len(anchors.known) >= mostAnchors {
		clear(anchors.known)
	}
	anchors.known[key] = a
	anchors.Unlock()
	return a, a.ok
}

// solveAnchor solves the problem in f.near from nothing.
func (f *fastRoute) solveAnchor() (a anchor) {
	if f.prepare(&f.near) != nil || !f.fromNothing(&a, 1e-9, &f.aside) {
		return anchor{}
	}
	a.ok = true
	// the coarse grid helps only where it is coarse: a stiff case has nearly as many
	// steps on it
	few, many := f.grids.of(f.seat, f.stiff, coarse), f.grids.of(f.seat, f.stiff, a.level)
	if 3*len(few.width) < 2*len(many.width) {
		a.gap, a.coarse = f.row(coarse, a.x)
	}
	return a
}
