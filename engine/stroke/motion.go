package stroke

import (
	"math"

	"thole/engine/blade"
)

// motion is the boat at one moment of the general route, and the equations that
// move it on. Its right-hand side is a loop over terms, the named contributions
// (terms.go): each adds its forces to the balance, and, once the accelerations are
// known, tells the power it takes or gives. The energy book is the sum of those
// powers over the stroke.
type motion struct {
	plan
	moments []moment
	less    [termCount]float64 // share of each contribution's force that is left out (tests; 0 = all of it acts)

	// the whole boat: pm V' + Σ (qh ω_h' + qb ω_b') = push
	t, v, dv           float64
	pm, push           float64
	waterDrag, airDrag float64
}

// moment is one seat at one moment.
type moment struct {
	at     int     // its first state in y
	effort float64 // E, N

	finished   bool
	finishTime float64 // s, once finished

	// kinematics; the blade's side differs from the handle's on a flexible shaft
	theta, omega, phi, speed float64 // θ_h, ω_h, φ, v_h
	bladeTheta, bladeOmega   float64
	sin, cos                 float64 // of the blade's side
	slip                     float64 // s_n at the blade's centre
	buried                   blade.Buried
	pull                     float64    // F_h, both hands, N
	load                     blade.Load // all of it, times how far it is buried
	torque                   float64    // T in the shaft
	added                    float64    // F_a less its part with ω' and V': m_a q
	addedForce               float64    // F_a
	bodySpeed, bodyAcc       float64    // ξ', ξ” less its part with ω'

	// its equations: ah ω_h' + bh V' = th, ab ω_b' + bb V' = tb
	ah, bh, th, ab, bb, tb float64
	qh, qb                 float64           // of the boat's equation
	dOmega, dBlade         float64           // ω_h', ω_b'
	power                  [accounts]float64 // W, per rower
}

// The accounts of a seat in the energy book.
const (
	handleWork = iota
	bodyWork
	bladeWork // strips
	addedWork // added mass
	shaftWork // damping, flexible shafts only
	accounts
)

// States of the boat, then of each seat from moment.at on.
const (
	stateX = iota
	stateV
	stateWater
	stateAir
	boatStates
)

const (
	seatTheta = iota
	seatOmega
	seatSlip    // ∫ s_n dt, signed
	seatWork    // four accounts from here on
	rigidStates = seatWork + 4
	// and on a flexible shaft
	seatDamping    = seatWork + shaftWork
	seatBladeTheta = iota + 4
	seatBladeOmega
	flexibleStates
)

// states is how many a seat has.
func (p *seatPlan) states() int {
	if p.flexible {
		return flexibleStates
	}
	return rigidStates
}

// slopes is the right-hand side: dy from y at time t.
func (m *motion) slopes(t float64, y, dy []float64) {
	m.balance(t, y)
	dy[stateX], dy[stateV] = m.v, m.dv
	dy[stateWater], dy[stateAir] = m.waterDrag*m.v, m.airDrag*m.v
	for i := range m.moments {
		s := &m.moments[i]
		d := dy[s.at : s.at+m.seats[i].states()]
		if s.finished {
			clear(d)
			d[seatWork+bodyWork] = s.power[bodyWork]
			continue
		}
		d[seatTheta], d[seatOmega], d[seatSlip] = s.omega, s.dOmega, s.slip
		copy(d[seatWork:rigidStates], s.power[:])
		if m.seats[i].flexible {
			d[seatBladeTheta], d[seatBladeOmega], d[seatDamping] = s.bladeOmega, s.dBlade, s.power[shaftWork]
		}
	}
}

// balance works out every force and acceleration at time t and state y.
func (m *motion) balance(t float64, y []float64) {
	m.t, m.v = t, y[stateV]
	m.pm, m.push = m.mass, 0
	for i := range m.moments {
		m.place(i, y)
	}
	for i := range terms {
		terms[i].force(m, 1-m.less[i])
	}
	m.solve()
	for i := range terms {
		if terms[i].power != nil {
			terms[i].power(m)
		}
	}
}

// place reads a seat's kinematics off the state and clears its equations.
func (m *motion) place(i int, y []float64) {
	s, p := &m.moments[i], &m.seats[i]
	s.ah, s.bh, s.th, s.ab, s.bb, s.tb, s.qh, s.qb = 0, 0, 0, 0, 0, 0, 0, 0
	if s.finished {
		return
	}
	q := y[s.at : s.at+p.states()]
	s.theta, s.omega = q[seatTheta], q[seatOmega]
	s.bladeTheta, s.bladeOmega = s.theta, s.omega
	if p.flexible {
		s.bladeTheta, s.bladeOmega = q[seatBladeTheta], q[seatBladeOmega]
	}
	s.sin, s.cos = math.Sincos(s.bladeTheta)
	if p.perfect {
		// the constraint holds in the rate itself, so the path stays on the tractrix
		s.omega = m.v * s.cos / p.centre
		s.bladeOmega = s.omega
	}
	s.phi = (s.theta + p.catch) / p.arc
	s.speed = p.lever * s.omega
	s.slip = p.centre*s.bladeOmega - m.v*s.cos
	if p.perfect {
		s.slip = 0
	}
}

// solve finds V' and every seat's ω' from the balance: each seat's equations
// couple with V' alone, so an elimination seat by seat does.
func (m *motion) solve() {
	pm, push := m.pm, m.push
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		switch {
		case s.finished:
		case p.flexible:
			pm -= s.qh*s.bh/s.ah + s.qb*s.bb/s.ab
			push -= s.qh*s.th/s.ah + s.qb*s.tb/s.ab
		case p.perfect:
			// L ω' − cos θ V' = −V ω sin θ; the water's force F = (th − ah ω')/L is the
			// constraint's, and pushes the boat by count·oars·F cos θ
			r := p.count * m.oars * s.cos / p.centre
			q := s.qh + r*s.ah
			pm += q * s.cos / p.centre
			push += q*m.v*s.omega*s.sin/p.centre + r*s.th
		default:
			a, b, t, q := s.ah+s.ab, s.bh+s.bb, s.th+s.tb, s.qh+s.qb
			pm -= q * b / a
			push -= q * t / a
		}
	}
	m.dv = push / pm
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		switch {
		case s.finished:
		case p.flexible:
			s.dOmega, s.dBlade = (s.th-s.bh*m.dv)/s.ah, (s.tb-s.bb*m.dv)/s.ab
		case p.perfect:
			s.dOmega = (m.dv*s.cos - m.v*s.omega*s.sin) / p.centre
			s.dBlade = s.dOmega
			s.load.Normal = (s.th - s.ah*s.dOmega) / p.centre
		default:
			s.dOmega = (s.th + s.tb - (s.bh+s.bb)*m.dv) / (s.ah + s.ab)
			s.dBlade = s.dOmega
		}
	}
}
