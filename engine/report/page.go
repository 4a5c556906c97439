package report

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/typeset"
)

// EasyPage is the size in bytes up to which a page opens easily from a stick on any
// phone. A larger one is written all the same, and its caller says how large it is.
const EasyPage = 1 << 20

// WritePage writes the document as one HTML file that opens from disk with no
// network: one style, at most one script (only where sliders, questions or the
// moving picture need it), both named by their hash in the page's own policy,
// and all text from data escaped. The page is made whole first, then written.
func WritePage(w io.Writer, doc *document.Document) error {
	// signs that HTML does not allow at all are dropped from the whole
	_, err := io.WriteString(w, typeset.Clean(string(newPage(doc).html())))
	return err
}

var (
	//go:embed assets/page.css
	pageStyle string
	//go:embed assets/lesson.css
	lessonStyle string
	//go:embed assets/sliders.css
	slidersStyle string
	//go:embed assets/card.css
	cardStyle string

	//go:embed assets/start.js
	startScript string
	//go:embed assets/turn.js
	turnScript string
	//go:embed assets/sliders.js
	slidersScript string
	//go:embed assets/lesson.js
	lessonScript string
)

// page is one page in the making: what its parts were counted to, and what it
// turned out to need.
type page struct {
	doc    *document.Document
	lesson bool // teaching view: one section a screen

	figures int // figures so far, for their numbers
	ids     int // drawings so far, for ids that are unique on the page
	asks    int
	cards   bool // something of the trailer's cards stands on it
	turns   bool // a figure has a second drawing, one key away

	live map[string][]any // what the scripts of moving figures and sliders read, by its key

	numbers template.HTML // controls of a live page, "" of another
	carries *Live         // what a live page holds beside what is told, nil of another
}

func newPage(doc *document.Document) *page {
	p := &page{doc: doc, live: map[string][]any{}}
	for _, b := range doc.Blocks {
		if _, ok := b.(*document.Ask); ok {
			p.lesson = true
		}
	}
	return p
}

// id gives the next drawing's name on this page.
func (p *page) id(prefix string) string {
	p.ids++
	return fmt.Sprintf("%s%d", prefix, p.ids)
}

// html makes the whole page: the body first, because it decides which style and
// script the head has to name.
func (p *page) html() template.HTML {
	view := struct {
		Policy       template.HTMLAttr
		Title        string
		Body         template.HTML
		Style        template.CSS
		Script, Data template.JS
		Live         *carried
	}{Title: p.title()}
	view.Body = p.body()
	style, script, computes := "", "", ""
	if p.carries != nil {
		style, script = p.liveHead()
		computes = " 'wasm-unsafe-eval'; worker-src blob:"
		view.Live = p.carried()
	} else {
		style, script = p.head()
	}
	policy := "default-src 'none'; style-src '" + hashOf(style) + "'; "
	if script != "" {
		policy += "script-src '" + hashOf(script) + "'" + computes + "; "
	}
	policy += "base-uri 'none'; form-action 'none'"
	view.Policy = template.HTMLAttr(`content="` + policy + `"`) // no text from data in it
	view.Style, view.Script = template.CSS(style), template.JS(script)
	view.Data = template.JS(p.data(p.carries != nil))
	return fill("page", view)
}

// body writes what is told, as a lesson's screens or as a sheet.
func (p *page) body() template.HTML {
	if p.lesson {
		return p.lessonBody()
	}
	return p.sheetBody()
}

// head gives the style and the script of a page that was written: those of what stands on it.
func (p *page) head() (style, script string) {
	style = pageStyle
	for _, k := range figure.Kinds {
		if k.Live != nil && len(p.live[k.Live.Key]) > 0 {
			style, script = style+k.Live.Style, script+k.Live.Script
		}
	}
	if len(p.live[explores]) > 0 {
		style, script = style+slidersStyle, script+slidersScript
	}
	if p.cards {
		style += cardStyle
	}
	if p.turns {
		script += turnScript
	}
	if p.lesson {
		style, script = style+lessonStyle, script+lessonScript
	}
	if script != "" {
		script = startScript + script
	}
	return style, script
}

// explores is the key of the sliders' data.
const explores = "explores"

// data is what the scripts read, as JSON; of a live page every key is there, because any
// of its scripts may run.
func (p *page) data(all bool) string {
	keys := []string{}
	for _, k := range figure.Kinds {
		if k.Live != nil {
			keys = append(keys, k.Live.Key)
		}
	}
	var data []string
	for _, key := range append(keys, explores) {
		items := p.live[key]
		if len(items) == 0 && !all {
			continue
		}
		data = append(data, asJSON(key)+":"+asJSON(append([]any{}, items...)))
	}
	return "{" + strings.Join(data, ",") + "}"
}

// asJSON is what a script reads. Marshal writes <, > and & as escapes, so that no
// text in it can close the element.
func asJSON(data any) string {
	out, err := json.Marshal(data)
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

// block writes one thing told. under is the heading it stands under, so that a
// table is not named twice.
func (p *page) block(b document.Block, under string) template.HTML {
	switch b := b.(type) {
	case *document.Note:
		return fill("note", markdown(b.Markdown))
	case *document.Shown:
		return p.shown(b, under)
	case *document.Figure:
		return p.figure(b)
	case *document.Ask:
		return p.ask(b)
	case *document.RigCard:
		return p.rigCard(b)
	case *document.Explore:
		return p.explore(b)
	}
	panic(fmt.Sprintf("a block of type %T", b)) // a new kind of block needs its line here
}
