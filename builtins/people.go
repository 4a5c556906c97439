package builtins

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/crew"
	"thole/engine/table"
)

// rowerValue is one rower of a study. Angles left open follow the kind of boat.
type rowerValue struct {
	crew.Rower
	name          string
	catch, finish float64 // rad; NaN: by the kind of boat
	category      string
	given         given
}

// crewValue is a crew: rowers alike (one, as often as the boat has seats) or
// rowers one by one.
type crewValue struct {
	rowers []*rowerValue // one for rowers alike, else bow first
	alike  bool
	seats  int     // rowers alike: how many, 0 as the boat has; else len(rowers)
	cox    float64 // kg; NaN: 55 where the boat has one
	rate   float64 // 1/min
	name   string
	given  given
}

// Categories say which cautions come first.
var categories = []string{"senior", "junior", "novice", "masters", "returning"}

var rowerType = &lang.Type[*rowerValue]{
	Name:  "rower",
	Label: func(r *rowerValue) string { return r.name },
	Same:  sameRower,
	Line: func(r *rowerValue) string {
		s := fmt.Sprintf("rower %s kg, %s W", show(r.Mass, -1), show(r.Power, -1))
		if !math.IsNaN(r.catch) || !math.IsNaN(r.finish) {
			s += fmt.Sprintf(", catch %s, finish %s deg", angleText(r.catch), angleText(r.finish))
		}
		if r.Style.Name != "usual" {
			s += ", " + r.Style.Name + " style"
		}
		if r.category != "senior" {
			s += ", " + r.category
		}
		return s
	},
}

// sameRower compares rowers; an angle left open equals one left open.
func sameRower(a, b *rowerValue) bool {
	open := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return a == b || a.name == b.name && a.category == b.category && open(a.catch, b.catch) && open(a.finish, b.finish) && a.Rower.Equal(&b.Rower)
}

// sameCrew compares crews seat by seat.
func sameCrew(a, b *crewValue) bool {
	if a.alike != b.alike || a.seats != b.seats || a.rate != b.rate || a.name != b.name || len(a.rowers) != len(b.rowers) ||
		!(a.cox == b.cox || math.IsNaN(a.cox) && math.IsNaN(b.cox)) {
		return false
	}
	for i := range a.rowers {
		if !sameRower(a.rowers[i], b.rowers[i]) {
			return false
		}
	}
	return true
}

func angleText(rad float64) string {
	if math.IsNaN(rad) {
		return "by boat"
	}
	return show(rad/deg, -1)
}

var crewType = &lang.Type[*crewValue]{
	Name:  "crew",
	Label: func(c *crewValue) string { return c.name },
	Same:  sameCrew,
	Line: func(c *crewValue) string {
		head := "crew"
		if c.name != "" {
			head += " " + c.name
		}
		if c.alike {
			n := ""
			if c.seats > 1 {
				n = fmt.Sprintf("%d alike, ", c.seats)
			}
			return fmt.Sprintf("%s: %s%s kg, %s W each, %s/min", head, n, show(c.rowers[0].Mass, -1), show(c.rowers[0].Power, -1), show(c.rate, -1))
		}
		return fmt.Sprintf("%s: %d rowers, %s kg, %s W in the mean, %s/min", head, len(c.rowers),
			show(c.mean(func(r *rowerValue) float64 { return r.Mass }), 1), show(c.mean(func(r *rowerValue) float64 { return r.Power }), 0), show(c.rate, -1))
	},
}

// mean is a mean over the rowers.
func (c *crewValue) mean(of func(*rowerValue) float64) float64 {
	sum := 0.0
	for _, r := range c.rowers {
		sum += of(r)
	}
	return sum / float64(len(c.rowers))
}

// category is the crew's most careful one: any junior makes it a junior crew.
func (c *crewValue) category() string {
	for _, k := range categories[1:] {
		for _, r := range c.rowers {
			if r.category == k {
				return k
			}
		}
	}
	return "senior"
}

var rowerParams = []lang.Param{
	{Name: "mass", Unit: "kg", Is: lang.Number, Needed: true, ByName: true, Low: 25, High: 160, Help: "of the rower", Also: []string{"weight"}},
	{Name: "power", Unit: "W", Is: lang.Number, Needed: true, ByName: true, Low: 20, High: 1200, Help: "own power, at the handle and in moving the body", Also: []string{"watts"}},
	{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
	{Name: "catch", Unit: "deg", Is: lang.Number, ByName: true, Shown: "62 sculling, 56 sweep", Low: 15, High: 80, Help: "angle before square at which the blade goes in"},
	{Name: "finish", Unit: "deg", Is: lang.Number, ByName: true, Shown: "43 sculling, 34 sweep", Low: 5, High: 60, Help: "angle past square at which it comes out"},
	{Name: "style", Is: lang.Text | lang.List, ByName: true, Default: "usual", Choices: crew.Styles, Help: "where over the arc the pull peaks, or measured rows (fraction, force)"},
	{Name: "free_speed", Unit: "m/s", Is: lang.Number, ByName: true, Default: fact("rower", "free_speed", ""), None: true, Low: 2, High: 20, Help: "speed at which the hands would pull nothing; None: a prescribed force"},
	{Name: "body_travel", Unit: "m", Is: lang.Number, ByName: true, Shown: "by mass", Low: 0.05, High: 1.2, Help: "way of the centre of mass in the boat"},
	{Name: "category", Is: lang.Text, ByName: true, Default: "senior", Choices: categories, Help: "sets which cautions come first"},
}

var rowerRecord = &lang.Record{
	Name: "rower", Topic: "things", Makes: "rowers",
	Summary: "one rower",
	Params:  rowerParams,
	Gives:   "a rower: .change() and what it takes",
	Example: `rower(mass=84, power=380, catch=63, finish=43)`,
	Sources: []string{"model 5", "arcs about 105 deg sculls, 90 deg sweep: several federations and clubs", "free_speed derived, low; span 3.8 to 6.7"},
}

var crewRecord = &lang.Record{
	Name: "crew", Topic: "things", Makes: "crews",
	Summary: "a crew: rowers alike, or one by one from bow to stroke",
	Params:  crewParams(),
	Gives:   "a crew: .rowers .category .change() and what it takes",
	Errors:  []string{"rowers= together with a rower's own values"},
	Example: `crew(mass=78, power=360, rate=36, name="Otters")`,
	Sources: []string{"model 5"},
}

func crewParams() []lang.Param {
	ps := []lang.Param{
		{Name: "rate", Unit: "1/min", Is: lang.Number, Needed: true, ByName: true, Low: 10, High: 55, Help: "strokes a minute"},
		{Name: "rowers", Is: lang.List, ByName: true, Help: "rowers one by one, bow first"},
		{Name: "seats", Is: lang.Whole, ByName: true, Shown: "as the boat has", Low: 1, High: 8, Help: "how many alike"},
		{Name: "cox", Unit: "kg", Is: lang.Number, ByName: true, Shown: "55 where the boat has one", Low: 0, High: 120, Help: "weight of the cox"},
	}
	for _, p := range rowerParams {
		p.Needed = false
		ps = append(ps, p)
	}
	return ps
}

func init() {
	rowerRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		r, err := rowerOf(c)
		if err != nil {
			return nil, err
		}
		r.name = c.Text("name")
		return rowerType.New(r), nil
	}
	crewRecord.Do = makeCrew

	rowerType.Fields = []lang.FieldOf[*rowerValue]{
		number("mass", "kg", 1, "", func(r *rowerValue) float64 { return r.Mass }),
		number("power", "W", 0, "", func(r *rowerValue) float64 { return r.Power }),
		word("name", "how it is called", func(r *rowerValue) string { return r.name }),
		number("catch", "deg", 1, "None: by boat", func(r *rowerValue) float64 { return r.catch / deg }),
		number("finish", "deg", 1, "None: by boat", func(r *rowerValue) float64 { return r.finish / deg }),
		value("style", "", styleValue),
		number("free_speed", "m/s", 2, "None: a prescribed force", freeSpeed),
		number("body_travel", "m", 3, "", func(r *rowerValue) float64 { return r.BodyTravel }),
		word("category", "", func(r *rowerValue) string { return r.category }),
	}
	rowerType.Methods = []*lang.Record{
		changeRecord("rower", rowerRecord, nil, func(v starlark.Value) given { r, _ := rowerType.From(v); return r.given }, nil),
	}

	mean := func(of func(*rowerValue) float64) func(*crewValue) float64 {
		return func(c *crewValue) float64 { return c.mean(of) }
	}
	crewType.Fields = []lang.FieldOf[*crewValue]{
		number("rate", "1/min", 1, "strokes a minute", func(c *crewValue) float64 { return c.rate }),
		value("rowers", "one for rowers alike, else bow first", func(c *crewValue) starlark.Value {
			items := make([]starlark.Value, len(c.rowers))
			for i, r := range c.rowers {
				items[i] = rowerType.New(r)
			}
			return starlark.Tuple(items)
		}),
		number("seats", "", 0, "None: as the boat has", func(c *crewValue) float64 {
			if c.seats == 0 {
				return math.NaN()
			}
			return float64(c.seats)
		}),
		number("cox", "kg", 1, "None: 55 where the boat has one", func(c *crewValue) float64 { return c.cox }),
		word("name", "how it is called", func(c *crewValue) string { return c.name }),
		number("mass", "kg", 1, "mean of the rowers", mean(func(r *rowerValue) float64 { return r.Mass })),
		number("power", "W", 0, "mean of the rowers", mean(func(r *rowerValue) float64 { return r.Power })),
		number("catch", "deg", 1, "mean of the rowers; None: by boat", mean(func(r *rowerValue) float64 { return r.catch / deg })),
		number("finish", "deg", 1, "mean of the rowers; None: by boat", mean(func(r *rowerValue) float64 { return r.finish / deg })),
		value("style", "of rowers alike, else of bow", func(c *crewValue) starlark.Value { return styleValue(c.rowers[0]) }),
		number("free_speed", "m/s", 2, "of rowers alike, else of bow", func(c *crewValue) float64 { return freeSpeed(c.rowers[0]) }),
		number("body_travel", "m", 3, "mean of the rowers", mean(func(r *rowerValue) float64 { return r.BodyTravel })),
		word("category", "the most careful one", func(c *crewValue) string { return c.category() }),
	}
	crewType.Methods = []*lang.Record{
		changeRecord("crew", crewRecord, nil, func(v starlark.Value) given { c, _ := crewType.From(v); return c.given }, nil),
	}
}

// freeSpeed is a rower's free speed, NaN where there is none.
func freeSpeed(r *rowerValue) float64 {
	if math.IsInf(r.FreeSpeed, 1) {
		return math.NaN()
	}
	return r.FreeSpeed
}

// styleValue gives a style as it was given: a name or the measured rows.
func styleValue(r *rowerValue) starlark.Value {
	if r.Style.Points == nil {
		return starlark.String(r.Style.Name)
	}
	rows := make([]starlark.Value, len(r.Style.Points))
	for i, p := range r.Style.Points {
		rows[i] = starlark.Tuple{lang.Num(p.Along), lang.Num(p.Force)}
	}
	return starlark.Tuple(rows)
}

// rowerOf reads a rower's own values out of a call of rower or crew.
func rowerOf(c *lang.Call) (*rowerValue, error) {
	r := &rowerValue{Rower: crew.New(c.Number("mass"), c.Number("power")), catch: c.Number("catch") * deg, finish: c.Number("finish") * deg,
		category: c.Text("category"), given: givenOf(c)}
	switch {
	case c.IsNone("free_speed"):
		r.FreeSpeed = math.Inf(1)
	case c.Given("free_speed"):
		r.FreeSpeed = c.Number("free_speed")
	}
	if c.Given("body_travel") {
		r.BodyTravel = c.Number("body_travel")
	}
	if c.Given("style") {
		var err error
		if r.Style, err = styleOf(c); err != nil {
			return nil, err
		}
	}
	used(c, "rower", "", "free_speed", "body_travel")
	return r, nil
}

// styleOf reads a style: a name, or measured rows (fraction of the arc, force).
func styleOf(c *lang.Call) (crew.Style, error) {
	const like = "style=[(0, 0.1), (0.35, 1), (1, 0)]"
	v := c.Value("style")
	if name, ok := starlark.AsString(v); ok {
		s, err := crew.Named(name)
		if err != nil {
			near := cmp.Or(table.Nearest(name, crew.Styles), crew.Styles[0])
			return s, c.Wrong("style", lang.Mistake("styles are "+listTexts(crew.Styles)+", or measured rows", fmt.Sprintf("style=%q", near), "%v", err))
		}
		return s, nil
	}
	var points []crew.Point
	for _, item := range c.Items("style") {
		x, ok := numbersOf(item, 2)
		switch {
		case !ok:
			return crew.Style{}, c.Wrong("style", lang.Mistake("a row is (fraction of the arc, relative force)", like, "a row of style= is not two numbers"))
		case x[0] < 0 || x[0] > 1:
			return crew.Style{}, c.Wrong("style", lang.Mistake("0 is the catch, 1 the finish", like, "a fraction of %s in style= is outside 0 to 1", table.Fixed(x[0], -1)))
		case len(points) > 0 && points[len(points)-1].Along >= x[0]:
			return crew.Style{}, c.Wrong("style", lang.Mistake("the rows go from catch to finish, no fraction twice", like, "the fractions of style= do not rise"))
		case x[1] < 0:
			return crew.Style{}, c.Wrong("style", lang.Mistake("hands pull, they do not push", like, "a force in style= is below 0"))
		}
		points = append(points, crew.Point{Along: x[0], Force: x[1]})
	}
	if len(points) < 2 {
		return crew.Style{}, c.Wrong("style", lang.Mistake("a curve needs two rows or more", like, "style= has too few rows"))
	}
	s := crew.Measured(points)
	if _, err := s.Shape(); err != nil {
		return s, c.Wrong("style", lang.Mistake("", like, "%v", err))
	}
	return s, nil
}

func makeCrew(c *lang.Call) (starlark.Value, error) {
	v := &crewValue{cox: c.Number("cox"), rate: c.Number("rate"), name: c.Text("name"), given: givenOf(c)}
	if c.Given("rowers") {
		for i := range rowerParams {
			if name := rowerParams[i].Name; name != "name" && c.Given(name) {
				return nil, c.Wrong(name, lang.Mistake("with rowers= each rower has a value of their own", "rowers=[rower("+name+"=...), ...]", "a crew of rowers one by one takes no %s", name))
			}
		}
		for _, item := range c.Items("rowers") {
			r, ok := rowerType.From(item)
			if !ok {
				return nil, c.Wrong("rowers", lang.Mistake("each is a rower()", "rowers=[rower(mass=80, power=380), ...]", "something among rowers= is no rower"))
			}
			v.rowers = append(v.rowers, r)
		}
		v.seats = len(v.rowers)
		if c.Given("seats") && c.Whole("seats") != v.seats {
			return nil, c.Wrong("seats", lang.Mistake("rowers= says how many there are", fmt.Sprintf("seats=%d, or leave it out", v.seats), "%d rowers cannot take %d seats", v.seats, c.Whole("seats")))
		}
		if v.seats == 0 || v.seats > 8 {
			return nil, c.Wrong("rowers", lang.Mistake("boats have 1 to 8 seats", "rowers=[rower(mass=80, power=380)]", "a crew of %d rowers fits no boat", v.seats))
		}
		return crewType.New(v), nil
	}
	for _, name := range []string{"mass", "power"} {
		if !c.Given(name) {
			return nil, lang.Mistake("rowers alike are given by their values, others by rowers=[rower(...), ...]", "crew(mass=78, power=360, rate=36)", "crew needs %s", name)
		}
	}
	r, err := rowerOf(c)
	if err != nil {
		return nil, err
	}
	r.given = r.given.without("rate", "rowers", "seats", "cox", "name")
	v.rowers, v.alike, v.seats = []*rowerValue{r}, true, c.Whole("seats")
	return crewType.New(v), nil
}

// seatCategory orders rowers' categories, most careful first.
func seatCategory(a, b string) int {
	return slices.Index(categories, b) - slices.Index(categories, a)
}
