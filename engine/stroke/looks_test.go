package stroke

import (
	"math"
	"strings"
	"testing"

	"thole/engine/num"
	"thole/engine/stroke/problem/problemtest"
	"thole/engine/stroke/replay"
	"thole/engine/table"
)

// What is looked at after a stroke is solved (traces, paths, slip map, frames, yawing
// moment) follows from the same motion: each is held against another of them or against
// the model's sentence, written out here once more.

func read(t *testing.T, tab *table.Table, err error) func(column string) []float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return func(column string) []float64 { return tab.Column(column).Nums }
}

// soft is the single with a soft shaft and much added mass.
func soft(t *testing.T) *Stroke {
	return mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) {
		s.Oar = s.Oar.WithStiffness(0.060)
		s.Oar.Blade.AddedMass = 1.5
	}), Settings{})
}

// The blade's force in a trace is all of it, added mass too: along the course its
// impulse is the drag's (the plate's is across the shaft alone). Steps of 0.01 s by the
// trapezoid leave 1e-4; added mass makes 1e-3 of it or more.
func TestTraceHoldsTheWholeForceOfTheBlade(t *testing.T) {
	for _, added := range []float64{0, 1.5} {
		s := mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.AddedMass = added }), Settings{})
		tab, err := s.Trace(nil)
		of := read(t, tab, err)
		time, angle, force, speed := of("time"), of("angle"), of("blade_force"), of("boat_speed")
		p := &s.Problem
		drag := p.Hull.Resistance(p.TotalMass(), p.Water, p.Air, p.Wind)
		push, drags := 0.0, 0.0
		for i := range time {
			along := 0.0
			if force[i] != 0 {
				along = 2 * force[i] * math.Cos(num.Radians(angle[i]))
			}
			weight := 0.0
			if i > 0 {
				weight += (time[i] - time[i-1]) / 2
			}
			if i < len(time)-1 {
				weight += (time[i+1] - time[i]) / 2
			}
			push += weight * along
			drags += weight * drag.Total(speed[i])
		}
		if miss := math.Abs(push/drags - 1); miss > 3e-4 {
			t.Errorf("added mass %g: the blades push %.5g N·s, drag takes %.5g", added, push, drags)
		}
	}
}

// A bent oar in the path's table: handle on θ_h, blade on θ_b, both on the line through
// one pin, and the blade behind the hands while they pull (by T/kL², half a degree and
// more on this shaft).
func TestPathOfABentOar(t *testing.T) {
	s := soft(t)
	seat := &s.Problem.Seats[0]
	tab, err := s.BladePath(0, Moments{Points: 25})
	of := read(t, tab, err)
	most := 0.0
	for i, degree := range of("angle") {
		hands := num.Radians(degree)
		side := math.Atan2(-(of("tip_x")[i] - of("neck_x")[i]), of("tip_y")[i]-of("neck_y")[i])
		pin := of("handle_x")[i]/100 - seat.Oar.Lever()*math.Sin(hands)
		if e := math.Abs(of("centre_x")[i]/100 + seat.Oar.Centre()*math.Sin(side) - pin); e > 1e-12 {
			t.Errorf("at %.1f deg handle and blade turn about pins %.1e m apart", degree, e)
		}
		if e := math.Abs(of("handle_y")[i]/100 + seat.Oar.Lever()*math.Cos(hands)); e > 1e-12 {
			t.Errorf("at %.1f deg the handle is %.1e m off its circle", degree, e)
		}
		most = math.Max(most, num.Degrees(hands-side))
	}
	if most < 0.5 || most > 5 {
		t.Errorf("the blade lags by %.2f deg at most", most)
	}
}

// The slip map's strips together are the trace's blade force (no added mass here), as far
// as they are buried; each slips as it turns about the pin.
func TestSlipMapSumsToTheTrace(t *testing.T) {
	s := mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.AddedMass = 0 }), Settings{})
	seat := &s.Problem.Seats[0]
	tab, err := s.SlipMap(0)
	of := read(t, tab, err)
	n := seat.Oar.Blade.Strips
	var at []float64
	for i := 0; i < tab.Len(); i += n {
		at = append(at, of("angle")[i])
	}
	tab, err = s.Trace(at)
	trace := read(t, tab, err)
	for k := range at {
		sum, omega := 0.0, trace("handle_speed")[k]/seat.Oar.Lever()
		for i := k * n; i < (k+1)*n; i++ {
			sum += of("force")[i]
			want := trace("slip_speed")[k] + omega*of("strip")[i]/100
			if math.Abs(of("slip_speed")[i]-want) > 1e-9 {
				t.Errorf("at %.1f deg the strip at %.1f cm slips %.6f m/s, not %.6f", at[k], of("strip")[i], of("slip_speed")[i], want)
			}
			if half := 50 * seat.Oar.Blade.Length; math.Abs(of("strip")[i]) >= half {
				t.Errorf("a strip at %.1f cm on a blade of ±%.1f", of("strip")[i], half)
			}
		}
		if math.Abs(sum-trace("blade_force")[k]) > 1e-7*s.Seats[0].PeakForce {
			t.Errorf("at %.1f deg the strips take %.4f N, the blade %.4f", at[k], sum, trace("blade_force")[k])
		}
	}
}

// Frames in the recovery: the oar comes back along S(τ), and its hands' speed is that
// of its angle.
func TestFramesComeBack(t *testing.T) {
	s := mustRow(t, problemtest.Single(t), Settings{})
	seat := &s.Problem.Seats[0]
	frames, err := s.Frames(0, 400)
	if err != nil {
		t.Fatal(err)
	}
	end, back := s.Seats[0].DriveTime, s.Problem.Period()-s.Seats[0].DriveTime
	for i, f := range frames {
		if f.Driving != (f.Time <= end) {
			t.Fatalf("at %.3f s driving is %v, the drive takes %.3f s", f.Time, f.Driving, end)
		}
		if f.Driving || i+1 == len(frames) || frames[i-1].Driving {
			continue
		}
		u := (f.Time - end) / back
		want := seat.Finish - seat.Arc()*u*u*u*(10-15*u+6*u*u)
		// frames stand on the stroke rowed again at rtol 1e-10, the finish on one at 1e-8
		if math.Abs(f.Angle-want) > 1e-7 {
			t.Errorf("at %.3f s the oar stands at %.9f, not %.9f", f.Time, f.Angle, want)
		}
		// the central difference of a smooth course misses by its third derivative, 60 arc/back³ h²/6
		h := f.Time - frames[i-1].Time
		slope := (frames[i+1].Angle - frames[i-1].Angle) / (2 * h) * seat.Oar.Lever()
		if math.Abs(f.HandleSpeed-slope) > 11*seat.Oar.Lever()*seat.Arc()/(back*back*back)*h*h {
			t.Errorf("at %.3f s the hands go %.5f m/s, their way says %.5f", f.Time, f.HandleSpeed, slope)
		}
	}
}

// The yawing moment of a pair by hand: opposite sides leave 1.4 m of the force outward,
// the same side 2 y_p of the force forward; on a blade whose water also drags along it.
// Equation 6.3.
func TestYawMomentOfAPairByHand(t *testing.T) {
	p := raced(t, "2-", 90, 450)
	p = problemtest.With(p, func(s *Seat) { s.Oar.Blade.Early = 0.5 })
	s := mustRow(t, p, Settings{})
	g, err := s.Follow()
	if err != nil {
		t.Fatal(err)
	}
	m, end := &g.Moments[0], g.Moments[0].FinishTime
	opposite, same, along := 0.0, 0.0, 0.0
	const yp = 0.9
	overDrive(g, end, func(weight float64) {
		n, a := [2]float64{m.Cos, m.Sin}, [2]float64{-m.Sin, m.Cos}
		across := m.Pull + m.Load.Normal + m.AddedForce
		forward, outward := across*n[0]-m.Load.Along*a[0], across*n[1]-m.Load.Along*a[1]
		opposite += weight * 1.4 * outward * 1.4 * outward
		same += weight * 2 * yp * forward * 2 * yp * forward
		along += weight * math.Abs(m.Load.Along)
	})
	for sides, want := range map[string]float64{"ps": opposite, "sp": opposite, "pp": same, "ss": same} {
		got, err := s.YawMoment(sides, replay.Places{Spread: yp})
		if err != nil {
			t.Fatal(err)
		}
		Near(t, sides, got, math.Sqrt(want/end), 1e-9)
	}
	// without a rig the pin stands 0.85 m from the midline
	given, err := s.YawMoment("pp", replay.Places{Spread: 0.85})
	if err != nil {
		t.Fatal(err)
	}
	unset, err := s.YawMoment("pp", replay.Places{})
	if err != nil {
		t.Fatal(err)
	}
	Near(t, "spread unset", unset, given, 0)
	if along/end < 5 {
		t.Errorf("%.1f N along the shaft show nothing", along/end)
	}
}

// A peak force over 1350 N carries a caution, one below does not; a drive over four
// fifths of the stroke is refused, one below is not.
func TestLimitsOfAStroke(t *testing.T) {
	p := problemtest.Single(t)
	p.Hold = Force
	for target, told := range map[float64]bool{1340: false, 1360: true} {
		p.Target = target
		said := strings.Contains(strings.Join(mustRow(t, p, Settings{}).Cautions, "\n"), "handle force peaks")
		if said != told {
			t.Errorf("%g N: caution %v", target, said)
		}
	}
	p.Hold = Power
	p.Rate = 38
	shortest, longest := 1.0, 0.0
	for watts := 160.0; watts <= 260; watts += 5 {
		p.Target = watts
		s, err := Row(p, Settings{})
		if err != nil {
			if f := err.(*Failure); f.Cause != DriveTooLong {
				t.Errorf("%g W: %s", watts, f.What)
			}
			continue
		}
		share := s.Seats[0].DriveTime / p.Period()
		shortest, longest = math.Min(shortest, share), math.Max(longest, share)
	}
	if longest > 0.8 || longest < 0.78 || shortest > 0.75 {
		t.Errorf("drives from %.3f to %.3f of the stroke are rowed", shortest, longest)
	}
}
