package general

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
	TermHandle = iota
	TermSwing
	TermShaft
	TermBlade
	TermAdded
	TermBody
	TermWater
	TermAir
	TermOarAir
	TermCount
)

// terms is model 6, line by line. It is filled in init because the
// functions below reach it again through motion.
var terms = [TermCount]term{
	TermHandle: {"handle", handleForce, handlePower},
	TermSwing:  {"oar swing", swingForce, nil}, // booked at the finish
	TermShaft:  {"shaft", shaftForce, shaftPower},
	TermBlade:  {"blade", bladeForce, bladePower},
	TermAdded:  {"added mass", addedForce, addedPower},
	TermBody:   {"body", bodyForce, bodyPower},
	TermWater:  {"water drag", waterForce, nil}, // booked in slopes, V times the force
	TermAir:    {"air drag", airForce, nil},
	TermOarAir: {"air on the oars", oarAirForce, nil}, // booked in slopes too
}

// handleForce: F_h = E f(φ) max(0, 1 − v_h/v_0), shared by the rower's oars. Equation 5.1.
func handleForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if s.Finished {
			continue
		}
		s.Pull = s.Effort * p.Shape.At(s.phi) * p.Rower.Fade(s.HandleSpeed)
		s.th += share * s.Pull * p.Lever / m.Oars
	}
}

func handlePower(m *motion) {
	for i := range m.Moments {
		s := &m.Moments[i]
		s.Power[handleWork] = s.Pull * s.HandleSpeed
	}
}

// swingForce: the oar's inertia I ω', both ends of a flexible shaft.
func swingForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if p.Flexible {
			s.ah += float64(share * p.Shaft.HandleInertia)
			s.ab += float64(share * p.Shaft.BladeInertia)
		} else {
			s.ah += float64(share * p.Inertia)
		}
	}
}

// shaftForce: T = kL² (θ_h − θ_b) + 2ζ √(kL² I_b) (ω_h − ω_b). Equation 4.5.
func shaftForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if s.Finished || !p.Flexible {
			continue
		}
		s.torque = float64(p.Shaft.Stiffness*(s.Theta-s.BladeTheta)) +
			float64(p.Shaft.Damping*(s.omega-s.BladeOmega))
		s.th -= float64(share * s.torque)
		s.tb += float64(share * s.torque)
	}
}

func shaftPower(m *motion) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if p.Flexible {
			bend := s.omega - s.BladeOmega
			s.Power[shaftWork] = m.Oars * p.Shaft.Damping * bend * bend
		}
	}
}

// bladeForce: the water on the strips, Σ f_n and Σ f_t, as far as the blade is in.
// The burying follows the handle's side of the oar, the forces the blade's.
func bladeForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if s.Finished {
			continue
		}
		s.Buried = p.Water.Buried(s.Theta+p.Catch, p.Finish-s.Theta)
		b := s.Buried.Share
		load := p.Water.Water(m.V, s.BladeOmega, s.Sin, s.Cos)
		load.Normal, load.Along, load.Moment, load.Loss = b*load.Normal, b*load.Along, b*load.Moment,
			b*load.Loss
		s.Load = load
		s.tb -= float64(share * load.Moment)
		m.push += float64(share * p.Count * m.Oars * (float64(load.Normal*s.Cos) + float64(load.Along*s.Sin)))
	}
}

func bladePower(m *motion) {
	for i := range m.Moments {
		s := &m.Moments[i]
		s.Power[bladeWork] = m.Oars * s.Load.Loss
	}
}

// addedForce: F_a = m_a [b ds_n/dt + b_out (db_in/dt) s_n] at the blade's centre,
// ds_n/dt = L ω' − V' cos θ + V ω sin θ: mass in the equations, the rest a force.
// Equation 3.7.
func addedForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if s.Finished || p.Water.Mass == 0 {
			continue
		}
		b, l := s.Buried.Share, p.Centre
		s.added = p.Water.Mass * (float64(b*m.V*s.BladeOmega*s.Sin) + float64(s.Buried.Entry*s.omega*s.Slip))
		mass := share * p.Water.Mass * b
		boat := p.Count * m.Oars
		s.ab += float64(mass * l * l)
		s.bb -= float64(mass * l * s.Cos)
		s.tb -= float64(share * l * s.added)
		s.qb -= float64(boat * mass * l * s.Cos)
		m.pm += float64(boat * mass * s.Cos * s.Cos)
		m.push += float64(boat * share * s.added * s.Cos)
	}
}

func addedPower(m *motion) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		if s.Finished || p.Water.Mass == 0 {
			continue
		}
		s.AddedForce = s.added + float64(p.Water.Mass*s.Buried.Share*(float64(p.Centre*s.dBlade)-
			float64(m.DV*s.Cos)))
		s.Power[AddedWork] = m.Oars * s.AddedForce * s.Slip
	}
}

// bodyForce: the bodies' m ξ”. In the drive ξ' = A s'(φ) ω/arc, so that ξ” holds
// ω'; in the recovery ξ goes back by A S(τ).
func bodyForce(m *motion, share float64) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		mass := share * p.Count * p.Rower.Mass
		if s.Finished {
			length := m.Period - s.FinishTime
			u := (m.t - s.FinishTime) / length
			s.bodySpeed = -p.Rower.BodyTravel * num.RiseSlope(u) / length
			s.bodyAcc = -p.Rower.BodyTravel * num.RiseCurve(u) / (length * length)
			m.push -= float64(mass * s.bodyAcc)
			continue
		}
		rate := s.omega / p.Arc
		slope := p.Rower.BodyTravel * crew.BodySlope(s.phi) / p.Arc
		s.bodySpeed = slope * s.omega
		s.bodyAcc = p.Rower.BodyTravel * crew.BodyCurve(s.phi) * rate * rate
		s.qh += float64(mass * slope)
		m.push -= float64(mass * s.bodyAcc)
	}
}

func bodyPower(m *motion) {
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		s.Power[bodyWork] = p.Rower.Mass * m.DV * s.bodySpeed
	}
}

func waterForce(m *motion, share float64) {
	m.WaterDrag = m.Drag.Water(m.V)
	m.push -= float64(share * m.WaterDrag)
}

func airForce(m *motion, share float64) {
	m.AirDrag = m.Drag.Air(m.V)
	m.push -= float64(share * m.AirDrag)
}

// oarAirForce: the air on shafts and, on the way back, blades. It pushes against n, so the boat by its
// share along x, and turns the oar: in the drive with the hands, on the way back the hands bear it.
func oarAirForce(m *motion, share float64) {
	if !m.InAir {
		return
	}
	for i := range m.Moments {
		s, p := &m.Moments[i], &m.Seats[i]
		cos, omega := s.Cos, s.BladeOmega
		var force, moment float64
		if s.Finished {
			length := m.Period - s.FinishTime
			theta, turn := p.Back((m.t - s.FinishTime) / length)
			cos, omega = num.Cos(theta), turn/length
			force, moment = p.Air.Back((m.V+m.Wind)*cos, omega, s.squared)
		} else {
			force, moment = p.Air.Shaft((m.V+m.Wind)*cos, omega)
			if p.Flexible {
				s.tb += float64(share * moment)
			} else {
				s.th += float64(share * moment)
			}
		}
		m.push -= float64(share * p.Count * m.Oars * force * cos)
		s.airPush, s.airTurn = m.Oars*force*cos*m.V, -m.Oars*moment*omega
	}
}
