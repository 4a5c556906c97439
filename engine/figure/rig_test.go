package figure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure/rigtest"
	"thole/engine/rigging"
	"thole/engine/typeset"
)

var rigWidths = []float64{draw.Wide, draw.Lesson, draw.Narrow}

func drawnRig(w float64, rigs ...document.Rigged) *draw.Surface {
	d := &draw.Surface{W: w, ID: "g"}
	drawRig(&document.Figure{Kind: Rig, Rigs: rigs}, d)
	return d
}

// randomRig is a rig that a rigger could set, and more.
func randomRig(t *rapid.T, boat, name string) document.Rigged {
	num := func(what string, low, high float64) float64 {
		return rapid.Float64Range(low, high).Draw(t, name+" "+what)
	}
	maybe := func(what string, low, high float64) float64 {
		if rapid.IntRange(0, 3).Draw(t, name+" has "+what) == 0 {
			return math.NaN()
		}
		return num(what, low, high)
	}
	r := rigging.New()
	r.Height, r.Pitch, r.Outward = maybe("height", .10, .25), maybe("pitch", 0, .12), maybe("outward", 0,
		.06)
	if boat[1] == 'x' {
		r.Apart = maybe("gates apart", -.02, .02)
	}
	r.WorkThrough, r.Stretcher = maybe("through", -.1, .2), maybe("stretcher", .3, .7)
	o := rigtest.Oar(num("length", 2.7, 3.0), num("inboard", .82, .92), "scull hatchet")
	r.Span = num("span", 1.5, 1.7)
	if boat[1] != 'x' {
		r.Span, r.Spread = math.NaN(), num("spread", .78, .92)
		o = rigtest.Oar(num("length", 3.6, 3.9), num("inboard", 1.08, 1.2), "sweep hatchet")
	}
	return rigtest.Of(name, boat, o, &r, num("catch", 45, 72), num("finish", 25, 48))
}

// everyRig runs over the drawings of all boats, alone and changed, at every width.
func everyRig(t *testing.T, check func(t *testing.T, d *draw.Surface, rigs []document.Rigged)) {
	for _, boat := range rigtest.Boats {
		for _, w := range rigWidths {
			t.Run(fmt.Sprintf("%s/%g", boat, w), func(t *testing.T) {
				one := []document.Rigged{rigtest.Usual(boat)}
				check(t, drawnRig(w, one...), one)
				two := append(one, rigtest.Changed(boat))
				check(t, drawnRig(w, two...), two)
				if boat[1] == 'x' {
					check(t, drawnRig(w, rigtest.Uneven(boat)), []document.Rigged{rigtest.Uneven(boat)})
					unlike := []document.Rigged{rigtest.Uneven(boat), rigtest.Changed(boat)}
					check(t, drawnRig(w, unlike...), unlike)
				}
			})
		}
	}
}

var dimensionLine = regexp.MustCompile(`<g data-of="([^"]+)"><path class="[^"]*" d="M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)"`)

// The dimensions measured back from the SVG, by the half metre drawn beneath, are the
// numbers to 0.05 cm.
func TestRigMeasuredBack(t *testing.T) {
	drawnDimensions := map[string]bool{}
	measure := func(fail func(string, ...any), d *draw.Surface, rigs []document.Rigged) {
		length := map[string][]float64{}
		for _, m := range dimensionLine.FindAllStringSubmatch(string(d.Inside()), -1) {
			var x [4]float64
			for i := range x {
				x[i], _ = strconv.ParseFloat(m[2+i], 64)
			}
			length[m[1]] = append(length[m[1]], math.Hypot(x[2]-x[0], x[3]-x[1]))
		}
		if len(length["scale"]) != 1 {
			fail("no scale is drawn")
			return
		}
		unit := length["scale"][0] / 50
		for name, drawn := range length {
			if name == "scale" {
				continue
			}
			drawnDimensions[name] = true
			q, at := dimensionNamed(name), 0
			for i := range rigs {
				v := q.of(&rigs[i])
				if math.IsNaN(v) || i > 0 && typeset.Number(v, 1) == typeset.Number(q.of(&rigs[0]), 1) {
					continue
				}
				if at >= len(drawn) {
					fail("%s of %s is not drawn", name, rigs[i].Name)
					return
				}
				if back := drawn[at] / unit; math.Abs(back-math.Abs(v)) > 0.05 {
					fail("%s of %s: %.3f cm in the drawing, %.3f said", name, rigs[i].Name, back, v)
				}
				at++
			}
		}
	}
	everyRig(t, func(t *testing.T, d *draw.Surface, rigs []document.Rigged) { measure(t.Errorf, d, rigs) })
	for _, name := range []string{"span", "spread", "inboard", "outboard", "overlap",
		"handles apart at the finish", "stretcher from the pins", "work-through",
		"height over the seat", "gate over water", "hands over seat in the drive",
		"hands over seat on the recovery"} {
		if !drawnDimensions[name] {
			t.Errorf("%s is never drawn", name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		boat := rapid.SampledFrom(rigtest.Boats).Draw(t, "boat")
		rigs := []document.Rigged{randomRig(t, boat, "a"), randomRig(t, boat, "b")}
		measure(t.Fatalf, drawnRig(rapid.SampledFrom(rigWidths).Draw(t, "width"), rigs...), rigs)
	})
}

// No words of the drawing touch each other or leave the sheet, by the widths that the
// drawing reckons with; the browser's own are measured where pages are.
func TestRigWordsApart(t *testing.T) {
	apart := func(fail func(string, ...any), d *draw.Surface) {
		size := (&placer{d: d}).size()
		var boxes []box
		var texts []string
		for _, s := range d.Shapes {
			for _, m := range corner.FindAllStringSubmatch(s.Path, -1) {
				x, _ := strconv.ParseFloat(m[1], 64)
				y, _ := strconv.ParseFloat(m[2], 64)
				if x < -1 || x > d.W+1 || y < -1 || y > d.H+1 {
					fail("a %s runs to %g, %g, out of the sheet of %g by %.0f", s.Class, x, y, d.W, d.H)
				}
			}
			if s.Kind != draw.Words {
				continue
			}
			b := (&placer{d: d}).boxOf([]string{s.Text}, berth{s.X, s.Y - .4*size, anchorOf(s.Class)})
			b.y0, b.y1 = s.Y-.75*size, s.Y+.22*size // from the capitals' height to the descenders
			if b.x0 < -.5 || b.x1 > d.W+.5 || b.y0 < -.5 || b.y1 > d.H+.5 {
				fail("%q leaves the sheet of %g by %.0f: %v", s.Text, d.W, d.H, b)
			}
			for i, o := range boxes {
				if b.meets(o) {
					fail("%q touches %q at %g", s.Text, texts[i], d.W)
				}
			}
			boxes, texts = append(boxes, b), append(texts, s.Text)
		}
	}
	everyRig(t, func(t *testing.T, d *draw.Surface, _ []document.Rigged) { apart(t.Errorf, d) })
	if t.Failed() {
		return
	}
	rapid.Check(t, func(t *rapid.T) {
		boat := rapid.SampledFrom(rigtest.Boats).Draw(t, "boat")
		rigs := []document.Rigged{randomRig(t, boat, "as rigged")}
		if rapid.Bool().Draw(t, "two") {
			rigs = append(rigs, randomRig(t, boat, "as it could be"))
		}
		apart(t.Fatalf, drawnRig(rapid.SampledFrom(rigWidths).Draw(t, "width"), rigs...))
	})
}

// Words along the boat stand nearer to the line they name than to any other: a stretcher
// read as a work-through would be set in the boat.
func TestRigWordsByTheirLine(t *testing.T) {
	everyRig(t, func(t *testing.T, d *draw.Surface, rigs []document.Rigged) {
		size := (&placer{d: d}).size()
		lines := map[string][2]float64{} // where the measure's line ends at the pins
		for _, m := range dimensionLine.FindAllStringSubmatch(string(d.Inside()), -1) {
			if m[1] == "stretcher from the pins" || m[1] == "work-through" {
				x, _ := strconv.ParseFloat(m[4], 64)
				y, _ := strconv.ParseFloat(m[5], 64)
				lines[m[1]] = [2]float64{x, y}
			}
		}
		for _, s := range d.Shapes {
			name := map[bool]string{true: "stretcher from the pins"}[strings.HasPrefix(s.Text,
				"stretcher to pins")]
			other := "work-through"
			if strings.HasPrefix(s.Text, "work-through") {
				name, other = "work-through", "stretcher from the pins"
			}
			if s.Kind != draw.Words || name == "" {
				continue
			}
			own, far := math.Abs(s.Y-.4*size-lines[name][1]), math.Abs(s.Y-.4*size-lines[other][1])
			if own >= far {
				t.Errorf("%q stands %.0f under its line and %.0f from that of the %s", s.Text, own, far,
					other)
			}
		}
	})
}

var corner = regexp.MustCompile(`[ML]([\d.-]+) ([\d.-]+)`)

var anchorRole = regexp.MustCompile(`\b(mid|end)\b`)

func anchorOf(class string) string { return anchorRole.FindString(class) }

// Of unlike gates each is told: in the list, in the words, and in the view from the stern.
func TestUnevenGatesAreToldApart(t *testing.T) {
	uneven := rigtest.Uneven("1x")
	list := RigTable([]document.Rigged{uneven})
	got := map[string]float64{}
	for i, name := range list.Column("dimension").Texts {
		got[name] = list.Columns[2].Nums[i]
	}
	// sin(slope) is linear in the height, so a centimetre of gate is 1 + L_in/L at the hands:
	// here 1.48 cm
	rise := got["hands over seat in the drive (starboard)"] - got["hands over seat in the drive (port)"]
	if got["height over the seat (starboard)"] != 16.5 || got["height over the seat (port)"] != 15.5 ||
		math.Abs(rise-1.48) > .01 {
		t.Errorf("the list has %v", got)
	}
	if said := describeRigs([]document.Rigged{uneven}); !strings.Contains(said,
		"height over the seat (starboard) 16.5\u202fcm, height over the seat (port) 15.5\u202fcm") {
		t.Errorf("said %q", said)
	}
	words := ""
	for _, s := range drawnRig(draw.Wide, uneven).Shapes {
		words += s.Text + "\n"
	}
	if !strings.Contains(words, "height 16.5 (port 15.5)\n") {
		t.Errorf("the drawing has the words\n%s", words)
	}
}

// Two rigs are "set as" each other only where nothing differs: not where a
// measure is given in one alone, nor where the sides are in another order.
func TestChangedRigTellsWhatOnlyOneGives(t *testing.T) {
	none := math.NaN()
	a := document.Rigged{Name: "now", Sides: "psps", Pitch: 4, Outward: none}
	a.Height = 16
	for _, c := range []struct {
		change func(*document.Rigged)
		want   string
	}{
		{func(r *document.Rigged) {}, "new is set as now."},
		{func(r *document.Rigged) { r.Port = &document.GateHeights{Height: 15} },
			"height over the seat (port) −1.0"},
		{func(r *document.Rigged) { r.Outward = 2 }, "outward pitch 2.0"},
		{func(r *document.Rigged) { r.Pitch = none }, "stern pitch not given, before 4.0"},
		{func(r *document.Rigged) { r.Sides = "pssp" }, "sides from bow psps to pssp"},
		{func(r *document.Rigged) { r.Sides = "" }, "sides from bow psps to not given"},
	} {
		b := a
		b.Name = "new"
		c.change(&b)
		if got := changedRig(&a, &b); !strings.Contains(got, c.want) {
			t.Errorf("said %q, want %q", got, c.want)
		}
	}
}
