package figure

import (
	"fmt"
	"html/template"
	"math"

	"thole/engine/document"
	"thole/engine/draw"
)

// sceneData places one drawing of the scene. The pin moves over the view from
// Catch to Finish in the drive and back in the recovery; where Finish - Catch is
// the boat's travel, the water stands still.
type sceneData struct {
	ID     string  `json:"id"`
	W      float64 `json:"w"`
	H      float64 `json:"h"`
	K      float64 `json:"k"`      // units a cm
	Left   float64 `json:"left"`   // cm of the view at the left edge
	Top    float64 `json:"top"`    // cm from the pin's line at the top edge
	Catch  float64 `json:"catch"`  // cm, the pin's place in the view at the catch
	Finish float64 `json:"finish"` // and at the finish
	Boat   float64 `json:"boat"`   // and where the picture stays with the boat
}

// oar gives the oar's places at frame i: handle, pin, neck, centre and tip, in
// the water's frame.
type oarPlaces struct{ hx, hy, px, nx, ny, cx, cy, tx, ty, sin, cos float64 }

func oarAt(m *document.Motion, i int) oarPlaces {
	i = max(0, min(i, m.Frames()-1))
	a := m.Angle[i] * math.Pi / 180
	s, c, x := math.Sin(a), math.Cos(a), m.Hull[i]
	on := func(r float64) (float64, float64) { return x - r*s, r * c }
	var o oarPlaces
	o.px, o.sin, o.cos = x, s, c
	o.hx, o.hy = on(-m.InBoard)
	o.nx, o.ny = on(m.ToCentre - m.BladeLength/2)
	o.cx, o.cy = on(m.ToCentre)
	o.tx, o.ty = on(m.ToCentre + m.BladeLength/2)
	return o
}

// sceneFor fits a scene of that width to the strokes. A wide scene holds the
// whole drive in still water; a narrow one lets the water pass, so that the oar
// stays large.
func sceneFor(ms []document.Motion, width float64) sceneData {
	aheadCatch, behindCatch, aheadFinish, behindFinish, out, in, travel := 0., 0., 0., 0., 0., 0., 0.
	for i := range ms {
		m := &ms[i]
		c, fin := oarAt(m, 0), oarAt(m, m.DriveFrame())
		aheadCatch = math.Max(aheadCatch, c.tx-c.px)
		behindCatch = math.Max(behindCatch, c.px-c.hx)
		aheadFinish = math.Max(aheadFinish, fin.hx-fin.px)
		behindFinish = math.Max(behindFinish, fin.px-fin.tx)
		out = math.Max(out, m.ToCentre+m.BladeLength/2)
		in = math.Max(in, m.InBoard)
		travel = math.Max(travel, fin.px-oarAt(m, 0).px)
	}
	const room = 16
	s := sceneData{W: width}
	s.Catch = 0
	s.Finish = travel
	if width <= draw.Narrow { // the pin moves just as far as the oar's two ends ask for
		s.Finish = math.Max(0, math.Min(travel, behindFinish-behindCatch+10))
	}
	s.Left = math.Min(-behindCatch, s.Finish-behindFinish) - room
	right := math.Max(aheadCatch, s.Finish+aheadFinish) + room
	s.Boat = (behindFinish - aheadCatch + s.Left + right) / 2
	s.K = width / (right - s.Left)
	s.Top = out + room
	s.H = math.Round((s.Top + in + 34) * s.K)
	return s
}

// oarClass is an oar's colour in the scene.
func oarClass(look draw.Series) string {
	if look == draw.Reference {
		return "mref"
	}
	return "mv" + look.Tag()
}

// hullClass is a hull's look: the first as it is, another's a ghost in its own ink.
func hullClass(k int, look draw.Series) string {
	if k == 0 {
		return "hull"
	}
	return "hull ghosthull " + oarClass(look)
}

// stageView is the empty stage; the script moves what has an id.
type stageView struct {
	Class, ID, W, H string
	Inside          template.HTML
}

func stage(s sceneData, looks []draw.Series, names []string, class string) stageView {
	d := &draw.Surface{W: s.W, H: s.H, ID: s.ID}
	d.Group("marks", func() {})
	for k := len(looks) - 1; k >= 0; k-- { // each oar has its own hull; the first lies on top
		d.Named(fmt.Sprint(k, "hull")).Path(hullClass(k, looks[k]), "")
	}
	d.Text("t2 end halo", s.W-8, s.H-8, "the boat goes this way →")
	for k := len(looks) - 1; k >= 0; k-- {
		look := oarClass(looks[k])
		for _, part := range [][2]string{{"ln trail ", "trail"}, {"bl ", "blade"}, {"shaft2 ", "shaft"},
			{"force ", "force"}} {
			d.Named(fmt.Sprint(k, part[1])).Path(part[0]+look, "")
		}
		d.Named(fmt.Sprint(k, "pin")).Circle("f"+looks[k].Tag(), math.NaN(), math.NaN(), 4.5)
		d.Group(fmt.Sprint(k, "dots"), func() {})
		// names stand on the blades, the first to the bow of its own, the second to the stern
		d.Named(fmt.Sprint(k, "name")).Text([]string{"b halo", "b halo end"}[min(k, 1)], 0, 0,
			draw.Cut(names[k], 13.5, .4*s.W))
		d.Named(fmt.Sprint(k, "newton")).Text("sm halo end", 0, 0, "")
	}
	return stageView{Class: class, ID: s.ID, W: draw.Coord(s.W), H: draw.Coord(s.H), Inside: d.Inside()}
}

// still draws one frame as the script does, for the key frames.
func still(d *draw.Surface, ms []document.Motion, looks []draw.Series, s sceneData, frame int) {
	k := d.W / s.W * s.K
	d.H = math.Round(s.H * d.W / s.W)
	x := func(v float64) float64 { return (v - s.Left) * k }
	y := func(v float64) float64 { return (s.Top - v) * k }
	for v := math.Ceil(s.Left/100) * 100; v < s.Left+s.W/s.K; v += 100 {
		d.Line("hair", x(v), 0, x(v), d.H)
	}
	for i := len(ms) - 1; i >= 0; i-- {
		d.Path(hullClass(i, looks[i]), hullPath(oarAt(&ms[i], frame).px, ms[i].InBoard, x, y))
	}
	for i := len(ms) - 1; i >= 0; i-- {
		m := &ms[i]
		look := oarClass(looks[i])
		var tx, ty []float64
		for j := 0; j <= min(frame, m.DriveFrame()) && j < m.Frames(); j++ {
			o := oarAt(m, j)
			tx, ty = append(tx, x(o.cx)), append(ty, y(o.cy))
		}
		d.Path("ln trail "+look, draw.Polyline(tx, ty))
		o := oarAt(m, frame)
		d.Path("bl "+look, bladePath(o, x, y))
		d.Line("shaft2 "+look, x(o.hx), y(o.hy), x(o.nx), y(o.ny))
		d.Circle("f"+looks[i].Tag(), x(o.px), y(0), 4)
	}
}

const bladeHalf = 4.5 // cm, half of a blade's thickness as drawn

func bladePath(o oarPlaces, x, y func(float64) float64) string {
	dx, dy := bladeHalf*o.cos, bladeHalf*o.sin
	return draw.Pathf("M%s %sL%s %sL%s %sL%s %sZ", x(o.nx+dx), y(o.ny+dy), x(o.tx+dx), y(o.ty+dy),
		x(o.tx-dx), y(o.ty-dy), x(o.nx-dx), y(o.ny-dy))
}

// hullPath is a hull's outline about the boat's middle line, with the rigger's
// two stays from the pin.
func hullPath(pin, inboard float64, x, y func(float64) float64) string {
	middle := -math.Max(inboard*.95, 60)
	var xs, port, starboard []float64
	for i := -12; i <= 12; i++ {
		a := float64(i) * 35
		b := 14 * math.Pow(1-a*a/(420*420), .75)
		xs, port, starboard = append(xs, x(pin+a)), append(port, y(middle+b)), append(starboard, y(middle-b))
	}
	stay := y(middle + 14)
	return draw.Ring(xs, port, xs, starboard) +
		draw.Pathf("M%s %sL%s %sM%s %sL%s %s", x(pin), y(0), x(pin+34), stay, x(pin), y(0), x(pin-34), stay)
}
