package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins"
	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/builtins/session/typed"
	"thole/builtins/views"
	"thole/engine/term"
	"thole/engine/words"
)

// answer carries out one of the prompt's own words; false where it could not.
func (p *prompt) answer(r account.Request) bool {
	switch r.Word {
	case "help":
		p.help(r.Of)
	case "facts":
		p.tty.Print(p.facts(r.About)...)
	case "again":
		return p.again()
	case "undo":
		return p.undo()
	case "keep":
		return p.keep(r)
	}
	return true
}

// help shows a page, and what its examples need that the session does not have.
func (p *prompt) help(of starlark.Value) {
	page := builtins.HelpPage(of, p.tty.TextWidth())
	p.tty.Print(p.page(page)...)
	is, lines := builtins.ExamplesNeed(page, func(name string) bool {
		_,
			ok := p.live.Lookup(name)
		return ok
	})
	if len(lines) == 0 {
		return
	}
	p.tty.printText("here " + words.List(is) + " of yours; to try it as it stands, first type")
	for _, line := range lines {
		p.tty.Print("  " + p.tty.Clean(line))
	}
}

// page sets a page of help: its first line is its head.
func (p *prompt) page(text string) []string {
	lines := reset(p.tty.Window, linesOf(p.tty.Window, text))
	if len(lines) > 0 {
		lines[0] = term.Bold.In(lines[0])
	}
	return lines
}

// code is a line that can be typed.
var code = regexp.MustCompile(`^(> .*|\w+ = .*|[\w.]+\(.*\))$`)

// reset sets a page that was set by hand, 80 columns wide, in a narrower window:
// paragraphs run on, and code stays as it can be typed.
func reset(w term.Window, lines []string) []string {
	if !slices.ContainsFunc(lines, func(line string) bool { return term.Width(line) > w.Width }) {
		return lines
	}
	var out []string
	paragraph := ""
	flush := func() {
		if paragraph != "" {
			out = append(out, w.Wrap("", 0, paragraph)...)
		}
		paragraph = ""
	}
	for _, line := range lines {
		text := strings.TrimLeft(line, " ")
		indent := len(line) - len(text)
		if indent == 0 && text != "" && !strings.HasPrefix(text, "> ") {
			paragraph = strings.TrimSpace(paragraph + " " + text)
			continue
		}
		flush()
		if term.Width(line) <= w.Width || code.MatchString(text) {
			out = append(out, line)
			continue
		}
		out = append(out, w.Wrap(term.Spaces(indent), indent+2, text)...)
	}
	flush()
	return out
}

// facts sets the defaults in force: value, doubt, how sure, and the source
// beneath.
func (p *prompt) facts(about string) []string {
	w := p.tty.Window
	list, ok := account.Facts(p.cfg, about)
	if !ok {
		return w.Wrap("", 2, `nothing rests on a default yet: row something first, or  facts("all")`)
	}
	head := map[string]string{"": "what your lines take for granted", "all": "all defaults"}[about]
	if head == "" {
		head = "defaults of " + about
	}
	cells := make([][]string, len(list))
	for i, f := range list {
		name := strings.TrimSpace(f.Where + " " + f.Name + " " + f.For)
		cells[i] = []string{w.Clean(name), w.Clean(builtins.FactValue(f)), builtins.FactDoubt(f),
			builtins.FactMark(f.Sureness)}
	}
	lines := []string{term.Bold.In(head + ": value, doubt, how sure, source")}
	for i, line := range term.Align(cells, 2) {
		line = "  " + line
		source := w.Clean(list[i].Source)
		if source == cells[i][3] || strings.HasPrefix(source, "common practice") {
			lines = append(lines, strings.TrimRight(line, " "))
			continue
		}
		if term.Width(line)+30 <= w.TextWidth() {
			lines = append(lines, w.Wrap(line, term.Width(line), source)...)
			continue
		}
		lines = append(lines, strings.TrimRight(line, " "))
		for _, l := range w.Wrap("      ", 6, source) {
			lines = append(lines, term.Dim.In(l))
		}
	}
	if about == "" {
		lines = append(lines, `others: facts("blade"), facts("all")`)
	}
	return lines
}

// again works out what stands on old values, and shows one value that moved.
func (p *prompt) again() bool {
	var redone []typed.Redone
	var r *typed.Reply
	p.compute(func(ctx context.Context) { redone, r = p.live.Again(ctx) })
	var names []string
	for _, done := range redone {
		names = append(names, done.Name)
	}
	switch {
	case len(names) > 0:
		text := "redone: " + strings.Join(names, ", ") + "."
		if moved := firstMoved(redone); moved != "" {
			text += "      " + moved
		}
		p.tty.printText(text)
	case len(r.Errors) == 0:
		p.tty.Print("nothing stands on an old value.")
	}
	return p.show(r)
}

// firstMoved says how the first value that changed did: a stroke by its speed.
func firstMoved(redone []typed.Redone) string {
	same := ""
	for _, done := range redone {
		old, new := tellingNumber(done.Name, done.Old), tellingNumber(done.Name, done.New)
		switch {
		case old.name == "" || new.name == "":
		case old.text != new.text:
			return fmt.Sprintf("%s %s -> %s", old.name, strings.TrimSuffix(old.text, " "+new.unit), new.text)
		case same == "":
			same = fmt.Sprintf("%s is %s as before", new.name, new.text)
		}
	}
	return same
}

// told is a number by which a value is known again.
type toldNumber struct{ name, text, unit string }

func tellingNumber(name string, v starlark.Value) toldNumber {
	if x, ok := lang.AsNumber(v); ok {
		return toldNumber{name: name, text: views.Line(lang.Num(x))}
	}
	if _, isTable := v.(*lang.Table); isTable {
		return toldNumber{}
	}
	if thing, ok := v.(lang.AnyThing); ok {
		for _, field := range []string{"speed", "value", "length", "rate", "mass", "outboard"} {
			if x, f, ok := thing.Field(field); ok {
				if n, isNumber := lang.AsNumber(x); isNumber {
					return toldNumber{name: name + "." + field, text: builtins.WithUnit(n, f), unit: f.Unit}
				}
			}
		}
	}
	return toldNumber{}
}

// undo takes the last statement back; again() goes together with the new value
// that made it needed.
func (p *prompt) undo() bool {
	what, names, ok := p.live.Undo()
	if !ok {
		p.tty.Print("there is nothing to take back.")
		return true
	}
	taken := p.inShort(what)
	if what == "again()" {
		if before, more, ok := p.live.Undo(); ok {
			taken = "again() and " + p.inShort(before)
			if found := gives.FindStringSubmatch(before); found != nil {
				taken = "again() and the new " + found[1]
			}
			names = append(names, more...)
		}
	}
	text := "taken back: " + taken
	for _, name := range names {
		v, there := p.live.Lookup(name)
		if number := tellingNumber(name, v); there && number.name != "" && name != "_" {
			text += ". " + number.name + " is " + number.text + " once more"
			break
		}
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	p.tty.printText(text)
	if len(names) == 0 || len(names) == 1 && names[0] == "_" {
		if next, ok := p.live.NextUndo(); ok {
			p.tty.Print("that gave no name; the next  undo()  takes back  " + p.inShort(next))
		}
	}
	return true
}

// inShort is a block in one short line.
func (p *prompt) inShort(block string) string {
	line, _, more := strings.Cut(strings.TrimSpace(block), "\n")
	if more {
		line += " ..."
	}
	return term.Cut(p.tty.Clean(line), max(p.tty.TextWidth()-40, 30))
}

// keep writes the session as a study, and runs it to see that it comes to the
// same values.
func (p *prompt) keep(r account.Request) bool {
	if _, err := os.Stat(r.File); err == nil && !r.Over {
		p.tty.printMessage(Message{What: r.File + " is there already.",
			Type: fmt.Sprintf("keep(%q, over=True)", r.File)})
		return false
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		p.tty.printMessage(cannotKeep(r.File, err))
		return false
	}
	if len(p.live.Log()) == 0 {
		p.tty.printMessage(Message{What: "there is nothing to keep yet",
			Why: "a study is made of the lines you typed", Type: "help() for a start"})
		return false
	}
	text := p.live.Keep(r.Title)
	var unlike []string
	var errs message.Messages
	verify := func(ctx context.Context) { unlike, errs = p.live.Verify(ctx, text) }
	p.compute(verify)
	if len(errs) == 1 && errs[0].What == tellsNothing {
		if name := p.lastGiven(); name != "" {
			text += "show(" + name + ")\n"
			p.compute(verify)
		}
	}
	if len(errs) > 0 {
		for _, msg := range errs {
			if msg.File == "kept.star" {
				msg.File = r.File
			}
		}
		p.tty.noteText("not written: as a study these lines would not run from the top.")
		p.tty.wrong(errs, false)
		return false
	}
	if err := writeFile(".", r.File, []byte(text)); err != nil {
		p.tty.printMessage(cannotKeep(r.File, err))
		return false
	}
	said := fmt.Sprintf("%s written, %s", r.File, count(strings.Count(text, "\n"), "line"))
	old := p.live.StaleNames()
	isNew := func(name string) bool { return !slices.Contains(old, name) }
	switch {
	case len(unlike) == 0:
		said += ", and rerun: same values."
	case slices.ContainsFunc(unlike, isNew):
		said += fmt.Sprintf(". Rerun, %s comes out otherwise: something was changed in place.",
			words.List(unlike))
	default:
		said += fmt.Sprintf(". Here %s %s on an old value: the study has it anew, again() would do the "+
			"same here.",
			words.List(unlike), stand(unlike))
	}
	typ := "type  thole run " + quoted(r.File)
	if r.Title == "" && !strings.Contains(text, "\ntitle(") {
		said += " Give it a title, then"
	}
	p.tty.Print(p.leftOut()...)
	p.tty.Print(append(p.tty.Wrap("", 2, said), typ)...)
	return true
}

// leftOut says which lines a kept study does not have, and why.
func (p *prompt) leftOut() []string {
	var parts []string
	for _, left := range []struct {
		blocks []string
		how    string
	}{{p.live.LeftOut.Undone, "taken back"}, {p.live.LeftOut.Refused, "refused"}} {
		switch len(left.blocks) {
		case 0:
		case 1:
			parts = append(parts, p.inShort(left.blocks[0])+" ("+left.how+")")
		default:
			parts = append(parts, count(len(left.blocks), "line")+" that were "+left.how)
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return p.tty.Wrap("", 2, "left out: "+words.List(parts))
}

// stand is the verb behind names: b stands, b and c stand.
func stand(names []string) string {
	if len(names) == 1 {
		return "stands"
	}
	return "stand"
}

// tellsNothing is how the session calls a study that shows no value.
const tellsNothing = "this study tells nothing"

// lastGiven is the last name that was given a value that can be shown.
func (p *prompt) lastGiven() string {
	log := p.live.Log()
	for i := len(log) - 1; i >= 0; i-- {
		if first, _, _ := strings.Cut(log[i].Text, " "); first == "for" || first == "if" {
			continue // a loop's own name is nothing to show
		}
		for _, name := range log[i].Gives {
			if v, ok := p.live.Lookup(name); ok {
				if _, isFunction := v.(starlark.Callable); !isFunction {
					return name
				}
			}
		}
	}
	return ""
}

func cannotKeep(name string, err error) Message {
	return Message{What: name + " cannot be written", Why: plainError(err),
		Type: "the session goes on; another name, or thole prompt in another folder"}
}
