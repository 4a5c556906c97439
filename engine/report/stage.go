package report

import (
	"html/template"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
)

// The picture beside a question: an oar on its pin from above, or a blade's path, as it is
// before. Revealing moves it, element by element, to what it is after; so both are drawn by
// the same strokes of the pen, as many and in the same order.

// stageView is what the fragment of a picture beside a question shows.
type stageView struct {
	W, H          string
	Words         string
	Before, After template.HTML // After "" where nothing moves
}

// stage draws the picture beside a question, "" where it has none.
func stage(a *document.Ask) template.HTML {
	if a.Before == nil {
		return ""
	}
	pictures := []*document.Figure{a.Before}
	if a.After != nil && len(a.After.Rigs) == len(a.Before.Rigs) &&
		len(a.After.Paths) == len(a.Before.Paths) {
		pictures = append(pictures, a.After)
	}
	var drawn []*draw.Surface
	var words []string
	switch {
	case len(a.Before.Rigs) > 0:
		drawn, words = oarStage(pictures, a.About)
	case len(a.Before.Paths) > 0:
		drawn, words = pathStage(pictures)
	default:
		return ""
	}
	view := stageView{W: draw.Coord(drawn[0].W), H: draw.Coord(drawn[0].H), Words: words[0],
		Before: drawn[0].Inside()}
	if len(drawn) > 1 {
		view.After = drawn[1].Inside()
	}
	return fill("stage", view)
}

// hullMiddle and hullHalf place the hull beneath the pin, cm: half a usual span, half a width.
const hullMiddle, hullHalf = -82., 14.

// oarStage draws an oar on its pin: the arc, the oar at catch, square and finish, the measures
// named that the question is about.
func oarStage(pictures []*document.Figure, about string) (out []*draw.Surface, said []string) {
	reach, back, out0 := 0., 0., 0.
	for _, f := range pictures {
		r := f.Rigs[0]
		reach = math.Max(reach, r.Outboard*sinDeg(r.Catch))
		back = math.Max(back, r.Outboard*sinDeg(r.Finish))
		out0 = math.Max(out0, r.Outboard)
	}
	m := draw.Plane{LowX: -back - 30, LowY: hullMiddle - hullHalf - 4}
	m.K = draw.Lesson / (reach + 30 - m.LowX)
	m.Bottom = (out0 + 30 - m.LowY) * m.K
	before := pictures[0].Rigs[0]
	for i, f := range pictures {
		r := f.Rigs[0]
		d := &draw.Surface{W: draw.Lesson, H: m.Bottom}
		// a measure in words: before the reveal with a question mark where it is asked for
		measure := func(name string, was, is float64, unit string) string {
			places := digits(was, is)
			switch {
			case i == 0 && name == about && len(pictures) > 1:
				return name + " " + typeset.Quantity(was, places, unit) + " → ?"
			case i > 0 && math.Abs(is-was) > .04:
				return name + " " + typeset.Number(was, places) + " → " + typeset.Quantity(is, places, unit)
			}
			return name + " " + typeset.Quantity(was, places, unit)
		}
		class := func(plain, name string) string {
			if name == about || about == "arc" && plain == "arc" {
				return plain + " about"
			}
			return plain
		}
		edge := []float64{0, d.W}
		level := func(y float64) []float64 { return []float64{m.Y(y), m.Y(y)} }
		d.Path("wash", draw.Ring(edge, level(hullMiddle+hullHalf), edge, level(hullMiddle-hullHalf)))
		d.Text("t2 end", d.W-6, m.Y(hullMiddle)+4.5, "bow →")
		d.Path(class("arc", ""), arcPath(m, r.Outboard-r.BladeLength/2, -r.Finish, r.Catch))
		d.Path(class("arc", ""), arcPath(m, -r.Inboard, -r.Finish, r.Catch))
		for _, oar := range []struct {
			angle float64
			class string
			name  string
		}{{-r.Finish, "faint", "finish"}, {0, "faint", ""}, {r.Catch, "full", "catch"}} {
			x, y := sinDeg(oar.angle), cosDeg(oar.angle)
			at := func(r float64) (float64, float64) { return m.X(r * x), m.Y(r * y) }
			hx, hy := at(-r.Inboard)
			nx, ny := at(r.Outboard - r.BladeLength)
			tx, ty := at(r.Outboard)
			d.Path("in "+class(oar.class, "inboard"), draw.Pathf("M%s %sL%s %s", hx, hy, m.X(0), m.Y(0)))
			d.Path("out "+class(oar.class, "outboard"), draw.Pathf("M%s %sL%s %s", m.X(0), m.Y(0), nx, ny))
			d.Path("spoon "+oar.class, draw.Pathf("M%s %sL%s %s", nx, ny, tx, ty))
		}
		d.Circle("pin", m.X(0), m.Y(0), 4.5)
		cx, cy := m.X(r.Outboard*sinDeg(r.Catch)), m.Y(r.Outboard*cosDeg(r.Catch))
		d.Text(class("b end halo", "catch"), math.Min(cx+24, d.W-4), cy-9,
			measure("catch", before.Catch, r.Catch, "deg"))
		fx, fy := m.X(-r.Outboard*sinDeg(r.Finish)), m.Y(r.Outboard*cosDeg(r.Finish))
		d.Text(class("b halo", "finish"), math.Max(4, fx-24), fy-9,
			measure("finish", before.Finish, r.Finish, "deg"))
		arc := ""
		if about == "arc" {
			arc = measure("arc", before.Catch+before.Finish, r.Catch+r.Finish, "deg")
		}
		d.Text("b halo about", 4, m.Y(out0)-6, arc)
		d.Text(class("b end halo", "outboard"), d.W-4, m.Y(0)+3,
			measure("outboard", before.Outboard, r.Outboard, "cm"))
		d.Text(class("b halo", "inboard"), m.X(0)+20, m.Y(-r.Inboard*.5)+4,
			measure("inboard", before.Inboard, r.Inboard, "cm"))
		out = append(out, d)
		said = append(said, "An oar on its pin from above: catch "+typeset.Quantity(r.Catch, 0,
			"deg")+", finish "+
			typeset.Quantity(r.Finish, 0, "deg")+", outboard "+typeset.Quantity(r.Outboard, 0,
			"cm")+", inboard "+
			typeset.Quantity(r.Inboard, 0, "cm")+".")
	}
	return out, said
}

// digits is one where a change would not be seen without, else none.
func digits(was, is float64) int {
	if was != is && math.Round(was) == math.Round(is) || math.Abs(was-math.Round(was)) > .04 ||
		math.Abs(is-math.Round(is)) > .04 {
		return 1
	}
	return 0
}

func sinDeg(a float64) float64 { return math.Sin(a * math.Pi / 180) }
func cosDeg(a float64) float64 { return math.Cos(a * math.Pi / 180) }

// arcPath is a circle's piece about the pin, of as many corners whatever its angles.
func arcPath(m draw.Plane, r, from, to float64) string {
	xs, ys := make([]float64, 41), make([]float64, 41)
	for i := range xs {
		a := from + (to-from)*float64(i)/40
		xs[i], ys[i] = m.X(r*sinDeg(a)), m.Y(r*cosDeg(a))
	}
	return wholeLine(xs, ys)
}

// wholeLine is a line with every corner it was given: none is left out, so that two of them
// can be moved into each other.
func wholeLine(xs, ys []float64) string {
	var b strings.Builder
	for i := range xs {
		b.WriteString(draw.Pathf(map[bool]string{true: "M%s %s", false: "L%s %s"}[i == 0], xs[i], ys[i]))
	}
	return b.String()
}

// pathStage draws the way of a blade through the water, its marks, the oar at the finish and
// the boat's travel.
func pathStage(pictures []*document.Figure) (out []*draw.Surface, said []string) {
	var xs, ys []float64
	marks := 0
	for _, f := range pictures {
		q := f.Paths[0]
		xs, ys = append(append(xs, q.FineX...), q.TipX...), append(append(ys, q.FineY...), q.TipY...)
		marks = max(marks, len(q.CentreX))
	}
	lx, hx := draw.Extent(xs)
	ly, hy := draw.Extent(ys)
	const room = 12.
	m := draw.Plane{LowX: lx - room, LowY: ly - room - 10}
	m.K = math.Min(draw.Lesson/(hx-lx+2*room), 230/(hy+room-m.LowY)) // as high as its words stay large
	m.Left = (draw.Lesson - (hx-lx+2*room)*m.K) / 2
	m.Bottom = (hy + room - m.LowY) * m.K
	for i, f := range pictures {
		q := f.Paths[0]
		d := &draw.Surface{W: draw.Lesson, H: m.Bottom + 34}
		look := draw.Of(0, func(int) bool { return q.Reference })
		n := len(q.FineX)
		mx, my := make([]float64, n), make([]float64, n)
		for j := range mx {
			mx[j], my[j] = m.X(q.FineX[j]), m.Y(q.FineY[j])
		}
		d.Path(look.Line(), wholeLine(mx, my))
		for j := range marks { // a shorter drive's last marks lie on each other
			j = min(j, len(q.CentreX)-1)
			d.Circle("f"+look.Tag(), m.X(q.CentreX[j]), m.Y(q.CentreY[j]), 4.2)
		}
		last := len(q.CentreX) - 1
		d.Path("spoon full", draw.Pathf("M%s %sL%s %s", m.X(q.NeckX[last]), m.Y(q.NeckY[last]),
			m.X(q.TipX[last]), m.Y(q.TipY[last])))
		travel := ""
		if i > 0 || len(pictures) == 1 {
			travel = typeset.Quantity((q.PinX[last]-q.PinX[0])/100, 2, "m") + " in " +
				typeset.Quantity(q.Time[last], 2, "s")
		}
		d.Text("b", 2, m.Bottom+12, q.Name)
		d.Text("b", 2, m.Bottom+28, travel)
		d.Text("t2 end", d.W-4, m.Bottom+12, "the boat goes →")
		out = append(out, d)
		said = append(said, "The way of the blade’s middle through the water: "+q.Name+".")
	}
	return out, said
}
