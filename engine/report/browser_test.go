package report

import (
	"bytes"
	"context"
	"fmt"
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

	"thole/engine/document"
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
func (w *tab) open(doc *document.Document, fragment string) string {
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

// Without scripts a page shows its base case, its tables and figures, and no
// control that would not answer.
func TestWithoutScripts(t *testing.T) {
	w := openTab(t)
	w.must(chromedp.Call(w.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	w.open(lessonDoc(), "")
	for selector, want := range map[string]bool{
		"#ask1 .after": true, "[data-for=ask1] table": true, "[data-for=ask3] figure": true, "#e0 dl": true, "#e0 .noscript": true, "#e0 figure svg.lesson": true,
		".keys svg": true, "#e0 input": false, ".rev": false, ".stage": false, ".ctl": false, ".keysline": false, ".teacher": true, "#care .caution": true,
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
	for name, doc := range map[string]*document.Document{"lesson": lessonDoc(), "comparison": comparisonDoc()} {
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
		for _, bad := range []string{"Reveal", "Play", "Back to the base", "as a table", "Page ↓"} {
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

// How long the largest of the pages takes to its first picture, for the record;
// a slow machine is no fault of the page, so only a hang fails.
func TestFirstPicture(t *testing.T) {
	w := openTab(t)
	for name, doc := range map[string]*document.Document{"lesson": lessonDoc(), "comparison": comparisonDoc(), "path": pathDoc()} {
		w.open(doc, "")
		ms := evaluate[float64](w, `new Promise(ok => { const look = () => { const e = performance.getEntriesByName('first-contentful-paint')[0]; e ? ok(e.startTime) : setTimeout(look, 20); }; look(); })`, true)
		t.Logf("%s: %.0f ms to the first picture", name, ms)
		if ms > 10_000 {
			t.Errorf("%s: %.0f ms to the first picture", name, ms)
		}
	}
}
