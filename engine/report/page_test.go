package report

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/typeset"
)

func written(t *testing.T, doc *document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := WritePage(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	tagPattern    = regexp.MustCompile(`<[a-zA-Z][^>]*>`)
	eventPattern  = regexp.MustCompile(`(?i)\s(on\w+|style|src|srcset|action|formaction|xlink:href|data)=`)
	hrefPattern   = regexp.MustCompile(`href="([^"]*)"`)
	policyPattern = regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`)
)

// One style, at most one script, each named by its hash in a policy that lets
// nothing else in; no attribute that the hashes forbid; no address outside the
// page; the same bytes each time; small.
func TestPageIsOneShutFile(t *testing.T) {
	for name, doc := range allDocs() {
		page := written(t, doc)
		if page != written(t, allDocs()[name]) {
			t.Errorf("%s: not the same bytes twice", name)
		}
		if len(page) > EasyPage/4 {
			t.Errorf("%s: %d kB is much for a page of this size", name, len(page)>>10)
		}
		policy := policyPattern.FindStringSubmatch(page)
		if policy == nil {
			t.Fatalf("%s: no policy", name)
		}
		want := "default-src 'none'; style-src '" + hashOf(between(t, page, "<style>", "</style>")) + "'; "
		scripts := strings.Count(page, "<script>")
		if scripts == 1 {
			want += "script-src '" + hashOf(between(t, page, "<script>", "</script>")) + "'; "
		}
		want += "base-uri 'none'; form-action 'none'"
		if policy[1] != want {
			t.Errorf("%s: policy %q, want %q", name, policy[1], want)
		}
		needed := name == "lesson" || name == "path" || name == "explore" || name == "hostile"
		if scripts > 1 || (scripts == 1) != needed || strings.Count(page, "<style>") != 1 || strings.Count(page, "<script type=\"application/json\"") != scripts {
			t.Errorf("%s: %d scripts, needed: %v", name, scripts, needed)
		}
		for _, tag := range tagPattern.FindAllString(page, -1) {
			inside := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(tag, `""`)
			if m := eventPattern.FindString(inside); m != "" {
				t.Errorf("%s: %s in %s", name, m, tag)
			}
			if h := hrefPattern.FindStringSubmatch(tag); h != nil && !strings.HasPrefix(h[1], "#") {
				t.Errorf("%s leads to %s", name, h[1])
			}
		}
	}
}

func between(t *testing.T, s, from, to string) string {
	t.Helper()
	_, s, ok := strings.Cut(s, from)
	if !ok {
		t.Fatalf("no %s", from)
	}
	s, _, _ = strings.Cut(s, to)
	return s
}

// Text of every kind stays text, wherever it stands.
func TestHostileTextStaysText(t *testing.T) {
	page := written(t, hostileDoc())
	script := between(t, page, "<script>", "</script>")
	rest := strings.Replace(page, script, "", 1)
	for _, bad := range []string{"<script>alert", "<img", "<svg onload", "<div onclick", "alert(1)</script>", "href=\"javascript", "\x00", "\x07"} {
		if strings.Contains(rest, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(rest, "&lt;script&gt;alert(1)&lt;/script&gt;") {
		t.Error("the text was dropped, not shown")
	}
	if n := strings.Count(rest, "</script>"); n != 2 { // the data's own end, the script's own end
		t.Errorf("%d ends of scripts", n)
	}
	if !strings.Contains(rest, "javascript:alert(4)") || !strings.Contains(rest, "http://example.com/p.png") {
		t.Error("a link's address is not told as text")
	}
}

// The frame's order, and the two boxes that never vanish.
func TestFrameInOrder(t *testing.T) {
	page := written(t, comparisonDoc())
	at := 0
	for _, want := range []string{"class=\"run\"", "<h1>", "class=\"answer\"", "What changes", "class=\"key\"", "Handle force and handle speed over the arc", "What moves the answer",
		"Before you trust it", "None found for this study.", "How it was computed", "Assumptions, every default in use", "The study’s text", "Again: <code>thole run b_equal_load.star"} {
		i := strings.Index(page[at:], want)
		if i < 0 {
			t.Fatalf("no %q, or before its turn", want)
		}
		at += i
	}
	if empty := written(t, &document.Document{}); !strings.Contains(empty, "None found for this study.") || !strings.Contains(empty, "This study gives no answer") {
		t.Error("an empty study's page lacks its boxes")
	}
}

// Figures without data are a sentence in their place.
func TestNothingToDraw(t *testing.T) {
	page := written(t, emptyDoc())
	for _, want := range []string{"Left over holds no lines", "its table holds no lines", "every value in it is blank", `its table has no column &#34;inboard&#34;`, "it has no path", "there is no stroke to move", "No sliders: there is nothing to explore"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, "<svg") || strings.Contains(page, "NaN") {
		t.Error("something was drawn out of nothing")
	}
}

// The largest grid that sliders may have fits into a page; what does not fit is
// refused in words, and nothing is written.
func TestSizes(t *testing.T) {
	grid := func(fields int) *document.Document {
		e := &document.Explore{Base: []int{0, 0, 0}}
		for k, n := range []int{25, 20, 20} {
			a := document.Axis{Name: fmt.Sprint("axis", k), Unit: "cm", Digits: 0}
			for i := range n {
				a.Values = append(a.Values, float64(i))
			}
			e.Axes = append(e.Axes, a)
		}
		for k := range fields {
			e.Fields = append(e.Fields, document.Field{Name: fmt.Sprint("field", k), Unit: "m/s", Digits: 3, Change: 3})
		}
		for i := range 10_000 {
			var s []float64
			for k := range fields {
				s = append(s, 4+math.Sin(float64(i*(k+1)))/3)
			}
			e.States, e.Reasons = append(e.States, s), append(e.Reasons, "")
		}
		return &document.Document{Title: "How large?", Blocks: []document.Block{e}}
	}
	if page := written(t, grid(8)); len(page) > EasyPage {
		t.Errorf("10 000 states of 8 fields make %d kB", len(page)>>10)
	} else {
		t.Logf("10 000 states of 8 fields: %d kB", len(page)>>10)
	}
	var b bytes.Buffer
	if err := WritePage(&b, grid(16)); err != nil || b.Len() < EasyPage || !strings.HasSuffix(b.String(),
		"</html>\n") { // the work is done: a large page is better than none
		t.Errorf("a large page: %v, %d bytes written", err, b.Len())
	}
	if err := WritePage(failing{}, sweepDoc()); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("a failed write gives %v", err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// A table of any length leaves a page: head and tail of it, and a word on the rest.
func TestLongTableIsCut(t *testing.T) {
	long := tableOf(numbers("line", ""), numbers("speed", "m/s"))
	for i := range 11_055 {
		long.Columns[0].Nums = append(long.Columns[0].Nums, float64(i))
		long.Columns[1].Nums = append(long.Columns[1].Nums, 4+float64(i)/1e5)
	}
	page := written(t, &document.Document{Title: "How long?", Blocks: []document.Block{&document.Shown{Name: "all", Table: long}}})
	for _, want := range []string{"All, 11055 lines", ">149</th>", ">10855 more lines, all in the .csv beside this page<", ">11005</th>", ">11054</th>"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, ">150</th>") || strings.Contains(page, ">11004</th>") {
		t.Error("more lines than were promised")
	}
}

// An answer's numbers stand in bold, its words stay words; a note's words get the
// page's signs, its code does not.
func TestAnswerAndNote(t *testing.T) {
	page := written(t, &document.Document{Answer: "Set A-2: <i>x</i> -6.6 cm & 5"})
	if want := "Set A-2: &lt;i&gt;x&lt;/i&gt; <b>−6.6\u202fcm</b> &amp; <b>5</b></p>"; !strings.Contains(page, want) {
		t.Errorf("no %q", want)
	}
	if got := markdown("a `-5 cm` of -5 cm\nand <b>5 cm</b>"); got != "<p>a <code>-5 cm</code> of −5\u202fcm\nand &lt;b&gt;5\u202fcm&lt;/b&gt;</p>\n" {
		t.Errorf("note: %q", got)
	}
}

// What a terminal prints of a figure bears no sign of print.
func TestSentencesAreTyped(t *testing.T) {
	for name, doc := range allDocs() {
		for _, b := range doc.Blocks {
			f, ok := b.(*document.Figure)
			if !ok || figure.Empty(f) != "" {
				continue
			}
			f.Sentence = ""
			if s := figure.Sentence(f); strings.ContainsAny(s, typeset.Minus+typeset.Thin+"°’") || strings.Contains(s, "NaN") || s == "." {
				t.Errorf("%s, %s: a terminal would print %q", name, f.Kind, s)
			}
		}
	}
}
