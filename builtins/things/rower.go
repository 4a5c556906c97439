package things

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/crew"
	"thole/engine/table"
)

// Rower is one rower of a study. Angles left open follow the kind of boat.
type Rower struct {
	crew.Rower
	Name          string
	Catch, Finish float64 // rad; NaN: by the kind of boat
	category      string
	given         Given

	// AtHandle says that Power was given at the handle, as a machine shows it.
	AtHandle bool
}

// powers are a rower's power and handle power: the one that was given, NaN for the other.
func (r *Rower) powers() (power, handle float64) {
	if r.AtHandle {
		return math.NaN(), r.Power
	}
	return r.Power, math.NaN()
}

// powerUnit is the unit in which a rower's power is said.
func (r *Rower) powerUnit() string {
	if r.AtHandle {
		return "W at the handle"
	}
	return "W"
}

var rowerType = &lang.Type[*Rower]{
	Name:  "rower",
	Label: func(r *Rower) string { return r.Name },
	Same:  sameRower,
	Line: func(r *Rower) string {
		s := fmt.Sprintf("rower %s kg, %s %s", table.Fixed(r.Mass, -1), table.Fixed(r.Power, -1),
			r.powerUnit())
		if !math.IsNaN(r.Catch) || !math.IsNaN(r.Finish) {
			s += fmt.Sprintf(", catch %s, finish %s deg", angleText(r.Catch), angleText(r.Finish))
		}
		if r.Style.Name != "usual" {
			s += ", " + r.Style.Name + " style"
		}
		if r.category != account.NotSaid {
			s += ", " + r.category
		}
		return s
	},
}

// sameRower compares rowers; an angle left open equals one left open.
func sameRower(a, b *Rower) bool {
	open := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return a == b || a.Name == b.Name && a.AtHandle == b.AtHandle && a.category == b.category &&
		open(a.Catch, b.Catch) && open(a.Finish,
		b.Finish) && a.Rower.Equal(&b.Rower)
}

func angleText(rad float64) string {
	if math.IsNaN(rad) {
		return "by boat"
	}
	return table.Fixed(rad/units.Deg, -1)
}

var rowerParams = []lang.Param{
	{Name: "mass", Unit: "kg", Is: lang.Number, Needed: true, ByName: true, Low: 25, High: 160,
		Usual: []lang.Usual{{Low: 35, High: 125}}, Extremes: [2]string{"lighter", "heavier"},
		Help: "of the rower", Also: []string{"weight"}},
	{Name: "power", Unit: "W", Is: lang.Number, ByName: true, Low: 20, High: 1200,
		Help: "own power, at the handle and in moving the body", Also: []string{"watts"}},
	{Name: "handle_power", Unit: "W", Is: lang.Number, ByName: true, Low: 20, High: 1200,
		Help: "or the power at the handle alone, as a rowing machine shows it: row holds that one"},
	{Name: "name", Is: lang.Text, ByName: true, Help: "how it is called"},
	{Name: "catch", Unit: "deg", Is: lang.Number, ByName: true, Shown: "62 sculling, 56 sweep", Low: 15,
		High: 80, Help: "angle before square at which the blade goes in"},
	{Name: "finish", Unit: "deg", Is: lang.Number, ByName: true, Shown: "43 sculling, 34 sweep", Low: 5,
		High: 60, Help: "angle past square at which it comes out"},
	{Name: "style", Is: lang.Text | lang.List, ByName: true, Default: "usual", Choices: crew.Styles,
		Help: "where over the arc the pull peaks, or measured rows (fraction, force)"},
	{Name: "free_speed", Unit: "m/s", Is: lang.Number, ByName: true, Default: Fact("rower", "free_speed", ""),
		None: true, Low: 2, High: 20,
		Help: "speed at which the hands would pull nothing; None: a prescribed force"},
	{Name: "body_travel", Unit: "m", Is: lang.Number, ByName: true, Shown: "by mass", Low: 0.05, High: 1.2,
		Help: "way of the centre of mass in the boat"},
	{Name: "squaring", Is: lang.Number, ByName: true, Default: Fact("crew", "squaring", ""), Low: 0, High: 1,
		Help: "share of the way back, its last, over which the blade is squared: 0.2 just before the " +
			"catch, 0.5 from half slide, 1 never feathered"},
	{Name: "category", Is: lang.Text, ByName: true, Default: account.NotSaid, Choices: account.Categories,
		Meant: categoriesMeant,
		Help:  "whose load is watched first: all but senior; not said is treated with care"},
}

// categoriesMeant are what people call the categories.
var categoriesMeant = func() map[string]lang.Meant {
	meant := map[string]lang.Meant{}
	for category, called := range map[string][]string{
		"junior": {"kid", "kids", "child", "children", "youth", "cadet", "school", "schools", "u12", "u13",
			"u14",
			"u15", "u16", "u17", "u18", "u19", "under 16", "under 18", "under 19"},
		"masters":   {"master", "veteran", "veterans", "vet", "old"},
		"novice":    {"beginner", "beginners", "learner", "new"},
		"returning": {"injured", "injury", "back", "comeback"},
		"senior":    {"adult", "adults", "elite", "open", "u23", "student"},
	} {
		for _, word := range called {
			meant[word] = lang.Meant{Choice: category}
		}
	}
	return meant
}()

// notByAge says what an age is typed as.
var notByAge = map[string]lang.Gone{"age": {Why: "who rows is said by a category, for care over the load: " +
	strings.Join(account.Categories, ", "), Type: `category="junior"`}}

// Category is who the rower is, account.NotSaid where nobody said.
func (r *Rower) Category() string { return r.category }

var rowerRecord = &lang.Record{
	Name: "rower", Topic: "things", Makes: "rowers",
	Summary: "one rower",
	Params:  rowerParams,
	Gone:    notByAge,
	Gives:   "a rower: .change() and what it takes",
	Example: `rower(mass=84, power=380, catch=63, finish=43)`,
	Sources: []string{"model 5", "arcs about 105 deg sculls, 90 deg sweep: federation handbooks",
		"free_speed: derived, low; Sprague 2007 implies 6.7"},
}

// freeSpeed is a rower's free speed, NaN where there is none.
func freeSpeed(r *Rower) float64 {
	if math.IsInf(r.FreeSpeed, 1) {
		return math.NaN()
	}
	return r.FreeSpeed
}

// styleValue gives a style as it was given: a name or the measured rows.
func styleValue(r *Rower) starlark.Value {
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
func rowerOf(c *lang.Call) (*Rower, error) {
	power, atHandle, err := powerOf(c)
	if err != nil {
		return nil, err
	}
	r := &Rower{Rower: crew.New(c.Number("mass"), power), AtHandle: atHandle, Catch: c.SI("catch"),
		Finish:   c.SI("finish"),
		category: c.Text("category"), given: GivenOf(c)}
	switch {
	case c.IsNone("free_speed"):
		r.FreeSpeed = math.Inf(1)
	case c.Given("free_speed"):
		r.FreeSpeed = c.Number("free_speed")
	}
	c.Put("body_travel", &r.BodyTravel)
	if c.Given("style") {
		if r.Style, err = styleOf(c); err != nil {
			return nil, err
		}
	}
	if c.Given("squaring") {
		r.Squaring = c.Number("squaring")
	}
	account.Used(c, "rower", "", "free_speed", "body_travel")
	return r, nil
}

// powerOf reads the one power that was given, and whether it is the handle's.
func powerOf(c *lang.Call) (power float64, atHandle bool, err error) {
	switch own, handle := c.Given("power"), c.Given("handle_power"); {
	case own && handle:
		return 0, false, c.Wrong("handle_power",
			lang.Mistake("power is at the handle and in moving the body, "+
				"handle_power what a machine shows of it; the one follows from the other in the boat",
				"either power= or handle_power=",
				"power and handle_power are two ways to say how strong someone is"))
	case handle:
		return c.Number("handle_power"), true, nil
	case own:
		account.NotMachine(c, "power", c.Number("power"))
		return c.Number("power"), false, nil
	}
	return 0, false, lang.Mistake("a rower is as strong as power= says, or handle_power= where a machine's "+
		"watts are known", "rower(mass=80, power=380)", "a rower needs power")
}

// styleOf reads a style: a name, or measured rows (fraction of the arc, force).
func styleOf(c *lang.Call) (crew.Style, error) {
	const like = "style=[(0, 0.1), (0.35, 1), (1, 0)]"
	v := c.Value("style")
	if name, ok := starlark.AsString(v); ok {
		s, err := crew.Named(name)
		if err != nil {
			near := cmp.Or(table.Nearest(name, crew.Styles), crew.Styles[0])
			return s, c.Wrong("style", lang.Mistake("styles are "+strings.Join(crew.Styles, ", ")+
				", or measured rows", fmt.Sprintf("style=%q", near), "%v", err))
		}
		return s, nil
	}
	var points []crew.Point
	for _, item := range c.Items("style") {
		x, ok := numbersOf(item, 2)
		switch {
		case !ok:
			return crew.Style{}, c.Wrong("style",
				lang.Mistake("a row is (fraction of the arc, relative force)", like,
					"a row of style= is not two numbers"))
		case x[0] < 0 || x[0] > 1:
			return crew.Style{}, c.Wrong("style", lang.Mistake("0 is the catch, 1 the finish", like,
				"a fraction of %s in style= is outside 0 to 1", table.Fixed(x[0], -1)))
		case len(points) > 0 && points[len(points)-1].Along >= x[0]:
			return crew.Style{}, c.Wrong("style",
				lang.Mistake("the rows go from catch to finish, no fraction twice", like,
					"the fractions of style= do not rise"))
		case x[1] < 0:
			return crew.Style{}, c.Wrong("style", lang.Mistake("hands pull, they do not push", like,
				"a force in style= is below 0"))
		}
		points = append(points, crew.Point{Along: x[0], Force: x[1]})
	}
	if len(points) < 2 {
		return crew.Style{}, c.Wrong("style", lang.Mistake("a curve needs two rows or more", like,
			"style= has too few rows"))
	}
	s := crew.Measured(points)
	if _, err := s.Shape(); err != nil {
		return s, c.Wrong("style", lang.Mistake("", like, "%v", err))
	}
	return s, nil
}

func init() {
	rowerRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		r, err := rowerOf(c)
		if err != nil {
			return nil, err
		}
		r.Name = c.Text("name")
		return rowerType.New(r), nil
	}

	rowerType.Fields = []lang.FieldOf[*Rower]{
		lang.NumberField("mass", "kg", 1, "", func(r *Rower) float64 { return r.Mass }),
		lang.NumberField("power", "W", 0, "None: given at the handle", func(r *Rower) float64 {
			power, _ := r.powers()
			return power
		}),
		lang.NumberField("handle_power", "W", 0, "None: given with the body's", func(r *Rower) float64 {
			_, handle := r.powers()
			return handle
		}),
		lang.TextField("name", "how it is called", func(r *Rower) string { return r.Name }),
		lang.NumberField("catch", "deg", 1, "None: by boat", func(r *Rower) float64 { return r.Catch }),
		lang.NumberField("finish", "deg", 1, "None: by boat", func(r *Rower) float64 { return r.Finish }),
		lang.ValueField("style", "", styleValue),
		lang.NumberField("free_speed", "m/s", 2, "None: a prescribed force", freeSpeed),
		lang.NumberField("body_travel", "m", 3, "", func(r *Rower) float64 { return r.BodyTravel }),
		lang.NumberField("squaring", "", 2, "share of the way back with the blade squared",
			func(r *Rower) float64 { return r.Squaring }),
		lang.TextField("category", "", func(r *Rower) string { return r.category }),
	}
	rowerType.Methods = []*lang.Record{
		ChangeRecord("rower", rowerRecord, nil, func(v starlark.Value) Given {
			r, _ := rowerType.From(v)
			return r.given
		}, nil),
	}
}
