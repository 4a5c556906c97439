package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"go.starlark.net/starlark"

	"thole/builtins"
	"thole/builtins/account"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/typed"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/window"
	"thole/engine/words"
)

// show tells what a block gave: what it told, the values that show themselves,
// cautions and notes, what is wrong, and what now stands on an old value. It is
// false where something was wrong.
func (p *prompt) show(r *typed.Reply) bool {
	tty := p.tty
	book := account.BookIn(p.cfg)
	for _, v := range r.Shown {
		rowing.TellOwnLoad(book, v)
	}
	for _, text := range book.LoadsSoFar() {
		if p.tellOnce(text) {
			tty.Print(window.Load(tty.Window, text)...)
		}
	}
	well := p.set(r)
	for _, msg := range r.Cautions {
		p.printOnce(*msg)
	}
	for _, text := range account.CautionsSoFar(p.cfg, slices.ContainsFunc(r.Shown, builtins.IsComparison)) {
		p.printOnce(Message{Level: message.Beware, What: text})
	}
	account.NextLine(p.cfg)
	tty.remarks(&session.Outcome{Remarks: r.Remarks})
	p.written(r.Files)
	switch {
	case r.Stopped:
		p.stopped(r)
	case len(r.Errors) > 0:
		tty.wrong(r.Errors, false)
	}
	p.taken(r)
	p.stale(r)
	return well && len(r.Errors) == 0
}

// set sets what a block told and the values that show themselves, within the time,
// memory and Ctrl-C that held the block; false where that was not to be done.
func (p *prompt) set(r *typed.Reply) bool {
	var lines []string
	var err error
	last := p.last.Load() // how far the block came, which stopped tells
	defer func() { p.last.Store(last) }()
	p.compute(func(ctx context.Context) {
		lines, err = session.Govern(ctx, limits.Default, func() (lines []string, err error) {
			if r.Document != nil {
				lines = p.toldNow(r.Document)
			}
			for _, v := range r.Shown {
				lines = append(lines, p.value(v)...)
			}
			return lines, nil
		})
	})
	if err == nil {
		p.tty.Print(lines...)
		return true
	}
	m := stoppedBy(err, limits.Default, "thole prompt")
	m.File, m.Why, m.Type = "", "it was worked out, but is too much to be shown", "show less of it"
	p.tty.printMessage(m)
	return false
}

// taken says when a name of the tool was given another meaning.
func (p *prompt) taken(r *typed.Reply) {
	for _, name := range r.Gave {
		if record := builtins.Library().Record(name); record != nil && p.tellOnce("name "+name) {
			p.tty.noteText(fmt.Sprintf("%s is yours from now on and no longer the tool's %s(...); "+
				"undo() gives that back, and  my_%s = ...  would keep both.", name, name, name))
		}
	}
}

// tellOnce remembers that something was told; false where it was already.
func (p *prompt) tellOnce(key string) bool {
	p.mu.Lock() // what sets a value may have been left behind, see set
	defer p.mu.Unlock()
	if p.said == nil {
		p.said = map[string]bool{}
	}
	if p.said[key] {
		return false
	}
	p.said[key] = true
	return true
}

// printOnce tells a caution in one line, each once in a session: where it arose is
// plain at the prompt.
func (p *prompt) printOnce(msg Message) {
	key, _, _ := strings.Cut(msg.What, " (here ") // the same caution at another speed
	if !p.tellOnce(key) {
		return
	}
	if msg.File == "" {
		msg.Source = ""
		if msg.Type == "" {
			msg.Why = ""
		}
	}
	if r := []rune(msg.What); len(r) > 1 && unicode.IsUpper(r[0]) &&
		!unicode.IsUpper(r[1]) { // it stands behind "caution:"
		msg.What = string(unicode.ToLower(r[0])) + string(r[1:])
	}
	p.tty.printMessage(msg)
}

// toldNow sets what one block told.
func (p *prompt) toldNow(doc *document.Document) []string {
	w := p.tty.Window
	var lines []string
	if doc.Title != "" {
		for _, line := range w.Wrap("", 0, doc.Title) {
			lines = append(lines, term.Bold.In(line))
		}
	}
	for _, b := range doc.Blocks {
		lines = append(lines, window.BlockAtPrompt(w, b)...)
		if f, ok := b.(*document.Figure); p.typed && (ok && figure.Moves(f) || isExplore(b)) &&
			p.tellOnce("moving") {
			lines = append(lines, w.Wrap("  ", 2,
				`keep("name.star") and  thole run name.star  make the page that moves`)...)
		}
	}
	for _, a := range doc.Assumptions {
		if !strings.HasPrefix(a.What, "in doubt:") { // what is drawn was just typed
			lines = append(lines, w.Wrap("Taken for granted  ", 2, a.What)...)
		}
	}
	for _, r := range doc.Results {
		value := r.Text
		switch {
		case r.Estimate != nil:
			value = r.Estimate.String()
		case !r.IsText:
			value = table.WithUnit(table.Fixed(r.Value, r.Digits), r.Unit)
		}
		lines = append(lines, w.Wrap("  ", 4, r.Name+"  "+value)...)
	}
	if doc.Answer != "" {
		lines = append(lines, window.Answer(w, doc.Answer)...)
	}
	return lines
}

// atPrompt is how long a table shows itself at the prompt.
var atPrompt = term.Cutting{Head: 12, More: "show(_)"}

// value sets a value as it shows itself.
func (p *prompt) value(v starlark.Value) []string {
	w := p.tty.Window
	blocks, short := builtins.AtPrompt(v)
	var lines []string
	for _, b := range blocks {
		if s, ok := b.(*document.Shown); ok {
			lines = append(lines, window.Shown(w, s, atPrompt)...)
			continue
		}
		lines = append(lines, window.BlockAtPrompt(w, b)...)
	}
	for i, line := range short {
		line = w.Clean(line)
		switch {
		case strings.HasPrefix(line, " ") && term.Width(line) <= w.Width:
			lines = append(lines, line)
		case i == 0:
			lines = append(lines, w.Wrap("", 2, line)...)
		default:
			lines = append(lines, w.Wrap("  ", 4, line)...)
		}
	}
	if hint := "show(_) has more"; p.typed && !p.hinted && v.Type() == "stroke" && len(lines) > 0 {
		p.hinted = true
		last := len(lines) - 1
		if term.Width(lines[last])+2+len(hint) <= w.TextWidth() {
			lines[last] += term.Spaces(w.TextWidth()-term.Width(lines[last])-len(hint)) + term.Dim.In(hint)
		} else {
			lines = append(lines, "  "+term.Dim.In(hint))
		}
	}
	return lines
}

// inFewWords is a value as a remark behind the line that shows it; a table says
// too much for one.
func (p *prompt) inFewWords(v starlark.Value) string {
	blocks, short := builtins.AtPrompt(v)
	if len(blocks) > 0 || len(short) == 0 {
		return ""
	}
	line, _, _ := strings.Cut(term.StripControls(short[0]), "; ")
	return term.Cut(strings.TrimSpace(line), 60)
}

// stale says which names stand on the old value of one that was given again.
func (p *prompt) stale(r *typed.Reply) {
	if len(r.Again) == 0 || len(r.Stale) == 0 {
		return
	}
	is, old := "is", "old one"
	if len(r.Again) > 1 {
		is, old = "are", "old ones"
	}
	text := fmt.Sprintf("%s %s new; %s %s on the %s.", words.List(r.Again), is, words.List(r.Stale),
		stand(r.Stale), old)
	p.tty.noteText(text)
	p.tty.PrintNote("type  again()  to redo " + map[bool]string{true: "it", false: "them"}[len(r.Stale) == 1])
}

var gives = regexp.MustCompile(`^\s*([A-Za-z_]\w*)\s*=[^=]`)

// stopped says where a computation was stopped and what is left of it.
func (p *prompt) stopped(r *typed.Reply) {
	msg := *r.Errors[0]
	if !strings.HasPrefix(msg.What, "stopped") || strings.Contains(msg.What, "limit") {
		msg.Type = "" // the way to raise a limit is the command's, not the prompt's
		p.tty.printMessage(msg)
		return
	}
	text := "stopped"
	done := 0
	if last := p.last.Load(); last != nil && last.Of > 0 {
		one := map[string]string{"drawing": "draw", "rowing": "stroke"}[last.what]
		if one == "" {
			one = "point"
		}
		done = last.Done
		text += fmt.Sprintf(" at %s %d of %d", one, last.Done, last.Of)
	}
	text += "."
	if found := gives.FindStringSubmatch(p.block); found != nil {
		text += " " + found[1] + " was not given"
		if _, had := p.live.Lookup(found[1]); had {
			text = strings.TrimSuffix(text, "was not given") + "is as before"
		}
		if done > 0 {
			text += ";"
		} else {
			text += "."
		}
	}
	if done > 0 {
		text += " what is done is kept, the same line goes on."
	}
	p.tty.noteText(text)
}

// written puts files that a line wrote where runs lie.
func (p *prompt) written(files []session.FileWritten) {
	for _, f := range files {
		path := filepath.Join(runsDir, "prompt", filepath.Base(f.Name))
		err := os.MkdirAll(filepath.Dir(path), 0o755)
		if err == nil {
			err = os.WriteFile(path, f.Data, 0o644)
		}
		if err != nil {
			p.tty.printMessage(Message{Level: message.Remark, What: filepath.ToSlash(path) +
				" could not be written: " + plainError(err)})
			continue
		}
		p.tty.PrintNote("written  " + p.tty.Clean(filepath.ToSlash(path)))
	}
}

func isExplore(b document.Block) bool { _, ok := b.(*document.Explore); return ok }
