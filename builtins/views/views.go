// Package views is how a value shows itself: Line in one line as print does, Short
// in the few lines of the prompt, Rich as the card or table that show puts on the
// page. A kind of thing that has more to show than its fields adds its own view to
// ByKind or ShortByKind, where the kind is made.
//
// Views are plain data in the trade's units with the trade's decimals; colours and
// columns are chosen by whoever draws them.
package views

import (
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/document"
	"thole/engine/table"
)

// ByKind makes the rich view of a kind of thing, by its type's name: what
// show puts on the page. A kind without one is shown field by field.
var ByKind = map[string]func(v, rig starlark.Value) []document.Block{}

// ShortByKind makes the few lines by which a value shows itself at the prompt.
// A kind without one shows its one line.
var ShortByKind = map[string]func(v starlark.Value) []string{}

// Rich gives the rich view of any value, what show puts on the page.
// The rig, where one was given, is for an oar's overlap and ratios.
func Rich(v, rig starlark.Value) []document.Block {
	if view := ByKind[v.Type()]; view != nil {
		return view(v, rig)
	}
	switch v := v.(type) {
	case *lang.Table:
		t := v.T
		if shown := comparisonShown(t); shown != nil {
			return []document.Block{shown}
		}
		return []document.Block{&document.Shown{Name: t.Name, Table: t, Side: t.Side, Foot: t.Foot}}
	case *lang.Estimate:
		return []document.Block{&document.Shown{Line: v.E.String()}}
	case *lang.Line:
		// a line that says itself in a sentence, as of a comparison, is that sentence
		if t, i := v.Of(); t.LineText != nil && t.LineText(t.T, i) != "" {
			return []document.Block{&document.Shown{Line: v.String()}}
		}
		return []document.Block{&document.Shown{Card: FieldCard(v)}}
	case lang.AnyThing:
		return []document.Block{&document.Shown{Card: FieldCard(v)}}
	}
	return []document.Block{&document.Shown{Line: Line(v)}}
}

// Short gives the few lines by which a value shows itself at the prompt; tables
// and figures are not among them.
func Short(v starlark.Value) []string {
	if view := ShortByKind[v.Type()]; view != nil {
		return view(v)
	}
	lines := strings.Split(Line(v), "\n")
	if thing, ok := v.(lang.AnyThing); ok { // with its note beneath, as find_best and equal_load give one
		if note, _, ok := thing.Field("note"); ok {
			if text, ok := starlark.AsString(note); ok {
				lines = append(lines, "  note: "+text)
			}
		}
	}
	return lines
}

// Line gives a value in one line, as print writes it.
func Line(v starlark.Value) string {
	switch v := v.(type) {
	case starlark.String:
		return string(v)
	case *lang.Estimate:
		return v.E.String()
	}
	if x, ok := lang.AsNumber(v); ok {
		return table.Fixed(x, table.AutoDigits)
	}
	return v.String()
}

// FieldCard shows a thing field by field, but for those that are shown otherwise.
func FieldCard(v lang.AnyThing, otherwise ...string) *document.Card {
	title := v.Label()
	if title == "" {
		title = v.Type()
	}
	card := &document.Card{Title: title}
	if v.Label() != "" {
		card.Side = v.Type()
	}
	for _, name := range v.FieldNames() {
		x, f, ok := v.Field(name)
		_, inner := x.(*lang.Line) // a line of its own, as .usual of find
		if !ok || inner || x == starlark.None || name == "name" || slices.Contains(otherwise, name) {
			continue
		}
		if name == "note" {
			card.Foot = append(card.Foot, Line(x))
			continue
		}
		text, unit := Line(x), f.Unit
		if n, isNumber := lang.AsNumber(x); isNumber {
			text, unit = ValueAndUnit(n, name, f.Unit, f.Digits)
		}
		card.Items = append(card.Items, document.Item{Label: name, Value: text, Unit: unit})
	}
	return card
}

// ValueAndUnit writes a quantity as cards do: a clock for splits and times over
// a distance, one decimal for the rate.
func ValueAndUnit(x float64, name, unit string, digits int) (text, shownUnit string) {
	switch {
	case table.ClockFor(name, unit):
		return table.Clock(x, max(digits, 0)), map[string]string{"s/500 m": "/500 m"}[unit]
	case name == "rate":
		return table.Fixed(x, 1), unit
	}
	return table.Fixed(x, digits), unit
}
