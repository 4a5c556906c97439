package figure

import (
	"math"
	"testing"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/term/termtest"
)

// heavinessByWind is the sweep of the design's chart: heaviness over outboard,
// calm and into 5 m/s.
func heavinessByWind() *document.Figure {
	t := &table.Table{Columns: []*table.Column{table.NewColumn("outboard", "cm", table.Number),
		table.NewColumn("wind", "m/s", table.Number), table.NewColumn("heaviness", "N·s/m", table.Number)}}
	for o := 192.0; o <= 204; o += 2 {
		for _, wind := range []float64{0, 5} {
			t.Columns[0].Nums = append(t.Columns[0].Nums, o)
			t.Columns[1].Nums = append(t.Columns[1].Nums, wind)
			t.Columns[2].Nums = append(t.Columns[2].Nums, 214+1.42*(o-192)+wind*4.6+wind*0.03*(o-192))
		}
	}
	return &document.Figure{Kind: Lines, Name: "heaviness", Table: t, X: "outboard", Y: []string{"heaviness"},
		By: "wind",
		Sentence: "From outboard 192 to 204 cm heaviness rises from 214 to 231 N·s/m at wind 0 and from " +
			"237 to 256 at wind 5: about 1.4 and 1.6 a cm."}
}

func TestCharts(t *testing.T) {
	gap := heavinessByWind()
	gap.Table.Column("heaviness").Nums[6] = math.NaN()
	panels := heavinessByWind()
	panels.By, panels.Panel = "", "wind"
	curve := &document.Figure{Kind: Curves, X: "angle", Y: []string{"handle_force"},
		Sentence: "The pull peaks at 689 N."}
	curve.Table = &table.Table{Columns: []*table.Column{table.NewColumn("case", "", table.Text),
		table.NewColumn("angle", "deg", table.Number), table.NewColumn("handle_force", "N", table.Number)}}
	for k, name := range []string{"now", "broad"} {
		for a := -63.0; a <= 43; a++ {
			phi := (a + 63) / 106
			curve.Table.Columns[0].Texts = append(curve.Table.Columns[0].Texts, name)
			curve.Table.Columns[1].Nums = append(curve.Table.Columns[1].Nums, a)
			curve.Table.Columns[2].Nums = append(curve.Table.Columns[2].Nums,
				(689+float64(10*k))*math.Sin(math.Pi*math.Pow(phi, 0.7)))
		}
	}
	named := &document.Figure{Kind: Lines, X: "set", Y: []string{"speed"},
		Table: &table.Table{Columns: []*table.Column{
			{Name: "set", Kind: table.Text, Texts: []string{"long", "short", "middle"}},
			{Name: "speed", Unit: "m/s", Digits: 3, Nums: []float64{5.01, 5.03, 5.04}}}}}
	blank := &document.Figure{Kind: Lines, X: "x", Y: []string{"y"},
		Table: &table.Table{Columns: []*table.Column{{Name: "x", Nums: []float64{1, 2}},
			{Name: "y", Nums: []float64{math.NaN(), math.NaN()}}}}}
	energy := &document.Figure{Kind: Bars, Table: &table.Table{Columns: []*table.Column{
		{Name: "item", Kind: table.Text, Texts: []string{"hands", "body", "water", "blade", "air", "oar"}},
		{Name: "side", Kind: table.Text,
			Texts: []string{"what the rower puts in", "what the rower puts in", "where it goes",
				"where it goes", "where it goes", "where it goes"}},
		{Name: "now", Unit: "J", Nums: []float64{640, 72, 505, 142, 57, 8}},
		{Name: "broad", Unit: "J", Nums: []float64{640, 72, 520, 127, 57, 8}}}}}
	for _, c := range []struct {
		name string
		w    term.Window
		fig  *document.Figure
	}{
		{"chart_80", term.Window{Width: 80}, heavinessByWind()},
		{"chart_80_plain", term.Window{Width: 80, ASCII: true}, heavinessByWind()},
		{"chart_60", term.Window{Width: 60}, heavinessByWind()},
		{"chart_gap", term.Window{Width: 80}, gap},
		{"chart_panels", term.Window{Width: 80}, panels},
		{"chart_curves", term.Window{Width: 100}, curve},
		{"chart_names", term.Window{Width: 80}, named},
		{"chart_blank", term.Window{Width: 80}, blank},
		{"chart_energy", term.Window{Width: 80}, energy},
		{"heat_80", term.Window{Width: 80}, slipMap()},
		{"path_80", term.Window{Width: 80}, pathFigure()},
		{"path_80_plain", term.Window{Width: 80, ASCII: true}, pathFigure()},
		{"path_50", term.Window{Width: 50}, pathFigure()},
	} {
		lines := Window(c.w, c.fig)
		termtest.Fits(t, c.w, lines)
		termtest.Golden(t, c.name, lines)
	}
}

// pathFigure has paths in the shape of real ones: the boat travels under the
// turning oar, some 3.4 m in a drive.
func pathFigure() *document.Figure {
	path := func(name string, travel, drive float64, reference bool) document.Path {
		p := document.Path{Name: name, Reference: reference}
		at := func(f float64) (x, y float64) {
			angle := (63 - 106*f) * math.Pi / 180
			return travel*f + 175*math.Sin(angle), 175 * math.Cos(angle)
		}
		for k := range 12 {
			x, y := at(float64(k) / 11)
			p.CentreX, p.CentreY = append(p.CentreX, x), append(p.CentreY, y)
			p.Time = append(p.Time, drive*float64(k)/11)
		}
		for k := range 200 {
			x, y := at(float64(k) / 199)
			p.FineX, p.FineY = append(p.FineX, x), append(p.FineY, y)
		}
		return p
	}
	return &document.Figure{Kind: Paths,
		Paths: []document.Path{path("calm", 335, 0.90, false), path("perfect grip", 395, 1.01, true)},
		Sentence: "calm: the blade goes back through the water by 21 cm, from 29 deg before square to 19 " +
			"after, and leaves it 70 cm ahead of where it went in; with a perfect grip 120 cm, never " +
			"backward, and the drive takes 0.11 s longer."}
}

// slipMap is a map of nine strips over the arc.
func slipMap() *document.Figure {
	t := &table.Table{Columns: []*table.Column{table.NewColumn("angle", "deg", table.Number),
		table.NewColumn("strip", "cm", table.Number), table.NewColumn("slip_speed", "m/s", table.Number)}}
	for strip := 0.0; strip < 45; strip += 5 {
		for angle := -62.0; angle <= 43; angle++ {
			t.Columns[0].Nums = append(t.Columns[0].Nums, angle)
			t.Columns[1].Nums = append(t.Columns[1].Nums, strip)
			t.Columns[2].Nums = append(t.Columns[2].Nums, (angle+20)/40+strip/60)
		}
	}
	return &document.Figure{Kind: Heat, Table: t, X: "angle", Y: []string{"strip"}, Z: "slip_speed"}
}

// Whatever the window, no figure is wider than it.
func TestFiguresFitEveryWidth(t *testing.T) {
	for width := 40; width <= 140; width++ {
		for _, ascii := range []bool{false, true} {
			w := term.Window{Width: width, ASCII: ascii}
			for _, f := range []*document.Figure{heavinessByWind(), pathFigure(), slipMap()} {
				termtest.Fits(t, w, Window(w, f))
			}
		}
	}
}
