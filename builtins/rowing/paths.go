package rowing

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/stroke"
	"thole/engine/table"
)

var strokeParam = lang.Param{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true,
	Help: "the stroke"}

// EveryParam sets the moments of a path by time.
var EveryParam = lang.Param{Name: "every", Unit: "s", Is: lang.Number, ByName: true, Default: 0.1, Low: 0.01,
	High: 1, Help: "moments this far apart from the catch on, and the finish"}

// PointsParam sets how many moments a path has, in place of EveryParam.
func PointsParam(least, most float64) lang.Param {
	return lang.Param{Name: "points", Is: lang.Whole, ByName: true, Low: least, High: most,
		Help: "in place of every: so many moments, the first at the catch, the last at the finish"}
}

// MomentsOf gives the moments that a call asks for; told in two ways they are refused.
func MomentsOf(c *lang.Call) (stroke.Moments, error) {
	if !c.Given("points") {
		return stroke.Moments{Every: c.Number("every")}, nil
	}
	if c.Given("every") {
		return stroke.Moments{}, c.Wrong("every", lang.Mistake("both say which moments are taken",
			"one of the two", "points= and every= do not go together"))
	}
	return stroke.Moments{Points: c.Whole("points")}, nil
}

// pathRecord makes the record of a path.
func pathRecord(name, summary string,
	of func(s *Stroke, at stroke.Moments) (*table.Table, error)) *lang.Record {
	return &lang.Record{
		Name: name, Topic: "doing", Summary: summary,
		Params: []lang.Param{strokeParam, EveryParam, PointsParam(2, 1000)},
		Gives: "table: time angle tip_x tip_y centre_x centre_y neck_x neck_y handle_x handle_y; x " +
			"forward from the pin's place at the catch, y outward from the pin's line",
		Example: name + "(usual)",
		Sources: []string{"model 1", "model 2"},
		Do: func(c *lang.Call) (starlark.Value, error) {
			s, _ := StrokeType.From(c.Value("stroke"))
			at, err := MomentsOf(c)
			if err != nil {
				return nil, err
			}
			t, err := of(s, at)
			if err != nil {
				return nil, NoStroke(err)
			}
			return lang.NewTable(t), nil
		},
	}
}

var bladePath = pathRecord("blade_path", "where blade and handle are in the water's frame, by time",
	func(s *Stroke, at stroke.Moments) (*table.Table, error) { return s.BladePath(0, at) })

var perfectPath = pathRecord("perfect_path",
	"the same oar, arc and boat's motion without slip, with its own drive time",
	func(s *Stroke, at stroke.Moments) (*table.Table, error) { return s.PerfectPath(0, at) })

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
