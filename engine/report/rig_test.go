package report

import (
	"fmt"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/figure/rigtest"
)

// rigPage draws every boat's rig, alone and with what is proposed over it.
func rigPage(boats ...string) *document.Document {
	doc := &document.Document{Title: "What does the rigger set?", Answer: "Boats of an invented club."}
	for _, boat := range boats {
		one, two := []document.Rigged{rigtest.Usual(boat)}, []document.Rigged{rigtest.Usual(boat),
			rigtest.Changed(boat)}
		for _, rigs := range [][]document.Rigged{one, two} {
			doc.Blocks = append(doc.Blocks, &document.Figure{Kind: figure.Rig, Name: "rig of a " + boat,
				Rigs: rigs, Table: figure.RigTable(rigs)})
		}
	}
	return doc
}

// No label touches another in a real browser, by its own measure of the letters, in
// eight boats at 320 and 1280 px, and none runs out of its drawing.
func TestRigLabelsApart(t *testing.T) {
	w := openTab(t)
	w.see(1280, 900, "light", "reduce")
	w.open(rigPage(rigtest.Boats...), "")
	for _, width := range []int64{320, 1280} {
		w.see(width, 900, "light", "reduce")
		touching := evaluate[[]string](w, `[...document.querySelectorAll("figure svg")].filter(s=>s.getBoundingClientRect().width>0).flatMap((s,n)=>{
			const sheet=s.viewBox.baseVal, found=[], seen=[];
			for(const t of s.querySelectorAll("text")){
				const b=t.getBBox(), cut=b.height*.12, r=[b.x,b.y+cut,b.x+b.width,b.y+b.height-cut];
				if(r[0]<-.5||r[1]<-.5||r[2]>sheet.width+.5||r[3]>sheet.height+.5) found.push(n+": "+t.textContent+" leaves the drawing");
				for(const [o,q] of seen) if(r[0]<q[2]&&q[0]<r[2]&&r[1]<q[3]&&q[1]<r[3]) found.push(n+": "+t.textContent+" touches "+o);
				seen.push([t.textContent,r]);
			}
			if(seen.length<8) found.push(n+": only "+seen.length+" labels");
			return found})`)
		if len(touching) > 0 {
			t.Errorf("at %d px:\n%s", width, strings.Join(touching, "\n"))
		}
		if n := evaluate[int](w,
			`[...document.querySelectorAll("figure svg")].filter(s=>s.getBoundingClientRect().width>0).length`); n != 2*len(rigtest.Boats) {
			t.Errorf("at %d px %d drawings are seen", width, n)
		}
		if over := evaluate[string](w,
			`document.documentElement.scrollWidth+" of "+innerWidth`); over != fmt.Sprintf("%d of %d",
			width, width) {
			t.Errorf("the page scrolls sideways: %s", over)
		}
	}
}
