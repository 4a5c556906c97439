package examples

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"thole/builtins"
	"thole/builtins/session"
	"thole/scripts"
)

// slidersStudy rows one state by its parameters and all of them behind sliders.
const slidersStudy = `
length = param("length (cm)", 286)
inboard = param("inboard (cm)", 88)
wind = param("wind (m/s)", 0)
novices = crew(mass=75, power=240, rate=26, catch=60, finish=42)
sculls = oar(length=286, inboard=88, blade="scull hatchet")
usual = row(hull("1x"), novices, sculls)
def rowed(length, inboard, wind):
    return usual.change(oar=sculls.change(length=length, inboard=inboard), measured_on=sculls, wind=wind)
explore(rowed, of=["speed", "heaviness", "drive_time", "split", "catch", "time_2000", "rhythm"],
        length=[286, 400], inboard=[86, 88, 90], wind=[-4, 0, 20])
s = rowed(length, inboard, wind)
answer("{s.speed}|{s.heaviness}|{s.drive_time}|{s.split}|{s.catch}|{s.time_2000}|{s.rhythm}")
result("speed", s.speed)
`

// At every stop of the sliders the page shows what a run with these parameters
// tells, to the printed digit; where the run ends in an error, the page says the
// same.
func TestSlidersEqualRuns(t *testing.T) {
	run := func(set map[string]string) *session.Outcome {
		return builtins.Run(context.Background(), "sliders.star", []byte(slidersStudy), session.Config{Files: folder("."), Boathouse: scripts.Library, Jobs: runtime.GOMAXPROCS(0), Set: set})
	}
	out := run(nil)
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors.Error())
	}
	ctx := openBrowser(t)
	if err := chromedp.Do(ctx, chromedp.Navigate(pageFile(t, out.Document))); err != nil {
		t.Fatal(err)
	}
	typed := strings.NewReplacer("\u2212", "-", "\u202f", " ", "°", " deg")
	rowed, failed := 0, 0
	for i, length := range []string{"286", "400"} {
		for j, inboard := range []string{"86", "88", "90"} {
			for k, wind := range []string{"-4", "0", "20"} {
				shown, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf(`(() => {
					[%d, %d, %d].forEach((v, a) => { const r = document.getElementById('e0a' + a); r.value = v; r.dispatchEvent(new Event('input')); });
					return [...document.querySelectorAll('#e0 dd')].map(d => d.children[0].textContent + d.children[1].textContent).join('|') + '#' + document.getElementById('e0say').textContent;
				})()`, i, j, k)))
				if err != nil {
					t.Fatal(err)
				}
				values, say, _ := strings.Cut(typed.Replace(shown), "#")
				at := fmt.Sprintf("length %s, inboard %s, wind %s", length, inboard, wind)
				one := run(map[string]string{"length": length, "inboard": inboard, "wind": wind})
				if len(one.Errors) > 0 {
					failed++
					_, why, _ := strings.Cut(say, " m/s: ")
					if !strings.HasPrefix(values, "–") || why == "" || !strings.Contains(one.Errors.Error(), why) {
						t.Errorf("%s: no stroke, but the page shows %s and says %q", at, values, say)
					}
					continue
				}
				rowed++
				if values != one.Document.Answer {
					t.Errorf("%s: the page shows %s, the run tells %s", at, values, one.Document.Answer)
				}
			}
		}
	}
	if rowed < 6 || failed == 0 {
		t.Errorf("%d states rowed, %d failed: the grid should hold both", rowed, failed)
	}
}
