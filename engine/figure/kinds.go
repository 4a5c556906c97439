// Package figure names the kinds of figure.
package figure

import "thole/engine/document"

// What each kind reads. Columns are numbers unless said otherwise.
const (
	// Lines over a setting: Table with X and every column of Y, each unit its own
	// panel; By (text or number) makes the lines, Panel the small multiples. A Y
	// of estimates is drawn as a line with its 95 % band. Lines keep the order in
	// which their names first appear: the first is series 1, "now".
	Lines document.Kind = "lines"
	// Curves over the arc or the time: as Lines, with By (or the column "case") the
	// stroke's name. Over "angle", 0 is named square and the ends catch and finish.
	Curves document.Kind = "curves"
	// Bars of one stroke's energy: columns item (text), side (text: a heading,
	// "what the rower puts in", "where it goes"), then one column a stroke, in J.
	Bars document.Kind = "bars"
	// Paths of blades: Paths.
	Paths document.Kind = "paths"
	// Heat is a map over two axes: Table in lines, X, Y[0] the second axis, Z.
	Heat document.Kind = "heat"
	// Whisker reads a comparison: quantity (text), percent, low, high (percent and
	// its ends in per cent of the first), verdict (text); low and high may be blank.
	// Without low and high, a change column of estimates and before give the ends.
	Whisker document.Kind = "whisker"
	// Swing reads a sensitivity: input (text), low, high, at_low, at_high, swing,
	// flips_at (blank: none found). A Guide on "x" is the value with nothing moved.
	Swing document.Kind = "swing"
	// Moving is two oars on one pin: Motion, one or two.
	Moving document.Kind = "moving"
	// Pieces is a judged trial: what (text: "pair 1", ..., last "difference"),
	// change (number, % of speed), interval (estimate, in the last line only), odd
	// (text, "odd" or blank). Guides on "change" are the levels that matter.
	Pieces document.Kind = "pieces"
	// Tape is a length to set: Table in the shape of a comparison, its line named
	// by X: quantity (text), before, after, change. A page draws one by itself
	// above the first comparison shown in which outboard, inboard or length moves.
	Tape document.Kind = "tape"
	// Rig is one seat's rig from above and from the stern, to scale: Rigs, one or
	// two, the second the proposed one.
	Rig document.Kind = "rig"
)
