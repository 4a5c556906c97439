package rowing

import (
	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/session"
	"thole/engine/canonical"
	"thole/engine/stroke"
)

// remembered is what is kept of a stroke: all but the problem, which is its key.
type remembered struct {
	Solution stroke.Solution
	Cautions []string
}

// RowOrRecall rows a problem, or takes its solution from the points already computed.
// A stroke is a pure function of its problem, so the two are the same to the
// last bit; the key is every number of the problem in SI, and whoever keeps the
// points adds which engine they are of. A problem without a stroke is asked of
// the engine every time: its advice has to be worked out anyway.
func RowOrRecall(thread *starlark.Thread, p stroke.Problem) (*stroke.Stroke, error) {
	study := session.Of(thread)
	if study == nil || study.Config().Kept == nil || !study.Config().Kept.Awake() {
		return stroke.Row(p, stroke.Settings{})
	}
	kept := study.Config().Kept
	key := canonical.Bytes([]byte("row "), p)
	if data, ok := kept.Get(key); ok {
		var known remembered
		if canonical.Read(data, &known) == nil {
			if b := account.BookOf(thread); b != nil {
				b.Recall()
			}
			return &stroke.Stroke{Problem: p, Solution: known.Solution, Cautions: known.Cautions}, nil
		}
	}
	s, err := stroke.Row(p, stroke.Settings{})
	if err == nil {
		kept.Put(key, canonical.Bytes(nil, remembered{s.Solution, s.Cautions}))
	}
	return s, err
}
