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

func nums(t *testing.T, tab *table.Table, name string) []float64 {
	t.Helper()
	c := tab.Column(name)
	if c == nil {
		t.Fatalf("no column %q", name)
	}
	return c.Nums
}

// A trace over time goes from catch to catch and back to its start; its force over its
// path is the handle work, its speed over time the stroke length (trapezia 0.01 s apart,
// good to 1e-3), and no point of it is above the continuous extremes.
func TestTraceOverTimeAgreesWithTheFields(t *testing.T) {
	for _, c := range problemtest.OpenCases(t).Cases[:4] {
		s := mustRow(t, c.Input.Problem(t), Settings{})
		tab, err := s.Trace(nil)
		if err != nil {
			t.Fatal(err)
		}
		time, force, hand, speed, angle := nums(t, tab, "time"), nums(t, tab, "handle_force"),
			nums(t, tab, "handle_speed"), nums(t, tab, "boat_speed"), nums(t, tab, "angle")
		n := len(time) - 1
		work, way := 0.0, 0.0
		drives := false
		for i := range n {
			h := time[i+1] - time[i]
			if h <= 0 {
				t.Fatalf("time does not rise at %d", i)
			}
			way += h * (speed[i] + speed[i+1]) / 2
			if !math.IsNaN(hand[i+1]) {
				work += h * (force[i]*hand[i] + force[i+1]*hand[i+1]) / 2
			}
			drives = drives || math.Abs(time[i]-s.Seats[0].DriveTime) < 1e-7 &&
				math.Abs(angle[i]-num.Degrees(s.Problem.Seats[0].Finish)) < 1e-6
		}
		Near(t, "handle work of the trace", work, s.Seats[0].HandleWork, 1e-3)
		Near(t, "way of the trace", way, s.Speed*s.Problem.Period(), 1e-4)
		Near(t, "end", time[n], s.Problem.Period(), 1e-12)
		Near(t, "speed at the end", speed[n], speed[0], 1e-7)
		Near(t, "first angle", angle[0], -num.Degrees(s.Problem.Seats[0].Catch), 1e-12)
		if !drives {
			t.Error("the finish is not among the lines")
		}
		for i := range time {
			if math.Abs(time[i]-s.Seats[0].DriveTime) < 1e-7 {
				continue // the finish itself, which the finer replay meets 1e-9 s apart
			}
			if force[i] > s.Seats[0].PeakForce*(1+1e-7) || speed[i] > s.MaxSpeed*(1+1e-7) ||
				speed[i] < s.MinSpeed*(1-1e-7) {
				t.Errorf("at %.3f s the trace is beyond the extremes", time[i])
			}
			if over := time[i] > s.Seats[0].DriveTime; over != math.IsNaN(angle[i]) || over && force[i] != 0 {
				t.Errorf("at %.3f s angle %v, force %v", time[i], angle[i], force[i])
			}
		}
	}
}

// At given angles: the angles asked for, in order, blank outside the arc, the same curve as
// over time.
func TestTraceAtAngles(t *testing.T) {
	s := mustRow(t, problemtest.Single(t), Settings{})
	at := []float64{-70, -64, -30, 0, 43, 43.5, 10}
	tab, err := s.Trace(at)
	if err != nil {
		t.Fatal(err)
	}
	force, time := nums(t, tab, "handle_force"), nums(t, tab, "time")
	for i, a := range nums(t, tab, "angle") {
		if a != at[i] {
			t.Errorf("line %d is at %v", i, a)
		}
		out := at[i] < -64 || at[i] > 43
		if out != math.IsNaN(force[i]) || out != math.IsNaN(time[i]) {
			t.Errorf("at %v: force %v, time %v", a, force[i], time[i])
		}
	}
	Near(t, "time at the finish", time[4], s.Seats[0].DriveTime, 1e-8)
	if time[1] != 0 {
		t.Errorf("the catch is at %v s", time[1])
	}
}

// The blade's path: equal times, from the catch to the finish, lengths that of the oar, and
// the centre moves sternward as the slip says. The perfect path needs its own time: that in
// which the hull covers the tractrix's way.
func TestPaths(t *testing.T) {
	s := mustRow(t, problemtest.Single(t), Settings{})
	o := &s.Problem.Seats[0].Oar
	tab, err := s.BladePath(0, Moments{Points: 12})
	if err != nil {
		t.Fatal(err)
	}
	time := nums(t, tab, "time")
	for i := range time {
		Near(t, "equal times", time[i]+1, 1+s.Seats[0].DriveTime*float64(i)/11, 1e-8)
		tx, ty := nums(t, tab, "tip_x")[i], nums(t, tab, "tip_y")[i]
		nx, ny := nums(t, tab, "neck_x")[i], nums(t, tab, "neck_y")[i]
		hx, hy := nums(t, tab, "handle_x")[i], nums(t, tab, "handle_y")[i]
		cx, cy := nums(t, tab, "centre_x")[i], nums(t, tab, "centre_y")[i]
		Near(t, "blade length", math.Hypot(tx-nx, ty-ny), 100*o.Blade.Length, 1e-12)
		Near(t, "handle to centre", math.Hypot(cx-hx, cy-hy), 100*(o.Lever()+o.Centre()), 1e-12)
		if hy >= 0 || cy <= 0 {
			t.Errorf("handle at y %v, blade at y %v", hy, cy)
		}
	}
	// the pin stands at the origin at the catch: the handle is aft of the blade there
	Near(t, "handle x at the catch", nums(t, tab, "handle_x")[0],
		-100*o.Lever()*math.Sin(s.Problem.Seats[0].Catch), 1e-12)
	perfect, err := s.PerfectPath(0, Moments{Points: 12})
	if err != nil {
		t.Fatal(err)
	}
	end := nums(t, perfect, "time")[11]
	if end <= s.Seats[0].DriveTime {
		t.Errorf("without slip the drive takes %v s, with it %v s", end, s.Seats[0].DriveTime)
	}
	Near(t, "perfect path's last angle", nums(t, perfect, "angle")[11],
		num.Degrees(s.Problem.Seats[0].Finish), 1e-9)
	// a stroke that has a perfect grip follows its own perfect path
	p := problemtest.OpenCases(t).Cases[3].Input.Problem(t)
	s = mustRow(t, p, Settings{})
	own, err := s.BladePath(0, Moments{Points: 12})
	if err != nil {
		t.Fatal(err)
	}
	if perfect, err = s.PerfectPath(0, Moments{Points: 12}); err != nil {
		t.Fatal(err)
	}
	for _, c := range own.Columns {
		for i, v := range c.Nums {
			if math.Abs(v-nums(t, perfect, c.Name)[i]) > 1e-6 {
				t.Errorf("%s at %d: %v, perfect %v", c.Name, i, v, nums(t, perfect, c.Name)[i])
			}
		}
	}
	for _, bad := range []func() (*table.Table, error){
		func() (*table.Table, error) { return s.BladePath(0, Moments{Points: 1}) },
		func() (*table.Table, error) { return s.BladePath(3, Moments{Points: 12}) },
		func() (*table.Table, error) { return s.PerfectPath(-1, Moments{Points: 12}) },
		func() (*table.Table, error) { return s.SlipMap(1) },
	} {
		if _, err := bad(); err == nil {
			t.Error("a path that cannot be was drawn")
		}
	}
}

// The slip map's strips add up to the blade force of the trace less the added mass: with
// none of it, exactly.
func TestSlipMapSumsToTheBladeForce(t *testing.T) {
	s := mustRow(t, problemtest.With(problemtest.Single(t), func(s *Seat) { s.Oar.Blade.AddedMass = 0 }),
		Settings{})
	m, err := s.SlipMap(0)
	if err != nil {
		t.Fatal(err)
	}
	angle, force, slip, strip := nums(t, m, "angle"), nums(t, m, "force"), nums(t, m, "slip_speed"),
		nums(t, m, "strip")
	for i := 0; i < len(angle); i += 5 {
		tab, err := s.Trace([]float64{angle[i]})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for j := range 5 {
			sum += force[i+j]
		}
		if want := nums(t, tab, "blade_force")[0]; math.Abs(sum-want) > 1e-6*s.Seats[0].PeakForce {
			t.Errorf("at %.1f deg the strips carry %v N, the blade %v N", angle[i], sum, want)
		}
		Near(t, "slip of the middle strip", slip[i+2]+10, 10+nums(t, tab, "slip_speed")[0], 1e-6)
		if strip[i+2] != 0 || strip[i] >= 0 || strip[i+4] != -strip[i] {
			t.Errorf("strips at %v", strip[i:i+5])
		}
	}
	Near(t, "first angle", angle[0], -64, 1e-9)
	Near(t, "last angle", angle[len(angle)-1], 43, 1e-6)
}

// The yawing moment refuses what has none and turns over with the sides.
func TestYawMoment(t *testing.T) {
	s := mustRow(t, raced(t, "2-", 90, 450), Settings{})
	ps, err := s.YawMoment("ps", replay.Places{})
	if err != nil {
		t.Fatal(err)
	}
	sp, err := s.YawMoment("sp", replay.Places{})
	if err != nil {
		t.Fatal(err)
	}
	Near(t, "mirrored", sp, ps, 1e-12)
	// two rowers alike on opposite sides: forward forces cancel, and the moment is P_y times
	// their distance, so that the spread drops out
	wide, err := s.YawMoment("ps", replay.Places{Spread: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	Near(t, "with another spread", wide, ps, 1e-12)
	for sides, words := range map[string]string{"p": "1 letters for 2 seats", "px": `'x'`, "": "0 letters"} {
		if _, err := s.YawMoment(sides, replay.Places{}); err == nil ||
			!strings.Contains(err.Error(), words) {
			t.Errorf("sides %q: %v", sides, err)
		}
	}
	if _, err := mustRow(t, problemtest.Single(t), Settings{}).YawMoment("p", replay.Places{}); err == nil {
		t.Error("a sculling boat yaws")
	}
}

// Frames go through the whole stroke at equal times, the oar back at the catch by its end.
func TestFrames(t *testing.T) {
	s := mustRow(t, problemtest.OpenCases(t).Cases[1].Input.Problem(t), Settings{})
	frames, err := s.Frames(0, 100)
	if err != nil {
		t.Fatal(err)
	}
	seat := &s.Problem.Seats[0]
	bends := false
	for i, f := range frames {
		Near(t, "time", f.Time+1, 1+s.Problem.Period()*float64(i)/100, 1e-12)
		if f.Angle < -seat.Catch-1e-12 || f.Angle > seat.Finish+1e-9 {
			t.Errorf("frame %d at %v rad", i, f.Angle)
		}
		if f.Driving != (f.Time <= s.Seats[0].DriveTime) || !f.Driving && f.HandleForce != 0 {
			t.Errorf("frame %d: %+v", i, f)
		}
		bends = bends || f.Driving && f.Angle-f.BladeAngle > 0.02
	}
	if !bends {
		t.Error("the flexible shaft is drawn straight")
	}
	Near(t, "hull at the end", frames[99].Hull, s.Speed*s.Problem.Period()*0.99, 0.02)
}
