package report

import (
	"fmt"
	"math"
	"strings"
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

func (m *Motion) frames() int {
	n := len(m.Angle)
	for _, vs := range [][]float64{m.Hull, m.HullSpeed, m.HandleForce, m.HandleSpeed} {
		n = min(n, len(vs))
	}
	return n
}

// oar gives the oar's places at frame i: handle, pin, neck, centre and tip, in
// the water's frame.
type oarPlaces struct{ hx, hy, px, nx, ny, cx, cy, tx, ty, sin, cos float64 }

func (m *Motion) at(i int) oarPlaces {
	i = max(0, min(i, m.frames()-1))
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

func (m *Motion) driveFrame() int { return int(math.Round(m.Drive / m.Step)) }

// sceneFor fits a scene of that width to the strokes. A wide scene holds the
// whole drive in still water; a narrow one lets the water pass, so that the oar
// stays large.
func sceneFor(ms []Motion, width float64) sceneData {
	aheadCatch, behindCatch, aheadFinish, behindFinish, out, in, travel := 0., 0., 0., 0., 0., 0., 0.
	for i := range ms {
		m := &ms[i]
		c, fin := m.at(0), m.at(m.driveFrame())
		aheadCatch = math.Max(aheadCatch, c.tx-c.px)
		behindCatch = math.Max(behindCatch, c.px-c.hx)
		aheadFinish = math.Max(aheadFinish, fin.hx-fin.px)
		behindFinish = math.Max(behindFinish, fin.px-fin.tx)
		out = math.Max(out, m.ToCentre+m.BladeLength/2)
		in = math.Max(in, m.InBoard)
		travel = math.Max(travel, fin.px-m.at(0).px)
	}
	const room = 16
	s := sceneData{W: width}
	s.Catch = 0
	s.Finish = travel
	if width <= narrowWidth { // the pin moves just as far as the oar's two ends ask for
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

// scene writes the empty stage; the script moves what has an id.
func (p *page) scene(s sceneData, oars []oarData, class string) {
	names := make([]string, len(oars))
	for i, o := range oars {
		names[i] = o.Name
	}
	p.put(fmt.Sprintf(`<div class="stage"><svg class="%s" viewBox="0 0 %s %s" id="%s" role="img" aria-label="`, class, num(s.W), num(s.H), s.ID),
		esc("The stroke seen from above: "+list(names)+". The numbers beneath follow the picture."), `">`)
	p.put(fmt.Sprintf(`<g id="%smarks"></g><path class="hull" id="%shull"/>`, s.ID, s.ID))
	for k := len(oars) - 1; k >= 0; k-- { // the first oar lies on top
		look := lookClass(oars[k].Look)
		e := s.ID + fmt.Sprint(k)
		p.put(fmt.Sprintf(`<path class="ln trail %s" id="%strail"/><path class="bl %s" id="%sblade"/><path class="shaft2 %s" id="%sshaft"/><path class="force %s" id="%sforce"/>%s`,
			look, e, look, e, look, e, look, e, markAt(oars[k].Look, e+"pin")))
	}
	p.put("</svg></div>\n")
}

func lookClass(look string) string {
	if look == "ref" {
		return "mref"
	}
	return "mv" + look
}

func markAt(look, id string) string {
	class := "f" + look
	return fmt.Sprintf(`<circle class="%s" id="%s" r="4.5"/>`, class, id)
}

// still draws one frame as the script does, for the key frames.
func (d *drawing) still(ms []Motion, looks []string, s sceneData, frame int) {
	k := d.w / s.W * s.K
	d.h = math.Round(s.H * d.w / s.W)
	x := func(v float64) float64 { return (v - s.Left) * k }
	y := func(v float64) float64 { return (s.Top - v) * k }
	for v := math.Ceil(s.Left/100) * 100; v < s.Left+s.W/s.K; v += 100 {
		d.line("hair", x(v), 0, x(v), d.h)
	}
	d.path("hull", hullPath(ms[0].at(frame).px, ms[0].InBoard, x, y))
	for i := len(ms) - 1; i >= 0; i-- {
		m := &ms[i]
		look := lookClass(looks[i])
		var tx, ty []float64
		for j := 0; j <= min(frame, m.driveFrame()) && j < m.frames(); j++ {
			o := m.at(j)
			tx, ty = append(tx, x(o.cx)), append(ty, y(o.cy))
		}
		d.path("ln trail "+look, polyline(tx, ty))
		o := m.at(frame)
		d.path("bl "+look, bladePath(o, x, y))
		d.line("shaft2 "+look, x(o.hx), y(o.hy), x(o.nx), y(o.ny))
		class := "f" + looks[i]
		d.circle(class, x(o.px), y(0), 4)
	}
}

const bladeHalf = 4.5 // cm, half of a blade's thickness as drawn

func bladePath(o oarPlaces, x, y func(float64) float64) string {
	dx, dy := bladeHalf*o.cos, bladeHalf*o.sin
	return fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", num(x(o.nx+dx)), num(y(o.ny+dy)), num(x(o.tx+dx)), num(y(o.ty+dy)), num(x(o.tx-dx)), num(y(o.ty-dy)), num(x(o.nx-dx)), num(y(o.ny-dy)))
}

// hullPath is a hull's outline about the boat's middle line, with the rigger's
// two stays from the pin.
func hullPath(pin, inboard float64, x, y func(float64) float64) string {
	middle := -math.Max(inboard*.95, 60)
	var up, down []string
	for i := -12; i <= 12; i++ {
		a := float64(i) * 35
		b := 14 * math.Pow(1-a*a/(420*420), .75)
		up = append(up, num(x(pin+a))+" "+num(y(middle+b)))
		down = append([]string{num(x(pin+a)) + " " + num(y(middle-b))}, down...)
	}
	stay := middle + 14
	return "M" + strings.Join(append(up, down...), "L") + "ZM" + num(x(pin)) + " " + num(y(0)) + "L" + num(x(pin+34)) + " " + num(y(stay)) +
		"M" + num(x(pin)) + " " + num(y(0)) + "L" + num(x(pin-34)) + " " + num(y(stay))
}
