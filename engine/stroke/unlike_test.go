package stroke

import (
	"math"
	"testing"

	"thole/engine/crew"
	"thole/engine/num"
	"thole/engine/stroke/problem/problemtest"
)

// unlike is a coxless four of which two row alike: three unlike seats that finish at
// three times, one of them with a flexible shaft.
func unlike(t testing.TB) Problem {
	p := eight(t)
	p.Hull = problemtest.OpenCases(t).Cases[4].Input.Problem(t).Hull
	p.Hull.Boat, p.Hull.Mass, p.Hull.Waterline, p.Hull.AirArea = "4-", 50, 12, 1.5
	p.CoxMass = 0
	late, err := crew.Named("late")
	if err != nil {
		t.Fatal(err)
	}
	seat := p.Seats[0]
	seat.Count = 1
	a, b, c := seat, seat, seat
	a.Rower = crew.New(95, 480)
	b.Rower, b.Catch, b.Finish = crew.New(78, 380), num.Radians(52), num.Radians(32)
	b.Rower.Style = late
	b.Oar = b.Oar.WithStiffness(0.045)
	c.Rower, c.Catch, c.Finish = crew.New(86, 420), num.Radians(57), num.Radians(35)
	c.Oar.Length -= 0.03
	p.Seats = []Seat{a, b, c, c}
	return p
}

// Every hold, own power and share, of seats that finish at three times: the held
// quantity is met, efforts keep their proportion, own powers are each met, the book
// closes. Tolerances are the residual's, 1e-9, with room for the sums.
func TestUnlikeSeatsUnderEveryHold(t *testing.T) {
	p := unlike(t)
	share := []float64{480 / 425.0, 380 / 425.0, 420 / 425.0, 420 / 425.0}
	for hold, target := range map[Hold]float64{Power: 425, HandlePower: 370, Effort: 1250, Force: 680,
		Speed: 5.1} {
		t.Run(hold.String(), func(t *testing.T) {
			p.Hold, p.Target = hold, target
			s := mustRow(t, p, Settings{})
			f, ok := FieldNamed([...]string{"power", "handle_power", "effort", "peak_force", "speed"}[hold])
			if !ok {
				t.Fatal("no such field")
			}
			Near(t, f.Name, f.Of(s), target, 3e-9)
			mean, _ := FieldNamed("effort")
			for i := range s.Seats {
				Near(t, "effort over the crew's", s.Seats[i].Effort/mean.Of(s), share[i], 1e-12)
			}
			threeTimes(t, s)
		})
	}
	t.Run("own power", func(t *testing.T) {
		p.Hold, p.Target = Power, math.NaN()
		s := mustRow(t, p, Settings{})
		f, _ := FieldNamed("power")
		for i := range s.Seats {
			Near(t, "a rower's own power", f.Seat(s, i), p.Seats[i].Rower.Power, 3e-9)
		}
		threeTimes(t, s)
	})
}

// threeTimes checks what every stroke of the unlike crew has.
func threeTimes(t *testing.T, s *Stroke) {
	t.Helper()
	d := []float64{s.Seats[0].DriveTime, s.Seats[1].DriveTime, s.Seats[2].DriveTime}
	if math.Abs(d[0]-d[1]) < 1e-3 || math.Abs(d[1]-d[2]) < 1e-3 || math.Abs(d[0]-d[2]) < 1e-3 {
		t.Errorf("drives of %.4f, %.4f and %.4f s are not three times", d[0], d[1], d[2])
	}
	if s.Seats[2] != s.Seats[3] {
		t.Error("the two who row alike differ")
	}
	if e := math.Abs(s.Energy.Closure()); e > 1e-7 {
		t.Errorf("the energy book misses %.1e", e)
	}
	if s.Energy.ShaftDamping <= 0 {
		t.Error("the flexible shaft takes nothing")
	}
}

// A seat of its own must not change the others' numbers: the mean over rowers of every
// seat's field is the stroke's field.
func TestFieldsOfUnlikeSeatsAreMeans(t *testing.T) {
	s := mustRow(t, unlike(t), Settings{})
	for i := range Fields {
		f := &Fields[i]
		if f.Seat == nil {
			continue
		}
		sum := 0.0
		for j := range s.Seats {
			sum += f.Seat(s, j)
		}
		Near(t, f.Name, f.Of(s), sum/4, 1e-14)
	}
}
