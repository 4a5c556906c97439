package scripts_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/scripts"
)

// A set of which oars break lets a crew go without, unless spares cover it; a set that is cut
// moves only its crew's load, and lighter.
func TestQuestionsToTheStock(t *testing.T) {
	study := `load("@boathouse", "broken", "buy", "cut", "read_boathouse")
club = read_boathouse("club")
lost, spare, shorter = broken(club, "A"), broken(club, "B"), cut(club, "A", 286)
short = read_boathouse("club") | {"oars": club["oars"].where(set="A")}
bought = buy(short, "A", [280, 288], oars=8)
result("best", bought.where(oars_missing=0).lowest("off_in_all").length)
answer(str([[(p.crew, p.set, p.then) for p in lost], len(spare), [(p.crew, p.then, p.then_off < -0.5) for p in shorter]]))
`
	r := club(lines(quads, fmt.Sprintf(setA, 8), fmt.Sprintf(setB, 10))...)
	r["club/crews.csv"] = strings.Replace(r["club/crews.csv"], "Chub,4x,scull,Dace,76,325,34,A", "Chub,4x,scull,Dace,76,325,34,B", 1)
	out := builtins.Run(context.Background(), "study.star", []byte(study),
		session.Config{Files: r, Boathouse: scripts.Library, Jobs: 2})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].String())
	}
	if r := out.Document.Results; len(r) != 1 || r[0].Value != 288 {
		t.Errorf("the length to buy: %v", r)
	}
	if want := `[[("Bream", "A", None)], 0, [("Bream", "A", True)]]`; out.Document.Answer != want {
		t.Errorf("%s, want %s", out.Document.Answer, want)
	}
}
