package fast

import "thole/engine/num"

// The recovery of the fast route: the oars are out, the bodies go back by a given
// law, so M V' + n m ξ” = −D(V), and U = V + (n m/M) ξ' is smooth: U' = −D(V)/M.
// Time runs as τ, its share of the recovery gone, and a few wide steps do. The air on the oars, where
// it is computed, jumps when the blade is squared: an edge of the grid.

// recovery integrates a recovery. It is a num.Plane of the states U and X over τ.
type recovery struct {
	c      *coefficients
	length float64 // recovery time, s
	back   float64 // n m A_com/(M·length): V = U + back · S'(τ), m/s
	step   int     // the step at hand
	grid   *recoveryGrid
	rhs    int // right-hand sides so far
	steps  []num.PlaneStep
	stages [][16]recoveryRecord

	// at the next catch, after integrate
	end struct {
		v, travel float64
		body      float64 // work of one rower, J
		hands     float64 // against the air on the oars, J
	}
}

// recoveryRecord keeps the contributions of one stage.
type recoveryRecord struct {
	v, dU      float64 // V; U' in time
	slope      float64 // S'(τ)
	water, air float64 // drag, N
	oars, turn float64 // push of the air on all oars, N; what the hands bear of its moment, W per rower
}

// integrate takes the recovery from the finish at hull speed v over a grid and
// says whether the boat still runs at its end.
func (r *recovery) integrate(c *coefficients, v, length float64, grid *recoveryGrid) bool {
	r.c, r.length, r.grid = c, length, grid
	n := len(grid.width)
	r.back = c.bodies / (c.Mass * length)
	if cap(r.steps) < n {
		r.steps, r.stages = make([]num.PlaneStep, n), make([][16]recoveryRecord, n)
	}
	r.steps, r.stages = r.steps[:n], r.stages[:n]
	u, x, body, hands := v, 0.0, 0.0, 0.0
	for i := range r.steps {
		s := &r.steps[i]
		s.H, s.V0, s.W0 = grid.width[i], u, x
		r.step = i
		s.Advance(r)
		u, x = s.V1, s.W1
		sum := 0.0
		for _, j := range weighted {
			q := &r.stages[i][j]
			sum += float64(num.EighthWeights[j] * q.dU * q.slope)
		}
		body += float64(s.H * sum)
		if c.InAir {
			hands += float64(s.H * r.handsOver(i))
		}
	}
	// ∮ m V' ξ' dt with ξ' = −A S'(τ)/length: of V' the part U' alone counts, for the
	// part from ξ” makes up ξ'²/2, which is 0 at both ends
	r.end.v, r.end.travel = u, x
	r.end.hands = hands * length
	r.end.body = -body * c.seat.Rower.Mass * c.seat.Rower.BodyTravel
	return u > 0
}

// handsOver is what a rower's hands do against the air on the oars over step i, over its width, J per
// recovery time.
func (r *recovery) handsOver(i int) float64 {
	sum := 0.0
	for _, j := range weighted {
		sum += float64(num.EighthWeights[j] * r.stages[i][j].turn)
	}
	return sum
}

// Slope gives dU/dτ and dX/dτ.
func (r *recovery) Slope(stage int, u, _ float64) (du, dx float64) {
	r.rhs++
	q, n := &r.stages[r.step][stage&15], &r.grid.nodes[r.step][stage&15]
	q.slope = n.slope
	q.v = u + float64(r.back*q.slope)
	q.water, q.air = r.c.drag.Water(q.v), r.c.drag.Air(q.v)
	drag := q.water + q.air
	if r.c.InAir {
		omega := n.turn / r.length
		force, moment := r.c.seat.Air.Back(float64((q.v+r.c.Wind)*n.cos), omega, r.step >= r.grid.square)
		q.oars, q.turn = float64(r.c.all*force*n.cos), -float64(r.c.Oars*moment*omega)
		drag += q.oars
	}
	q.dU = -drag / r.c.Mass
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
		return sign * (curve.At(u) +
			float64(r.back*num.RiseSlope(r.grid.start[i]+float64(u*r.grid.width[i]))))
	})
	return top
}
