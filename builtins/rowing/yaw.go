package rowing

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/stroke"
)

var yawMoment = &lang.Record{
	Name: "yaw_moment", Topic: "doing",
	Summary: "how hard a sweep boat is turned to and fro, root mean square over the drive, N·m",
	Params:  []lang.Param{strokeParam},
	Gone: map[string]lang.Gone{"sides": {Why: "which side each seat rows is the rig's now",
		Type: `rig(spread=85, sides="psps"), then yaw_moment(stroke)`}},
	Gives:   "N·m; the seats' sides are the rig's: rig(spread=85, sides=\"psps\")",
	Errors:  []string{"a sculling boat", "a rig without sides"},
	Example: `yaw_moment(pair)`,
	Sources: []string{"model 6", "seat orders without moment: Barrow 2010, American Journal of Physics " +
		"(from memory, high)"},
}

func init() {
	yawMoment.Do = func(c *lang.Call) (starlark.Value, error) {
		s, _ := StrokeType.From(c.Value("stroke"))
		if s.Hull.Sculling() {
			return nil, c.Wrong("stroke", lang.Mistake("sculls pull on both sides alike",
				`a sweep boat: hull("4-")`, "a %s has no yawing moment", s.Hull.Boat))
		}
		sides := s.Sides()
		if sides == "" {
			return nil, c.Wrong("stroke", lang.Mistake("a letter a seat, bow first: p port, s starboard",
				`rig=rig(spread=85, sides="`+"psspspps"[:s.Hull.Seats()]+`") in row`,
				"this stroke's rig does not say on which side each seat rows"))
		}
		m, err := s.YawMoment(sides, stroke.Places{Spread: s.Rig.Spread})
		if err != nil {
			return nil, NoStroke(err)
		}
		if m < 1e-9 { // seat orders that cancel leave the dust of their sums
			m = 0
		}
		return starlark.Float(m), nil
	}
}

// Sides are the seats' sides from bow, "" where no rig says them.
func (s *Stroke) Sides() string {
	for _, r := range s.Rigs {
		if r.Sides != "" {
			return r.Sides
		}
	}
	return ""
}
