package asking

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/table"
	"thole/engine/words"
)

var tradeOff = &lang.Record{
	Name: "trade_off", Topic: "asking", Says: "it finds how much of each thing gives one change",
	Summary: "what brings a load up or down by so much, way by way, and what each costs",
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
			Help: "with one oar for all; with a rig also span or spread and stretcher"},
		{Name: "of", Is: lang.Text, ByName: true, Default: "heaviness", Help: "the result that is to change"},
		{Name: "change", Unit: "%", Is: lang.Number, ByName: true, Default: -3, Low: -50, High: 50,
			Help: "by how much"},
	},
	Gives: "a table: way from to unit by, what it brings (%), and the change of time over 2000 m, catch, " +
		"finish, arc, drive time and overlap; note says what a way that does not get there reaches",
	Errors:  []string{"a result that a stroke does not have", "an oar a seat"},
	Example: `trade_off(usual, change=-3)`,
	Sources: []string{"model 8", "bounds of the ways: usual measures as of oar, blade and rig; stretcher " +
		"6 cm either way, common practice, no source"},
	Notes: []string{"each way stays within what is usual, and the hands keep their reach",
		"what the stroke holds is held: at the same power, unless it was rowed otherwise"},
	Do: tradeOffDo,
}

// way is one thing that can be moved: its value now, how far it goes, how it is rowed.
type way struct {
	name, unit     string
	digits         int
	now, low, high float64
	row            func(x float64) (*rowing.Stroke, error)
	overlap        float64 // what one unit of it does to the overlap
}

func tradeOffDo(c *lang.Call) (starlark.Value, error) {
	s, _ := rowing.StrokeType.From(c.Value("stroke"))
	s, err := s.InForce(c.Thread)
	if err != nil {
		return nil, rowing.NoStroke(err)
	}
	f, ok := stroke.FieldNamed(c.Text("of"))
	if !ok {
		near := table.Nearest(c.Text("of"), fieldNames())
		if near == "" {
			near = "heaviness"
		}
		return nil, c.Wrong("of", lang.Mistake("it is a result of a stroke",
			"of="+starlark.String(near).String(),
			"a stroke has no %q", c.Text("of")))
	}
	if len(s.Oars) > 1 {
		return nil, c.Wrong("stroke", lang.Mistake("each way moves one oar, for all seats alike",
			"trade_off(s.change(oar=s.oar))", "this stroke has an oar a seat"))
	}
	out := newTrades(f.Name)
	for _, w := range waysOf(c, s) {
		x, got, note, err := w.reach(s, f, c.Number("change"))
		if err != nil {
			return nil, err
		}
		out.add(w, x, s, got, f, note)
	}
	return lang.NewTable(out.table(s, f, c.Number("change"))), nil
}

func fieldNames() []string {
	var names []string
	for _, f := range stroke.Fields {
		names = append(names, f.Name)
	}
	return names
}

// waysOf are the things that can be moved in this stroke.
func waysOf(c *lang.Call, s *rowing.Stroke) []way {
	o, of := s.Oars[0], s.Oars[0].Kind().String()
	both := 1.0 // a centimetre of inboard in the overlap
	if s.Hull.Sculling() {
		both = 2
	}
	oar := func(name string) func(float64) (*rowing.Stroke, error) {
		return func(x float64) (*rowing.Stroke, error) {
			changed, err := changedThing(c, things.OarType.New(o), name, starlark.Float(x))
			if err != nil {
				return nil, err
			}
			return changedStroke(c, s, starlark.Tuple{starlark.String("oar"), changed})
		}
	}
	rig := func(name string, more ...starlark.Tuple) func(float64) (*rowing.Stroke, error) {
		return func(x float64) (*rowing.Stroke, error) {
			changed, err := changedThing(c, things.RigType.New(s.Rig), name, starlark.Float(x))
			if err != nil {
				return nil, err
			}
			return changedStroke(c, s, append(more, starlark.Tuple{starlark.String("rig"), changed})...)
		}
	}
	number := func(thing lang.AnyThing, name string) float64 {
		v, _, _ := thing.Field(name)
		x, ok := lang.AsNumber(v)
		if !ok {
			return math.NaN()
		}
		return x
	}
	theOar := things.OarType.New(o)
	blade, _, _ := theOar.Field("blade")
	area := number(blade.(lang.AnyThing), "area")
	ways := []way{
		{name: "inboard, length kept", unit: "cm", digits: 1, now: number(theOar, "inboard"),
			row:     oar("inboard"),
			overlap: both},
		{name: "length, inboard kept", unit: "cm", digits: 1, now: number(theOar, "length"),
			row: oar("length")},
		{name: "blade area", unit: "cm²", digits: 0, now: area, row: func(x float64) (*rowing.Stroke, error) {
			changed, err := changedThing(c, blade, "area", starlark.Float(x))
			if err != nil {
				return nil, err
			}
			return oarWith(c, s, changed)
		}},
	}
	ways[0].low, ways[0].high = things.UsualRange("inboard", of)
	ways[1].low, ways[1].high = things.UsualRange("length", things.UsualOf(&o.Oar, "length"))
	ways[2].low, ways[2].high = things.UsualRange("area", o.Blade.Shape)
	if s.Rig != nil && len(s.Rigs) == 1 {
		pins := "spread"
		if s.Hull.Sculling() {
			pins = "span"
		}
		theRig := things.RigType.New(s.Rig)
		follows := starlark.Tuple{starlark.String("collar"), starlark.String("follows")}
		w := way{name: pins + ", collar following", unit: "cm", digits: 1, now: number(theRig, pins),
			row: rig(pins, follows)}
		w.low, w.high = things.UsualRange(pins, "")
		// the collar that follows stays within the usual inboards too
		w.low = math.Max(w.low, w.now+both*(ways[0].low-ways[0].now))
		w.high = math.Min(w.high, w.now+both*(ways[0].high-ways[0].now))
		ways = append(ways, w)
		if at := number(theRig, "stretcher"); !math.IsNaN(at) {
			ways = append(ways, way{name: "stretcher", unit: "cm", digits: 1, now: at, low: at - 6,
				high: at + 6, row: rig("stretcher")})
		}
	}
	for i := range ways {
		ways[i].low, ways[i].high = math.Min(ways[i].low, ways[i].now), math.Max(ways[i].high, ways[i].now)
	}
	return ways
}

// changedThing is thing.change(name=v).
func changedThing(c *lang.Call, thing starlark.Value, name string, v starlark.Value) (starlark.Value, error) {
	change, err := thing.(starlark.HasAttrs).Attr("change")
	if err != nil {
		return nil, err
	}
	return starlark.Call(c.Thread, change, nil, []starlark.Tuple{{starlark.String(name), v}})
}

// changedStroke is stroke.change(...).
func changedStroke(c *lang.Call, s *rowing.Stroke, args ...starlark.Tuple) (*rowing.Stroke, error) {
	change, err := rowing.StrokeType.New(s).Attr("change")
	if err != nil {
		return nil, err
	}
	v, err := starlark.Call(c.Thread, change, nil, args)
	if err != nil {
		return nil, err
	}
	made, _ := rowing.StrokeType.From(v)
	return made, nil
}

// oarWith rows the stroke with another blade on its oar.
func oarWith(c *lang.Call, s *rowing.Stroke, blade starlark.Value) (*rowing.Stroke, error) {
	o, err := changedThing(c, things.OarType.New(s.Oars[0]), "blade", blade)
	if err != nil {
		return nil, err
	}
	return changedStroke(c, s, starlark.Tuple{starlark.String("oar"), o})
}

// toTheEdge is said of a way that just gets there within what is usual.
const toTheEdge = "to the edge of the usual range"

// reach moves a way until the field has changed by so many per cent, or as near to it as
// the usual range allows, which note then says. A way that has no stroke at one end is
// asked of the other alone.
func (w *way) reach(s *rowing.Stroke, f *stroke.Field, percent float64) (x float64, got *rowing.Stroke,
	note string, err error) {
	if percent == 0 {
		return w.now, s, "", nil
	}
	was := f.Of(s.Stroke)
	short := func(t *rowing.Stroke) float64 { return 100*(f.Of(t.Stroke)/was-1) - percent }
	best, nearest, end := w.now, -percent, s
	for _, to := range []float64{w.low, w.high} {
		if to == w.now {
			continue
		}
		t, rowErr := w.row(to)
		if rowErr != nil {
			continue
		}
		at := short(t)
		if at*-percent < 0 || at == 0 { // between here and there lies what is asked
			x, err = study.Crossing(func(x float64) float64 {
				t, rowErr := w.row(x)
				if rowErr != nil {
					err = rowErr
					return 0
				}
				return short(t)
			}, w.now, to, -percent, at, 1e-4*math.Abs(to-w.now))
			if err != nil {
				return 0, nil, "", err
			}
			if math.Abs(x-to) < math.Pow(10, -float64(w.digits)) {
				note = toTheEdge
			}
			got, err = w.row(x)
			return x, got, note, err
		}
		if math.Abs(at) < math.Abs(nearest) {
			best, nearest, end = to, at, t
		}
	}
	switch {
	case best == w.now:
		note = "does not get there within the usual range"
	case math.Abs(nearest) < 0.05: // a tenth of a per cent is the least that is shown
		note = toTheEdge
	default:
		note = "does not get there: the usual range ends here"
	}
	return best, end, note, nil
}

// trades grows the table of ways.
type trades struct {
	way, unit, note                                    *table.Column
	from, to, by, brings                               *table.Column
	seconds, catch, finish, arc, drive, overlap, heavy *table.Column
}

func newTrades(of string) *trades {
	n := func(name, unit string, digits int) *table.Column {
		c := table.NewColumn(name, unit, table.Number)
		c.Digits, c.Change, c.Signed = digits, digits, true
		return c
	}
	t := &trades{way: table.NewColumn("way", "", table.Text), unit: table.NewColumn("unit", "", table.Text),
		note: table.NewColumn("note", "", table.Text), from: n("from", "", 1), to: n("to", "", 1),
		by:     n("by", "", 1),
		brings: n(of, "%", 1), seconds: n("over_2000_m", "s", 2), catch: n("catch", "deg", 1),
		finish: n("finish", "deg", 1), arc: n("arc", "deg", 1), overlap: n("overlap", "cm", 1)}
	t.drive, t.heavy = n("drive_time", "%", 1), n("heaviness", "%", 1)
	t.from.Signed, t.to.Signed = false, false
	return t
}

func (t *trades) add(w way, x float64, s, got *rowing.Stroke, f *stroke.Field, note string) {
	t.way.Texts, t.unit.Texts = append(t.way.Texts, w.name), append(t.unit.Texts, w.unit)
	t.note.Texts = append(t.note.Texts, note)
	put := func(c *table.Column, v float64) { c.Nums = append(c.Nums, v) }
	for _, c := range []*table.Column{t.from, t.to, t.by} {
		c.Units, c.Places = append(c.Units, w.unit), append(c.Places, w.digits)
	}
	put(t.from, w.now)
	put(t.to, x)
	put(t.by, x-w.now)
	part := func(name string) float64 { return 100 * (got.Of(name)/s.Of(name) - 1) }
	put(t.brings, part(f.Name))
	put(t.heavy, part("heaviness"))
	put(t.drive, part("drive_time"))
	put(t.seconds, got.Of("time_2000")-s.Of("time_2000"))
	put(t.catch, got.Of("catch")-s.Of("catch"))
	put(t.finish, got.Of("finish")-s.Of("finish"))
	put(t.arc, got.Of("arc")-s.Of("arc"))
	put(t.overlap, w.overlap*(x-w.now))
}

func (t *trades) table(s *rowing.Stroke, f *stroke.Field, change float64) *table.Table {
	out := &table.Table{
		Head:    "what brings " + table.Signed(change, -1) + " % of " + words.Spaced(f.Name),
		Held:    rowing.HeldAlike(s, s),
		Columns: []*table.Column{t.way, t.from, t.to, t.by, t.unit, t.brings},
	}
	for _, c := range []*table.Column{t.heavy, t.drive, t.seconds, t.catch, t.finish, t.arc, t.overlap,
		t.note} {
		if c.Name != f.Name {
			out.Columns = append(out.Columns, c)
		}
	}
	return out
}
