package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
	"thole/engine/words"
)

// motionData is what the script draws from: computed frames, and where the
// scenes and the traces stand. Lengths in cm, x forward in the water's frame.
type motionData struct {
	ID     string      `json:"id"`
	Step   float64     `json:"step"`
	Start  int         `json:"start"` // frame shown first
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

// traceData places one panel of what the hands feel, over the drive's time.
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

func rounded(vs []float64, places int) []float64 {
	p := math.Pow(10, float64(places))
	out := make([]float64, len(vs))
	for i, v := range vs {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			out[i] = math.Round(v*p) / p
		}
	}
	return out
}

// moving writes the moving picture: the stage and its controls for those with
// scripts, four key frames for everybody.
func (p *page) moving(f *document.Figure) {
	var ms []document.Motion
	for _, m := range f.Motion {
		if m.Frames() > 1 && m.Step > 0 && len(ms) < 2 {
			ms = append(ms, m)
		}
	}
	if len(ms) == 0 {
		p.put("<p class=\"empty\">No moving picture: there is no stroke to move.</p>\n")
		return
	}
	p.figures++
	id := fmt.Sprintf("m%d", len(p.motions))
	data := motionData{ID: id, Step: ms[0].Step}
	looks := motionLooks(ms)
	for i, m := range ms {
		n := m.Frames()
		o := oarData{Name: typeset.Clean(m.Name), Look: looks[i], In: m.InBoard, Out: m.ToCentre, Blade: m.BladeLength, Drive: m.Drive,
			Hull: rounded(m.Hull[:n], 2), Speed: rounded(m.HullSpeed[:n], 4), Angle: rounded(m.Angle[:n], 3),
			Force: rounded(m.HandleForce[:n], 1), Hands: rounded(m.HandleSpeed[:n], 4), Perfect: m.Reference}
		if len(m.Slip) >= n {
			o.Slip = rounded(m.Slip[:n], 4)
		}
		data.Oars = append(data.Oars, o)
	}
	data.Start = min(int(math.Round(.25/ms[0].Step)), ms[0].Frames()-1)
	p.put("<figure class=\"player\" id=\"", id, "\">\n<div class=\"draw\">\n<div class=\"live-part\" hidden>\n")
	for k, width := range []float64{draw.Wide, draw.Narrow} {
		sc := sceneFor(ms, width)
		sc.ID = fmt.Sprintf("%ss%d", id, k)
		data.Scenes = append(data.Scenes, sc)
		p.scene(sc, data.Oars, []string{"wide", "narrow"}[k])
	}
	p.motionControls(id, data)
	p.put("<div class=\"traces\">")
	for k, of := range []string{"force", "hands"} {
		tr := p.trace(fmt.Sprintf("%st%d", id, k), of, ms, looks)
		data.Traces = append(data.Traces, tr)
	}
	p.put("</div>\n")
	p.liveTable(id, data)
	p.put("</div>\n")
	p.keyFrames(ms, looks)
	p.put("</div>\n")
	p.motions = append(p.motions, data)
	words := strings.TrimSpace(words.Sentence(f.Caption) + " " + describeMotion(ms) + " Each blade leaves its path in the water; the arrow at the handle is the force.")
	p.put(fmt.Sprintf("<figcaption><b>Figure %d.</b> ", p.figures), esc(typeset.Text(words)), "</figcaption>\n</figure>\n")
}

func describeMotion(ms []document.Motion) string {
	var names []string
	for _, m := range ms {
		names = append(names, m.Name+" (drive "+typeset.Quantity(m.Drive, 2, "s")+")")
	}
	if len(names) == 1 {
		return "One stroke from its computed frames: " + names[0] + "."
	}
	return "Two strokes beside each other, from the same catch, out of their computed frames: " + words.List(names) + "."
}

func motionLooks(ms []document.Motion) []string {
	out := make([]string, len(ms))
	n := 0
	for i, m := range ms {
		if m.Reference {
			out[i] = "ref"
			continue
		}
		n++
		out[i] = fmt.Sprint(n)
	}
	return out
}

func (p *page) motionControls(id string, data motionData) {
	last := 0
	for _, o := range data.Oars {
		last = max(last, len(o.Angle)-1)
	}
	p.put(fmt.Sprintf(`<div class="ctl noprint"><div class="row"><button type="button" class="play" id="%[1]splay"><span aria-hidden="true">▶</span> <span>Play</span></button>`+
		`<button type="button" id="%[1]sback" aria-label="−1, one step back">−1</button><button type="button" id="%[1]sfwd" aria-label="+1, one step on">+1</button>`+
		`<label class="grow">time <input type="range" id="%[1]sscrub" min="0" max="%[2]d" step="1" value="%[3]d"></label><output id="%[1]stime" for="%[1]sscrub">0.25`+typeset.Thin+`s</output></div>`+"\n",
		id, last, data.Start))
	p.put(fmt.Sprintf(`<div class="row"><label class="slow">slowed <select id="%[1]srate"><option value="1">not at all</option><option value="0.5">2 times</option><option value="0.25" selected>4 times</option><option value="0.1">10 times</option></select></label>`+
		`<fieldset><legend>the picture stays with</legend><label><input type="radio" name="%[1]scam" id="%[1]swater" value="water" checked> the water</label><label><input type="radio" name="%[1]scam" id="%[1]sboat" value="boat"> the boat</label></fieldset>`+
		`<span class="hint"><span class="slow"><kbd>space</kbd> plays, </span><kbd>←</kbd> <kbd>→</kbd> step, <kbd>W</kbd> water, <kbd>B</kbd> boat</span></div></div>`+"\n", id))
}

// trace writes a panel over the drive's time: the whole line faint, and what was
// rowed so far on top of it.
func (p *page) trace(id, of string, ms []document.Motion, looks []string) traceData {
	title := "Force on the handle, N"
	if of == "hands" {
		title = "Speed of the hands, m/s"
	}
	var values []float64
	drive := 0.
	for i := range ms {
		n := min(ms[i].DriveFrame()+1, ms[i].Frames())
		values = append(values, traceOf(&ms[i], of)[:n]...)
		drive = math.Max(drive, ms[i].Drive)
	}
	y := draw.Axis(append(values, 0), 4)
	y.From, y.To = 128, 28
	x := draw.Span([]float64{0, drive}, 5)
	x.From, x.To = 44, 338
	d := &draw.Surface{W: 350, H: 164, ID: id}
	d.Text("b", 0, 13, title)
	for _, v := range y.Ticks {
		class := "hair"
		if v == 0 {
			class = "axis"
		}
		d.Line(class, x.From, y.At(v), x.To, y.At(v))
		d.Text("t2 end", x.From-6, y.At(v)+4.4, y.Label(v))
	}
	for _, v := range x.Ticks {
		d.Text("t2 mid", x.At(v), y.From+17, x.Label(v))
	}
	d.Text("t2 end", x.To, y.From+33, "time, s")
	for k := len(ms) - 1; k >= 0; k-- {
		n := min(ms[k].DriveFrame()+1, ms[k].Frames())
		xs := make([]float64, n)
		for i := range xs {
			xs[i] = x.At(float64(i) * ms[k].Step)
		}
		d.Path("faint "+lookClass(looks[k]), draw.Polyline(xs, draw.Mapped(traceOf(&ms[k], of)[:n], y)))
		fmt.Fprintf(d, `<path class="ln %s" id="%s%d"/>`, lookClass(looks[k]), id, k)
	}
	fmt.Fprintf(d, `<path class="rule" id="%snow"/>`, id)
	p.put(d.Finish("tr", title+" in the drive", title+" against time, drawn as the stroke moves."))
	return traceData{ID: id, Of: of, X0: x.From, X1: x.To, Y0: y.At(0), Y1: y.To, Most: y.High, Time: drive}
}

func traceOf(m *document.Motion, of string) []float64 {
	if of == "force" {
		return m.HandleForce
	}
	return m.HandleSpeed
}

func (p *page) liveTable(id string, data motionData) {
	slip := false
	for _, o := range data.Oars {
		slip = slip || o.Slip != nil
	}
	p.put(fmt.Sprintf(`<div class="scroll" tabindex="0" role="group" aria-label="Numbers at this moment"><table class="live"><thead><tr><th scope="col">at <output id="%sat">0.25`+typeset.Thin+`s</output></th>`, id))
	heads := []string{"oar angle", "hands", "force", "boat"}
	if slip {
		heads = append(heads, "blade slips")
	}
	for _, h := range heads {
		p.put("<th scope=\"col\">", h, "</th>")
	}
	p.put("</tr></thead><tbody>\n")
	for k, o := range data.Oars {
		d := &draw.Surface{W: 44, H: 12}
		look := draw.Reference
		if o.Look != "ref" {
			look = draw.Series(int(o.Look[0] - '1'))
		}
		d.Line(look.Line(), 0, 6, 44, 6)
		d.Mark(look, 22, 6)
		p.put(`<tr><th scope="row"><svg class="chip" viewBox="0 0 44 12" aria-hidden="true">`, d.String(), `</svg> `, esc(o.Name), `</th>`)
		for j := range heads {
			p.put(fmt.Sprintf(`<td id="%sv%d%d"></td>`, id, k, j))
		}
		p.put("</tr>\n")
	}
	p.put(fmt.Sprintf("</tbody></table></div>\n<p class=\"vh\" role=\"status\" id=\"%ssaid\"></p>\n", id))
}

// keyFrames writes four moments of the drive as pictures. With scripts they are
// buttons that bring the stage there; without them, and on paper, they stand for
// the moving picture.
func (p *page) keyFrames(ms []document.Motion, looks []string) {
	m := &ms[0]
	square := 0
	for i := 0; i <= m.DriveFrame() && i < m.Frames(); i++ {
		if math.Abs(m.Angle[i]) < math.Abs(m.Angle[square]) {
			square = i
		}
	}
	moments := []struct {
		name  string
		frame int
	}{{"catch", 0}, {"going out", square / 2}, {"square", square}, {"finish", min(m.DriveFrame(), m.Frames()-1)}}
	p.put("<ol class=\"keys\">")
	sc := sceneFor(ms, draw.Wide)
	for _, k := range moments {
		t := typeset.Quantity(float64(k.frame)*m.Step, 2, "s")
		d := &draw.Surface{W: 360, ID: p.id("k")}
		still(d, ms, looks, sc, k.frame)
		p.put(fmt.Sprintf(`<li data-frame="%d">`, k.frame))
		p.put(d.Finish("kf", k.name+", "+t, p.momentWords(ms, k.frame)))
		p.put("<span class=\"kl\">", k.name, " <span class=\"u\">", t, "</span></span></li>\n")
	}
	p.put("</ol>\n")
}

func (p *page) momentWords(ms []document.Motion, frame int) string {
	var parts []string
	for i := range ms {
		m := &ms[i]
		j := min(frame, m.Frames()-1)
		parts = append(parts, fmt.Sprintf("%s: oar angle %s, hands %s, force %s", m.Name, typeset.Quantity(m.Angle[j], 0, "deg"), typeset.Quantity(m.HandleSpeed[j], 2, "m/s"), typeset.Quantity(m.HandleForce[j], 0, "N")))
	}
	return strings.Join(parts, "; ") + "."
}
