package telling

import (
	"math"
	"strconv"

	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/table"
)

// seatColumn is one number of a seat that a rigger sets or checks, in the trade's unit; NaN
// where it is not known.
type seatColumn struct {
	label, unit string
	of          func(s *rowing.Stroke, seat int) float64
}

// ofRig makes a column of a rig's measure.
func ofRig(label, unit string, of func(r *things.Rig) float64) seatColumn {
	return seatColumn{label, unit, func(s *rowing.Stroke, seat int) float64 {
		if r := s.RigOf(seat); r != nil {
			return units.Trade(of(r), unit)
		}
		return math.NaN()
	}}
}

// columnsOf are the columns of a boat's card, in the order in which a rigger goes about:
// pins, oar, gates, pitch, slides and stretcher, and what comes of it for the hands.
func columnsOf(s *rowing.Stroke) []seatColumn {
	first := s.Oars[0]
	out := []seatColumn{
		{pinsName(first), "cm", func(s *rowing.Stroke, seat int) float64 {
			if r := s.RigOf(seat); r != nil {
				return pins(s.Oar(seat), r)
			}
			return math.NaN()
		}},
		{"inboard", "cm", func(s *rowing.Stroke, seat int) float64 {
			return units.Trade(s.Oar(seat).Inboard,
				"cm")
		}},
		{"length", "cm", func(s *rowing.Stroke, seat int) float64 {
			return units.Trade(s.Oar(seat).Length,
				"cm")
		}},
	}
	if first.Kind() == blade.Scull {
		out = append(out,
			ofRig("height port", "cm", func(r *things.Rig) float64 { port, _ := r.Gates(); return port }),
			ofRig("height starboard", "cm", func(r *things.Rig) float64 {
				_,
					starboard := r.Gates()
				return starboard
			}))
	} else {
		out = append(out, ofRig("height", "cm", func(r *things.Rig) float64 { return r.Height }))
	}
	return append(out,
		ofRig("pitch", "deg", func(r *things.Rig) float64 { return r.Pitch }),
		ofRig("outward", "deg", func(r *things.Rig) float64 { return r.Outward }),
		ofRig("through", "cm", func(r *things.Rig) float64 { return r.WorkThrough }),
		ofRig("stretcher", "cm", func(r *things.Rig) float64 { return r.Stretcher }),
		seatColumn{"hands", "cm", func(s *rowing.Stroke, seat int) float64 {
			r, _ := s.Rigged(seat, "")
			if s.Rig == nil {
				return math.NaN()
			}
			return r.Drive
		}})
}

// seats lists the seats with what is set at each and what is to be written in.
func seats(card *document.RigCard, s *rowing.Stroke) {
	n := s.Hull.Seats()
	for i := range n {
		label := strconv.Itoa(i + 1)
		switch {
		case n > 1 && i == 0:
			label += " bow"
		case n > 1 && i == n-1:
			label += " stroke"
		}
		if sides := s.Sides(); i < len(sides) {
			label += map[byte]string{'p': " P", 's': " S"}[sides[i]]
		}
		card.Seats = append(card.Seats, label)
	}
	known := func(x float64) string {
		if math.IsNaN(x) {
			return ""
		}
		return table.Fixed(x, 1)
	}
	columns := columnsOf(s)
	for _, c := range columns {
		card.Columns = append(card.Columns, document.Item{Label: c.label, Unit: c.unit, Value: known(c.of(s,
			0))})
	}
	if s.SeatsDiffer() || len(s.Rigs) > 1 { // what each seat was given is shown seat by seat
		for i := range n {
			line := make([]string, len(card.Columns))
			for k, c := range columns {
				line[k] = known(c.of(s, i))
			}
			card.Known = append(card.Known, line)
		}
	}
	card.Cautions = cardCautions(s)
	height, pitch := math.NaN(), math.NaN()
	if s.Rig != nil {
		height, pitch = s.Rig.Height, s.Rig.Pitch
	}
	head := "write in what you find; hands: over the seat, in the drive"
	if missing := missingText(height, pitch); missing != "" {
		head += "; " + missing
	}
	card.Foot = append(card.Foot, head)
}

// pinsName is what the pins of an oar are measured by, pins the measure, cm.
func pinsName(o *things.Oar) string {
	if o.Kind() == blade.Scull {
		return "span"
	}
	return "spread"
}

func pins(o *things.Oar, r *things.Rig) float64 {
	if o.Kind() == blade.Scull {
		return units.Trade(r.Span, "cm")
	}
	return units.Trade(r.Spread, "cm")
}
