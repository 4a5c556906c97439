package asking

import (
	"context"
	"math"
	"slices"
	"strings"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/engine/stroke"
	"thole/engine/study"
)

// The model knows no cost of a longer arc or a slower pull, so at a held power
// the longest oar always wins a little: a fastest length without a bound on how
// heavy it may feel is no answer (model 8). bestLength watches what
// a find_best moves and refuses that question.

// lengths are inputs that make the oar or the arc longer.
var lengths = []string{"length", "outboard", "catch", "finish", "arc"}

// bestLength stands between a find_best and its function. It judges by the
// first points, the grid.
type bestLength struct {
	q      *Question
	goal   study.Goal
	looked bool
	note   string // what the answer has to say about it
}

func (w *bestLength) batch(ctx context.Context, points []study.Point) []study.Result {
	results := w.q.Batch(ctx, points)
	if !w.looked {
		w.looked = true
		if err := w.look(results); err != nil {
			w.q.Ended = err
			results[0] = study.Result{Err: &study.Stop{Err: err}}
		}
	}
	return results
}

// look judges the question by what its inputs are called and what they move.
func (w *bestLength) look(results []study.Result) error {
	if w.bounded() || !w.hasLimits(results) {
		return nil
	}
	named := slices.IndexFunc(w.q.Names, func(n string) bool { return slices.Contains(lengths, n) })
	unknown := slices.IndexFunc(w.q.Names, func(n string) bool { return !isParameter(n) })
	length, arc, inboard, seen := moved(results)
	if !w.pace() {
		if named >= 0 && !seen {
			w.note = "if " + w.goal.Of +
				" is a speed or a time, the longest always wins a little: bound heaviness as well"
		}
		return nil
	}
	longer := length || arc && !inboard
	switch {
	case named >= 0 && (longer || !seen):
		return w.refuse(w.q.Names[named])
	case unknown >= 0 && longer:
		return w.refuse(w.q.Names[unknown])
	case longer || inboard:
		w.note = "nothing bounds heaviness, drive_time or rhythm: the model knows no cost of a slower " +
			"pull, so heavier always wins a little"
	}
	return nil
}

func (w *bestLength) refuse(name string) error {
	return w.q.C.Wrong(name, lang.Mistake("the model knows no cost of a longer arc or a slower pull, so "+
		"the longest always wins a little: bound how heavy it may feel",
		`limits={"heaviness": (None, today.heaviness)}, or drive_time or rhythm`, "%s alone has no best %s",
		w.goal.Of, name))
}

// pace says whether the boat is wanted fast: a speed high, a split or time low.
func (w *bestLength) pace() bool {
	f, ok := stroke.FieldNamed(w.goal.Of)
	switch {
	case isPace(w.goal.Of) && w.goal.Of != "speed":
		return !w.goal.Maximise
	case ok && (f.Unit == "m/s" || f.Name == "distance_per_stroke"):
		return w.goal.Maximise
	}
	return false
}

// bounded says whether a limit keeps the pull from getting slower and heavier.
func (w *bestLength) bounded() bool {
	for _, l := range w.goal.Limits {
		if (l.Of == "heaviness" || l.Of == "drive_time") && !math.IsNaN(l.High) || l.Of == "rhythm" &&
			!math.IsNaN(l.Low) {
			return true
		}
	}
	return false
}

// hasLimits says whether the function gives every number that is limited; where
// not, that is the mistake to be told.
func (w *bestLength) hasLimits(results []study.Result) bool {
	for _, r := range results {
		if r.Err != nil || len(r.Outcome) != 1 {
			continue
		}
		for _, l := range w.goal.Limits {
			if _, ok := r.Outcome.Get(l.Of); !ok {
				return false
			}
		}
	}
	return true
}

// moved says what the points differ in: the oar's length, the arc, the inboard;
// seen is false where the function does not show it.
func moved(results []study.Result) (length, arc, inboard, seen bool) {
	var first map[string]float64
	for _, r := range results {
		if r.Err != nil || len(r.Outcome) != 1 {
			continue
		}
		now := map[string]float64{}
		for _, name := range []string{"outboard", "inboard", "catch", "finish"} {
			v, ok := r.Outcome.Get(name)
			if !ok {
				return false, false, false, false
			}
			now[name] = v.Number
		}
		if first == nil {
			first = now
			continue
		}
		differs := func(names ...string) bool {
			sum := 0.0
			for _, n := range names {
				sum += now[n] - first[n]
			}
			return math.Abs(sum) > 1e-6
		}
		length = length || differs("outboard", "inboard")
		inboard = inboard || differs("inboard")
		arc = arc || differs("catch") || differs("finish")
	}
	return length, arc, inboard, first != nil
}

// isParameter says whether a name is one of the language's own parameters.
func isParameter(name string) bool {
	for _, r := range append(things.Records(), rowing.Records()...) {
		for _, p := range r.Params {
			if p.Name == name {
				return true
			}
		}
	}
	return name == "outboard"
}

// isPace says whether a quantity is a speed, a split or a race time.
func isPace(name string) bool {
	return name == "speed" || name == "split" || strings.HasPrefix(name, "time_")
}
