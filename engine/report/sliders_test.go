package report

import (
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"thole/engine/typeset"
)

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
	if len(states) != e.Size() {
		t.Fatalf("%d states, want %d", len(states), e.Size())
	}
	d := exploreDataOf(e, "e0")
	base := e.Index(e.Base)
	failed := 0
	for k, s := range states {
		at := []int{k / 25, k / 5 % 5, k % 5}
		for f, field := range e.Fields {
			want := fieldText(e, k, f, d)
			diff := ""
			if v := e.Value(k, f); !math.IsNaN(v) {
				diff = typeset.Signed(v-e.Value(base, f), field.Change) + " from the base"
				if strings.Trim(diff, "0. fromthebas") == "" {
					diff = "as the base"
				}
			}
			if s.Outs[f] != want || s.Diffs[f] != diff {
				t.Fatalf("state %v: %s shows %q, %q; computed %q, %q", at, field.Name, s.Outs[f], s.Diffs[f], want, diff)
			}
		}
		if want := stateWords(e, at, d); s.Say != want {
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
