package figure

import (
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
)

// The names of the energy book's lines are drawn whole on the page.
func TestBarsCutNoNameOfTheEnergyBook(t *testing.T) {
	f := &document.Figure{Kind: Bars, Name: "energy",
		Table: &table.Table{Name: "energy", Columns: []*table.Column{
			{Name: "item", Kind: table.Text,
				Texts: []string{"work of moving the bodies in the boat", "spent on the water along the hull",
					"left in bent shafts at the finish"}},
			{Name: "side", Kind: table.Text,
				Texts: []string{"what the rower puts in", "where it goes", "where it goes"}},
			{Name: "as rowed", Kind: table.Number, Unit: "J", Nums: []float64{109, 506, 0.4}},
		}}}
	d := &draw.Surface{W: draw.Wide}
	drawBars(f, d)
	drawn := string(d.Finish("wide", "energy", ""))
	if strings.Contains(drawn, "…") || !strings.Contains(drawn, "work of moving the bodies in the boat") {
		t.Errorf("a name is cut:\n%s", drawn)
	}
}
