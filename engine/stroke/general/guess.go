package general

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// guess makes the first guess of V(0) and the mean effort from the problem alone,
// by the power balance of a stroke that is half known: about three quarters of the
// crew's power reaches the hull, about 85 % of it goes through the handles.
func (g *Route) guess(p *problem.Problem) (v0, effort float64) {
	n := p.Rowers()
	power, force := math.NaN(), math.NaN() // per rower
	speed := math.NaN()
	asked := p.Target
	if p.OwnPower() {
		asked = 0
		for i := range g.Seats {
			asked += g.Seats[i].Count * g.Seats[i].Rower.Power / n
		}
	}
	switch p.Hold {
	case problem.Power:
		power = asked
	case problem.HandlePower:
		power = asked / 0.85
	case problem.Speed:
		speed = p.Target
		power = g.Drag.Total(speed) * speed / (0.72 * n)
	case problem.Force:
		force = 0.56 * p.Target
	case problem.Effort:
		force = 0.33 * p.Target
		if math.IsInf(g.Seats[0].Rower.FreeSpeed, 1) {
			force = 0.58 * p.Target
		}
	}
	// the crew's mean lever, arc and ease of pulling
	way := 0.0
	for i := range g.Seats {
		way += g.Seats[i].Count * g.Seats[i].Lever * g.Seats[i].Arc / n
	}
	if math.IsNaN(power) {
		power = force * way / (0.85 * g.Period)
	}
	if math.IsNaN(speed) {
		speed = g.speedAt(0.72 * power * n)
	}
	force = 0.85 * power * g.Period / way
	drive := 0.0
	for i := range g.Seats {
		s := &g.Seats[i]
		travel := s.Centre * (num.Asinh(num.Tan(s.Catch)) + num.Asinh(num.Tan(s.Finish)))
		drive += s.Count / n * 0.85 * travel / speed
	}
	drive = math.Min(drive, 0.75*g.Period)
	fade := 0.0
	for i := range g.Seats {
		fade += float64(g.Seats[i].Count / n * g.Seats[i].Rower.Fade(way/drive))
	}
	v0, effort = 0.91*speed, force/(0.57*math.Max(0.15, fade))
	// a wind that pushes as fast as the boat goes leaves nothing to guess from
	if !(v0 > 0.5 && v0 < 20) {
		v0 = 3.5
	}
	if !(effort > 10 && effort < 1e5) {
		effort = 600
	}
	return v0, effort
}

// speedAt gives the steady speed at which drag takes this power.
func (g *Route) speedAt(power float64) float64 {
	v := 4.0
	for range 30 {
		// D V rises as V³, nearly: a fixed point on the cube root
		d := g.Drag.Total(v) * v
		if d <= 0 {
			v *= 1.5
			continue
		}
		v *= math.Min(1.6, math.Max(0.6, num.Cbrt(power/d)))
	}
	return v
}

// begin puts the first guess into the iteration.
func (g *Route) begin(p *problem.Problem) {
	g.newton.size(g.unknowns(p))
	v0, effort := g.guess(p)
	x := g.newton.x
	x[0] = num.Ln(v0)
	for i := 1; i < len(x); i++ {
		x[i] = num.Ln(effort)
		if p.OwnPower() {
			x[i] = num.Ln(effort * g.Seats[i-1].Share)
		}
	}
}
