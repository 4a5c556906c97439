package fast

import (
	"encoding/binary"
	"math"
	"sync"

	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// A warm start is a problem nearby, solved once and remembered: the problem with its
// continuous inputs rounded to a grid of round numbers. Which one it is depends
// on the problem alone, and so does its solution, so a stroke solved from its warm start
// is the same to the last bit whatever was solved before, in whatever order, on
// however many cores; the memory of warm starts is only a memo. Nearly all points of a
// sweep share a few of them. Where a single input lies off the rounded grid, as along a
// sweep, the warm starts on either side are asked too and the start is interpolated.

// warmStart is what is remembered: where Newton's method starts, and its Jacobian.
type warmStart struct {
	ok     bool
	x      pair
	j      square
	level  int    // the level it was trusted on
	layout layout // of its grids, which the problems near it share

	coarse bool    // the coarse grid is worth using
	gap    pair    // its residuals where those of the level are nothing
	within float64 // how near it must come before its last step: the Jacobian turns that into next to nothing

	course course // on a shaft that bends
}

// warmKey is everything a warm start depends on.
type warmKey struct {
	inputs [continuous]uint64
	peak   float64
	points string // of a measured style
	law    blade.Law
	hold   problem.Hold
	own    bool
	light  bool // entry without momentum
	oars   int
	count  int
	strips int

	// a neighbour is solved on the grids of the warm start it serves, so that one can
	// interpolate between them
	neighbour    bool
	level, stiff int
}

// warmStarts remembers them; a full memory is emptied, which costs time and no bit.
var warmStarts = struct {
	sync.RWMutex
	known map[warmKey]warmStart
}{known: map[warmKey]warmStart{}}

// Forget empties the memory, as in a new process; benchmarks and tests ask for it.
func Forget() {
	warmStarts.Lock()
	clear(warmStarts.known)
	warmStarts.Unlock()
}

// mostWarmStarts bounds the memory at some 40 MB, on shafts that bend.
const mostWarmStarts = 8000

// The continuous inputs of a problem of one seat: rounded ones first, the angles
// first of all; the others are what a study seldom varies, and never are round
// numbers where a table or a formula gives them. They stay as they are.
const continuous, rounded, angles = 46, 18, 4

// inputs lists where a problem keeps them. The style's peak is not among them, it
// is one of four, nor are the points of a measured one.
func inputs(p *problem.Problem, s *problem.Seat) [continuous]*float64 {
	h, r, o := &p.Hull, &s.Rower, &s.Oar
	b := &o.Blade
	return [continuous]*float64{
		&s.Catch, &s.Finish, &b.Bury, &b.Release,
		&o.Length, &o.Inboard, &b.Area, &b.Length, &b.Grip, &b.Early, &b.Drag, &b.Lift, &b.AddedMass,
		&p.Rate, &p.Wind, &p.Target, &r.Power, &o.Deflection,

		&h.Mass, &h.Waterline, &h.FormFactor, &h.WaveFactor, &h.ClassFactor, &h.AirArea, &h.WettedArea,
		&p.CoxMass, &p.Water.Density, &p.Water.Viscosity, &p.Air.Density,
		&r.Mass, &r.FreeSpeed, &r.BodyTravel, &r.Style.Start,
		&o.Mass, &o.Balance, &o.SwingWeight, &o.Hand, &o.Gate,
		&h.BodyArea, &h.Sheltered, &h.Transition, &p.Water.Depth, &b.Along, &o.Diameter, &r.Squaring,
		&o.Made,
	}
}

// nearestRound gives the point of the rounded grid nearest to x, its step there, about half
// a percent of x, and how many steps x lies beyond the point. The points are round
// numbers, so that inputs as people type them stand on the rounded grid and only what a
// study varies is moved.
func nearestRound(x float64) (point, step, beyond float64) {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x, 0, 0
	}
	step = roundSteps[int(math.Float64bits(x)>>52)&0x7ff]
	if step < 1e-300 {
		return x, 0, 0
	}
	n := math.Round(x / step)
	return n * step, step, x/step - n
}

// roundSteps holds the step for each binary exponent: the 1, 2 or 5 times a
// power of ten next below 0.8 % of the power of two.
var roundSteps = func() (steps [2048]float64) {
	for i := range steps {
		least := num.Log10(0.008) + float64((float64(i)-1023)*num.Log10(2))
		ten := math.Floor(least)
		steps[i] = num.Pow(10, ten)
		for _, m := range []float64{2, 5} {
			if ten+num.Log10(m) <= least {
				steps[i] = m * num.Pow(10, ten)
			}
		}
	}
	return steps
}()

// mostOff is how many inputs may lie off the rounded grid: where more do, as in draws, problems lie scattered
// and would share a warm start with hardly another.
const mostOff = 2

// offGrid says which inputs of a problem lie off the rounded grid.
type offGrid struct {
	number int
	inputs [mostOff]offInput // as many as there is room for
}

// offInput says how far an input lies off the rounded grid.
type offInput struct {
	input  int
	steps  float64 // rounded grid point, in steps
	step   float64
	beyond float64 // how far the problem lies beyond the point, in steps
}

// round puts the warm start's problem into f.near and gives its key.
func (f *Route) round(p *problem.Problem) (key warmKey, off offGrid) {
	f.near, f.nearSeat[0] = *p, p.Seats[0]
	f.near.Seats = f.nearSeat[:]
	s := &f.nearSeat[0]
	if !p.OwnPower() {
		s.Rower.Power = 0 // is not asked for
	}
	if s.Oar.Made == s.Oar.Outboard() {
		s.Oar.Made = math.NaN() // means as much, and holds for the rounded oar too
	}
	key = warmKey{
		peak: s.Rower.Style.Peak, law: s.Oar.Blade.Law, hold: p.Hold, own: p.OwnPower(),
		light: s.Oar.Blade.LightEntry, oars: p.OarsPerRower, count: max(1, s.Count),
		strips: s.Oar.Blade.Strips,
	}
	if points := s.Rower.Style.Points; points != nil {
		var b []byte
		for _, p := range points {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p.Along))
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p.Force))
		}
		key.points = string(b)
	}
	for i, at := range inputs(&f.near, s) {
		if i >= rounded {
			key.inputs[i] = math.Float64bits(*at)
			continue
		}
		scale := 1.0
		if i < angles {
			scale = 180 / math.Pi
		}
		point, step, beyond := nearestRound(*at * scale)
		if math.Abs(beyond) > 1e-6 {
			if off.number < mostOff {
				off.inputs[off.number] = offInput{i, math.Round(point / step), step, beyond}
			}
			off.number++
		}
		*at = point / scale
		key.inputs[i] = math.Float64bits(*at)
	}
	return key, off
}

// neighbour gives the warm start n steps of the rounded grid from a one, on its levels, so that one can
// interpolate between them; the problem in f.near stays that of a.
func (f *Route) neighbour(a *warmStart, key warmKey, off *offInput, n float64) (warmStart, bool) {
	at := inputs(&f.near, &f.nearSeat[0])[off.input]
	own := *at
	defer func() { *at = own }()
	*at = (off.steps + n) * off.step
	if off.input < angles {
		*at /= 180 / math.Pi
	}
	key.inputs[off.input] = math.Float64bits(*at)
	there := f.recall(&key)
	if !there.ok || there.level != a.level || there.layout.stiff != a.layout.stiff {
		key.neighbour, key.level, key.stiff = true, a.level, a.layout.stiff
		there = f.recall(&key)
	}
	return there, there.ok && there.coarse == a.coarse && len(there.course) == len(a.course)
}

// warmStartFor gives where to start from for a problem with one kind of seat; false
// where it has no warm start.
func (f *Route) warmStartFor(p *problem.Problem) (warmStart, bool) {
	key, off := f.round(p)
	if off.number == 0 || off.number > mostOff { // with none it would be its own warm start
		return warmStart{}, false
	}
	at := f.recall(&key)
	if !at.ok {
		return at, false
	}
	a, begin := at, append(f.bent.begin[:0], at.course...)
	for i := range off.number {
		to := &off.inputs[i]
		above, ok := f.neighbour(&at, key, to, 1)
		if !ok {
			continue
		}
		below, ok := f.neighbour(&at, key, to, -1)
		if !ok {
			continue
		}
		a.within = 1e-5
		// the parabola through the three
		for _, n := range []struct {
			to    *warmStart
			share float64
		}{{&below, to.beyond * (to.beyond - 1) / 2}, {&above, to.beyond * (to.beyond + 1) / 2}} {
			a.add(n.share, &at, n.to)
			begin.add(n.share, at.course, n.to.course)
		}
	}
	f.bent.begin = begin
	return a, at.course == nil || f.factor(&at)
}

// add moves a by a share of the way from one warm start to another.
func (a *warmStart) add(share float64, from, to *warmStart) {
	a.layout.lag += float64(share * (to.layout.lag - from.layout.lag))
	for i := range a.x {
		a.x[i] += float64(share * (to.x[i] - from.x[i]))
		a.gap[i] += float64(share * (to.gap[i] - from.gap[i]))
		for k := range a.x {
			a.j[i][k] += float64(share * (to.j[i][k] - from.j[i][k]))
		}
	}
}

// recall gives the warm start of the problem in f.near, solving it when it is not
// remembered.
func (f *Route) recall(key *warmKey) warmStart {
	warmStarts.RLock()
	a, known := warmStarts.known[*key]
	warmStarts.RUnlock()
	if known {
		return a
	}
	a = f.solveWarmStart(key)
	warmStarts.Lock()
	if len(warmStarts.known) >= mostWarmStarts {
		clear(warmStarts.known)
	}
	warmStarts.known[*key] = a
	warmStarts.Unlock()
	return a
}

// solveWarmStart solves the problem in f.near from nothing.
func (f *Route) solveWarmStart(key *warmKey) (a warmStart) {
	if f.prepare(&f.near) != nil {
		return a
	}
	if key.neighbour {
		a.level, f.layout.stiff, a.x = key.level, key.stiff, f.guess()
		if _, in := f.approach(coarse, &a.x, &a.j, wayIn); !in {
			return a
		}
	} else {
		enough := wayIn
		if f.seat.Flexible {
			enough = 1e-9 // or its energy book would not close
		}
		if !f.fromNothing(&a, enough, &f.aside) {
			return a
		}
	}
	f.findLag()
	a.layout = f.layout
	// fromNothing's x is that of the finer grid it measured the level against: make it the
	// level's own, closely, because it is interpolated
	if _, a.ok = f.settle(a.level, &a.x, &a.j, pair{}, 1e-11); !a.ok {
		return a
	}
	if f.seat.Flexible {
		a.course = f.bent.course()
		return a
	}
	// the coarse grid helps only where it is coarse: a stiff case has nearly as many
	// steps on it
	few, many := len(f.grids.of(f.seat, f.layout, coarse).width), len(f.grids.of(f.seat, f.layout,
		a.level).width)
	if 5*few < 4*many {
		a.gap, a.coarse = f.row(coarse, a.x)
	}
	a.within = 1e-6
	return a
}
