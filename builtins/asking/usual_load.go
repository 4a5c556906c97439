package asking

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/equalload"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
	"thole/engine/words"
)

// tellUsualLoad adds to the note of oars of equal load that are longer or shorter than is
// usual what the usual lengths reach, and cautions of it; nothing where the stroke's own
// oars lie beyond the usual already.
func tellUsualLoad(c *lang.Call, s *rowing.Stroke, e *equalload.Question, oars []starlark.Value) error {
	moved := "length"
	if e.Adjust == equalload.Inboard {
		moved = "inboard"
	}
	clipped := make(starlark.Tuple, len(oars))
	edges := make([]float64, len(oars)) // cm, NaN: within
	outside := false
	for i, v := range oars {
		o, _ := things.OarType.From(v)
		clipped[i], edges[i] = v, math.NaN()
		x := rounding.Clean(lengthOf(o, moved))
		low, high := things.UsualRange(moved, things.UsualOf(&o.Oar, moved))
		was := lengthOf(s.Oar(i), moved)
		if !(x < low || x > high) || was < low || was > high {
			continue
		}
		edges[i], outside = math.Min(math.Max(x, low), high), true
		var err error
		if clipped[i], err = changedThing(c, v, moved, starlark.Float(edges[i])); err != nil {
			return err
		}
	}
	if !outside {
		return nil
	}
	rowed := starlark.Value(clipped)
	if len(oars) == 1 {
		rowed = clipped[0]
	}
	there, err := changedStroke(c, s, starlark.Tuple{starlark.String("oar"), rowed},
		starlark.Tuple{starlark.String("hold"), starlark.String(e.At.String())},
		starlark.Tuple{starlark.String("target"), rowing.StrokeType.New(s)})
	if err != nil {
		return nil // no stroke at the edge: the caution of the length stands alone
	}
	f, _ := stroke.FieldNamed(e.Match.String())
	for i, v := range oars {
		if math.IsNaN(edges[i]) {
			continue
		}
		o, _ := things.OarType.From(v)
		text := fmt.Sprintf("%s %s cm lies beyond what is usual: at %s cm %s is %s %% of what it was", moved,
			table.Fixed(lengthOf(o, moved), 1), table.Fixed(edges[i], 1), words.Spaced(f.Name),
			table.Fixed(100*there.OfSeat(f, i)/s.OfSeat(f, i), 1))
		o.Note += "; " + text
		if len(oars) > 1 {
			text = fmt.Sprintf("seat %d: %s", i+1, text)
		}
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
	}
	return nil
}

// lengthOf is an oar's length or inboard, cm.
func lengthOf(o *things.Oar, which string) float64 {
	if which == "inboard" {
		return o.Inboard / units.Cm
	}
	return o.Length / units.Cm
}
