package builtins

import (
	"context"
	"fmt"
	"math"
	"sync"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/facts"
)

// Run runs a study with every word of the language, and completes what it told:
// the defaults that were in use join the assumptions, the standing cautions the
// study's own. A config from Configure is taken as it is, so that the caller can
// ask Rowed of it afterwards.
func Run(ctx context.Context, name string, text []byte, cfg session.Config) *session.Outcome {
	if cfg.Library == nil {
		cfg = Configure(cfg)
	}
	out := session.Run(ctx, name, text, cfg)
	Complete(out.Document, cfg)
	return out
}

// Configure gives a session the language and a fresh book of what is in use.
func Configure(cfg session.Config) session.Config {
	cfg.Library = Library()
	cfg.Extra = &book{inUse: map[defaults]bool{}}
	return cfg
}

// book notes, over one run, what the end of the page has to say: defaults in
// use, who rowed, how fast. Safe for many threads.
type book struct {
	mu       sync.Mutex
	inUse    map[defaults]bool
	strokes  int     // asked for, each counted once
	recalled int     // of them out of the store
	speed    float64 // lowest, m/s
	category string  // the most careful category that rowed
	windy    bool
	drawn    bool   // an uncertainty was drawn: verdicts stand beside the caution on the model
	subject  string // crew and boat of the first stroke, "" where several crews row

	asked []Request // of the prompt's words
}

// defaults names a fact of the table of defaults.
type defaults struct{ where, name, of string }

// Rowed counts the strokes a run asked for, and those of them that were computed
// before.
func Rowed(cfg session.Config) (strokes, fromStore int) {
	b, ok := cfg.Extra.(*book)
	if !ok {
		return 0, 0
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.strokes, b.recalled
}

// bookOf gives the book of a thread's run, nil outside one.
func bookOf(thread *starlark.Thread) *book {
	if s := session.Of(thread); s != nil {
		b, _ := s.Config().Extra.(*book)
		return b
	}
	return nil
}

// recall counts a stroke out of the store.
func (b *book) recall() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.recalled++
}

// used notes which of these defaults a call rests on: those it was not given.
func used(c *lang.Call, where, of string, names ...string) {
	b := bookOf(c.Thread)
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, name := range names {
		if takes(c.Record, name) && c.Record.Name == where && c.Given(name) {
			continue
		}
		b.inUse[defaults{where, name, of}] = true
	}
}

func takes(r *lang.Record, name string) bool {
	for i := range r.Params {
		if r.Params[i].Name == name {
			return true
		}
	}
	return false
}

// drew notes that an uncertainty was drawn.
func drew(c *lang.Call) {
	if b := bookOf(c.Thread); b != nil {
		b.mu.Lock()
		b.drawn = true
		b.mu.Unlock()
	}
}

// rowed notes a stroke.
func rowed(c *lang.Call, s *strokeValue) {
	b := bookOf(c.Thread)
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.strokes++
	if b.speed == 0 || s.Speed < b.speed {
		b.speed = s.Speed // the slowest: the same whatever the cores
	}
	if k := s.crew.category(); b.category == "" || seatCategory(k, b.category) > 0 {
		b.category = k
	}
	b.windy = b.windy || s.Problem.Wind != 0
	switch who := subjectOf(s); {
	case b.strokes == 1:
		b.subject = who
	case who != b.subject:
		b.subject = ""
	}
}

// subjectOf says who a stroke is about: "Otters, 4x".
func subjectOf(s *strokeValue) string {
	if s.crew.name == "" {
		return s.hull.Boat
	}
	return s.crew.name + ", " + s.hull.Boat
}

// Complete adds to a document what its run rested on and what its reader must
// be told. It may be called again after more was told, as at the prompt.
func Complete(doc *document.Document, cfg session.Config) {
	b, ok := cfg.Extra.(*book)
	if !ok {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	doc.Subject, doc.Computed = b.subject, b.computed()
	doc.Assumptions = append(doc.Assumptions, b.assumptions()...)
	doc.Cautions = append(b.load(), append(doc.Cautions, b.standing()...)...)
}

// computed says in a paragraph how the numbers came about.
func (b *book) computed() string {
	if b.strokes == 0 {
		return ""
	}
	strokes := fmt.Sprintf("%d strokes were", b.strokes)
	if b.strokes == 1 {
		strokes = "One stroke was"
	}
	return strokes + " rowed: the water's force on strips of the blade, the oar, the bodies on the slide and the hull are followed through " +
		"one stroke, again and again until the boat's speed ends as it began and what was to be held is held. " +
		"Left out are waves that change with speed, sideways forces, yaw, pitch and heave, and the way of the blade up and down."
}

// assumptions lists the defaults in use, in the order of the table of defaults.
func (b *book) assumptions() []document.Assumption {
	var out []document.Assumption
	for _, f := range facts.All() {
		if !b.uses(f) {
			continue
		}
		what := f.Where + " " + f.Name
		if f.For != "" {
			what = f.For + " " + f.Name
		}
		value := show(f.Value, -1)
		if f.Spanned() {
			value += fmt.Sprintf(" (%s to %s)", show(f.Low, -1), show(f.High, -1))
		}
		unit := f.Unit
		if unit == "m^⅓" { // a length for each cube root of a kilogram
			value, unit = value+" times the cube root of the mass", "m"
		}
		out = append(out, document.Assumption{What: spaced(what), Value: value, Unit: unit, Source: f.Source})
	}
	return out
}

// uses says whether a fact was in use: noted for its kind, or noted for a kind
// that has no fact of its own.
func (b *book) uses(f facts.Fact) bool {
	if b.inUse[defaults{f.Where, f.Name, f.For}] {
		return true
	}
	if f.For != "" {
		return false
	}
	for d := range b.inUse {
		if d.where == f.Where && d.name == f.Name {
			if closer, ok := facts.Find(d.where, d.name, d.of); ok && closer.For == "" {
				return true
			}
		}
	}
	return false
}

// load is the caution that comes first where those in the boat need more care.
func (b *book) load() []document.Caution {
	var who string
	switch b.category {
	case "junior":
		who = "juniors"
	case "novice":
		who = "novices"
	case "masters":
		who = "masters"
	case "returning":
		who = "rowers coming back from injury"
	default:
		return nil
	}
	return []document.Caution{{Text: "Load: with " + who + " lighter first, in small steps; a heavier oar is held longer by back and ribs. Pain: stop and see a clinician. The local code, coaches and clinicians decide, not this tool."}}
}

// standing are the cautions of every comparison of computed strokes.
func (b *book) standing() []document.Caution {
	var out []document.Caution
	if b.strokes == 0 {
		return nil
	}
	if b.windy {
		out = append(out, document.Caution{Text: "Wind is a plain drag area here: measured wind effects are half as large again as the model's."})
	}
	if b.strokes > 1 {
		half := math.Round(b.speed*5) / 1000
		whatever := ""
		if b.drawn {
			whatever = ", however sure the draws are: they move its inputs, not the model"
		}
		out = append(out, document.Caution{Text: "Speeds nearer than 0.5 % (here " + show(half, 3) + " m/s) lie within what the model may be wrong by" + whatever + "."})
	}
	return out
}

func spaced(name string) string {
	out := []byte(name)
	for i, c := range out {
		if c == '_' {
			out[i] = ' '
		}
	}
	return string(out)
}
