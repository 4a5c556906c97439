package session

import (
	"context"
	"testing"
)

// BenchmarkEach measures what a call of a script's function costs by itself:
// a def with a sum, two fields and a call of a helper, on one thread.
func BenchmarkEach(b *testing.B) {
	text := []byte(quadHead + `
def helper(x): return x * 2 + today.speed
def f(outboard): return helper(outboard) + sculls.inboard
t = vary(f, outboard=range(1000))
`)
	cfg := Config{Library: fakeLibrary, Jobs: 1}
	for b.Loop() {
		if o := Run(context.Background(), "s.star", text, cfg); len(o.Errors) > 0 &&
			o.Errors[0].What != "this study tells nothing" {
			b.Fatal(o.Errors)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/1000, "µs/call")
}

// BenchmarkStart measures what is done before a study's first line runs.
func BenchmarkStart(b *testing.B) {
	for b.Loop() {
		Check("s.star", []byte(quadHead), Config{Library: fakeLibrary})
	}
}

// BenchmarkBind measures the binding and checking of one call.
func BenchmarkBind(b *testing.B) {
	text := []byte("for i in range(1000): oar(length=288, inboard=88)\nanswer(\"x\")\n")
	cfg := Config{Library: fakeLibrary, Jobs: 1}
	for b.Loop() {
		if o := Run(context.Background(), "s.star", text, cfg); len(o.Errors) > 0 {
			b.Fatal(o.Errors[0].String())
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/1000, "µs/call")
}
