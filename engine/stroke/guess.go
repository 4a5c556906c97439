package stroke

import "math"

// guess makes the first guess of V(0) and the mean effort from the problem alone,
// by the power balance of a stroke that is half known: about three quarters of the
// crew's power reaches the hull, about 85 % of it goes through the handles.
func (g *general) guess(p *Problem) (v0, effort float64) {
	n := p.Rowers()
	power, force := math.NaN(), math.NaN() // per rower
	speed := math.NaN()
	switch p.Hold {
	case Power:
		power = p.Target
		if p.OwnPower() {
			power = 0
			for i := range g.seats {
				power += g.seats[i].count * g.seats[i].rower.Power / n
			}
		}
	case HandlePower:
		power = p.Target / 0.85
	case Speed:
		speed = p.Target
		power = g.drag.Total(speed) * speed / (0.72 * n)
	case Force:
		force = 0.56 * p.Target
	case Effort:
		force = 0.33 * p.Target
		if math.IsInf(g.seats[0].rower.FreeSpeed, 1) {
			force = 0.58 * p.Target
		}
	}
	// the crew's mean lever, arc and ease of pulling
	way := 0.0
	for i := range g.seats {
		way += g.seats[i].count * g.seats[i].lever * g.seats[i].arc / n
	}
	if math.IsNaN(power) {
		power = force * way / (0.85 * g.period)
	}
	if math.IsNaN(speed) {
		speed = g.speedAt(0.72 * power * n)
	}
	force = 0.85 * power * g.period / way
	drive := 0.0
	for i := range g.seats {
		s := &g.seats[i]
		travel := s.centre * (math.Asinh(math.Tan(s.catch)) + math.Asinh(math.Tan(s.finish)))
		drive += s.count / n * 0.85 * travel / speed
	}
	drive = math.Min(drive, 0.75*g.period)
	fade := 0.0
	for i := range g.seats {
		fade += g.seats[i].count / n * g.seats[i].rower.Fade(way/drive)
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
func (g *general) speedAt(power float64) float64 {
	v := 4.0
	for range 30 {
		// D V rises as V³, nearly: a fixed point on the cube root
		d := g.drag.Total(v) * v
		if d <= 0 {
			v *= 1.5
			continue
		}
		v *= math.Min(1.6, math.Max(0.6, math.Cbrt(power/d)))
	}
	return v
}
