package figure

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/term/termtest"
	"thole/engine/typeset"
)

func texts(name string, cells ...string) *table.Column {
	return &table.Column{Name: name, Kind: table.Text, Texts: cells}
}

func numbers(name, unit string, cells ...float64) *table.Column {
	c := table.NewColumn(name, unit, table.Number)
	c.Nums = cells
	return c
}

func tableOf(columns ...*table.Column) *table.Table { return &table.Table{Columns: columns} }

// closeCurves is two strokes whose forces lie 1 % apart, whose speeds do so too.
func closeCurves() *document.Figure {
	names, angle, force, speed := texts("case"), numbers("angle", "deg"), numbers("handle_force", "N"), numbers("handle_speed", "m/s")
	for k, name := range []string{"now", "new", "long"} {
		for a := -60.; a <= 42; a++ {
			at, more := math.Sin(math.Pi*(a+62)/106), 1+.01*float64(k)
			names.Texts, angle.Nums = append(names.Texts, name), append(angle.Nums, a)
			force.Nums, speed.Nums = append(force.Nums, 690*at*more), append(speed.Nums, 2*at*more)
		}
	}
	return &document.Figure{Kind: Curves, Table: tableOf(names, angle, force, speed), X: "angle", Y: []string{"handle_force", "handle_speed"}}
}

// whole is a figure of every kind with all that it can show; its names are the
// one given where a name can be any. The numbers are invented.
func whole(kind document.Kind, name string) *document.Figure {
	switch kind {
	case Lines:
		return &document.Figure{Table: tableOf(numbers("outboard", "cm", 192, 204, 192, 204), numbers("speed", "m/s", 4.2, 4.3, 4.1, 4.25), texts("crew", name, name, "b", "b")),
			X: "outboard", Y: []string{"speed"}, By: "crew", Guides: []document.Guide{{Axis: "x", At: 199, Label: name}, {Axis: "speed", At: 4.2, Label: name}}}
	case Curves:
		f := closeCurves()
		for i := range f.Table.Len() / 3 {
			f.Table.Columns[0].Texts[i] = name
		}
		return f
	case Bars:
		return &document.Figure{Table: tableOf(texts("item", "handle", name), texts("side", name, "where it goes"), numbers("now", "J", 640, 128), numbers(name, "J", 600, 130))}
	case Paths:
		at := []float64{0, 1, 2}
		way := document.Path{Name: name, Time: at, Angle: []float64{-50, 0, 40}, TipX: at, TipY: at, CentreX: []float64{0, 30, 60}, CentreY: []float64{100, 170, 120},
			NeckX: at, NeckY: at, HandleX: at, HandleY: at, PinX: at}
		grip := way
		grip.Name, grip.Reference, grip.CentreX = "perfect grip", true, []float64{0, 40, 90}
		return &document.Figure{Paths: []document.Path{way, grip}}
	case Heat:
		return &document.Figure{Table: tableOf(numbers("outboard", "cm", 192, 192, 204, 204), numbers("wind", "m/s", 0, 5, 0, 5), numbers("speed", "m/s", 4.2, 3.7, 4.3, math.NaN())),
			X: "outboard", Y: []string{"wind"}, Z: "speed", Guides: []document.Guide{{Axis: "x", At: 199, Label: name}}}
	case Whisker:
		return &document.Figure{Table: tableOf(texts("quantity", name, "speed"), numbers("percent", "%", 1.2, -.3), numbers("low", "%", .8, math.NaN()), numbers("high", "%", 1.6, math.NaN()), texts("verdict", name, "one run")), Worthwhile: .3}
	case Weighing:
		return &document.Figure{Table: tableOf(texts("kind", "as set", name), texts("assumption", "as set", name),
			numbers("change", "%", .43, -.2), numbers("low", "%", .3, math.NaN()), numbers("high", "%", .5, math.NaN()),
			texts("turns", "", name)), Worthwhile: .3}
	case Swing:
		return &document.Figure{Table: tableOf(texts("input", name, "bury"), numbers("low", "", 1.2, 3), numbers("high", "", 2.1, 10), numbers("at_low", "cm", 2.9, 6.1),
			numbers("at_high", "cm", 8.7, math.NaN()), numbers("swing", "cm", 5.8, .8), numbers("flips_at", "", .76, math.NaN())), Guides: []document.Guide{{Axis: "x", At: 6, Label: name}}}
	case Moving:
		at := make([]float64, 40)
		for i := range at {
			at[i] = float64(i)
		}
		m := document.Motion{Name: name, Step: .0125, Drive: .3, Hull: at, HullSpeed: at, Angle: at, HandleForce: at, HandleSpeed: at, Slip: at, InBoard: 88, ToCentre: 180, BladeLength: 46}
		return &document.Figure{Motion: []document.Motion{m, m}}
	case Pieces:
		pair := &table.Column{Name: "interval", Kind: table.Measured, Estimates: []*table.Estimate{nil, {Value: .6, Low: .4, High: .8, Digits: 2, Signed: true}}}
		return &document.Figure{Table: tableOf(texts("what", name, "difference"), numbers("change", "%", .5, math.NaN()), pair, texts("odd", "odd", "")), Guides: []document.Guide{{Axis: "change", At: .3, Label: name}}}
	case Rig:
		rig := document.Rigged{Name: name, Sculling: true, Boat: "2x", PinLine: 79.5, Inboard: 88, Outboard: 200, Gate: 4, Pull: 4, BladeLength: 46, BladeWidth: 18,
			Catch: 62, Finish: 43, Overlap: 21, Apart: 20, WorkThrough: 8, Stretcher: 46, GateHeights: document.GateHeights{Height: 16, Slope: 5, Drive: 30, Recovery: 20}, SeatOverWater: 12, Clear: 5, Pitch: 4, Outward: 1}
		set := rig
		set.Inboard, set.Pitch = 89, math.NaN()
		return &document.Figure{Rigs: []document.Rigged{rig, set}}
	}
	return nil
}

const hostile = "</text></title><script>alert(1)</script>\"'><img src=x onerror=alert(2)>\x00\x07"

// everyFigure are figures of a kind in the shapes that go wrong.
func everyFigure(t *testing.T, kind document.Kind) map[string]*document.Figure {
	figures := map[string]*document.Figure{}
	for what, name := range map[string]string{"whole": "a name", "a long name": strings.Repeat("the one with a very long name ", 9), "hostile": hostile, "no name": ""} {
		f := whole(kind, name)
		if f == nil {
			t.Fatalf("%s: no figure to test it with: add one to func whole", kind)
		}
		f.Name, f.Caption = name, name
		figures[what] = f
	}
	one, blank, none, bare := whole(kind, "a"), whole(kind, "a"), whole(kind, "a"), whole(kind, "a")
	if one.Table != nil {
		one.Table = one.Table.Lines([]int{0})
		none.Table = none.Table.Lines(nil)
		bare.Table = &table.Table{}
		for _, c := range blank.Table.Columns {
			for i := range c.Nums {
				c.Nums[i] = math.NaN()
			}
			for i := range c.Estimates {
				c.Estimates[i] = nil
			}
		}
	}
	for i := range blank.Paths {
		q := &blank.Paths[i]
		nan := slices.Repeat([]float64{math.NaN()}, 3)
		q.CentreX, q.CentreY, q.TipX, q.TipY = nan, nan, nan, nan
		one.Paths[i].CentreX, one.Paths[i].CentreY = []float64{5}, []float64{5}
	}
	for i := range blank.Motion {
		nan := slices.Repeat([]float64{math.NaN()}, 40)
		m := &blank.Motion[i]
		m.Hull, m.Angle, m.HandleForce, m.HandleSpeed = nan, nan, nan, nan
		one.Motion[i].Hull = []float64{1}
	}
	for i := range blank.Rigs {
		r := &blank.Rigs[i]
		r.Height, r.WorkThrough, r.Stretcher, r.Pitch, r.Outward, r.Overlap = math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()
		one.Rigs = blank.Rigs[:1]
	}
	for _, f := range []*document.Figure{none, bare} {
		f.Paths, f.Motion, f.Rigs = nil, nil, nil
	}
	figures["one point"], figures["no number"], figures["nothing"], figures["no columns"] = one, blank, none, bare
	for _, f := range figures {
		f.Kind = kind
	}
	return figures
}

// Every kind, in every shape of data, at every width: a drawing or a reason why
// there is none, well-formed, at numbers, and no text becomes markup.
func TestEveryKindInEveryShape(t *testing.T) {
	for _, k := range Kinds {
		for what, f := range everyFigure(t, k.Name) {
			at := fmt.Sprintf("%s, %s", k.Name, what)
			if said := Sentence(f); said == "" && what != "one point" || strings.Contains(said, "NaN") || strings.ContainsAny(said, typeset.Minus+typeset.Thin) {
				t.Errorf("%s: a terminal would print %q", at, said)
			}
			for _, width := range []int{60, 80, 120} {
				w := term.Window{Width: width}
				termtest.Fits(t, w, Window(w, f))
				termtest.Fits(t, w, InWords(w, f))
			}
			if why := Empty(f); why != "" {
				if !slices.Contains([]string{"one point", "no number", "nothing", "no columns"}, what) {
					t.Errorf("%s: %s", at, why)
				}
				continue
			}
			if what == "nothing" || what == "no columns" {
				t.Errorf("%s: said to have something to draw", at)
			}
			if Title(f) == "" || Caption(f) == "" {
				t.Errorf("%s: no title or no caption", at)
			}
			if k.Live != nil {
				n := 0
				body, data := k.Live.Body(f, "m0", false, func(prefix string) string { n++; return fmt.Sprint(prefix, n) })
				wellFormed(t, at, string(body))
				if _, err := json.Marshal(data); err != nil {
					t.Errorf("%s: its script gets no data: %v", at, err)
				}
				continue
			}
			for _, width := range []float64{draw.Wide, draw.Narrow, draw.Lesson} {
				for _, part := range Drawings(f) {
					d := &draw.Surface{W: width, ID: "g1"}
					part.Draw(d)
					if d.H <= 0 || d.H > 3000 || part.Title == "" || part.Description == "" {
						t.Errorf("%s at %g: height %g, title %q, description %q", at, width, d.H, part.Title, part.Description)
					}
					wellFormed(t, at, string(d.Finish("wide", part.Title, part.Description)))
				}
			}
		}
	}
}

// wellFormed reads markup as a browser does: each tag one of ours, no coordinate
// that is no number, every id once.
func wellFormed(t *testing.T, at, markup string) {
	t.Helper()
	ids := map[string]bool{}
	d := xml.NewDecoder(strings.NewReader(markup))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", at, err)
			return
		}
		tag, is := token.(xml.StartElement)
		if !is {
			continue
		}
		if tag.Name.Local == "script" || tag.Name.Local == "img" {
			t.Errorf("%s: text became markup: %v", at, tag)
		}
		for _, a := range tag.Attr {
			switch key := a.Name.Local; {
			case strings.HasPrefix(key, "on") || key == "style":
				t.Errorf("%s: an attribute %s", at, key)
			case key == "id" && ids[a.Value]:
				t.Errorf("%s: id %q twice", at, a.Value)
			case key == "id":
				ids[a.Value] = true
			case strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf"):
				t.Errorf("%s: drawn at no number: %v", at, tag)
			}
		}
	}
}

// The registry is whole: each kind once, with all that a page asks of it, and
// found by its name; a kind that nobody knows is refused in words.
func TestRegistry(t *testing.T) {
	seen := map[document.Kind]bool{}
	for _, k := range Kinds {
		f := &document.Figure{Kind: k.Name}
		if seen[k.Name] || Of(f) != k || k.Title == nil {
			t.Errorf("%q: twice, lost, or without a title", k.Name)
		}
		seen[k.Name] = true
		ways := 0
		for _, is := range []bool{k.Draw != nil, k.Parts != nil, k.Live != nil} {
			if is {
				ways++
			}
		}
		if ways != 1 {
			t.Errorf("%q: %d ways to be drawn, want one", k.Name, ways)
		}
		if k.Needs == nil && k.Lacks == nil {
			t.Errorf("%q: never empty", k.Name)
		}
		if k.Live != nil && (k.Live.Key == "" || k.Live.Script == "" || k.Live.InWords == "") {
			t.Errorf("%q: moves without a key, a script or words", k.Name)
		}
	}
	unknown := &document.Figure{Kind: "none", Name: "left_over", Table: tableOf(numbers("x", "", 1))}
	if Empty(unknown) != "this kind of figure cannot be drawn" || Title(unknown) != "Left over" || Drawable(unknown) {
		t.Errorf("an unknown kind: %q, %q", Empty(unknown), Title(unknown))
	}
	if _, err := Pictures(unknown); err == nil {
		t.Error("an unknown kind was drawn")
	}
}

// Tables that are pictures when they are shown.
func TestBeside(t *testing.T) {
	if f := Beside(whole(Swing, "a").Table, Instead); f == nil || f.Kind != Swing {
		t.Errorf("swings: drawn as %+v", f)
	}
	if Beside(whole(Bars, "a").Table, Instead) != nil || Beside(nil, Instead) != nil {
		t.Error("a table that is no picture is drawn as one")
	}
}
