package asking

import (
	"runtime"
	"sync"
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/weighing"
)

// Pair is the two strokes of one question under one set of assumptions, or why there are none.
type Pair struct {
	Before, After *rowing.Stroke
	Err           error
}

// Solved is the pair as engine/weighing reads it.
func (p Pair) Solved() weighing.Pair {
	if p.Err != nil {
		return weighing.Pair{}
	}
	return weighing.Pair{Before: p.Before.Stroke, After: p.After.Stroke}
}

// Bring rows both strokes under what is in force, where they were not.
func (p *Pair) Bring(thread *starlark.Thread, now *rowing.Assumed) {
	if p.Before, p.Err = p.Before.Under(thread, now); p.Err == nil {
		p.After, p.Err = p.After.Under(thread, now)
	}
}

// PairsUnder rows two strokes under each of n assumptions, in parallel.
func PairsUnder(c *lang.Call, before, after *rowing.Stroke, n int,
	under func(i int) *rowing.Assumed) ([]Pair, error) {
	pairs := make([]Pair, n)
	jobs := runtime.GOMAXPROCS(0)
	if s := session.Of(c.Thread); s != nil {
		jobs = max(1, s.Config().Jobs)
	}
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(jobs, n) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && c.Context().Err() == nil; i = int(next.Add(1)) - 1 {
				pairs[i] = Pair{Before: before, After: after}
				pairs[i].Bring(c.Thread, under(i))
			}
		})
	}
	all.Wait()
	return pairs, c.Context().Err()
}
