package report

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The pages in a real browser. Without one these tests are skipped, unless
// THOLE_NEED_BROWSER is set, as it is where changes are checked.

var browser struct {
	once   sync.Once
	ctx    context.Context
	cancel func()
	err    error
}

func TestMain(m *testing.M) {
	code := m.Run()
	if browser.cancel != nil {
		browser.cancel()
	}
	os.Exit(code)
}

// missing skips a test for want of a tool, or fails it where tools have to be.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("THOLE_NEED_BROWSER") != "" {
		t.Fatalf("%s is missing, and THOLE_NEED_BROWSER is set", what)
	}
	t.Skipf("%s is missing", what)
}

func chromium() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// tab is one page in a browser, with all it asked for and all it complained of.
type tab struct {
	*testing.T
	ctx context.Context

	mu       sync.Mutex
	requests []string
	messages []string
}

func openTab(t *testing.T) *tab {
	t.Helper()
	path := chromium()
	if path == "" {
		missing(t, "Chromium")
	}
	browser.once.Do(func() {
		profile, err := os.MkdirTemp("", "pages")
		if err != nil {
			browser.err = err
			return
		}
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile),
			chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
		allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, cancel := chromedp.NewContext(allocator)
		browser.ctx, browser.err = ctx, chromedp.Do(ctx)
		browser.cancel = func() { cancel(); stop(); os.RemoveAll(profile) }
	})
	if browser.err != nil {
		t.Fatalf("Chromium does not start: %v", browser.err)
	}
	ctx, cancel := chromedp.NewContext(browser.ctx)
	ctx, stop := context.WithTimeout(ctx, 90*time.Second)
	t.Cleanup(func() { stop(); cancel() })
	w := &tab{T: t, ctx: ctx}
	if err := chromedp.Listen(ctx, w.hear); err != nil {
		t.Fatal(err)
	}
	w.must(chromedp.Call(ctx, network.Enable, network.EnableParams{}))
	return w
}

func (w *tab) hear(event any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		w.requests = append(w.requests, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		w.messages = append(w.messages, fmt.Sprint("console ", e.Type))
	case *runtime.EventExceptionThrown:
		w.messages = append(w.messages, e.ExceptionDetails.Text+" "+e.ExceptionDetails.Exception.Description)
	case *log.EventEntryAdded:
		w.messages = append(w.messages, e.Entry.Text)
	}
}

func (w *tab) must(_ any, err error) {
	w.Helper()
	if err != nil {
		w.Fatal(err)
	}
}

func (w *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	w.Helper()
	if err := chromedp.Do(w.ctx, steps...); err != nil {
		w.Fatal(err)
	}
}

// see sets the window and what the reader prefers.
func (w *tab) see(width, height int64, scheme, motion string) {
	w.Helper()
	w.do(chromedp.EmulateViewport(width, height))
	w.must(chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion}}}))
}

// open writes the document's page to a file and opens it, as from a stick.
func (w *tab) open(doc *Document, fragment string) string {
	w.Helper()
	var b bytes.Buffer
	if err := WritePage(&b, doc); err != nil {
		w.Fatal(err)
	}
	path := filepath.Join(w.TempDir(), "page.html")
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		w.Fatal(err)
	}
	w.do(chromedp.Navigate("file://" + path + fragment))
	return path
}

// evaluate runs an expression in the page and reads its value; waits says that it
// is a promise.
func evaluate[T any](w *tab, expression string, waits ...bool) T {
	w.Helper()
	var options []chromedp.EvaluateOption
	if len(waits) > 0 {
		options = append(options, chromedp.EvalAwaitPromise)
	}
	v, err := chromedp.Run(w.ctx, chromedp.Evaluate[T](expression, options...))
	if err != nil {
		w.Fatalf("%v in %s", err, expression)
	}
	return v
}

// A page asks for nothing but itself, says nothing to the console, never scrolls
// sideways, on a phone, a tablet and a desk, light and dark.
func TestPagesStandAlone(t *testing.T) {
	w := openTab(t)
	for name, doc := range allDocs() {
		for _, view := range []struct {
			width  int64
			scheme string
		}{{320, "dark"}, {768, "light"}, {1280, "dark"}} {
			w.requests, w.messages = nil, nil
			w.see(view.width, 800, view.scheme, "no-preference")
			w.open(doc, "")
			wide := evaluate[string](w, `[...document.querySelectorAll('body *')].filter(e => { const r = e.getBoundingClientRect(); return r.right > innerWidth + 1 && r.width && !e.closest('.scroll,pre,svg,.vh,.skip') && getComputedStyle(e).display != 'none' }).map(e => e.tagName + '.' + e.className).slice(0, 3).join(' ') + (document.documentElement.scrollWidth > innerWidth ? ' scrolls' : '')`)
			if wide != "" {
				t.Errorf("%s at %d: wider than the window: %s", name, view.width, wide)
			}
			if n := evaluate[int](w, `document.querySelectorAll('img, iframe, object, embed, link, base, form, svg [onload], [onclick], [onerror], [style], a[href]:not([href^="#"])').length`); n != 0 {
				t.Errorf("%s: %d elements that no page may have", name, n)
			}
			if evaluate[bool](w, `typeof hostile !== 'undefined'`) {
				t.Errorf("%s: text was run", name)
			}
			w.mu.Lock()
			if len(w.requests) != 1 || !strings.HasPrefix(w.requests[0], "file://") {
				t.Errorf("%s at %d asked for %v", name, view.width, w.requests)
			}
			if len(w.messages) != 0 {
				t.Errorf("%s at %d complained: %v", name, view.width, w.messages)
			}
			w.mu.Unlock()
		}
	}
}

// The policy is in force: a script, a style and a picture brought in later are
// all refused.
func TestPolicyInForce(t *testing.T) {
	w := openTab(t)
	w.open(lessonDoc(), "")
	got := evaluate[string](w, `(() => {
		const s = document.createElement('script'); s.textContent = 'window.hostile = 1'; document.body.append(s);
		const d = document.createElement('div'); d.setAttribute('style', 'position:fixed'); document.body.append(d);
		const y = document.createElement('style'); y.textContent = 'body{outline:9px solid red}'; document.head.append(y);
		return [typeof hostile, getComputedStyle(d).position, getComputedStyle(document.body).outlineStyle].join(' ');
	})()`)
	if got != "undefined static none" {
		t.Errorf("brought in: %s", got)
	}
	if refused := evaluate[bool](w, `new Promise(ok => { const i = new Image(); i.onload = () => ok(false); i.onerror = () => ok(true); i.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACw='; })`+"\n", true); !refused {
		t.Error("a picture was let in")
	}
}

// Every state of the sliders, failed ones included, shows what was computed, to
// the printed digit; so does the sentence beneath.
func TestSlidersShowWhatWasComputed(t *testing.T) {
	w := openTab(t)
	w.open(lessonDoc(), "")
	e := exploreBlock()
	type state struct {
		Outs, Diffs []string
		Say         string
	}
	states := evaluate[[]state](w, `(() => {
		const out = [], set = (i, v) => { const r = document.getElementById('e0a' + i); r.value = v; r.dispatchEvent(new Event('input', {bubbles: true})); };
		for (let a = 0; a < 9; a++) for (let b = 0; b < 5; b++) for (let c = 0; c < 5; c++) {
			set(0, a); set(1, b); set(2, c);
			out.push({Outs: [...document.querySelectorAll('#e0 output[id^=e0o]')].map(o => o.textContent), Diffs: [...document.querySelectorAll('#e0 .d')].map(o => o.textContent), Say: document.getElementById('e0say').textContent});
		}
		return out;
	})()`)
	if len(states) != e.size() {
		t.Fatalf("%d states, want %d", len(states), e.size())
	}
	d := e.data("e0")
	base := e.index(e.Base)
	failed := 0
	for k, s := range states {
		at := []int{k / 25, k / 5 % 5, k % 5}
		for f, field := range e.Fields {
			want := e.fieldText(k, f, d)
			diff := ""
			if v := e.value(k, f); !math.IsNaN(v) {
				diff = signed(v-e.value(base, f), field.Change) + " from the base"
				if strings.Trim(diff, "0. fromthebas") == "" {
					diff = "as the base"
				}
			}
			if s.Outs[f] != want || s.Diffs[f] != diff {
				t.Fatalf("state %v: %s shows %q, %q; computed %q, %q", at, field.Name, s.Outs[f], s.Diffs[f], want, diff)
			}
		}
		if want := e.stateWords(at, d); s.Say != want {
			t.Fatalf("state %v says %q, want %q", at, s.Say, want)
		}
		if e.Reasons[k] != "" {
			failed++
			if !strings.Contains(s.Say, e.Reasons[k]) {
				t.Errorf("state %v does not say why it failed: %q", at, s.Say)
			}
		}
	}
	if failed == 0 {
		t.Error("no failed state was among them")
	}
}

// Keys of a slider: one step, page, both ends; a typed number goes to the nearest
// computed one; reset; the address keeps what differs from the base.
func TestSliderKeys(t *testing.T) {
	w := openTab(t)
	path := w.open(exploreDoc(), "")
	value := func() string {
		return evaluate[string](w, `document.getElementById('e1a0n').value + '|' + document.getElementById('e1a0').getAttribute('aria-valuetext') + '|' + location.hash`)
	}
	evaluate[any](w, `document.getElementById('e1a0').focus()`)
	for _, step := range []struct{ key, want string }{
		{kb.ArrowRight, "288|288\u202fcm|#&2.length=288"}, {kb.ArrowLeft, "286|286\u202fcm|"}, {kb.Home, "278|278\u202fcm|#&2.length=278"},
		{kb.End, "294|294\u202fcm|#&2.length=294"}, {kb.PageDown, "292|292\u202fcm|#&2.length=292"}, {kb.PageUp, "294|294\u202fcm|#&2.length=294"},
	} {
		w.do(chromedp.KeyEvent(step.key))
		if got := value(); got != step.want {
			t.Errorf("key %q: %s, want %s", step.key, got, step.want)
		}
	}
	evaluate[any](w, `(() => { const n = document.getElementById('e1a0n'); n.value = '283.2'; n.dispatchEvent(new Event('change')); })()`)
	if got := value(); !strings.HasPrefix(got, "284|") {
		t.Errorf("283.2 typed gives %s, want the nearest computed, 284", got)
	}
	w.do(chromedp.Navigate("file://"+path+"#&2.length=291&2.wind=-4&blade=tulip"), chromedp.Reload())
	if got := evaluate[string](w, `['e1a0n', 'e1a2n'].map(i => document.getElementById(i).value).join() + document.getElementById('e0a0n').textContent`); got != "290,-4tulip" {
		t.Errorf("the address brings back %s", got)
	}
	evaluate[any](w, `document.getElementById('e1reset').click()`)
	if got := value(); !strings.HasPrefix(got, "286|") || strings.Contains(got, "2.length") {
		t.Errorf("reset gives %s", got)
	}
	evaluate[any](w, `(() => { const s = document.getElementById('e1field'); s.value = '1'; s.dispatchEvent(new Event('change')); })()`)
	if got := evaluate[string](w, `document.getElementById('e1p0title').textContent`); got != "Heaviness, N·s/m" {
		t.Errorf("drawn after choosing the second field: %s", got)
	}
}

// The moving picture draws each oar where its frame says, to half a pixel, at ten
// times of the stroke, with the water and with the boat.
func TestMovingPictureFollowsTheFrames(t *testing.T) {
	w := openTab(t)
	doc := pathDoc()
	var motion []Motion
	for _, b := range doc.Blocks {
		if f, ok := b.(*Figure); ok && f.Kind == Moving {
			motion = f.Motion
		}
	}
	for _, view := range []struct {
		width int64
		units float64
		id    string
	}{{1280, wideWidth, "m0s0"}, {320, narrowWidth, "m0s1"}} {
		w.see(view.width, 800, "light", "no-preference")
		w.open(doc, "")
		scene := sceneFor(motion, view.units)
		pixels := evaluate[float64](w, fmt.Sprintf(`document.getElementById('%s').getBoundingClientRect().width`, view.id)) / view.units
		if pixels <= 0 {
			t.Fatal("the scene is not shown")
		}
		for k := range 10 {
			frame := k * (motion[0].frames() - 1) / 9
			for _, stays := range []string{"water", "boat"} {
				evaluate[any](w, fmt.Sprintf(`(() => { const r = document.getElementById('m0scrub'); r.value = %d; r.dispatchEvent(new Event('input')); document.getElementById('m0%s').click(); })()`, frame, stays))
				for i := range motion {
					got := numbersIn(evaluate[string](w, fmt.Sprintf(`document.getElementById('%s%dblade').getAttribute('d')`, view.id, i)))
					at, lead := motion[i].at(frame), motion[0].at(frame)
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
			if want := quantity(motion[0].Angle[frame], 0, "deg") + " " + quantity(float64(frame)*motion[0].Step, 2, "s"); shown != want {
				t.Errorf("frame %d: numbers say %q, want %q", frame, shown, want)
			}
		}
	}
}

// pinInView is where the pin stands in the view, as the script has it.
func (s sceneData) pinInView(m *Motion, frame int, stays string) float64 {
	if stays == "boat" {
		return s.Boat
	}
	x, x0, last := m.Hull[frame], m.Hull[0], m.Hull[m.frames()-1]
	finish := interpolate([]float64{float64(m.driveFrame()), float64(m.driveFrame() + 1)}, []float64{m.Hull[m.driveFrame()], m.Hull[m.driveFrame()+1]}, m.Drive/m.Step)
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
	if evaluate[bool](w, `document.getElementById('m0play').offsetParent !== null`) {
		t.Error("play is offered where motion is reduced")
	}
	if !evaluate[bool](w, `document.getElementById('m0fwd').offsetParent !== null && document.querySelector('.kf-b').offsetParent !== null`) {
		t.Error("steps and key frames are gone where motion is reduced")
	}
}

// A lesson hides what follows a question until it is revealed, and turns its
// screens by the keys of a projector's remote.
func TestLesson(t *testing.T) {
	w := openTab(t)
	w.see(1280, 800, "light", "no-preference")
	w.open(lessonDoc(), "")
	hidden := func(selector string) bool {
		return evaluate[string](w, fmt.Sprintf(`getComputedStyle(document.querySelector('%s')).visibility`, selector)) == "hidden"
	}
	if !hidden("#ask1 .after") || !hidden(`[data-for=ask1] table`) || !hidden(`[data-for=ask3] figure`) {
		t.Error("answers show before they are asked for")
	}
	here := func() string {
		return evaluate[string](w, `[...document.querySelectorAll('.scr')].filter(s => Math.abs(s.getBoundingClientRect().top) < 2).map(s => s.id).join()`)
	}
	w.do(chromedp.KeyEvent(kb.PageDown))
	if got := here(); got != "s1" {
		t.Errorf("Page down goes to %q", got)
	}
	w.do(chromedp.KeyEvent("3"), chromedp.KeyEvent("r"))
	if got := evaluate[string](w, `document.querySelector('#ask1 .after').textContent`); !strings.HasPrefix(got, "The same. You guessed shorter. The hands") {
		t.Errorf("revealed: %q", got)
	}
	if hidden("#ask1 .after") || hidden(`[data-for=ask1] table`) || !hidden("#ask2 .after") {
		t.Error("the reveal opens too little or too much")
	}
	w.do(chromedp.KeyEvent(kb.PageDown))
	evaluate[any](w, `(() => { document.getElementById('ask3n').value = '4.5'; document.querySelector('#ask3 .rev').click(); })()`)
	if got := evaluate[string](w, `document.querySelector('#ask3 .after').textContent`); !strings.HasPrefix(got, "3.8\u202f%. So you guessed. From 203\u202fN·s/m") {
		t.Errorf("revealed: %q", got)
	}
	w.do(chromedp.KeyEvent(kb.PageUp))
	if got := here(); got != "s1" {
		t.Errorf("Page up goes to %q", got)
	}
	if got := evaluate[string](w, `location.hash`); got != "#s1" {
		t.Errorf("the address keeps %q", got)
	}
	// a slider keeps its own Page keys
	evaluate[any](w, `(() => { document.getElementById('s3').scrollIntoView({behavior: 'instant'}); document.getElementById('e0a0').focus({preventScroll: true}); })()`)
	w.do(chromedp.KeyEvent(kb.PageDown))
	if got := evaluate[string](w, `document.getElementById('e0a0n').value`); got != "284" {
		t.Errorf("Page down on a slider gives %s", got)
	}
}

// Without scripts a page shows its base case, its tables and figures, and no
// control that would not answer.
func TestWithoutScripts(t *testing.T) {
	w := openTab(t)
	w.must(chromedp.Call(w.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	w.open(lessonDoc(), "")
	for selector, want := range map[string]bool{
		"#ask1 .after": true, "[data-for=ask1] table": true, "[data-for=ask3] figure": true, "#e0 dl": true, "#e0 .noscript": true, "#e0 figure svg.wide": true,
		".keys svg": true, "#e0 input": false, ".rev": false, ".stage": false, ".ctl": false, ".keysline": false, ".teacher": true, "#keep .caution": true,
	} {
		got := evaluate[bool](w, fmt.Sprintf(`(() => { const e = document.querySelector('%s'); return !!e && e.checkVisibility({visibilityProperty: true}) })()`, selector))
		if got != want {
			t.Errorf("%s shown: %v, want %v", selector, got, want)
		}
	}
	if got := evaluate[string](w, `document.getElementById('e0o0').textContent`); got != "3.680" {
		t.Errorf("base case shows %s", got)
	}
}

// Printed to A4: no control, every answer open, cautions there, heads of tables
// repeated, boxes and figures unbroken.
func TestPrinted(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		missing(t, "pdftotext")
	}
	w := openTab(t)
	for name, doc := range map[string]*Document{"lesson": lessonDoc(), "comparison": comparisonDoc()} {
		w.open(doc, "")
		pdf, err := chromedp.Run(w.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			t.Fatal(err)
		}
		read := exec.Command(reader, "-layout", "-", "-")
		read.Stdin = bytes.NewReader(pdf)
		out, err := read.Output()
		if err != nil {
			t.Fatal(err)
		}
		text := string(out)
		for _, want := range []string{"Cautions", "Assumptions, every default in use", "The study’s text", "thole run"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s printed lacks %q", name, want)
			}
		}
		for _, bad := range []string{"Reveal", "Play", "Back to length", "as a table", "Page ↓"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s printed shows %q", name, bad)
			}
		}
		if name == "lesson" && !strings.Contains(text, "The hands set the arc") {
			t.Error("an answer stays hidden on paper")
		}
	}
	w.must(chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	got := evaluate[string](w, `[getComputedStyle(document.querySelector('thead')).display, getComputedStyle(document.querySelector('.caution')).breakInside, getComputedStyle(document.querySelector('tbody tr')).breakInside, getComputedStyle(document.querySelector('figure svg')).breakInside].join()`)
	if got != "table-header-group,avoid,avoid,avoid" {
		t.Errorf("print keeps together: %s", got)
	}
}

// checkers is where the development-only checkers of pages lie, once installed.
const checkers = "../../testdata/page/node_modules"

// axe-core finds nothing on any page, at three widths, light and dark.
func TestAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join(checkers, "axe-core", "axe.min.js"))
	if err != nil {
		missing(t, "axe-core (npm ci in testdata/page)")
	}
	w := openTab(t)
	views := []struct {
		width  int64
		scheme string
	}{{320, "light"}, {768, "dark"}, {1280, "light"}, {320, "dark"}, {768, "light"}, {1280, "dark"}}
	if os.Getenv("THOLE_NEED_BROWSER") == "" {
		views = views[1:4] // all six where changes are checked
	}
	for name, doc := range allDocs() {
		for _, view := range views {
			w.see(view.width, 800, view.scheme, "no-preference")
			w.open(doc, "")
			evaluate[any](w, string(axe)+";0")
			found := evaluate[string](w, `(() => { document.querySelectorAll('.rev').forEach(b => b.click()); document.querySelectorAll('details').forEach(d => d.open = true); return axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => JSON.stringify(r.violations.map(v => [v.id, v.nodes.length, v.nodes[0].html.slice(0, 120), v.nodes[0].failureSummary.slice(0, 200)]))) })()`, true)
			var list []any
			if err := json.Unmarshal([]byte(found), &list); err != nil {
				t.Fatal(err)
			}
			for _, v := range list {
				t.Errorf("%s at %d, %s: %v", name, view.width, view.scheme, v)
			}
		}
	}
}

// html-validate finds nothing on any page.
func TestValidHTML(t *testing.T) {
	tool := filepath.Join(checkers, ".bin", "html-validate")
	if _, err := os.Stat(tool); err != nil {
		missing(t, "html-validate (npm ci in testdata/page)")
	}
	dir := t.TempDir()
	for name, doc := range allDocs() {
		var b bytes.Buffer
		if err := WritePage(&b, doc); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".html"), b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	pages, _ := filepath.Glob(filepath.Join(dir, "*.html"))
	out, err := exec.Command(tool, append([]string{"-c", "../../testdata/page/.htmlvalidate.json", "-f", "text"}, pages...)...).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// How long the largest of the pages takes to its first picture, for the record;
// a slow machine is no fault of the page, so only a hang fails.
func TestFirstPicture(t *testing.T) {
	w := openTab(t)
	for name, doc := range map[string]*Document{"lesson": lessonDoc(), "comparison": comparisonDoc(), "path": pathDoc()} {
		w.open(doc, "")
		ms := evaluate[float64](w, `new Promise(ok => { const look = () => { const e = performance.getEntriesByName('first-contentful-paint')[0]; e ? ok(e.startTime) : setTimeout(look, 20); }; look(); })`, true)
		t.Logf("%s: %.0f ms to the first picture", name, ms)
		if ms > 10_000 {
			t.Errorf("%s: %.0f ms to the first picture", name, ms)
		}
	}
}
