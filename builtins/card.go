package builtins

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/rigging"
)

var cardRecord = &lang.Record{
	Name: "card", Counts: "card", Topic: "telling", Summary: "a rigging card for the trailer", Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true, Help: "boat, crew, oar and rig as rowed"},
		{Name: "note", Is: lang.Text, ByName: true, Help: "a line on the card"}},
	Gives:   "nothing",
	Example: `card(usual, note="Set A.")`,
	Sources: []string{"facts 6: conventions; facts 8: one change at a time"},
}

func init() {
	cardRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		note, err := filled(c, "note")
		if err != nil {
			return nil, err
		}
		s, _ := strokeType.From(c.Value("stroke"))
		if study := session.Of(c.Thread); study != nil {
			study.Tell(rigCard(s, note))
		}
		return starlark.None, nil
	}
}

// rigCard writes a stroke's boat, oar and rig down for those who set them.
func rigCard(s *strokeValue, note string) *document.RigCard {
	o := s.oars[0]
	card := &document.RigCard{Title: cardTitle(s), Side: cardSide(s)}
	row := func(label, format string, args ...any) {
		card.Rows = append(card.Rows, document.Item{Label: label, Value: fmt.Sprintf(format, args...)})
	}
	row("oar", "length %s   inboard %s   outboard %s cm", show(o.Length/cm, 1), show(o.Inboard/cm, 1), show(o.Outboard()/cm, 1))
	if o.Blade.Law == blade.Perfect {
		row("blade", "%s", bladeText(&o.Blade))
	} else {
		row("blade", "%s, %s cm², %s cm long", o.Blade.Shape, show(o.Blade.Area/cm2, 0), show(o.Blade.Length/cm, -1))
	}
	ratios := "lever " + show(rigging.LeverRatio(&o.Oar), 2)
	if r := s.rig; r != nil && !math.IsNaN(r.PinLine(o.Kind())) {
		pins := "span " + show(r.Span/cm, 1)
		if o.Kind() == blade.Sweep {
			pins = "spread " + show(r.Spread/cm, 1)
		}
		row("rig", "%s cm   overlap %s with gates, %s pin to pin%s", pins, show(rigging.Overlap(&o.Oar, &r.Rig, true)/cm, 1), show(rigging.Overlap(&o.Oar, &r.Rig, false)/cm, 1), setting(r))
		ratios += "   spread " + show(rigging.SpreadRatio(&o.Oar, &r.Rig), 2) + "   survey " + show(rigging.SurveyRatio(&o.Oar, &r.Rig), 2)
	}
	row("ratios", "%s   effective %s", ratios, show(rigging.EffectiveRatio(&o.Oar, 0), 2))
	row("angles", "catch %s   finish %s   arc %s deg%s", show(s.of("catch"), -1), show(s.of("finish"), -1), show(s.of("arc"), -1), anglesFrom(s))
	row("rowed", "%s/min, %s each: %s, %s, drive %s", show(s.crew.rate, -1), s.said("power"), s.said("speed"), s.said("split"), s.said("drive_time"))
	if note != "" {
		row("note", "%s", strings.Join(strings.Fields(note), " "))
	}
	seats(card, s)
	if s.seatsDiffer() {
		unlikeRow(card)
	}
	card.Foot = append(card.Foot, "One change at a time; then overlap, height and pitch once more. Bolts, gates, heel ties.",
		"Checked: bolts   gates   collars   heel ties   spares",
		"Re-measured by ____________________   date ____________")
	return card
}

func cardTitle(s *strokeValue) string {
	for _, name := range []string{s.crew.name, s.name} {
		if name != "" {
			return name
		}
	}
	return "crew"
}

func cardSide(s *strokeValue) string {
	parts := []string{cardTitle(s), s.hull.Boat}
	var sets []string
	for _, o := range s.oars {
		if o.name != "" && !contains(sets, o.name) {
			sets = append(sets, o.name)
		}
	}
	if len(sets) > 0 {
		parts = append(parts, "set "+strings.Join(sets, " and "))
	}
	return strings.Join(parts, ", ")
}

// anglesFrom says where the angles come from, where nobody measured them.
func anglesFrom(s *strokeValue) string {
	kind := s.oars[0].Kind().String()
	for _, r := range s.crew.rowers {
		if math.IsNaN(r.catch) || math.IsNaN(r.finish) {
			return fmt.Sprintf(" (usual for %s, not measured)", map[string]string{"scull": "sculls", "sweep": "sweep"}[kind])
		}
	}
	return ""
}

// seats lists the seats with what is known and what is to be written in.
func seats(card *document.RigCard, s *strokeValue) {
	n := s.hull.Seats()
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
	if s.oars[0].Kind() == blade.Sweep {
		pins = "spread"
	}
	known := func(x float64) string {
		if math.IsNaN(x) {
			return ""
		}
		return show(x, 1)
	}
	height, pitch, through := math.NaN(), math.NaN(), math.NaN()
	if s.rig != nil {
		height, pitch, through = s.rig.Height/cm, s.rig.Pitch/deg, s.rig.WorkThrough/cm
	}
	card.Columns = []document.Item{
		{Label: pins, Unit: "cm"}, {Label: "inboard", Unit: "cm"}, {Label: "length", Unit: "cm"},
		{Label: "height", Unit: "cm", Value: known(height)}, {Label: "pitch", Unit: "deg", Value: known(pitch)}, {Label: "through", Unit: "cm", Value: known(through)}, {Label: "by"},
	}
	if s.seatsDiffer() || len(s.rigs) > 1 { // what each seat was given is shown seat by seat
		for i := range n {
			o, r := s.oar(i), s.rigOf(i)
			line := make([]string, len(card.Columns))
			if r != nil {
				line[0] = known(r.PinLine(o.Kind()) / cm * map[bool]float64{true: 2, false: 1}[o.Kind() == blade.Scull])
				line[3], line[4], line[5] = known(r.Height/cm), known(r.Pitch/deg), known(r.WorkThrough/cm)
			}
			line[1], line[2] = known(o.Inboard/cm), known(o.Length/cm)
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

// seatsDiffer says whether an oar or a rig of one seat is not that of another.
func (s *strokeValue) seatsDiffer() bool {
	for _, r := range s.rigs[min(1, len(s.rigs)):] {
		if !sameRig(r, s.rigs[0]) {
			return true
		}
	}
	return s.unlike()
}

// rigOf is the rig of a seat, nil where none was given.
func (s *strokeValue) rigOf(seat int) *rigValue {
	if len(s.rigs) == 0 {
		return nil
	}
	return s.rigs[min(seat, len(s.rigs)-1)]
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
