package session

import (
	"testing"

	"thole/engine/document"
	"thole/engine/table"
)

// Tables are files beside the page and sliders stand in it: large tables take nothing from the sliders' room, and
// sliders too many are refused by their own count.
func TestSlidersHaveTheirOwnRoom(t *testing.T) {
	s := &Study{doc: &document.Document{}}
	column := table.NewColumn("speed", "m/s", table.Number)
	column.Nums = make([]float64, mostStates+1)
	s.measure(&document.Shown{Table: &table.Table{Columns: []*table.Column{column}}})
	s.measure(&document.Explore{States: [][]float64{{1, 2}, {3, 4}}})
	if s.size.refused != nil {
		t.Fatalf("four numbers behind sliders beside a large table: %v", s.size.refused)
	}
	s.measure(&document.Explore{States: [][]float64{make([]float64, mostStates)}})
	if s.size.refused == nil {
		t.Fatal("more numbers behind sliders than a page may carry were taken")
	}
}
