package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// What a drive on a shaft that bends holds beyond its sums: extremes, slip, error estimate.

// bookShaft puts the two ends of the oar and the shaft into the energy book.
func (f *Route) bookShaft(e *problem.Energy) {
	shaft := &f.seat.Shaft
	e.OarSwing = f.all * 0.5 * (float64(shaft.HandleInertia*f.end.omega*f.end.omega) +
		float64(shaft.BladeInertia*f.end.blade*f.end.blade))
	e.SpringLeft = f.all * 0.5 * shaft.Stiffness * f.end.bend * f.end.bend
	sum := 0.0
	for i := range f.stages {
		q := 0.0
		for j, w := range num.Radau.Weight {
			r := &f.stages[i][j]
			q += float64(w * r.time * (r.omega - r.blade) * (r.omega - r.blade))
		}
		sum += float64(q * f.grid.width[i])
	}
	e.ShaftDamping = f.all * shaft.Damping * sum
}

// openBent makes step i the one whose curves are ready.
func (d *drive) openBent(i int) {
	b := &d.bent
	if b.at == i {
		return
	}
	b.at = i
	b.steps[i].curves(&b.curve)
}

// bentAt gives every contribution at share u of step i, by its curves.
func (d *drive) bentAt(i int, u float64) *stageRecord {
	d.openBent(i)
	l := &d.look
	y := &d.bent.y
	for k := range y {
		y[k] = d.bent.curve[k].At(u)
	}
	d.grid.place[i].node(&l.node, d.seat, u*d.grid.width[i])
	d.bentSlope(&l.node, &l.record, y, &d.bent.dy, nil)
	return &l.record
}

// retakeBent gives every contribution at share u of step i by one step of exactly that length, whose
// points are left in d.look.stages.
func (d *drive) retakeBent(i int, u float64) *stageRecord {
	d.openBent(i)
	l, s := &d.look, &d.bent.spare
	h := u * d.grid.width[i]
	s.start, s.factored = d.bent.steps[i].start, false
	for j, c := range num.Radau.Node {
		d.grid.place[i].node(&l.nodes[j], d.seat, float64(c*h))
		for k := range s.rise[j] {
			s.rise[j][k] = d.bent.curve[k].At(float64(c*u)) - s.start[k]
		}
	}
	d.nodes, d.record = &l.nodes, &l.stages
	if !d.solveBent(s, h, 1e-9) {
		d.at(i)
		return d.bentAt(i, u)
	}
	d.at(i)
	d.grid.place[i].node(&l.node, d.seat, h)
	d.bentSlope(&l.node, &l.record, &s.end, &d.bent.dy, nil)
	return &l.record
}

// highestBent gives the largest value of a contribution over the drive: the best of all points, then the
// curves between its neighbours, along which it is along, then a step up to there.
func (d *drive) highestBent(of func(*stageRecord) float64, along func(i int, u float64) float64) float64 {
	at, point, best := 0, 0, math.Inf(-1)
	for i := range d.stages {
		for j := range num.RadauPoints {
			if y := of(&d.stages[i][j]); y > best {
				at, point, best = i, j, y
			}
		}
	}
	place := func(j int) float64 {
		switch {
		case j < 0:
			return 0
		case j >= num.RadauPoints:
			return 1
		}
		return num.Radau.Node[j]
	}
	step, share, top := at, num.Radau.Node[point], best
	try := func(i int, a, b float64) {
		u, least := num.Minimum(func(u float64) float64 { return -along(i, u) }, a, b, 3e-4)
		if -least > top {
			step, share, top = i, u, -least
		}
	}
	try(at, place(point-1), place(point+1))
	switch {
	case point == 0 && at > 0:
		try(at-1, place(num.RadauPoints-1), 1)
	case point == num.RadauPoints-1 && at < len(d.stages)-1:
		try(at+1, 0, place(0))
	}
	if u := math.Round(share); math.Abs(share-u) < 2e-3 && !(u == 0 && step == 0) {
		share = u // Minimum never asks for the ends
	}
	if share == 0 {
		step, share = step-1, 1
	}
	return d.settledBent(step, share, top, of)
}

// settledBent settles a peak that the curves put at a share of a step, with height top: by a step up to
// there, and where that tells the curves wrong, by parabolas through steps that end about there.
func (d *drive) settledBent(step int, share, top float64, of func(*stageRecord) float64) float64 {
	const reach = 0.06
	here := of(d.retakeBent(step, share))
	if math.Abs(here-top) <= 3e-6*math.Abs(top) {
		// the slope is as little wrong, the height by its square over the curvature: below 1e-7
		return here
	}
	for range 4 {
		a, b := max(0.005, share-reach), min(1, share+reach)
		if share == b {
			share = (a + b) / 2
			here = of(d.retakeBent(step, share))
		}
		ya, yb := of(d.retakeBent(step, a)), of(d.retakeBent(step, b))
		left, right := (here-ya)/(share-a), (yb-here)/(b-share)
		bend := (right - left) / (b - a)
		best := math.Max(here, math.Max(ya, yb))
		if !(bend < 0) {
			return best
		}
		u := float64((a+share)/2) - left/(2*bend)
		switch {
		case u > a && u < b:
			return math.Max(best, of(d.retakeBent(step, u)))
		case u >= b && b == 1 && step < len(d.stages)-1:
			step, share = step+1, reach
		case u <= a && share <= 0.01 && step > 0:
			step, share = step-1, 1
		default:
			share = min(1, max(0.01, u))
		}
		here = of(d.retakeBent(step, share))
	}
	return here
}

// bentSpeed, bentPull and bentSlip are V, F_h and s_n at share u of step i, by its curves.
func (d *drive) bentSpeed(i int, u float64) float64 {
	d.openBent(i)
	return d.bent.curve[stateV].At(u)
}

func (d *drive) bentPull(i int, u float64) float64 {
	d.openBent(i)
	phi, _, _ := d.grid.place[i].phi(u * d.grid.width[i])
	left := 1 - float64(d.fade*d.bent.curve[stateOmega].At(u))
	return float64(d.effort * d.seat.Shape.At(phi) * max(0, left))
}

func (d *drive) bentSlip(i int, u float64) float64 {
	d.openBent(i)
	c := &d.bent.curve
	phi, _, _ := d.grid.place[i].phi(u * d.grid.width[i])
	return float64(d.seat.Centre*c[stateBlade].At(u)) -
		float64(c[stateV].At(u)*num.Cos(float64(d.seat.Arc*phi)-d.seat.Catch-c[stateBend].At(u)))
}

// slippedBent gives ∮ |s_n| dt at the blade's centre over the drive, m: a step is cut where s_n changes
// sign.
func (d *drive) slippedBent() float64 {
	sum, before := 0.0, -1.0 // the blade is carried forward at first
	for i := range d.stages {
		h, whole, way := d.grid.width[i], 0.0, 0.0
		for j, w := range num.Radau.Weight {
			r := &d.stages[i][j]
			whole += float64(w * r.slip * r.time)
		}
		whole = float64(whole * h)
		from := 0.0
		for j := range num.RadauPoints + 1 {
			to, now := 1.0, 0.0
			if j < num.RadauPoints {
				to, now = num.Radau.Node[j], d.stages[i][j].slip
			} else {
				now = d.bentSlip(i, 1)
			}
			if now < 0 != (before < 0) {
				cut := d.slipUntilBent(i, from, to)
				sum += math.Abs(cut - way)
				way = cut
			}
			from, before = to, now
		}
		sum += math.Abs(whole - way)
	}
	return sum
}

// slipUntilBent gives ∫ s_n dt from the start of step i to the root of s_n between two shares of it.
func (d *drive) slipUntilBent(i int, from, to float64) float64 {
	slip := func(u float64) float64 { return d.bentSlip(i, u) }
	u, err := num.Root(slip, from, to, 1e-6)
	if err != nil {
		u = from
		if math.Abs(slip(to)) < math.Abs(slip(u)) {
			u = to
		}
	}
	if u == 0 {
		return 0
	}
	d.retakeBent(i, u)
	sum := 0.0
	for j, w := range num.Radau.Weight {
		r := &d.look.stages[j]
		sum += float64(w * r.slip * r.time)
	}
	return sum * u * d.grid.width[i]
}

// estimateBent is the sum over the steps of how far the polynomial through the points alone misses the
// step's start, squared: the method's order is twice that polynomial's.
func (d *drive) estimateBent() float64 {
	sum := 0.0
	for i := range d.bent.steps {
		s := &d.bent.steps[i]
		for k, scale := range bentScale {
			if k == stateBend {
				continue
			}
			miss := 0.0
			for j := range s.rise {
				// the method is the same from either end: the weights are those of the end, backwards
				miss += float64(startWeight[j] * s.rise[j][k])
			}
			miss /= scale
			sum += float64(miss * miss)
		}
	}
	return sum
}

// startWeight extrapolates the values at the points to the step's start.
var startWeight = func() (w [num.RadauPoints]float64) {
	for j := range w {
		w[j] = 1
		for m := range w {
			if m != j {
				w[j] *= -num.Radau.Node[m] / (num.Radau.Node[j] - num.Radau.Node[m])
			}
		}
	}
	return
}()
