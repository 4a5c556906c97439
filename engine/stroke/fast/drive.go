package fast

import (
	"math"

	"thole/engine/blade"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// The drive of the fast route: θ is the independent variable, the hull's speed V
// and the oar's rate ω the only states. Near the catch ω grows like the root of
// the way from it, so the grid runs in σ, θ = −θ_c + arc·σ², in which ω and V are
// smooth: dV/dσ = V' g/ω, dω/dσ = ω' g/ω, g = dθ/dσ = 2 arc σ. The drive ends at
// σ = 1: no event is looked for.

// coefficients is a problem in the numbers the drive and the recovery ask for.
type coefficients struct {
	problem.Plan
	drag hull.Resistance // Plan.Drag; named here so that its short methods are compiled in line

	seat   *problem.SeatPlan
	all    float64 // oars in the boat
	fade   float64 // L_in/v_0, s/rad
	bodies float64 // n m A_com, kg·m
	hold   problem.Hold
	target float64
	layout layout
}

// prepare fills the case from a checked problem with one kind of seat.
func (c *coefficients) prepare(p *problem.Problem) error {
	if err := c.Plan.Prepare(p); err != nil {
		return err
	}
	s := &c.Seats[0]
	c.seat, c.drag = s, c.Drag
	c.all = s.Count * c.Oars
	c.fade = s.Lever / s.Rower.FreeSpeed
	c.bodies = s.Count * s.Rower.Mass * s.Rower.BodyTravel
	c.hold, c.target = p.Hold, p.Target
	if p.OwnPower() {
		c.target = s.Rower.Power
	}
	c.layout = layout{stiff: stiffClass(s)}
	if s.Flexible {
		c.layout = c.bentLayout()
	}
	return nil
}

// prepare makes the drive ready for a checked problem with one kind of seat.
func (d *drive) prepare(p *problem.Problem) error {
	d.bent.over = nil // the steps by collocation start anew
	return d.coefficients.prepare(p)
}

// stageRecord keeps the contributions of one stage, for the results to sum.
type stageRecord struct {
	time         float64 // dt/dσ, s
	v, omega     float64
	blade        float64 // ω of the blade's side, which on a rigid oar is the handle's
	dv, dOmega   float64 // V', ω' in time
	pull         float64 // F_h of a rower, N
	slip         float64 // s_n at the blade's centre, m/s
	normal       float64 // Σ f_n + F_a of one oar, N
	along        float64 // Σ f_t of one oar, N
	loss         float64 // power one blade leaves in the water, W
	water, air   float64 // drag, N
	push, turn   float64 // of the air on one oar: against the boat, N; toward the finish, N·m
	slope, angle float64 // s'(φ)/arc and dθ/dσ, of the node
}

// drive integrates a drive over a grid.
type drive struct {
	coefficients
	effort float64 // E, N
	grid   *grid
	nodes  *[16]node        // of the step at hand
	record *[16]stageRecord // of the step at hand
	steps  []num.PlaneStep
	stages [][16]stageRecord
	rhs    int // right-hand sides so far
	look   look
	bent   bentDrive // its steps where the shaft bends

	planted num.Plane // a right-hand side with an error planted by a test

	// at the finish, after integrate
	end struct {
		v, omega     float64
		bend, blade  float64 // of a shaft that bends: rad, rad/s
		time, travel float64 // s, m
		handle, body float64 // work of one rower, J
	}
}

// integrate takes the drive from the catch at hull speed v0 with this effort and
// says whether the oar got to the finish.
func (d *drive) integrate(v0, effort float64) bool {
	if d.seat.Flexible {
		return d.integrateBent(v0, effort)
	}
	d.effort = effort
	n := len(d.grid.width)
	if cap(d.steps) < n {
		d.steps, d.stages = make([]num.PlaneStep, n), make([][16]stageRecord, n)
	}
	d.steps, d.stages = d.steps[:n], d.stages[:n]
	d.look.at = -1
	side := d.side()
	v, omega := v0, 0.0
	var time, travel, handle, body float64
	for i := range d.steps {
		s := &d.steps[i]
		s.H, s.V0, s.W0 = d.grid.width[i], v, omega
		d.at(i)
		s.Advance(side)
		v, omega = s.V1, s.W1
		if !(omega > 0 || d.seat.Perfect) || !(v > 0) {
			return false
		}
		var st, sx, sh, sb float64
		for _, j := range weighted {
			r, b := &d.record[j], num.EighthWeights[j]
			st += float64(b * r.time)
			sx += float64(b * r.time * r.v)
			sh += float64(b * r.pull * r.angle)
			sb += float64(b * r.dv * r.slope * r.angle)
		}
		time += float64(s.H * st)
		travel += float64(s.H * sx)
		handle += float64(s.H * sh)
		body += float64(s.H * sb)
	}
	if d.seat.Perfect {
		omega = v * num.Cos(d.seat.Finish) / d.seat.Centre
	}
	d.end.v, d.end.omega, d.end.time, d.end.travel = v, omega, time, travel
	d.end.handle = handle * d.seat.Lever
	d.end.body = body * d.seat.Rower.Mass * d.seat.Rower.BodyTravel
	return time < 10*d.Period // and no NaN
}

// weighted are the stages with a weight in the step.
var weighted = [...]int{0, 5, 6, 7, 8, 9, 10, 11}

// rule says which stages of a step make up an integral over it, and with what weights.
type rule struct {
	stages []int
	weight [16]float64
}

var eighthRule, radauRule = func() (eighth, radau rule) {
	eighth.stages = weighted[:]
	copy(eighth.weight[:], num.EighthWeights[:])
	for j, w := range num.Radau.Weight {
		radau.stages, radau.weight[j] = append(radau.stages, j), w
	}
	return
}()

// rule is that of the method by which the drive is integrated.
func (d *drive) rule() *rule {
	if d.seat.Flexible {
		return &radauRule
	}
	return &eighthRule
}

// side is the right-hand side.
func (d *drive) side() num.Plane {
	if d.planted != nil {
		return d.planted
	}
	return d
}

// at makes step i the one at hand.
func (d *drive) at(i int) { d.nodes, d.record = &d.grid.nodes[i], &d.stages[i] }

// Slope is the right-hand side of the drive on the grid: the two equations of motion of
// model 6, solved for V' and ω', which added mass and body couple.
func (d *drive) Slope(stage int, v, omega float64) (dv, dOmega float64) {
	return d.evaluate(&d.nodes[stage&15], &d.record[stage&15], v, omega)
}

// evaluate works out the slopes at a node and records what makes them up.
// Equations 6.1 and 6.2.
func (d *drive) evaluate(n *node, r *stageRecord, v, omega float64) (dv, dOmega float64) {
	d.rhs++
	s := d.seat
	if s.Perfect {
		return d.perfectSlope(n, r, v), 0
	}

	// hands, water on the blade, drag
	left := 1 - float64(omega*d.fade)
	if left < 0 {
		left = 0
	}
	pull := d.effort * n.pull * left
	load := s.Water.Water(v, omega, n.sin, n.cos)
	normal, along := float64(n.buried*load.Normal), n.buried*load.Along
	water, air := d.drag.Water(v), d.drag.Air(v)

	// added mass: F_a = m_a b (L ω' − V' cos θ) + taken
	slip := float64(s.Centre*omega) - float64(v*n.cos)
	mass := s.Water.Mass * n.buried
	taken := float64(mass*v*omega*n.sin) + float64(s.Water.Mass*n.entry*omega*slip)

	// (I + m_a b L²) ω' − m_a b L cos θ V' = torque
	// (n m A s'/arc − N m_a b L cos θ) ω' + (M + N m_a b cos² θ) V' = push
	arm := mass * s.Centre
	swing := s.Inertia + float64(arm*s.Centre)
	torque := pull*s.Lever/d.Oars - float64(n.buried*load.Moment) - float64(s.Centre*taken)
	coupling := float64(d.bodies*n.slope) - float64(d.all*arm*n.cos)
	boat := d.Mass + float64(d.all*mass*n.cos*n.cos)
	push := float64(d.all*(float64((normal+taken)*n.cos)+float64(along*n.sin))) - water - air -
		float64(d.bodies*n.curve*omega*omega)
	if d.InAir {
		r.push, r.turn = d.airOnOar(n.cos, v, omega)
		torque += r.turn
		push -= float64(d.all * r.push)
	}
	det := 1 / (float64(swing*boat) + float64(arm*n.cos*coupling))
	dOmega = (float64(torque*boat) + float64(arm*n.cos*push)) * det
	dv = (float64(swing*push) - float64(coupling*torque)) * det

	// dt/dσ = g/ω; at the catch both vanish and ω = σ √(2 arc ω')
	time := n.angle / omega
	if omega == 0 {
		time = math.Sqrt(2 * s.Arc / dOmega)
	}

	added := float64(mass*(float64(s.Centre*dOmega)-float64(dv*n.cos))) + taken
	r.time, r.v, r.omega, r.blade, r.dv, r.dOmega = time, v, omega, omega, dv, dOmega
	r.pull, r.slip, r.normal, r.along = pull, slip, normal+added, along
	r.loss = float64(n.buried*load.Loss) + float64(added*slip)
	r.water, r.air, r.slope, r.angle = water, air, n.slope, n.angle
	return dv * time, dOmega * time
}

// airOnOar is what the air on one shaft does: its push against the boat, N, and its moment toward
// the finish, N·m.
func (d *drive) airOnOar(cos, v, omega float64) (push, turn float64) {
	force, turn := d.seat.Air.Shaft((v+d.Wind)*cos, omega)
	return force * cos, turn
}

// perfectSlope is the drive of a blade that does not slip: ω follows V, and the
// water's force F on the blade is the constraint's reaction (model 2).
// Equations 2.1 and 2.3.
func (d *drive) perfectSlope(n *node, r *stageRecord, v float64) float64 {
	s := d.seat
	omega := v * n.cos / s.Centre
	left := 1 - float64(omega*d.fade)
	if left < 0 {
		left = 0
	}
	pull := d.effort * n.pull * left
	water, air := d.drag.Water(v), d.drag.Air(v)

	// ω' = (V' cos θ − V ω sin θ)/L, F = (pull L_in − I ω')/L on one oar
	reach := pull * s.Lever / d.Oars
	var airPush, airTurn float64
	if d.InAir {
		airPush, airTurn = d.airOnOar(n.cos, v, omega)
		reach += airTurn
	}
	turn := float64(d.bodies*n.slope) + d.all*n.cos*s.Inertia/s.Centre // weighs ω' in the boat's equation
	push := d.all*n.cos*reach/s.Centre - float64(d.all*airPush) - water - air -
		float64(d.bodies*n.curve*omega*
			omega) + turn*v*omega*n.sin/s.Centre
	dv := push / (d.Mass + turn*n.cos/s.Centre)
	dOmega := (float64(dv*n.cos) - float64(v*omega*n.sin)) / s.Centre

	time := n.angle / omega
	*r = stageRecord{
		time: time, v: v, omega: omega, blade: omega, dv: dv, dOmega: dOmega, pull: pull,
		normal: (reach - float64(s.Inertia*dOmega)) / s.Centre,
		water:  water, air: air, push: airPush, turn: airTurn, slope: n.slope, angle: n.angle,
	}
	return dv * time
}

// Applies says whether the fast route can take a problem at all: rowers alike (p's alike seats stand
// for one), and a water's force whose kinks lie on edges of the grid or fade where they do not. Measured
// coefficients have theirs at angles of attack, which fall between any two.
func Applies(p *problem.Problem) bool {
	return len(p.Seats) == 1 && p.Seats[0].Oar.Blade.Law != blade.Table
}
