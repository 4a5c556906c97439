package fast

import (
	"math"

	"thole/engine/num"
)

// The drive on a shaft that bends. The handle's side of the oar is the independent variable, as the whole
// oar is on a rigid one; its ω, how far the shaft is bent and the blade's ω are states beside V. The light
// handle swings on the shaft in a few milliseconds and is damped by hands and shaft, so explicit steps
// would have to be short over all the drive: it goes by collocation instead, in steps as long as the
// motion is smooth, short ones over the swing at the catch.

// bentState is V, the handle's ω, the bend θ_h − θ_b [rad] and the blade's ω.
type bentState [4]float64

const (
	stateV = iota
	stateOmega
	stateBend
	stateBlade
	bentStates
)

// bentScale is what a state's error is measured against: m/s, rad/s, rad, rad/s.
var bentScale = bentState{5, 2, 0.05, 2}

// bentStep is one step by collocation.
type bentStep struct {
	start, end bentState
	rise       [num.RadauPoints]bentState // of the state at each point above the start
	slope      [num.RadauPoints]bentState
	begun      bool // rise is that of a stroke nearby
	factored   bool // factors are of its equations
	factors    factors
}

// bentDrive is what a drive keeps of its steps by collocation.
type bentDrive struct {
	steps []bentStep
	over  *grid                       // the grid they are laid on
	about *[num.RadauPoints]bentState // the course, by its start, whose factors all steps have; nil = of none
	begin course                      // on which the next stroke starts
	past  past                        // the stroke rowed on another grid before
	spare bentStep
	at    int // the step whose curves are ready
	curve [bentStates]num.RadauCurve
	last  bentState // the slope over θ at the end of the step before

	// enough is the change by Newton's method, against bentScale, after which a step is left as it is;
	// moved the largest last change of the stroke
	enough, moved float64

	y, dy    bentState // of the point at hand
	jacobian [num.RadauPoints][bentStates]bentState
	step     [num.RadauPoints]bentState

	// planted puts an error of a test into the slopes
	planted func(d *drive, n *node, r *stageRecord, y, dy *bentState)
}

// integrateBent takes the drive from the catch and says whether the oar got to the finish.
func (d *drive) integrateBent(v0, effort float64) bool {
	d.effort = effort
	n, b := len(d.grid.width), &d.bent
	if cap(d.stages) < n {
		d.steps, d.stages = make([]num.PlaneStep, n), make([][16]stageRecord, n)
	}
	d.steps, d.stages = d.steps[:n], d.stages[:n]
	if b.over != d.grid {
		b.past.steps, b.steps, b.past.over = b.steps, b.past.steps, b.over
		b.lay(d.grid)
	}
	b.at = -1
	b.past.at, b.past.ready = 0, false
	state := bentState{stateV: v0}
	b.moved = 0
	var sums bentSums
	var time, travel, handle, body float64
	for i := range b.steps {
		s, h := &b.steps[i], d.grid.width[i]
		s.start, d.steps[i].V0 = state, state[stateV]
		d.at(i)
		if !s.begun {
			d.startBent(i, s)
		}
		if !d.solveBent(s, h, b.enough) {
			b.over = nil // half a stroke is nothing to start from
			return false
		}
		state = s.end
		if !(state[stateOmega] > 0) || !(state[stateV] > 0) {
			return false
		}
		d.sumBent(s, &sums)
		time += float64(h * sums.time)
		travel += float64(h * sums.travel)
		handle += float64(h * sums.handle)
		body += sums.body
	}
	d.end.v, d.end.omega, d.end.time, d.end.travel = state[stateV], state[stateOmega], time, travel
	d.end.bend, d.end.blade = state[stateBend], state[stateBlade]
	d.end.handle = handle * d.seat.Lever
	d.end.body = body * d.seat.Rower.Mass * d.seat.Rower.BodyTravel
	return time < 10*d.Period // and no NaN
}

// bentSums are the sums over the points of a step.
type bentSums struct{ time, travel, handle, body float64 }

// sumBent sums over a step as Newton's method left it, which is nearer than where the slopes were worked out
// last: only then do the steps and the stroke's own unknowns settle together.
func (d *drive) sumBent(s *bentStep, sums *bentSums) {
	*sums = bentSums{}
	for j := range num.RadauPoints {
		n, w := &d.nodes[j], num.Radau.Weight[j]
		v, omega := s.start[stateV]+s.rise[j][stateV], s.start[stateOmega]+s.rise[j][stateOmega]
		time := float64(w * n.angle / omega)
		sums.time += time
		sums.travel += float64(time * v)
		sums.handle += float64(w * d.effort * n.pull * max(0, 1-float64(omega*d.fade)) * n.angle)
		dv := 0.0 // over the step
		for k := range s.rise {
			dv += float64(num.Radau.Slope[j][k] * s.rise[k][stateV])
		}
		sums.body += float64(w * dv * n.slope * omega)
	}
}

// startBent guesses the rises of a step that no stroke nearby has taken: as on the grid before,
// or along the slope with which the step before ended; at the catch, the handle alone
// against its own inertia.
func (d *drive) startBent(i int, s *bentStep) {
	from, _, _ := d.grid.place[i].phi(0)
	if p := &d.bent.past; p.over != nil {
		var first bentState
		p.state(from, &first)
		for j := range s.rise {
			phi, _, _ := d.grid.place[i].phi(float64(num.Radau.Node[j] * d.grid.width[i]))
			p.state(phi, &s.rise[j])
			for k := range first {
				s.rise[j][k] -= first[k]
			}
		}
		return
	}
	for j := range s.rise {
		phi, _, _ := d.grid.place[i].phi(float64(num.Radau.Node[j] * d.grid.width[i]))
		way := float64((phi - from) * d.seat.Arc)
		if i == 0 {
			pull := d.effort * max(d.nodes[j].pull, 0.01) * d.seat.Lever / d.Oars
			twist := float64(d.seat.Shaft.Stiffness * way)
			rate := math.Sqrt(2 * way * pull / (d.seat.Shaft.HandleInertia + float64(twist*way/pull)))
			s.rise[j] = bentState{stateOmega: rate, stateBend: way}
			continue
		}
		before := &d.bent.steps[i-1]
		for k := range s.rise[j] {
			s.rise[j][k] = way * d.bent.last[k]
		}
		s.rise[j][stateOmega] = max(s.rise[j][stateOmega], -0.5*before.end[stateOmega])
	}
}

// solveBent solves the equations of a step of width h at all its points at once, by Newton's method with
// factors used as long as they serve, until a change within enough.
func (d *drive) solveBent(s *bentStep, h, enough float64) bool {
	const rounds = 14
	jacobian, y := &d.bent.jacobian, &d.bent.y
	before := math.Inf(1)
	fresh := !s.factored
	for range rounds {
		for j := range s.rise {
			*y = s.start
			for k := range y {
				y[k] += s.rise[j][k]
			}
			if !(y[stateOmega] > 1e-6) {
				return false
			}
			into := &jacobian[j]
			if !fresh {
				into = nil
			}
			d.bentSlope(&d.nodes[j], &d.record[j], y, &s.slope[j], into)
		}
		if fresh {
			if s.factored = s.factors.make(jacobian, h); !s.factored {
				return false
			}
			if s != &d.bent.spare {
				d.bent.about = nil
			}
		}
		step := &d.bent.step
		miss, scale := 0.0, 1.0
		for i := range s.rise {
			for k := range bentStates {
				sum := 0.0
				for j := range s.slope {
					sum += float64(num.Radau.Within[i][j] * s.slope[j][k])
				}
				step[i][k] = float64(h*sum) - s.rise[i][k]
			}
		}
		s.factors.solve(step)
		for i := range s.rise {
			for k := range bentStates {
				miss = max(miss, math.Abs(step[i][k])/bentScale[k])
			}
			// the handle must not turn back on the way
			y, change := s.start[stateOmega]+s.rise[i][stateOmega], step[i][stateOmega]
			if change < -0.8*y {
				scale = min(scale, -0.8*y/change)
			}
		}
		for i := range s.rise {
			for k := range bentStates {
				s.rise[i][k] += float64(scale * step[i][k])
			}
		}
		if miss < enough {
			s.begun = true
			d.bent.moved = max(d.bent.moved, miss)
			last := num.RadauPoints - 1
			for k := range s.end {
				s.end[k] = s.start[k] + s.rise[last][k]
			}
			for k := range d.bent.last {
				d.bent.last[k] = s.slope[last][k] / d.nodes[last].angle
			}
			return true
		}
		if math.IsNaN(miss) {
			return false
		}
		fresh = miss > 0.1*before || scale < 1 || math.IsInf(before, 1) && miss > 0.02
		before = miss
	}
	s.begun, s.factored = false, false
	return false
}

// bentSlope works out the slopes at a node and records what makes them up, and, where it is asked, how
// they change with the states, near enough for Newton's method. Equations 4.5, 6.1 and 6.2.
func (d *drive) bentSlope(n *node, r *stageRecord, y, dy *bentState, jacobian *[bentStates]bentState) {
	d.rhs++
	s := d.seat
	shaft := &s.Shaft
	v, omega, bend, blade := y[stateV], y[stateOmega], y[stateBend], y[stateBlade]
	sinBend, cosBend := num.Sincos(bend)
	sin := float64(n.sin*cosBend) - float64(n.cos*sinBend)
	cos := float64(n.cos*cosBend) + float64(n.sin*sinBend)

	// hands, shaft, water on the blade, drag
	left := 1 - float64(omega*d.fade)
	if left < 0 {
		left = 0
	}
	pull := d.effort * n.pull * left
	twist := float64(shaft.Stiffness*bend) + float64(shaft.Damping*(omega-blade))
	load := s.Water.Water(v, blade, sin, cos)
	normal, along := float64(n.buried*load.Normal), n.buried*load.Along
	water, air := d.drag.Water(v), d.drag.Air(v)

	// added mass follows the blade, the burying the handle
	slip := float64(s.Centre*blade) - float64(v*cos)
	mass := s.Water.Mass * n.buried
	entry := s.Water.Mass * n.entry
	taken := float64(mass*v*blade*sin) + float64(entry*omega*slip)

	// I_h ω_h' = hands − shaft; the blade's side and the boat hang together as on a rigid oar
	dOmega := (pull*s.Lever/d.Oars - twist) / shaft.HandleInertia
	arm := mass * s.Centre
	swing := shaft.BladeInertia + float64(arm*s.Centre)
	torque := twist - float64(n.buried*load.Moment) - float64(s.Centre*taken)
	bodies := d.bodies * n.slope
	boat := d.Mass + float64(d.all*mass*cos*cos)
	push := float64(d.all*(float64((normal+taken)*cos)+float64(along*sin))) - water - air -
		float64(d.bodies*n.curve*omega*omega) - float64(bodies*dOmega)
	if d.InAir {
		r.push, r.turn = d.airOnOar(cos, v, blade)
		torque += r.turn
		push -= float64(d.all * r.push)
	}
	pair := arm * cos
	all := d.all * pair
	det := 1 / (float64(swing*boat) - float64(all*pair))
	dBlade := (float64(torque*boat) + float64(pair*push)) * det
	dv := (float64(swing*push) + float64(all*torque)) * det

	time := n.angle / omega
	added := float64(mass*(float64(s.Centre*dBlade)-float64(dv*cos))) + taken
	r.time, r.v, r.omega, r.blade, r.dv, r.dOmega = time, v, omega, blade, dv, dOmega
	r.pull, r.slip, r.normal, r.along = pull, slip, normal+added, along
	r.loss = float64(n.buried*load.Loss) + float64(added*slip)
	r.water, r.air, r.slope, r.angle = water, air, n.slope, n.angle
	*dy = bentState{dv * time, dOmega * time, (omega - blade) * time, dBlade * time}
	if d.bent.planted != nil {
		d.bent.planted(d, n, r, y, dy)
	}
	if jacobian == nil {
		return
	}

	// the water's force at a slightly faster blade; it is of second degree in V and ω together, which
	// gives the other slope
	const h = 1e-6
	moved := s.Water.Water(v, blade+h, sin, cos)
	momentB, normalB := n.buried*(moved.Moment-load.Moment)/h, n.buried*(moved.Normal-load.Normal)/h
	momentV := (float64(2*n.buried*load.Moment) - float64(blade*momentB)) / v
	normalV := (float64(2*normal) - float64(blade*normalB)) / v
	takenV := float64(mass*blade*sin) - float64(entry*omega*cos)
	takenB := float64(mass*v*sin) + float64(entry*omega*s.Centre)
	takenO := entry * slip
	ease := 0.0
	if left > 0 {
		ease = d.effort * n.pull * d.fade * s.Lever / d.Oars
	}
	handle := bentState{0, -(ease + shaft.Damping) / shaft.HandleInertia, -shaft.Stiffness /
		shaft.HandleInertia,
		shaft.Damping / shaft.HandleInertia}
	turns := bentState{-momentV - float64(s.Centre*takenV), shaft.Damping - float64(s.Centre*takenO),
		shaft.Stiffness,
		-shaft.Damping - momentB - float64(s.Centre*takenB)}
	pushes := bentState{float64(d.all*cos*(normalV+takenV)) - float64(2*(water+air)/v),
		float64(d.all*cos*takenO) - float64(2*d.bodies*n.curve*omega), 0, d.all * cos * (normalB + takenB)}
	// and at a slightly more bent shaft, its own torque apart
	sinMoved, cosMoved := sin-float64(cos*h), cos+float64(sin*h)
	moved = s.Water.Water(v, blade, sinMoved, cosMoved)
	slip = float64(s.Centre*blade) - float64(v*cosMoved)
	takenMoved := float64(mass*v*blade*sinMoved) + float64(entry*omega*slip)
	turns[stateBend] -= (float64(n.buried*(moved.Moment-load.Moment)) +
		float64(s.Centre*(takenMoved-taken))) / h
	pushes[stateBend] = d.all * (float64((float64(n.buried*moved.Normal)+takenMoved)*cosMoved) +
		float64(n.buried*moved.Along*sinMoved) - float64((normal+taken)*cos) - float64(along*sin)) / h
	// the added mass turns with the blade: m_a b cos in both equations
	turns[stateBend] += float64(arm * sin * dv)
	pushes[stateBend] += float64(d.all*arm*sin*dBlade) - float64(2*d.all*mass*cos*sin*dv)
	for k := range bentStates {
		p := pushes[k] - float64(bodies*handle[k])
		jacobian[stateV][k] = (float64(swing*p) + float64(all*turns[k])) * det * time
		jacobian[stateOmega][k] = handle[k] * time
		jacobian[stateBlade][k] = (float64(boat*turns[k]) + float64(pair*p)) * det * time
	}
	jacobian[stateBend] = bentState{0, time * blade / omega, 0, -time}
	jacobian[stateV][stateOmega] -= dy[stateV] / omega
	jacobian[stateOmega][stateOmega] -= dy[stateOmega] / omega
	jacobian[stateBlade][stateOmega] -= dy[stateBlade] / omega
}
