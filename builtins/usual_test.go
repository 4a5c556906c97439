package builtins

import (
	"strings"
	"testing"

	"thole/engine/document"
)

// An answer beyond the usual says what the usual range reaches instead; one at its edge says
// that; one inside says nothing.
func TestSearchesStayUsual(t *testing.T) {
	for _, tc := range []struct {
		search, note string
		usual        float64 // what .usual has of the input
	}{
		{`find(collar, of="heaviness", target=calm.heaviness, inboard=(86, 95))`,
			"cm lies beyond what is usual: the usual range, to inboard 89.0 cm, reaches heaviness", 89},
		{`find(long, of="heaviness", target=0.94 * calm.heaviness, length=(270, 290))`,
			"cm lies beyond what is usual: the usual range, to length 281.0 cm, reaches heaviness", 281},
		{`find(small, of="heaviness", target=0.94 * calm.heaviness, area=(300, 900))`,
			"the usual range, to area 700 cm², reaches heaviness", 700},
		{`find(lambda length: long(length).heaviness, target=long(281.04).heaviness, length=(270, 290))`,
			"length 281.0 cm is at the edge of the usual range", 281.04},
		{`find(long, of="heaviness", target=0.98 * calm.heaviness, length=(270, 290))`, "", 284.7},
		{`find_best(long, maximise="speed", limits={"heaviness": (None, long(296).heaviness)}, length=(270, 300))`,
			"it lies beyond what is usual: the usual ranges reach speed", 293},
		{`find_best(collar, minimise="heaviness", inboard=(86, 89))`,
			"inboard 89.0 cm is at the edge of the usual range", 89},
	} {
		name := "length"
		for _, other := range []string{"inboard", "area"} {
			if strings.Contains(tc.search, other+"=(") {
				name = other
			}
		}
		out := asked(t, `
def collar(inboard=88): return calm.change(wind=4, oar=sculls.change(inboard=inboard))
def long(length): return calm.change(oar=sculls.change(length=length))
def small(area): return calm.change(oar=sculls.change(blade=sculls.blade.change(area=area)))
found = `+tc.search+`
note("{found.note}" if found.note else "nothing said")
result("usual", found.usual.`+name+`)
`)
		if len(out.Errors) > 0 {
			t.Errorf("%s: %v", tc.search, out.Errors)
			continue
		}
		note := out.Document.Blocks[0].(*document.Note).Markdown
		if tc.note == "" && note != "nothing said" || !strings.Contains(note, tc.note) {
			t.Errorf("%s: note %q, want %q", tc.search, note, tc.note)
		}
		near(t, tc.search, out.Document.Results[0].Value, tc.usual, 0.05)
		told := false
		for _, c := range out.Document.Cautions {
			told = told || strings.Contains(c.Text, "the usual range")
		}
		if told != (tc.note != "") {
			t.Errorf("%s: cautions %v", tc.search, out.Document.Cautions)
		}
	}
}

// An oar of equal load that nobody rows says how the usual one would load.
func TestEqualLoadBeyondTheUsual(t *testing.T) {
	r := answers(t, `
grips = sculls.change(blade=sculls.blade.change(area=900, grip=1.6))
far = equal_load(calm, grips)
result("said: " + far.note[far.note.index("length"):], far.length)
edge = calm.change(oar=grips.change(length=281), hold="speed", target=calm)
result("drive", 100 * edge.drive_time / calm.drive_time)
result("inside", len(equal_load(calm, sculls.change(blade=sculls.blade.change(area=900))).note.split("usual")))
`)
	near(t, "drive at 281 cm", r["drive"], 101.7, 0.05)
	if x := r["said: length 278.2 cm lies beyond what is usual: at 281.0 cm drive time is 101.7 % of what it was"]; x == 0 {
		t.Errorf("notes: %v", r)
	}
	near(t, "said of an oar within the usual", r["inside"], 1, 0)
}
