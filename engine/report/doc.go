// Package report makes pages of what a study told: text, tables, SVG figures,
// sliders and the moving picture. It knows tables and numbers, not strokes, and
// no scripting. Start with Document, which is also what a terminal prints from.
package report

import "thole/engine/table"

// Document is what a study told, in order. It is plain data: the same document
// is printed to a terminal, written as a page and kept in the run's record.
type Document struct {
	Study   string // file name, "a_outboard.star"
	Run     string // name of the run's folder, "a_outboard-7c1e"
	Command string // what reruns it, "thole run a_outboard.star"
	Version string // of the engine
	Source  string // the study's text
	Subject string // who it is about, for the running head: "Otters, 4x"; may be ""

	Title  string
	Answer string

	Params      []Param
	Blocks      []Block
	Results     []Result
	Cautions    []Caution
	Assumptions []Assumption

	// OnWater is what to try on the water, one change a step. Left nil, a page
	// with a length to set makes the steps from its comparison.
	OnWater []string
	// Computed is how it was computed, in CommonMark; "" leaves it out.
	Computed string
}

// Param is a parameter of the study as it was in force.
type Param struct {
	Name, Unit, Value string // Value as shown, without unit
	Written           string // the value in the study's text, as shown
	Set               bool   // changed by --set
	Help              string
}

// Result is a named result, kept for the season.
type Result struct {
	Name, Unit string
	Digits     int
	Value      float64         // when Text and Estimate are unset
	Text       string          // when IsText
	IsText     bool            //
	Estimate   *table.Estimate // else nil
}

// Caution is one sentence that the reader must see. Order: as they are printed.
type Caution struct{ Text string }

// Assumption is one default in use, or a statement of the study's own.
type Assumption struct {
	What, Value, Unit string
	Source            string // author-year, or its mark in words ("common practice, no source")
}

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

// FigureKind names how a figure is drawn.
type FigureKind string

// What each kind reads. Columns are numbers unless said otherwise.
const (
	// Lines over a setting: Table with X and every column of Y, each unit its own
	// panel; By (text or number) makes the lines, Panel the small multiples. A Y
	// of estimates is drawn as a line with its 95 % band. Lines keep the order in
	// which their names first appear: the first is series 1, "now".
	Lines FigureKind = "lines"
	// Curves over the arc or the time: as Lines, with By (or the column "case") the
	// stroke's name. Over "angle", 0 is named square and the ends catch and finish.
	Curves FigureKind = "curves"
	// Bars of one stroke's energy: columns item (text), side (text: a heading,
	// "what the rower puts in", "where it goes"), then one column a stroke, in J.
	Bars FigureKind = "bars"
	// Paths of blades: Paths.
	Paths FigureKind = "paths"
	// Heat is a map over two axes: Table in lines, X, Y[0] the second axis, Z.
	Heat FigureKind = "heat"
	// Whisker reads a comparison: quantity (text), percent, low, high (percent and
	// its ends in per cent of the first), verdict (text); low and high may be blank.
	// Without low and high, a change column of estimates and before give the ends.
	Whisker FigureKind = "whisker"
	// Swing reads a sensitivity: input (text), low, high, at_low, at_high, swing,
	// flips_at (blank: none found). A Guide on "x" is the value with nothing moved.
	Swing FigureKind = "swing"
	// Moving is two oars on one pin: Motion, one or two.
	Moving FigureKind = "moving"
	// Pieces is a judged trial: what (text: "pair 1", ..., last "difference"),
	// change (number, % of speed), interval (estimate, in the last line only), odd
	// (text, "odd" or blank). Guides on "change" are the levels that matter.
	Pieces FigureKind = "pieces"
	// Tape is a length to set: Table in the shape of a comparison, its line named
	// by X: quantity (text), before, after, change. A page draws one by itself
	// above the first comparison shown in which outboard, inboard or length moves.
	Tape FigureKind = "tape"
	// RigView is one seat's rig from above and from the stern, to scale: Rigs, one or
	// two, the second the proposed one.
	RigView FigureKind = "rig"
)

// Figure is a drawing made from a table. Sentence is made from the data and
// serves as the caption's end, the SVG's description and the terminal's text.
type Figure struct {
	Kind     FigureKind
	Name     string
	Caption  string
	Sentence string
	Table    *table.Table
	X        string
	Y        []string
	Z        string
	By       string
	Panel    string
	Guides   []Guide
	Paths    []Path
	Motion   []Motion
	Rigs     []Rigged

	// References names the lines that nobody can own (perfect grip): drawn in
	// ink, never as a series.
	References []string

	Worthwhile float64 // Whisker: smallest change of speed that matters, %; 0 draws none
}

// Guide is a dotted level or place with a name: "equal load", "square".
type Guide struct {
	Axis  string // "x", or the y column it belongs to
	At    float64
	Label string
}

// Path is one oar's way through the water, at equal times; every slice has one
// value a moment. cm, x forward from the pin's place at the catch, y outward.
type Path struct {
	Name      string
	Reference bool // perfect grip: drawn in ink, never as a series
	Time      []float64
	Angle     []float64 // deg, negative toward the bow
	TipX      []float64
	TipY      []float64
	CentreX   []float64
	CentreY   []float64
	NeckX     []float64
	NeckY     []float64
	HandleX   []float64
	HandleY   []float64
	PinX      []float64
	FineX     []float64 // the centre's path, finely sampled, for the line itself
	FineY     []float64
	FineAngle []float64 // deg, at the same places; nil: the shading goes by the moments
}

// Motion is one stroke as computed frames, equal times apart, drive and
// recovery. Lengths in cm, x forward in the water's frame.
type Motion struct {
	Name        string
	Step        float64 // s between frames
	Drive       float64 // s
	Hull        []float64
	HullSpeed   []float64 // m/s
	Angle       []float64 // deg
	HandleForce []float64 // N
	HandleSpeed []float64 // m/s
	Slip        []float64 // m/s, blade's slip across itself; nil where unknown
	Reference   bool      // perfect grip: drawn in ink, never as a series
	InBoard     float64   // cm, pin to the centre of the pull
	ToCentre    float64   // cm, pin to blade centre
	BladeLength float64   // cm
}

// Rigged is one seat with its oar as it is set, for a drawing to scale: cm and degrees,
// NaN where the rig does not say.
type Rigged struct {
	Name     string
	Sculling bool
	Seats    int    // of the whole boat
	Sides    string // of its seats from bow, p port and s starboard; "" where not said

	PinLine                 float64 // hull's midline to pin: spread, or half the span
	Inboard, Outboard       float64 // from the collar's face
	Gate                    float64 // width of the gate along the shaft
	Pull                    float64 // handle end to the centre of the pull
	BladeLength, BladeWidth float64
	Catch, Finish           float64 // magnitudes
	Overlap                 float64 // gates counted
	Apart                   float64 // between the handles at the finish

	WorkThrough float64 // seat's front stop sternward of the pins
	Stretcher   float64 // heels sternward of the front stop

	Height        float64 // gate over the seat, of two unlike gates the mean
	Higher        float64 // how much the starboard gate stands over the port gate
	SeatOverWater float64
	Clear         float64 // feathered blade over the water on the recovery
	Slope         float64 // of the shaft, the blade covered
	Drive         float64 // hands over the seat
	Recovery      float64

	Pitch, Outward float64
}

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
}

// RigCard is a rigging card for the trailer.
type RigCard struct {
	Title, Side string // "Otters, 4x, set A"
	Rows        []Item // oar, blade, rig, ratios, angles, rowed, note
	Seats       []string
	Columns     []Item // what is to be written in, with its value where known: span, inboard...
	// Known holds, where seats differ, what is set at each: a line a seat, a cell
	// a column, "" for nothing known. nil: the rows above hold for every seat.
	Known    [][]string
	Cautions []string // of the stroke itself, printed on the card
	Foot     []string
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
