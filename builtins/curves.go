package builtins

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/stroke"
	"thole/engine/table"
)

func plotCurvesDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 5)
	if err != nil {
		return nil, err
	}
	x := c.Text("x")
	f := &document.Figure{Kind: figure.Curves, X: x, By: "case"}
	if f.Y, err = c.Texts("y"); err != nil {
		return nil, err
	}
	for _, y := range f.Y {
		if !contains(stroke.Traces, y) {
			near := table.Nearest(y, stroke.Traces)
			if near == "" {
				near = "handle_force"
			}
			return nil, c.Wrong("y", lang.Mistake("curves are drawn of "+listTexts(stroke.Traces[2:]), "y="+starlark.String(near).String(), "a stroke has no curve %q", y))
		}
	}
	for i, s := range strokes {
		var at []float64
		if x == "angle" {
			at = anglesOf(s)
		}
		t, err := s.Trace(at)
		if err != nil {
			return nil, noStroke(err)
		}
		if t, err = t.Only(append([]string{x}, f.Y...)...); err != nil {
			return nil, err
		}
		f.Table = stacked(f.Table, t, names[i])
		if s.perfect() {
			f.References = append(f.References, names[i])
		}
	}
	if x == "angle" {
		f.Guides = []document.Guide{{Axis: "x", At: 0, Label: "square"}}
	}
	name := f.Y[0] + " over the " + map[string]string{"angle": "arc", "time": "stroke"}[x]
	return starlark.None, tellFigure(c, f, name)
}

// perfect says whether no blade of the boat slips: a reference nobody can own.
func (s *strokeValue) perfect() bool {
	for _, o := range s.oars {
		if o.Blade.Law != blade.Perfect {
			return false
		}
	}
	return true
}

// anglesOf are the oar angles, deg, at which a curve is sampled: every half
// degree near the catch, where the pull begins within a few, else every degree.
func anglesOf(s *strokeValue) []float64 {
	catch, finish := -s.of("catch"), s.of("finish")
	at := []float64{catch}
	for a := math.Floor(2*catch)/2 + 0.5; a < finish-1e-6; {
		at = append(at, a)
		if a < catch+10 {
			a += 0.5
		} else {
			a = math.Floor(a) + 1
		}
	}
	return append(at, finish)
}

// stacked puts a table beneath another of the same columns, with the name of
// what it shows in a column "case".
func stacked(above, t *table.Table, name string) *table.Table {
	if above == nil {
		above = &table.Table{Columns: []*table.Column{{Name: "case", Kind: table.Text}}}
		for _, c := range t.Columns {
			copied := *c
			copied.Nums = nil
			above.Columns = append(above.Columns, &copied)
		}
	}
	for range t.Len() {
		above.Columns[0].Texts = append(above.Columns[0].Texts, name)
	}
	for i, c := range t.Columns {
		above.Columns[i+1].Nums = append(above.Columns[i+1].Nums, c.Nums...)
	}
	return above
}

// finePoints is how many points a drawn path has between catch and finish.
const finePoints = 181

func plotPathDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 3)
	if err != nil {
		return nil, err
	}
	f := &document.Figure{Kind: figure.Paths}
	points := c.Whole("points")
	for i, s := range strokes {
		path, err := pathOf(names[i], points, func(n int) (*table.Table, error) { return s.BladePath(0, n) })
		if err != nil {
			return nil, noStroke(err)
		}
		f.Paths = append(f.Paths, path)
		if c.Flag("perfect") {
			label := "perfect grip"
			if len(strokes) > 1 {
				label += ", " + names[i]
			}
			ideal, err := pathOf(label, points, func(n int) (*table.Table, error) { return s.PerfectPath(0, n) })
			if err != nil {
				return nil, noStroke(err)
			}
			ideal.Reference = true
			f.Paths = append(f.Paths, ideal)
		}
	}
	f.Table = pathTable(f.Paths)
	return starlark.None, tellFigure(c, f, "path of the blade")
}

// pathOf gives a path at the moments asked for and, for the line itself, finely.
func pathOf(name string, points int, of func(points int) (*table.Table, error)) (document.Path, error) {
	t, err := of(points)
	if err != nil {
		return document.Path{}, err
	}
	fine, err := of(finePoints)
	if err != nil {
		return document.Path{}, err
	}
	col := func(t *table.Table, name string) []float64 { return t.Column(name).Nums }
	return document.Path{
		Name: name, Time: col(t, "time"), Angle: col(t, "angle"),
		TipX: col(t, "tip_x"), TipY: col(t, "tip_y"), CentreX: col(t, "centre_x"), CentreY: col(t, "centre_y"),
		NeckX: col(t, "neck_x"), NeckY: col(t, "neck_y"), HandleX: col(t, "handle_x"), HandleY: col(t, "handle_y"),
		PinX:  pinOf(t),
		FineX: col(fine, "centre_x"), FineY: col(fine, "centre_y"), FineAngle: col(fine, "angle"),
	}, nil
}

// pinOf finds the pin on the line from handle to blade's centre: it lies on y = 0.
func pinOf(t *table.Table) []float64 {
	hx, hy := t.Column("handle_x").Nums, t.Column("handle_y").Nums
	cx, cy := t.Column("centre_x").Nums, t.Column("centre_y").Nums
	pin := make([]float64, len(hx))
	for i := range pin {
		u := hy[i] / (hy[i] - cy[i])
		pin[i] = hx[i] + u*(cx[i]-hx[i])
	}
	return pin
}

// pathTable lays the paths out as one table, a line each moment.
func pathTable(paths []document.Path) *table.Table {
	t := &table.Table{}
	col := func(name, unit string, digits int, of func(document.Path) []float64) {
		c := &table.Column{Name: name, Unit: unit, Digits: digits, Change: digits, Kind: table.Number}
		for _, p := range paths {
			c.Nums = append(c.Nums, of(p)...)
		}
		t.Columns = append(t.Columns, c)
	}
	names := &table.Column{Name: "case", Kind: table.Text}
	for _, p := range paths {
		for range p.Time {
			names.Texts = append(names.Texts, p.Name)
		}
	}
	t.Columns = append(t.Columns, names)
	col("time", "s", 2, func(p document.Path) []float64 { return p.Time })
	col("angle", "deg", 1, func(p document.Path) []float64 { return p.Angle })
	col("tip_x", "cm", 1, func(p document.Path) []float64 { return p.TipX })
	col("tip_y", "cm", 1, func(p document.Path) []float64 { return p.TipY })
	col("centre_x", "cm", 1, func(p document.Path) []float64 { return p.CentreX })
	col("centre_y", "cm", 1, func(p document.Path) []float64 { return p.CentreY })
	col("neck_x", "cm", 1, func(p document.Path) []float64 { return p.NeckX })
	col("neck_y", "cm", 1, func(p document.Path) []float64 { return p.NeckY })
	col("handle_x", "cm", 1, func(p document.Path) []float64 { return p.HandleX })
	col("handle_y", "cm", 1, func(p document.Path) []float64 { return p.HandleY })
	return t
}

// framesPerSecond is how finely the moving picture is computed; between frames
// it is drawn straight (page-style: 80 a second).
const framesPerSecond = 80

func animateDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 2)
	if err != nil {
		return nil, err
	}
	f := &document.Figure{Kind: figure.Moving}
	for i, s := range strokes {
		frames, err := s.Frames(0, int(math.Ceil(s.Problem.Period()*framesPerSecond)))
		if err != nil {
			return nil, noStroke(err)
		}
		f.Motion = append(f.Motion, motionOf(names[i], s, frames))
	}
	return starlark.None, tellFigure(c, f, "the stroke, moving")
}

// motionOf lays computed frames out for the moving picture.
func motionOf(name string, s *strokeValue, frames []stroke.Frame) document.Motion {
	o := s.oars[0]
	m := document.Motion{
		Name: name, Step: s.Problem.Period() / float64(len(frames)), Drive: s.Seats[0].DriveTime,
		Reference: s.perfect(),
		InBoard:   o.Lever() / cm, ToCentre: o.Centre() / cm, BladeLength: o.Blade.Length / cm,
	}
	for _, f := range frames {
		m.Hull = append(m.Hull, f.Hull/cm)
		m.HullSpeed = append(m.HullSpeed, f.Speed)
		m.Angle = append(m.Angle, f.Angle/deg)
		m.HandleForce = append(m.HandleForce, f.HandleForce)
		m.HandleSpeed = append(m.HandleSpeed, f.HandleSpeed)
	}
	return m
}
