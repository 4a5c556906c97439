package fast

import (
	"math"
	"sync"

	"thole/engine/blade"
	"thole/engine/stroke/problem"
)

// What a solution must show to be trusted; TestFastAccuracy holds the result, a
// mean speed within 1e-7 of the exact one.
const (
	// cold, two grids are compared: the wider one misses by less than trustedWide, or
	// the finer one, which is assumed to miss by a third as much, by less than trustedFine
	trustedWide = 5e-8
	trustedFine = 7e-8
	// and in any case, so also near a warm start, which measured its grid that way
	trustedClosure = 1e-7 // of the energy book
	// sum of the steps' estimates, against 5 m/s and 2 rad/s: some hundred times the error
	trustedEstimate = 5e-4
	// the same of steps by collocation (estimateBent), set by comparison with the general route
	trustedBent = 4e-7
	// how far two grids of them may lie apart: with twice the steps a method of ninth order misses by a
	// hundredth as much where all is smooth. Of a thousand problems drawn, kinks and all, three then lay
	// further than 1e-7 from the general route's mean speed, the worst 2e-7
	trustedBentGap = 7e-7
)

// wayIn is the residual that ends the way in: small enough that the next step, with a
// Jacobian good to a percent, leaves less than what a grid may miss.
const wayIn = 1e-6

// Row solves a checked, merged problem by the fast route. false: handed over.
func Row(p *problem.Problem, s *problem.Settings) (out problem.Solution, ok bool) {
	f := routes.Get().(*Route)
	defer routes.Put(f)
	ok = f.Solve(p, s, &out)
	return out, ok
}

var routes = sync.Pool{New: func() any { return new(Route) }}

// Solve solves a checked, merged problem into out, and says whether it vouches for
// the answer: from a warm start where the problem has one, else from nothing. A warm route allocates nothing,
// but for Seats where out has none.
func (f *Route) Solve(p *problem.Problem, s *problem.Settings, out *problem.Solution) bool {
	if !Applies(p) || s.Rtol != 0 && s.Rtol < 1e-8 {
		return false // or asks for more than the route promises
	}
	var a warmStart
	found := false
	if !f.Cold {
		a, found = f.warmStartFor(p)
	}
	if f.prepare(p) != nil {
		return false
	}
	f.spent += f.drive.rhs + f.recovery.rhs
	f.drive.rhs, f.recovery.rhs = 0, 0 // a warm start's own do not count: it may have been there
	return found && f.nearby(&a, s.ResidualOrDefault(), out) || f.fromNothing(&a, s.ResidualOrDefault(), out)
}

// nearby solves the case from a warm start: on the coarse grid as far as that is
// good, then on the level the warm start was trusted on.
func (f *Route) nearby(a *warmStart, residual float64, out *problem.Solution) bool {
	x, j := a.x, a.j
	own := f.layout
	f.layout = a.layout
	defer func() { f.layout = own }()
	if a.course != nil && !f.beside(a) {
		return false
	}
	if a.coarse {
		r, ok := f.settle(coarse, &x, &j, a.gap, a.within)
		if !ok {
			return false
		}
		step := j.newton(pair{r[0] - a.gap[0], r[1] - a.gap[1]})
		x[0] += step[0]
		x[1] += step[1]
	}
	return f.trusted(a.level, &x, &j, residual, out)
}

// fromNothing solves the case cold: the way in on the coarse grid, or, where that
// is unstable, on a finer one; then grid after finer grid until two of them agree.
// It leaves in a what a warm start keeps.
func (f *Route) fromNothing(a *warmStart, residual float64, out *problem.Solution) bool {
	a.x, a.level = f.guess(), fine
	r, ok := f.approach(coarse, &a.x, &a.j, wayIn)
	if !ok {
		a.x, a.level = f.guess(), fine+1
		r, ok = f.approach(a.level, &a.x, &a.j, wayIn)
		if !ok {
			return false
		}
	} else if f.seat.Flexible {
		a.level = coarse // whose steps the next grid's start on
	}
	f.findLag()
	if a.level == fine {
		r, ok = f.row(a.level, a.x)
	}
	estimated := f.estimate()
	agreed := false
	for level := a.level + 1; ok && level < gridCount; level++ {
		step := a.j.newton(r)
		a.x[0] += step[0]
		a.x[1] += step[1]
		// where the last grid's residual would now be nothing, this one's is what that
		// grid missed
		f.bent.enough = 1e-6
		var miss pair
		if miss, ok = f.row(level, a.x); !ok {
			return false
		}
		missed := miss.largest()
		// in the wind's kinks two grids may agree by chance: a third is asked
		again := !agreed && level < gridCount-1 && f.seat.Water.Law != blade.Crossflow && f.kinked()
		if agreed = missed <= f.trustedGap(); !agreed || again {
			a.level, r, estimated = level, miss, f.estimate()
			continue
		}
		if f.seat.Flexible || missed > trustedWide || f.kinked() || estimated > f.trustedEstimate()/2 {
			a.level = level
		}
		if r, ok = f.settleFrom(miss, level, &a.x, &a.j, pair{}, residual); !ok {
			return false
		}
		book := f.book()
		if f.sound(&book) {
			return f.done(out, &book, r)
		}
		a.level = level
	}
	return false
}

// sound says whether energy book and error estimate are in line.
func (f *Route) sound(book *problem.Energy) bool {
	return math.Abs(book.Closure()) < trustedClosure && f.estimate() < f.trustedEstimate()
}

// trustedEstimate is how much the steps may add up to.
func (f *Route) trustedEstimate() float64 {
	if f.seat.Flexible {
		return trustedBent
	}
	return trustedEstimate
}

// trustedGap is how far two grids may lie apart for the finer one to be trusted.
func (f *Route) trustedGap() float64 {
	kinked := f.kinked()
	if low, high := f.speeds(); f.nearCritical(low, high) || kinked && f.seat.Flexible {
		return trustedFine / 20 // the few steps by collocation see a kink least of all
	}
	if kinked {
		return trustedFine / 2 // a finer grid may miss as much as a wider one
	}
	if f.seat.Flexible {
		return trustedBentGap
	}
	return 3 * trustedFine
}

// speeds are the lowest and highest speed at the grid's points, m/s.
func (f *Route) speeds() (low, high float64) {
	low, high = f.end.v, f.end.v
	for i := range f.steps {
		low, high = min(low, f.steps[i].V0), max(high, f.steps[i].V0)
	}
	for i := range f.recovery.stages {
		for _, j := range samples {
			v := f.recovery.stages[i][j].v
			low, high = min(low, v), max(high, v)
		}
	}
	return low, high
}

// nearCritical says whether the boat passes the peak that drag has at the critical speed, which is
// narrower than a step.
func (f *Route) nearCritical(low, high float64) bool {
	return low < 1.03*f.Critical && high > 0.97*f.Critical
}

// kinked says whether a force has a kink that falls between the grid's points: crossflow, s|s| at
// s = 0, a tailwind that the boat now outruns and now does not, or the critical speed.
func (f *Route) kinked() bool {
	if f.seat.Water.Law == blade.Crossflow {
		return true
	}
	low, high := f.speeds()
	if f.nearCritical(low, high) {
		return true
	}
	if f.InAir {
		return -f.Wind > low // the oars meet it from behind at both ends of the recovery, from ahead between
	}
	return -f.Wind > low && -f.Wind < high
}

// trusted settles the case near a warm start on the level the warm start was measured on.
func (f *Route) trusted(level int, x *pair, j *square, residual float64, out *problem.Solution) bool {
	r, ok := f.settle(level, x, j, pair{}, residual)
	if !ok {
		return false
	}
	book := f.book()
	return f.sound(&book) && f.done(out, &book, r)
}

// done reads the solution off, unless too little of the stroke is left to come
// forward: then the general route says what is wrong.
func (f *Route) done(out *problem.Solution, book *problem.Energy, r pair) bool {
	if f.end.time > (1-problem.LeastRecovery)*f.Period {
		return false
	}
	f.fill(out, book, r.largest())
	return true
}

// estimate is the sum of the steps' estimated errors.
func (f *Route) estimate() float64 {
	if f.seat.Flexible {
		return f.estimateBent()
	}
	sum := 0.0
	for i := range f.steps {
		sum += f.steps[i].Error(5, 2)
	}
	return sum
}
