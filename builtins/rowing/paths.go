package rowing

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/table"
)

var strokeParam = lang.Param{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
	Help: "the stroke"}

// EveryParam sets the moments of a path by time.
var EveryParam = lang.Param{Name: "every", Unit: "s", Is: lang.Number, ByName: true, Low: 0.01, High: 1,
	Help: "in place of points: moments this far apart from the catch on, and the finish"}

// PointsOrEvery refuses moments that are told in two ways.
func PointsOrEvery(c *lang.Call) error {
	if c.Given("points") && c.Given("every") {
		return c.Wrong("every", lang.Mistake("both say which moments are taken", "one of the two",
			"points= and every= do not go together"))
	}
	return nil
}

// pathRecord makes the record of a path at equal times.
func pathRecord(name, summary string, of func(s *Stroke, points int) (*table.Table, error),
	every func(s *Stroke, every float64) (*table.Table, error)) *lang.Record {
	return &lang.Record{
		Name: name, Topic: "doing", Summary: summary,
		Params: []lang.Param{strokeParam,
			{Name: "points", Is: lang.Whole, Default: 12, Low: 2, High: 1000,
				Help: "equal times apart, the first at the catch, the last at the finish"}, EveryParam},
		Gives: "table: time angle tip_x tip_y centre_x centre_y neck_x neck_y handle_x handle_y; x " +
			"forward from the pin's place at the catch, y outward from the pin's line",
		Example: name + "(usual)",
		Sources: []string{"model 1", "model 2"},
		Do: func(c *lang.Call) (starlark.Value, error) {
			s, _ := StrokeType.From(c.Value("stroke"))
			if err := PointsOrEvery(c); err != nil {
				return nil, err
			}
			t, err := of(s, c.Whole("points"))
			if c.Given("every") {
				t, err = every(s, c.Number("every"))
			}
			if err != nil {
				return nil, NoStroke(err)
			}
			return lang.NewTable(t), nil
		},
	}
}

var bladePath = pathRecord("blade_path", "where blade and handle are in the water's frame, at equal times",
	func(s *Stroke, points int) (*table.Table, error) { return s.BladePath(0, points) },
	func(s *Stroke, every float64) (*table.Table, error) { return s.BladePathEvery(0, every) })

var perfectPath = pathRecord("perfect_path",
	"the same oar, arc and boat's motion without slip, with its own drive time",
	func(s *Stroke, points int) (*table.Table, error) { return s.PerfectPath(0, points) },
	func(s *Stroke, every float64) (*table.Table, error) { return s.PerfectPathEvery(0, every) })

var slipMap = &lang.Record{
	Name: "slip_map", Topic: "doing",
	Summary: "slip and force over angle and along the blade",
	Params:  []lang.Param{strokeParam},
	Gives:   "table: angle deg, strip cm from the blade's centre outward, slip_speed m/s, force N",
	Example: "slip_map(usual).highest(\"slip_speed\")",
	Sources: []string{"model 3"},
	Do: func(c *lang.Call) (starlark.Value, error) {
		s, _ := StrokeType.From(c.Value("stroke"))
		t, err := s.SlipMap(0)
		if err != nil {
			return nil, NoStroke(err)
		}
		t.Name = "slip map"
		return lang.NewTable(t), nil
	},
}
