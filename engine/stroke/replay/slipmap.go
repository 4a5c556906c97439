package replay

import (
	"fmt"
	"math"

	"thole/engine/blade"
	"thole/engine/num"
	"thole/engine/table"
)

// mapEvery is the largest step of a slip map over the arc, deg.
const mapEvery = 3.0

// SlipMap shows, strip by strip of a seat's blade and over the arc in equal steps of
// at most 3°, how fast each strip slips across the shaft (sternward positive) and the
// water's force on it, N, as far as it is buried. strip is its place from the blade's
// centre, cm, toward the tip positive. A perfect grip has no force by strips: blank.
func (r *Replay) SlipMap(seat int) (*table.Table, error) {
	if seat < 0 || seat >= len(r.where) {
		return nil, fmt.Errorf("there is no seat %d", seat+1)
	}
	i := r.where[seat]
	m, p := &r.Moments[i], &r.Seats[i]
	e := p.Water
	if p.Perfect {
		// a perfect blade has no strips of its own: its slip is shown where an
		// ordinary one's would be
		b := r.problem.Seats[seat].Oar.Blade
		b.Law, b.Drag, b.AddedMass = blade.Plate, 1, 0
		if err := e.Prepare(&b, r.problem.Water, p.Centre); err != nil {
			return nil, err
		}
	}
	columns := []*table.Column{
		{Name: "angle", Unit: "deg", Digits: 1}, {Name: "strip", Unit: "cm", Digits: 1},
		{Name: "slip_speed", Unit: "m/s", Digits: 2}, {Name: "force", Unit: "N", Digits: 0},
	}
	n := int(math.Ceil(num.Degrees(p.Arc) / mapEvery))
	for a := range n + 1 {
		theta := -p.Catch + p.Arc*float64(a)/float64(n)
		t, _ := r.When(i, theta)
		k, u := r.Seconds(i, t)
		r.At(k, u, r.ODE.Y0)
		for strip := range e.N {
			slip, force := e.Strip(strip, r.V, m.BladeOmega, m.Sin, m.Cos)
			force *= m.Buried.Share
			if p.Perfect {
				force = math.NaN()
			}
			for c, v := range []float64{num.Degrees(theta), 100 * (e.R[strip] - p.Centre), slip, force} {
				columns[c].Nums = append(columns[c].Nums, v)
			}
		}
	}
	for _, c := range columns {
		c.Change = table.AutoDigits
	}
	return &table.Table{Name: "slip map", Columns: columns}, nil
}
