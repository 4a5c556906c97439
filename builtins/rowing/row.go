package rowing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/fluid"
	"thole/engine/stroke"
)

// Stroke is a steady stroke of a study, with the things it was rowed with.
type Stroke struct {
	*stroke.Stroke
	Hull  *things.Hull
	Crew  *things.Crew
	Oars  []*things.Oar // one for all, or one a seat
	Rig   *things.Rig   // of bow where seats differ; nil: not given
	Rigs  []*things.Rig
	water *things.Water
	Name  string
	Given things.Given

	asked  stroke.Problem // as the study has it, without the forms in force
	lender *Stroke        // whose value is held; nil: none
	under  *Assumed       // in force when it was rowed; nil: nothing
	before *Stroke        // the one it was changed from; nil: rowed from its parts
}

// label is how tables and figures call the stroke.
func (s *Stroke) label() string { return s.Name }

// Oar is the oar of a seat.
func (s *Stroke) Oar(seat int) *things.Oar { return s.Oars[min(seat, len(s.Oars)-1)] }

var rowRecord = &lang.Record{
	Name: "row", Topic: "doing", Makes: "strokes", Says: "it rows one steady stroke",
	Summary: "one steady stroke of a boat, a crew and an oar",
	Params: []lang.Param{
		{Name: "hull", Is: lang.ThingOf, Types: []string{"hull"}, Needed: true, Help: "the boat",
			Also: []string{"boat"}},
		{Name: "crew", Is: lang.ThingOf, Types: []string{"crew"}, Needed: true, Help: "who rows"},
		{Name: "oar", Is: lang.ThingOf, Types: []string{"oar"}, Each: true, Needed: true,
			Help: "one for all, or a list, bow first", Also: []string{"oars", "scull", "sculls"}},
		{Name: "rig", Is: lang.ThingOf, Types: []string{"rig"}, Each: true, ByName: true,
			Help: "where pins, slides and stretcher stand; one for all, or a list, bow first"},
		{Name: "hold", Is: lang.Text, ByName: true, Default: "power", Choices: stroke.Holds,
			Help: "what is held while other things change; handle_power where the crew's is given"},
		{Name: "target", Is: lang.Number | lang.ThingOf, Types: []string{"stroke"}, ByName: true, Low: 0.01,
			High: 20000, Help: "the value held; without it each rower's own power; a stroke lends its value"},
		{Name: "wind", Unit: "m/s", Is: lang.Number, ByName: true, Default: 0, Low: -20, High: 20,
			Help: "from ahead counts up"},
		{Name: "water", Is: lang.ThingOf, Types: []string{"water"}, ByName: true, Shown: "15 °C",
			Help: "water(temperature=)"},
		{Name: "measured_on", Is: lang.ThingOf, Types: []string{"oar"}, Each: true, ByName: true,
			Help: "the oar on which catch and finish were measured: on another the hands keep their reach"},
		{Name: "measured_rig", Is: lang.ThingOf, Types: []string{"rig"}, Each: true, ByName: true,
			Shown: "rig",
			Help: "the rig on which they were measured: where stretcher or slides stand otherwise, the " +
				"body moves with them"},
		{Name: "name", Is: lang.Text, ByName: true, Help: "how tables and charts call it"},
	},
	Gives: "a stroke: .speed .heaviness .slip and more, .energy .seats .change() .time() .trace()",
	Errors: []string{
		"a drive that leaves less than a fifth of the stroke to come forward",
		"a hold without target (but power)", "a span in a sweep boat",
		"two rigs of which only one says the stretcher", "sculls in a sweep boat",
		"a crew that does not fill the boat",
	},
	Example: `row(hull("1x"), crew(mass=84, power=380, rate=32), oar(length=288, inboard=88, blade="scull ` +
		`hatchet"))`,
	Notes: []string{"a stroke as target lends its value, and among unlike rowers how they share the " +
		"effort"},
	Sources: []string{"model 6", "model 7"},
	Do:      rowDo,
}

func rowDo(c *lang.Call) (starlark.Value, error) {
	s, p, err := problemOf(c)
	if err != nil {
		return nil, err
	}
	s.asked, s.under = p, AssumedOn(c.Thread)
	if s.Stroke, err = RowOrRecall(c.Thread, s.under.apply(p)); err != nil {
		return nil, NoStroke(err)
	}
	for _, text := range append(s.Cautions, s.handCautions()...) {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
	}
	account.AddStroke(c.Thread, s.Problem.Wind, subjectOf(s), s.Crew.Categories())
	return StrokeType.New(s), nil
}

// NoStroke turns a problem without a stroke into an error that a sweep keeps as
// a blank line.
func NoStroke(err error) error {
	var f *stroke.Failure
	if !errors.As(err, &f) {
		return lang.NoAnswer("", "", "%v", err)
	}
	e := lang.NoAnswer(f.Why, f.Type, "%s", f.What)
	e.Advise = f.Advice
	return e
}

// problemOf lays hull, crew and oars together, seat by seat.
func problemOf(c *lang.Call) (*Stroke, stroke.Problem, error) {
	s := &Stroke{water: things.StandardWater, Name: c.Text("name"), Given: things.GivenOf(c)}
	s.Hull, _ = things.HullType.From(c.Value("hull"))
	s.Crew, _ = things.CrewType.From(c.Value("crew"))
	if w, ok := things.WaterType.From(c.Value("water")); ok {
		s.water = w
	} else {
		account.Used(c, "water", "", "temperature")
	}
	account.Used(c, "air", "", "density")
	p := stroke.Problem{
		Hull: s.Hull.Hull, OarsPerRower: s.Hull.OarsPerRower(), Rate: s.Crew.Rate, Water: s.water.Water,
		Air:  fluid.StandardAir(),
		Wind: c.Number("wind"), Target: math.NaN(),
	}
	p.Hold = stroke.Hold(slices.Index(stroke.Holds, c.Text("hold")))
	if s.Crew.AtHandle() && !c.Given("hold") {
		p.Hold = stroke.HandlePower // each rower's own, as they were given
	}
	if err := target(c, s, &p); err != nil {
		return nil, p, err
	}
	if err := seat(c, s, &p); err != nil {
		return nil, p, err
	}
	if s.lender != nil {
		lend(&p, s.lender)
	}
	return s, p, cox(c, s, &p)
}

// target reads the held value: a number, or what a stroke has of it.
func target(c *lang.Call, s *Stroke, p *stroke.Problem) (err error) {
	if other, ok := StrokeType.From(c.Value("target")); ok {
		s.lender, err = other.InForce(c.Thread)
		return err
	}
	p.Target = c.Number("target")
	if p.Hold == stroke.Power && !math.IsNaN(p.Target) {
		account.NotMachine(c, "target", p.Target)
	}
	switch {
	case !math.IsNaN(p.Target) || p.Hold == stroke.Power && !s.Crew.AtHandle() ||
		p.Hold == stroke.HandlePower && s.Crew.AtHandle():
		return nil
	case p.Hold == stroke.Power:
		return c.Wrong("hold", lang.Mistake("this crew's power is given at the handle, as a machine shows it",
			`hold="handle_power", or target=380`, `hold="power" needs a target`))
	}
	example := map[stroke.Hold]string{stroke.HandlePower: "320, or handle_power= in crew",
		stroke.Effort: "1200", stroke.Force: "700", stroke.Speed: "4.8"}[p.Hold]
	return c.Wrong("hold", lang.Mistake("only power may be left to each rower's own", "target="+example,
		`hold="%s" needs a target`, p.Hold))
}

// seat puts the rowers on their seats, each with an oar, angles on that oar.
func seat(c *lang.Call, s *Stroke, p *stroke.Problem) error {
	seats := s.Hull.Seats()
	if s.Crew.Seats > 0 && s.Crew.Seats != seats {
		return c.Wrong("crew", lang.Mistake(fmt.Sprintf("a %s has %d seats", s.Hull.Boat, seats),
			"a boat for the crew, or a crew for the boat",
			"%d rowers do not fill a %s", s.Crew.Seats, s.Hull.Boat))
	}
	var err error
	if s.Oars, err = perSeat(c, "oar", seats, things.OarType); err != nil {
		return err
	}
	if err = seatRigs(c, s, seats); err != nil {
		return err
	}
	measured, err := perSeat(c, "measured_on", seats, things.OarType)
	if err != nil {
		return err
	}
	moved, err := bodyMoved(c, s, seats)
	if err != nil {
		return err
	}

	// seats that are alike stand for one
	places := max(len(s.Crew.Rowers), len(s.Oars), len(measured), len(moved))
	for i := range places {
		r, o := s.Crew.Rowers[min(i, len(s.Crew.Rowers)-1)], s.Oar(i)
		if (o.Kind() == blade.Scull) != s.Hull.Sculling() {
			return c.Wrong("oar", WrongKind(s.Hull, o))
		}
		kind := o.Kind().String()
		catch, finish := r.Catch, r.Finish
		if math.IsNaN(catch) {
			catch = things.Fact("rower", "catch", kind) * units.Deg
			account.Used(c, "rower", kind, "catch")
		}
		if math.IsNaN(finish) {
			finish = things.Fact("rower", "finish", kind) * units.Deg
			account.Used(c, "rower", kind, "finish")
		}
		if catch, finish, err = reached(c, measured, moved, i, o, catch, finish); err != nil {
			return err
		}
		count := 1
		if places == 1 {
			count = seats
		}
		p.Seats = append(p.Seats, stroke.Seat{Count: count, Rower: r.Rower, Oar: o.Oar, Catch: catch,
			Finish: finish})
	}
	return nil
}

// perSeat reads a thing or a list of them, one a seat.
func perSeat[T any](c *lang.Call, name string, seats int, kind *lang.Type[T]) ([]T, error) {
	var out []T
	for _, v := range c.Items(name) {
		x, ok := kind.From(v)
		if !ok {
			return nil, c.Wrong(name, lang.Mistake("", "", "something in %s= is no %s", name, kind.Name))
		}
		out = append(out, x)
	}
	if c.IsList(name) && len(out) != seats {
		return nil, c.Wrong(name, lang.Mistake("a list has one for each seat, bow first",
			"one for all, without the brackets", "%d in %s= for %d seats", len(out), name, seats))
	}
	return out, nil
}

// WrongKind is the error of sculls in a sweep boat, or sweep oars in a sculling one.
func WrongKind(h *things.Hull, o *things.Oar) *lang.Error {
	if h.Sculling() {
		return lang.Mistake("in a "+h.Boat+" each rower has two sculls",
			`a "scull hatchet" blade, or a sweep boat: hull("2-")`, "a %s takes sculls, this is a sweep oar",
			h.Boat)
	}
	return lang.Mistake("in a "+h.Boat+" each rower has one sweep oar",
		`a "sweep hatchet" blade, or a sculling boat: hull("2x")`, "a %s takes sweep oars, this is a scull",
		h.Boat)
}

// cox seats one where the boat has one.
func cox(c *lang.Call, s *Stroke, p *stroke.Problem) error {
	given := !math.IsNaN(s.Crew.Cox)
	switch {
	case s.Hull.Coxed() && given:
		p.CoxMass = s.Crew.Cox
	case s.Hull.Coxed():
		p.CoxMass = things.Fact("crew", "cox", "")
		account.Used(c, "crew", "", "cox")
	case given && s.Crew.Cox > 0:
		return c.Wrong("crew", lang.Mistake("boats with a cox are 2+ 4+ 8+",
			`hull("4+"), or a crew without cox`, "a %s has no seat for a cox", s.Hull.Boat))
	}
	return nil
}

// subjectOf says who a stroke is about: "Otters, 4x".
func subjectOf(s *Stroke) string {
	if s.Crew.Name == "" {
		return s.Hull.Boat
	}
	return s.Crew.Name + ", " + s.Hull.Boat
}

// SeatsDiffer says whether an oar or a rig of one seat is not that of another.
func (s *Stroke) SeatsDiffer() bool {
	for _, r := range s.Rigs[min(1, len(s.Rigs)):] {
		if !things.SameRig(r, s.Rigs[0]) {
			return true
		}
	}
	return s.unlike()
}

// RigOf is the rig of a seat, nil where none was given.
func (s *Stroke) RigOf(seat int) *things.Rig {
	if len(s.Rigs) == 0 {
		return nil
	}
	return s.Rigs[min(seat, len(s.Rigs)-1)]
}

// Perfect says whether no blade of the boat slips: a reference nobody can own.
func (s *Stroke) Perfect() bool {
	for _, o := range s.Oars {
		if o.Blade.Law != blade.Perfect {
			return false
		}
	}
	return true
}

// SeatBySeat tells seats apart that stand for one because they row alike.
func (s *Stroke) SeatBySeat(seats int) *stroke.Stroke {
	apart := *s.Stroke
	seat, solved := s.Problem.Seats[0], s.Stroke.Seats[0]
	seat.Count = 1
	apart.Problem.Seats, apart.Seats = nil, nil
	for range seats {
		apart.Problem.Seats = append(apart.Problem.Seats, seat)
		apart.Seats = append(apart.Seats, solved)
	}
	return &apart
}
