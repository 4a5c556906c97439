package stroke

import (
	"thole/engine/crew"
	"thole/engine/num"
)

// A term is one named contribution to the equations of motion. force adds it to
// the balance, share of it (1 but in tests); power, once the accelerations are
// known, enters it in the energy book.
type term struct {
	name  string
	force func(m *motion, share float64)
	power func(m *motion)
}

// The contributions, in the order they are added: blade before added mass,
// which reads how far the blade is buried.
const (
	termHandle = iota
	termSwing
	termShaft
	termBlade
	termAdded
	termBody
	termWater
	termAir
	termCount
)

// terms is model.md section 6, line by line. It is filled in init because the
// functions below reach it again through motion.
var terms = [termCount]term{
	termHandle: {"handle", handleForce, handlePower},
	termSwing:  {"oar swing", swingForce, nil}, // booked at the finish
	termShaft:  {"shaft", shaftForce, shaftPower},
	termBlade:  {"blade", bladeForce, bladePower},
	termAdded:  {"added mass", addedForce, addedPower},
	termBody:   {"body", bodyForce, bodyPower},
	termWater:  {"water drag", waterForce, nil}, // booked in slopes, V times the force
	termAir:    {"air drag", airForce, nil},
}

// handleForce: F_h = E f(φ) max(0, 1 − v_h/v_0), shared by the rower's oars.
func handleForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if s.finished {
			continue
		}
		s.pull = s.effort * p.shape.At(s.phi) * p.rower.Fade(s.speed)
		s.th += share * s.pull * p.lever / m.oars
	}
}

func handlePower(m *motion) {
	for i := range m.moments {
		s := &m.moments[i]
		s.power[handleWork] = s.pull * s.speed
	}
}

// swingForce: the oar's inertia I ω', both ends of a flexible shaft.
func swingForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if p.flexible {
			s.ah += share * p.shaft.HandleInertia
			s.ab += share * p.shaft.BladeInertia
		} else {
			s.ah += share * p.inertia
		}
	}
}

// shaftForce: T = kL² (θ_h − θ_b) + 2ζ √(kL² I_b) (ω_h − ω_b).
func shaftForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if s.finished || !p.flexible {
			continue
		}
		s.torque = p.shaft.Stiffness*(s.theta-s.bladeTheta) + p.shaft.Damping*(s.omega-s.bladeOmega)
		s.th -= share * s.torque
		s.tb += share * s.torque
	}
}

func shaftPower(m *motion) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if p.flexible {
			bend := s.omega - s.bladeOmega
			s.power[shaftWork] = m.oars * p.shaft.Damping * bend * bend
		}
	}
}

// bladeForce: the water on the strips, Σ f_n and Σ f_t, as far as the blade is in.
// The burying follows the handle's side of the oar, the forces the blade's.
func bladeForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if s.finished {
			continue
		}
		s.buried = p.water.Buried(s.theta+p.catch, p.finish-s.theta)
		b := s.buried.Share
		load := p.water.Water(m.v, s.bladeOmega, s.sin, s.cos)
		load.Normal, load.Along, load.Moment, load.Loss = b*load.Normal, b*load.Along, b*load.Moment, b*load.Loss
		s.load = load
		s.tb -= share * load.Moment
		m.push += share * p.count * m.oars * (load.Normal*s.cos + load.Along*s.sin)
	}
}

func bladePower(m *motion) {
	for i := range m.moments {
		s := &m.moments[i]
		s.power[bladeWork] = m.oars * s.load.Loss
	}
}

// addedForce: F_a = m_a [b ds_n/dt + b_out (db_in/dt) s_n] at the blade's centre,
// ds_n/dt = L ω' − V' cos θ + V ω sin θ: mass in the equations, the rest a force.
func addedForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if s.finished || p.water.Mass == 0 {
			continue
		}
		b, l := s.buried.Share, p.centre
		s.added = p.water.Mass * (b*m.v*s.bladeOmega*s.sin + s.buried.Entry*s.omega*s.slip)
		mass := share * p.water.Mass * b
		boat := p.count * m.oars
		s.ab += mass * l * l
		s.bb -= mass * l * s.cos
		s.tb -= share * l * s.added
		s.qb -= boat * mass * l * s.cos
		m.pm += boat * mass * s.cos * s.cos
		m.push += boat * share * s.added * s.cos
	}
}

func addedPower(m *motion) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		if s.finished || p.water.Mass == 0 {
			continue
		}
		s.addedForce = s.added + p.water.Mass*s.buried.Share*(p.centre*s.dBlade-m.dv*s.cos)
		s.power[addedWork] = m.oars * s.addedForce * s.slip
	}
}

// bodyForce: the bodies' m ξ”. In the drive ξ' = A s'(φ) ω/arc, so that ξ” holds
// ω'; in the recovery ξ goes back by A S(τ).
func bodyForce(m *motion, share float64) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		mass := share * p.count * p.rower.Mass
		if s.finished {
			length := m.period - s.finishTime
			u := (m.t - s.finishTime) / length
			s.bodySpeed = -p.rower.BodyTravel * num.RiseSlope(u) / length
			s.bodyAcc = -p.rower.BodyTravel * num.RiseCurve(u) / (length * length)
			m.push -= mass * s.bodyAcc
			continue
		}
		rate := s.omega / p.arc
		slope := p.rower.BodyTravel * crew.BodySlope(s.phi) / p.arc
		s.bodySpeed = slope * s.omega
		s.bodyAcc = p.rower.BodyTravel * crew.BodyCurve(s.phi) * rate * rate
		s.qh += mass * slope
		m.push -= mass * s.bodyAcc
	}
}

func bodyPower(m *motion) {
	for i := range m.moments {
		s, p := &m.moments[i], &m.seats[i]
		s.power[bodyWork] = p.rower.Mass * m.dv * s.bodySpeed
	}
}

func waterForce(m *motion, share float64) {
	m.waterDrag = m.drag.Water(m.v)
	m.push -= share * m.waterDrag
}

func airForce(m *motion, share float64) {
	m.airDrag = m.drag.Air(m.v)
	m.push -= share * m.airDrag
}
