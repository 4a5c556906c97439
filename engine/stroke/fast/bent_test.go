package fast

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
	"thole/engine/stroke/problem/problemtest"
)

// plantBent puts an error into one contribution to the equations on a shaft that bends: share of it is left
// out, as motion.less does in the general route. The two equations of the blade's side and the boat and the
// handle's own are solved again. Equation 4.5.
func plantBent(term int, share float64) func(d *drive, n *node, r *stageRecord, y, dy *bentState) {
	var keep [general.TermCount]float64
	for i := range keep {
		keep[i] = 1
	}
	keep[term] -= share
	return func(d *drive, n *node, r *stageRecord, y, dy *bentState) {
		s, v, omega, blade := d.seat, y[stateV], y[stateOmega], y[stateBlade]
		theta := math.Atan2(n.sin, n.cos) - y[stateBend]
		sin, cos := math.Sincos(theta)
		load := s.Water.Water(v, blade, sin, cos)
		mass := s.Water.Mass * n.buried * keep[general.TermAdded]
		taken := (s.Water.Mass*n.buried*v*blade*sin + s.Water.Mass*n.entry*omega*r.slip) *
			keep[general.TermAdded]
		water := n.buried * keep[general.TermBlade]
		bodies := d.bodies * keep[general.TermBody]
		twist := keep[general.TermShaft] * (s.Shaft.Stiffness*y[stateBend] + s.Shaft.Damping*(omega-blade))
		dOmega := (keep[general.TermHandle]*r.pull*s.Lever/d.Oars - twist) / (s.Shaft.HandleInertia *
			keep[general.TermSwing])
		arm := mass * s.Centre
		swing := s.Shaft.BladeInertia*keep[general.TermSwing] + arm*s.Centre
		torque := twist - water*load.Moment - s.Centre*taken
		push := d.all*((water*load.Normal+taken)*cos+water*load.Along*sin) - keep[general.TermWater]*r.water -
			keep[general.TermAir]*r.air - bodies*n.curve*omega*omega - bodies*n.slope*dOmega
		if d.InAir {
			torque += keep[general.TermOarAir] * r.turn
			push -= keep[general.TermOarAir] * d.all * r.push
		}
		boat := d.Mass + d.all*mass*cos*cos
		det := 1 / (swing*boat - d.all*arm*arm*cos*cos)
		r.dv, r.dOmega = (swing*push+d.all*arm*cos*torque)*det, dOmega
		dy[stateV], dy[stateOmega] = r.dv*r.time, dOmega*r.time
		dy[stateBlade] = (torque*boat + arm*cos*push) * det * r.time
	}
}

// bentLook are problems on shafts that bend in which every contribution weighs.
func bentLook(t *testing.T) map[string]problem.Problem {
	out := map[string]problem.Problem{}
	add := func(name string, change func(p *problem.Problem, s *problem.Seat)) {
		p := problemtest.OpenCase(t, "1x_flexible_speed")
		change(&p, &p.Seats[0])
		out[name] = p
	}
	add("as it is", func(*problem.Problem, *problem.Seat) {})
	add("soft shaft, held power", func(p *problem.Problem, s *problem.Seat) {
		s.Oar = s.Oar.WithStiffness(0.055)
		p.Hold, p.Target = problem.Power, 420
	})
	add("in wind and air", func(p *problem.Problem, s *problem.Seat) {
		p.Hull.AirArea, p.Hull.BodyArea, p.Wind = math.NaN(), 0.5, 3
		s.Oar.Diameter, s.Rower.Squaring, s.Oar.Blade.Along = 0.04, 0.2, 0.03
		p.Hold, p.Target = problem.Power, 420
	})
	add("early blade", func(p *problem.Problem, s *problem.Seat) {
		s.Oar.Blade.Early = 0.2
		p.Hold, p.Target = problem.Power, 420
	})
	add("crossflow", func(p *problem.Problem, s *problem.Seat) { s.Oar.Blade.Law = blade.Crossflow })
	return out
}

// TestBentAgreesClosely drives both routes to their limits on shafts that bend. Equations 4.5 and 13.2.
func TestBentAgreesClosely(t *testing.T) {
	for name, p := range bentLook(t) {
		worst, field := apart(finestBent(t, &p, nil), drivenHard(t, &p, [general.TermCount]float64{}))
		t.Logf("%s: %.1e (%s)", name, worst, field)
		if worst > closeTolerance {
			t.Errorf("%s: %s differs by %.1e", name, field, worst)
		}
	}
}

// TestBentPlantedErrorShows leaves a hundred-thousandth of one contribution out of the route by
// collocation, then of the general one: each time the comparison above must fail.
func TestBentPlantedErrorShows(t *testing.T) {
	const share = 1e-5
	p := bentLook(t)["in wind and air"]
	quick, slow := finestBent(t, &p, nil), drivenHard(t, &p, [general.TermCount]float64{})
	for term, name := range termNames {
		wrong := finestBent(t, &p, plantBent(term, share))
		if worst, field := apart(wrong, slow); worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the fast route does not show (%.1e, %s)", name, worst, field)
		}
		var less [general.TermCount]float64
		less[term] = share
		if worst, field := apart(quick, drivenHard(t, &p, less)); worst <= closeTolerance {
			t.Errorf("an error of 1e-5 in %q of the general route does not show (%.1e, %s)", name, worst,
				field)
		}
	}
	// the plant with nothing left out plants nothing
	if worst, field := apart(finestBent(t, &p, plantBent(0, 0)), quick); worst > closeTolerance {
		t.Errorf("the equations solved again differ: %s by %.1e", field, worst)
	}
}

func finestBent(t *testing.T, p *problem.Problem, plant func(d *drive, n *node, r *stageRecord,
	y, dy *bentState)) *problem.Solution {
	f := new(Route)
	f.bent.planted = plant
	return finestOf(t, f, p, 2e-11) // its equations are solved to 3e-12
}

// TestFactors holds the elimination of a step's equations: the matrix times the solution is the right-hand
// side, to rounding.
func TestFactors(t *testing.T) {
	r := problemtest.NewRolls(3)
	var jacobian [num.RadauPoints][bentStates]bentState
	for i := range jacobian {
		for k := range jacobian[i] {
			for l := range jacobian[i][k] {
				jacobian[i][k][l] = r.Between("", -300, 300)
			}
		}
	}
	const h = 0.05
	for i := range jacobian { // the bend follows from the two ends of the shaft alone
		jacobian[i][stateBend][stateV], jacobian[i][stateBend][stateBend] = 0, 0
	}
	var b [num.RadauPoints]bentState
	for i := range b {
		for k := range b[i] {
			b[i][k] = r.Between("", -1, 1)
		}
	}
	x := b
	var f factors
	if !f.make(&jacobian, h) {
		t.Fatal("singular")
	}
	f.solve(&x)
	for i := range b {
		for k := range b[i] {
			sum := x[i][k]
			for j := range x {
				for l := range x[j] {
					sum -= h * num.Radau.Within[i][j] * jacobian[j][k][l] * x[j][l]
				}
			}
			if math.Abs(sum-b[i][k]) > 1e-11 {
				t.Errorf("point %d, state %d: %g, want %g", i, k, sum, b[i][k])
			}
		}
	}
}
