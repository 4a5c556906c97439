package telling

import (
	"fmt"
	"math"

	"thole/builtins/account"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/table"
	"thole/engine/words"
)

// cardCautions are what those who set the boat must see on the card itself: the
// crew's load first where it needs more care, then what is out of the ordinary
// about the stroke, then lengths outside the trade's ranges.
func cardCautions(s *rowing.Stroke) []string {
	var out []string
	for _, c := range account.LoadCautions(s.Crew.Categories()) {
		out = append(out, c.Text)
	}
	out = append(out, s.Cautions...)
	seen := map[string]bool{}
	for i := range s.Oars {
		for _, text := range append(things.OarCautions(s.Oars[i]), things.RigCautions(s.RigOf(i))...) {
			if !seen[text] {
				seen[text] = true
				out = append(out, text)
			}
		}
	}
	return out
}

// setting says how the rigger is set, where it was given:
// "   height 15.0 cm   pitch 4.0 deg   work through 8.0 cm".
func setting(r *things.Rig) string {
	out := ""
	port, starboard := r.Gates()
	apart := port < starboard || port > starboard
	if apart { // no mean of two gates: that is the height of neither
		out = fmt.Sprintf("   gates port %s, starboard %s cm", table.Fixed(units.Trade(port, "cm"), 1),
			table.Fixed(units.Trade(starboard, "cm"), 1))
	}
	for _, m := range things.RigMeasures[2:] { // behind span and spread
		if apart && (m.Name == "height" || m.Name == "gates_apart") {
			continue
		}
		if x := m.Of(r); !math.IsNaN(x) {
			out += fmt.Sprintf("   %s %s %s", words.Spaced(m.Name), table.Fixed(units.Trade(x, m.Unit), 1),
				m.Unit)
		}
	}
	return out
}
