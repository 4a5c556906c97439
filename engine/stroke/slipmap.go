package stroke

import (
	"fmt"
	"math"

	"thole/engine/blade"
	"thole/engine/table"
)

// mapEvery is the largest step of a slip map over the arc, deg.
const mapEvery = 3.0

// SlipMap shows, strip by strip of a seat's blade and over the arc in equal steps of
// at most 3°, how fast each strip slips across the shaft (sternward positive) and the
// water's force on it, N, as far as it is buried. strip is its place from the blade's
// centre, cm, toward the tip positive. A perfect grip has no force by strips: blank.
func (s *Stroke) SlipMap(seat int) (*table.Table, error) {
	g, where, err := s.replay()
	if err != nil {
		return nil, err
	}
	if seat < 0 || seat >= len(where) {
		return nil, fmt.Errorf("there is no seat %d", seat+1)
	}
	i := where[seat]
	m, p := &g.moments[i], &g.seats[i]
	e := p.water
	if p.perfect {
		// a perfect blade has no strips of its own: its slip is shown where an
		// ordinary one's would be
		b := s.Problem.Seats[seat].Oar.Blade
		b.Law, b.Drag, b.AddedMass = blade.Plate, 1, 0
		if err := e.Prepare(&b, s.Problem.Water, p.centre); err != nil {
			return nil, err
		}
	}
	columns := []*table.Column{
		{Name: "angle", Unit: "deg", Digits: 1}, {Name: "strip", Unit: "cm", Digits: 1},
		{Name: "slip_speed", Unit: "m/s", Digits: 2}, {Name: "force", Unit: "N", Digits: 0},
	}
	n := int(math.Ceil(degrees(p.arc) / mapEvery))
	for a := range n + 1 {
		theta := -p.catch + p.arc*float64(a)/float64(n)
		t, _ := g.when(i, theta)
		k, u := g.seconds(i, t)
		g.at(k, u, g.ode.Y0)
		for strip := range e.N {
			slip, force := e.Strip(strip, g.v, m.bladeOmega, m.sin, m.cos)
			force *= m.buried.Share
			if p.perfect {
				force = math.NaN()
			}
			for c, v := range []float64{degrees(theta), 100 * (e.R[strip] - p.centre), slip, force} {
				columns[c].Nums = append(columns[c].Nums, v)
			}
		}
	}
	for _, c := range columns {
		c.Change = table.AutoDigits
	}
	return &table.Table{Name: "slip map", Columns: columns}, nil
}
