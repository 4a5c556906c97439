package telling

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/words"
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
		ofRig("stretcher", "cm", func(r *things.Rig) float64 { return r.Stretcher }))
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
	if missing := missingText(height, pitch); missing != "" {
		card.Foot = append(card.Foot, words.Capital(missing)+": blank until measured.")
	}
}

// furtherColumns are what else is set at each seat, as the study gives it; the oars come first.
func furtherColumns(c *lang.Call, card *document.RigCard) error {
	if !c.Given("further") {
		return nil
	}
	for _, kv := range c.Value("further").(*starlark.Dict).Items() {
		head, _ := starlark.AsString(kv[0])
		name, unit, _ := table.Heading(head)
		values, ok := lang.Items(kv[1])
		if name == "" || !ok || len(values) != len(card.Seats) {
			return c.Wrong("further", lang.Mistake("bow first, None where nobody knows",
				fmt.Sprintf("a list of %d", len(card.Seats)), "%s has no value for each seat",
				lang.Briefly(kv[0])))
		}
		card.EachSeat()
		card.Columns = append(card.Columns, document.Item{Label: words.Spaced(name), Unit: unit})
		for i, v := range values {
			text, isText := starlark.AsString(v)
			if x, ok := starlark.AsFloat(v); ok && !isText {
				text = table.Fixed(x, 1)
			}
			card.Known[i] = append(card.Known[i], text)
		}
	}
	return nil
}

// doubtful takes what is not believed off the card as a number to set.
func doubtful(c *lang.Call, card *document.RigCard) error {
	if !c.Given("doubtful") {
		return nil
	}
	for _, v := range c.Items("doubtful") {
		items, _ := lang.Items(v)
		seat, column, text := -1, -1, ""
		if len(items) == 3 {
			if n, err := starlark.AsInt32(items[0]); err == nil {
				seat = n - 1
			} else if x, ok := starlark.AsFloat(items[0]); ok {
				seat = int(x) - 1
			}
			name, _ := starlark.AsString(items[1])
			column = slices.IndexFunc(card.Columns,
				func(c document.Item) bool { return c.Label == words.Spaced(name) })
			text, _ = starlark.AsString(items[2])
		}
		if seat < 0 || seat >= len(card.Seats) || column < 0 {
			return c.Wrong("doubtful", lang.Mistake("a seat from bow, a column of the card, and why",
				`(3, "span", "159.2 cm, the others 158.0")`, "%s is nothing on this card", lang.Briefly(v)))
		}
		card.EachSeat()
		card.Known[seat][column] = "?"
		card.Doubtful = append(card.Doubtful,
			fmt.Sprintf("seat %d, %s: %s", seat+1, card.Columns[column].Label, text))
	}
	return nil
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
