package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/words"
)

// linesSentence says in words what a figure of lines shows: the ends of each line
// where they can be told in a breath, else the lowest and the highest value with
// where they stand, and whether they rise or fall all the way. It is made from
// the data alone and serves page and terminal alike.
func linesSentence(f *document.Figure) string {
	x := f.Table.Column(f.X)
	if x == nil || x.Kind != table.Number {
		return ""
	}
	groups := linesOf(f)
	if len(f.Y) == 1 && f.Panel == "" && len(groups) <= 5 && f.Kind == Lines {
		return endsSentence(f, x, groups)
	}
	return spanSentence(f, x, groups)
}

// group is the lines of a table that make one line of the figure, along x.
type group struct {
	label string
	at    []int
}

// linesOf parts the table into the figure's lines, in order of first appearance.
func linesOf(f *document.Figure) []group {
	var keys []*table.Column
	for _, name := range []string{f.By, f.Panel} {
		if c := f.Table.Column(name); name != "" && c != nil {
			keys = append(keys, c)
		}
	}
	if by := byColumn(f); by != f.By {
		keys = append(keys, f.Table.Column(by))
	}
	var out []group
	place := map[string]int{}
	for i := range f.Table.Len() {
		var parts []string
		for _, k := range keys {
			if k.Name == "case" {
				parts = append(parts, cell(k, i))
				continue
			}
			parts = append(parts, k.Name+" "+cell(k, i))
		}
		label := strings.Join(parts, ", ")
		j, seen := place[label]
		if !seen {
			j = len(out)
			place[label] = j
			out = append(out, group{label: label})
		}
		out[j].at = append(out[j].at, i)
	}
	x := f.Table.Column(f.X)
	for _, g := range out {
		sort.SliceStable(g.at, func(a, b int) bool { return x.Nums[g.at[a]] < x.Nums[g.at[b]] })
	}
	return out
}

// cell writes a cell of a key or an axis.
func cell(c *table.Column, i int) string {
	if c.Kind == table.Text {
		return c.Texts[i]
	}
	return table.Fixed(c.Value(i), table.AutoDigits)
}

// endsSentence: "From outboard 192 to 204 cm heaviness rises from 214 to 231
// N·s/m at wind 0 and from 237 to 256 at wind 5: about 1.4 and 1.6 a cm."
func endsSentence(f *document.Figure, x *table.Column, groups []group) string {
	y := f.Table.Column(f.Y[0])
	if y == nil || y.Kind == table.Text {
		return ""
	}
	var ways []string // verb, then the lines that go that way
	said := map[string][]string{}
	var slopes []string
	var x0, x1 float64
	ends := map[[2]float64]bool{} // lines may begin and end apart
	turned := false               // a line that turns has no one slope
	unit := y.Unit
	for _, g := range groups {
		first, last := -1, -1
		for _, i := range g.at {
			if !math.IsNaN(y.Value(i)) {
				if first < 0 {
					first = i
				}
				last = i
			}
		}
		if first < 0 || first == last {
			continue
		}
		a, b := y.Value(first), y.Value(last)
		x0, x1 = x.Nums[first], x.Nums[last]
		ends[[2]float64{x0, x1}] = true
		way := "rises"
		if b < a {
			way = "falls"
		}
		if table.Fixed(a, y.Digits) == table.Fixed(b, y.Digits) {
			way = "stays"
		}
		clause := "from " + table.Fixed(a, y.Digits) + " to " + table.WithUnit(table.Fixed(b, y.Digits), unit)
		if way == "stays" {
			clause = "at " + table.WithUnit(table.Fixed(a, y.Digits), unit)
		}
		if top, word := turnOf(y, g.at); top >= 0 {
			way, turned = word, true
			clause = fmt.Sprintf("at %s (%s %s)", table.WithUnit(table.Fixed(y.Value(top), y.Digits), unit),
				words.Spaced(x.Name), table.Fixed(x.Nums[top], table.AutoDigits))
		}
		if g.label != "" {
			at := " at "
			if f.By == "case" || f.By == "" {
				at = " for "
			}
			clause += at + g.label
		}
		if said[way] == nil {
			ways = append(ways, way)
		}
		said[way] = append(said[way], clause)
		unit = "" // said once
		if x1 != x0 {
			slopes = append(slopes, table.Fixed(twoFigures(math.Abs(b-a)/math.Abs(x1-x0)), table.AutoDigits))
		}
	}
	if ways == nil {
		return ""
	}
	s := fmt.Sprintf("From %s %s to %s %s", words.Spaced(x.Name), table.Fixed(x0, table.AutoDigits),
		table.WithUnit(table.Fixed(x1, table.AutoDigits), x.Unit), words.Spaced(y.Name))
	if len(ends) > 1 {
		s = fmt.Sprintf("From the first to the last %s of each line %s", words.Spaced(x.Name),
			words.Spaced(y.Name))
	}
	for i, way := range ways {
		if i > 0 {
			s += "; it"
		}
		s += " " + way + " " + words.List(said[way])
	}
	if len(ways) == 1 && ways[0] != "stays" && !turned && x.Unit != "" {
		s += ": about " + words.List(slopes) + " a " + x.Unit
	}
	return s + "." + crossing(x, y, groups)
}

// turnOf is where a line peaks or is lowest between its ends, by more than its decimals
// show, and the verb for it; -1 where it does neither.
func turnOf(y *table.Column, at []int) (line int, verb string) {
	at = slices.DeleteFunc(slices.Clone(at), func(i int) bool { return math.IsNaN(y.Value(i)) })
	if len(at) < 3 {
		return -1, ""
	}
	most := slices.MaxFunc(at, func(i, j int) int { return cmp.Compare(y.Value(i), y.Value(j)) })
	least := slices.MinFunc(at, func(i, j int) int { return cmp.Compare(y.Value(i), y.Value(j)) })
	first, last := y.Value(at[0]), y.Value(at[len(at)-1])
	shown := func(v float64) string { return table.Fixed(v, y.Digits) }
	peaks := shown(y.Value(most)) != shown(max(first, last))
	dips := shown(y.Value(least)) != shown(min(first, last))
	switch {
	case peaks && (!dips || y.Value(most)-max(first, last) >= min(first, last)-y.Value(least)):
		return most, "peaks"
	case dips:
		return least, "is lowest"
	}
	return -1, ""
}

// crossing is the sentence that says where two lines cross, "" where they do not, or more
// than once. Between two points asked the place is read off the straight line.
func crossing(x, y *table.Column, groups []group) string {
	if len(groups) != 2 || len(groups[0].at) != len(groups[1].at) {
		return ""
	}
	last, where, n := 0.0, 0.0, 0
	for k, i := range groups[0].at {
		j := groups[1].at[k]
		apart := y.Value(i) - y.Value(j)
		if x.Nums[i] != x.Nums[j] || math.IsNaN(apart) {
			return ""
		}
		if before := groups[0].at[max(k-1, 0)]; apart*last < 0 {
			where, n = x.Nums[before]+(x.Nums[i]-x.Nums[before])*last/(last-apart), n+1
		}
		if apart != 0 {
			last = apart
		}
	}
	if n != 1 {
		return ""
	}
	return fmt.Sprintf(" %s and %s cross at about %s %s.", words.Capital(groups[0].label), groups[1].label,
		words.Spaced(x.Name), table.WithUnit(table.Fixed(where, max(x.Digits, 1)), x.Unit))
}

// twoFigures rounds to two figures: a slope is never known better.
func twoFigures(x float64) float64 {
	if x == 0 {
		return 0
	}
	p := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/p) * p
}

// spanSentence: "Speed from 4.995 m/s (outboard 192, area 780) to 5.047 m/s (206,
// 860); heaviness from 166 to 183 N·s/m. Both rise with outboard all the way."
func spanSentence(f *document.Figure, x *table.Column, groups []group) string {
	var parts []string
	trend := ""
	same := true
	for k, name := range f.Y {
		y := f.Table.Column(name)
		if y == nil || y.Kind == table.Text {
			continue
		}
		low, high := extremes(y)
		if low < 0 {
			continue
		}
		if k == 0 {
			parts = append(parts, fmt.Sprintf("%s from %s (%s) to %s (%s)", words.Capital(words.Spaced(name)),
				table.WithUnit(table.Fixed(y.Value(low), y.Digits), y.Unit), where(f, x, low, true),
				table.WithUnit(table.Fixed(y.Value(high), y.Digits), y.Unit), where(f, x, high, false)))
		} else {
			parts = append(parts, fmt.Sprintf("%s from %s to %s", words.Spaced(name),
				table.Fixed(y.Value(low), y.Digits), table.WithUnit(table.Fixed(y.Value(high), y.Digits),
					y.Unit)))
		}
		t := way(y, groups)
		same = same && (k == 0 || t == trend)
		trend = t
	}
	if parts == nil {
		return ""
	}
	s := strings.Join(parts, "; ") + "."
	if same && trend != "" {
		who, verb := "It", trend+"s"
		switch {
		case len(parts) == 2:
			who, verb = "Both", trend
		case len(parts) > 2:
			who, verb = "All", trend
		}
		s += fmt.Sprintf(" %s %s with %s all the way.", who, verb, words.Spaced(x.Name))
	}
	return s
}

func extremes(y *table.Column) (low, high int) {
	low, high = -1, -1
	for i := range y.Len() {
		v := y.Value(i)
		if math.IsNaN(v) {
			continue
		}
		if low < 0 || v < y.Value(low) {
			low = i
		}
		if high < 0 || v > y.Value(high) {
			high = i
		}
	}
	return low, high
}

// where says the place of a line on the figure's axes.
func where(f *document.Figure, x *table.Column, i int, named bool) string {
	cols := []*table.Column{x}
	for _, name := range []string{f.Panel, f.By} {
		if c := f.Table.Column(name); name != "" && c != nil {
			cols = append(cols, c)
		}
	}
	var parts []string
	for _, c := range cols {
		s := cell(c, i)
		if named && c.Name != "case" {
			s = words.Spaced(c.Name) + " " + s
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, ", ")
}

// way is "rise" or "fall" where every line does so all the way, else "".
func way(y *table.Column, groups []group) string {
	rise, fall := true, true
	steps := 0
	for _, g := range groups {
		last := math.NaN()
		for _, i := range g.at {
			v := y.Value(i)
			if math.IsNaN(v) {
				continue
			}
			if !math.IsNaN(last) {
				steps++
				rise, fall = rise && v > last, fall && v < last
			}
			last = v
		}
	}
	switch {
	case steps == 0:
		return ""
	case rise:
		return "rise"
	case fall:
		return "fall"
	}
	return ""
}
