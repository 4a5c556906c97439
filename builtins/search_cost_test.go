package builtins

import (
	"context"
	"testing"

	"thole/builtins/account"
	"thole/builtins/session"
)

// A search for the best rows few strokes: under 40 for one input with a limit, under 150 for three, those
// among them that draw what cannot be told apart. A question that leaves the usual ranges is asked once more
// within them, which is not counted here.
func TestStrokesOfASearch(t *testing.T) {
	for _, c := range []struct {
		name, script string
		most         int
	}{
		{"one input, one limit", `
show(find_best(lambda outboard: calm.change(oar=sculls.change(outboard=outboard)), maximise="speed",
    limits={"heaviness": (None, calm.heaviness)}, outboard=(195, 205)))
`, 40},
		{"three inputs, two limits", `
def rigged(outboard, inboard, area):
    return calm.change(oar=oar(length=outboard + inboard, inboard=inboard, blade=sculls.blade.change(area=area)))
show(find_best(rigged, maximise="speed", limits={"heaviness": (None, calm.heaviness), "early_load": (None, calm.early_load)},
    outboard=(195, 205), inboard=(86, 90), area=(760, 860)))
`, 150},
	} {
		cfg := Configure(session.Config{Jobs: 2})
		out := Run(context.Background(), "study.star", []byte(start+c.script), cfg)
		if len(out.Errors) > 0 {
			t.Fatal(c.name, out.Errors.Error())
		}
		n, _ := account.Rowed(cfg)
		t.Logf("%s: %d strokes", c.name, n)
		if n >= c.most {
			t.Errorf("%s: %d strokes, to be under %d", c.name, n, c.most)
		}
	}
}
