package builtins

import (
	"context"
	"fmt"
	"runtime"
	"testing"

	"thole/builtins/session"
)

const sweepStudy = `
people = crew(mass=88, power=420, rate=34, catch=64, finish=43)
sculls = oar(length=288, inboard=88, blade="scull hatchet")
today = row(hull("1x"), people, sculls)
t = vary(lambda outboard: today.change(oar=sculls.change(outboard=outboard)), outboard=steps(190, 210, %g))
result("lines (-)", len(t))
`

// BenchmarkVary1000 rows 1,000 outboards out of a script on all cores. The
// script's own cost is the time a stroke here less the engine's, which
// BenchmarkEngineAlone measures beside it.
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

// BenchmarkVaryMemory holds a table of 100,000 strokes; MB is what is in use
// while the script holds it, looked at when it prints its last line.
func BenchmarkVaryMemory(b *testing.B) {
	text := []byte(fmt.Sprintf(sweepStudy, 20.0/99999) + "print(len(t))\n")
	for b.Loop() {
		before, held := inUse(), uint64(0)
		out := Run(context.Background(), "bench.star", text, session.Config{Jobs: runtime.GOMAXPROCS(0), Print: func(string) { held = inUse() }})
		if len(out.Errors) > 0 {
			b.Fatal(out.Errors)
		}
		b.ReportMetric((float64(held)-float64(before))/1e6, "MB")
	}
}

func inUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
