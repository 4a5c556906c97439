package stroke

import (
	"thole/engine/num"
)

// Field is one result field of a stroke: the one table that scripts, cards,
// tables, pages and help read. A new field is one line of Fields.
type Field struct {
	Name   string // as it is typed
	Unit   string // "" = a bare number
	Digits int    // decimals in cards and tables
	Change int    // decimals of a change
	Clock  bool   // shown as m:ss.s in cards
	Help   string
	Of     func(*Stroke) float64             // in Unit
	Seat   func(s *Stroke, seat int) float64 // the same for one rower of a seat; nil where it is the boat's
}

// MeanForce is ∫F_h dθ_h/(θ_c+θ_f) of a rower, N.
func (s *Stroke) MeanForce(seat int) float64 {
	p := &s.Problem.Seats[seat]
	return s.Seats[seat].HandleWork / (p.Oar.Lever() * p.Arc())
}

// EarlyLoad is the mean handle force over the first third of the arc, N. Equation 8.5.
func (s *Stroke) EarlyLoad(seat int) float64 {
	p := &s.Problem.Seats[seat]
	return s.Seats[seat].EarlyWork / (p.Oar.Lever() * p.Arc() / 3)
}

// Heaviness is mean handle force over mean handle speed, N·s/m. Equation 8.4.
func (s *Stroke) Heaviness(seat int) float64 {
	p := &s.Problem.Seats[seat]
	return s.MeanForce(seat) * s.Seats[seat].DriveTime / (p.Oar.Lever() * p.Arc())
}

// perSeat makes a field of a quantity each rower has: the mean over rowers.
func perSeat(name, unit string, digits, change int, help string, of func(s *Stroke, i int) float64) Field {
	return Field{Name: name, Unit: unit, Digits: digits, Change: change, Help: help, Seat: of,
		Of: func(s *Stroke) float64 { return s.OverRowers(func(i int) float64 { return of(s, i) }) }}
}

// boat makes a field of a quantity of the whole boat.
func boat(name, unit string, digits, change int, help string, of func(*Stroke) float64) Field {
	return Field{Name: name, Unit: unit, Digits: digits, Change: change, Help: help, Of: of}
}

// Fields lists every result field, in the order of cards and tables; rhythm is
// equation 8.8.
var Fields = []Field{
	boat("speed", "m/s", 3, 3, "mean speed of the hull through the water",
		func(s *Stroke) float64 { return s.Speed }),
	boat("ground_speed", "m/s", 3, 3,
		"the same over ground: less the drift of the water's surface with the wind", (*Stroke).GroundSpeed),
	clock(boat("split", "s/500 m", 1, 2, "time for 500 m over ground at this speed",
		func(s *Stroke) float64 { return s.Over(500) })),
	clock(boat("time_2000", "s", 1, 2, "time for 2000 m over ground at this speed",
		func(s *Stroke) float64 { return s.Over(2000) })),
	boat("rate", "1/min", 0, 1, "strokes per minute", func(s *Stroke) float64 { return s.Problem.Rate }),
	perSeat("drive_time", "s", 2, 3, "from the catch to the finish",
		func(s *Stroke, i int) float64 { return s.Seats[i].DriveTime }),
	perSeat("recovery_time", "s", 2, 3, "from the finish to the next catch",
		func(s *Stroke, i int) float64 { return s.Problem.Period() - s.Seats[i].DriveTime }),
	perSeat("rhythm", "", 2, 2, "recovery time over drive time",
		func(s *Stroke, i int) float64 { return s.Problem.Period()/s.Seats[i].DriveTime - 1 }),
	boat("distance_per_stroke", "m", 2, 2, "the hull's way from catch to catch",
		func(s *Stroke) float64 { return s.Speed * s.Problem.Period() }),
	perSeat("power", "W", 0, 1, "mechanical power of a rower, handle and body",
		func(s *Stroke, i int) float64 {
			return (s.Seats[i].HandleWork + s.Seats[i].BackWork + s.Seats[i].BodyWork) / s.Problem.Period()
		}),
	perSeat("handle_power", "W", 0, 1, "power of a rower at the handle, the way back against the air with it",
		func(s *Stroke, i int) float64 {
			return (s.Seats[i].HandleWork + s.Seats[i].BackWork) / s.Problem.Period()
		}),
	perSeat("effort", "N", 0, 1, "pull of a rower standing still, at the peak of the style",
		func(s *Stroke, i int) float64 { return s.Seats[i].Effort }),
	perSeat("peak_force", "N", 0, 1, "largest handle force of a rower",
		func(s *Stroke, i int) float64 { return s.Seats[i].PeakForce }),
	perSeat("mean_force", "N", 0, 1, "handle force of a rower, mean over the arc", (*Stroke).MeanForce),
	perSeat("early_load", "N", 0, 1, "handle force of a rower, mean over the first third of the arc",
		(*Stroke).EarlyLoad),
	perSeat("heaviness", "N·s/m", 0, 1,
		"mean handle force over mean handle speed: heavy and light as coaches say it", (*Stroke).Heaviness),
	perSeat("peak_pin_force", "N", 0, 1, "largest force of one oar on its pin",
		func(s *Stroke, i int) float64 { return s.Seats[i].PeakPinForce }),
	perSeat("slip", "cm", 0, 1, "way of the blade's centre across the shaft through the water, in the drive",
		func(s *Stroke, i int) float64 { return 100 * s.Seats[i].Slip }),
	perSeat("travel", "m", 2, 2, "the hull's way in the drive",
		func(s *Stroke, i int) float64 { return s.Seats[i].Travel }),
	boat("blade_efficiency", "", 3, 3, "1 less the share of the handle work that is left in the water",
		(*Stroke).BladeEfficiency),
	boat("hull_efficiency", "", 3, 3, "drag power at the mean speed over the mean drag power",
		(*Stroke).HullEfficiency),
	boat("min_speed", "m/s", 3, 3, "lowest speed of the hull in the stroke",
		func(s *Stroke) float64 { return s.MinSpeed }),
	boat("max_speed", "m/s", 3, 3, "highest speed of the hull in the stroke",
		func(s *Stroke) float64 { return s.MaxSpeed }),
	perSeat("catch", "deg", 1, 1, "oar angle at the catch, from the perpendicular toward the bow",
		func(s *Stroke, i int) float64 { return num.Degrees(s.Problem.Seats[i].Catch) }),
	perSeat("finish", "deg", 1, 1, "oar angle at the finish, from the perpendicular toward the stern",
		func(s *Stroke, i int) float64 { return num.Degrees(s.Problem.Seats[i].Finish) }),
	perSeat("arc", "deg", 1, 1, "catch and finish together",
		func(s *Stroke, i int) float64 { return num.Degrees(s.Problem.Seats[i].Arc()) }),
	perSeat("outboard", "cm", 1, 1, "collar's face to the blade's end",
		func(s *Stroke, i int) float64 { return 100 * s.Problem.Seats[i].Oar.Outboard() }),
	perSeat("inboard", "cm", 1, 1, "handle's end to the collar's face",
		func(s *Stroke, i int) float64 { return 100 * s.Problem.Seats[i].Oar.Inboard }),
}

func clock(f Field) Field { f.Clock = true; return f }

// FieldNamed gives a field by its name.
func FieldNamed(name string) (*Field, bool) {
	for i := range Fields {
		if Fields[i].Name == name {
			return &Fields[i], true
		}
	}
	return nil, false
}

// EnergyField is one line of the energy book.
type EnergyField struct {
	Name string // as it is typed
	Help string
	In   bool                  // what the crew puts in; the others are where it goes
	Of   func(*Energy) float64 // J
}

// EnergyFields lists the energy book, in the order of cards and tables.
var EnergyFields = []EnergyField{
	{"handle", "work of the hands", true, func(e *Energy) float64 { return e.Handle }},
	{"body", "work of moving the bodies in the boat", true, func(e *Energy) float64 { return e.Body }},
	{"blade_loss", "left in the water by the blades", false, func(e *Energy) float64 { return e.BladeLoss }},
	{"water_drag", "spent on the water along the hull", false,
		func(e *Energy) float64 { return e.WaterDrag }},
	{"air_drag", "spent on the air by bodies and oars", false, func(e *Energy) float64 { return e.AirDrag }},
	{"oar_air", "of the hands against the air on the oars", false,
		func(e *Energy) float64 { return e.OarAir }},
	{"oar_swing", "in the oars' swing at the finish", false, func(e *Energy) float64 { return e.OarSwing }},
	{"shaft_damping", "lost in the bending of shafts", false,
		func(e *Energy) float64 { return e.ShaftDamping }},
	{"spring_left", "left in bent shafts at the finish", false,
		func(e *Energy) float64 { return e.SpringLeft }},
}
