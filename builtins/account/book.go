// Package account keeps what one run notes of itself while it runs: the defaults
// that nobody set, how many strokes were rowed and by whom, and what the prompt's
// own words asked for. Complete turns it into the assumptions and cautions at the
// end of a page.
//
// Start with New, which makes the Book of a run, to be put into
// session.Config.Extra; the functions of the language find it through their
// thread. A Book is safe for many threads and depends on no order of theirs.
package account

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/defaults"
	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/weighing"
	"thole/engine/words"
)

// Request is what a word of the prompt asked for.
type Request struct {
	Word  string         // "help", "facts", "again", "undo", "keep"
	Of    starlark.Value // help: on what; nil: the first page
	About string         // facts: of which thing; "": those in use
	File  string         // keep
	Title string
	Over  bool
}

// Asked gives what was asked for since the last time.
func Asked(cfg session.Config) []Request {
	b, ok := cfg.Extra.(*Book)
	if !ok {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	asked := b.asked
	b.asked = nil
	return asked
}

// Ask notes what a word of the prompt asked for.
func Ask(c *lang.Call, r Request) (starlark.Value, error) {
	if b := BookOf(c.Thread); b != nil {
		r.Word = c.Record.Name
		b.mu.Lock()
		b.asked = append(b.asked, r)
		b.mu.Unlock()
	}
	return starlark.None, nil
}

// CautionsSoFar are the cautions that a study of what was rowed so far would
// end with: of load, where those in the boat need more care, and of a comparison
// of computed strokes, where one was made.
func CautionsSoFar(cfg session.Config, compared bool) []string {
	b, ok := cfg.Extra.(*Book)
	if !ok {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	var texts []string
	for _, c := range LoadCautions(b.rowed()) {
		texts = append(texts, c.Text)
	}
	if compared {
		for _, c := range b.standing() {
			texts = append(texts, c.Text)
		}
	}
	return texts
}

// Book notes, over one run, what the end of the page has to say: defaults in
// use, who rowed. Safe for many threads.
type Book struct {
	mu         sync.Mutex
	inUse      map[defaultsInUse]bool
	strokes    int             // asked for, each counted once
	recalled   int             // of them rowed before
	categories map[string]bool // of all that rowed
	loads      map[string]bool // how load changes in what was compared -> whether it rises
	loaded     map[[2]any]bool // the strokes that these lines are of
	windy      bool
	reach      bool             // somebody's hands kept their reach on another inboard
	effort     bool             // some seats' rig was changed, each rower pulling as hard as before
	weighed    bool             // a question was weighed
	machine    map[float64]bool // W that machine_power gave
	quiet      int              // strokes rowed to weigh comparisons that nobody asked to weigh
	unweighed  map[string]bool  // comparisons that were not weighed
	subject    string           // crew and boat of the first stroke, "" where several crews row

	weighings map[string]*weighing.Weighed // by Pair.Key of the strokes as set

	asked []Request // of the prompt's words
}

// New gives the empty book of a run, for session.Config.Extra.
func New() *Book {
	return &Book{inUse: map[defaultsInUse]bool{}, categories: map[string]bool{}, loads: map[string]bool{},
		unweighed: map[string]bool{}, loaded: map[[2]any]bool{}, machine: map[float64]bool{},
		weighings: map[string]*weighing.Weighed{}}
}

// defaultsInUse names one line of the table of defaults.
type defaultsInUse struct{ where, name, of string }

// Rowed counts the strokes a run asked for, and those of them that were computed
// before.
func Rowed(cfg session.Config) (strokes, fromStore int) {
	b, ok := cfg.Extra.(*Book)
	if !ok {
		return 0, 0
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.strokes, b.recalled
}

// BookOf gives the book of a thread's run, nil outside one.
func BookOf(thread *starlark.Thread) *Book {
	if s := session.Of(thread); s != nil {
		return BookIn(s.Config())
	}
	return nil
}

// BookIn gives the book of a run by its configuration, nil where it keeps none.
func BookIn(cfg session.Config) *Book {
	b, _ := cfg.Extra.(*Book)
	return b
}

// Recall counts a stroke that was rowed before.
func (b *Book) Recall() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.recalled++
}

// Used notes which of these defaults a call rests on: those it was not given.
func Used(c *lang.Call, where, of string, names ...string) {
	b := BookOf(c.Thread)
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, name := range names {
		if takes(c.Record, name) && c.Record.Name == where && c.Given(name) {
			continue
		}
		b.inUse[defaultsInUse{where, name, of}] = true
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

// KeptReach notes that hands kept their reach on an oar of another inboard.
func KeptReach(c *lang.Call) {
	if b := BookOf(c.Thread); b != nil {
		b.mu.Lock()
		b.reach = true
		b.mu.Unlock()
	}
}

// KeptEffort notes that the rig of some seats was changed, each rower's effort held.
func KeptEffort(c *lang.Call) {
	if b := BookOf(c.Thread); b != nil {
		b.mu.Lock()
		b.effort = true
		b.mu.Unlock()
	}
}

// Machine notes what machine_power gave.
func Machine(c *lang.Call, watts float64) {
	if b := BookOf(c.Thread); b != nil {
		b.mu.Lock()
		b.machine[watts] = true
		b.mu.Unlock()
	}
}

// NotMachine cautions where a machine's watts are taken for all of a rower's power.
func NotMachine(c *lang.Call, param string, watts float64) {
	b := BookOf(c.Thread)
	if b == nil {
		return
	}
	b.mu.Lock()
	machine := b.machine[watts]
	b.mu.Unlock()
	if machine {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{
			Text: table.Fixed(watts, 0) + " W are what machine_power gave: power at the handle, and this " +
				"counts " +
				"the moving of the body too",
			Why: "a machine's display has no body to move along", Type: map[string]string{
				"power": "handle_power=", "target": `hold="handle_power"`}[param],
			Key: "machine's watts", Arg: param})
	}
}

// WillRow notes a category that rows without a computed stroke, as in a trial.
func WillRow(thread *starlark.Thread, category string) {
	if b := BookOf(thread); b != nil {
		b.mu.Lock()
		b.categories[category] = true
		b.mu.Unlock()
	}
}

// AddStroke notes a stroke: in which wind, who rowed it ("Otters, 4x"), and
// the categories of all in the boat.
func AddStroke(thread *starlark.Thread, wind float64, who string, categories []string) {
	b := BookOf(thread)
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.strokes++
	for _, k := range categories {
		b.categories[k] = true
	}
	b.windy = b.windy || wind != 0
	switch {
	case b.strokes == 1:
		b.subject = who
	case who != b.subject:
		b.subject = ""
	}
}

// Complete adds to a document what its run rested on and what its reader must
// be told. It may be called again after more was told, as at the prompt.
func Complete(doc *document.Document, cfg session.Config) {
	b, ok := cfg.Extra.(*Book)
	if !ok {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	doc.Subject, doc.Computed = b.subject, b.computed()
	doc.Assumptions = append(doc.Assumptions, b.assumptions()...)
	if doc.Computed != "" {
		doc.Computed += b.foundation(doc.Assumptions)
	}
	doc.Load = b.loadLines()
	if n := len(doc.Load); n > manyLoads {
		doc.Load = append(doc.Load[:manyLoads:manyLoads], fmt.Sprintf("Load of %d more comparisons: compare "+
			"them one by one", n-manyLoads))
	}
	doc.Cautions = append(LoadCautions(b.rowed()), append(doc.Cautions, b.standing()...)...)
}

// rowed lists the categories that rowed, in the order of Categories.
func (b *Book) rowed() []string {
	return slices.DeleteFunc(slices.Clone(Categories), func(k string) bool { return !b.categories[k] })
}

// NoteLoad notes for the first line of the result, before any other, how the load of
// those who need care changes from one stroke to another; two strokes are told of once.
func (b *Book) NoteLoad(before, after any, line string, rises bool) {
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if pair := [2]any{before, after}; !b.loaded[pair] {
		b.loaded[pair], b.loads[line] = true, rises
	}
}

// LoadsSoFar gives all lines of NoteLoad, rises first.
func (b *Book) LoadsSoFar() []string {
	if b == nil {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.loadLines()
}

// manyLoads is how many comparisons' loads are told by themselves; those of more rises
// come first, so that a fall never hides one.
const manyLoads = 8

// loadLines orders by rise, then by text: the same whatever the cores.
func (b *Book) loadLines() []string {
	lines := slices.SortedFunc(maps.Keys(b.loads), func(x, y string) int {
		if b.loads[x] != b.loads[y] {
			return map[bool]int{true: -1, false: 1}[b.loads[x]]
		}
		return strings.Compare(x, y)
	})
	return lines
}

// computed says in a paragraph how the numbers came about.
func (b *Book) computed() string {
	if b.strokes == 0 {
		return ""
	}
	strokes := fmt.Sprintf("%d strokes were", b.strokes)
	if b.strokes == 1 {
		strokes = "One stroke was"
	}
	return strokes + " rowed: the water's force on strips of the blade, the oar, the bodies on the slide " +
		"and the hull are followed through " +
		"one stroke, again and again until the boat's speed ends as it began and what was to be held is " +
		"held. " +
		"Left out are sideways forces, yaw, pitch and heave, and the way of the blade up and down."
}

// assumptions lists what was taken for granted: the hands' reach, the effort of seats, and
// the defaults in use, in the order of the table of defaults.
func (b *Book) assumptions() []document.Assumption {
	var out []document.Assumption
	if b.reach {
		out = append(out, document.Assumption{What: "the hands on another inboard",
			Value:  "keep their reach: catch and finish follow",
			Source: "common practice, no source; measured_on=None in change() keeps the angles"})
	}
	if b.effort {
		out = append(out, document.Assumption{What: "rowers of whom some have another rig",
			Value: "pull as hard as before, each one",
			Source: "common practice, no source; hold=\"power\" in " +
				"change() holds each one's power"})
	}
	for _, f := range defaults.All() {
		if !b.uses(f) {
			continue
		}
		what := f.Where + " " + f.Name
		if f.For != "" {
			what = f.For + " " + f.Name
		}
		value := table.Fixed(f.Value, -1)
		if f.Spanned() {
			value += fmt.Sprintf(" (%s to %s)", table.Fixed(f.Low, -1), table.Fixed(f.High, -1))
		}
		unit := f.Unit
		if unit == "m^⅓" { // a length for each cube root of a kilogram
			value, unit = value+" times the cube root of the mass", "m"
		}
		out = append(out, document.Assumption{What: words.Spaced(what), Value: value, Unit: unit,
			Source: f.Source})
	}
	return out
}

// uses says whether a fact was in use: noted for its kind, or noted for a kind
// that has no fact of its own.
func (b *Book) uses(f defaults.Default) bool {
	if b.inUse[defaultsInUse{f.Where, f.Name, f.For}] {
		return true
	}
	if f.For != "" {
		return false
	}
	for d := range b.inUse {
		if d.where == f.Where && d.name == f.Name {
			if closer, ok := defaults.Find(d.where, d.name, d.of); ok && closer.For == "" {
				return true
			}
		}
	}
	return false
}

// standing are the cautions of every comparison of computed strokes.
func (b *Book) standing() []document.Caution {
	var out []document.Caution
	if b.strokes == 0 {
		return nil
	}
	if b.windy {
		out = append(out, document.Caution{Text: "Wind: the one printed table of its effects, doubted by " +
			"its own " +
			"reporter, has them up to a half larger than the model; what is least known here is the area " +
			"of the bodies."})
	}
	if b.strokes > 1 && (!b.weighed || len(b.unweighed) > 0) {
		text := "Not weighed"
		if which := slices.Sorted(maps.Keys(b.unweighed)); len(which) > 0 {
			text += " (" + strings.Join(which, "; ") + ")"
		}
		out = append(out, document.Caution{Text: text + ": how the crew pulls, what is held and the law of " +
			"the blade may turn a difference between two strokes. weigh(now, new) asks under each of them."})
	}
	return out
}

// Facts gives the table of defaults: of a kind of thing, of all, or with "" the
// ones that the session rests on. ok is false where it rests on none yet.
func Facts(cfg session.Config, about string) (lines []defaults.Default, ok bool) {
	b, _ := cfg.Extra.(*Book)
	for _, f := range defaults.All() {
		in := about == "all" || f.Where == about
		if about == "" && b != nil {
			b.mu.Lock()
			in = b.uses(f)
			b.mu.Unlock()
		}
		if in {
			lines = append(lines, f)
		}
	}
	return lines, len(lines) > 0
}
