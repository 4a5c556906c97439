package examples

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"thole/engine/document"
)

// The lesson is given start to end with the network off, by the keys of a
// remote: a guess at every question, wrong ones and right ones, then R; each
// reveal says what was guessed, and at the end nothing is hidden any more.
func TestGearingLessonFromStartToEnd(t *testing.T) {
	text, err := os.ReadFile("gearing-lesson/study.star")
	if err != nil {
		t.Fatal(err)
	}
	out := runExample("gearing-lesson", "study.star", text)
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors.Error())
	}
	ctx := openBrowser(t)
	do := func(actions ...chromedp.Action[chromedp.Void]) {
		t.Helper()
		if err := chromedp.Do(ctx, actions...); err != nil {
			t.Fatal(err)
		}
	}
	read := func(script string) string {
		t.Helper()
		s, err := chromedp.Run(ctx, chromedp.Evaluate[string](script))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	do(chromedp.EmulateViewport(1280, 800), chromedp.Navigate(pageFile(t, out.Document)))
	if _, err := chromedp.Call(ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true}); err != nil {
		t.Fatal(err)
	}

	const openAsk = `[...document.querySelectorAll('.ask')].find(a => !a.classList.contains('open') && a.getBoundingClientRect().top < innerHeight && a.getBoundingClientRect().bottom > 0)`
	asked, right, wrong := 0, 0, 0
	for turn := 0; turn < 40; turn++ {
		for read(`(`+openAsk+`) ? 'yes' : ''`) != "" && asked < 20 {
			asked++
			guess := "1"
			if read(`(`+openAsk+`).querySelector('input[type=number]') ? 'number' : ''`) != "" {
				guess = ""
				read(`(() => { const n = (` + openAsk + `).querySelector('input[type=number]'); n.value = n.closest('.ask').dataset.number; return '' })()`)
			}
			id := read(`(` + openAsk + `).id`)
			if guess != "" {
				do(chromedp.KeyEvent(guess))
			}
			do(chromedp.KeyEvent("r"))
			told := read(`document.getElementById('` + id + `').classList.contains('open') ? document.querySelector('#` + id + ` .after').textContent : ''`)
			switch {
			case strings.Contains(told, "So you guessed."):
				right++
			case strings.Contains(told, "You guessed "):
				wrong++
			default:
				t.Fatalf("%s: after a guess and R it says %q", id, told)
			}
		}
		do(chromedp.KeyEvent(kb.PageDown))
	}
	questions := 0
	for _, b := range out.Document.Blocks {
		if _, ok := b.(*document.Ask); ok {
			questions++
		}
	}
	if questions < 5 || asked != questions || right == 0 || wrong == 0 {
		t.Errorf("%d questions, %d met on the way, %d guessed right, %d wrong", questions, asked, right, wrong)
	}
	if hidden := read(`[...document.querySelectorAll('.ask .after, [data-for] table, [data-for] figure')].filter(e => getComputedStyle(e).visibility == 'hidden').length + ''`); hidden != "0" {
		t.Errorf("%s things are still hidden at the end", hidden)
	}
	// space plays the moving picture while it is in the window and nothing has the focus
	read(`(() => { document.activeElement.blur(); document.querySelector('.player').scrollIntoView({block: 'center', behavior: 'instant'}); return '' })()`)
	before := read(`document.querySelector('.player input[type=range]').value`)
	do(chromedp.KeyEvent(" "))
	for wait := 0; read(`document.querySelector('.player input[type=range]').value`) == before; wait++ {
		if wait > 100 {
			t.Fatalf("space does not play: the time stays at %s", before)
		}
		time.Sleep(50 * time.Millisecond)
	}
}
