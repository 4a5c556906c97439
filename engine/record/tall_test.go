package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/table"
)

// tall is a table of more cells than a record holds, and one other cell at its end.
func tall(last float64) *table.Table {
	c := table.NewColumn("speed", "m/s", table.Number)
	for i := range tallCells {
		c.Nums = append(c.Nums, float64(i))
	}
	c.Nums = append(c.Nums, last)
	return &table.Table{Columns: []*table.Column{c}}
}

// A tall table stands in the record by its hash: runs with the same bytes are the same, and one
// cell of two hundred thousand is told to differ.
func TestTallTablesAreKnownByHash(t *testing.T) {
	run := func(last float64) *Run {
		shown := &document.Shown{Name: "many", Table: tall(last)}
		r := Of(&document.Document{Blocks: []document.Block{shown}}, Ordered[*Param]{}, nil)
		r.LiesIn(shown, "many.csv")
		data, err := r.Encode()
		if err != nil || len(data) > 2000 {
			t.Fatalf("a record of %d bytes, %v", len(data), err)
		}
		again, err := Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		if now, err := again.Encode(); err != nil || !bytes.Equal(now, data) {
			t.Errorf("read and written again it is %s", now)
		}
		return again
	}
	one := run(1)
	if h := one.Tables[0].Tall; h == nil || h.File != "many.csv" || h.Lines != tallCells+1 {
		t.Fatalf("%+v", h)
	}
	if _, err := one.Tables[0].ToTable(); !errors.Is(err, ErrTall) {
		t.Errorf("its lines: %v", err)
	}
	compare := func(b *Run) []TableEffect {
		return Compare(Named{Name: "a", Run: one}, Named{Name: "b", Run: b}, Options{}).Tables
	}
	if same := compare(run(1)); len(same) > 0 {
		t.Errorf("the same run differs: %v", same)
	}
	if other := compare(run(2)); len(other) != 1 || !strings.Contains(other[0].Lines[0], "not the same") {
		t.Errorf("another run: %v", other)
	}
}

// What is written line by line is what the encoder writes at once.
func TestTablesLineByLine(t *testing.T) {
	some := &table.Table{Columns: []*table.Column{
		{Name: "a", Unit: "cm", Nums: []float64{1.5, math.NaN(), 3}},
		{Name: "b", Kind: table.Text, Texts: []string{"x", "", "<\"tables\": []>"}},
		{Name: "c", Kind: table.Measured, Estimates: []*table.Estimate{nil, {Value: 1, Low: 0, High: 2, Unit: "m"}, nil}}}}
	none := &table.Table{Columns: []*table.Column{{Name: "a"}}}
	for _, tables := range [][]*table.Table{{}, {some}, {none, some}, {some, none}, {{}}} {
		doc := &document.Document{Answer: `it says "tables": []`}
		for _, tab := range tables {
			doc.Blocks = append(doc.Blocks, &document.Shown{Name: "of <it>", Table: tab})
		}
		var got, want bytes.Buffer
		if err := WriteResults(&got, doc, Ordered[*Param]{}); err != nil {
			t.Fatal(err)
		}
		var whole map[string]json.RawMessage
		if err := json.Unmarshal(got.Bytes(), &whole); err != nil {
			t.Fatalf("%v in %s", err, got.Bytes())
		}
		var told []struct{ Lines [][]any }
		if err := json.Unmarshal(whole["tables"], &told); err != nil || len(told) != len(tables) {
			t.Fatalf("%d tables of %d: %v", len(told), len(tables), err)
		}
		for i, tab := range tables {
			if len(told[i].Lines) != tab.Len() {
				t.Errorf("%d lines of %d", len(told[i].Lines), tab.Len())
			}
		}
		if err := json.Indent(&want, got.Bytes(), "", " "); err != nil || want.String() != got.String() {
			t.Errorf("not set as the encoder sets it:\n%s", got.Bytes())
		}
	}
}
