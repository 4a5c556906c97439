package stroke

import (
	"regexp"
	"strconv"
	"testing"
)

// A speed that no effort reaches is answered with one that is reached: rowed, it has a
// stroke, and a step more would ask for more than the effort it names.
func TestAdviceOfASpeedOutOfReach(t *testing.T) {
	p := openCases(t).Cases[0].Input.problem(t)
	b := &p.Seats[0].Oar.Blade
	b.Area, b.Drag = 0.02, 0.2
	p.Hold, p.Target = Speed, 6
	_, err := Row(p, Settings{})
	f, ok := err.(*Failure)
	if !ok || f.Cause != OutOfReach {
		t.Fatalf("%v is no failure to reach it", err)
	}
	said := regexp.MustCompile(`^target=([0-9.]+) `).FindStringSubmatch(f.Advice())
	if said == nil {
		t.Fatalf("the advice is %q", f.Advice())
	}
	target, err := strconv.ParseFloat(said[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	p.Target = target
	s, err := Row(p, Settings{})
	if err != nil {
		t.Fatalf("target=%g: %v", target, err)
	}
	if e := s.Seats[0].Effort; e > highEffort {
		t.Errorf("target=%g takes %.0f N", target, e)
	}
	p.Target += steps[Speed]
	if s, err := Row(p, Settings{}); err == nil && s.Seats[0].Effort < highEffort {
		t.Errorf("target=%g is reached as well, with %.0f N", p.Target, s.Seats[0].Effort)
	}
}
