package report

import (
	"strings"
	"testing"

	"thole/engine/table"
)

// The names of the energy book's lines are drawn whole on the page.
func TestBarsCutNoNameOfTheEnergyBook(t *testing.T) {
	f := &Figure{Kind: Bars, Name: "energy", Table: &table.Table{Name: "energy", Columns: []*table.Column{
		{Name: "item", Kind: table.Text, Texts: []string{"work of moving the bodies in the boat", "spent on the water along the hull", "left in bent shafts at the finish"}},
		{Name: "side", Kind: table.Text, Texts: []string{"what the rower puts in", "where it goes", "where it goes"}},
		{Name: "as rowed", Kind: table.Number, Unit: "J", Nums: []float64{109, 506, 0.4}},
	}}}
	d := &drawing{w: wideWidth}
	drawBars(f, d)
	drawn := d.finish("wide", "energy", "")
	if strings.Contains(drawn, "…") || !strings.Contains(drawn, "work of moving the bodies in the boat") {
		t.Errorf("a name is cut:\n%s", drawn)
	}
}
