package chart

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
	"thole/engine/figure/rigtest"
	"thole/engine/table"
)

func text(name string, cells ...string) *table.Column {
	return &table.Column{Name: name, Kind: table.Text, Texts: cells}
}

func nums(name, unit string, cells ...float64) *table.Column {
	c := table.NewColumn(name, unit, table.Number)
	c.Nums = cells
	return c
}

// figures holds one small figure of every kind that has picture files; numbers
// are invented.
func figures() map[string]*document.Figure {
	lines := &table.Table{Columns: []*table.Column{nums("outboard", "cm"), text("crew"), nums("speed", "m/s"), nums("heaviness", "N·s/m")}}
	for k, crew := range []string{"Otters", "Herons", "Teal", "Grebes", "Coots"} {
		for o := 192.; o <= 204; o += 2 {
			lines.Columns[0].Nums = append(lines.Columns[0].Nums, o)
			lines.Columns[1].Texts = append(lines.Columns[1].Texts, crew)
			lines.Columns[2].Nums = append(lines.Columns[2].Nums, 4.9+.004*(o-192)+.05*float64(k))
			lines.Columns[3].Nums = append(lines.Columns[3].Nums, 166+o-192+4*float64(k))
		}
	}
	heat := &table.Table{Columns: []*table.Column{nums("outboard", "cm"), nums("wind", "m/s"), nums("speed", "m/s")}}
	for o := 192.; o <= 200; o++ {
		for w := -4.; w <= 4; w += 2 {
			heat.Columns[0].Nums = append(heat.Columns[0].Nums, o)
			heat.Columns[1].Nums = append(heat.Columns[1].Nums, w)
			heat.Columns[2].Nums = append(heat.Columns[2].Nums, 5-.1*w+.003*o)
		}
	}
	path := document.Path{Name: "as rowed"}
	for i := range 12 {
		a := (-63 + 106*float64(i)/11) * math.Pi / 180
		x := 31 * float64(i)
		on := func(r float64) (float64, float64) { return x - r*math.Sin(a), r * math.Cos(a) }
		add := func(xs, ys *[]float64, r float64) { px, py := on(r); *xs, *ys = append(*xs, px), append(*ys, py) }
		path.Time, path.Angle, path.PinX = append(path.Time, .08*float64(i)), append(path.Angle, a*180/math.Pi), append(path.PinX, x)
		add(&path.TipX, &path.TipY, 200)
		add(&path.CentreX, &path.CentreY, 177)
		add(&path.NeckX, &path.NeckY, 154)
		add(&path.HandleX, &path.HandleY, -84)
	}
	measured := &table.Column{Name: "change", Kind: table.Measured, Signed: true, Estimates: []*table.Estimate{{Value: -6.6, Low: -7.2, High: -6.2, Digits: 1, Signed: true}, {Value: .04, Low: .03, High: .05, Digits: 3, Signed: true}}}
	compared := &table.Table{Columns: []*table.Column{text("quantity", "outboard", "speed"), text("unit", "cm", "m/s"), nums("before", "", 200, 4.24), nums("after", "", 193.4, 4.28), measured, nums("percent", "%", -3.3, .9)}}
	return map[string]*document.Figure{
		"lines": {Kind: figure.Lines, Table: lines, X: "outboard", Y: []string{"speed", "heaviness"}, By: "crew", Guides: []document.Guide{{Axis: "x", At: 199, Label: "today"}}},
		"bars": {Kind: figure.Bars, Table: &table.Table{Columns: []*table.Column{text("item", "handle", "blade"), text("side", "in", "out"),
			nums("now", "J", 600, 157), nums("short", "J", 602, 140), nums("long", "J", 598, 171), nums("broad", "J", 600, 130)}}},
		"heat":  {Kind: figure.Heat, Table: heat, X: "outboard", Y: []string{"wind"}, Z: "speed"},
		"paths": {Kind: figure.Paths, Paths: []document.Path{path}},
		"swing": {Kind: figure.Swing, Table: &table.Table{Columns: []*table.Column{text("input", "drag", "bury"), nums("low", "", 1.2, 3), nums("high", "", 2.1, 10),
			nums("at_low", "cm", 2.9, 6.1), nums("at_high", "cm", 8.7, 6.9), nums("swing", "cm", 5.8, .8), nums("flips_at", "", .76, math.NaN())}}},
		"whisker": {Kind: figure.Whisker, Table: compared},
		"pieces":  {Kind: figure.Pieces, Table: &table.Table{Columns: []*table.Column{text("what", "pair 1", "pair 2"), nums("change", "%", .5, .8)}}},
	}
}

// Every kind gives a PNG that decodes at the promised width and an SVG that is
// well-formed, and both again byte for byte.
func TestEveryKind(t *testing.T) {
	for name, f := range figures() {
		if !figure.Drawable(f) {
			t.Errorf("%s: said not to be drawn", name)
		}
		var out [2][]byte
		for k, format := range []Format{SVG, PNG} {
			data, err := Write(f, format)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			again, _ := Write(f, format)
			if !bytes.Equal(data, again) {
				t.Errorf("%s.%s differs from itself", name, format)
			}
			out[k] = data
			if dir := os.Getenv("THOLE_LOOK"); dir != "" {
				os.WriteFile(filepath.Join(dir, "chart-"+name+"."+string(format)), data, 0o666)
			}
		}
		im, err := png.Decode(bytes.NewReader(out[1]))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		// 744 units, of which 720 make 18 cm, at 220 dots an inch
		if want := int(math.Round(744. / 720 * 18 / 2.54 * dpi)); im.Bounds().Dx() != want {
			t.Errorf("%s: %d pixels across, want %d", name, im.Bounds().Dx(), want)
		}
		wellFormed(t, name, out[0])
	}
}

func wellFormed(t *testing.T, name string, data []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

// Names, values and units reach the file as words, each series with a colour of
// its own.
func TestSaysWhatItShows(t *testing.T) {
	data, err := Write(figures()["lines"], SVG)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Otters", "Coots", "Speed, m/s", "outboard, cm", "today", "#0072B2", "#D55E00", "#009E73", "#B5638F", "stroke-dasharray"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the picture has no %q", want)
		}
	}
}

func TestTextStaysText(t *testing.T) {
	f := figures()["bars"]
	bad := `</text><script>alert(1)</script>`
	f.Table.Columns[0].Texts[0] = bad
	data, err := Write(f, SVG)
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, "hostile", data)
	if bytes.Contains(data, []byte("<script")) {
		t.Error("text became markup")
	}
}

// An empty figure is a picture that says so; an unknown format is refused.
func TestNothingToDraw(t *testing.T) {
	f := &document.Figure{Kind: figure.Lines, Name: "left over", Table: &table.Table{}, X: "x", Y: []string{"y"}}
	data, err := Write(f, SVG)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte("holds no lines")) {
		t.Errorf("an empty figure does not say why: %s", data)
	}
	if _, err := Write(f, "pdf"); err == nil {
		t.Error("a format without equal bytes was taken")
	}
	if figure.Drawable(&document.Figure{Kind: figure.Moving}) {
		t.Error("a moving picture has no file")
	}
}

// Every line and area of a rig's drawing has a look of its own in a picture file: a role
// that nobody knows would be left out without a word.
func TestRigInPictures(t *testing.T) {
	for _, boat := range rigtest.Boats {
		f := &document.Figure{Kind: figure.Rig, Rigs: []document.Rigged{rigtest.Usual(boat), rigtest.Changed(boat)}}
		pictures, err := figure.Pictures(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range pictures[0].Shapes {
			if l := lookOf(s.Class); s.Kind != draw.Words && l.fill == nil && l.stroke == nil {
				t.Errorf("%s: %q is not drawn", boat, s.Class)
			}
		}
		if _, err := Write(f, PNG); err != nil {
			t.Error(err)
		}
	}
}
