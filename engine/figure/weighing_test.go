package figure

import (
	"strings"
	"testing"

	"thole/engine/draw"
)

// What turns an answer often has the longest name: it stands whole, in two lines if need be.
func TestTheNameOfWhatTurnsItStandsWhole(t *testing.T) {
	name := "at the same effort with a blade's drag without a surface"
	for _, width := range []float64{360, 800} {
		lines := nameLines(&draw.Surface{W: width}, try{name: name, turns: "turns it"}, 290)
		if got := strings.Join(lines, " "); !strings.EqualFold(got, name) || len(lines) != 2 {
			t.Errorf("%g wide: %q", width, lines)
		}
	}
}
