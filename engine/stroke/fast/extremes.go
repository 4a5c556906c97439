package fast

import (
	"math"

	"thole/engine/num"
)

// samples are the stages that look at a step from its start to its end; their
// states are good to the method's stage order, enough to see where an extreme or
// a root lies. What lies there is read off the dense output.
var samples = [...]int{0, 5, 9, 10, 11}

// highest gives where the largest value over n steps lies: sample(i, k) tells it
// roughly at samples[k] of step i, value(i, u) well at share u.
func highest(n int, sample func(i, k int) float64,
	value func(i int, u float64) float64) (step int, share, top float64) {
	at, k, best := 0, 0, math.Inf(-1)
	for i := range n {
		for j := range samples {
			if y := sample(i, j); y > best {
				at, k, best = i, j, y
			}
		}
	}
	last := len(samples) - 1
	top = math.Inf(-1)
	try := func(i, from, to int) {
		a, b := num.EighthNodes[samples[from]], num.EighthNodes[samples[to]]
		// a place good to 3e-4 of a step makes a value good to its square, 1e-8 of it or so
		u, least := num.Minimum(func(u float64) float64 { return -value(i, u) }, a, b, 3e-4)
		if -least > top {
			step, share, top = i, u, -least
		}
	}
	try(at, max(k-1, 0), min(k+1, last))
	switch {
	case k == 0 && at > 0:
		try(at-1, last-1, last)
	case k == last && at < n-1:
		try(at+1, 0, 1)
	}
	// the ends of steps are known best, and Minimum never asks for them
	for _, u := range [2]float64{0, 1} {
		if y := value(at, u); y > top {
			step, share, top = at, u, y
		}
	}
	return
}

// look is the drive between the grid's points: it keeps the dense output of the
// step looked at last.
type look struct {
	at       int
	v, omega num.Curve
	node     node
	record   stageRecord

	// retaking a step up to a share of it
	nodes  [16]node
	stages [16]stageRecord
	step   num.PlaneStep
}

// open makes step i the one looked at.
func (d *drive) open(i int) *look {
	l := &d.look
	if l.at != i {
		l.at = i
		d.at(i)
		d.grid.extend(d.seat, i)
		d.steps[i].Extend(d.side())
		l.v, l.omega = d.steps[i].Curves()
	}
	return l
}

// full gives every contribution at share u of step i, by dense output.
func (d *drive) full(i int, u float64) *stageRecord {
	l := d.open(i)
	d.grid.place[i].node(&l.node, d.seat, u*d.grid.width[i])
	d.evaluate(&l.node, &l.record, l.v.At(u), l.omega.At(u))
	return &l.record
}

// retake gives every contribution at share u of step i by one step of exactly that
// length: as good as the grid's own points, which dense output over a wide step is not.
func (d *drive) retake(i int, u float64) *stageRecord {
	l := &d.look
	s := &l.step
	s.H, s.V0, s.W0 = u*d.grid.width[i], d.steps[i].V0, d.steps[i].W0
	for j := range 12 {
		d.grid.place[i].node(&l.nodes[j], d.seat, num.EighthNodes[j]*s.H)
	}
	d.nodes, d.record = &l.nodes, &l.stages
	s.Advance(d.side())
	d.evaluate(&l.nodes[11], &l.record, s.V1, s.W1)
	d.at(i)
	return &l.record
}

// highestSpeed gives the largest value of sign·V over the drive.
func (d *drive) highestSpeed(sign float64) float64 {
	if d.seat.Flexible {
		return d.highestBent(func(r *stageRecord) float64 { return sign * r.v },
			func(i int, u float64) float64 { return float64(sign * d.bentSpeed(i, u)) })
	}
	_, _, top := highest(len(d.steps), func(i, k int) float64 {
		return float64(sign * d.stages[i][samples[k]].v)
	}, func(i int, u float64) float64 {
		return float64(sign * d.open(i).v.At(u))
	})
	return top
}

// peakPull gives the largest F_h of a rower over the drive, N.
func (d *drive) peakPull() float64 {
	if d.seat.Flexible {
		return d.highestBent(func(r *stageRecord) float64 { return r.pull }, d.bentPull)
	}
	i, u, top := highest(len(d.steps), func(i, k int) float64 {
		return d.stages[i][samples[k]].pull
	}, func(i int, u float64) float64 {
		l := d.open(i)
		phi, _, _ := d.grid.place[i].phi(u * d.grid.width[i])
		return float64(d.effort * d.seat.Shape.At(phi) * math.Max(0,
			1-float64(d.fade*d.omegaAt(phi, l.v.At(u), l.omega.At(u)))))
	})
	return d.peak(i, u, top, func(r *stageRecord) float64 { return r.pull })
}

// omegaAt gives ω where V is v and the second state omega: without slip ω follows V.
func (d *drive) omegaAt(phi, v, omega float64) float64 {
	if d.seat.Perfect {
		return v * num.Cos(float64(d.seat.Arc*phi)-d.seat.Catch) / d.seat.Centre
	}
	return omega
}

// pin is the force of one oar on its pin, |(F_h,oar + Σf_n + F_a) n − Σf_t a|, N.
func (d *drive) pin(r *stageRecord) float64 {
	across := r.pull/d.Oars + r.normal
	return math.Sqrt(float64(across*across) + float64(r.along*r.along))
}

// peakPin gives the largest pin force of one oar over the drive, N.
func (d *drive) peakPin() float64 {
	if d.seat.Flexible {
		return d.highestBent(d.pin, func(i int, u float64) float64 { return d.pin(d.bentAt(i, u)) })
	}
	i, u, top := highest(len(d.steps), func(i, k int) float64 {
		return d.pin(&d.stages[i][samples[k]])
	}, func(i int, u float64) float64 {
		return d.pin(d.full(i, u))
	})
	return d.peak(i, u, top, d.pin)
}

// peak settles a peak that dense output puts at share u of step i, with height top:
// the step is retaken up to there. Where that tells dense output wrong (steps of
// several time constants of the water's damping), the peak is sought by retaking.
func (d *drive) peak(i int, u, top float64, of func(*stageRecord) float64) float64 {
	best := of(d.retake(i, u))
	if math.Abs(best-top) <= 3e-5*top {
		// the place is wrong by as much in the slope, and the height by its square over
		// the curvature, which is about a tenth of the height per step: below 1e-7
		return best
	}
	search := func(i int, a, b float64) {
		_, least := num.Minimum(func(u float64) float64 { return -of(d.retake(i, u)) }, a, b, 1e-4)
		best = math.Max(best, -least)
	}
	const reach = 0.4
	search(i, math.Max(0, u-reach), math.Min(1, u+reach))
	if u < reach && i > 0 {
		search(i-1, 1-reach, 1)
	}
	if u > 1-reach && i < len(d.steps)-1 {
		search(i+1, 0, reach)
	}
	return best
}

// slipped gives ∮ |s_n| dt at the blade's centre over the drive, m: step by step,
// a step cut where s_n changes sign.
func (d *drive) slipped() float64 {
	if d.seat.Flexible {
		return d.slippedBent()
	}
	sum := 0.0
	for i := range d.steps {
		whole := 0.0
		for _, j := range weighted {
			r := &d.stages[i][j]
			whole += float64(num.EighthWeights[j] * r.slip * r.time)
		}
		whole = float64(whole * d.grid.width[i])
		way := 0.0 // up to the last change of sign
		for k := 1; k < len(samples); k++ {
			before, after := d.stages[i][samples[k-1]].slip, d.stages[i][samples[k]].slip
			if before < 0 == (after < 0) {
				continue
			}
			cut := d.slipUntil(i, samples[k-1], samples[k])
			sum += math.Abs(cut - way)
			way = cut
		}
		sum += math.Abs(whole - way)
	}
	return sum
}

// slipUntil gives ∫ s_n dt from the start of step i to the root of s_n between
// two of its stages, retaking the step up to there.
func (d *drive) slipUntil(i, from, to int) float64 {
	l := d.open(i)
	slip := func(u float64) float64 {
		phi, _, _ := d.grid.place[i].phi(u * d.grid.width[i])
		return float64(d.seat.Centre*l.omega.At(u)) -
			float64(l.v.At(u)*num.Cos(float64(d.seat.Arc*phi)-d.seat.Catch))
	}
	// near the root the integral is flat, so a place good to 1e-6 of a step does
	u, err := num.Root(slip, num.EighthNodes[from], num.EighthNodes[to], 1e-6)
	if err != nil {
		// the stage was that little wrong: the root lies at the end of the bracket where slip is least
		u = num.EighthNodes[from]
		if math.Abs(slip(num.EighthNodes[to])) < math.Abs(slip(u)) {
			u = num.EighthNodes[to]
		}
	}
	d.retake(i, u)
	sum := 0.0
	for _, j := range weighted {
		r := &l.stages[j]
		sum += float64(num.EighthWeights[j] * r.slip * r.time)
	}
	return sum * l.step.H
}
