package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// A fill for each series that can be told apart without colour: full, hatched,
// dotted, hatched the other way, outlined.
func (d *drawing) fill(s series) string {
	k := int(s) % 5
	switch k {
	case 0:
		return ""
	case 4:
		return ` fill="none"`
	}
	id := fmt.Sprintf("%sf%d", d.id, k)
	if !strings.Contains(d.defs.String(), id) {
		inside := fmt.Sprintf(`<path class="hl s%d solid" d="M0 0V6"/>`, k+1)
		turn := 45
		switch k {
		case 2:
			inside, turn = `<rect class="b3" x="1" y="1" width="3" height="3"/>`, 0
		case 3:
			turn = -45
		}
		fmt.Fprintf(&d.defs, `<pattern id="%s" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(%d)">%s</pattern>`, id, turn, inside)
	}
	return fmt.Sprintf(` fill="url(#%s)"`, id)
}

func (d *drawing) bar(s series, x, y, w, h float64) {
	k := int(s)%5 + 1
	class := fmt.Sprintf("bar o%d", k)
	if k == 1 {
		class = "bar b1"
	}
	d.rect(class, x, y, w, h, d.fill(s))
}

// barCases are the columns of a table of bars that hold a stroke each.
func barCases(t *table.Table) []*table.Column {
	var out []*table.Column
	for _, c := range t.Columns {
		if c.Name != "item" && c.Name != "side" && c.Kind != table.Text {
			out = append(out, c)
		}
	}
	return out
}

// nameSize is the size in which the names of bars are set.
const nameSize = 13.5

// drawBars draws what goes in and where it goes, the strokes paired.
func drawBars(f *Figure, d *drawing) {
	t := f.Table
	items, sides, cases := t.Column("item"), textColumn(t, "side"), barCases(t)
	var values []float64
	for _, c := range cases {
		for i := range c.Len() {
			values = append(values, c.Value(i))
		}
	}
	low, high := extent(values)
	low, high = math.Min(low, 0), math.Max(high, 1e-9)
	// room for the longest name, up to under half of the drawing
	left, right := 0., 62.
	for _, item := range items.Texts {
		left = math.Max(left, textWidth(words(item), nameSize)+22)
	}
	left = math.Min(left, 0.45*d.w)
	if d.narrow() {
		left, right = 0, 52
	}
	x := scale{low: low, high: high, from: left, to: d.w - right}
	y := 2.
	if len(cases) > 1 {
		y = d.barKey(cases, y)
	}
	const thick, gap = 11., 3.
	side := ""
	for i := range t.Len() {
		if sides != nil && sides.Texts[i] != side {
			side = sides.Texts[i]
			title := capital(side)
			if unit := cases[0].Unit; unit != "" {
				title += ", " + unit
			}
			d.text("b", 0, y+20, title)
			y += 30
		}
		name := words(items.Texts[i])
		height := float64(len(cases))*(thick+gap) - gap
		if d.narrow() {
			d.text("", 0, y+11, cut(name, 12.5, d.w))
			y += 17
		} else {
			d.text("end", left-10, y+height/2+4.5, cut(name, nameSize, left-12))
		}
		d.line("axis", x.at(0), y-3, x.at(0), y+height+3)
		for k, c := range cases {
			v := c.Value(i)
			if math.IsNaN(v) {
				continue
			}
			top := y + float64(k)*(thick+gap)
			d.bar(series(k), x.at(0), top, x.at(v)-x.at(0), thick)
			d.text("sm", math.Max(x.at(v), x.at(0))+6, top+thick-1, shown(c)[i])
		}
		y += height + 12
	}
	d.h = y
}

func (d *drawing) barKey(cases []*table.Column, top float64) float64 {
	x, y := 0., top
	for k, c := range cases {
		name := cut(words(c.Name), d.textSize(), d.w-36)
		w := 30 + textWidth(name, d.textSize()) + 20
		if x > 0 && x+w-20 > d.w {
			x, y = 0, y+19
		}
		d.bar(series(k), x, y+3, 22, 11)
		d.text("", x+29, y+13, name)
		x += w
	}
	return y + 24
}

func describeBars(f *Figure) string {
	var parts []string
	items := f.Table.Column("item")
	for _, c := range barCases(f.Table) {
		var of []string
		for i := range f.Table.Len() {
			of = append(of, words(items.Texts[i])+" "+shown(c)[i])
		}
		parts = append(parts, words(c.Name)+": "+strings.Join(of, ", ")+" "+c.Unit)
	}
	return strings.Join(parts, ". ") + "."
}
