package telling

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/units"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/stroke"
)

// framesPerSecond is how finely the moving picture is computed; between frames
// it is drawn straight (page-style: 80 a second).
const framesPerSecond = 80

func animateDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 2)
	if err != nil {
		return nil, err
	}
	f := &document.Figure{Kind: figure.Moving, Every: c.Number("every"), Held: rowing.HeldAlike(strokes...)}
	for i, s := range strokes {
		frames, err := s.Frames(0, int(math.Ceil(s.Problem.Period()*framesPerSecond)))
		if err != nil {
			return nil, rowing.NoStroke(err)
		}
		f.Motion = append(f.Motion, motionOf(names[i], s, frames))
	}
	return starlark.None, tellFigure(c, f, "the stroke, moving")
}

// motionOf lays computed frames out for the moving picture.
func motionOf(name string, s *rowing.Stroke, frames []stroke.Frame) document.Motion {
	o := s.Oars[0]
	m := document.Motion{
		Name: name, Step: s.Problem.Period() / float64(len(frames)), Drive: s.Seats[0].DriveTime,
		Reference: s.Perfect(),
		InBoard:   o.Lever() / units.Cm, ToCentre: o.Centre() / units.Cm, BladeLength: o.Blade.Length /
			units.Cm,
	}
	for _, f := range frames {
		m.Hull = append(m.Hull, f.Hull/units.Cm)
		m.HullSpeed = append(m.HullSpeed, f.Speed)
		m.Angle = append(m.Angle, f.Angle/units.Deg)
		m.HandleForce = append(m.HandleForce, f.HandleForce)
		m.HandleSpeed = append(m.HandleSpeed, f.HandleSpeed)
	}
	return m
}

var animateRecord = &lang.Record{
	Name: "animate", Counts: "figure", Topic: "telling", Summary: "the moving picture of one or two strokes",
	Tells: true, Fills: true, Rest: places,
	More:    strokesParam,
	Params:  []lang.Param{rowing.EveryParam, nameParam, captionParam},
	Gives:   "nothing",
	Example: `animate(usual)`,
}
