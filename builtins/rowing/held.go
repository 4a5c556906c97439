package rowing

import (
	"math"
	"strings"

	"thole/engine/stroke"
)

// HeldFields are the result fields that can be held, in the order in which they are
// looked for, and how a head says each.
var HeldFields = []string{"power", "handle_power", "effort", "peak_force", "speed"}

// NothingHeld is said of strokes that share nothing of it.
const NothingHeld = "nothing held alike"

// HeldAlike says what strokes that are set beside each other were all rowed at: "at the
// same power". What the last of them holds is looked for first; "" for fewer than two.
func HeldAlike(strokes ...*Stroke) string {
	if len(strokes) < 2 {
		return ""
	}
	fields := []string{fieldOf(strokes[len(strokes)-1].Problem.Hold)}
	for _, name := range append(fields, HeldFields...) {
		values := make([]float64, len(strokes))
		for i, s := range strokes {
			values[i] = s.Of(name)
		}
		if Constant(values) {
			return AtTheSame(name)
		}
	}
	return NothingHeld
}

// fieldOf names the result field that a hold holds.
func fieldOf(h stroke.Hold) string {
	if h == stroke.Force {
		return "peak_force"
	}
	return h.String()
}

// AtTheSame says a held field as a head does.
func AtTheSame(field string) string { return "at the same " + strings.ReplaceAll(field, "_", " ") }

// Constant says whether numbers are one number, up to what a search for a held value
// leaves (1e-6). Blanks say nothing; without a number there is none.
func Constant(values []float64) bool {
	first := math.NaN()
	for _, x := range values {
		switch {
		case math.IsNaN(x):
		case math.IsNaN(first):
			first = x
		case math.Abs(x-first) > 1e-6*math.Abs(first):
			return false
		}
	}
	return !math.IsNaN(first)
}
