package things

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/engine/rounding"
	"thole/engine/table"
)

// Crew is a crew: rowers alike (one, as often as the boat has seats) or
// rowers one by one.
type Crew struct {
	Rowers []*Rower // one for rowers alike, else bow first
	alike  bool
	Seats  int     // rowers alike: how many, 0 as the boat has; else len(rowers)
	Cox    float64 // kg; NaN: 55 where the boat has one
	Rate   float64 // 1/min
	Name   string
	given  Given
}

// sameCrew compares crews seat by seat.
func sameCrew(a, b *Crew) bool {
	if a.alike != b.alike || a.Seats != b.Seats || a.Rate != b.Rate || a.Name != b.Name || len(a.Rowers) !=
		len(b.Rowers) ||
		!(a.Cox == b.Cox || math.IsNaN(a.Cox) && math.IsNaN(b.Cox)) {
		return false
	}
	for i := range a.Rowers {
		if !sameRower(a.Rowers[i], b.Rowers[i]) {
			return false
		}
	}
	return true
}

// CrewType is a crew: its fields, and what compares two.
var CrewType = &lang.Type[*Crew]{
	Name:  "crew",
	Label: func(c *Crew) string { return c.Name },
	Same:  sameCrew,
	Line: func(c *Crew) string {
		head := "crew"
		if c.Name != "" {
			head += " " + c.Name
		}
		if c.alike {
			n := ""
			if c.Seats > 1 {
				n = fmt.Sprintf("%d alike, ", c.Seats)
			}
			return fmt.Sprintf("%s: %s%s kg, %s %s each, %s/min", head, n, table.Fixed(c.Rowers[0].Mass, -1),
				table.Fixed(c.Rowers[0].Power, -1), c.Rowers[0].powerUnit(), table.Fixed(c.Rate, -1))
		}
		return fmt.Sprintf("%s: %d rowers, %s kg, %s %s in the mean, %s/min", head, len(c.Rowers),
			table.Fixed(c.Mean(func(r *Rower) float64 { return r.Mass }), 1),
			table.Fixed(c.Mean(func(r *Rower) float64 { return r.Power }), 0), c.Rowers[0].powerUnit(),
			table.Fixed(c.Rate, -1))
	},
}

// Mean is a mean over the rowers.
func (c *Crew) Mean(of func(*Rower) float64) float64 {
	sum := 0.0
	for _, r := range c.Rowers {
		sum += of(r)
	}
	return rounding.Clean(sum / float64(len(c.Rowers)))
}

// AtHandle says whether its rowers' powers were given at the handle.
func (c *Crew) AtHandle() bool { return len(c.Rowers) > 0 && c.Rowers[0].AtHandle }

// Categories are those of its rowers, bow first.
func (c *Crew) Categories() []string {
	out := make([]string, len(c.Rowers))
	for i, r := range c.Rowers {
		out[i] = r.category
	}
	return out
}

// Category is the crew's most careful one: any junior makes it a junior crew.
func (c *Crew) Category() string {
	if careful := account.CarefulOf(c.Categories()); len(careful) > 0 {
		return careful[0]
	}
	return c.Rowers[0].category
}

var crewRecord = &lang.Record{
	Name: "crew", Topic: "things", Makes: "crews",
	Summary: "a crew: rowers alike, or one by one from bow to stroke",
	Params:  crewParams(),
	Gone:    notByAge,
	Gives:   "a crew: .rowers .category .change() and what it takes",
	Errors:  []string{"rowers= together with a rower's own values"},
	Example: `crew(mass=78, power=360, rate=36, name="Otters")`,
	Sources: []string{"model 5"},
}

func crewParams() []lang.Param {
	ps := []lang.Param{
		{Name: "rate", Unit: "1/min", Is: lang.Number, Needed: true, ByName: true, Low: 10, High: 55,
			Help: "strokes a minute"},
		{Name: "rowers", Is: lang.List, ByName: true, Help: "rowers one by one, bow first"},
		{Name: "seats", Is: lang.Whole, ByName: true, Shown: "as the boat has", Low: 1, High: 8,
			Help: "how many alike"},
		{Name: "cox", Unit: "kg", Is: lang.Number, ByName: true, Shown: "55 where the boat has one", Low: 0,
			High: 120, Help: "weight of the cox"},
	}
	for _, p := range rowerParams {
		p.Needed = false
		ps = append(ps, p)
	}
	return ps
}

func init() {
	crewRecord.Do = makeCrew
	mean := func(of func(*Rower) float64) func(*Crew) float64 {
		return func(c *Crew) float64 { return c.Mean(of) }
	}
	CrewType.Fields = []lang.FieldOf[*Crew]{
		lang.NumberField("rate", "1/min", 1, "strokes a minute", func(c *Crew) float64 { return c.Rate }),
		lang.ValueField("rowers", "one for rowers alike, else bow first", func(c *Crew) starlark.Value {
			items := make([]starlark.Value, len(c.Rowers))
			for i, r := range c.Rowers {
				items[i] = rowerType.New(r)
			}
			return starlark.Tuple(items)
		}),
		lang.NumberField("seats", "", 0, "None: as the boat has", func(c *Crew) float64 {
			if c.Seats == 0 {
				return math.NaN()
			}
			return float64(c.Seats)
		}),
		lang.NumberField("cox", "kg", 1, "None: 55 where the boat has one", func(c *Crew) float64 {
			return c.Cox
		}),
		lang.TextField("name", "how it is called", func(c *Crew) string { return c.Name }),
		lang.NumberField("mass", "kg", 1, "mean of the rowers", mean(func(r *Rower) float64 {
			return r.Mass
		})),
		lang.NumberField("power", "W", 0, "mean of the rowers; None: given at the handle",
			mean(func(r *Rower) float64 {
				power, _ := r.powers()
				return power
			})),
		lang.NumberField("handle_power", "W", 0, "mean of the rowers; None: given with the body's",
			mean(func(r *Rower) float64 {
				_, handle := r.powers()
				return handle
			})),
		lang.NumberField("catch", "deg", 1, "mean of the rowers; None: by boat",
			mean(func(r *Rower) float64 { return r.Catch })),
		lang.NumberField("finish", "deg", 1, "mean of the rowers; None: by boat",
			mean(func(r *Rower) float64 { return r.Finish })),
		lang.ValueField("style", "of rowers alike, else of bow", func(c *Crew) starlark.Value {
			return styleValue(c.Rowers[0])
		}),
		lang.NumberField("free_speed", "m/s", 2, "of rowers alike, else of bow",
			func(c *Crew) float64 { return freeSpeed(c.Rowers[0]) }),
		lang.NumberField("body_travel", "m", 3, "mean of the rowers",
			mean(func(r *Rower) float64 { return r.BodyTravel })),
		lang.NumberField("squaring", "", 2, "mean of the rowers",
			mean(func(r *Rower) float64 { return r.Squaring })),
		lang.TextField("category", "the most careful one", func(c *Crew) string { return c.Category() }),
	}
	CrewType.Methods = []*lang.Record{
		ChangeRecord("crew", crewRecord, nil, func(v starlark.Value) Given {
			c, _ := CrewType.From(v)
			return c.given
		}, nil),
	}
}

func makeCrew(c *lang.Call) (starlark.Value, error) {
	v := &Crew{Cox: c.Number("cox"), Rate: c.Number("rate"), Name: c.Text("name"), given: GivenOf(c)}
	if c.Given("rowers") {
		for i := range rowerParams {
			if name := rowerParams[i].Name; name != "name" && c.Given(name) {
				return nil, c.Wrong(name, lang.Mistake("with rowers= each rower has a value of their own",
					"rowers=[rower("+name+"=...), ...]", "a crew of rowers one by one takes no %s", name))
			}
		}
		for _, item := range c.Items("rowers") {
			r, ok := rowerType.From(item)
			if !ok {
				return nil, c.Wrong("rowers", lang.Mistake("each is a rower()",
					"rowers=[rower(mass=80, power=380), ...]", "something among rowers= is no rower"))
			}
			if r.AtHandle != v.AtHandle() && len(v.Rowers) > 0 {
				return nil, c.Wrong("rowers",
					lang.Mistake("a boat is rowed at one or the other, seat by seat",
						"power= in every rower(), or handle_power= in every one",
						"some rowers are given by power, some by handle_power"))
			}
			v.Rowers = append(v.Rowers, r)
		}
		v.Seats = len(v.Rowers)
		if c.Given("seats") && c.Whole("seats") != v.Seats {
			return nil, c.Wrong("seats", lang.Mistake("rowers= says how many there are",
				fmt.Sprintf("seats=%d, or leave it out", v.Seats), "%d rowers cannot take %d seats", v.Seats,
				c.Whole("seats")))
		}
		if v.Seats == 0 || v.Seats > 8 {
			return nil, c.Wrong("rowers", lang.Mistake("boats have 1 to 8 seats",
				"rowers=[rower(mass=80, power=380)]", "a crew of %d rowers fits no boat", v.Seats))
		}
		return CrewType.New(v), nil
	}
	if lacks := "mass"; !c.Given(lacks) || !c.Given("power") && !c.Given("handle_power") {
		if c.Given(lacks) {
			lacks = "power"
		}
		return nil, lang.Mistake("rowers alike are given by their values, others by rowers=[rower(...), ...]",
			"crew(mass=78, power=360, rate=36)", "crew needs %s", lacks)
	}
	r, err := rowerOf(c)
	if err != nil {
		return nil, err
	}
	r.given = r.given.Without("rate", "rowers", "seats", "cox", "name")
	v.Rowers, v.alike, v.Seats = []*Rower{r}, true, c.Whole("seats")
	return CrewType.New(v), nil
}
