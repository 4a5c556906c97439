package asking

import (
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/canonical"
	"thole/engine/equalload"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
)

var equalLoad = &lang.Record{
	Name: "equal_load", Topic: "asking", Says: "it finds the oar that loads a crew the same",
	Summary: "the oar that loads this crew as the stroke does",
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
			Help: "whose load is kept, in its hull, wind and water"},
		{Name: "oar", Is: lang.ThingOf, Types: []string{"oar"}, Each: true, Needed: true,
			Help: "the new oar, one for all or a list, bow first; one of its lengths is changed"},
		{Name: "adjust", Is: lang.Text, ByName: true, Default: "outboard", Choices: equalload.Adjusts,
			Help: "the length that is changed; outboard and length keep the inboard, inboard keeps the " +
				"length"},
		{Name: "match", Is: lang.Text, ByName: true, Default: "drive_time", Choices: equalload.Matches,
			Help: "what stays the same"},
		{Name: "at", Is: lang.Text, ByName: true, Default: "speed", Choices: []string{"speed", "power",
			"effort"}, Help: "at the same speed, power or effort"},
	},
	Gives: "the oar; its .note tells what was matched, the second oar where two match, and what the usual " +
		"lengths reach where it lies beyond them. For a list, or " +
		"rowers unlike each other: a list, seat by seat",
	Errors: []string{
		"no oar of the window matches: with what the window reaches",
		"heaviness at the same speed, early_load and peak_force but at the same effort: they have no " +
			"answer there",
	},
	Example: `equal_load(usual, sculls.change(blade=sculls.blade.change(area=900)))`,
	Sources: []string{"model 8", "bigger or better blades go with shorter oars: Nolte 2009"},
	Notes: []string{
		"the hands keep their reach when the inboard changes, as in stroke.change(oar=)",
		"unlike rowers share the effort as they do in the stroke: rowed again with target= that stroke " +
			"each one has their own load; with a number as target row shares by their powers",
	},
	Do: equalLoadDo,
}

func equalLoadDo(c *lang.Call) (starlark.Value, error) {
	s, _ := rowing.StrokeType.From(c.Value("stroke"))
	s, err := s.InForce(c.Thread)
	if err != nil {
		return nil, err
	}
	var fresh []*things.Oar
	for _, v := range c.Items("oar") {
		o, ok := things.OarType.From(v)
		if !ok {
			return nil, c.Wrong("oar", lang.Mistake("a list holds one oar a seat",
				"oar=[bow, two, three, stroke]", "%s among the oars is no oar", lang.KindOf(v)))
		}
		if o.Kind() != s.Oars[0].Kind() {
			return nil, c.Wrong("oar", rowing.WrongKind(s.Hull, o))
		}
		fresh = append(fresh, o)
	}
	seats := s.Hull.Seats()
	if c.IsList("oar") && len(fresh) != seats {
		return nil, c.Wrong("oar", lang.Mistake("a list has one oar for each seat, bow first",
			"one oar without the brackets, for all", "%d in oar= for %d %s", len(fresh), seats,
			map[bool]string{true: "seat", false: "seats"}[seats == 1]))
	}

	e := equalload.Question{
		Adjust: equalload.Adjust(slices.Index(equalload.Adjusts, c.Text("adjust"))),
		Match:  equalload.Match(slices.Index(equalload.Matches, c.Text("match"))),
		At:     stroke.Hold(slices.Index(stroke.Holds, c.Text("at"))), KeepReach: true,
	}
	if now := rowing.AssumedOn(c.Thread); now != nil {
		now.Searched.Store(true)
		if now.Match != "" {
			e.Match = equalload.Match(slices.Index(equalload.Matches, now.Match))
			e.At = stroke.Hold(slices.Index(stroke.Holds, now.At))
		}
	}
	base := s.Stroke
	if c.IsList("oar") && len(s.Problem.Seats) == 1 {
		base = s.SeatBySeat(seats)
	}
	for _, o := range fresh {
		e.Oars = append(e.Oars, s.OarInForce(c.Thread, o.Oar))
	}
	got, err := loadOrRecall(c.Thread, base, e)
	if err != nil {
		return nil, rowing.NoStroke(err)
	}
	spread, err := loadSpread(c, base, e)
	if err != nil {
		return nil, err
	}
	var oars []starlark.Value
	for i, m := range got {
		o, err := lengthened(c, fresh[min(i, len(fresh)-1)], &e, m)
		if err != nil {
			return nil, err
		}
		if spread != nil {
			o.Note += "; " + spread[i]
		}
		if i == 0 && !math.IsNaN(m.Other) {
			lang.HostOf(c.Thread).Caution(c.Thread,
				lang.Caution{Text: "two oars load alike; the one nearer to the old is taken: " + o.Note,
					Key:   "two oars load alike",
					Many:  "two oars load alike in several places; the one nearer to the old is taken (%s)",
					Value: table.Fixed(m.Other/units.Cm, 1) + " cm is the other"})
		}
		oars = append(oars, things.OarType.New(o))
	}
	if err := tellUsualLoad(c, s, &e, oars); err != nil {
		return nil, err
	}
	if !c.IsList("oar") && s.Alike() {
		return oars[0], nil
	}
	return starlark.NewList(oars), nil
}

// loadSpread says, seat by seat, between which lengths the answer lies over all definitions
// of load: of them none is the right one. nil inside a function that is called many times.
func loadSpread(c *lang.Call, base *stroke.Stroke, e equalload.Question) ([]string, error) {
	if session.Inside(c.Thread) {
		return nil, nil
	}
	var low, high []float64
	answers, ways := 0, equalload.Definitions()
	for _, way := range ways {
		e.Match, e.At = way.Match, way.At
		got, err := loadOrRecall(c.Thread, base, e)
		if ended := c.Context().Err(); ended != nil {
			return nil, ended
		}
		if err != nil {
			continue // no oar of the window matches by this definition
		}
		answers++
		for i, m := range got {
			if answers == 1 {
				low, high = append(low, m.Length), append(high, m.Length)
			}
			low[i], high[i] = min(low[i], m.Length), max(high[i], m.Length)
		}
	}
	var out []string
	for i := range low {
		out = append(out, fmt.Sprintf("over %d of %d definitions of load %s %s", answers, len(ways), e.Adjust,
			table.WithUnit(table.Range(low[i]/units.Cm, high[i]/units.Cm, 1, false), "cm")))
	}
	return out, nil
}

// loaded is the answer for a seat: the length that was found, by how much the
// load misses, and the length of a second oar that matches, NaN for none; m.
type loaded struct{ Length, Miss, Other float64 }

// loadOrRecall finds the equal loads, or takes them from the points already
// computed: like a stroke they are a pure function of what is asked.
func loadOrRecall(thread *starlark.Thread, base *stroke.Stroke, e equalload.Question) ([]loaded, error) {
	var kept session.Remember
	if study := session.Of(thread); study != nil && study.Config().Kept != nil &&
		study.Config().Kept.Awake() {
		kept = study.Config().Kept
	}
	var key []byte
	var seats []loaded
	if kept != nil {
		key = canonical.Bytes(canonical.Bytes([]byte("equal_load "), base.Problem), e)
		if data, ok := kept.Get(key); ok && canonical.Read(data, &seats) == nil {
			return seats, nil
		}
	}
	got, err := equalload.Find(base, e, stroke.Settings{})
	if err != nil {
		return nil, err
	}
	seats = nil
	for i := range got.Seats {
		m := &got.Seats[i]
		l := loaded{Length: e.Adjust.Of(&m.Oar), Miss: math.Abs(m.Got/m.Wanted - 1), Other: math.NaN()}
		if m.Other != nil {
			l.Other = e.Adjust.Of(m.Other)
		}
		seats = append(seats, l)
	}
	if kept != nil {
		kept.Put(key, canonical.Bytes(nil, seats))
	}
	return seats, nil
}

// lengthened makes the oar with the length that was found, from what made it.
func lengthened(c *lang.Call, fresh *things.Oar, e *equalload.Question, m loaded) (*things.Oar, error) {
	change, err := things.OarType.New(fresh).Attr("change")
	if err != nil {
		return nil, err
	}
	v, err := starlark.Call(c.Thread, change, nil, []starlark.Tuple{{starlark.String(e.Adjust.String()),
		starlark.Float(rounding.Clean(m.Length / units.Cm))}})
	if err != nil {
		return nil, err
	}
	made, _ := things.OarType.From(v)
	closely := "exactly"
	if m.Miss > 0 {
		closely = fmt.Sprintf("to %.0e", m.Miss)
	}
	made.Note = fmt.Sprintf("%s matched at the same %s, %s", e.Match, e.At, closely)
	if !math.IsNaN(m.Other) {
		made.Note += fmt.Sprintf("; a second oar matches too: %s %s cm", e.Adjust,
			table.Fixed(m.Other/units.Cm, 1))
	}
	return made, nil
}
