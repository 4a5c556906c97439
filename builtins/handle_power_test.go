package builtins

import (
	"strings"
	"testing"
)

// A crew given at the handle rows at that power there, each rower at their own, and is the
// same stroke as that of a crew given by the power that it came to: two ways to one solution.
func TestHandlePowerIsAWayToSayPower(t *testing.T) {
	r := answers(t, `
s = row(single, crew(mass=84, handle_power=320, rate=32), sculls)
again = row(single, crew(mass=84, power=s.power, rate=32), sculls)
result("handle", s.handle_power)
result("speed", again.speed / s.speed)
result("held", s.change(oar=sculls.change(length=291)).handle_power)
sweep = oar(length=374, inboard=115, blade="sweep hatchet")
def pair(**a): return row(hull("2-"), crew(rate=34, rowers=[rower(mass=72, **a["bow"]), rower(mass=82, **a["stroke"])]), sweep)
unlike = pair(bow={"handle_power": 260}, stroke={"handle_power": 310})
result("bow", unlike.seats[0].handle_power)
result("stroke", unlike.seats[1].handle_power)
both = pair(bow={"power": unlike.seats[0].power}, stroke={"power": unlike.seats[1].power})
result("pair's speed", both.speed / unlike.speed)
kept = equal_load(unlike, sweep, at="power")
result("same oar", kept[0].length)
at_handle = row(single, me, sculls, hold="handle_power", target=calm.handle_power, measured_on=sculls)
broad = sculls.change(blade=sculls.blade.change(area=902))
result("equal load", equal_load(at_handle, broad, at="power").length - equal_load(calm, broad, at="power").length)
result("machine", crew(mass=84, handle_power=machine_power(100), rate=32).handle_power)
c = crew(mass=84, handle_power=320, rate=32)
result("changed", c.change(power=380).power)
result("changed back", c.change(power=380).change(handle_power=300).handle_power)
result("none", 0 if c.power == None and c.change(power=380).handle_power == None else 1)
`)
	near(t, "handle power", r["handle"], 320, 1e-4) // solved to a millionth
	near(t, "speed by power", r["speed"], 1, 1e-6)
	near(t, "handle power with longer sculls", r["held"], 320, 1e-4)
	near(t, "bow", r["bow"], 260, 1e-4)
	near(t, "stroke", r["stroke"], 310, 1e-4)
	near(t, "pair's speed by power", r["pair's speed"], 1, 1e-6)
	near(t, "the same oar at equal load", r["same oar"], 374, 1e-3)
	near(t, "equal load at the same power, whatever was held", r["equal load"], 0, 1e-3)
	near(t, "machine", r["machine"], 350, 1e-9)
	near(t, "changed", r["changed"], 380, 0)
	near(t, "changed back", r["changed back"], 300, 0)
	near(t, "the other power", r["none"], 0, 0)
}

// The two powers are never mixed in silence.
func TestPowersAreNotMixed(t *testing.T) {
	for script, want := range map[string]string{
		`crew(mass=84, power=380, handle_power=320, rate=32)`:                               "two ways to say how strong",
		`crew(rate=32, rowers=[rower(mass=84, power=380), rower(mass=84, handle_power=1)])`: "handle_power",
		`crew(rate=32, rowers=[rower(mass=84, power=380), rower(mass=84, handle_power=320)])`: "some rowers are given by " +
			"power, some by handle_power",
		`row(single, crew(mass=84, handle_power=320, rate=32), sculls, hold="power")`: "hold=\"power\" needs a target",
		`row(single, me, sculls, hold="handle_power")`:                                "hold=\"handle_power\" needs a target",
		`crew(mass=84, rate=32)`:                                                      "crew needs power",
		`rower(mass=84)`:                                                              "a rower needs power",
	} {
		if out := asked(t, script); len(out.Errors) == 0 || !strings.Contains(out.Errors[0].Error(), want) {
			t.Errorf("%s: %v, want %q", script, out.Errors, want)
		}
	}
	for script, want := range map[string]bool{
		`row(single, crew(mass=84, power=machine_power(105), rate=32), sculls)`:                    true,
		`row(single, me, sculls, target=machine_power(105))`:                                       true,
		`row(single, crew(mass=84, handle_power=machine_power(105), rate=32), sculls)`:             false,
		`row(single, me, sculls, hold="handle_power", target=machine_power(105))`:                  false,
		`row(single, crew(mass=84, handle_power=machine_power(105), rate=32), sculls, target=300)`: false,
	} {
		told := false
		for _, c := range asked(t, script).Document.Cautions {
			told = told || strings.Contains(c.Text, "W are what machine_power gave: power at the handle")
		}
		if told != want {
			t.Errorf("%s: told %v, want %v", script, told, want)
		}
	}
}
