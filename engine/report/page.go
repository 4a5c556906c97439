package report

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"thole/engine/document"
	"thole/engine/typeset"
)

// MaxPage is the size in bytes that no page exceeds: it has to open from a stick
// on any phone.
const MaxPage = 1 << 20

// WritePage writes the document as one HTML file that opens from disk with no
// network: one style, at most one script (only where sliders, questions or the
// moving picture need it), both named by their hash in the page's own policy,
// and all text from data escaped. Nothing is written when it returns an error:
// the page is made whole first, and refused when it would exceed MaxPage.
func WritePage(w io.Writer, doc *document.Document) error {
	out := newPage(doc).html()
	if len(out) > MaxPage {
		return fmt.Errorf("the page would be %d kB, more than %d: show fewer or smaller tables, or a smaller grid of explore", len(out)>>10, MaxPage>>10)
	}
	_, err := io.WriteString(w, out)
	return err
}

var (
	//go:embed assets/page.css
	pageStyle string
	//go:embed assets/lesson.css
	lessonStyle string
	//go:embed assets/motion.css
	motionStyle string
	//go:embed assets/sliders.css
	slidersStyle string
	//go:embed assets/card.css
	cardStyle string

	//go:embed assets/start.js
	startScript string
	//go:embed assets/motion.js
	motionScript string
	//go:embed assets/sliders.js
	slidersScript string
	//go:embed assets/lesson.js
	lessonScript string
)

// page is one page in the making: what was written so far, what its parts were
// counted to, and what it turned out to need.
type page struct {
	doc    *document.Document
	lesson bool // teaching view: one section a screen

	strings.Builder
	figures int // figures so far, for their numbers
	ids     int // drawings so far, for ids that are unique on the page

	motions  []motionData  // for the script
	explores []exploreData // for the script
	asks     int
	cards    int
	taped    bool // the tape was drawn
}

func newPage(doc *document.Document) *page {
	p := &page{doc: doc}
	for _, b := range doc.Blocks {
		if _, ok := b.(*document.Ask); ok {
			p.lesson = true
		}
	}
	return p
}

// put writes its pieces as they are: markup, or text that was escaped.
func (p *page) put(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
}

// id gives the next drawing's name on this page.
func (p *page) id(prefix string) string {
	p.ids++
	return fmt.Sprintf("%s%d", prefix, p.ids)
}

// html makes the whole page: the body first, because it decides which style and
// script the head has to name.
func (p *page) html() string {
	if p.lesson {
		p.lessonBody()
	} else {
		p.sheetBody()
	}
	body := p.String()

	style := pageStyle
	script := ""
	if len(p.motions) > 0 {
		style += motionStyle
		script += motionScript
	}
	if len(p.explores) > 0 {
		style += slidersStyle
		script += slidersScript
	}
	if p.cards > 0 {
		style += cardStyle
	}
	if p.lesson {
		style += lessonStyle
		script += lessonScript
	}
	policy := "default-src 'none'; style-src '" + hashOf(style) + "'; "
	if script != "" {
		script = startScript + script
		policy += "script-src '" + hashOf(script) + "'; "
	}
	policy += "base-uri 'none'; form-action 'none'"

	var b strings.Builder
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	b.WriteString(`<meta http-equiv="Content-Security-Policy" content="` + policy + "\">\n")
	b.WriteString("<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n")
	b.WriteString("<title>" + esc(p.title()) + "</title>\n<style>" + style + "</style>\n</head>\n")
	b.WriteString(body)
	if script != "" {
		b.WriteString(`<script type="application/json" id="data">` + p.data() + "</script>\n")
		b.WriteString("<script>" + script + "</script>\n")
	}
	b.WriteString("</body>\n</html>\n")
	return b.String()
}

// data is what the script reads. Marshal writes <, > and & as escapes, so no
// text in it can close the element.
func (p *page) data() string {
	out, err := json.Marshal(struct {
		Motions  []motionData  `json:"motions,omitempty"`
		Explores []exploreData `json:"explores,omitempty"`
	}{p.motions, p.explores})
	if err != nil {
		panic(err) // numbers and texts only: NaN were left out where the data were made
	}
	return string(out)
}

func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// title is the question, or the study's name where it asked none.
func (p *page) title() string {
	if p.doc.Title != "" {
		return typeset.Text(typeset.Clean(p.doc.Title))
	}
	if p.doc.Study != "" {
		return p.doc.Study
	}
	return "Untitled study"
}
