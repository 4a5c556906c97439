package draw

import (
	"fmt"
	"strings"
)

// Series is how one line or bar looks: a number from 0, or the reference.
type Series int

const Reference Series = -1

func (s Series) Line() string {
	if s == Reference {
		return "ln ref"
	}
	return fmt.Sprintf("ln s%d", int(s)%5+1)
}

func (s Series) Band() string {
	if s == Reference {
		return "band inkfill"
	}
	return fmt.Sprintf("band b%d", int(s)%5+1)
}

// Mark draws the series' own mark. A ring of paper keeps crossings legible.
func (d *Surface) Mark(s Series, x, y float64) { d.MarkSized(s, x, y, 5) }

func (d *Surface) MarkSized(s Series, x, y, r float64) {
	if s == Reference {
		d.Circle("fref", x, y, r*.9)
		return
	}
	switch int(s) % 5 {
	case 0:
		d.Circle("f1", x, y, r)
	case 1:
		e := r * 1.12
		d.Path("f2", fmt.Sprintf("M%s %sl%s %sl%s %sl%s %sZ", Coord(x), Coord(y-e), Coord(e), Coord(e), Coord(-e), Coord(e), Coord(-e), Coord(-e)))
	case 2:
		d.Rect("f3", x-r*.9, y-r*.9, r*1.8, r*1.8, "")
	case 3:
		e := r * 1.15
		d.Path("f4", fmt.Sprintf("M%s %sL%s %sH%sZ", Coord(x), Coord(y-e), Coord(x+e), Coord(y+e*.8), Coord(x-e)))
	case 4:
		e := r * .85
		d.Path("f5", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %s", Coord(x-e), Coord(y-e), Coord(x+e), Coord(y+e), Coord(x-e), Coord(y+e), Coord(x+e), Coord(y-e)))
	}
}

// Sample draws a short line with its mark: the key to a series.
func (d *Surface) Sample(s Series, x, y float64) {
	d.Line(s.Line(), x, y, x+28, y)
	d.Mark(s, x+14, y)
}

// Stroke is the line's colour alone.
func (s Series) Stroke() string {
	if s == Reference {
		return "sref"
	}
	return fmt.Sprintf("c%d", int(s)%5+1)
}

// A fill for each series that can be told apart without colour: full, hatched,
// dotted, hatched the other way, outlined.
func (d *Surface) fill(s Series) string {
	k := int(s) % 5
	switch k {
	case 0:
		return ""
	case 4:
		return ` fill="none"`
	}
	id := fmt.Sprintf("%sf%d", d.ID, k)
	if !strings.Contains(d.Defs.String(), id) {
		inside := fmt.Sprintf(`<path class="hl s%d solid" d="M0 0V6"/>`, k+1)
		turn := 45
		switch k {
		case 2:
			inside, turn = `<rect class="b3" x="1" y="1" width="3" height="3"/>`, 0
		case 3:
			turn = -45
		}
		fmt.Fprintf(&d.Defs, `<pattern id="%s" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(%d)">%s</pattern>`, id, turn, inside)
	}
	return fmt.Sprintf(` fill="url(#%s)"`, id)
}

func (d *Surface) Bar(s Series, x, y, w, h float64) {
	k := int(s)%5 + 1
	class := fmt.Sprintf("bar o%d", k)
	if k == 1 {
		class = "bar b1"
	}
	d.Rect(class, x, y, w, h, d.fill(s))
}
