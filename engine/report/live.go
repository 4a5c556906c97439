package report

import (
	"html/template"
	"io"

	_ "embed"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/typeset"
)

// A live page is the page with the engine in it: its numbers can be changed, and the
// study is run again in the reader's browser. Without scripts it reads as the page.

var (
	//go:embed assets/live.css
	liveStyle string
	//go:embed assets/live.js
	liveScript string
	//go:embed assets/worker.js
	workerScript string
	//go:embed assets/unlzma.js
	unpackScript string
)

// Control is one parameter that the reader may set.
type Control struct {
	Name, Unit, Help string
	Value            string   // in force, as it is typed
	Number, Flag     bool     // else a text
	Low, High        string   // "" where the study sets no limit
	Step             string   // of the slider, where both limits are there
	Choices          []string // the only values there are
}

// Live is what a live page carries beside the page.
type Live struct {
	Controls []Control
	State    any    // of the study, for the scripts: marshalled as JSON
	Loader   string // the script that Go's programs for a browser are started with
	Engine   string // the engine, packed, in characters that no markup is made of
}

// WriteLive writes the document as a live page. All scripts stand in it by hash; the
// engine runs in a worker of its own, which the policy lets no request leave.
func WriteLive(w io.Writer, doc *document.Document, live Live) error {
	p := newPage(doc)
	p.numbers = numbersOf(live.Controls)
	p.carries = &live
	_, err := io.WriteString(w, typeset.Clean(string(p.html())))
	return err
}

// Parts is a page in pieces, for one that stands in a browser already.
type Parts struct {
	Title string // of the window
	Body  string // all that is told, marked up
	Data  string // JSON that the page's scripts read
}

// PartsOf makes the page anew, with its controls, for the live page to take over.
func PartsOf(doc *document.Document, controls []Control) Parts {
	p := newPage(doc)
	p.numbers = numbersOf(controls)
	return Parts{Title: p.title(), Body: typeset.Clean(string(p.body())), Data: p.data(true)}
}

func numbersOf(controls []Control) template.HTML { return fill("numbers", controls) }

// carried is what stands behind a live page's own script, none of it shown. What is no
// script that the browser runs by itself counts as text there, and is markup already.
type carried struct {
	Text                   template.HTML // the study's text, to be changed
	State                  template.JS
	Worker, Loader, Engine template.HTML
}

func (p *page) carried() *carried {
	return &carried{Text: fill("text", nil), State: template.JS(asJSON(p.carries.State)),
		Worker: template.HTML(unpackScript + workerScript), Loader: template.HTML(p.carries.Loader),
		Engine: template.HTML(p.carries.Engine)}
}

// liveHead gives what a live page needs beside an ordinary one: every style and script
// a changed study could come to need, so that their hashes are fixed in the policy.
func (p *page) liveHead() (style, script string) {
	style = pageStyle
	for _, k := range figure.Kinds {
		if k.Live != nil {
			style, script = style+k.Live.Style, script+k.Live.Script
		}
	}
	style, script = style+slidersStyle+cardStyle, script+slidersScript+turnScript
	if p.lesson {
		style, script = style+lessonStyle, script+lessonScript
	}
	// the page's own scripts run again whenever the page was made anew; what they listen
	// to on the window ends with the page they were run for
	script = "'use strict';\nfunction view(addEventListener) {\n" + startScript + script + "}\n" + liveScript
	return style + liveStyle, script
}
