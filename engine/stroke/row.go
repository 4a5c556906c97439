package stroke

import "math"

// row solves a checked, merged problem by the general route.
func (g *general) row(p *Problem, settings *Settings, out *Solution) *Failure {
	if err := g.setUp(p); err != nil {
		return &Failure{Cause: BadProblem, What: err.Error()}
	}
	miss, err := g.steady(p, settings.rtol(), settings.residual())
	if err != nil {
		return g.failure(p, err)
	}
	out.Residual = miss
	out.StartSpeed = math.Exp(g.newton.x[0])
	g.harvest(out)
	return nil
}

// begin puts the first guess into the iteration.
func (g *general) begin(p *Problem) {
	g.newton.size(g.unknowns(p))
	v0, effort := g.guess(p)
	x := g.newton.x
	x[0] = math.Log(v0)
	for i := 1; i < len(x); i++ {
		x[i] = math.Log(effort)
		if p.OwnPower() {
			x[i] = math.Log(effort * g.seats[i-1].share)
		}
	}
}

// shortest is the share of the stroke that must be left to come forward.
const shortest = 0.2

// refuse turns down a solution, of either route, whose drive leaves too little time to
// come forward, or whose hull runs backward for a while: numbers, but no rowing.
func refuse(p *Problem, sol *Solution) *Failure {
	if sol.MinSpeed <= 0 {
		return stops(p)
	}
	seat, drive := 0, 0.0
	for i := range sol.Seats {
		if sol.Seats[i].DriveTime > drive {
			seat, drive = i, sol.Seats[i].DriveTime
		}
	}
	if drive <= (1-shortest)*p.Period() {
		return nil
	}
	return driveTooLong(p, seat, drive, false)
}
