package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Weighing is one change under everything that was tried: columns kind (text: "as set",
// "input", "form", "hold", "definition"), assumption (text), change, low and high (its
// interval, blank for a dot), turns (text, "" where the line turns nothing). Worthwhile is
// the half-width of the band in which a change is too small to matter, in change's unit.
const Weighing document.Kind = "weighing"

var weighingKind = &Kind{
	Name: Weighing,
	Needs: func(*document.Figure) []Need {
		return []Need{{"change", Numbers}, {"kind", Names}, {"assumption", Names}}
	},
	Lacks: func(f *document.Figure) string {
		if len(triesOf(f.Table)) == 0 {
			return "nothing in it was rowed"
		}
		return ""
	},
	Title:    func(f *document.Figure) string { return named(f, "What could turn it") },
	Describe: describeWeighing,
	Reading: func(f *document.Figure) string {
		s := "Each line is one assumption, its dot the change there."
		if f.Worthwhile > 0 {
			s += " Within the grey band, " + typeset.Number(f.Worthwhile, -1) +
				" to each side of no change, it is too " +
				"small to matter."
		}
		return s + " Lines in bold turn it."
	},
	Draw:   drawWeighing,
	Window: func(w term.Window, f *document.Figure) []string { return weighingInWindow(w, f) },
}

// try is one line of a weighing.
type try struct {
	kind, name     string
	mid, low, high float64
	turns          string
}

func triesOf(t *table.Table) []try {
	kind, name, change := t.TextColumn("kind"), t.TextColumn("assumption"), t.Column("change")
	low, high, turns := t.Column("low"), t.Column("high"), t.TextColumn("turns")
	if kind == nil || name == nil || change == nil {
		return nil
	}
	value := func(c *table.Column, i int) float64 {
		if c == nil || c.Kind == table.Text {
			return math.NaN()
		}
		return c.Value(i)
	}
	var out []try
	for i := range t.Len() {
		x := try{kind: kind.Texts[i], name: name.Texts[i], mid: value(change, i), low: value(low, i),
			high: value(high, i)}
		if turns != nil {
			x.turns = turns.Texts[i]
		}
		if !math.IsNaN(x.mid) {
			out = append(out, x)
		}
	}
	return out
}

func weighingExtent(tries []try, band float64) []float64 {
	values := []float64{0, -1.2 * band, 1.2 * band}
	for _, x := range tries {
		values = append(values, x.mid, x.low, x.high)
	}
	return values
}

// drawWeighing draws a line an assumption: dots on a common axis, no change and the band
// marked, a heading where the kind changes.
func drawWeighing(f *document.Figure, d *draw.Surface) {
	tries := triesOf(f.Table)
	unit := f.Table.Column("change").Unit
	digits := max(f.Table.Column("change").Digits, 0)
	left, right, pitch := 290., 76., 21.
	if d.Narrow() {
		left, right, pitch = 8, 12, 38
	}
	values := weighingExtent(tries, f.Worthwhile)
	x := draw.Axis(append(values, symmetric(values)...), 6)
	x.From, x.To = left, d.W-right
	top, height := 26., 0.
	for i, t := range tries {
		if i > 0 && t.kind != tries[i-1].kind {
			height += 8
		}
		height += pitch + below*float64(len(nameLines(d, t, left))-1)
	}
	bottom := top + height
	if f.Worthwhile > 0 {
		from, to := math.Max(x.At(-f.Worthwhile), x.From), math.Min(x.At(f.Worthwhile), x.To)
		d.Rect("worth", from, top, to-from, height)
	}
	for _, t := range x.Ticks {
		class := "hair"
		if t == 0 {
			class = "axis"
		}
		d.Line(class, x.At(t), top, x.At(t), bottom)
		d.Text("t2 mid", x.At(t), bottom+17, typeset.Signed(t, x.Digits))
	}
	d.Text("sm t2 mid halo", math.Max(34, math.Min(x.At(0), d.W-34)), top-8, "no change")
	y := top
	for i, t := range tries {
		if i > 0 && t.kind != tries[i-1].kind {
			d.Line("hair", 0, y+4, x.To, y+4)
			y += 8
		}
		lines := nameLines(d, t, left)
		drawTry(d, x, t, lines, y+pitch/2, digits)
		y += pitch + below*float64(len(lines)-1)
	}
	d.Text("t2 end", x.To, bottom+34, "change, "+typeset.Text(unit))
	d.H = bottom + 40
}

// below is the way from one line of a name to the next.
const below = 15.

// nameLines are the lines in which a try's name stands: what turns the answer has the longest.
func nameLines(d *draw.Surface, t try, left float64) []string {
	size, width := 13.5, left-14
	if d.Narrow() {
		size, width = 12.5, d.W-62
	}
	if t.turns != "" {
		size *= 1.06 // bold
	}
	name := words.Capital(t.name)
	if first, fits := name, false; draw.TextWidth(name, size) > width {
		for i := strings.LastIndexByte(first, ' '); i > 0 && !fits; i = strings.LastIndexByte(first, ' ') {
			first = name[:i]
			fits = draw.TextWidth(first, size) <= width
		}
		if fits {
			return []string{first, draw.Cut(name[len(first)+1:], size, width)}
		}
	}
	return []string{draw.Cut(name, size, width)}
}

// drawTry draws one assumption, the first line of its name about the height y.
func drawTry(d *draw.Surface, x draw.Scale, t try, lines []string, y float64, digits int) {
	class, number := "", typeset.Signed(t.mid, digits)
	if t.turns != "" {
		class = "b "
	}
	more := below * float64(len(lines)-1)
	for i, line := range lines {
		if d.Narrow() {
			d.Text(class+"halo", 0, y-5+below*float64(i), line)
		} else {
			d.Text(strings.TrimSpace(class), 0, y+4.5+below*float64(i), line)
		}
	}
	if d.Narrow() {
		d.Text(class+"end halo", d.W, y-5, number)
		y += 9 + more
	} else {
		y += more / 2
		d.Text(class+"end", d.W, y+4.5, number)
	}
	if !math.IsNaN(t.low) && !math.IsNaN(t.high) {
		drawInterval(d, x.At(t.low), x.At(t.high), y)
	}
	series := draw.Series(0)
	if t.turns != "" {
		series = draw.Series(1)
	}
	d.MarkSized(series, x.At(t.mid), y, 4.5)
}

func describeWeighing(f *document.Figure) string {
	tries := triesOf(f.Table)
	unit, digits := f.Table.Column("change").Unit, max(f.Table.Column("change").Digits, 0)
	low, high := math.Inf(1), math.Inf(-1)
	var turning []string
	for _, t := range tries {
		low, high = math.Min(low, t.mid), math.Max(high, t.mid)
		if t.turns != "" {
			turning = append(turning, t.name+" ("+typeset.Signed(t.mid, digits)+")")
		}
	}
	s := fmt.Sprintf("%d assumptions: the change goes from %s to %s", len(tries), typeset.Signed(low, digits),
		table.WithUnit(typeset.Signed(high, digits), unit))
	switch {
	case len(turning) > 0:
		s += "; it is turned by " + words.List(turning)
	case low > 0 || high < 0:
		s += ", all on one side of no change"
	}
	return s + "."
}

// weighingInWindow draws a row an assumption: name, number and a dot on the common axis.
func weighingInWindow(w term.Window, f *document.Figure) []string {
	tries := triesOf(f.Table)
	digits := max(f.Table.Column("change").Digits, 0)
	name, number := 0, 0
	for _, t := range tries {
		name = max(name, term.Width(w.Clean(t.name)))
		number = max(number, len(table.Signed(t.mid, digits)))
	}
	name = min(name, w.TextWidth()/2)
	room := max(w.TextWidth()-2-name-2-number-4, 12)
	low, high := draw.Extent(weighingExtent(tries, f.Worthwhile))
	at := func(v float64) int {
		if high <= low {
			return 0
		}
		return min(max(int(math.Round((v-low)/(high-low)*float64(room-1))), 0), room-1)
	}
	dot, bar, line, shade, turning := "●", "─", "│", "░", "◆"
	if w.ASCII {
		dot, bar, line, shade, turning = "o", "-", "|", ":", "#"
	}
	var out []string
	for _, t := range tries {
		cells := make([]string, room)
		for i := range cells {
			cells[i] = " "
			if f.Worthwhile > 0 && i >= at(-f.Worthwhile) && i <= at(f.Worthwhile) {
				cells[i] = shade
			}
		}
		cells[at(0)] = line
		if !math.IsNaN(t.low) && !math.IsNaN(t.high) {
			for i := at(t.low); i <= at(t.high); i++ {
				cells[i] = bar
			}
		}
		cells[at(t.mid)] = dot
		if t.turns != "" {
			cells[at(t.mid)] = turning
		}
		out = append(out, "  "+term.PadRight(term.Cut(w.Clean(t.name), name), name)+"  "+
			term.PadLeft(table.Signed(t.mid, digits), number)+"  "+strings.TrimRight(strings.Join(cells, ""),
			" "))
	}
	return append(out, w.Wrap("", 2, fmt.Sprintf("%s no change, %s too small to matter, %s turns it", line,
		shade, turning))...)
}
