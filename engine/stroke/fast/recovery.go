package fast

import "thole/engine/num"

// The recovery of the fast route: the oars are out, the bodies go back by a given
// law, so M V' + n m ξ” = −D(V), and U = V + (n m/M) ξ' is smooth: U' = −D(V)/M.
// Time runs as τ, its share of the recovery gone, and a few wide steps do.

// recovery integrates a recovery. It is a num.Plane of the states U and X over τ.
type recovery struct {
	c      *coefficients
	length float64 // recovery time, s
	back   float64 // n m A_com/(M·length): V = U + back · S'(τ), m/s
	step   int     // the step at hand
	h      float64 // width of each step, in τ
	rhs    int     // right-hand sides so far
	steps  []num.PlaneStep
	stages [][16]recoveryRecord

	// at the next catch, after integrate
	end struct {
		v, travel float64
		body      float64 // work of one rower, J
	}
}

// recoveryRecord keeps the contributions of one stage.
type recoveryRecord struct {
	v, dU      float64 // V; U' in time
	slope      float64 // S'(τ)
	water, air float64 // drag, N
}

// integrate takes the recovery from the finish at hull speed v in n steps and
// says whether the boat still runs at its end.
func (r *recovery) integrate(c *coefficients, v, length float64, n int) bool {
	r.c, r.length, r.h = c, length, 1/float64(n)
	r.back = c.bodies / (c.Mass * length)
	if cap(r.steps) < n {
		r.steps, r.stages = make([]num.PlaneStep, n), make([][16]recoveryRecord, n)
	}
	r.steps, r.stages = r.steps[:n], r.stages[:n]
	u, x, body := v, 0.0, 0.0
	for i := range r.steps {
		s := &r.steps[i]
		s.H, s.V0, s.W0 = r.h, u, x
		r.step = i
		s.Advance(r)
		u, x = s.V1, s.W1
		for _, j := range weighted {
			q := &r.stages[i][j]
			body += float64(num.EighthWeights[j] * q.dU * q.slope)
		}
	}
	// ∮ m V' ξ' dt with ξ' = −A S'(τ)/length: of V' the part U' alone counts, for the
	// part from ξ” makes up ξ'²/2, which is 0 at both ends
	r.end.v, r.end.travel = u, x
	r.end.body = -body * r.h * c.seat.Rower.Mass * c.seat.Rower.BodyTravel
	return u > 0
}

// Slope gives dU/dτ and dX/dτ.
func (r *recovery) Slope(stage int, u, _ float64) (du, dx float64) {
	r.rhs++
	q := &r.stages[r.step][stage&15]
	q.slope = num.RiseSlope((float64(r.step) + num.EighthNodes[stage&15]) * r.h)
	q.v = u + float64(r.back*q.slope)
	q.water, q.air = r.c.drag.Water(q.v), r.c.drag.Air(q.v)
	q.dU = -(q.water + q.air) / r.c.Mass
	return q.dU * r.length, q.v * r.length
}

// highest gives the largest value of sign·V over the recovery.
func (r *recovery) highest(sign float64) float64 {
	var curve num.Curve
	ready := -1
	_, _, top := highest(len(r.steps), func(i, k int) float64 {
		return sign * r.stages[i][samples[k]].v
	}, func(i int, u float64) float64 {
		if ready != i {
			r.step, ready = i, i
			r.steps[i].Extend(r)
			curve, _ = r.steps[i].Curves()
		}
		return sign * (curve.At(u) + float64(r.back*num.RiseSlope((float64(i)+u)*r.h)))
	})
	return top
}
