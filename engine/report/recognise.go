package report

import (
	"math"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// Some tables are pictures when they are shown on a page: a sensitivity, a map
// of slip over the blade. Their lines stay as the folded table beneath.

// drawnFrom gives the figure that a shown table is drawn as, or nil.
func drawnFrom(t *table.Table) *document.Figure {
	has := func(names ...string) bool {
		for _, name := range names {
			if t.Column(name) == nil {
				return false
			}
		}
		return t.Len() > 0
	}
	switch {
	case has("input", "at_low", "at_high") && textColumn(t, "input") != nil && t.Column("at_low").Kind == table.Number && t.Column("at_high").Kind == table.Number:
		return &document.Figure{Kind: figure.Swing, Table: t}
	case has("angle", "strip", "slip_speed") && t.Column("angle").Kind == table.Number:
		return &document.Figure{Kind: figure.Heat, Table: t, X: "angle", Y: []string{"strip"}, Z: "slip_speed"}
	}
	return nil
}

// whiskersTell says whether a comparison was drawn from doubts and is worth a
// picture: more than two lines with intervals.
func whiskersTell(t *table.Table) bool {
	n := 0
	for _, w := range toldWhiskers(&document.Figure{Table: t}) {
		if !math.IsNaN(w.low) {
			n++
		}
	}
	return n > 2
}
