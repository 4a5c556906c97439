package builtins

import (
	"fmt"
	"strings"
	"testing"

	"thole/builtins/session"
)

// mistakes are studies that each get a message or a caution: of every room that
// gives some, and above all those where several things are wrong at once.
var mistakes = []string{
	// two of a kind wrong in one call
	`allocate(table([]), table([]), lambda a, b: 1)`,
	`allocate(table([{"crew": "Otters"}]), table([{"crew": "A"}]), lambda a, b: 1)`,
	`allocate(table([{"crew": "Otters"}]), table([{"set": "A", "count (-)": 0.5}, {"set": "B", "count ` +
		`(-)": -1}]), lambda a, b: 1)`,
	`hull("1x", mass=1, waterline=1, form_factor=9, wave_factor=9, class_factor=99, air_area=99)`,
	`oar(length=2.88, inboard=0.88, blade="scull hatchet")`,
	`oar(length=240, inboard=120, blade="scull hatchet", mass=99)`,
	`blade("hatchet", area=1, grip=9)`,
	`rig(span=159, spread=85)`,
	`rig(span=150, height=30, pitch=14)`,
	`crew(mass=84, power=380, rate=32, rowers=[])`,
	`rower(mass=84, power=380, style=[(0, 1), (0, 2)])`,
	`row(hull("2-"), me, sculls)`,
	`calm.change(length=290, inboard=88)`,
	`calm.change(wnd=2, nme="x")`,
	`compare(calm, sculls)`,
	`compare(calm)`,
	`show(compare(calm, calm.change(wind=2, name="calm"), calm.change(wind=3, ` +
		`oar=sculls.change(outboard=196))))`,
	`vary(lambda outboard: calm, inboard=[88], outbord=[200])`,
	`vary(lambda a, b: calm, a=[1, 2], b=[1, "x"])`,
	`vary(lambda outboard: {"a": calm, "b": 2, "c": None}, outboard=[200])`,
	`vary(lambda x: {"a (s)": [1], "b (s)": {}}, x=[1])`,
	`show(vary(lambda span: calm.speed, span=[156, 158]))`,
	`find(lambda outboard: calm, target=5, of="spee", outboard=(190, 200))`,
	`find(lambda rate, wind: rate, target=5, rate=(30, 32), wind=(0, 1))`,
	`find_best(lambda rate: {"a": rate, "b": -rate}, maximise="a", limits={"c": (1, 2), "d": (1, 2)}, ` +
		`rate=(30, 32))`,
	`find_best(lambda rate: {"a": rate, "b": -rate, "c": 2 * rate}, maximise="a", limits={"b": (0, 1), ` +
		`"c": (0, 1)}, rate=(30, 32))`,
	`show(sensitivity(lambda rate=31, wind=0: rate * wind * wind, wind=(-2, 3), rate=(30, 32)))`,
	`uncertainty(lambda wind: {"a": wind} if wind < 0 else {"b": wind, "c": 1}, draws=20, wind=(-2, 2))`,
	`doubt("blades", "airs")`,
	`attempt(lambda a, b: a)`,
	`equal_load(calm, sculls, match="heaviness")`,
	`explore(lambda a, b: a, a=[2, 1], b=[1])`,
	`plot(table([{"a": 1, "b": 2}]), x="c", y=["d", "e"])`,
	`plot_curves(calm, y=["handle_forc", "boat_spee"])`,
	`ask("?", answer="a", choices=["b", "c"])`,
	`note("{calm.sped} and {clam.speed}")`,
	`note("{place}", places=1, plaze=2, plane=3, plate=4, glace=5)`,
	`result("x", None)`,
	`calm.trace("angel", "handle_forse")`,
	`table([{"a": 1}, {"b": [1]}])`,
	`table([{"a": 1, "b": 2}]).one(c=1, d=2)`,
	`table([{"a": 1, "b": 2}]).rename(a="b c", b="1")`,
	`judge(table([{"piece (-)": 1, "setting": "long", "distance (m)": 500, "time (s)": 110}]), a="lng", ` +
		`b="shrt")`,
	`trial_plan(settings=["a"], pieces=3)`,
	`calibrate(lambda power: calm, {"sped": about(4.9, 0.1), "spee": about(4.9, 0.1)}, power=(300, 400))`,
	`calibrate(lambda power: calm, {"speed": 4.9}, power=(300, 400))`,
	// names that several are equally near to, and names that nothing has
	`show(clm)`, `show(sculs)`, `rowe(1)`, `calm.hevy`, `calm.out`, `sculls.bord`, `fitt(1)`, `mi(1)`,
	"x = nothing_a\ny = nothing_b\nz = nothing_c",
	`show(vary(lambda outboard: calm.change(oar=sculls.change(outboard=outboard)), outboard=[80, 81, 330, ` +
		`331, 198]))`,
	"oar(length=300, inboard=95, blade=\"scull hatchet\")\noar(length=301, inboard=96, blade=\"scull " +
		"hatchet\")\noar(length=302, inboard=97, blade=\"scull hatchet\")",
}

// No message depends on the order of a map, which Go changes from run to run: each
// is asked twenty times and says the same each time.
func TestMessagesDoNotDependOnAMapsOrder(t *testing.T) {
	const times = 20
	for _, text := range mistakes {
		first := ""
		for n := range times {
			said := allSaid(asked(t, text+"\n"))
			if n == 0 {
				first = said
				if said == "" {
					t.Errorf("%s\nis answered with nothing", text)
					break
				}
			}
			if said != first {
				t.Errorf("%s\nsays first\n%s\nand then\n%s", text, first, said)
				break
			}
		}
	}
	// and with parameters set from outside, of which several are unknown
	const study = "a = param(\"aa\", 1)\nb = param(\"ab\", 2)\n"
	first := ""
	for n := range times {
		said := allSaid(runIn(".", study, map[string]string{"ac": "1", "ad": "2", "ae": "3", "b": "4"}))
		if n == 0 {
			first = said
		}
		if said != first || said == "" {
			t.Fatalf("unknown parameters: first\n%s\nthen\n%s", first, said)
		}
	}
}

// allSaid joins all that a run says: errors with what to type, cautions.
func allSaid(out *session.Outcome) string {
	var b strings.Builder
	for _, e := range out.Errors {
		fmt.Fprintf(&b, "%s | %s | %s | %s\n", e.Head(), e.What, e.Why, e.Type)
	}
	for _, c := range out.Document.Cautions {
		b.WriteString(c.Text + "\n")
	}
	return b.String()
}
