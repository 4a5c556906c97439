package builtins

import (
	"context"
	"math"
	"testing"

	"thole/builtins/account"
	"thole/builtins/session"
	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/oar"
	"thole/engine/stroke"
)

// benchScript runs a script and says how many strokes it rowed, and how many a
// second; BenchmarkEngineAlone is the engine's own figure beside it.
func benchScript(b *testing.B, script string) { benchOn(b, 2, script) }

func benchOn(b *testing.B, jobs int, script string) {
	strokes := 0
	for b.Loop() {
		cfg := Configure(session.Config{Jobs: jobs})
		out := Run(context.Background(), "study.star", []byte(start+script), cfg)
		if len(out.Errors) > 0 {
			b.Fatal(out.Errors.Error())
		}
		n, _ := account.Rowed(cfg)
		strokes += n
	}
	b.ReportMetric(float64(strokes)/float64(b.N), "strokes/op")
	b.ReportMetric(float64(strokes)/b.Elapsed().Seconds(), "strokes/s")
}

// 500 draws, paired over two alternatives, eight inputs.
func BenchmarkUncertainty500(b *testing.B) {
	benchScript(b, `
def two(drag, bury, power, mass, rate, wind, free_speed, air_area):
    crew_now = me.change(power=power, mass=mass, rate=rate, free_speed=free_speed)
    old = sculls.change(blade=sculls.blade.change(drag=drag, bury=bury))
    s = calm.change(hull=hull("1x", air_area=air_area), crew=crew_now, oar=old, wind=wind)
    return {"now": s, "shorter": s.change(oar=old.change(length=286))}
show(compare(uncertainty(two, draws=500, power=about(380, 8), mass=about(84, 2), rate=about(32, 0.3), wind=(-1, 1), **doubt("blade", "crew", "air", boat="1x"))))
`)
}

// One question of two rigid single strokes on one core: 200 draws, all forms and holds.
func BenchmarkWeigh(b *testing.B) {
	benchOn(b, 1, `
def pair(drag):
    now = calm.change(oar=sculls.change(blade=sculls.blade.change(drag=drag)))
    return {"now": now, "longer": now.change(oar=now.oar.change(length=290))}
show(weigh(pair, drag=(1.2, 2.1)))
`)
}

// Three inputs, two limits.
func BenchmarkFindBest(b *testing.B) {
	benchScript(b, `
reach = calm.change(measured_on=sculls)
def rigged(outboard, inboard, area):
    return reach.change(oar=oar(length=outboard + inboard, inboard=inboard, blade=sculls.blade.change(area=area)))
show(find_best(rigged, maximise="speed", limits={"heaviness": (None, calm.heaviness), "early_load": (None, calm.early_load)}, outboard=(190, 208), inboard=(86, 90), area=(760, 860)))
`)
}

// The engine's own figure: strokes of one core, each with another oar.
func BenchmarkEngineAlone(b *testing.B) {
	h, err := hull.New("1x")
	if err != nil {
		b.Fatal(err)
	}
	plate, err := blade.New("scull hatchet")
	if err != nil {
		b.Fatal(err)
	}
	p := stroke.Problem{Hull: h, OarsPerRower: 2, Rate: 32, Water: fluid.FreshWater(15), Air: fluid.StandardAir(), Target: 380}
	for i := 0; b.Loop(); i++ {
		p.Seats = []stroke.Seat{{Count: 1, Rower: crew.New(84, 380), Oar: oar.New(2.80+0.0005*float64(i%200), 0.88, plate), Catch: 63 * math.Pi / 180, Finish: 43 * math.Pi / 180}}
		if _, err := stroke.Row(p, stroke.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "strokes/s")
}
