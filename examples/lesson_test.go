package examples

import (
	"os"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// unfit lists on the shown screen what is smaller than a twenty-eighth of its height, what is
// cut off or lies on the foot, and whether the page scrolls.
const unfit = `(() => {
	const out = [], on = document.querySelector('.scr.on'), walk = document.createTreeWalker(on, NodeFilter.SHOW_TEXT), foot = on.querySelector('.step');
	for (let n; n = walk.nextNode();) {
		const e = n.parentElement, said = '"' + n.textContent.trim().slice(0, 24) + '"';
		if (said == '""' || !e.checkVisibility({visibilityProperty: true, opacityProperty: true}) || e.closest('.vh,option')) continue;
		const range = document.createRange(); range.selectNodeContents(n);
		const box = range.getBoundingClientRect(), size = parseFloat(getComputedStyle(e).fontSize) * (e.closest('svg') ? e.getScreenCTM().a : 1);
		if (!box.width) continue;
		if (size < innerHeight / 28 - .1) out.push(said + ' is 1/' + (innerHeight / size).toFixed(1) + ' high');
		if (box.top < -1 || box.left < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1) out.push(said + ' leaves the screen');
		if (!foot.contains(e) && box.bottom > foot.getBoundingClientRect().top + 2) out.push(said + ' lies on the foot');
	}
	if (document.documentElement.scrollHeight > innerHeight + 1 || document.documentElement.scrollWidth > innerWidth + 1) out.push('the page scrolls');
	return out.join('; ');
})()`

// Both lessons are given start to end with the network off, by the one key of a remote, on
// three projectors: no screen scrolls, nothing on it is small or cut off, every question has a
// picture beside it, and at the end nothing is hidden any more.
func TestLessonsOnProjectors(t *testing.T) {
	for _, lesson := range []string{"gearing-lesson", "blade-lesson"} {
		text, err := os.ReadFile(lesson + "/study.star")
		if err != nil {
			t.Fatal(err)
		}
		out := runExample(lesson, "study.star", text)
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors.Error())
		}
		page := pageFile(t, out.Document)
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
		for _, size := range [][2]int64{{1024, 600}, {1280, 800}, {1920, 1080}} {
			do(chromedp.EmulateViewport(size[0], size[1]), chromedp.Navigate(page), chromedp.Reload())
			if _, err := chromedp.Call(ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true}); err != nil {
				t.Fatal(err)
			}
			presses := 0
			for ; presses < 60 && read(`document.querySelector('.behind.on') ? 'end' : ''`) == ""; presses++ {
				if wrong := read(unfit); wrong != "" {
					t.Errorf("%s at %d x %d, %s: %s", lesson, size[0], size[1], read(`document.querySelector('.scr.on').id`), wrong)
				}
				if read(`[...document.querySelectorAll('.scr.on .ask')].some(a => !a.closest('.scr').querySelector('.pic svg')) ? 'bare' : ''`) != "" {
					t.Errorf("%s: a question stands without a picture on %s", lesson, read(`document.querySelector('.scr.on').id`))
				}
				do(chromedp.KeyEvent(kb.PageDown))
			}
			if presses < 8 || presses == 60 {
				t.Errorf("%s takes %d presses", lesson, presses)
			}
			if hidden := read(`document.querySelectorAll('.ask:not(.open), .hold.shut').length + ''`); hidden != "0" {
				t.Errorf("%s: %s things are still hidden at the end", lesson, hidden)
			}
			do(chromedp.Navigate("about:blank"))
		}
	}
}
