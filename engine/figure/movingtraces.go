package figure

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
)

// trace is a panel of what the hands feel, over the drive's time.
type trace struct {
	name, title string
	of          func(m *document.Motion) []float64
}

var traced = []trace{
	{"force", "Force on the handle, N", func(m *document.Motion) []float64 { return m.HandleForce }},
	{"hands", "Speed of the hands, m/s", func(m *document.Motion) []float64 { return m.HandleSpeed }},
}

// traceData places one panel for the script.
type traceData struct {
	ID   string  `json:"id"`
	Of   string  `json:"of"` // "force" or "hands"
	X0   float64 `json:"x0"`
	X1   float64 `json:"x1"`
	Y0   float64 `json:"y0"`
	Y1   float64 `json:"y1"`
	Most float64 `json:"most"` // value at Y1
	Time float64 `json:"time"` // s at X1
}

// drawing draws the panel: the whole line faint, and what was rowed so far, which
// the script moves, on top of it.
func (t trace) drawing(id string, strokes []document.Motion, looks []draw.Series) (template.HTML, traceData) {
	lines := make([][]float64, len(strokes))
	values := []float64{0}
	drive := 0.
	for i := range strokes {
		m := &strokes[i]
		lines[i] = t.of(m)[:min(m.DriveFrame()+1, m.Frames())]
		values = append(values, lines[i]...)
		drive = math.Max(drive, m.Drive)
	}
	y := draw.Axis(values, 4)
	y.From, y.To = 128, 28
	x := draw.Span([]float64{0, drive}, 5)
	x.From, x.To = 44, 338
	d := &draw.Surface{W: 350, H: 164, ID: id}
	d.Text("b", 0, 13, t.title)
	d.Levels(x, y, 6)
	for _, v := range x.Ticks {
		d.Text("t2 mid", x.At(v), y.From+17, x.Label(v))
	}
	d.Text("t2 end", x.To, y.From+33, "time, s")
	for k := len(strokes) - 1; k >= 0; k-- {
		xs := make([]float64, len(lines[k]))
		for i := range xs {
			xs[i] = x.At(float64(i) * strokes[k].Step)
		}
		d.Path("faint "+oarClass(looks[k]), draw.Polyline(xs, draw.Mapped(lines[k], y)))
		d.Named(k).Path("ln "+oarClass(looks[k]), "")
	}
	d.Named("now").Path("rule", "")
	return d.Finish("tr", t.title+" in the drive", t.title+" against time, drawn as the stroke moves."),
		traceData{ID: id, Of: t.name, X0: x.From, X1: x.To, Y0: y.At(0), Y1: y.To, Most: y.High, Time: drive}
}

// keyView is one of four moments of the drive. With scripts they are buttons that
// bring the stage there; without them, and on paper, they stand for the moving
// picture.
type keyView struct {
	Frame      int
	Name, Time string
	Drawing    template.HTML
}

func keyFrames(strokes []document.Motion, looks []draw.Series, next func(prefix string) string) []keyView {
	m := &strokes[0]
	last := min(m.DriveFrame(), m.Frames()-1)
	square := squareFrame(m)
	keys := []keyView{{Name: "catch"}, {Name: "going out", Frame: square / 2},
		{Name: "square", Frame: square}, {Name: "finish", Frame: last}}
	s := sceneFor(strokes, draw.Wide)
	for i := range keys {
		k := &keys[i]
		k.Time = typeset.Quantity(float64(k.Frame)*m.Step, 2, "s")
		d := &draw.Surface{W: 360, ID: next("k")}
		still(d, strokes, looks, s, k.Frame)
		k.Drawing = d.Finish("kf", k.Name+", "+k.Time, momentWords(strokes, k.Frame))
	}
	return keys
}

// squareFrame is the frame of the drive nearest to square.
func squareFrame(m *document.Motion) int {
	square := 0
	for i := range min(m.DriveFrame(), m.Frames()-1) + 1 {
		if math.Abs(m.Angle[i]) < math.Abs(m.Angle[square]) {
			square = i
		}
	}
	return square
}

func momentWords(strokes []document.Motion, frame int) string {
	var parts []string
	for i := range strokes {
		m := &strokes[i]
		j := min(frame, m.Frames()-1)
		parts = append(parts, fmt.Sprintf("%s: oar angle %s, hands %s, force %s", m.Name,
			typeset.Quantity(m.Angle[j], 0, "deg"),
			typeset.Quantity(m.HandleSpeed[j], 2, "m/s"), typeset.Quantity(m.HandleForce[j], 0, "N")))
	}
	return strings.Join(parts, "; ") + "."
}
