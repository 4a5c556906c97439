package rowing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/oar"
	"thole/engine/rigging"
	"thole/engine/table"
)

// fitAngles asks the rigger's question the other way round.
var fitAngles = &lang.Record{
	Name: "fit_angles", Topic: "doing",
	Summary: "the stretcher and the inboard that bring these angles, the hands' reach kept",
	Params: []lang.Param{strokeParam,
		{Name: "catch", Unit: "deg", Is: lang.Number, ByName: true, Low: 15, High: 80,
			Help: "wanted; left out, the inboard stays and the stretcher brings the finish"},
		{Name: "finish", Unit: "deg", Is: lang.Number, ByName: true, Low: 5, High: 60,
			Help: "wanted; left out, the inboard stays and the stretcher brings the catch"}},
	Gives: "a line: .inboard cm, .moved the stretcher's way to the stern cm, .stretcher where it then " +
		"stands (blank where the rig says none), .catch .finish deg; a table where seats are unlike",
	Errors: []string{"angles that no inboard in its window brings", "neither catch nor finish"},
	Notes: []string{"row it: s.change(rig=s.rig.change(stretcher=f.stretcher), " +
		"oar=s.oar.change(inboard=f.inboard))"},
	Example: `fit_angles(rigged, catch=64, finish=42)`,
	Sources: []string{"model 12: L_in (sin catch + sin finish) is the hands' way along the boat and stays"},
}

func init() { fitAngles.Do = fitAnglesDo }

func fitAnglesDo(c *lang.Call) (starlark.Value, error) {
	s, _ := StrokeType.From(c.Value("stroke"))
	if !c.Given("catch") && !c.Given("finish") {
		return nil, lang.Mistake("it brings a catch, a finish or both",
			"fit_angles("+"stroke, catch=64, finish=42)", "fit_angles needs an angle to bring")
	}
	return s.seatBySeat(func(i int, put func(row ...cell)) error {
		p := s.problemSeat(i)
		o := p.Oar
		catch, finish := c.Number("catch")*units.Deg, c.Number("finish")*units.Deg
		lever, moved := o.Lever(), 0.0
		switch {
		case !c.Given("finish"):
			moved = lever * (math.Sin(catch) - math.Sin(p.Catch))
		case !c.Given("catch"):
			moved = lever * (math.Sin(p.Finish) - math.Sin(finish))
		default:
			lever, moved = rigging.Fit(lever, p.Catch, p.Finish, catch, finish)
		}
		o.Inboard += lever - o.Lever()
		if err := inWindow(c, o.Inboard/units.Cm); err != nil {
			return err
		}
		// it cautions of an unusual one
		if _, err := withInboard(c, s.Oar(i), o.Inboard/units.Cm); err != nil {
			return err
		}
		newCatch, newFinish, err := oar.MoveReach(&p.Oar, &o, p.Catch, p.Finish, moved)
		if err != nil {
			return c.Wrong("stroke", lang.NoAnswer(err.Error(), "catch= and finish=, both",
				"the stretcher alone cannot bring it"))
		}
		stretcher := math.NaN()
		if r := s.RigOf(i); r != nil {
			stretcher = (r.Stretcher + moved) / units.Cm
		}
		put(cell{"inboard", "cm", 1, o.Inboard / units.Cm, ""}, cell{"moved", "cm", 1, moved / units.Cm,
			""},
			cell{"stretcher", "cm", 1, stretcher, ""},
			cell{"catch", "deg", 1, newCatch / units.Deg, ""}, cell{"finish", "deg", 1,
				newFinish / units.Deg,
				""})
		return nil
	})
}

// inWindow refuses an inboard that no oar has.
func inWindow(c *lang.Call, inboard float64) error {
	low, high := things.OarRecord.Window("inboard")
	if inboard >= low && inboard <= high {
		return nil
	}
	return c.Wrong("stroke", lang.NoAnswer("the hands' way along the boat stays: a longer arc wants a "+
		"shorter inboard, a shorter arc a longer one",
		"angles nearer to the stroke's own", "these angles want an inboard of %s cm, outside %s to %s",
		table.Fixed(inboard, 1), table.Fixed(low, -1), table.Fixed(high, -1)))
}
