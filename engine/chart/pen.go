package chart

import (
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"

	"thole/engine/draw"
)

var faces = font.NewCache(liberation.Collection())

// pen draws shapes, whose y runs downward, on a canvas, whose y runs upward.
type pen struct {
	vg.Canvas
	height    float64 // of the whole, in the drawing's units
	left, top float64 // where the present drawing begins
	path      vg.Path
}

func (p *pen) point(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(p.left+x) * unit, Y: vg.Length(p.height-p.top-y) * unit}
}

func (p *pen) draw(s draw.Shape) {
	switch s.Kind {
	case draw.Words:
		p.words(s)
		return
	case draw.Rectangle:
		p.box(s.X, s.Y, s.W, s.H)
	case draw.Disc:
		p.path = nil
		p.path.Move(p.point(s.X+s.R, s.Y))
		p.path.Arc(p.point(s.X, s.Y), vg.Length(s.R)*unit, 0, 2*math.Pi)
		p.path.Close()
	default:
		p.trace(s.Path)
	}
	l := lookOf(s.Class)
	if l.fill != nil {
		p.fill(faded(l.fill, l.opacity*s.Opacity))
	}
	if l.hatch > 0 && s.Kind == draw.Rectangle {
		p.hatch(s, l.hatch)
		p.box(s.X, s.Y, s.W, s.H)
	}
	if l.stroke != nil {
		p.stroke(faded(l.stroke, l.opacity), l.width, l.dash)
	}
}

func faded(c color.Color, opacity float64) color.Color {
	n := c.(color.NRGBA)
	n.A = uint8(math.Round(float64(n.A) * opacity))
	return n
}

func (p *pen) box(x, y, w, h float64) {
	p.path = nil
	p.path.Move(p.point(x, y))
	p.path.Line(p.point(x+w, y))
	p.path.Line(p.point(x+w, y+h))
	p.path.Line(p.point(x, y+h))
	p.path.Close()
}

func (p *pen) fill(c color.Color) {
	p.SetColor(c)
	p.Fill(p.path)
}

func (p *pen) stroke(c color.Color, width float64, dash []float64) {
	var pattern []vg.Length
	for _, d := range dash {
		pattern = append(pattern, vg.Length(d)*unit)
	}
	p.SetColor(c)
	p.SetLineWidth(vg.Length(width) * unit)
	p.SetLineDash(pattern, 0)
	for _, piece := range pieces(p.path) {
		p.Stroke(piece)
	}
	p.SetLineDash(nil, 0)
}

// longestPath is how many steps of a path are stroked at once. What fills the
// picture's points sorts each row's crossings one by one, so that a jagged line
// of thousands would take minutes; in pieces it takes a second.
const longestPath = 400

// pieces parts a long open path; each piece begins where the one before ended.
func pieces(path vg.Path) []vg.Path {
	if len(path) <= longestPath {
		return []vg.Path{path}
	}
	var out []vg.Path
	var piece vg.Path
	for k, step := range path {
		if step.Type == vg.CloseComp || step.Type == vg.ArcComp { // rings are short
			return []vg.Path{path}
		}
		piece = append(piece, step)
		if len(piece) >= longestPath && k < len(path)-1 {
			out = append(out, piece)
			piece = nil
			if path[k+1].Type != vg.MoveComp {
				piece.Move(step.Pos)
			}
		}
	}
	return append(out, piece)
}

// trace reads a path in the letters that drawings use.
func (p *pen) trace(d string) {
	p.path = nil
	x, y, x0, y0 := 0., 0., 0., 0.
	for d != "" {
		letter := d[0]
		end := strings.IndexAny(d[1:], "MLHVZl")
		if end < 0 {
			end = len(d) - 1
		}
		var n []float64
		for _, f := range strings.Fields(d[1 : end+1]) {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				panic("chart: path " + d) // a mistake of the drawing, never of a user
			}
			n = append(n, v)
		}
		d = d[end+1:]
		switch letter {
		case 'M':
			x, y = n[0], n[1]
			x0, y0 = x, y
			p.path.Move(p.point(x, y))
			continue
		case 'L':
			x, y = n[0], n[1]
		case 'l':
			x, y = x+n[0], y+n[1]
		case 'H':
			x = n[0]
		case 'V':
			y = n[0]
		case 'Z':
			p.path.Close()
			x, y = x0, y0
			continue
		}
		p.path.Line(p.point(x, y))
	}
}

// hatch fills a box with the pattern of a series: lines to the right, dots,
// lines to the left; the fifth stays empty.
func (p *pen) hatch(s draw.Shape, k int) {
	c := series[k-1]
	switch k {
	case 2, 4:
		const step = 6 * math.Sqrt2
		for u := -s.H; u < s.W; u += step {
			// a line at 45 degrees from (u, bottom) to (u+h, top), cut to the box
			a, b := math.Max(u, 0), math.Min(u+s.H, s.W)
			if a >= b {
				continue
			}
			x1, y1, x2, y2 := s.X+a, s.Y+s.H-(a-u), s.X+b, s.Y+s.H-(b-u)
			if k == 4 {
				y1, y2 = 2*s.Y+s.H-y1, 2*s.Y+s.H-y2
			}
			p.path = nil
			p.path.Move(p.point(x1, y1))
			p.path.Line(p.point(x2, y2))
			p.stroke(c, 2.2, nil)
		}
	case 3:
		for x := 1.; x+3 < s.W; x += 6 {
			for y := 1.; y+3 < s.H; y += 6 {
				p.box(s.X+x, s.Y+y, 3, 3)
				p.fill(c)
			}
		}
	}
}

// words sets a text; a halo of paper keeps it legible over lines.
func (p *pen) words(s draw.Shape) {
	l := letteringOf(s.Class)
	text := strings.ReplaceAll(s.Text, "\u202f", "\u00a0")
	face := faces.Lookup(l.font, vg.Length(l.size)*unit)
	width := face.Width(text)
	at := p.point(s.X, s.Y)
	at.X -= vg.Length(l.anchor) * width
	if l.halo {
		w := float64(width / unit)
		p.box(s.X-l.anchor*w-2, s.Y-l.size*.78, w+4, l.size)
		p.fill(faded(paper, .85))
	}
	p.SetColor(l.colour)
	p.FillString(face, at, text)
}
