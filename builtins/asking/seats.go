package asking

import (
	"fmt"

	"thole/builtins/rowing"
	"thole/builtins/units"
	"thole/engine/stroke"
	"thole/engine/study"
)

// seatFields are what a comparison tells of a seat whose rig was changed: what was set,
// then how heavy it is in that rower's hands and for how long.
var seatFields = []string{"inboard", "outboard", "catch", "finish", "heaviness", "drive_time", "peak_force",
	"power", "effort"}

// ofSeats are a stroke's numbers of single seats, called "seat 4 heaviness".
func ofSeats(s *rowing.Stroke, seats []int) []study.Value {
	var values []study.Value
	for _, i := range seats {
		for _, name := range seatFields {
			f, _ := stroke.FieldNamed(name)
			values = append(values, study.Value{Quantity: study.Quantity{Name: fmt.Sprintf("seat %d %s", i+1,
				name),
				Unit: f.Unit, Digits: f.Digits, Change: f.Change}, Number: units.Clean(s.OfSeat(f, i),
				f.Unit)})
		}
	}
	return values
}
