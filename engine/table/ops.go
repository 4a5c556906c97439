package table

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// Operations make new tables and never touch the old one. A cell is nil (a
// blank), a float64, a string or an *Estimate. Errors are *Error.

// At gives cell i: nil, float64, string or *Estimate.
func (c *Column) At(i int) any {
	if c.Blank(i) {
		return nil
	}
	switch c.Kind {
	case Text:
		return c.Texts[i]
	case Measured:
		return c.Estimates[i]
	}
	return c.Nums[i]
}

// Names lists the columns' names in order.
func (t *Table) Names() []string {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = c.Name
	}
	return names
}

// Need gives the column of that name, or an error that lists the nearest.
func (t *Table) Need(name string) (*Column, error) {
	if c := t.Column(name); c != nil {
		return c, nil
	}
	names := t.Names()
	near := Nearest(name, names)
	if near == "" && len(names) > 0 {
		near = names[0]
	}
	return nil, &Error{
		What: fmt.Sprintf("the table has no column %q", name),
		Why:  "its columns are " + strings.Join(names, ", "),
		Type: near,
	}
}

// FromLines makes a table of lines; headings are "name" or "name (unit)". Each
// line has one cell a heading. A column is numbers, texts or estimates
// throughout; one with nothing but blanks is text, unless its heading has
// brackets.
func FromLines(headings []string, lines [][]any) (*Table, error) {
	t := &Table{}
	for j, heading := range headings {
		cells := make([]any, len(lines))
		for i, line := range lines {
			cells[i] = line[j]
		}
		c, err := ColumnOf(heading, cells)
		if err != nil {
			return nil, err
		}
		if t.Column(c.Name) != nil {
			return nil, &Error{What: fmt.Sprintf("two columns are called %q", c.Name), Why: "a column's name stands once", Type: c.Name + "_2"}
		}
		t.Columns = append(t.Columns, c)
	}
	return t, nil
}

// ColumnOf makes one column from a heading and its cells.
func ColumnOf(heading string, cells []any) (*Column, error) {
	name, unit, bracketed := Heading(heading)
	if name == "" {
		return nil, &Error{What: "a column without a name", Why: "a heading is a name, and its unit in brackets", Type: "speed (m/s)"}
	}
	kind, set := Text, bracketed
	if bracketed {
		kind = Number
	}
	for i, cell := range cells {
		var is Kind
		switch cell.(type) {
		case nil:
			continue
		case float64:
			is = Number
		case string:
			is = Text
		case *Estimate:
			is = Measured
		default:
			panic(fmt.Sprintf("table: cell of type %T", cell))
		}
		if set && is != kind && !(bracketed && kind == Number && is == Measured && i == firstCell(cells)) {
			return nil, &Error{
				What: fmt.Sprintf("column %q holds %s and %s", name, kind.words(), is.words()),
				Why:  "a column is of one kind, so that it can be sorted and drawn",
				Type: "None where there is no value",
			}
		}
		kind, set = is, true
	}
	c := NewColumn(name, unit, kind)
	for _, cell := range cells {
		c.add(cell)
	}
	if kind == Measured {
		c.takeFromEstimates()
	}
	return c, nil
}

// takeFromEstimates gives the column the unit and digits its estimates bring.
func (c *Column) takeFromEstimates() {
	for _, e := range c.Estimates {
		if e == nil {
			continue
		}
		if c.Unit == "" {
			c.Unit = e.Unit
		}
		c.Digits = e.Digits
		return
	}
}

func firstCell(cells []any) int {
	for i, cell := range cells {
		if cell != nil {
			return i
		}
	}
	return -1
}

func (k Kind) words() string {
	return [...]string{"numbers", "texts", "estimates"}[k]
}

// add appends one cell of the column's kind, nil for a blank.
func (c *Column) add(cell any) {
	switch c.Kind {
	case Text:
		s, _ := cell.(string)
		c.Texts = append(c.Texts, s)
	case Measured:
		e, _ := cell.(*Estimate)
		c.Estimates = append(c.Estimates, e)
	default:
		x, ok := cell.(float64)
		if !ok {
			x = math.NaN()
		}
		c.Nums = append(c.Nums, x)
	}
}

// pick copies the column with these lines only, in this order; -1 is a blank.
func (c *Column) pick(lines []int) *Column {
	out := *c
	out.Nums, out.Texts, out.Estimates, out.Units, out.Places = nil, nil, nil, nil, nil
	for _, i := range lines {
		var cell any
		unit, places := c.Unit, c.Digits
		if i >= 0 {
			cell, unit, places = c.At(i), c.UnitAt(i), c.DigitsAt(i)
		}
		out.add(cell)
		if c.Units != nil {
			out.Units = append(out.Units, unit)
		}
		if c.Places != nil {
			out.Places = append(out.Places, places)
		}
	}
	return &out
}

// Lines gives a table of these lines only, in this order.
func (t *Table) Lines(lines []int) *Table {
	out := &Table{}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, c.pick(lines))
	}
	return out
}

// Where keeps the lines for which keep says true.
func (t *Table) Where(keep func(line int) (bool, error)) (*Table, error) {
	var lines []int
	for i := range t.Len() {
		ok, err := keep(i)
		if err != nil {
			return nil, err
		}
		if ok {
			lines = append(lines, i)
		}
	}
	return t.Lines(lines), nil
}

// Wanted is one condition: the column's cell is this value (nil: a blank).
type Wanted struct {
	Name  string
	Value any
}

// WhereIs keeps the lines that meet every condition.
func (t *Table) WhereIs(wanted ...Wanted) (*Table, error) {
	columns := make([]*Column, len(wanted))
	for k, w := range wanted {
		c, err := t.Need(w.Name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	return t.Where(func(i int) (bool, error) {
		for k, w := range wanted {
			if !sameCell(columns[k].At(i), w.Value) {
				return false, nil
			}
		}
		return true, nil
	})
}

// sameCell compares numbers to a part in 1e9, so that 87.6 found by steps
// meets 87.6 as typed.
func sameCell(a, b any) bool {
	x, okX := a.(float64)
	y, okY := b.(float64)
	if okX && okY {
		return x == y || math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y))
	}
	return a == b
}

// One gives the only line that meets every condition, or an error that says
// how many there are.
func (t *Table) One(wanted ...Wanted) (int, error) {
	var found []int
	columns := make([]*Column, len(wanted))
	for k, w := range wanted {
		c, err := t.Need(w.Name)
		if err != nil {
			return 0, err
		}
		columns[k] = c
	}
lines:
	for i := range t.Len() {
		for k, w := range wanted {
			if !sameCell(columns[k].At(i), w.Value) {
				continue lines
			}
		}
		found = append(found, i)
	}
	if len(found) == 1 {
		return found[0], nil
	}
	asked := make([]string, len(wanted))
	for k, w := range wanted {
		asked[k] = w.Name + "=" + cellWords(w.Value)
	}
	e := &Error{
		What: fmt.Sprintf("%d lines have %s, not one", len(found), strings.Join(asked, ", ")),
		Why:  "one() gives a line only where there is exactly one",
		Type: "where(" + strings.Join(asked, ", ") + ") for all of them",
	}
	if len(found) == 0 && len(wanted) > 0 {
		e.What = "no line has " + strings.Join(asked, ", ")
		e.Why = wanted[0].Name + " is " + someOf(columns[0])
		if s, ok := wanted[0].Value.(string); ok {
			if near := Nearest(s, columns[0].Texts); near != "" {
				e.Type = fmt.Sprintf("%s=%q", wanted[0].Name, near)
			}
		}
	}
	return 0, e
}

func cellWords(v any) string {
	switch v := v.(type) {
	case nil:
		return "None"
	case float64:
		return FourFigures(v)
	case string:
		return fmt.Sprintf("%q", v)
	}
	return "an estimate"
}

// someOf names the first few different cells of a column.
func someOf(c *Column) string {
	var words []string
	seen := map[string]bool{}
	for i := range c.Len() {
		w := cellWords(c.At(i))
		if seen[w] {
			continue
		}
		seen[w] = true
		if words = append(words, w); len(words) == 8 {
			words = append(words, "...")
			break
		}
	}
	if len(words) == 0 {
		return "empty: the table has no lines"
	}
	return strings.Join(words, ", ")
}

// Sort orders the lines by these columns, the first one first; equal lines
// keep their order and blanks come last either way.
func (t *Table) Sort(falling bool, names ...string) (*Table, error) {
	columns := make([]*Column, len(names))
	for k, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	lines := make([]int, t.Len())
	for i := range lines {
		lines[i] = i
	}
	sort.SliceStable(lines, func(a, b int) bool {
		for _, c := range columns {
			i, j := lines[a], lines[b]
			if c.Blank(i) != c.Blank(j) {
				return c.Blank(j)
			}
			if order := c.order(i, j); order != 0 {
				return (order < 0) != falling
			}
		}
		return false
	})
	return t.Lines(lines), nil
}

// order compares two cells that are not blank.
func (c *Column) order(i, j int) int {
	if c.Kind == Text {
		return strings.Compare(c.Texts[i], c.Texts[j])
	}
	switch x, y := c.Value(i), c.Value(j); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// Value gives cell i as a number: an estimate's middle, NaN for a blank or a
// text.
func (c *Column) Value(i int) float64 {
	switch {
	case c.Kind == Number:
		return c.Nums[i]
	case c.Kind == Measured && c.Estimates[i] != nil:
		return c.Estimates[i].Value
	}
	return math.NaN()
}

// Only keeps these columns, in this order.
func (t *Table) Only(names ...string) (*Table, error) {
	out := &Table{}
	for _, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		if out.Column(name) != nil {
			return nil, &Error{What: fmt.Sprintf("column %q is asked for twice", name), Why: "a column's name stands once", Type: "each name once"}
		}
		out.Columns = append(out.Columns, c)
	}
	return out, nil
}

// Renamed pairs a column's old name with its new one.
type Renamed struct{ Old, New string }

// Rename gives columns other names; units and digits stay with them.
func (t *Table) Rename(pairs ...Renamed) (*Table, error) {
	out := &Table{Columns: append([]*Column(nil), t.Columns...)}
	for _, p := range pairs {
		c, err := t.Need(p.Old)
		if err != nil {
			return nil, err
		}
		copied := *c
		copied.Name = p.New
		for k := range out.Columns {
			if t.Columns[k] == c {
				out.Columns[k] = &copied
			}
		}
	}
	seen := map[string]bool{}
	for _, c := range out.Columns {
		if seen[c.Name] {
			return nil, &Error{What: fmt.Sprintf("two columns would be called %q", c.Name), Why: "a column's name stands once", Type: "another new name"}
		}
		seen[c.Name] = true
	}
	return out, nil
}

// With puts further columns at the right; one of a name that is there already
// takes its place.
func (t *Table) With(columns ...*Column) (*Table, error) {
	out := &Table{Columns: append([]*Column(nil), t.Columns...)}
	for _, c := range columns {
		if len(t.Columns) > 0 && c.Len() != t.Len() {
			return nil, &Error{What: fmt.Sprintf("column %q has %d lines, the table %d", c.Name, c.Len(), t.Len()), Why: "a column has a cell in each line", Type: "None where there is no value"}
		}
		placed := false
		for k, old := range out.Columns {
			if old.Name == c.Name {
				out.Columns[k], placed = c, true
			}
		}
		if !placed {
			out.Columns = append(out.Columns, c)
		}
	}
	return out, nil
}

// Join puts the other table's columns behind this one's, line by line where
// the column `on` is the same; blank where the other has none. Two lines of
// the other with the same name are an error, and so is a column both have.
func (t *Table) Join(other *Table, on string) (*Table, error) {
	mine, err := t.Need(on)
	if err != nil {
		return nil, err
	}
	theirs, err := other.Need(on)
	if err != nil {
		e := err.(*Error)
		e.What = fmt.Sprintf("the other table has no column %q", on)
		return nil, e
	}
	if mine.Kind != theirs.Kind {
		return nil, &Error{What: fmt.Sprintf("%q is %s here and %s there", on, mine.Kind.words(), theirs.Kind.words()), Why: "only like can be found in like", Type: "another column for on="}
	}
	place := map[any]int{}
	for j := range theirs.Len() {
		key := joinKey(theirs, j)
		if key == nil {
			continue
		}
		if _, twice := place[key]; twice {
			return nil, &Error{
				What: fmt.Sprintf("the other table has %s %s twice", on, cellWords(theirs.At(j))),
				Why:  "then nobody knows which of its lines belongs here",
				Type: fmt.Sprintf("other.per(%q, ...) first, for a line each", on),
			}
		}
		place[key] = j
	}
	lines := make([]int, t.Len())
	for i := range lines {
		lines[i] = -1
		if key := joinKey(mine, i); key != nil {
			if j, ok := place[key]; ok {
				lines[i] = j
			}
		}
	}
	out := &Table{Columns: append([]*Column(nil), t.Columns...)}
	for _, c := range other.Columns {
		if c.Name == on {
			continue
		}
		if t.Column(c.Name) != nil {
			return nil, &Error{
				What: fmt.Sprintf("both tables have a column %q", c.Name),
				Why:  "side by side they could not be told apart",
				Type: fmt.Sprintf("other.rename(%s=\"%s_2\")", c.Name, c.Name),
			}
		}
		out.Columns = append(out.Columns, c.pick(lines))
	}
	return out, nil
}

// joinKey is a cell as a map key; numbers are rounded to nine figures so that
// they meet as sameCell would have them.
func joinKey(c *Column, i int) any {
	if x, ok := c.At(i).(float64); ok {
		return tidyKey(x)
	}
	return c.At(i)
}

// Group is the lines that share their cells in the columns grouped by.
type Group struct {
	First int // the first of its lines, for the shared cells
	Lines []int
}

// Groups collects lines that are alike in these columns, in the order they
// first appear.
func (t *Table) Groups(names ...string) ([]Group, error) {
	columns := make([]*Column, len(names))
	for k, name := range names {
		c, err := t.Need(name)
		if err != nil {
			return nil, err
		}
		columns[k] = c
	}
	var groups []Group
	place := map[string]int{}
	for i := range t.Len() {
		key := ""
		for _, c := range columns {
			key += fmt.Sprintf("%v\x00", joinKey(c, i))
		}
		g, ok := place[key]
		if !ok {
			g = len(groups)
			place[key] = g
			groups = append(groups, Group{First: i})
		}
		groups[g].Lines = append(groups[g].Lines, i)
	}
	return groups, nil
}

// Output is a column made for each group of lines.
type Output struct {
	Heading string // "best (cm)"
	Of      func(*Table) (any, error)
}

// Per gives one line for each group: the columns grouped by, then the outputs.
func (t *Table) Per(names []string, outputs ...Output) (*Table, error) {
	groups, err := t.Groups(names...)
	if err != nil {
		return nil, err
	}
	first := make([]int, len(groups))
	for k, g := range groups {
		first[k] = g.First
	}
	keys, err := t.Only(names...)
	if err != nil {
		return nil, err
	}
	out := keys.Lines(first)
	for _, o := range outputs {
		cells := make([]any, len(groups))
		for k, g := range groups {
			if cells[k], err = o.Of(t.Lines(g.Lines)); err != nil {
				return nil, err
			}
		}
		c, err := ColumnOf(o.Heading, cells)
		if err != nil {
			return nil, err
		}
		if out, err = out.With(c); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Highest gives the line with the highest number in a column, the first of
// equals; blanks are passed over.
func (t *Table) Highest(name string) (int, error) { return t.extreme(name, +1) }

// Lowest gives the line with the lowest number in a column, the first of
// equals; blanks are passed over.
func (t *Table) Lowest(name string) (int, error) { return t.extreme(name, -1) }

func (t *Table) extreme(name string, sign float64) (int, error) {
	c, err := t.Need(name)
	if err != nil {
		return 0, err
	}
	if c.Kind == Text {
		return 0, &Error{What: fmt.Sprintf("%s is a text", name), Why: "highest and lowest are for numbers", Type: fmt.Sprintf("sort(%q)[0]", name)}
	}
	best := -1
	for i := range c.Len() {
		if !c.Blank(i) && (best < 0 || sign*c.Value(i) > sign*c.Value(best)) {
			best = i
		}
	}
	if best < 0 {
		e := &Error{What: fmt.Sprintf("no line has a %s", name), Why: "the table has no lines", Type: "a wider where()"}
		if t.Len() > 0 {
			e.Why = fmt.Sprintf("it is blank in all %d lines", t.Len())
			e.Type = "show(...) of the table, to see the reasons"
		}
		return 0, e
	}
	return best, nil
}

// Complete keeps the lines without blanks; a blank `reason` does not count.
func (t *Table) Complete() *Table {
	out, _ := t.Where(func(i int) (bool, error) {
		for _, c := range t.Columns {
			if c.Name != "reason" && c.Blank(i) {
				return false, nil
			}
		}
		return true, nil
	})
	return out
}
