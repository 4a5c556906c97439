package builtins

import (
	"fmt"
	"math"
	"strings"

	"thole/builtins/lang"
	"thole/engine/document"
)

// cardCautions are what those who set the boat must see on the card itself: the
// crew's load first where it needs more care, then what is out of the ordinary
// about the stroke, then lengths outside the trade's ranges.
func cardCautions(s *strokeValue) []string {
	var out []string
	for _, c := range (&book{category: s.crew.category()}).load() {
		out = append(out, c.Text)
	}
	out = append(out, s.Cautions...)
	seen := map[string]bool{}
	for i := range s.oars {
		for _, text := range append(oarCautions(s.oars[i]), rigCautions(s.rigOf(i))...) {
			if !seen[text] {
				seen[text] = true
				out = append(out, text)
			}
		}
	}
	return out
}

func oarCautions(o *oarValue) []string {
	kind := o.Kind().String()
	of := kind
	if o.Blade.Shape == kind+" tulip" { // longer by custom
		of = o.Blade.Shape
	}
	return append(unusual(oarRecord, "length", o.Length/cm, of), unusual(oarRecord, "inboard", o.Inboard/cm, kind)...)
}

func rigCautions(r *rigValue) []string {
	if r == nil {
		return nil
	}
	var out []string
	for _, part := range []struct {
		name string
		x    float64
	}{{"span", r.Span / cm}, {"spread", r.Spread / cm}, {"height", r.Height / cm}, {"pitch", r.Pitch / deg}} {
		out = append(out, unusual(rigRecord, part.name, part.x, "")...)
	}
	return out
}

// unusual says that a value lies outside the trade's range, which stands in the
// record of the function that takes it and nowhere else.
func unusual(r *lang.Record, param string, x float64, of string) []string {
	var out []string
	for _, p := range r.Params {
		if p.Name != param || math.IsNaN(x) {
			continue
		}
		for _, u := range p.Usual {
			if u.Of == of && (tidy(x) < u.Low || tidy(x) > u.High) {
				out = append(out, fmt.Sprintf("%s %s %s lies outside the usual %s to %s.", strings.ToUpper(param[:1])+param[1:], show(x, 1), p.Unit, show(u.Low, -1), show(u.High, -1)))
			}
		}
	}
	return out
}

// setting says how the rigger is set, where it was given and is alike in all
// seats: "   height 15.0   pitch 4.0 deg   through 8.0 cm".
func setting(r *rigValue) string {
	out := ""
	for _, part := range []struct {
		name, unit string
		x          float64
	}{{"height", "cm", r.Height / cm}, {"pitch", "deg", r.Pitch / deg}, {"through", "cm", r.WorkThrough / cm}} {
		if !math.IsNaN(part.x) {
			out += fmt.Sprintf("   %s %s %s", part.name, show(part.x, 1), part.unit)
		}
	}
	return out
}

// unlikeRow heads the card of a boat whose seats are set unlike each other.
func unlikeRow(card *document.RigCard) {
	card.Rows = append([]document.Item{{Label: "seats", Value: "not set alike: see each line; oar, rig and ratios here are bow's"}}, card.Rows...)
}
