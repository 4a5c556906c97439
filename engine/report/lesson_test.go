package report

import (
	"bytes"
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"thole/engine/document"
	"thole/engine/figure"
)

// The lesson as it is given: keys are typed, none is set by a script.

// screen is the id of the one screen that is shown.
func (w *tab) screen() string {
	w.Helper()
	return evaluate[string](w, `[...document.querySelectorAll('.scr,.behind,#free')].filter(s => s.checkVisibility()).map(s => s.id).join()`)
}

func (w *tab) hidden(selector string) bool {
	w.Helper()
	return !evaluate[bool](w, fmt.Sprintf(`document.querySelector('%s').checkVisibility({visibilityProperty: true, opacityProperty: true})`, selector))
}

func (w *tab) keys(keys ...string) {
	w.Helper()
	for _, k := range keys {
		if len(k) > 1 || k < " " { // a key with a name
			w.do(chromedp.KeyEvent(k))
			continue
		}
		w.must(chromedp.Call(w.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyDown", Key: k, Text: k}))
		w.must(chromedp.Call(w.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "keyUp", Key: k}))
	}
}

func (w *tab) text(selector string) string {
	w.Helper()
	return evaluate[string](w, fmt.Sprintf(`document.querySelector('%s').textContent`, selector))
}

// toScreen turns by keys until a screen is shown.
func (w *tab) toScreen(id string) {
	w.Helper()
	for n := 0; w.screen() != id; n++ {
		if n > 40 {
			w.Fatalf("no key leads to screen %s", id)
		}
		w.keys(kb.PageDown)
	}
}

// onStage opens the lesson on a projector with motion reduced, so that what a reveal moves is
// there at once.
func onStage(t *testing.T, motion string) *tab {
	w := openTab(t)
	w.see(1280, 800, "light", motion)
	w.open(lessonDoc(), "")
	return w
}

// The two keys of a remote give the whole lesson: Page Down opens a question that is shut and
// only then turns; nothing held back is passed unseen, and every screen comes once.
func TestTwoKeysGiveTheLesson(t *testing.T) {
	w := onStage(t, "reduce")
	questions := evaluate[int](w, `document.querySelectorAll('.ask').length`)
	var seen []string
	opened := 0
	for n := 0; n < 40 && w.screen() != "behind"; n++ {
		at := w.screen()
		if len(seen) == 0 || seen[len(seen)-1] != at {
			seen = append(seen, at)
		}
		shut := evaluate[int](w, `document.querySelectorAll('.ask:not(.open)').length`)
		held := evaluate[bool](w, `[...document.querySelectorAll('.scr.on .ask:not(.open), .scr.on .hold.shut')].length > 0`)
		w.keys(kb.PageDown)
		now := evaluate[int](w, `document.querySelectorAll('.ask:not(.open)').length`)
		switch {
		case held && (w.screen() != at || now != shut-1):
			t.Fatalf("on %s Page Down leaves something shut behind it", at)
		case !held && now != shut:
			t.Fatalf("on %s Page Down opens what is not there", at)
		case held:
			opened++
		}
	}
	if opened != questions || questions < 3 {
		t.Errorf("%d of %d questions were opened", opened, questions)
	}
	if got, want := strings.Join(seen, " "), evaluate[string](w, `[...document.querySelectorAll('.scr')].map(s => s.id).join(' ')`); got != want {
		t.Errorf("screens came as %s, want %s", got, want)
	}
	if left := evaluate[int](w, `document.querySelectorAll('.ask:not(.open), .hold.shut').length`); left != 0 {
		t.Errorf("%d things are still hidden at the end", left)
	}
	for range len(seen) + 1 {
		w.keys(kb.PageUp)
	}
	if w.screen() != "start" {
		t.Errorf("Page Up ends at %s", w.screen())
	}
}

// Arrow keys turn from the title on; the link at the foot passes nothing either.
func TestArrowsTurnFromTheTitle(t *testing.T) {
	w := onStage(t, "reduce")
	w.keys(kb.ArrowRight)
	if w.screen() != "s1" {
		t.Fatalf("the right arrow leads from the title to %q", w.screen())
	}
	evaluate[any](w, `document.querySelector("#s1 a[rel=next]").click()`)
	if w.screen() != "s1" || w.hidden("#ask1 .after") {
		t.Error("the link at the foot passes a question unopened")
	}
	w.keys(kb.ArrowLeft)
	if w.screen() != "start" {
		t.Errorf("the left arrow leads to %q", w.screen())
	}
}

// A digit takes a choice, then the hands that went up are typed; Enter goes to the next box
// and reveals after the last. The answer stands among them.
func TestHandsAreCounted(t *testing.T) {
	w := onStage(t, "reduce")
	w.toScreen("s1")
	w.keys("1", "4", kb.Enter, "1", "1", kb.Enter, "7")
	if got := evaluate[string](w, `[...document.querySelectorAll('#ask1 .hands')].map(h => h.value).join()`); got != "4,11,7" {
		t.Fatalf("the hands typed are %q", got)
	}
	if !w.hidden("#ask1 .after") {
		t.Fatal("the answer shows before it is asked for")
	}
	w.keys(kb.Enter)
	if got := w.text("#ask1 .after"); !strings.HasPrefix(got, "The same. 11 of 22 hands were up for it. The hands set") {
		t.Errorf("revealed: %q", got)
	}
	if got := evaluate[string](w, `[...document.querySelectorAll('#ask1 .choice.right')].map(c => c.textContent.trim()).join()`); got != "the same" {
		t.Errorf("marked as right: %q", got)
	}
	w.keys(kb.PageDown)
	if w.screen() == "s1" {
		t.Error("a box keeps the remote's key")
	}
}

// A chosen answer without hands is told in plain English.
func TestOneGuessIsTold(t *testing.T) {
	w := onStage(t, "reduce")
	w.toScreen("s1")
	w.keys("3", "r")
	if got := w.text("#ask1 .after"); !strings.HasPrefix(got, "The same. The guess was “shorter”. The hands") {
		t.Errorf("revealed: %q", got)
	}
}

// Digits go into the number's box wherever the focus is, numbers of several pupils with blanks
// between; Enter reveals; the answer falls among them; no key is trapped. A reload keeps it.
func TestNumbersAreTyped(t *testing.T) {
	w := openTab(t)
	w.see(1280, 800, "light", "reduce")
	path := w.open(lessonDoc(), "")
	for n := 0; !evaluate[bool](w, `!!document.querySelector('.scr.on #ask3')`); n++ {
		if n > 20 {
			t.Fatal("the number is never asked for")
		}
		w.keys(kb.PageDown)
	}
	at := w.screen()
	w.keys("4", ".", "5", " ", "7", "x")
	if got := evaluate[string](w, `document.getElementById('ask3n').value`); got != "4.5 7" {
		t.Fatalf("typed: %q", got)
	}
	w.keys(kb.Enter)
	if got := w.text("#ask3 .after"); !strings.HasPrefix(got, "3.8\u202f%. 1 of 2 guesses lie within 1\u202f% of it. From 203") {
		t.Errorf("revealed: %q", got)
	}
	if got := evaluate[string](w, `[document.querySelectorAll('#ask3 .guess').length, document.querySelector('#ask3 .truth').getAttribute('transform')].join()`); got != "2,translate(20 38)" {
		t.Errorf("on the line: %s", got)
	}
	w.do(chromedp.Navigate("file://"+path+evaluate[string](w, `location.hash`)), chromedp.Reload())
	if w.screen() != at || w.hidden("#ask3 .after") || !strings.Contains(w.text("#ask3 .after"), "1 of 2 guesses") {
		t.Errorf("after a reload: screen %s, %q", w.screen(), w.text("#ask3 .after"))
	}
	w.keys(kb.PageDown)
	if w.screen() == at {
		t.Error("Page Down does not leave the number's box")
	}
}

// The picture stands there before the answer, with a question mark where it is asked for;
// revealing moves it to what is after, and it stops.
func TestRevealMovesThePicture(t *testing.T) {
	for _, motion := range []string{"no-preference", "reduce"} {
		w := onStage(t, motion)
		w.toScreen("s1")
		blade := func() string {
			return evaluate[string](w, `document.querySelector('#s1 .now .spoon.full').getAttribute('d')`)
		}
		words := func() string {
			return evaluate[string](w, `[...document.querySelectorAll('#s1 .now text')].map(t => t.textContent).join(' | ')`)
		}
		before, after := blade(), evaluate[string](w, `document.querySelector('#s1 .then .spoon.full').getAttribute('d')`)
		if before == after || !strings.Contains(words(), "arc 102° → ?") || strings.Contains(words(), "204") {
			t.Fatalf("before the reveal: %s", words())
		}
		w.keys(kb.PageDown)
		if motion == "no-preference" {
			time.Sleep(600 * time.Millisecond)
			if at := blade(); at == before || at == after {
				t.Errorf("half way the blade is at %s", at)
			}
		}
		for n := 0; numbersIn(blade())[0] != numbersIn(after)[0] || !strings.Contains(words(), "198 → 204"); n++ {
			if n > 100 {
				t.Fatalf("%s: the picture ends at %s, %s", motion, blade(), words())
			}
			time.Sleep(50 * time.Millisecond)
		}
		stopped := blade()
		time.Sleep(300 * time.Millisecond)
		if blade() != stopped {
			t.Error("the picture goes on")
		}
	}
}

// The moving picture has a screen of its own, plays there by itself, once, and stops at square;
// not where motion is reduced. Names stand on the blades, the second oar has its own hull, the
// force its arrow, the boat its direction; the scrubber tells the angle.
func TestTheStrokeMovesByItself(t *testing.T) {
	moving := func(w *tab) {
		for n := 0; !evaluate[bool](w, `!!document.querySelector('.scr.on .player')`); n++ {
			if n > 30 {
				t.Fatal("there is no screen with the moving picture")
			}
			w.keys(kb.PageDown)
		}
	}
	w := onStage(t, "no-preference")
	moving(w)
	if n := evaluate[int](w, `document.querySelectorAll('.scr.on :is(.ask,.explore,table.live)').length - document.querySelectorAll('.scr.on table.live').length`); n != 0 {
		t.Errorf("%d other things on the moving picture's screen", n)
	}
	angle := func() string { return w.text("#m0angle") }
	time.Sleep(300 * time.Millisecond)
	if first := angle(); first == "0°" || !strings.Contains(w.text("#m0play"), "Pause") {
		t.Errorf("it does not play by itself: %s, %s", first, w.text("#m0play"))
	}
	for n := 0; strings.Contains(w.text("#m0play"), "Pause"); n++ {
		if n > 300 {
			t.Fatal("it never stops")
		}
		time.Sleep(50 * time.Millisecond)
	}
	if got := strings.TrimLeft(angle(), "−"); got != "0°" && got != "1°" {
		t.Errorf("it stops at %s", got)
	}
	seen := evaluate[string](w, `(() => {
		const at = s => { const e = document.getElementById('m0s0' + s), r = e.getBoundingClientRect(); return {e, x: r.x + r.width / 2, y: r.y + r.height / 2, w: r.width}; }, out = [];
		for (const k of [0, 1]) {
			const n = at(k + 'name'), b = at(k + 'blade');
			if (Math.hypot(n.x - b.x, n.y - b.y) > n.w / 2 + 130) out.push('name ' + k + ' far from its blade');
			if (!at(k + 'hull').w) out.push('no hull ' + k);
		}
		if (!document.querySelector('.scr.on .ghosthull')) out.push('no ghost');
		if (!at('0force').w || !/force \d/.test(at('0newton').e.textContent)) out.push('no force');
		if (!/goes this way/.test(document.querySelector('.scr.on .stage svg').textContent)) out.push('no direction');
		return out.join();
	})()`)
	if seen != "" {
		t.Error(seen)
	}
	w.keys(kb.PageUp, kb.PageDown)
	time.Sleep(200 * time.Millisecond)
	if strings.Contains(w.text("#m0play"), "Pause") {
		t.Error("it plays by itself a second time")
	}
	w = onStage(t, "reduce")
	moving(w)
	time.Sleep(200 * time.Millisecond)
	if strings.Contains(w.text("#m0play"), "Pause") || w.hidden("#m0play") || w.hidden(".scr.on .why") || w.hidden(".scr.on .keys svg") {
		t.Error("with motion reduced it plays, or says nothing, or shows no moments")
	}
}

// Marks on the moving blades stand at equal times.
func TestMovingMarksAreByTime(t *testing.T) {
	w := openTab(t)
	doc := lessonDoc()
	for _, b := range doc.Blocks {
		if f, ok := b.(*document.Figure); ok && f.Kind == figure.Moving {
			f.Every = .1
		}
	}
	w.see(1280, 800, "light", "reduce")
	w.open(doc, "")
	evaluate[any](w, `(() => { const r = document.getElementById('m0scrub'); r.value = 40; r.dispatchEvent(new Event('input')); })()`)
	if got := evaluate[string](w, `[0, 1].map(k => document.querySelectorAll('#m0s0' + k + 'dots circle').length).join()`); got != "6,6" {
		t.Errorf("half a second after the catch there are marks: %s", got)
	}
}

// Paper: the worksheet has boxes and no answer, the key has the answers, the notes are the
// teacher's; each can be printed alone.
func TestPapers(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		missing(t, "pdftotext")
	}
	w := onStage(t, "reduce")
	for paper, want := range map[string]struct{ has, not []string }{
		"worksheet": {[]string{"How does the arc change?", "longer", "shorter", "because"}, []string{"The hands set the arc", "Ask for hands first", "Assumptions"}},
		"key":       {[]string{"How does the arc change?", "The hands set the arc", "Cautions"}, []string{"Ask for hands first", "Assumptions"}},
		"notes":     {[]string{"Ask for hands first"}, []string{"The hands set the arc", "How does the arc change?"}},
	} {
		evaluate[any](w, fmt.Sprintf(`document.documentElement.dataset.paper = '%s'`, paper))
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
		text := strings.Join(strings.Fields(string(out)), " ")
		for _, s := range want.has {
			if !strings.Contains(text, s) {
				t.Errorf("the %s lacks %q", paper, s)
			}
		}
		for _, s := range want.not {
			if strings.Contains(text, s) {
				t.Errorf("the %s shows %q", paper, s)
			}
		}
	}
}
