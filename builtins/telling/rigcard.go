package telling

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/rigging"
	"thole/engine/table"
)

var cardRecord = &lang.Record{
	Name: "card", Counts: "card", Topic: "telling", Summary: "a rigging card for the trailer", Tells: true,
	Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
			Help: "boat, crew, oar and rig as rowed"},
		{Name: "note", Is: lang.Text, ByName: true, Help: "a line on the card"}},
	Gives:   "nothing",
	Example: `card(usual, note="Set A.")`,
	Sources: []string{"model 12", "one change at a time: common practice, no source"},
}

func init() {
	cardRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		note, err := filled(c, "note")
		if err != nil {
			return nil, err
		}
		s, _ := rowing.StrokeType.From(c.Value("stroke"))
		if study := session.Of(c.Thread); study != nil {
			study.Tell(rigCard(s, note))
		}
		return starlark.None, nil
	}
}

// rigCard writes a stroke's boat, oar and rig down for those who set them.
func rigCard(s *rowing.Stroke, note string) *document.RigCard {
	o := s.Oars[0]
	card := &document.RigCard{Title: cardTitle(s), Side: cardSide(s)}
	row := func(label, format string, args ...any) {
		card.Rows = append(card.Rows, document.Item{Label: label, Value: fmt.Sprintf(format, args...)})
	}
	row("oar", "length %s   inboard %s   outboard %s cm", table.Fixed(o.Length/units.Cm, 1),
		table.Fixed(o.Inboard/units.Cm, 1), table.Fixed(o.Outboard()/units.Cm, 1))
	if o.Blade.Law == blade.Perfect {
		row("blade", "%s", things.BladeText(&o.Blade))
	} else {
		row("blade", "%s, %s cm², %s cm long", o.Blade.Shape, table.Fixed(o.Blade.Area/units.Cm2, 0),
			table.Fixed(o.Blade.Length/units.Cm, -1))
	}
	ratios := "lever " + table.Fixed(rigging.LeverRatio(&o.Oar), 2)
	if r := s.Rig; r != nil && !math.IsNaN(r.PinLine(o.Kind())) {
		pins := "span " + table.Fixed(r.Span/units.Cm, 1)
		if o.Kind() == blade.Sweep {
			pins = "spread " + table.Fixed(r.Spread/units.Cm, 1)
		}
		row("rig", "%s cm   overlap %s with gates, %s pin to pin%s", pins,
			table.Fixed(rigging.Overlap(&o.Oar, &r.Rig, true)/units.Cm, 1),
			table.Fixed(rigging.Overlap(&o.Oar, &r.Rig, false)/units.Cm, 1), setting(r))
		ratios += "   spread " + table.Fixed(rigging.SpreadRatio(&o.Oar, &r.Rig), 2) + "   survey " +
			table.Fixed(rigging.SurveyRatio(&o.Oar, &r.Rig), 2)
	}
	row("ratios", "%s   effective %s", ratios, table.Fixed(rigging.EffectiveRatio(&o.Oar, 0), 2))
	row("angles", "catch %s   finish %s   arc %s deg%s", table.Fixed(s.Of("catch"), -1),
		table.Fixed(s.Of("finish"), -1), table.Fixed(s.Of("arc"), -1), anglesFrom(s))
	row("rowed", "%s/min, %s each: %s, %s, drive %s", table.Fixed(s.Crew.Rate, -1), s.Said("power"),
		s.Said("speed"), s.Said("split"), s.Said("drive_time"))
	if note != "" {
		row("note", "%s", strings.Join(strings.Fields(note), " "))
	}
	seats(card, s)
	if s.SeatsDiffer() {
		unlikeRow(card)
	}
	card.Foot = append(card.Foot,
		"One change at a time; then overlap, height and pitch once more. Bolts, gates, heel ties.",
		"Checked: bolts   gates   collars   heel ties   spares",
		"Re-measured by ____________________   date ____________")
	return card
}

func cardTitle(s *rowing.Stroke) string {
	for _, name := range []string{s.Crew.Name, s.Name} {
		if name != "" {
			return name
		}
	}
	return "crew"
}

func cardSide(s *rowing.Stroke) string {
	parts := []string{cardTitle(s), s.Hull.Boat}
	var sets []string
	for _, o := range s.Oars {
		if o.Name != "" && !slices.Contains(sets, o.Name) {
			sets = append(sets, o.Name)
		}
	}
	if len(sets) > 0 {
		parts = append(parts, "set "+strings.Join(sets, " and "))
	}
	return strings.Join(parts, ", ")
}

// anglesFrom says where the angles come from, where nobody measured them.
func anglesFrom(s *rowing.Stroke) string {
	kind := s.Oars[0].Kind().String()
	for _, r := range s.Crew.Rowers {
		if math.IsNaN(r.Catch) || math.IsNaN(r.Finish) {
			return fmt.Sprintf(" (usual for %s, not measured)", map[string]string{"scull": "sculls",
				"sweep": "sweep"}[kind])
		}
	}
	return ""
}

// seats lists the seats with what is known and what is to be written in.
func seats(card *document.RigCard, s *rowing.Stroke) {
	n := s.Hull.Seats()
	for i := range n {
		label := strconv.Itoa(i + 1)
		switch {
		case n > 1 && i == 0:
			label += " bow"
		case n > 1 && i == n-1:
			label += " stroke"
		}
		card.Seats = append(card.Seats, label)
	}
	pins := "span"
	if s.Oars[0].Kind() == blade.Sweep {
		pins = "spread"
	}
	known := func(x float64) string {
		if math.IsNaN(x) {
			return ""
		}
		return table.Fixed(x, 1)
	}
	height, pitch, through := math.NaN(), math.NaN(), math.NaN()
	if s.Rig != nil {
		height, pitch, through = s.Rig.Height/units.Cm, s.Rig.Pitch/units.Deg, s.Rig.WorkThrough/units.Cm
	}
	card.Columns = []document.Item{
		{Label: pins, Unit: "cm"}, {Label: "inboard", Unit: "cm"}, {Label: "length", Unit: "cm"},
		{Label: "height", Unit: "cm", Value: known(height)}, {Label: "pitch", Unit: "deg",
			Value: known(pitch)}, {Label: "through", Unit: "cm", Value: known(through)}, {Label: "by"},
	}
	if s.SeatsDiffer() || len(s.Rigs) > 1 { // what each seat was given is shown seat by seat
		for i := range n {
			o, r := s.Oar(i), s.RigOf(i)
			line := make([]string, len(card.Columns))
			if r != nil {
				line[0] = known(r.PinLine(o.Kind()) / units.Cm * map[bool]float64{true: 2,
					false: 1}[o.Kind() == blade.Scull])
				line[3], line[4], line[5] = known(r.Height/units.Cm), known(r.Pitch/units.Deg),
					known(r.WorkThrough/units.Cm)
			}
			line[1], line[2] = known(o.Inboard/units.Cm), known(o.Length/units.Cm)
			card.Known = append(card.Known, line)
		}
	}
	card.Cautions = cardCautions(s)
	head := "write in what you find"
	if missing := missingText(height, pitch); missing != "" {
		head += "; " + missing
	}
	card.Foot = append(card.Foot, head)
}

func missingText(height, pitch float64) string {
	switch {
	case math.IsNaN(height) && math.IsNaN(pitch):
		return "height and pitch were not given"
	case math.IsNaN(height):
		return "height was not given"
	case math.IsNaN(pitch):
		return "pitch was not given"
	}
	return ""
}
