package builtins

import (
	"math"
	"strings"
	"testing"

	"thole/builtins/session"
)

// A pull measured with a sensor that counts down from 30 N, over angles that fall, is fitted
// as what was rowed: 380 W.
func TestCalibrateByAPullPutRight(t *testing.T) {
	out := Run(t.Context(), "pull.star", []byte(`
sculls = oar(length=288, inboard=88, blade="scull hatchet")
def rowed(power=350): return row(hull("1x"), crew(mass=84, power=power, rate=32), sculls)
pulled = rowed(power=380).trace("angle", "handle_force", at=steps(-60, 40, 5))
there = [{"angle (deg)": -l.angle, "force (N)": 30 - l.handle_force} for l in pulled]
back = [{"angle (deg)": a, "force (N)": 30} for a in steps(-40, 60, 5)]
fitted = calibrate(rowed, {"handle_force": table(there + back)}, power=(300, 450))
result("power", fitted.power.value)
`), session.Config{Jobs: 2})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].String())
	}
	said := ""
	for _, m := range out.Cautions {
		said += m.Head() + "\n"
	}
	for _, want := range []string{"its angles fall", "its zero stood at 30 N", "its pull counts below 0"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said among\n%s", want, said)
		}
	}
	// the steps of the fit end within a thousandth of the range
	if got := out.Document.Results[0].Value; math.Abs(got-380) > .15 {
		t.Errorf("fitted %g W, rowed 380", got)
	}
}
