package report

import (
	"bytes"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

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

// A card with everything a rigger sets is one A4 sheet a boat: the head and the line to
// sign lie on one page, for an eight whose seats differ and whose crew asks for care.
func TestRigCardOnOneSheet(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		missing(t, "pdftotext")
	}
	doc := &document.Document{Title: "Cards of the season"}
	for _, boat := range rigtest.Boats {
		doc.Blocks = append(doc.Blocks, fullCard(boat))
	}
	w := openTab(t)
	w.open(doc, "")
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
	heads := 0
	for i, sheet := range strings.Split(string(out), "\f") {
		n := strings.Count(sheet, "rigging card")
		heads += n
		if n > 0 && (!strings.Contains(sheet, "159.0") || strings.Contains(sheet, "ratios")) {
			t.Errorf("sheet %d has figures of the engine, or not what to set", i+1)
		}
		if n > 1 || n != strings.Count(sheet, "Re-measured by") || n > 0 && !strings.Contains(sheet, "50 cm") {
			t.Errorf("sheet %d has %d heads of cards, %d lines to sign, and the drawing: %v", i+1, n,
				strings.Count(sheet, "Re-measured by"), strings.Contains(sheet, "50 cm"))
		}
	}
	if heads != len(rigtest.Boats) {
		t.Errorf("%d cards printed", heads)
	}
}

// fullCard is a card as full as cards get.
func fullCard(boat string) *document.RigCard {
	inPrint := []string{"category", "seats", "bow's blade", "note"}
	rows := []string{"category", "seats", "bow's oar", "bow's blade", "bow's rig", "bow's ratios", "angles", "rowed", "note"}
	c := &document.RigCard{Title: "Herons of " + boat, Side: "Herons of " + boat + ", set A and B",
		Drawing: &document.Figure{Kind: figure.Rig, Rigs: []document.Rigged{rigtest.Usual(boat)}},
		Cautions: []string{strings.Repeat("With juniors lighter first, in small steps. ", 4),
			"Length 380.0 cm lies outside the usual 366 to 378."},
		Foot: []string{"On the water: a launch beside the crew; cold water: the local rules on when not to row.", "One change at a time; then overlap, height and pitch once more.",
			"Checked: bolts   gates   collars   heel ties   spares", "Set by ______   date ______   Re-measured by ______   date ______"}}
	for _, label := range rows {
		item := document.Item{Label: label, Value: strings.Repeat("a number and its unit 12.0 cm   ", 3)}
		if slices.Contains(inPrint, label) {
			c.Rows = append(c.Rows, item)
		} else {
			c.Computed = append(c.Computed, item)
		}
	}
	c.Doubtful = []string{"seat 1, span: 159.2 found, 158.0 cm in the others"}
	for _, label := range []string{"span", "inboard", "length", "height port", "height starboard", "pitch", "outward",
		"through", "stretcher", "oars", "collar reaches"} {
		c.Columns = append(c.Columns, document.Item{Label: label, Unit: "cm"})
	}
	for i := range int(boat[0] - '0') {
		c.Seats = append(c.Seats, fmt.Sprint(i+1, " stroke P"))
		c.Known = append(c.Known, strings.Split("159.0 88.0 288.0 15.5 16.5 4.0 1.0 8.0 46.0 5-port 85.0–89.5", " "))
	}
	return c
}
