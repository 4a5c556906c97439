package session

import (
	"math"
	"testing"
)

func TestRunsAStudy(t *testing.T) {
	o := run(t, "quad.star", `
title("How long?")
otters = crew(mass=78, power=360, rate=36, name="Otters")
sculls = oar(length=289, inboard=87.5, blade="scull hatchet")
today = row(hull("4x"), otters, sculls, name="today")
def rowed(outboard): return today.change(oar=sculls.change(outboard=outboard))
t = vary(rowed, outboard=steps(192, 206, 1))
top = t.highest("value")
answer("An outboard of {top.outboard}: {today.speed}, or {x:1 %}.", x=12.345)
result("speed", top.value)
`)
	for _, m := range o.Errors {
		t.Error(m.String())
	}
	if got, want := o.Document.Answer, "An outboard of 206 cm: 5.015 m/s, or 12.3 %."; got != want {
		t.Errorf("answer %q, want %q", got, want)
	}
	// last-bit dust of the made-up speed
	if len(o.Document.Results) != 1 || o.Document.Results[0].Unit != "m/s" ||
		math.Abs(o.Document.Results[0].Value-5.06) > 1e-12 {
		t.Errorf("results %+v", o.Document.Results)
	}
}
