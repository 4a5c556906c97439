package asking

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/engine/words"
)

// Some measures of a rig move no number of a comparison: speed, force and time do not feel
// them in this model. Who compares two such rigs is told what does.

// unfelt are those measures, together with what tells of them.
var unfelt = []struct {
	measures []string
	why, ask string
}{
	{[]string{"height", "gates_apart"}, "that moves the hands, and no source says what it does to the force",
		"hands(now) and hands(new)"},
	{[]string{"pitch", "outward_pitch"}, "that lifts the blade and the hands",
		`new.trace("angle", "pitch", "lift_at_hands", at=[-30, 0])`},
	{[]string{"sides"}, "that turns the boat to and fro", "yaw_moment(now) and yaw_moment(new)"},
}

// tellUnfelt tells it of two strokes whose rigs differ there.
func tellUnfelt(thread *starlark.Thread, now, new *rowing.Stroke) {
	if now.Rig == nil || new.Rig == nil {
		return
	}
	for _, u := range unfelt {
		var differ []string
		for _, m := range u.measures {
			if rigsDiffer(now, new, m) {
				differ = append(differ, words.Spaced(m))
			}
		}
		if len(differ) > 0 {
			text := "no line of this comparison feels " + words.List(differ)
			lang.HostOf(thread).Caution(thread, lang.Caution{Text: text, Key: text, Many: text, Why: u.why,
				Type: u.ask})
		}
	}
}

func rigsDiffer(a, b *rowing.Stroke, measure string) bool {
	if measure == "sides" {
		return a.Sides() != b.Sides() && a.Sides() != "" && b.Sides() != ""
	}
	for _, m := range things.RigMeasures {
		for seat := range min(a.Hull.Seats(), b.Hull.Seats()) {
			if m.Name != measure {
				continue
			}
			x, y := m.Of(a.RigOf(seat)), m.Of(b.RigOf(seat))
			if x != y && !math.IsNaN(x) && !math.IsNaN(y) {
				return true
			}
		}
	}
	return false
}
