package message

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// Translate sets a message's words for an error in the interpreter's words: the
// cases of [running]. It gives the argument that the error points at, if any.
func (s *Scope) Translate(err error, m *Message, stack starlark.CallStack) *lang.Error {
	w := &failing{Scope: s, msg: err.Error()}
	for i := len(stack) - 1; i >= 0; i-- {
		name := stack[i].Pos.Filename()
		if u := s.Units[name]; u != nil && !s.Ours[name] {
			w.unit, w.call, w.node = u, u.Calls[source.At(stack[i].Pos)], u.Nodes[source.At(stack[i].Pos)]
			break
		}
	}
	if s.RefusedCall(w.msg, stack) {
		w.call = nil // the place is the call, found by who explains
	}
	told := w.tell()
	m.What, m.Why, m.Type, m.Case = told.what, told.why, told.typ, told.name
	return &lang.Error{Arg: told.arg, Part: lang.AtName, Index: -1}
}

var (
	noValue  = regexp.MustCompile(`^internal error: predeclared variable (\S+) is uninitialized$`)
	notThere = regexp.MustCompile(`^load: name (\S+) not found in module (\S+?)(?: \(did you mean .*)?$`)
)

// tell finds the case. A name that nothing has belongs to other kinds of cases.
func (w *failing) tell() said {
	if p := noValue.FindStringSubmatch(w.msg); p != nil {
		return w.unknownName(p[1], w.unit, w.node)
	}
	if p := notThere.FindStringSubmatch(w.msg); p != nil {
		return noSuchName(p[2], p[1], w.Defines(p[2]))
	}
	return find("running", func(name string) string {
		if piece := runningPieces[name]; piece != nil {
			return piece(w)
		}
		return ""
	})
}

// failing is a place where a line failed.
type failing struct {
	*Scope
	msg  string
	unit *source.Unit
	call *syntax.CallExpr
	node syntax.Expr
}

// runningPieces are the named pieces of a place where a line failed: the two
// sides of an operator, what was indexed (of) by what (by), what was called.
var runningPieces = map[string]func(w *failing) string{
	"msg":   func(w *failing) string { return w.msg },
	"plain": func(w *failing) string { return plainWords(w.msg) },

	"a":            func(w *failing) string { a, _, _ := w.operator(); return a },
	"op":           func(w *failing) string { _, op, _ := w.operator(); return op },
	"b":            func(w *failing) string { _, _, b := w.operator(); return b },
	"kinda":        func(w *failing) string { a, _, _ := w.operator(); return kind(a) },
	"kindb":        func(w *failing) string { _, _, b := w.operator(); return kind(b) },
	"joined":       (*failing).joined,
	"node":         (*failing).nodeKind,
	"left":         func(w *failing) string { left, _ := w.sides(); return left },
	"right":        func(w *failing) string { _, right := w.sides(); return right },
	"rightwritten": (*failing).rightWritten,
	"of":           func(w *failing) string { of, _ := w.indexed(); return of },
	"by":           func(w *failing) string { _, by := w.indexed(); return by },
	"call":         (*failing).called,
	"thing":        (*failing).thing,

	"inputs":    func(w *failing) string { return strings.Join(w.inputs(), ", ") },
	"input":     func(w *failing) string { return append(w.inputs(), "")[0] },
	"inputnear": (*failing).inputNear,
	"mathnames": func(*failing) string { return lang.Listed(mathNames(), "and", 20) },
	"mathnear":  (*failing).mathNear,
}

var twoValues = regexp.MustCompile(`^(?:unknown binary op: )?(\S+) (\S+) (\S+)(?: not implemented)?$`)

// operator gives the types on both sides of an operator that cannot join them.
func (w *failing) operator() (a, op, b string) {
	p := twoValues.FindStringSubmatch(w.msg)
	begins, ends := strings.HasPrefix(w.msg, "unknown binary op: "),
		strings.HasSuffix(w.msg, " not implemented")
	if p == nil || !begins && !ends {
		return "", "", ""
	}
	return p[1], p[2], p[3]
}

var opWords = map[string]string{
	"+": "added", "-": "taken from each other", "*": "multiplied", "/": "divided", "//": "divided",
	"%": "divided",
	"<": "compared", "<=": "compared", ">": "compared", ">=": "compared", "in": "looked up",
}

func (w *failing) joined() string {
	_, op, _ := w.operator()
	if word, ok := opWords[op]; ok {
		return word
	}
	return "joined by " + op
}

// nodeKind tells an operator that is written there from one met on the way, as
// sorted compares.
func (w *failing) nodeKind() string {
	if _, ok := w.node.(*syntax.BinaryExpr); ok {
		return "operator"
	}
	return ""
}

// text gives the source of a node, or points where it is unknown.
func (w *failing) text(n syntax.Node) string {
	if w.unit != nil && n != nil {
		if s := w.unit.Whole(n); s != "" {
			return s
		}
	}
	return "..."
}

func (w *failing) sides() (left, right string) {
	if b, ok := w.node.(*syntax.BinaryExpr); ok {
		return w.text(b.X), w.text(b.Y)
	}
	return "...", "..."
}

func (w *failing) rightWritten() string {
	b, ok := w.node.(*syntax.BinaryExpr)
	if !ok {
		return ""
	}
	_, written := source.Literal(b.Y)
	return yes(written)
}

func (w *failing) indexed() (of, by string) {
	if x, ok := w.node.(*syntax.IndexExpr); ok {
		return w.text(x.X), w.text(x.Y)
	}
	return "...", "..."
}

func (w *failing) called() string {
	if w.call == nil {
		return "..."
	}
	return w.text(w.call.Fn)
}

// thing gives what stands before the point of a field.
func (w *failing) thing() string {
	if d, ok := w.node.(*syntax.DotExpr); ok {
		return w.text(d.X)
	}
	return "thing"
}

var ofFunction = regexp.MustCompile(`^function (\S+) `)

// inputs gives the inputs of the function of the user's files that was called.
func (w *failing) inputs() (names []string) {
	p := ofFunction.FindStringSubmatch(w.msg)
	if p == nil || p[1] == "lambda" {
		return nil
	}
	for _, file := range slices.Sorted(maps.Keys(w.Units)) {
		if w.Ours[file] {
			continue
		}
		syntax.Walk(w.Units[file].Tree, func(n syntax.Node) bool {
			def, ok := n.(*syntax.DefStmt)
			if !ok || def.Name.Name != p[1] || names != nil {
				return true
			}
			for _, input := range def.Params {
				if kv, ok := input.(*syntax.BinaryExpr); ok {
					input = kv.X
				}
				if id, ok := input.(*syntax.Ident); ok {
					names = append(names, id.Name)
				}
			}
			return true
		})
	}
	return names
}

// quotedWord finds the name of an input in the interpreter's words.
var quotedWord = regexp.MustCompile(` "?(\w+)"?$`)

func (w *failing) inputNear() string {
	if p := quotedWord.FindStringSubmatch(w.msg); p != nil {
		return table.Nearest(p[1], w.inputs())
	}
	return ""
}

// mathNames lists what math has: it is the only module a study meets.
func mathNames() []string { return lang.Math.AttrNames() }

var ofMath = regexp.MustCompile(`^module has no \.(\w+) `)

func (w *failing) mathNear() string {
	if p := ofMath.FindStringSubmatch(w.msg); p != nil {
		if near := table.Nearest(p[1], mathNames()); near != "" {
			return near
		}
	}
	return mathNames()[0]
}

var calledWrong = regexp.MustCompile(`^function \S+ (missing|accepts|got) `)

// RefusedCall tells whether an error is that a function of the study was called
// with the wrong inputs: its place is the call, not the function.
func (s *Scope) RefusedCall(msg string, stack starlark.CallStack) bool {
	n := len(stack)
	return n >= 2 && calledWrong.MatchString(msg) && strings.HasPrefix(msg, "function "+stack[n-1].Name+" ")
}
