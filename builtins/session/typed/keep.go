package typed

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// Keep writes the session as a study that runs from the top to the same values.
// Only what the final state needs is kept: a name given again stands with its
// last value where it first stood, as far as what it is made of allows; values
// that showed themselves are shown.
func (l *Session) Keep(title string) string {
	var b strings.Builder
	b.WriteString("# kept from a prompt session\n")
	if title != "" {
		fmt.Fprintf(&b, "title(%s)\n", starlark.String(title))
	}
	k := newKeeping(l)
	for _, line := range k.ordered() {
		if title != "" && callee(line.stmt) == "title" {
			continue // the last one stands
		}
		b.WriteString(k.text(line) + "\n")
	}
	return b.String()
}

// Verify runs a kept study and tells which of the session's names come out with
// another value.
func (l *Session) Verify(ctx context.Context, text string) (unlike []string, errs message.Messages) {
	cfg := l.study.Config()
	cfg.Print, cfg.Progress = nil, nil
	value, errs := session.Values(ctx, "kept.star", []byte(text), cfg)
	if errs != nil {
		return nil, errs
	}
	for _, name := range l.Names() {
		v, ok := value(name)
		if !ok {
			v, ok = value("my_" + name)
		}
		if _, isFunc := v.(*starlark.Function); isFunc || name == "_" {
			continue
		}
		if !ok || !alikeWritten(v, l.given[name]) {
			unlike = append(unlike, name)
		}
	}
	return unlike, nil
}

// alikeWritten compares values by what they say, things by all their numbers:
// they have no order of memory.
func alikeWritten(a, b starlark.Value) bool {
	if same, err := starlark.Equal(a, b); err == nil && same {
		return true
	}
	if x, ok := a.(lang.AnyThing); ok {
		y, ok := b.(lang.AnyThing)
		if !ok || a.Type() != b.Type() {
			return false
		}
		for _, name := range x.FieldNames() {
			v, _, _ := x.Field(name)
			w, _, has := y.Field(name)
			n, isNumber := lang.AsNumber(v)
			if m, also := lang.AsNumber(w); isNumber && (!has || !also || n != m) {
				return false
			}
		}
	}
	x, err1 := lang.Written(nil, a)
	y, err2 := lang.Written(nil, b)
	return err1 == nil && err2 == nil && x == y
}

// keptLine is a statement of the session on its way into a study.
type keptLine struct {
	*Statement
	typed  int // its place among the lines typed
	place  int // where it belongs
	needed bool
	// names it reads and gives under another name than it was typed with
	reads, gives map[string]string
	named        string // the name of its value, where _ takes that up again
}

// keeping is the work of writing a session down.
type keeping struct {
	live  *Session
	lines []*keptLine
	named int // values named so far
}

func newKeeping(l *Session) *keeping {
	k := &keeping{live: l}
	givers := map[string][]*keptLine{}
	for i, st := range l.log {
		line := &keptLine{Statement: st, typed: i, place: i, reads: map[string]string{},
			gives: map[string]string{}}
		line.needed = len(st.Gives) == 0 && !k.repeated(i)
		k.lines = append(k.lines, line)
		for _, name := range st.Gives {
			givers[name] = append(givers[name], line)
		}
	}
	for name, chain := range givers {
		k.chain(name, chain)
	}
	k.lines = slices.DeleteFunc(k.lines, func(line *keptLine) bool { return !line.needed })
	for _, line := range k.lines {
		if len(line.Gives) == 1 {
			if chain := givers[line.Gives[0]]; chain[len(chain)-1] == line {
				line.place = chain[0].typed
			}
		}
		k.lastValue(line)
	}
	slices.SortStableFunc(k.lines, func(a, b *keptLine) int { return cmp.Compare(a.place, b.place) })
	return k
}

// repeated tells whether the same expression is shown again right after.
func (k *keeping) repeated(i int) bool {
	log := k.live.log
	return i+1 < len(log) && len(log[i+1].Gives) == 0 && log[i].Text == log[i+1].Text
}

// chain decides which of the statements that give a name stay: from the last
// one on that does not build on the name itself. A study gives a name once, so
// earlier links of such a chain get a number behind their name.
func (k *keeping) chain(name string, givers []*keptLine) {
	start, last := 0, 0 // where the chain begins, and the version it ends with
	for i, line := range givers {
		switch {
		case !builds(line.Statement, name):
			start, last = i, 0
		case i > 0 && plain(line.stmt):
			last++
		}
	}
	final := name
	if k.live.study.Scope().IsTools(name) {
		final = "my_" + name
	}
	called := func(version int) string {
		if version == last {
			return final
		}
		return fmt.Sprintf("%s_%d", final, version+1)
	}
	for _, line := range givers[:start] {
		// it stays only for other names it gives
		line.gives[name] = final + "_0"
		line.needed = line.needed || slices.ContainsFunc(line.Gives, func(other string) bool {
			return other != name && k.live.giver(other) == line.Statement
		})
	}
	version := 0
	for i, line := range givers[start:] {
		line.needed = true
		line.reads[name] = called(version)
		if i == 0 {
			line.reads[name] = name // it does not build on the name: here it can only be the tool's
		} else if plain(line.stmt) {
			version++
		}
		line.gives[name] = called(version)
	}
	// all others read the name as it ends
	for _, line := range k.lines {
		if _, own := line.reads[name]; !own && (line.typed >= givers[0].typed || line.def) {
			line.reads[name] = final
		}
	}
}

// builds tells whether a statement makes a name out of its own old value, or
// gives it only perhaps.
func builds(st *Statement, name string) bool {
	if a, ok := st.stmt.(*syntax.AssignStmt); !plain(st.stmt) || ok && a.Op != syntax.EQ {
		return true
	}
	return slices.ContainsFunc(source.UsesOf(st.stmt), func(id source.Use) bool {
		return id.Name == name && !id.Inside
	})
}

// plain tells whether a statement stands outside loops and ifs.
func plain(stmt syntax.Stmt) bool {
	switch stmt.(type) {
	case *syntax.ForStmt, *syntax.IfStmt, *syntax.WhileStmt:
		return false
	}
	return true
}

// lastValue gives a name to the value that a statement takes up by _.
func (k *keeping) lastValue(line *keptLine) {
	takes := func(id source.Use) bool { return id.Name == "_" }
	if !slices.ContainsFunc(source.UsesOf(line.stmt), takes) {
		return
	}
	for _, from := range slices.Backward(k.lines) {
		if from.typed < line.typed && from.Shows {
			if from.named == "" {
				k.named++
				from.named = fmt.Sprintf("value_%d", k.named)
			}
			line.reads["_"] = from.named
			return
		}
	}
}

// ordered gives the statements in an order in which each finds what it stands
// on, and as near as possible to where they first stood.
func (k *keeping) ordered() []*keptLine {
	var out []*keptLine
	begun := map[*keptLine]bool{}
	var emit func(line *keptLine)
	emit = func(line *keptLine) {
		if begun[line] {
			return
		}
		begun[line] = true
		for _, name := range line.Reads {
			for _, giver := range k.lines {
				// an earlier link of the same chain stands before a later one
				earlier := giver.typed < line.typed || !slices.Contains(line.Gives, name)
				if giver != line && !line.def && earlier && slices.Contains(giver.Gives, name) {
					emit(giver)
				}
			}
		}
		for _, name := range line.Gives {
			for _, giver := range k.lines {
				if giver.typed < line.typed && slices.Contains(giver.Gives, name) {
					emit(giver)
				}
			}
		}
		out = append(out, line)
	}
	for _, line := range k.lines {
		emit(line)
	}
	return out
}

// text writes a statement with its names as the study has them.
func (k *keeping) text(line *keptLine) string {
	text := k.renamed(line)
	if !line.Shows {
		return text
	}
	text, remark := withoutRemark(text)
	if k.live.Says != nil {
		remark = k.live.Says(line.Value)
	}
	shown := "show(" + text + ")"
	if line.named != "" {
		shown = line.named + " = " + text + "\nshow(" + line.named + ")"
	}
	if remark != "" {
		shown += "  # " + remark
	}
	return shown
}

// withoutRemark takes the remark off the end of an expression's text.
func withoutRemark(text string) (code, remark string) {
	lexemes := source.Lex(text)
	if len(lexemes) == 0 {
		return text, ""
	}
	last := lexemes[len(lexemes)-1]
	lines := strings.Split(text, "\n")
	r := []rune(lines[last.Last-1])
	remark = strings.TrimSpace(strings.TrimLeft(string(r[last.End-1:]), " #"))
	lines[last.Last-1] = string(r[:last.End-1])
	return strings.Join(lines[:last.Last], "\n"), remark
}
