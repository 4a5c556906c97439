package builtins

import (
	"strings"
	"testing"

	"thole/engine/figure"
)

// Every way that gets there brings the change that was asked; one that does not says
// what it reaches, and stays within what is usual.
func TestTradeOff(t *testing.T) {
	r := answers(t, `
rigged = row(single, me, sculls, rig=rig(span=159, stretcher=46, work_through=8))
ways = trade_off(rigged, change=-3)
result("ways", len(ways))
result("without a rig", len(trade_off(calm)))
there = ways.one(way="length, inboard kept")
back = rigged.change(oar=sculls.change(length=there.to))
result("length brings", (back.heaviness / rigged.heaviness - 1) * 100)
result("length costs", there.over_2000_m - (back.time_2000 - rigged.time_2000))
result("length leaves the catch", there.catch)
follows = ways.one(way="span, collar following")
result("the overlap stays", follows.overlap)
wide = rigged.change(rig=rigged.rig.change(span=follows.to), collar="follows")
result("span brings", wide.heaviness / rigged.heaviness - 1 - follows.heaviness / 100)
result("span's inboard", wide.inboard)
area = ways.one(way="blade area")
result("area: " + area.note, area.to)
result("area brings", area.heaviness)
result("stretcher's catch", trade_off(rigged, change=1).one(way="stretcher").catch)
nothing = trade_off(rigged, change=0)
result("nothing moves it", max([abs(x) for x in nothing["heaviness"]]))
`)
	near(t, "ways", r["ways"], 5, 0)
	near(t, "ways without a rig", r["without a rig"], 3, 0)
	near(t, "length brings", r["length brings"], -3, 1e-3) // the length is found to a ten-thousandth of its range
	near(t, "length costs", r["length costs"], 0, 1e-6)
	near(t, "catch with the length", r["length leaves the catch"], 0, 0)
	near(t, "overlap", r["the overlap stays"], 0, 0)
	near(t, "span brings", r["span brings"], 0, 1e-6)
	if r["span's inboard"] > 89+1e-9 {
		t.Errorf("span's inboard %g lies outside the usual", r["span's inboard"])
	}
	near(t, "area as far as usual", r["area: does not get there: the usual range ends here"], 700, 1e-9)
	if !(r["area brings"] > -3 && r["area brings"] < -0.5) {
		t.Errorf("area brings %g", r["area brings"])
	}
	if !(r["stretcher's catch"] > 0) {
		t.Errorf("stretcher's catch %g", r["stretcher's catch"])
	}
	near(t, "nothing asked", r["nothing moves it"], 0, 1e-6)

	shown := shownOf(t, `show(trade_off(calm))`)
	f := figure.Beside(shown.Table, figure.Below)
	if f == nil || !strings.Contains(figure.Caption(f), "At the same power.") {
		t.Errorf("bars beneath: %v", f)
	}
	for script, want := range map[string]string{
		`trade_off(calm, of="heavyness")`:                  "a stroke has no \"heavyness\"",
		`trade_off(row(hull("2x"), me, [sculls, sculls]))`: "this stroke has an oar a seat",
	} {
		if out := asked(t, script); len(out.Errors) == 0 || !strings.Contains(out.Errors[0].Error(), want) {
			t.Errorf("%s: %v", script, out.Errors)
		}
	}
}
