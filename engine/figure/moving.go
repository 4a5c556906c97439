package figure

import (
	_ "embed"
	"fmt"
	"html/template"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Moving is two oars on one pin: Motion, one or two.
const Moving document.Kind = "moving"

var (
	//go:embed motion.css
	motionStyle string
	//go:embed motion.js
	motionScript string
	//go:embed moving.html
	movingText      string
	movingFragments = template.Must(template.New("moving.html").Parse(movingText))
)

var movingKind = &Kind{
	Name: Moving,
	Lacks: func(f *document.Figure) string {
		if len(movingStrokes(f)) == 0 {
			return "there is no stroke to move"
		}
		return ""
	},
	Title:    func(*document.Figure) string { return "The stroke, moving" },
	Describe: describeMoving,
	Reading: func(f *document.Figure) string {
		return describeMoving(f) + " Each blade leaves its path in the water; the arrow at the handle is " +
			"the force."
	},
	Table: func(*document.Figure) *table.Table { return nil },
	Live: &Live{Key: "motions", Style: motionStyle, Script: motionScript, InWords: "(moving picture)",
		Body: movingBody},
}

// movingStrokes are the strokes that have frames whose places are numbers, two at
// most.
func movingStrokes(f *document.Figure) (strokes []document.Motion) {
	for _, m := range f.Motion {
		n := m.Frames()
		if n > 1 && m.Step > 0 && realNumbers(m.Hull[:n]) == n && realNumbers(m.Angle[:n]) == n &&
			len(strokes) < 2 {
			strokes = append(strokes, m)
		}
	}
	return strokes
}

func describeMoving(f *document.Figure) string {
	var names []string
	for _, m := range movingStrokes(f) {
		names = append(names, m.Name+" (drive "+typeset.Quantity(m.Drive, 2, "s")+")")
	}
	if len(names) == 1 {
		return "One stroke from its computed frames: " + names[0] + "."
	}
	return "Two strokes beside each other, from the same catch, out of their computed frames: " +
		words.List(names) + "."
}

// motionData is what the script draws from: computed frames, and where the
// scenes and the traces stand. Lengths in cm, x forward in the water's frame.
type motionData struct {
	ID     string      `json:"id"`
	Step   float64     `json:"step"`
	Every  float64     `json:"every"`  // s between the marks on a path; 0: none
	Square float64     `json:"square"` // s, when the first oar is square
	Start  int         `json:"start"`  // frame shown first
	Oars   []oarData   `json:"oars"`
	Scenes []sceneData `json:"scenes"`
	Traces []traceData `json:"traces"`
}

type oarData struct {
	Name    string    `json:"name"`
	Look    string    `json:"look"` // "1", "2" or "ref"
	In      float64   `json:"in"`
	Out     float64   `json:"out"`
	Blade   float64   `json:"blade"`
	Drive   float64   `json:"drive"`
	Hull    []float64 `json:"hull"`
	Speed   []float64 `json:"speed"`
	Angle   []float64 `json:"angle"`
	Force   []float64 `json:"force"`
	Hands   []float64 `json:"hands"`
	Slip    []float64 `json:"slip,omitempty"`
	Perfect bool      `json:"perfect,omitempty"`
}

func oarDataOf(m *document.Motion, look draw.Series) oarData {
	n := m.Frames()
	of := func(vs []float64, digits int) []float64 {
		out := make([]float64, n)
		for i, v := range vs[:n] {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				out[i] = rounding.Decimals(v, digits)
			}
		}
		return out
	}
	o := oarData{Name: typeset.Clean(m.Name), Look: look.Tag(), In: m.InBoard, Out: m.ToCentre,
		Blade: m.BladeLength, Drive: m.Drive,
		Hull: of(m.Hull, 2), Speed: of(m.HullSpeed, 4), Angle: of(m.Angle, 3), Force: of(m.HandleForce, 1),
		Hands: of(m.HandleSpeed, 4), Perfect: m.Reference}
	if len(m.Slip) >= n {
		o.Slip = of(m.Slip, 4)
	}
	return o
}

// movingView is what the fragment shows: the stage and its controls for those
// with scripts, four key frames for everybody.
type movingView struct {
	ID, Names   string
	Last, Start int
	Stages      []stageView
	Traces      []template.HTML
	Heads       []string
	Oars        []oarView
	Keys        []keyView
}

type oarView struct {
	Name string
	Chip template.HTML // its line with its mark
}

// projected is how wide the scene of a projector's screen is, in units: its words are large.
const projected = 400

func movingBody(f *document.Figure, id string, lesson bool, next func(prefix string) string) (template.HTML,
	any) {
	strokes := movingStrokes(f)
	looks := make([]draw.Series, len(strokes))
	data := motionData{ID: id, Step: strokes[0].Step, Every: f.Every,
		Square: strokes[0].Step * float64(squareFrame(&strokes[0]))}
	view := movingView{ID: id, Heads: []string{"oar angle", "hands", "force", "boat"}}
	var names []string
	slips := false
	for i := range strokes {
		looks[i] = draw.Of(i, func(k int) bool { return strokes[k].Reference })
		o := oarDataOf(&strokes[i], looks[i])
		data.Oars = append(data.Oars, o)
		chip := &draw.Surface{W: 44, H: 12}
		chip.Line(looks[i].Line(), 0, 6, 44, 6)
		chip.Mark(looks[i], 22, 6)
		view.Oars = append(view.Oars, oarView{o.Name, chip.Inside()})
		view.Last = max(view.Last, len(o.Angle)-1)
		names = append(names, o.Name)
		slips = slips || o.Slip != nil
	}
	if slips {
		view.Heads = append(view.Heads, "blade slips")
	}
	view.Names = words.List(names)
	data.Start = min(int(math.Round(.25/data.Step)), strokes[0].Frames()-1)
	view.Start = data.Start
	places := map[string]float64{"wide": draw.Wide, "narrow": draw.Narrow}
	if lesson {
		places = map[string]float64{"lesson": projected}
	}
	for _, class := range []string{"wide", "narrow", "lesson"} {
		if width, wanted := places[class]; wanted {
			s := sceneFor(strokes, width)
			s.ID = fmt.Sprintf("%ss%d", id, len(data.Scenes))
			data.Scenes = append(data.Scenes, s)
			view.Stages = append(view.Stages, stage(s, looks, names, class))
		}
	}
	for k, of := range traced {
		drawing, place := of.drawing(fmt.Sprintf("%st%d", id, k), strokes, looks)
		view.Traces, data.Traces = append(view.Traces, drawing), append(data.Traces, place)
	}
	view.Keys = keyFrames(strokes, looks, next)
	var b strings.Builder
	if err := movingFragments.ExecuteTemplate(&b, "moving", view); err != nil {
		panic(err) // a mistake of the fragment, found by any test that draws one
	}
	return template.HTML(b.String()), data
}
