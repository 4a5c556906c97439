package document

import (
	"math"
	"thole/engine/table"
)

// Block is one thing told: *Note, *Shown, *Figure, *Ask, *RigCard, *Explore.
type Block interface{ block() }

// Note is CommonMark text, its places already filled.
type Note struct{ Markdown string }

// Shown is a value put on view: a card, a table or a line of text.
type Shown struct {
	Name  string
	Card  *Card
	Table *table.Table
	Head  string   // a line above the table ("now -> broad")
	Side  string   // a remark set right on the head line ("middle of 200 draws")
	Foot  []string // lines beneath ("unchanged: rate 32.0 1/min")
	Line  string   // a plain value as a line
}

// Card is the rich view of one thing: a head, items in order, lines beneath.
type Card struct {
	Title string // "calm"
	Side  string // "1x, 84 kg, 32/min, no wind, water 15 °C"
	Items []Item
	Foot  []string
}

// Item is one line of a card: a label, a value set right, its unit, a remark.
type Item struct{ Label, Value, Unit, Remark string }

// Ask is a question whose reason, and all that follows up to the next question
// or section, stays hidden until it was guessed or revealed.
type Ask struct {
	Question  string
	Choices   []string // else a number is asked for
	Answer    string   // as shown
	Number    float64
	Tolerance float64
	Unit      string
	Because   string

	// Before is the picture beside the question, of one rig or one path; After what the reveal
	// moves it to, of the same kind. nil: no picture, no motion.
	Before, After *Figure
	About         string // what the question is about: "catch", "arc", "inboard", or a field
}

// RigCard is a rigging card for the trailer.
type RigCard struct {
	Title, Side string // "Otters, 4x, set A"
	Rows        []Item // oar, blade, rig, note
	Computed    []Item // ratios, angles, rowed: of the engine, not for the spanner; not printed
	Seats       []string
	Columns     []Item // what is to be written in, with its value where known: span, inboard...
	// Known holds, where seats differ, what is set at each: a line a seat, a cell
	// a column, "" for nothing known, "?" for what is not believed. nil: the columns'
	// values hold for every seat.
	Known    [][]string
	Doubtful []string // what is not believed, and what its neighbours have: "seat 3, span: 159.2 cm, ..."
	Cautions []string // of the stroke itself, printed on the card
	Drawing  *Figure  // the rig to scale; nil where none is known
	Foot     []string
}

// EachSeat writes what is known down seat by seat, where it stood for all of them.
func (c *RigCard) EachSeat() {
	if c.Known != nil {
		return
	}
	for range c.Seats {
		var line []string
		for _, column := range c.Columns {
			line = append(line, column.Value)
		}
		c.Known = append(c.Known, line)
	}
}

// Explore is a grid of computed states behind sliders.
type Explore struct {
	Axes   []Axis
	Fields []Field
	// States holds one value a field for every grid point, the first axis
	// slowest; NaN where there is no stroke, with its Reasons.
	States  [][]float64
	Reasons []string
	Base    []int // index of the starting value on each axis
}

// Axis is one slider.
type Axis struct {
	Name, Unit string
	Digits     int
	Values     []float64
	Texts      []string // for an axis of names
}

// Field is one value that follows the sliders.
type Field struct {
	Name, Unit     string
	Digits, Change int
	Clock          bool // shown as m:ss.s
}

func (*Note) block()    {}
func (*Shown) block()   {}
func (*Figure) block()  {}
func (*Ask) block()     {}
func (*RigCard) block() {}
func (*Explore) block() {}

// Size is the number of states of the grid.
func (e *Explore) Size() int {
	n := 1
	for _, a := range e.Axes {
		n *= a.Len()
	}
	return n
}

// Len is the number of values of an axis.
func (a *Axis) Len() int { return max(len(a.Values), len(a.Texts)) }

// Index of a state: the first axis varies slowest.
func (e *Explore) Index(at []int) int {
	k := 0
	for i := range e.Axes {
		k = k*e.Axes[i].Len() + at[i]
	}
	return k
}

// Value of a field in a state; NaN where there is no stroke.
func (e *Explore) Value(state, field int) float64 {
	if state >= len(e.States) || field >= len(e.States[state]) {
		return math.NaN()
	}
	return e.States[state][field]
}
