package rowing

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/stroke"
	"thole/engine/table"
)

var strokeParam = lang.Param{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true, Help: "the stroke"}

// pathRecord makes the record of a path at equal times.
func pathRecord(name, summary string, of func(s *Stroke, points int) (*table.Table, error)) *lang.Record {
	return &lang.Record{
		Name: name, Topic: "doing", Summary: summary,
		Params: []lang.Param{strokeParam,
			{Name: "points", Is: lang.Whole, Default: 12, Low: 2, High: 1000, Help: "equal times apart, the first at the catch, the last at the finish"}},
		Gives:   "table: time angle tip_x tip_y centre_x centre_y neck_x neck_y handle_x handle_y; x forward from the pin's place at the catch, y outward from the pin's line",
		Example: name + "(usual)",
		Sources: []string{"model 1 and 2"},
		Do: func(c *lang.Call) (starlark.Value, error) {
			s, _ := StrokeType.From(c.Value("stroke"))
			t, err := of(s, c.Whole("points"))
			if err != nil {
				return nil, NoStroke(err)
			}
			return lang.NewTable(t), nil
		},
	}
}

var bladePath = pathRecord("blade_path", "where blade and handle are in the water's frame, at equal times",
	func(s *Stroke, points int) (*table.Table, error) { return s.BladePath(0, points) })

var perfectPath = pathRecord("perfect_path", "the same oar, arc and boat's motion without slip, with its own drive time",
	func(s *Stroke, points int) (*table.Table, error) { return s.PerfectPath(0, points) })

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

var yawMoment = &lang.Record{
	Name: "yaw_moment", Topic: "doing",
	Summary: "how hard a sweep boat is turned to and fro, root mean square over the drive, N·m",
	Params: []lang.Param{strokeParam,
		{Name: "sides", Is: lang.Text, Needed: true, Help: `a letter a seat, bow first: p port, s starboard, as "psps"`}},
	Gives:   "N·m",
	Errors:  []string{"a sculling boat", "as many letters as seats, p or s"},
	Example: `yaw_moment(pair, "ps")`,
	Sources: []string{"model 6", "seat orders without moment: Barrow 2010, American Journal of Physics (from memory, high)"},
}

func init() {
	yawMoment.Do = func(c *lang.Call) (starlark.Value, error) {
		s, _ := StrokeType.From(c.Value("stroke"))
		sides := c.Text("sides")
		switch {
		case s.Hull.Sculling():
			return nil, c.Wrong("stroke", lang.Mistake("sculls pull on both sides alike", `a sweep boat: hull("4-")`, "a %s has no yawing moment", s.Hull.Boat))
		case len(sides) != s.Hull.Seats() || !onlySides(sides):
			return nil, c.Wrong("sides", lang.Mistake("a letter a seat, bow first: p port, s starboard", `yaw_moment(stroke, "`+"psps"[:min(4, s.Hull.Seats())]+`")`,
				"sides %q do not seat a %s", sides, s.Hull.Boat))
		}
		places := stroke.Places{}
		if s.Rig != nil {
			places.Spread = s.Rig.Spread
		}
		m, err := s.YawMoment(sides, places)
		if err != nil {
			return nil, NoStroke(err)
		}
		return starlark.Float(m), nil
	}
}

func onlySides(sides string) bool {
	for _, r := range sides {
		if r != 'p' && r != 's' {
			return false
		}
	}
	return true
}
