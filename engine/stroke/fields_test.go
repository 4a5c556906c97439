package stroke

import (
	"math"
	"testing"

	"thole/engine/stroke/problem/problemtest"
)

// What is told of a stroke, added up once more from a replay by quadrature, seat by
// seat, and put together as the definitions say. Equations 8.2, 8.3, 8.4, 8.5, 8.6, 8.7 and 8.8.
// Gauss points in every step: 1e-6, but for what ends or turns inside a step (early
// load, slip) and for peaks seen at points alone: 1e-3.
func TestFieldsByTheirDefinitions(t *testing.T) {
	for _, c := range problemtest.OpenCases(t).Cases {
		p := c.Input.Problem(t)
		s := mustRow(t, p, Settings{})
		g, err := s.Follow()
		if err != nil {
			t.Fatal(err)
		}
		if !s.Alike() {
			continue
		}
		at := &p.Seats[0]
		lever, arc := at.Oar.Lever(), at.Arc()
		work, early, slip, pin, loss, dragWork, way, time := 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
		overDrive(g, math.Inf(1), func(weight float64) {
			m := &g.Moments[0]
			dragWork += weight * (g.WaterDrag + g.AirDrag) * g.V
			way += weight * g.V
			time += weight
			if m.Finished {
				return
			}
			power := m.Pull * m.HandleSpeed
			work += weight * power
			if m.Theta+at.Catch < arc/3 {
				early += weight * power
			}
			slip += weight * math.Abs(m.Slip)
			loss += weight * (m.Load.Loss + m.AddedForce*m.Slip) * g.Oars
			pin = math.Max(pin, math.Hypot(m.Pull/g.Oars+m.Load.Normal+m.AddedForce, m.Load.Along))
		})
		mean := way / time
		drag := p.Hull.Resistance(p.TotalMass(), p.Water, p.Air, p.Wind)
		for _, f := range []struct {
			name string
			want float64
			tol  float64
		}{
			{"blade_efficiency", 1 - loss/work, 1e-5},
			{"hull_efficiency", drag.Total(mean) * mean * time / dragWork, 1e-5},
			{"heaviness", work / (lever * arc) / (lever * arc / s.Seats[0].DriveTime), 1e-5},
			{"early_load", early / (lever * arc / 3), 1e-2},
			{"slip", 100 * slip, 1e-3},
			{"peak_pin_force", pin, 1e-3},
			{"rhythm", (60/p.Rate - s.Seats[0].DriveTime) / s.Seats[0].DriveTime, 1e-12},
		} {
			field, _ := FieldNamed(f.name)
			if got := field.Of(s); !(math.Abs(got-f.want) <= f.tol*math.Max(1e-3, math.Abs(f.want))) && at.Oar.Blade.Law.String() != "perfect" {
				t.Errorf("%s: %s is %.9g, by its definition %.9g", c.Input.Name, f.name, got, f.want)
			}
		}
	}
}
