package builtins

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"testing"

	"thole/builtins/session"
	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/oar"
	"thole/engine/stroke"
)

const sweepStudy = `
people = crew(mass=88, power=420, rate=34, catch=64, finish=43)
sculls = oar(length=288, inboard=88, blade="scull hatchet")
today = row(hull("1x"), people, sculls)
t = vary(lambda outboard: today.change(oar=sculls.change(outboard=outboard)), outboard=steps(190, 210, %g))
show(t)
`

// BenchmarkVary1000 rows 1,000 outboards out of a script on all cores. The
// script's own cost is the time a stroke here less the engine's on as many
// cores; engine-us/stroke is that, measured beside it.
func BenchmarkVary1000(b *testing.B) {
	jobs := runtime.GOMAXPROCS(0)
	text := []byte(fmt.Sprintf(sweepStudy, 20.0/999))
	for b.Loop() {
		out := Run(context.Background(), "bench.star", text, session.Config{Jobs: jobs})
		if len(out.Errors) > 0 {
			b.Fatal(out.Errors)
		}
	}
	perStroke := b.Elapsed().Seconds() / float64(b.N) / 1000
	b.ReportMetric(1/perStroke, "strokes/s")
	b.ReportMetric(perStroke*1e6*float64(jobs), "core-us/stroke")
}

// BenchmarkEngine1000 is the same sweep by the engine alone, on one core.
func BenchmarkEngine1000(b *testing.B) {
	p := benchProblem(b)
	inboard := p.Seats[0].Oar.Inboard
	for b.Loop() {
		for i := range 1000 {
			q := p
			q.Seats = append([]stroke.Seat(nil), p.Seats...)
			q.Seats[0].Oar.Length = inboard + 1.90 + 0.20*float64(i)/999
			if _, err := stroke.Row(q, stroke.Settings{}); err != nil {
				b.Fatal(err)
			}
		}
	}
	perStroke := b.Elapsed().Seconds() / float64(b.N) / 1000
	b.ReportMetric(1/perStroke, "strokes/s")
	b.ReportMetric(perStroke*1e6, "core-us/stroke")
}

// benchProblem is the sweep's stroke as the engine sees it.
func benchProblem(b *testing.B) stroke.Problem {
	b.Helper()
	h, err := hull.New("1x")
	if err != nil {
		b.Fatal(err)
	}
	hatchet, err := blade.New("scull hatchet")
	if err != nil {
		b.Fatal(err)
	}
	seat := stroke.Seat{Count: 1, Rower: crew.New(88, 420), Oar: oar.New(2.88, 0.88, hatchet), Catch: 64 * deg, Finish: 43 * deg}
	return stroke.Problem{Hull: h, Seats: []stroke.Seat{seat}, OarsPerRower: 2, Rate: 34, Water: fluid.FreshWater(15), Air: fluid.StandardAir(),
		Hold: stroke.Power, Target: math.NaN()}
}

// BenchmarkVaryMemory holds a table of 100,000 strokes; MB is what stays in use
// with the table held.
func BenchmarkVaryMemory(b *testing.B) {
	text := []byte(fmt.Sprintf(sweepStudy, 20.0/99999))
	for b.Loop() {
		before := inUse()
		out := Run(context.Background(), "bench.star", text, session.Config{Jobs: runtime.GOMAXPROCS(0)})
		if len(out.Errors) > 0 {
			b.Fatal(out.Errors)
		}
		b.ReportMetric(float64(inUse()-before)/1e6, "MB")
		runtime.KeepAlive(out)
	}
}

func inUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
