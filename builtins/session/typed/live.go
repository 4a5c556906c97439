package typed

import (
	"context"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
)

// Session is one in which statements come one by one, as at the prompt. A
// name that is given again is seen by functions made before, and a function may
// call one that comes later: all names are looked up when a line runs.
//
// A Session is used by one goroutine at a time.
type Session struct {
	// Says writes a value in a few words, which Keep sets as a remark behind
	// what was shown; nil: no remarks.
	Says func(starlark.Value) string

	study *session.Study
	start starlark.StringDict // the tool's names
	env   starlark.StringDict // the tool's names and the user's, one map for all statements
	state
	undo []snapshot
	// LeftOut are the blocks that Keep leaves out: taken back, and refused.
	LeftOut struct{ Undone, Refused []string }
	line    int // lines typed so far
	step    int // statements run so far
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

	unit *source.Unit
	stmt syntax.Stmt
	def  bool
}

// Reply is what a block gave.
type Reply struct {
	Value        starlark.Value   // of the last expression, nil where there is nothing to show
	Shown        []starlark.Value // of all expressions that show themselves, in order
	Gave         []string         // names given, in order
	Stale        []string         // names that stand on the old value of a name given again
	Again        []string         // names that were given before, and now anew
	session.Line                  // what the block told: then the value need not show itself
	Errors       message.Messages
	Stopped      bool
}

const liveGuard = limits.Mark + "live"

func init() {
	limits.Add(liveGuard, func(thread *starlark.Thread, args starlark.Tuple) (starlark.Value, error) {
		v, _ := session.Of(thread).Scope().Value(string(args[0].(starlark.String)))
		if v == nil {
			return starlark.None, nil
		}
		return v, nil
	})
}

// New opens a session.
func New(cfg session.Config) *Session {
	l := &Session{env: starlark.StringDict{}, state: newState(), line: 1}
	l.study = session.NewLines(cfg, l.env, func(name string) bool { return l.has(name) }, l.Names)
	l.start = maps.Clone(l.env)
	return l
}

// Names lists the names the user gave, sorted.
func (l *Session) Names() []string { return l.given.Keys() }

// Lookup gives the value of a name: the user's, the tool's or the language's.
func (l *Session) Lookup(name string) (starlark.Value, bool) {
	if v, ok := l.env[name]; ok && !strings.HasPrefix(name, limits.Mark) {
		return v, true
	}
	v, ok := starlark.Universe[name]
	return v, ok
}

// Log gives the statements that ran well, oldest first.
func (l *Session) Log() []*Statement { return l.log }

// Eval runs a block: one statement or several. It stops at the first error;
// statements before it stand.
func (l *Session) Eval(ctx context.Context, text string) *Reply {
	first := l.line
	l.line += strings.Count(strings.TrimRight(text, "\n"), "\n") + 1
	return l.eval(ctx, fmt.Sprintf("prompt %d", first), []byte(text))
}

// Open runs a study's text as the beginning of a session: its names are there,
// and Keep writes its lines. Of a Markdown study the fences run.
func (l *Session) Open(ctx context.Context, name string, text []byte) *Reply {
	return l.eval(ctx, name, text)
}

func (l *Session) eval(ctx context.Context, name string, text []byte) *Reply {
	r := &Reply{}
	l.study.BeginLine(ctx, name)
	what := strings.TrimSpace(string(text))
	if !atPrompt(name) {
		what = name
	}
	var u *source.Unit
	if u, r.Errors = l.study.ReadLines(name, text, !atPrompt(name)); u != nil {
		l.snapshot(what)
		n := len(l.log)
		for _, stmt := range u.Tree.Stmts {
			if r.Errors = l.statement(u, stmt, r); r.Errors != nil {
				break
			}
		}
		if len(l.log) == n {
			l.undo = l.undo[:len(l.undo)-1] // nothing to take back
		}
	}
	r.Line = l.study.EndLine()
	r.placeless()
	if len(r.Errors) > 0 && atPrompt(name) {
		l.LeftOut.Refused = append(l.LeftOut.Refused, what)
	}
	return r
}

// placeless takes the places off messages about lines that were typed: they have
// no file, and their numbers are nothing to whoever typed them.
func (r *Reply) placeless() {
	for _, ms := range []message.Messages{r.Errors, r.Cautions, r.Remarks} {
		for _, m := range ms {
			r.Stopped = r.Stopped || m.Level == message.Stopped
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

// callee names the function of a statement that is a call and no more.
func callee(stmt syntax.Stmt) string {
	if x, ok := stmt.(*syntax.ExprStmt); ok {
		if call, ok := x.X.(*syntax.CallExpr); ok {
			if id, ok := call.Fn.(*syntax.Ident); ok {
				return id.Name
			}
		}
	}
	return ""
}

// promptWord tells whether a statement is a call of one of the prompt's own
// words, as undo(): it is no part of what the session has worked out.
func (l *Session) promptWord(stmt syntax.Stmt) bool {
	name := callee(stmt)
	r := l.study.Config().Library.Record(name)
	return r != nil && r.Prompt && !l.has(name)
}

// statement runs one statement.
func (l *Session) statement(u *source.Unit, stmt syntax.Stmt, r *Reply) message.Messages {
	st := &Statement{Text: u.Lines(stmt), unit: u, stmt: stmt}
	source.Given([]syntax.Stmt{stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
		if !slices.Contains(st.Gives, id.Name) {
			st.Gives = append(st.Gives, id.Name)
		}
	})
	_, st.def = stmt.(*syntax.DefStmt)
	_, isExpr := stmt.(*syntax.ExprStmt)

	if ms := l.unknownNow(u, stmt, st.Gives); ms != nil {
		return ms
	}
	prog, ms := l.compile(u, stmt, st.Gives, isExpr)
	if ms != nil {
		return ms
	}
	globals, told, ms := l.study.RunLine(prog, u.Src.Name)
	if ms != nil {
		return ms
	}
	st.Told = told
	if l.promptWord(stmt) {
		return nil
	}

	gave, again := l.give(st, st.Gives, globals)
	r.Gave = append(r.Gave, gave...)
	r.Value = nil
	if isExpr {
		v := globals[resultName]
		st.Shows = v != nil && v != starlark.None && !st.Told
		if st.Shows {
			r.Value, r.Shown, st.Value = v, append(r.Shown, v), v
			l.env["_"], l.given["_"] = v, v
		}
	}
	l.log = append(l.log, st)
	r.Again = append(r.Again, again...)
	if len(again) > 0 {
		r.Stale = l.StaleNames()
	}
	return nil
}

// resultName holds the value of an expression while its statement runs.
const resultName = limits.Mark + "result"

// compile makes the program of one statement. Names it gives that there are
// already start with their value; all other names are looked up when it runs.
func (l *Session) compile(u *source.Unit, stmt syntax.Stmt, gives []string, isExpr bool) (*starlark.Program,
	message.Messages) {
	tree, err := source.LineOptions.Parse(u.Src.Name, u.Src.Code, 0)
	if err != nil {
		return nil, message.Messages{message.Unreadable(u.Src, err)}
	}
	start := syntax.Start(stmt)
	for _, fresh := range tree.Stmts {
		if source.At(syntax.Start(fresh)) == source.At(start) {
			tree.Stmts = []syntax.Stmt{fresh}
			break
		}
	}
	limits.Harden(tree)
	if isExpr {
		x := tree.Stmts[0].(*syntax.ExprStmt).X
		tree.Stmts[0] = &syntax.AssignStmt{OpPos: start, Op: syntax.EQ,
			LHS: &syntax.Ident{NamePos: start, Name: resultName}, RHS: x}
	}
	var before []syntax.Stmt
	for _, name := range gives {
		if l.has(name) || l.env.Has(name) {
			text := &syntax.Literal{Token: syntax.STRING, TokenPos: start, Raw: `"` + name + `"`, Value: name}
			before = append(before, &syntax.AssignStmt{OpPos: start, Op: syntax.EQ,
				LHS: &syntax.Ident{NamePos: start, Name: name}, RHS: limits.Guard("live", start, text)})
		}
	}
	if !isExpr {
		tree.Stmts = append(before, tree.Stmts...)
	}
	prog, err := starlark.FileProgram(tree, func(name string) bool {
		return !starlark.Universe.Has(name) ||
			l.env.Has(name)
	})
	if err != nil {
		return nil, l.study.Scope().ResolveMessages(u, err)
	}
	return prog, nil
}

// unknownNow refuses names that a statement needs at once and nothing has. What
// a def needs may come later.
func (l *Session) unknownNow(u *source.Unit, stmt syntax.Stmt, gives []string) message.Messages {
	var unknown []message.UnknownAt
	seen := map[string]bool{}
	for _, id := range source.UsesOf(stmt) {
		if id.Inside || seen[id.Name] || slices.Contains(gives, id.Name) {
			continue
		}
		if _, ok := l.Lookup(id.Name); !ok {
			seen[id.Name] = true
			unknown = append(unknown, message.UnknownAt{Name: id.Name, Pos: id.NamePos})
		}
	}
	return l.study.Scope().UnknownNames(u, unknown)
}
