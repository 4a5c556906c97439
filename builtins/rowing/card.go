package rowing

import (
	"fmt"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/things"
	"thole/builtins/units"
	"thole/builtins/views"
	"thole/engine/document"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
	"thole/engine/words"
)

func init() {
	views.ByKind["stroke"] = func(v, _ starlark.Value) []document.Block {
		s, _ := StrokeType.From(v)
		return []document.Block{&document.Shown{Card: strokeCard(s)}}
	}
	views.ShortByKind["stroke"] = func(v starlark.Value) []string {
		s, _ := StrokeType.From(v)
		return strokeShort(s)
	}
}

// strokeCard shows every result field of a stroke, its energy and its oar.
func strokeCard(s *Stroke) *document.Card {
	title := s.Name
	if title == "" {
		title = "stroke"
	}
	card := &document.Card{Title: title, Side: circumstances(s)}
	for _, f := range stroke.Fields {
		if f.Name == "ground_speed" && s.Problem.Water.Drift == 0 {
			continue // the same as speed
		}
		text, unit := views.ValueAndUnit(f.Of(s.Stroke), f.Name, f.Unit, f.Digits)
		card.Items = append(card.Items, document.Item{Label: f.Name, Value: text, Unit: unit})
	}
	card.Foot = []string{"work " + table.Fixed(s.Energy.Work(), 0) + " J a stroke: " + energyLine(s),
		oarLine(s)}
	return card
}

// circumstances say where and by whom the stroke was rowed.
func circumstances(s *Stroke) string {
	parts := []string{s.Hull.Boat}
	if s.Crew.Name != "" {
		parts = append(parts, s.Crew.Name)
	}
	parts = append(parts, table.Fixed(s.Crew.Mean(func(r *things.Rower) float64 { return r.Mass }), -1)+" kg",
		table.Fixed(s.Crew.Rate, -1)+"/min", windText(s), s.water.Briefly())
	return strings.Join(parts, ", ")
}

func windText(s *Stroke) string {
	switch w := s.Problem.Wind; {
	case w > 0:
		return "wind " + table.Fixed(w, -1) + " m/s ahead"
	case w < 0:
		return "wind " + table.Fixed(-w, -1) + " m/s astern"
	}
	return "no wind"
}

// energyLine says where the work went, in per cent: "water 71 %, blade 20 %".
func energyLine(s *Stroke) string {
	e := &s.Energy
	var parts []string
	for _, p := range []struct {
		name string
		j    float64
	}{{"water", e.WaterDrag}, {"blade", e.BladeLoss}, {"air", e.AirDrag}, {"oar", e.OarSwing},
		{"shaft", e.ShaftDamping + e.SpringLeft}} {
		if p.name == "shaft" && p.j < 0.005*e.Work() {
			continue
		}
		parts = append(parts, p.name+" "+table.Fixed(100*p.j/e.Work(), 0)+" %")
	}
	return strings.Join(parts, ", ")
}

// oarLine says what was rowed with and how.
func oarLine(s *Stroke) string {
	text := "oar " + things.OarText(s.Oars[0])
	if len(s.Oars) > 1 && s.unlike() {
		text = "an oar a seat, bow: " + things.OarText(s.Oars[0])
	}
	text += "; " + s.Crew.Rowers[0].Style.Name + " style; " + words.Spaced(s.Problem.Hold.String()) + " held"
	return text
}

// unlike says whether the seats have different oars.
func (s *Stroke) unlike() bool {
	for _, o := range s.Oars[1:] {
		if !o.Oar.Equal(&s.Oars[0].Oar) {
			return true
		}
	}
	return false
}

// strokeShort is a stroke at the prompt.
func strokeShort(s *Stroke) []string {
	name := s.Name
	if name == "" {
		name = "stroke"
	}
	wind := windText(s)
	rigged := fmt.Sprintf("  oar %s / %s cm, outboard %s; catch %s, finish %s deg",
		table.Fixed(s.Of("outboard")+s.Of("inboard"), -1), table.Fixed(s.Of("inboard"), -1),
		table.Fixed(s.Of("outboard"), -1),
		table.Fixed(s.Of("catch"), -1), table.Fixed(s.Of("finish"), -1))
	if s.unlike() { // a mean of unlike oars is nobody's
		rigged = "  oars unlike, seat by seat, bow first: inboard " + eachSeat(s, "inboard") + " cm, catch " +
			eachSeat(s, "catch") + " deg, heaviness " + eachSeat(s, "heaviness") + " N·s/m; " +
			words.Spaced(s.Problem.Hold.String()) + " held"
	}
	return []string{
		fmt.Sprintf("%s: %s, %s, %s over 2000 m; %s/min, %s, %s", name, s.Said("speed"), s.Said("split"),
			s.Said("time_2000"), table.Fixed(s.Crew.Rate, -1), s.Said("power"), wind),
		fmt.Sprintf("  drive %s, rhythm %s, heaviness %s, peak %s, slip %s", s.Said("drive_time"),
			table.Fixed(s.Of("rhythm"), 2), s.Said("heaviness"), s.Said("peak_force"),
			table.Fixed(s.Of("slip"), 0)+" cm"),
		rigged,
	}
}

// eachSeat says a field seat by seat: "115, 115, 115, 116".
func eachSeat(s *Stroke, field string) string {
	f, _ := stroke.FieldNamed(field)
	texts := make([]string, s.Hull.Seats())
	for i := range texts {
		texts[i] = table.Fixed(rounding.Decimals(units.Clean(s.OfSeat(f, i), f.Unit), f.Digits), -1)
	}
	return strings.Join(texts, ", ")
}
