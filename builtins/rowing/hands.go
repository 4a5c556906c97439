package rowing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/rigging"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
)

// Where the hands are: over the seat in the drive and on the recovery, and apart from
// each other. One line where all seats are alike, else a table, a line a seat.

var handsRecord = &lang.Record{
	Name: "hands", Topic: "doing",
	Summary: "how high the hands go in the drive and on the recovery",
	Params: []lang.Param{strokeParam,
		{Name: "depth", Unit: "cm", Is: lang.Number, ByName: true, Default: 0, Low: 0, High: 40,
			Help: "the blade's top edge under water in the drive"},
		{Name: "clear", Unit: "cm", Is: lang.Number, ByName: true, Default: things.Fact("rig", "clear", ""),
			Low: 0, High: 40, Help: "the feathered blade over the water on the recovery"}},
	Gives: "a line: .gate gate over the water, .slope of the shaft deg, .drive .recovery hands over the " +
		"seat cm, .per_cm what 1 cm of height moves the hands in the drive cm; a table where seats or " +
		"gates are unlike",
	Errors: []string{"a rig without a height", "a gate so high that the blade does not reach the water"},
	Notes: []string{"geometry alone: no source says what depth does to the blade's force, so depth moves " +
		"no speed here",
		"the seat's height over the water is the boat's usual one unless hull(seat_over_water=) says it"},
	Example: `hands(rigged)`,
	Sources: []string{"model 12: sin(slope) = (gate over water + half the blade's width + depth)/L, hands " +
		"L_in sin(slope) over the gate", "5 cm clear: common practice, no source"},
	Also: []string{"hand_height", "handle_height"},
}

var handsApart = &lang.Record{
	Name: "handles_apart", Topic: "doing",
	Summary: "the way between the handles' ends at catch, square and finish",
	Params:  []lang.Param{strokeParam},
	Gives: "a line, cm: .at_catch .at_square .at_finish; below 0 the handles overlap. Sweep: the " +
		"handle's end to the hull's midline, below 0 past it. A table where seats are unlike",
	Errors:  []string{"a stroke without a rig"},
	Example: `handles_apart(rigged)`,
	Sources: []string{"model 12; less than 15 cm at the finish is a caution: common practice, no source"},
}

func init() {
	handsRecord.Do = handsDo
	handsApart.Do = func(c *lang.Call) (starlark.Value, error) {
		s, _ := StrokeType.From(c.Value("stroke"))
		if err := s.needsRig(c, "handles meet over the span"); err != nil {
			return nil, err
		}
		return s.seatBySeat(func(i int, put func(row ...cell)) error {
			p, r := s.problemSeat(i), s.RigOf(i)
			at := func(angle float64) float64 {
				return rigging.HandlesApart(&p.Oar, &r.Rig, angle) / units.Cm
			}
			put(cell{"at_catch", "cm", 1, at(p.Catch), ""}, cell{"at_square", "cm", 1, at(0), ""},
				cell{"at_finish", "cm", 1, at(p.Finish), ""})
			return nil
		})
	}
}

func handsDo(c *lang.Call) (starlark.Value, error) {
	s, _ := StrokeType.From(c.Value("stroke"))
	if err := s.needsRig(c, "hands are measured over the seat by the gate's height"); err != nil {
		return nil, err
	}
	seat, measured := s.Hull.SeatHeight()
	if !measured {
		account.Used(c, "hull", s.Hull.Boat, "seat_over_water")
	}
	depth, clear := c.Number("depth")*units.Cm, c.Number("clear")*units.Cm
	return s.seatBySeat(func(i int, put func(row ...cell)) error {
		r, o := s.RigOf(i), &s.problemSeat(i).Oar
		if math.IsNaN(r.Height) {
			return c.Wrong("stroke",
				lang.Mistake("how high the hands go follows from the gate's height over the seat",
					"rig(..., height=16)", "this stroke's rig has no height"))
		}
		line := func(height float64, more ...cell) error {
			h := rigging.HeightsOf(o, height, seat, depth, clear)
			if math.IsNaN(h.Slope) {
				return c.Wrong("stroke",
					lang.NoAnswer("from the gate down to the blade's centre is further than the oar is "+
						"long outboard", "height=16",
						"with the gate %s cm over the water the blade does not reach it",
						table.Fixed(h.Gate/units.Cm, 1)))
			}
			put(append(more, cell{"gate", "cm", 1, h.Gate / units.Cm, ""}, cell{"slope", "deg", 1,
				h.Slope / units.Deg, ""},
				cell{"drive", "cm", 1, h.Drive / units.Cm, ""}, cell{"recovery", "cm", 1,
					h.Recovery / units.Cm, ""}, cell{"per_cm", "cm", 2, h.PerGate, ""})...)
			return nil
		}
		port, starboard := r.Gates()
		if port == starboard {
			return line(r.Height)
		}
		if err := line(port, cell{name: "side", text: "port"}); err != nil {
			return err
		}
		return line(starboard, cell{name: "side", text: "starboard"})
	})
}

// needsRig is the error of a stroke without a rig.
func (s *Stroke) needsRig(c *lang.Call, why string) error {
	if s.Rig != nil {
		return nil
	}
	return c.Wrong("stroke", lang.Mistake(why, "rig=rig(...) in row", "this stroke has no rig"))
}

// problemSeat is what a place from bow was rowed with; seats alike stand for one.
func (s *Stroke) problemSeat(place int) *stroke.Seat {
	return &s.Problem.Seats[min(place, len(s.Problem.Seats)-1)]
}

// cell is one value of a line: a number in its unit, or a text.
type cell struct {
	name, unit string
	digits     int
	x          float64
	text       string
}

// seatBySeat gathers lines: those of bow alone where all seats are set and row alike,
// else those of every seat, numbered from bow. A single line comes back as a line.
func (s *Stroke) seatBySeat(of func(seat int, put func(row ...cell)) error) (starlark.Value, error) {
	seats, t := 1, &table.Table{}
	if s.SeatsDiffer() || len(s.Problem.Seats) > 1 {
		seats = s.Hull.Seats()
	}
	for i := range seats {
		err := of(i, func(row ...cell) {
			if seats > 1 {
				row = append([]cell{{name: "seat", x: float64(i + 1)}}, row...)
			}
			for k, v := range row {
				if k == len(t.Columns) {
					t.Columns = append(t.Columns, table.NewColumn(v.name, v.unit, table.Number))
					t.Columns[k].Digits, t.Columns[k].Change = v.digits, v.digits
					if v.text != "" {
						t.Columns[k].Kind = table.Text
					}
				}
				if col := t.Columns[k]; col.Kind == table.Text {
					col.Texts = append(col.Texts, v.text)
				} else {
					col.Nums = append(col.Nums, rounding.Clean(v.x))
				}
			}
		})
		if err != nil {
			return nil, err
		}
	}
	if t.Len() == 1 {
		return lang.NewTable(t).Line(0), nil
	}
	return lang.NewTable(t), nil
}
