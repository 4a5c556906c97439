// Package figure holds the kinds of figure, one record each: what data a kind
// needs, when there is nothing to draw, its title, its sentence for a reader who
// cannot see it, how to read it, its drawing on a page and in a picture file, its
// drawing in a terminal's window, the table behind it. Whoever shows figures asks
// this package and knows no kinds: Title, Empty, Sentence, Caption, Drawings,
// Pictures, Window.
//
// A new kind is one file with its record, and one line in the registry. The
// package computes nothing: what a figure shows stands in its table, its paths
// or its frames.
package figure

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Kind is the record of one kind of figure. Only Name, Title and one of Draw,
// Parts and Live have to be given.
type Kind struct {
	Name document.Kind

	// Needs lists the columns that it reads, most telling first; nil: no table.
	Needs func(f *document.Figure) []Need
	// Lacks says in words why there is nothing to draw though the columns are there.
	Lacks func(f *document.Figure) string

	Title    func(f *document.Figure) string
	Describe func(f *document.Figure) string // for a reader who cannot see it; nil: the span of its values
	Sentence func(f *document.Figure) string // as it is told; nil: the description
	Reading  func(f *document.Figure) string // how to read it, the caption's end; nil: the description

	Draw  func(f *document.Figure, d *draw.Surface) // on a page and in a picture file; sets d.H
	Parts func(f *document.Figure) []Drawing        // where it has several drawings
	Live  *Live                                     // where a script moves it: no Draw, no picture file
	// Window draws it for a terminal; nil: its table stands there.
	Window func(w term.Window, f *document.Figure) []string
	Table  func(f *document.Figure) *table.Table // behind it, for its reader; nil: its own
	// what is drawn of a table shown; nil figure: nothing
	Beside func(t *table.Table) (*document.Figure, Place)
}

// Need is a column that a kind reads.
type Need struct {
	Name string
	As   Holding
}

// Holding is what a needed column has to hold.
type Holding int

const (
	Anything Holding = iota
	Names
	Numbers
)

// Place is where a figure stands that is drawn of a table shown.
type Place int

const (
	Instead Place = iota // of the table, which lies folded beneath
	Below
)

// Drawing is one drawing of a figure.
type Drawing struct {
	Title, Description string
	// what stands still in it, "water" or "boat", where a key turns from one to the other
	Stays string
	Draw  func(d *draw.Surface)
}

// Live is what a figure that moves brings to a page: markup, the data its script
// reads, and the style and the script, once for all figures of the kind.
type Live struct {
	Key           string // of its data
	Style, Script string
	InWords       string // how it stands in a terminal
	Body          func(f *document.Figure, id string, lesson bool,
		next func(prefix string) string) (template.HTML, any)
}

// Of gives the record of a figure's kind, nil for a kind that nobody knows.
func Of(f *document.Figure) *Kind {
	for _, k := range Kinds {
		if k.Name == f.Kind {
			return k
		}
	}
	return nil
}

// Empty says in words why there is nothing to draw, or "".
func Empty(f *document.Figure) string {
	k := Of(f)
	if k == nil {
		return "this kind of figure cannot be drawn"
	}
	if k.Needs != nil {
		if f.Table == nil || f.Table.Len() == 0 {
			return "its table holds no lines"
		}
		if why := unmet(f.Table, k.Needs(f)); why != "" {
			return why
		}
	}
	if k.Lacks == nil {
		return ""
	}
	return k.Lacks(f)
}

// unmet says which need a table does not meet: first of all columns whether they
// are there, then what they hold.
func unmet(t *table.Table, needs []Need) string {
	for _, n := range needs {
		if t.Column(n.Name) == nil {
			return fmt.Sprintf("its table has no column %q", n.Name)
		}
	}
	for _, n := range needs {
		text := t.Column(n.Name).Kind == table.Text
		if n.As == Names && !text {
			return fmt.Sprintf("its column %q holds no names", n.Name)
		}
		if n.As == Numbers && text {
			return fmt.Sprintf("its column %q holds no numbers", n.Name)
		}
	}
	return ""
}

// Title names a figure by what it draws.
func Title(f *document.Figure) string {
	if k := Of(f); k != nil {
		return k.Title(f)
	}
	return named(f, "Figure")
}

// named is a figure's own name, or else the one given.
func named(f *document.Figure, fallback string) string {
	if f.Name != "" {
		return words.Capital(words.Spaced(f.Name))
	}
	return fallback
}

// Describe says what a figure shows for those who cannot see it: the sentence it
// was told with, or what its kind makes of the data. There must be something to
// draw.
func Describe(f *document.Figure) string {
	k := Of(f)
	switch {
	case f.Sentence != "":
		return f.Sentence
	case k.Describe != nil:
		return k.Describe(f)
	}
	return spans(f, f.Y)
}

// spans says between which ends some columns of a figure lie.
func spans(f *document.Figure, names []string) string {
	var parts []string
	for _, name := range names {
		c := f.Table.Column(name)
		if c == nil || c.Kind == table.Text {
			continue
		}
		var vs []float64
		for i := range c.Len() {
			vs = append(vs, c.Value(i))
		}
		low, high := draw.Extent(vs)
		parts = append(parts, fmt.Sprintf("%s lies between %s and %s", words.Spaced(name),
			typeset.Number(low, c.Digits), typeset.Quantity(high, c.Digits, c.Unit)))
	}
	if len(parts) == 0 {
		return ""
	}
	return words.Capital(strings.Join(parts, "; ")) + "."
}

// Sentence says in a terminal's signs what a figure shows, made from its data
// alone; it is told with the figure and serves page and window alike.
func Sentence(f *document.Figure) string {
	if why := Empty(f); why != "" {
		return "There is nothing to draw: " + why + "."
	}
	said := typeset.Typed(Describe(f))
	if k := Of(f); k.Sentence != nil {
		said = k.Sentence(f)
	}
	return strings.TrimSpace(said + " " + held(f))
}

// held says at what all strokes of a figure were rowed, as a sentence.
func held(f *document.Figure) string { return words.Capital(words.Sentence(f.Held)) }

// Caption is what stands beneath a figure: the study's own words, then how to
// read it.
func Caption(f *document.Figure) string {
	reading := Of(f).Reading
	if reading == nil {
		reading = Describe
	}
	text := strings.TrimSpace(words.Sentence(f.Caption) + " " + words.Sentence(reading(f)))
	if strings.Contains(strings.ToLower(text), f.Held) {
		return text
	}
	return text + " " + held(f)
}

// Drawings gives the drawings of a figure that has something to draw; none of
// one that moves.
func Drawings(f *document.Figure) []Drawing {
	k := Of(f)
	switch {
	case k.Parts != nil:
		return k.Parts(f)
	case k.Draw != nil:
		return []Drawing{drawing(f, Title(f), k.Draw)}
	}
	return nil
}

func drawing(f *document.Figure, title string, with func(*document.Figure, *draw.Surface)) Drawing {
	return Drawing{Title: title, Description: Describe(f), Draw: func(d *draw.Surface) { with(f, d) }}
}

// Moves says whether a script moves a figure: then only a page shows it whole.
func Moves(f *document.Figure) bool { return Of(f) != nil && Of(f).Live != nil }

// Drawable says whether figures of this kind can be written as picture files:
// all but those that move.
func Drawable(f *document.Figure) bool { return Of(f) != nil && !Moves(f) }

// Pictures draws a figure for a place as wide as a sheet of paper: all its
// drawings, in order. A figure with nothing to draw is an error that says why.
func Pictures(f *document.Figure) ([]*draw.Picture, error) {
	if !Drawable(f) {
		return nil, fmt.Errorf("a figure of kind %q is drawn on a page only", f.Kind)
	}
	if why := Empty(f); why != "" {
		return nil, fmt.Errorf("no figure %q: %s", Title(f), why)
	}
	var out []*draw.Picture
	for _, part := range Drawings(f) {
		d := &draw.Surface{W: draw.Wide, ID: "g"}
		part.Draw(d)
		out = append(out, &draw.Picture{Width: d.W, Height: d.H, Title: part.Title,
			Description: part.Description, Shapes: d.Shapes})
	}
	return out, nil
}

// Behind is the table that a reader may unfold beneath a figure, nil for none. A
// finely sampled one is thinned.
func Behind(f *document.Figure) *table.Table {
	if k := Of(f); k.Table != nil {
		return k.Table(f)
	}
	if f.Table != nil && f.Table.Len() > 400 {
		return thinned(f.Table, 200)
	}
	return f.Table
}

// thinned keeps about n lines of a table, first and last included.
func thinned(t *table.Table, n int) *table.Table {
	var lines []int
	step := float64(t.Len()-1) / float64(n-1)
	for i := range n {
		lines = append(lines, int(math.Round(float64(i)*step)))
	}
	return t.Lines(lines)
}

// Beside gives the figure that is drawn of a table shown at a place, or nil: a
// sensitivity, a map of slip over the blade, changes with their intervals.
func Beside(t *table.Table, at Place) *document.Figure {
	for _, k := range Kinds {
		if k.Beside != nil && t != nil && t.Len() > 0 {
			if f, place := k.Beside(t); f != nil && place == at {
				return f
			}
		}
	}
	return nil
}

// Window draws a figure in a terminal's window, its sentence beneath. A kind
// without a drawing for a window stands as its table, one that moves in words.
func Window(w term.Window, f *document.Figure) []string {
	var lines []string
	switch k := Of(f); {
	case k == nil || Moves(f) || k.Window == nil && f.Table == nil:
		return InWords(w, f)
	case k.Window == nil || f.Table != nil && k.Needs != nil && unmet(f.Table, k.Needs(f)) != "":
		lines = w.Table(f.Table, term.Cutting{})
	default:
		lines = k.Window(w, f)
	}
	return append(lines, said(w, f, "", 0)...)
}

// InWords is how a figure stands in a run: its name and its sentence. The
// picture is in the page.
func InWords(w term.Window, f *document.Figure) []string {
	what := "(figure)"
	if Moves(f) {
		what = Of(f).Live.InWords
	}
	name := w.Clean(f.Name)
	if name != "" {
		name += "  "
	}
	lines := []string{name + what}
	if term.Width(lines[0]) > w.TextWidth() {
		lines = w.Wrap("", 2, lines[0])
	}
	return append(lines, said(w, f, "  ", 2)...)
}

// said sets what a figure says in words: its own caption, then what was made
// from its data.
func said(w term.Window, f *document.Figure, head string, hang int) []string {
	var lines []string
	for _, text := range []string{f.Caption, f.Sentence} {
		if strings.Trim(text, " .") != "" {
			lines = append(lines, w.Wrap(head, hang, w.Clean(text))...)
		}
	}
	return lines
}
