package figure

import (
	"fmt"
	"sort"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/term"
)

// mostPanels is how many charts are drawn beneath each other.
const mostPanels = 6

// linesInWindow draws lines over x: each unit and each value of the panel is a
// chart of its own, one beneath the other.
func linesInWindow(w term.Window, f *document.Figure) []string {
	all := chartsOf(f)
	var lines []string
	for i, c := range all {
		if i == mostPanels {
			more := fmt.Sprintf("%d more panels stand in the page", len(all)-i)
			return append(lines, term.Dim.In(more))
		}
		lines = append(lines, w.Chart(c)...)
	}
	return lines
}

// chartsOf parts a figure into charts: one a unit and value of the panel.
func chartsOf(f *document.Figure) []term.Chart {
	t, by := f.Table, byColumn(f)
	x := t.Column(f.X)
	if x == nil {
		return nil
	}
	places, xs := placesOf(x)
	panels := []table.Group{{Lines: lineNumbers(t.Len())}}
	if f.Panel != "" && t.Column(f.Panel) != nil {
		panels, _ = t.Groups(f.Panel)
	}
	var charts []term.Chart
	for _, unit := range unitsOf(t, f.Y) {
		for _, panel := range panels {
			c := term.Chart{XName: bracketed(x.Name, x.Unit), Places: places}
			var names []string
			for _, y := range f.Y {
				if col := t.Column(y); col != nil && col.Unit == unit {
					names = append(names, y)
				}
			}
			c.Head = bracketed(strings.Join(names, ", "), unit)
			if by != "" && by != "case" {
				c.Head += " by " + by
			}
			if f.Panel != "" {
				c.Head += ", " + cellName(t.Column(f.Panel), panel.First)
			}
			for _, y := range names {
				for _, g := range groupsWithin(t, by, panel.Lines) {
					line := term.Line{}
					if by != "" {
						line.Name = cellName(t.Column(by), g.First)
					}
					if len(names) > 1 {
						line.Name = strings.TrimPrefix(line.Name+" "+y, " ")
					}
					for _, i := range g.Lines {
						line.X = append(line.X, xs[i])
						line.Y = append(line.Y, t.Column(y).Value(i))
					}
					if f.Kind == Lines {
						byX(&line)
					}
					c.Lines = append(c.Lines, line)
				}
			}
			charts = append(charts, c)
		}
	}
	return charts
}

func bracketed(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

// cellName names a line by the cell it stands for: "wind 5", a text as it is.
func cellName(c *table.Column, i int) string {
	if c.Kind == table.Text {
		return c.Texts[i]
	}
	return c.Name + " " + c.Shown()[i]
}

func lineNumbers(n int) []int {
	lines := make([]int, n)
	for i := range lines {
		lines[i] = i
	}
	return lines
}

// groupsWithin groups some lines of a table by a column, or leaves them as one.
func groupsWithin(t *table.Table, by string, lines []int) []table.Group {
	if by == "" || t.Column(by) == nil {
		return []table.Group{{First: lines[0], Lines: lines}}
	}
	groups, err := t.Lines(lines).Groups(by)
	if err != nil {
		return nil
	}
	for g := range groups {
		groups[g].First = lines[groups[g].First]
		for k, i := range groups[g].Lines {
			groups[g].Lines[k] = lines[i]
		}
	}
	return groups
}

// unitsOf lists the units of some columns, each once, in order.
func unitsOf(t *table.Table, names []string) []string {
	var units []string
	seen := map[string]bool{}
	for _, name := range names {
		if c := t.Column(name); c != nil && !seen[c.Unit] {
			seen[c.Unit] = true
			units = append(units, c.Unit)
		}
	}
	return units
}

// placesOf gives x as numbers; a text stands at 0, 1, 2... in the order in
// which it first appears.
func placesOf(c *table.Column) (names []string, xs []float64) {
	xs = make([]float64, c.Len())
	place := map[string]int{}
	for i := range xs {
		if c.Kind != table.Text {
			xs[i] = c.Value(i)
			continue
		}
		k, ok := place[c.Texts[i]]
		if !ok {
			k = len(names)
			place[c.Texts[i]] = k
			names = append(names, c.Texts[i])
		}
		xs[i] = float64(k)
	}
	return names, xs
}

// byX orders a line's points by x.
func byX(l *term.Line) {
	order := lineNumbers(len(l.X))
	sort.SliceStable(order, func(a, b int) bool { return l.X[order[a]] < l.X[order[b]] })
	x, y := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		x[k], y[k] = l.X[i], l.Y[i]
	}
	l.X, l.Y = x, y
}
