package builtins

import (
	"context"
	"fmt"
	"os"
	"runtime/debug"
	"runtime/metrics"
	"sync/atomic"
	"testing"
	"time"

	"thole/builtins/session"
)

// sweepStudy rows a rigid single over three inputs; %g is the step of outboard, 1,000 points at
// 0.8 cm; %s what is kept of each.
const sweepStudy = `
sculls = oar(length=288, inboard=88, blade="scull hatchet")
me = crew(mass=84, power=380, rate=32)
usual = row(hull("1x"), me, sculls)
def pull(outboard, rate, wind):
    return usual.change(oar=sculls.change(outboard=outboard), crew=me.change(rate=rate), wind=wind)
t = vary(pull, outboard=steps(196, 203.9995, %g), rate=steps(26, 35, 1), wind=steps(-2, 1.96, 0.4)%s)
result("lines (-)", len(t))
`

const fourFields = `, of=["speed", "split", "heaviness", "slip"]`

// BenchmarkVary sweeps out of a script on one core: memory and time are to grow as the points
// do, and a million points to stay under 500 MB, or 200 MB with four fields. peak-MB is the most
// that the process took, garbage included. A million points: THOLE_LONG=1.
func BenchmarkVary(b *testing.B) {
	debug.SetGCPercent(50) // as the command has it
	for _, c := range []struct {
		name string
		step float64
		of   string
		n    int
	}{{"10000", 0.08, "", 10_000}, {"10000 of four", 0.08, fourFields, 10_000},
		{"100000", 0.008, "", 100_000}, {"100000 of four", 0.008, fourFields, 100_000},
		{"1000000", 0.0008, "", 1_000_000}, {"1000000 of four", 0.0008, fourFields, 1_000_000}} {
		b.Run(c.name, func(b *testing.B) {
			if c.n > 100_000 && os.Getenv("THOLE_LONG") == "" {
				b.Skip("takes minutes")
			}
			b.ReportAllocs()
			debug.FreeOSMemory()
			peak := watchPeak()
			for b.Loop() {
				rows(b, fmt.Sprintf(sweepStudy, c.step, c.of), float64(c.n), session.Config{Jobs: 1})
			}
			b.ReportMetric(float64(peak())/1e6, "peak-MB")
			b.ReportMetric(float64(b.N*c.n)/b.Elapsed().Seconds(), "strokes/s")
		})
	}
}

// BenchmarkVaryScript is what the script itself costs a stroke: the strokes are there already, so
// that what is left is the function's calls, its things, the row of the table, and, which a run
// does not pay, finding the stroke again. It is to stay under 40 µs.
func BenchmarkVaryScript(b *testing.B) {
	known := &kept{points: map[string][]byte{}}
	study := fmt.Sprintf(sweepStudy, 0.08, "")
	rows(b, study, 10_000, session.Config{Jobs: 1, Kept: known})
	b.ReportAllocs()
	b.ResetTimer()
	for b.Loop() {
		rows(b, study, 10_000, session.Config{Jobs: 1, Kept: known})
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/10_000, "µs/stroke")
}

// rows runs a study that must give so many lines.
func rows(b *testing.B, study string, lines float64, cfg session.Config) {
	b.Helper()
	out := Run(context.Background(), "bench.star", []byte(study), cfg)
	if len(out.Errors) > 0 {
		b.Fatal(out.Errors)
	}
	if got := out.Document.Results[0].Value; got != lines {
		b.Fatalf("%g lines, not %g", got, lines)
	}
}

// watchPeak looks at what the process takes from the machine until it is asked for the most.
func watchPeak() func() uint64 {
	var most atomic.Uint64
	done := make(chan struct{})
	look := func() {
		s := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		metrics.Read(s)
		if now := s[0].Value.Uint64() - s[1].Value.Uint64(); now > most.Load() {
			most.Store(now)
		}
	}
	go func() {
		tick := time.NewTicker(20 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				look()
			case <-done:
				return
			}
		}
	}()
	return func() uint64 { close(done); look(); return most.Load() }
}
