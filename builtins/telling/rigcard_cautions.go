package telling

import (
	"fmt"
	"math"

	"thole/builtins/account"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/document"
	"thole/engine/table"
)

// cardCautions are what those who set the boat must see on the card itself: the
// crew's load first where it needs more care, then what is out of the ordinary
// about the stroke, then lengths outside the trade's ranges.
func cardCautions(s *rowing.Stroke) []string {
	var out []string
	for _, c := range account.LoadCautions(s.Crew.Category()) {
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

// setting says how the rigger is set, where it was given and is alike in all
// seats: "   height 15.0   pitch 4.0 deg   through 8.0 cm".
func setting(r *things.Rig) string {
	out := ""
	for _, part := range []struct {
		name, unit string
		x          float64
	}{{"height", "cm", r.Height / units.Cm}, {"pitch", "deg", r.Pitch / units.Deg}, {"through", "cm",
		r.WorkThrough / units.Cm}} {
		if !math.IsNaN(part.x) {
			out += fmt.Sprintf("   %s %s %s", part.name, table.Fixed(part.x, 1), part.unit)
		}
	}
	return out
}

// unlikeRow heads the card of a boat whose seats are set unlike each other.
func unlikeRow(card *document.RigCard) {
	card.Rows = append([]document.Item{{Label: "seats", Value: "not set alike: see each line; oar, rig " +
		"and ratios here are bow's"}}, card.Rows...)
}
