package report

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
	"thole/engine/typeset"
)

// The moving picture draws each oar where its frame says, to half a pixel, at ten
// times of the stroke, with the water and with the boat.
func TestMovingPictureFollowsTheFrames(t *testing.T) {
	w := openTab(t)
	doc := pathDoc()
	var motion []document.Motion
	for _, b := range doc.Blocks {
		if f, ok := b.(*document.Figure); ok && f.Kind == figure.Moving {
			motion = f.Motion
		}
	}
	for _, view := range []struct {
		width int64
		units float64
		id    string
	}{{1280, draw.Wide, "m0s0"}, {320, draw.Narrow, "m0s1"}} {
		w.see(view.width, 800, "light", "no-preference")
		w.open(doc, "")
		scene := sceneOf(w, view.id)
		pixels := evaluate[float64](w, fmt.Sprintf(`document.getElementById('%s').getBoundingClientRect().width`, view.id)) / view.units
		if pixels <= 0 {
			t.Fatal("the scene is not shown")
		}
		for k := range 10 {
			frame := k * (motion[0].Frames() - 1) / 9
			for _, stays := range []string{"water", "boat"} {
				evaluate[any](w, fmt.Sprintf(`(() => { const r = document.getElementById('m0scrub'); r.value = %d; r.dispatchEvent(new Event('input')); document.getElementById('m0%s').click(); })()`, frame, stays))
				for i := range motion {
					got := numbersIn(evaluate[string](w, fmt.Sprintf(`document.getElementById('%s%dblade').getAttribute('d')`, view.id, i)))
					at, lead := oarAt(&motion[i], frame), oarAt(&motion[0], frame)
					place := scene.pinInView(&motion[0], frame, stays)
					x := func(v float64) float64 { return (v - lead.px + place - scene.Left) * scene.K }
					y := func(v float64) float64 { return (scene.Top - v) * scene.K }
					dx, dy := bladeHalf*at.cos, bladeHalf*at.sin
					want := []float64{x(at.nx + dx), y(at.ny + dy), x(at.tx + dx), y(at.ty + dy), x(at.tx - dx), y(at.ty - dy), x(at.nx - dx), y(at.ny - dy)}
					if len(got) != len(want) {
						t.Fatalf("blade drawn as %v", got)
					}
					for j := range want {
						if off := math.Abs(got[j]-want[j]) * pixels; off > .5 {
							t.Errorf("at %d px, frame %d, with the %s, oar %d: off by %.2f pixels", view.width, frame, stays, i, off)
							break
						}
					}
				}
			}
			shown := evaluate[string](w, `document.getElementById('m0v00').textContent + ' ' + document.getElementById('m0time').textContent`)
			if want := typeset.Quantity(motion[0].Angle[frame], 0, "deg") + " " + typeset.Quantity(float64(frame)*motion[0].Step, 2, "s"); shown != want {
				t.Errorf("frame %d: numbers say %q, want %q", frame, shown, want)
			}
		}
	}
}

const bladeHalf = 4.5 // cm, half of a blade's thickness as drawn

// sceneData is how a page places one drawing of the scene: K units a cm; the rest
// in cm.
type sceneData struct {
	ID                                string
	K, Left, Top, Catch, Finish, Boat float64
}

// sceneOf reads a scene out of the open page.
func sceneOf(w *tab, id string) sceneData {
	var data struct {
		Motions []struct{ Scenes []sceneData }
	}
	if err := json.Unmarshal([]byte(evaluate[string](w, `document.getElementById('data').textContent`)), &data); err != nil {
		w.T.Fatal(err)
	}
	for _, s := range data.Motions[0].Scenes {
		if s.ID == id {
			return s
		}
	}
	w.T.Fatalf("no scene %q", id)
	return sceneData{}
}

// pinInView is where the pin stands in the view, as the script has it.
func (s sceneData) pinInView(m *document.Motion, frame int, stays string) float64 {
	if stays == "boat" {
		return s.Boat
	}
	x, x0, last := m.Hull[frame], m.Hull[0], m.Hull[m.Frames()-1]
	beyond := m.Drive/m.Step - float64(m.DriveFrame())
	finish := m.Hull[m.DriveFrame()] + beyond*(m.Hull[m.DriveFrame()+1]-m.Hull[m.DriveFrame()])
	if float64(frame)*m.Step <= m.Drive {
		return s.Catch + (s.Finish-s.Catch)*(x-x0)/(finish-x0)
	}
	return s.Finish + (s.Catch-s.Finish)*(x-finish)/(last-finish)
}

func numbersIn(path string) (out []float64) {
	for _, f := range strings.FieldsFunc(path, func(r rune) bool { return strings.ContainsRune("MLHVZ ,", r) }) {
		var v float64
		fmt.Sscan(f, &v)
		out = append(out, v)
	}
	return
}

// The moving picture's keys; it stands still at first, and where motion is
// reduced it is stepped, never played.
func TestMovingPictureKeys(t *testing.T) {
	w := openTab(t)
	w.see(1280, 800, "light", "no-preference")
	w.open(pathDoc(), "")
	at := func() string { return evaluate[string](w, `document.getElementById('m0time').textContent`) }
	evaluate[any](w, `document.querySelector('#m0 .draw').scrollIntoView({behavior: 'instant'})`)
	if got := at(); got != "0.25\u202fs" {
		t.Errorf("at first %s", got)
	}
	for _, step := range []struct{ key, want string }{{kb.ArrowRight, "0.26\u202fs"}, {kb.ArrowLeft, "0.25\u202fs"}} {
		w.do(chromedp.KeyEvent(step.key))
		if got := at(); got != step.want {
			t.Errorf("key %q: %s, want %s", step.key, got, step.want)
		}
	}
	w.do(chromedp.KeyEvent("b"))
	if !evaluate[bool](w, `document.getElementById('m0boat').checked`) {
		t.Error("B does not stay with the boat")
	}
	w.do(chromedp.KeyEvent(" "))
	if !evaluate[bool](w, `new Promise(ok => setTimeout(() => ok(document.getElementById('m0play').textContent.includes('Pause') && document.getElementById('m0time').textContent > '0.27'), 400))`, true) {
		t.Error("space does not play")
	}
	w.do(chromedp.KeyEvent(" "))
	still := at()
	if !evaluate[bool](w, fmt.Sprintf(`new Promise(ok => setTimeout(() => ok(document.getElementById('m0time').textContent == %q), 200))`, still), true) {
		t.Error("a second space does not pause")
	}
	w.see(1280, 800, "light", "reduce")
	w.open(pathDoc(), "")
	// it keeps Play, which only never starts by itself, and says why the moments stand there
	if !evaluate[bool](w, `document.getElementById('m0play').offsetParent !== null && document.getElementById('m0play').textContent.includes('Play')`) {
		t.Error("play is not offered where motion is reduced")
	}
	if said := evaluate[string](w, `[...document.querySelectorAll('.why')].filter(e => e.checkVisibility()).map(e => e.textContent).join()`); !strings.Contains(said, "reduced motion") {
		t.Errorf("it does not say why nothing moves: %q", said)
	}
	if !evaluate[bool](w, `document.getElementById('m0fwd').offsetParent !== null && document.querySelector('.kf-b').offsetParent !== null`) {
		t.Error("steps and key frames are gone where motion is reduced")
	}
}
