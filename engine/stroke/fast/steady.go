package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// The steady stroke of the fast route: ln V(0) and ln E for which the stroke ends
// at the speed it began with and meets the held quantity. Newton's method with
// Broyden's updates; the way in on a coarse grid, the last iterations on a fine
// one, whose own error estimate then says whether it was fine enough.

// Route is the workspace of the fast route. It is used again from problem to
// problem, so that a warm one allocates nothing, and carries nothing over but
// grids, which depend on their key alone.
type Route struct {
	drive
	recovery recovery
	grids    gridMemo
	backs    recoveryGrids
	Cold     bool // solve each problem from nothing, without a warm start (benchmarks)
	spent    int  // right-hand sides of earlier problems, warm starts and all

	// the warm start's problem, and an answer nobody reads
	near     problem.Problem
	nearSeat [1]problem.Seat
	aside    problem.Solution
}

// Spent is how many right-hand sides it took so far, those of warm starts too.
func (f *Route) Spent() int { return f.spent + f.drive.rhs + f.recovery.rhs }

// pair is the unknowns or the residuals; square a Jacobian, rows of residuals.
type (
	pair   [2]float64
	square [2]pair
)

func (p pair) largest() float64 { return math.Max(math.Abs(p[0]), math.Abs(p[1])) }

// newton gives the step −J⁻¹ r.
func (j *square) newton(r pair) pair {
	det := float64(j[0][0]*j[1][1]) - float64(j[0][1]*j[1][0])
	return pair{(float64(j[0][1]*r[1]) - float64(j[1][1]*r[0])) / det,
		(float64(j[1][0]*r[0]) - float64(j[0][0]*r[1])) / det}
}

// learn is Broyden's update after a move that changed the residual by dr.
func (j *square) learn(move, dr pair) {
	length := float64(move[0]*move[0]) + float64(move[1]*move[1])
	if length == 0 {
		return
	}
	for i := range j {
		miss := (dr[i] - float64(j[i][0]*move[0]) - float64(j[i][1]*move[1])) / length
		j[i][0] += float64(miss * move[0])
		j[i][1] += float64(miss * move[1])
	}
}

// row integrates one stroke on a level and gives the residuals at x; false where
// the drive does not end in time. Equation 7.1.
func (f *Route) row(level int, x pair) (r pair, ok bool) {
	v0 := num.Exp(x[0])
	f.grid = f.grids.of(f.seat, f.layout, level)
	if !f.drive.integrate(v0, num.Exp(x[1])) {
		return r, false
	}
	left := f.Period - f.end.time
	if f.seat.Flexible {
		level = min(level+1, gridCount-1) // the way back is cheap beside such a drive
	}
	if !(left > 0.02*f.Period) || !f.recovery.integrate(&f.coefficients, f.end.v, left,
		f.backs.of(&f.coefficients, level)) {
		return r, false
	}
	r = pair{f.recovery.end.v/v0 - 1, f.held()/f.target - 1}
	return r, !math.IsNaN(r[0]) && !math.IsNaN(r[1])
}

// held gives the held quantity of the stroke just rowed.
func (f *Route) held() float64 {
	switch f.hold {
	case problem.Power:
		return (f.end.handle + f.recovery.end.hands + f.end.body + f.recovery.end.body) / f.Period
	case problem.HandlePower:
		return (f.end.handle + f.recovery.end.hands) / f.Period
	case problem.Force:
		return f.peakPull()
	case problem.Speed:
		return (f.end.travel + f.recovery.end.travel) / f.Period
	}
	return f.effort
}

// jacobian fills j by forward differences on a level around x, where the
// residuals are r.
func (f *Route) jacobian(level int, x, r pair, j *square) bool {
	const h = 1e-5 // upward: faster or harder, so that the drive still ends
	f.bent.enough = 1e-11
	for k := range x {
		moved := x
		moved[k] += h
		rk, ok := f.row(level, moved)
		if !ok {
			return false
		}
		j[0][k], j[1][k] = (rk[0]-r[0])/h, (rk[1]-r[1])/h
	}
	return true
}

// typical is the Jacobian to begin with: in logarithms it is nearly the same for all
// boats and crews.
func (f *Route) typical() square {
	steady := pair{-0.55, 0.13}
	switch f.hold {
	case problem.Effort:
		return square{steady, {0, 1}}
	case problem.Speed:
		return square{steady, {0.64, 0.11}}
	}
	return square{steady, {-0.35, 0.85}}
}

// approach finds x from nothing on a level, to a residual of enough, and leaves
// the Jacobian in j; r are the residuals there.
func (f *Route) approach(level int, x *pair, j *square, enough float64) (r pair, ok bool) {
	f.bent.enough = loose
	r, ok = f.row(level, *x)
	for tries := 0; !ok; tries++ {
		// the drive does not end in time: pull harder at a lower speed
		if tries == 6 {
			return r, false
		}
		x[1] += 0.3
		x[0] -= 0.05
		r, ok = f.row(level, *x)
	}
	*j = f.typical()
	fresh := false
	for range 40 {
		now := r.largest()
		if now <= enough {
			return r, true
		}
		f.bent.enough = min(loose, 0.3*now)
		step := j.newton(r)
		scale := math.Min(1, math.Min(0.3/math.Abs(step[0]), 0.7/math.Abs(step[1])))
		moved, next := *x, r
		for range 6 {
			move := pair{scale * step[0], scale * step[1]}
			moved = pair{x[0] + move[0], x[1] + move[1]}
			if next, ok = f.row(level, moved); ok {
				j.learn(move, pair{next[0] - r[0], next[1] - r[1]})
				if next.largest() < now {
					break
				}
			}
			ok = false
			scale /= 3
		}
		slow := !ok || next.largest() > 0.3*now
		if ok {
			*x, r = moved, next
		}
		if slow {
			if fresh && !ok {
				return r, false
			}
			if !f.jacobian(level, *x, r, j) {
				return r, false
			}
		}
		fresh = slow
	}
	return r, false
}

// settle iterates from a start that is nearly right, to residuals within enough of
// aim, and gives the last of them.
func (f *Route) settle(level int, x *pair, j *square, aim pair, enough float64) (pair, bool) {
	f.bent.enough = loose
	r, ok := f.row(level, *x)
	if !ok {
		return r, false
	}
	return f.settleFrom(r, level, x, j, aim, enough)
}

// settleFrom is settle where the residuals r at x are known. Steps by collocation settle along with x.
func (f *Route) settleFrom(r pair, level int, x *pair, j *square, aim pair, enough float64) (pair, bool) {
	off := pair{r[0] - aim[0], r[1] - aim[1]}
	for n := range 8 {
		now := off.largest()
		if now <= enough && f.settled(enough) {
			return r, true
		}
		f.bent.enough = loose
		if n > 3 {
			f.bent.enough = enough
		}
		step := j.newton(off)
		x[0] += step[0]
		x[1] += step[1]
		next, ok := f.row(level, *x)
		if !ok {
			return r, false
		}
		if !f.seat.Flexible {
			j.learn(step, pair{next[0] - r[0], next[1] - r[1]})
		}
		r, off = next, pair{next[0] - aim[0], next[1] - aim[1]}
		if !(off.largest() < now) && !f.seat.Flexible {
			break
		}
	}
	return r, off.largest() <= enough && f.settled(enough)
}

// loose is a change of a step by collocation after which it may be left for the next stroke to settle.
const loose = 1e-3

// settled says whether the steps by collocation stand as well as residuals within enough: what a change
// leaves is a few hundredths of it at most.
func (f *Route) settled(enough float64) bool { return !f.seat.Flexible || f.bent.moved <= 10*enough }

// guess makes the first guess from the problem alone, by a power balance: about
// three quarters of the power reach the hull.
func (c *coefficients) guess() pair {
	s := c.seat
	way := s.Lever * s.Arc
	ease := 0.33 // mean pull over effort, usual style
	if c.fade == 0 {
		ease = 0.58
	}
	var power, speed float64
	switch c.hold {
	case problem.Power:
		power = c.target
	case problem.HandlePower:
		power = c.target / 0.85
	case problem.Speed:
		speed = c.target
		power = c.drag.Total(speed) * speed / (0.72 * s.Count)
	case problem.Force:
		power = 0.56 * c.target * way / (0.85 * c.Period)
	case problem.Effort:
		power = ease * c.target * way / (0.85 * c.Period)
	}
	if c.hold != problem.Speed {
		speed = 4
		for range 4 {
			speed *= num.Cbrt(0.72 * power * s.Count / math.Max(1e-3, c.drag.Total(speed)*speed))
		}
	}
	effort := 0.85 * power * c.Period / (way * ease)
	if c.hold == problem.Effort {
		effort = c.target
	}
	return pair{num.Ln(0.91 * speed), num.Ln(effort)}
}
