package session

import (
	"context"
	"fmt"
	"regexp"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/engine/document"
)

// Live is a session in which statements come one by one, as at the prompt. A
// name that is given again is seen by functions made before, and a function may
// call one that comes later: all names are looked up when a line runs.
//
// A Live is used by one goroutine at a time.
type Live struct {
	// Says writes a value in a few words, which Keep sets as a remark behind
	// what was shown; nil: no remarks.
	Says func(starlark.Value) string

	study *Study
	env   starlark.StringDict // the tool's names and the user's, one map for all statements
	own   map[string]bool     // names the user gave
	log   []*Statement
	line  int // lines typed so far
	last  starlark.Value
	undo  []snapshot
}

// Statement is one statement that ran well.
type Statement struct {
	Text  string // as typed, without the lines' end
	Gives []string
	// Reads are the names it read, its functions' names included, as far as
	// they are the user's: what it stands on.
	Reads []string
	Shows bool           // an expression whose value shows itself
	Value starlark.Value // what such an expression gave
	Told  bool           // it told something by itself

	unit  *unit
	stmt  syntax.Stmt
	def   bool
	load  bool
	stale bool // a name it stands on was given again since
}

// Reply is what a block gave.
type Reply struct {
	Value    starlark.Value     // of the last expression, nil where there is nothing to show
	Shown    []starlark.Value   // of all expressions that show themselves, in order
	Document *document.Document // what the block told
	Gave     []string           // names given, in order
	Stale    []string           // names that stand on the old value of a name given again
	Again    []string           // names that were given before, and now anew
	Told     bool               // something was told: the value need not show itself
	Errors   Messages
	Cautions Messages
	Remarks  Messages
	Files    []FileWritten
	Stopped  bool
}

// liveOptions let names be given again, and load give names for good.
var liveOptions = &syntax.FileOptions{Set: true, TopLevelControl: true, GlobalReassign: true, LoadBindsGlobally: true}

const liveGuard = guardMark + "live"

func init() {
	addGuard(liveGuard, func(s *Study, _ *starlark.Thread, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
		v, _ := s.names(string(args[0].(starlark.String)))
		if v == nil {
			return starlark.None, nil
		}
		return v, nil
	})
}

// NewLive opens a session.
func NewLive(cfg Config) *Live {
	l := &Live{study: newStudy(context.Background(), "prompt", cfg), own: map[string]bool{}, line: 1}
	l.env = starlark.StringDict{}
	for name, v := range l.study.predeclared() {
		l.env[name] = v
	}
	for name, v := range cfg.Library.AtPrompt() {
		l.env[name] = v
	}
	l.study.start = l.env
	l.study.names = func(name string) (starlark.Value, bool) {
		v, ok := l.env[name]
		return v, ok && l.own[name]
	}
	l.study.list = func() []string { return sorted(l.own) }
	l.study.shadowed = func(name string) bool { return l.own[name] }
	return l
}

// Study is the study the session tells into.
func (l *Live) Study() *Study { return l.study }

// Names lists the names the user gave, sorted.
func (l *Live) Names() []string { return sorted(l.own) }

// Lookup gives the value of a name: the user's, the tool's or the language's.
func (l *Live) Lookup(name string) (starlark.Value, bool) {
	if v, ok := l.env[name]; ok && !strings.HasPrefix(name, guardMark) {
		return v, true
	}
	v, ok := starlark.Universe[name]
	return v, ok
}

// Log gives the statements that ran well, oldest first.
func (l *Live) Log() []*Statement { return l.log }

// Eval runs a block: one statement or several. It stops at the first error;
// statements before it stand.
func (l *Live) Eval(ctx context.Context, text string) *Reply {
	first := l.line
	l.line += strings.Count(strings.TrimRight(text, "\n"), "\n") + 1
	return l.eval(ctx, fmt.Sprintf("prompt %d", first), []byte(text))
}

// Open runs a study's text as the beginning of a session: its names are there,
// and Keep writes its lines. Of a Markdown study the fences run.
func (l *Live) Open(ctx context.Context, name string, text []byte) *Reply {
	l.study.note(FileRead{Name: name, Role: "study", Data: text})
	return l.eval(ctx, name, text)
}

func (l *Live) eval(ctx context.Context, name string, text []byte) *Reply {
	s, r := l.study, &Reply{}
	s.doc = &document.Document{Study: name, Version: s.cfg.Version, Command: s.cfg.Command}
	r.Document = s.doc
	s.ctx, s.cautions, s.remarks, s.told, s.written = ctx, cautionBook{}, nil, false, nil
	s.size, s.results = toldSize{}, map[string]bool{} // each line by itself
	s.meter.over.Store(false)
	s.last.Store(nil)
	what := strings.TrimSpace(string(text))
	if !atPrompt(name) {
		what = name
	}
	src, m := newSource(name, text)
	if m == nil {
		var u *unit
		if u, m = newUnitWith(liveOptions, src, src.code); m == nil {
			s.units[src.name] = u
			if r.Errors = l.check(u); r.Errors == nil {
				l.snapshot(what)
				n := len(l.log)
				for _, stmt := range u.tree.Stmts {
					if r.Errors = l.statement(u, stmt, r); r.Errors != nil {
						break
					}
				}
				if len(l.log) == n {
					l.undo = l.undo[:len(l.undo)-1] // nothing to take back
				}
			}
		}
	}
	if m != nil {
		r.Errors = Messages{m}
	}
	_, r.Cautions = s.cautions.told()
	r.Remarks, r.Told, r.Files = s.remarks, s.told, s.written
	r.placeless()
	return r
}

// placeless takes the places off messages about lines that were typed: they have
// no file, and their numbers are nothing to whoever typed them.
func (r *Reply) placeless() {
	for _, ms := range []Messages{r.Errors, r.Cautions, r.Remarks} {
		for _, m := range ms {
			r.Stopped = r.Stopped || m.Level == Stopped
			m.Why = typedPlace.ReplaceAllString(m.Why, "this line")
			if !atPrompt(m.File) {
				continue
			}
			m.File, m.Line = "", 0
			for i := range m.From {
				m.From[i] = typedFrom.ReplaceAllString(m.From[i], "")
			}
		}
	}
}

var (
	typedPlace = regexp.MustCompile(`\bprompt \d+(:\d+)*`)
	typedFrom  = regexp.MustCompile(`^(prompt \d+:\d+|line \d+): `)
)

// atPrompt tells whether a source is what was typed, and no file.
func atPrompt(name string) bool { return strings.HasPrefix(name, "prompt ") }

// promptWord tells whether a statement is a call of one of the prompt's own
// words, as undo(): it is no part of what the session has worked out.
func (l *Live) promptWord(stmt syntax.Stmt) bool {
	x, ok := stmt.(*syntax.ExprStmt)
	if !ok {
		return false
	}
	call, ok := x.X.(*syntax.CallExpr)
	if !ok {
		return false
	}
	id, ok := call.Fn.(*syntax.Ident)
	if !ok || l.own[id.Name] {
		return false
	}
	r := l.study.cfg.Library.Record(id.Name)
	return r != nil && r.Prompt
}

// check holds a block against what can be known before it runs.
func (l *Live) check(u *unit) Messages {
	if !atPrompt(u.src.name) {
		if ms := l.study.checkParams(u); ms != nil {
			return ms
		}
	}
	if ms := l.study.dialect(u); ms != nil {
		return ms
	}
	if ms := l.study.checkCalls(u); ms != nil {
		return ms
	}
	return l.study.checkPlaces(u)
}

// statement runs one statement.
func (l *Live) statement(u *unit, stmt syntax.Stmt, r *Reply) Messages {
	s := l.study
	st := &Statement{Text: u.lines(stmt), unit: u, stmt: stmt}
	given([]syntax.Stmt{stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
		if !contains(st.Gives, id.Name) {
			st.Gives = append(st.Gives, id.Name)
		}
	})
	_, st.def = stmt.(*syntax.DefStmt)
	_, st.load = stmt.(*syntax.LoadStmt)
	_, isExpr := stmt.(*syntax.ExprStmt)

	if ms := l.unknownNow(u, stmt, st.Gives); ms != nil {
		return ms
	}
	told := s.told
	s.told = false
	prog, ms := l.compile(u, stmt, st.Gives, isExpr)
	if ms != nil {
		return ms
	}
	globals, err := s.execute(prog, u.src.name)
	st.Told = s.told
	s.told = s.told || told
	if err != nil {
		return s.explain(err)
	}
	if l.promptWord(stmt) {
		return nil
	}

	var again []string
	// names that are given again leave others standing on the old value
	for _, name := range st.Gives {
		v := globals[name]
		if v == nil {
			continue // a branch that was not taken
		}
		if l.own[name] && !l.asBefore(name, v, st) {
			again = append(again, name)
		}
		l.env[name], l.own[name] = v, true
		r.Gave = append(r.Gave, name)
	}
	st.Reads = l.readsOf(stmt)
	r.Value = nil
	if isExpr {
		v := globals[resultName]
		st.Shows = v != nil && v != starlark.None && !st.Told
		if st.Shows {
			r.Value, r.Shown, l.last, st.Value = v, append(r.Shown, v), v, v
			l.env["_"], l.own["_"] = v, true
		}
	}
	l.log = append(l.log, st)
	r.Again = append(r.Again, again...)
	l.markStale(st, again, r)
	return nil
}

// asBefore tells whether a name that is given again has the same value, or is
// the same function to the letter.
func (l *Live) asBefore(name string, v starlark.Value, st *Statement) bool {
	if _, isFunction := v.(*starlark.Function); isFunction {
		before := l.giver(name)
		return before != nil && before.Text == st.Text
	}
	same, err := starlark.Equal(l.env[name], v)
	return err == nil && same
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// lines gives the source of a statement, all its lines.
func (u *unit) lines(n syntax.Node) string {
	from, to := n.Span()
	lines := append([]string(nil), u.src.lines[from.Line-1:min(int(to.Line), len(u.src.lines))]...)
	if last := len(lines) - 1; last >= 0 {
		if r := []rune(lines[last]); int(to.Col)-1 <= len(r) && to.Line > 0 {
			// brackets that close an expression stand after its last part
			tail := string(r[int(to.Col)-1:])
			if i := strings.IndexByte(tail, ';'); i >= 0 {
				lines[last] = string(r[:int(to.Col)-1]) + tail[:i]
			}
		}
		if r := []rune(lines[0]); int(from.Col)-1 <= len(r) {
			lines[0] = string(r[from.Col-1:])
		}
	}
	return strings.TrimRight(strings.Join(lines, "\n"), " \t\n")
}

// resultName holds the value of an expression while its statement runs.
const resultName = guardMark + "result"

// compile makes the program of one statement. Names it gives that there are
// already start with their value; all other names are looked up when it runs.
func (l *Live) compile(u *unit, stmt syntax.Stmt, gives []string, isExpr bool) (*starlark.Program, Messages) {
	tree, err := liveOptions.Parse(u.src.name, u.src.code, 0)
	if err != nil {
		return nil, Messages{parseMessage(u.src, err)}
	}
	start := syntax.Start(stmt)
	for _, fresh := range tree.Stmts {
		if at(syntax.Start(fresh)) == at(start) {
			tree.Stmts = []syntax.Stmt{fresh}
			break
		}
	}
	harden(tree)
	if isExpr {
		x := tree.Stmts[0].(*syntax.ExprStmt).X
		tree.Stmts[0] = &syntax.AssignStmt{OpPos: start, Op: syntax.EQ, LHS: &syntax.Ident{NamePos: start, Name: resultName}, RHS: x}
	}
	var before []syntax.Stmt
	for _, name := range gives {
		if l.own[name] || l.env.Has(name) {
			text := &syntax.Literal{Token: syntax.STRING, TokenPos: start, Raw: `"` + name + `"`, Value: name}
			before = append(before, &syntax.AssignStmt{OpPos: start, Op: syntax.EQ, LHS: &syntax.Ident{NamePos: start, Name: name}, RHS: guard("live", start, text)})
		}
	}
	if !isExpr {
		tree.Stmts = append(before, tree.Stmts...)
	}
	prog, err := starlark.FileProgram(tree, func(name string) bool { return !starlark.Universe.Has(name) || l.env.Has(name) })
	if err != nil {
		return nil, l.study.resolveMessages(u, err)
	}
	return prog, nil
}

// unknownNow refuses names that a statement needs at once and nothing has. What
// a def needs may come later.
func (l *Live) unknownNow(u *unit, stmt syntax.Stmt, gives []string) Messages {
	var unknown []unknownAt
	seen := map[string]bool{}
	for _, id := range usesOf(stmt) {
		if id.inside || seen[id.Name] || contains(gives, id.Name) {
			continue
		}
		if _, ok := l.Lookup(id.Name); !ok {
			seen[id.Name] = true
			unknown = append(unknown, unknownAt{id.Name, id.NamePos})
		}
	}
	return l.study.unknownNames(u, unknown)
}
