package general

import (
	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// motion is the boat at one moment of the general route, and the equations that
// move it on. Its right-hand side is a loop over terms, the named contributions
// (terms.go): each adds its forces to the balance, and, once the accelerations are
// known, tells the power it takes or gives. The energy book is the sum of those
// powers over the stroke.
type motion struct {
	problem.Plan
	Moments []Moment
	// share of each contribution's force that is left out (tests; 0 = all of it acts)
	Less [TermCount]float64

	// the whole boat: pm V' + Σ (qh ω_h' + qb ω_b') = push
	t, V, DV           float64
	pm, push           float64
	WaterDrag, AirDrag float64 // the air on the bodies, or on all
}

// Moment is one seat at one moment.
type Moment struct {
	First  int     // its first state in y
	Effort float64 // E, N

	Finished   bool
	FinishTime float64 // s, once finished
	squared    bool    // the blade is squared on the way back
	squareTime float64 // s, when; known once finished

	// kinematics; the blade's side differs from the handle's on a flexible shaft
	Theta, omega, phi, HandleSpeed float64 // θ_h, ω_h, φ, v_h
	BladeTheta, BladeOmega         float64
	Sin, Cos                       float64 // of the blade's side
	Slip                           float64 // s_n at the blade's centre
	Buried                         blade.Buried
	Pull                           float64    // F_h, both hands, N
	Load                           blade.Load // all of it, times how far it is buried
	torque                         float64    // T in the shaft
	added                          float64    // F_a less its part with ω' and V': m_a q
	AddedForce                     float64    // F_a
	bodySpeed, bodyAcc             float64    // ξ', ξ” less its part with ω'
	// air on the oars: work per second taken by way of V and of ω, W per rower
	airPush, airTurn float64

	// its equations: ah ω_h' + bh V' = th, ab ω_b' + bb V' = tb
	ah, bh, th, ab, bb, tb float64
	qh, qb                 float64           // of the boat's equation
	dOmega, dBlade         float64           // ω_h', ω_b'
	Power                  [accounts]float64 // W, per rower
}

// The accounts of a seat in the energy book.
const (
	handleWork = iota
	bodyWork
	bladeWork // strips
	AddedWork // added mass
	shaftWork // damping, flexible shafts only
	accounts
)

// States of the boat, then of each seat from moment.at on.
const (
	StateX = iota
	StateV
	stateWater
	stateAir
	boatStates
)

const (
	SeatTheta = iota
	seatOmega
	seatSlip    // ∫ s_n dt, signed
	seatWork    // four accounts from here on
	rigidStates = seatWork + 4
	// and on a flexible shaft
	seatDamping    = seatWork + shaftWork
	SeatBladeTheta = iota + 4
	seatBladeOmega
	flexibleStates
)

// The works of the air on the oars, where it is computed, lie behind a seat's other states.
const (
	airDrive = iota // taken by way of ω in the drive
	airBack         // and on the way back
	airPush         // by way of V
	airStates
)

// ownStates is how many a seat has without those of the air.
func ownStates(p *problem.SeatPlan) int {
	if p.Flexible {
		return flexibleStates
	}
	return rigidStates
}

// states is how many a seat has.
func (m *motion) states(p *problem.SeatPlan) int {
	if m.InAir {
		return ownStates(p) + airStates
	}
	return ownStates(p)
}

// airWorks are a seat's works of the air on its oars so far, J per rower; all 0 where that is not
// computed.
func (m *motion) airWorks(i int, y []float64) (works [airStates]float64) {
	if m.InAir {
		copy(works[:], y[m.Moments[i].First+ownStates(&m.Seats[i]):])
	}
	return works
}

// Slopes is the right-hand side: dy from y at time t.
func (m *motion) Slopes(t float64, y, dy []float64) {
	m.balance(t, y)
	dy[StateX], dy[StateV] = m.V, m.DV
	dy[stateWater], dy[stateAir] = m.WaterDrag*m.V, m.AirDrag*m.V
	for i := range m.Moments {
		s := &m.Moments[i]
		d := dy[s.First : s.First+m.states(&m.Seats[i])]
		if m.InAir {
			m.airSlopes(s, d[ownStates(&m.Seats[i]):])
		}
		if s.Finished {
			clear(d[:ownStates(&m.Seats[i])])
			d[seatWork+bodyWork] = s.Power[bodyWork]
			continue
		}
		d[SeatTheta], d[seatOmega], d[seatSlip] = s.omega, s.dOmega, s.Slip
		copy(d[seatWork:rigidStates], s.Power[:])
		if m.Seats[i].Flexible {
			d[SeatBladeTheta], d[seatBladeOmega], d[seatDamping] = s.BladeOmega, s.dBlade, s.Power[shaftWork]
		}
	}
}

// airSlopes are the powers the air takes from a seat's oars.
func (m *motion) airSlopes(s *Moment, d []float64) {
	d[airDrive], d[airBack], d[airPush] = s.airTurn, 0, s.airPush
	if s.Finished {
		d[airDrive], d[airBack] = 0, s.airTurn
	}
}

// balance works out every force and acceleration at time t and state y.
func (m *motion) balance(t float64, y []float64) {
	m.t, m.V = t, y[StateV]
	m.pm, m.push = m.Mass, 0
	for i := range m.Moments {
		m.place(i, y)
	}
	for i := range terms {
		terms[i].force(m, 1-m.Less[i])
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
	s, p := &m.Moments[i], &m.Seats[i]
	s.ah, s.bh, s.th, s.ab, s.bb, s.tb, s.qh, s.qb = 0, 0, 0, 0, 0, 0, 0, 0
	if s.Finished {
		return
	}
	q := y[s.First : s.First+ownStates(p)]
	s.Theta, s.omega = q[SeatTheta], q[seatOmega]
	s.BladeTheta, s.BladeOmega = s.Theta, s.omega
	if p.Flexible {
		s.BladeTheta, s.BladeOmega = q[SeatBladeTheta], q[seatBladeOmega]
	}
	s.Sin, s.Cos = num.Sincos(s.BladeTheta)
	if p.Perfect {
		// the constraint holds in the rate itself, so the path stays on the tractrix
		s.omega = m.V * s.Cos / p.Centre
		s.BladeOmega = s.omega
	}
	s.phi = (s.Theta + p.Catch) / p.Arc
	s.HandleSpeed = p.Lever * s.omega
	s.Slip = float64(p.Centre*s.BladeOmega) - float64(m.V*s.Cos)
	if p.Perfect {
		s.Slip = 0
	}
}

// solve finds V' and every seat's ω' from the balance: each seat's equations
// couple with V' alone, so an elimination seat by seat does. Equations 6.1 and 6.2.
func (m *motion) solve() {
	pm, push := m.pm, m.push
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		switch {
		case s.Finished:
		case p.Flexible:
			pm -= s.qh*s.bh/s.ah + s.qb*s.bb/s.ab
			push -= s.qh*s.th/s.ah + s.qb*s.tb/s.ab
		case p.Perfect:
			// L ω' − cos θ V' = −V ω sin θ; the water's force F = (th − ah ω')/L is the
			// constraint's, and pushes the boat by count·oars·F cos θ
			r := p.Count * m.Oars * s.Cos / p.Centre
			q := s.qh + float64(r*s.ah)
			pm += q * s.Cos / p.Centre
			push += q*m.V*s.omega*s.Sin/p.Centre + float64(r*s.th)
		default:
			a, b, t, q := s.ah+s.ab, s.bh+s.bb, s.th+s.tb, s.qh+s.qb
			pm -= q * b / a
			push -= q * t / a
		}
	}
	m.DV = push / pm
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		switch {
		case s.Finished:
		case p.Flexible:
			s.dOmega, s.dBlade = (s.th-float64(s.bh*m.DV))/s.ah, (s.tb-float64(s.bb*m.DV))/s.ab
		case p.Perfect:
			s.dOmega = (float64(m.DV*s.Cos) - float64(m.V*s.omega*s.Sin)) / p.Centre
			s.dBlade = s.dOmega
			s.Load.Normal = (s.th - float64(s.ah*s.dOmega)) / p.Centre
		default:
			s.dOmega = (s.th + s.tb - float64((s.bh+s.bb)*m.DV)) / (s.ah + s.ab)
			s.dBlade = s.dOmega
		}
	}
}
