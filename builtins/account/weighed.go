package account

// What a run notes of its weighings: which pairs have a verdict, which comparisons were left unweighed.

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/weighing"
)

// Weighed notes that a question was weighed.
func Weighed(c *lang.Call) {
	if b := BookOf(c.Thread); b != nil {
		b.mu.Lock()
		b.weighed = true
		b.mu.Unlock()
	}
}

// KeepWeighing keeps what was found of two strokes, so that the same two are judged alike
// wherever else the page has them. What weigh found, which tries more, takes the place of what a
// comparison did; it gives that.
func KeepWeighing(thread *starlark.Thread, w *weighing.Weighed) (before *weighing.Weighed) {
	b := BookOf(thread)
	if b == nil {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	key := w.Pair.Key()
	before, b.weighings[key] = b.weighings[key], w
	return before
}

// WeighingOf is what was found of two strokes before, nil for nothing.
func WeighingOf(thread *starlark.Thread, p weighing.Pair) *weighing.Weighed {
	b := BookOf(thread)
	if b == nil {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.weighings[p.Key()]
}

// mostQuiet strokes of a page are rowed to weigh what compare was asked: thirty of two.
const mostQuiet = 60

// RowQuietly says whether n strokes may be rowed to weigh a comparison that nobody asked to
// weigh, and counts them; where not, it notes that the comparison was not weighed.
func RowQuietly(thread *starlark.Thread, n int, comparison string) bool {
	b := BookOf(thread)
	if b == nil {
		return n <= mostQuiet
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.quiet+n > mostQuiet {
		b.unweighed[comparison] = true
		return false
	}
	b.quiet += n
	b.weighed = true
	return true
}

// NextLine lets the next line of the prompt weigh what it compares, as a page may.
func NextLine(cfg session.Config) {
	if b, ok := cfg.Extra.(*Book); ok {
		b.mu.Lock()
		b.quiet = 0
		clear(b.unweighed)
		b.mu.Unlock()
	}
}

// NotWeighed notes a comparison of strokes that was not weighed.
func NotWeighed(thread *starlark.Thread, comparison string) {
	if b := BookOf(thread); b != nil {
		b.mu.Lock()
		b.unweighed[comparison] = true
		b.mu.Unlock()
	}
}
