package telling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/rigging"
	"thole/engine/table"
	"thole/engine/words"
)

var cardRecord = &lang.Record{
	Name: "card", Counts: "card", Topic: "telling", Summary: "a rigging card for the trailer", Tells: true,
	Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
			Help: "boat, crew, oar and rig as rowed"},
		{Name: "note", Is: lang.Text, ByName: true, Help: "a line on the card"},
		{Name: "season", Is: lang.Text, ByName: true, Help: "for which it holds"},
		{Name: "further", Is: lang.Dict, ByName: true,
			Help: `more to set, bow first: {"oars": ["1 and 2", "3 and 4"], "stretcher angle (deg)": [40, 41]}`},
		{Name: "doubtful", Is: lang.List, ByName: true,
			Help: `what is not believed, seat by seat: [(3, "span", "159.2 cm, the others 158.0")]`}},
	Gives: "nothing; printed it is one A4 sheet a boat: what to set and a place for what was found, seat " +
		"by seat",
	Notes: []string{"what is doubtful stands as ? and not as a number to set; what nobody knows stays " +
		"blank"},
	Errors: []string{"further without a value for each seat",
		"a seat or a column in doubtful that the card does not have"},
	Example: `card(usual, note="Set A.", season="2026")`,
	Sources: []string{"model 12", "one change at a time: common practice, no source"},
}

func init() {
	cardRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		note, err := filled(c, "note")
		if err != nil {
			return nil, err
		}
		s, _ := rowing.StrokeType.From(c.Value("stroke"))
		rowing.TellOwnLoad(account.BookOf(c.Thread), c.Value("stroke"))
		card := rigCard(s, note)
		if c.Given("season") && c.Text("season") != "" {
			card.Side += ", season " + c.Text("season")
		}
		if err := furtherColumns(c, card); err != nil {
			return nil, err
		}
		if err := doubtful(c, card); err != nil {
			return nil, err
		}
		if study := session.Of(c.Thread); study != nil {
			study.Tell(card)
		}
		return starlark.None, nil
	}
}

// rigCard writes a stroke's boat, oar and rig down for those who set them: above what is
// the crew's, beneath it seat by seat what is set there, then the drawing.
func rigCard(s *rowing.Stroke, note string) *document.RigCard {
	o := s.Oars[0]
	card := &document.RigCard{Title: cardTitle(s), Side: cardSide(s)}
	to, computed, whose := &card.Rows, &card.Computed, ""
	if careful := account.CarefulOf(s.Crew.Categories()); len(careful) > 0 {
		card.Rows = append(card.Rows, document.Item{Label: "category", Value: words.List(careful) +
			": lighter first, in small steps"})
	}
	if s.SeatsDiffer() { // what one seat has is not for the spanner at another
		whose = "bow's "
		card.Rows = append(card.Rows, document.Item{Label: "seats",
			Value: "not set alike: see each line; what is marked bow's is seat 1's"})
		to = computed
	}
	row := func(label, format string, args ...any) {
		*to = append(*to, document.Item{Label: label, Value: fmt.Sprintf(format, args...)})
	}
	row(whose+"oar", "length %s   inboard %s   outboard %s cm", table.Fixed(o.Length/units.Cm, 1),
		table.Fixed(o.Inboard/units.Cm, 1), table.Fixed(o.Outboard()/units.Cm, 1))
	ratios := "lever " + table.Fixed(rigging.LeverRatio(&o.Oar), 2)
	if r := s.Rig; r != nil {
		row(whose+"rig", "%s %s cm   overlap %s with gates, %s pin to pin%s", pinsName(o),
			table.Fixed(pins(o, r), 1),
			table.Fixed(rigging.Overlap(&o.Oar, &r.Rig, true)/units.Cm, 1),
			table.Fixed(rigging.Overlap(&o.Oar, &r.Rig, false)/units.Cm, 1), setting(r))
		ratios += "   spread " + table.Fixed(rigging.SpreadRatio(&o.Oar, &r.Rig), 2) + "   survey " +
			table.Fixed(rigging.SurveyRatio(&o.Oar, &r.Rig), 2)
	}
	to = &card.Rows
	if o.Blade.Law == blade.Perfect {
		row(whose+"blade", "%s", things.BladeText(&o.Blade))
	} else {
		row(whose+"blade", "%s, %s cm², %s cm long", o.Blade.Shape, table.Fixed(o.Blade.Area/units.Cm2, 0),
			table.Fixed(o.Blade.Length/units.Cm, -1))
	}
	if note != "" {
		row("note", "%s", strings.Join(strings.Fields(note), " "))
	}
	to = computed
	if high := hands(s); high != "" {
		row(whose+"hands", "%s", high)
	}
	row(whose+"ratios", "%s   effective %s", ratios, table.Fixed(rigging.EffectiveRatio(&o.Oar, 0), 2))
	angles := anglesFrom(s)
	if len(s.Problem.Seats) > 1 && angles == "" {
		angles = " (mean of the seats)"
	}
	row("angles", "catch %s   finish %s   arc %s deg%s", table.Fixed(s.Of("catch"), -1),
		table.Fixed(s.Of("finish"), -1), table.Fixed(s.Of("arc"), -1), angles)
	row("rowed", "%s/min, %s each: %s, %s, drive %s", table.Fixed(s.Crew.Rate, -1), s.Said("power"),
		s.Said("speed"), s.Said("split"), s.Said("drive_time"))
	seats(card, s)
	card.Foot = append(card.Foot,
		"One change at a time; then overlap, height and pitch once more. Bolts, gates, heel ties.",
		"Lift with two; whoever coaches the crew decides. Pain: stop.",
		"On the water: a launch beside the crew; cold water: the local rules on when not to row.",
		"Checked: bolts   gates   collars   heel ties   spares",
		"Set by ________________   date __________   Re-measured by ________________   date __________")
	if r, ok := s.Rigged(0, cardTitle(s)); ok {
		card.Drawing = &document.Figure{Kind: figure.Rig, Name: whose + "rig", Rigs: []document.Rigged{r},
			Table: figure.RigTable([]document.Rigged{r})}
	}
	return card
}

// hands says how high they go in bow's seat, "" where no height was given.
func hands(s *rowing.Stroke) string {
	if r, ok := s.Rigged(0, ""); ok && !math.IsNaN(r.Drive) {
		return table.Fixed(r.Drive, 1) + " cm over the seat in the drive"
	}
	return ""
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
	if name := s.Hull.Called(); name != "" {
		parts = append(parts, name)
	}
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
