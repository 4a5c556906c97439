package table

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// lines writes a table's cells, for comparison.
func lines(t *Table) []string {
	var out []string
	for i := range t.Len() {
		var cells []string
		for _, c := range t.Columns {
			cells = append(cells, cellWords(c.At(i)))
		}
		out = append(out, strings.Join(cells, " "))
	}
	return out
}

func oars(t *testing.T) *Table {
	t.Helper()
	tab, err := FromLines([]string{"set", "kind", "outboard (cm)", "speed (m/s)"}, [][]any{
		{"A", "scull", 201.5, 5.01},
		{"B", "scull", 196.0, nil},
		{"C", "sweep", 259.0, 4.8},
		{"D", "scull", 199.0, 5.03},
	})
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func TestOperations(t *testing.T) {
	tab := oars(t)
	must := func(out *Table, err error) *Table {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	names, _ := FromLines([]string{"set", "crew"}, [][]any{{"D", "Otters"}, {"A", "Teal"}, {"Z", "Herons"}})
	best := Output{"best (m/s)", func(g *Table) (any, error) {
		i, err := g.Highest("speed")
		if err != nil {
			return nil, err
		}
		return g.Column("speed").At(i), nil
	}}
	for _, c := range []struct {
		name string
		got  *Table
		want []string
	}{
		{"where", must(tab.Where(func(i int) (bool, error) {
			return tab.Column("outboard").Nums[i] > 200,
				nil
		})), []string{`"A" "scull" 201.5 5.01`, `"C" "sweep" 259 4.8`}},
		{"where is", must(tab.WhereIs(Wanted{"kind", "scull"}, Wanted{"speed", nil})),
			[]string{`"B" "scull" 196 None`}},
		{"sort", must(tab.Sort(false, "speed")), []string{`"C" "sweep" 259 4.8`, `"A" "scull" 201.5 5.01`,
			`"D" "scull" 199 5.03`, `"B" "scull" 196 None`}},
		{"sort falling, blanks still last", must(tab.Sort(true, "kind", "speed")),
			[]string{`"C" "sweep" 259 4.8`, `"D" "scull" 199 5.03`, `"A" "scull" 201.5 5.01`,
				`"B" "scull" 196 None`}},
		{"only", must(tab.Only("speed", "set")), []string{`5.01 "A"`, `None "B"`, `4.8 "C"`, `5.03 "D"`}},
		{"join", must(must(tab.Only("set")).Join(names, "set")),
			[]string{`"A" "Teal"`, `"B" None`, `"C" None`, `"D" "Otters"`}},
		{"per", must(tab.Per([]string{"kind"}, best)), []string{`"scull" 5.03`, `"sweep" 4.8`}},
		{"complete", tab.Complete(), []string{`"A" "scull" 201.5 5.01`, `"C" "sweep" 259 4.8`,
			`"D" "scull" 199 5.03`}},
	} {
		if diff := cmp.Diff(c.want, lines(c.got)); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
	if low, err := tab.Lowest("speed"); err != nil || low != 2 {
		t.Errorf("lowest: line %d, %v", low, err)
	}
	if one, err := tab.One(Wanted{"set", "C"}); err != nil || one != 2 {
		t.Errorf("one: line %d, %v", one, err)
	}
	renamed := must(tab.Rename(Renamed{"set", "oars"}))
	if diff := cmp.Diff([]string{"oars", "kind", "outboard", "speed"}, renamed.Names()); diff != "" {
		t.Error(diff)
	}
	if tab.Columns[0].Name != "set" {
		t.Error("rename touched the old table")
	}
	if c := renamed.Column("speed"); c.Unit != "m/s" || c.Digits != 3 {
		t.Errorf("unit or digits lost: %+v", c)
	}
}

func TestOperationErrors(t *testing.T) {
	tab := oars(t)
	twice, _ := FromLines([]string{"set", "crew"}, [][]any{{"A", "Teal"}, {"A", "Otters"}})
	for _, c := range []struct {
		err         error
		what, type_ string
	}{
		{second(tab.Need("outbord")), `the table has no column "outbord"`, "outboard"},
		{second(tab.One(Wanted{"kind", "scull"})), `3 lines have kind="scull", not one`,
			`where(kind="scull") for all of them`},
		{second(tab.One(Wanted{"kind", "skull"})), `no line has kind="skull"`, `kind="scull"`},
		{second(tab.Join(twice, "set")), `the other table has set "A" twice`,
			`other.per("set", ...) first, for a line each`},
		{second(tab.Join(tab, "set")), `both tables have a column "kind"`, `other.rename(kind="kind_2")`},
		{second(tab.Highest("set")), "set is a text", `sort("set")[0]`},
		{second(tab.Rename(Renamed{"set", "kind"})), `two columns would be called "kind"`,
			"another new name"},
		{second(FromLines([]string{"x"}, [][]any{{1.0}, {"a"}})), `column "x" holds numbers and texts`,
			"None where there is no value"},
	} {
		var e *Error
		if !errors.As(c.err, &e) {
			t.Errorf("%s: no error of ours but %v", c.what, c.err)
			continue
		}
		if e.What != c.what || e.Type != c.type_ || e.Why == "" {
			t.Errorf("got %q, %q, why %q; want %q, %q", e.What, e.Type, e.Why, c.what, c.type_)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// 87.6 reached in steps of 0.1 meets 87.6 as typed.
func TestNumbersMeet(t *testing.T) {
	x := 87.0
	for range 6 {
		x += 0.1
	}
	tab, _ := FromLines([]string{"inboard (cm)"}, [][]any{{x}})
	if _, err := tab.One(Wanted{"inboard", 87.6}); err != nil {
		t.Error(err)
	}
	if key := fmt.Sprint(joinKey(tab.Columns[0], 0)); key != "87.6" {
		t.Errorf("key %s", key)
	}
}
