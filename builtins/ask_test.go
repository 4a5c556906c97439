package builtins

import (
	"strings"
	"testing"
)

// A longer oar of the same inboard: the hands set the arc, which stays; the load rises.
const askStart = `
o = oar(length=288, inboard=88, blade="scull hatchet")
usual = row(hull("1x"), crew(mass=84, power=380, rate=32), o, name="usual")
longer = usual.change(oar=o.change(length=292), name="longer")
`

// An answer that the strokes drawn contradict is refused with both values and what to type; the
// one that holds is told, so that a lesson with changed numbers cannot teach the old answer.
func TestAnAnswerIsHeldToItsStrokes(t *testing.T) {
	const drawn = `, before=usual, after=longer, about=`
	for _, c := range []struct{ ask, refused string }{
		{`choices=["longer", "the same"], answer="the same"` + drawn + `"arc"`, ""},
		{`choices=["longer", "the same"], answer="longer"` + drawn + `"arc"`,
			`"longer" is not what these strokes do`},
		{`choices=["heavier", "lighter"], answer="heavier"` + drawn + `"heaviness"`, ""},
		{`choices=["heavier", "lighter"], answer="lighter"` + drawn + `"heaviness"`, `"lighter" is not`},
		{`choices=["unchanged", "it rises"], answer="unchanged"` + drawn + `"heaviness"`,
			`"unchanged" is not`},
		{`choices=["longer", "shorter"], answer="longer"` + drawn + `"outboard"`, ""},
		{`choices=["longer", "the same"], answer="longer"` + drawn + `"inboard"`, `"longer" is not`},
		// not judged
		{`choices=["by the hands", "by the boat"], answer="by the hands"` + drawn + `"arc"`, ""},
		{`answer=4` + drawn + `"outboard"`, ""},
		{`answer=204` + drawn + `"outboard"`, ""},
		{`answer=2` + drawn + `"outboard", unit="%"`, ""},
		{`answer=200` + drawn + `"outboard"`, `200 is not what these strokes do`}, // as before
		{`answer=5` + drawn + `"outboard"`, `5 is not what these strokes do`},
		{`answer=5, tolerance=1` + drawn + `"outboard"`, ""},
		{`answer=1` + drawn + `"heft"`, `a stroke has no number "heft"`},
		{`answer=1, after=longer`, "there is nothing to draw before the answer"},
	} {
		out := try(t, askStart+`ask("And now?", `+c.ask+")\n")
		said := allSaid(out)
		if c.refused == "" {
			if len(out.Errors) > 0 {
				t.Errorf("%s is refused: %s", c.ask, said)
			}
			continue
		}
		if len(out.Errors) == 0 || !strings.Contains(said, c.refused) {
			t.Errorf("%s: want %q, said: %s", c.ask, c.refused, said)
		}
	}
	out := try(t, askStart+`ask("?", answer=5`+drawn+"\"outboard\")\n")
	for _, want := range []string{"outboard is 200.0 before and 204.0 after",
		"answer=round(after.outboard - before.outboard, 1)"} {
		if said := allSaid(out); !strings.Contains(said, want) {
			t.Errorf("no %q in: %s", want, said)
		}
	}
}
