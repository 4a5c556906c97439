package typed

import (
	"context"
	"fmt"
	"sort"
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
	k := newKeeping(l)
	var b strings.Builder
	b.WriteString("# kept from a prompt session\n")
	if title != "" {
		fmt.Fprintf(&b, "title(%s)\n", starlark.String(title))
	}
	for _, st := range k.ordered() {
		if title != "" && isCallOf(st.stmt, "title") {
			continue // the last one stands
		}
		b.WriteString(k.text(st) + "\n")
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
		if !ok || !alikeWritten(v, l.env[name]) {
			unlike = append(unlike, name)
		}
	}
	return unlike, nil
}

// isCallOf tells whether a statement is a call of that function and no more.
func isCallOf(stmt syntax.Stmt, name string) bool {
	x, ok := stmt.(*syntax.ExprStmt)
	if !ok {
		return false
	}
	call, ok := x.X.(*syntax.CallExpr)
	if !ok {
		return false
	}
	id, ok := call.Fn.(*syntax.Ident)
	return ok && id.Name == name
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

// keeping is the work of writing a session down.
type keeping struct {
	live *Session
	// kept are the statements that stay, with where each one belongs.
	kept  []*Statement
	place map[*Statement]int
	// names a statement reads and gives under another name than it was typed.
	reads, gives map[*Statement]map[string]string
	// named are expressions whose value is taken up again by _.
	named map[*Statement]string
	done  map[*Statement]bool
}

func newKeeping(l *Session) *keeping {
	k := &keeping{live: l, place: map[*Statement]int{}, reads: map[*Statement]map[string]string{}, gives: map[*Statement]map[string]string{},
		named: map[*Statement]string{}, done: map[*Statement]bool{}}
	needed := map[*Statement]bool{}
	first := map[string]int{}
	givers := map[string][]*Statement{}
	at := map[*Statement]int{}
	for i, st := range l.log {
		at[st] = i
		k.reads[st], k.gives[st] = map[string]string{}, map[string]string{}
		for _, name := range st.Gives {
			if _, seen := first[name]; !seen {
				first[name] = i
			}
			givers[name] = append(givers[name], st)
		}
	}
	for name, list := range givers {
		k.chain(name, list, needed)
	}
	for i, st := range l.log {
		if len(st.Gives) == 0 {
			needed[st] = !k.repeated(i)
		}
		if !needed[st] {
			continue
		}
		k.kept = append(k.kept, st)
		k.place[st] = i
		for _, name := range st.Gives {
			if f := first[name]; len(st.Gives) == 1 && f < i && givers[name][len(givers[name])-1] == st {
				k.place[st] = f
			}
		}
		k.lastValue(i, st)
	}
	sort.SliceStable(k.kept, func(i, j int) bool { return k.place[k.kept[i]] < k.place[k.kept[j]] })
	return k
}

// chain decides which of the statements that give a name stay: from the last
// one on that does not build on the name itself. A study gives a name once, so
// earlier links of such a chain get a number behind their name.
func (k *keeping) chain(name string, givers []*Statement, needed map[*Statement]bool) {
	start := 0
	for i, st := range givers {
		if !builds(st, name) {
			start = i
		}
	}
	final := name
	if k.live.study.Scope().IsTools(name) {
		final = "my_" + name
	}
	last := 0 // the version the chain ends with
	for _, st := range givers[start+1:] {
		if plainStatement(st) {
			last++
		}
	}
	called := func(version int) string {
		if version == last {
			return final
		}
		return fmt.Sprintf("%s_%d", final, version+1)
	}
	version := 0
	for i, st := range givers {
		if i < start {
			// it stays only for other names it gives
			k.gives[st][name] = final + "_0"
			continue
		}
		needed[st] = true
		k.reads[st][name] = called(version)
		if i == start {
			k.reads[st][name] = name // it does not build on the name: here it can only be the tool's
		}
		if i > start && plainStatement(st) {
			version++
		}
		k.gives[st][name] = called(version)
	}
	for _, st := range givers[:start] {
		for _, other := range st.Gives {
			if other != name && k.live.giver(other) == st {
				needed[st] = true
			}
		}
	}
	// all others read the name as it ends
	for i, seen := 0, false; i < len(k.live.log); i++ {
		st := k.live.log[i]
		seen = seen || st == givers[0]
		if _, own := k.reads[st][name]; !own && (seen || st.def) {
			k.reads[st][name] = final
		}
	}
}

// builds tells whether a statement makes a name out of its own old value, or
// gives it only perhaps.
func builds(st *Statement, name string) bool {
	if !plainStatement(st) {
		return true
	}
	if a, ok := st.stmt.(*syntax.AssignStmt); ok && a.Op != syntax.EQ {
		return true
	}
	for _, id := range source.UsesOf(st.stmt) {
		if id.Name == name && !id.Inside {
			return true
		}
	}
	return false
}

// plainStatement tells whether a statement stands outside loops and ifs.
func plainStatement(st *Statement) bool {
	switch st.stmt.(type) {
	case *syntax.ForStmt, *syntax.IfStmt, *syntax.WhileStmt:
		return false
	}
	return true
}

// repeated tells whether the same expression is shown again later with nothing
// in between.
func (k *keeping) repeated(i int) bool {
	log := k.live.log
	return i+1 < len(log) && len(log[i+1].Gives) == 0 && log[i].Text == log[i+1].Text
}

// lastValue gives a name to the value that a statement takes up by _.
func (k *keeping) lastValue(i int, st *Statement) {
	for _, id := range source.UsesOf(st.stmt) {
		if id.Name != "_" {
			continue
		}
		for j := i - 1; j >= 0; j-- {
			if from := k.live.log[j]; from.Shows {
				if k.named[from] == "" {
					k.named[from] = fmt.Sprintf("value_%d", len(k.named)+1)
				}
				k.reads[st]["_"] = k.named[from]
				break
			}
		}
		return
	}
}

// ordered gives the statements in an order in which each finds what it stands
// on, and as near as possible to where they first stood.
func (k *keeping) ordered() []*Statement {
	var out []*Statement
	emitting := map[*Statement]bool{}
	var emit func(st *Statement)
	emit = func(st *Statement) {
		if k.done[st] || emitting[st] {
			return
		}
		emitting[st] = true
		if !st.def {
			for _, name := range st.Reads {
				for _, giver := range k.kept {
					// an earlier link of the same chain stands before a later one
					if giver != st && contains(giver.Gives, name) && (!contains(st.Gives, name) || k.before(giver, st)) {
						emit(giver)
					}
				}
			}
		}
		for _, name := range st.Gives {
			for _, giver := range k.kept {
				if giver != st && contains(giver.Gives, name) && k.before(giver, st) {
					emit(giver)
				}
			}
		}
		k.done[st] = true
		out = append(out, st)
	}
	for _, st := range k.kept {
		emit(st)
	}
	return out
}

// before tells whether one statement was typed before another.
func (k *keeping) before(a, b *Statement) bool {
	for _, st := range k.live.log {
		if st == a {
			return true
		}
		if st == b {
			return false
		}
	}
	return false
}

// text writes a statement with its names as the study has them.
func (k *keeping) text(st *Statement) string {
	text := k.renamed(st)
	if !st.Shows {
		return text
	}
	text, remark := withoutRemark(text)
	if k.live.Says != nil {
		remark = k.live.Says(st.Value)
	}
	shown := "show(" + text + ")"
	if name := k.named[st]; name != "" {
		shown = name + " = " + text + "\nshow(" + name + ")"
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

// edit is a piece of text to put in place of another.
type edit struct {
	line, col, n int
	with         string
}

func (k *keeping) renamed(st *Statement) string {
	var edits []edit
	change := func(id *syntax.Ident, to string) {
		if to != "" && to != id.Name {
			edits = append(edits, edit{int(id.NamePos.Line), int(id.NamePos.Col), len([]rune(id.Name)), to})
		}
	}
	for _, id := range source.UsesOf(st.stmt) {
		if to := k.reads[st][id.Name]; k.live.own[id.Name] || id.Name == "_" {
			change(id.Ident, to)
		}
	}
	inPlace := false
	if a, ok := st.stmt.(*syntax.AssignStmt); ok && a.Op != syntax.EQ {
		inPlace = true
	}
	source.Given([]syntax.Stmt{st.stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) { change(id, k.gives[st][id.Name]) })
	// places in texts
	syntax.Walk(st.stmt, func(n syntax.Node) bool {
		lit, ok := n.(*syntax.Literal)
		if !ok || lit.Token != syntax.STRING {
			return true
		}
		for name, to := range k.reads[st] {
			if to == name || !k.live.own[name] {
				continue
			}
			for i := 0; ; {
				j := strings.Index(lit.Raw[i:], "{"+name)
				if j < 0 {
					break
				}
				j += i
				i = j + 1
				if end := j + 1 + len(name); end < len(lit.Raw) && strings.IndexByte(".:}", lit.Raw[end]) >= 0 {
					before := lit.Raw[:j+1]
					e := edit{line: int(lit.TokenPos.Line) + strings.Count(before, "\n"), n: len([]rune(name)), with: to}
					if nl := strings.LastIndex(before, "\n"); nl >= 0 {
						e.col = 1 + len([]rune(before[nl+1:]))
					} else {
						e.col = int(lit.TokenPos.Col) + len([]rune(before))
					}
					edits = append(edits, e)
				}
			}
		}
		return true
	})
	text := applyEdits(st, edits)
	if inPlace {
		text = k.spelledOut(st, text)
	}
	return text
}

// spelledOut writes x += 1 as x = x_1 + 1: a study gives a name once.
func (k *keeping) spelledOut(st *Statement, text string) string {
	a := st.stmt.(*syntax.AssignStmt)
	id, ok := a.LHS.(*syntax.Ident)
	if !ok {
		return text
	}
	op := strings.TrimSuffix(a.Op.String(), "=")
	_, rest, found := strings.Cut(text, a.Op.String())
	if !found {
		return text
	}
	return fmt.Sprintf("%s = %s %s (%s)", k.gives[st][id.Name], k.reads[st][id.Name], op, strings.TrimSpace(rest))
}

// applyEdits changes a statement's text, from its end to its beginning.
func applyEdits(st *Statement, edits []edit) string {
	sort.Slice(edits, func(i, j int) bool {
		if edits[i].line != edits[j].line {
			return edits[i].line > edits[j].line
		}
		return edits[i].col > edits[j].col
	})
	start := syntax.Start(st.stmt)
	lines := strings.Split(st.Text, "\n")
	for _, e := range edits {
		i := e.line - int(start.Line)
		if i < 0 || i >= len(lines) {
			continue
		}
		col := e.col - 1
		if i == 0 {
			col -= int(start.Col) - 1
		}
		r := []rune(lines[i])
		if col < 0 || col+e.n > len(r) {
			continue
		}
		lines[i] = string(r[:col]) + e.with + string(r[col+e.n:])
	}
	return strings.Join(lines, "\n")
}
