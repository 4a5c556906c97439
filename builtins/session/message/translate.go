package message

import (
	"fmt"
	"regexp"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
	"thole/builtins/session/source"
	"thole/engine/table"
)

// rule turns one kind of the interpreter's own errors into a coach's words. The
// text function gets what the pattern's brackets held.
type rule struct {
	pattern *regexp.Regexp
	say     func(p []string, x *where) *lang.Error
}

// where is what is known of the place an error arose at.
type where struct {
	*Scope
	unit *source.Unit
	call *syntax.CallExpr
	node syntax.Expr
}

// source gives the text of a node, or points where it is unknown.
func (w *where) source(n syntax.Node) string {
	if w.unit == nil || n == nil {
		return "..."
	}
	if s := w.unit.Whole(n); s != "" {
		return s
	}
	return "..."
}

// both gives the two sides of an operator.
func (w *where) both() (x, y string) {
	if b, ok := w.node.(*syntax.BinaryExpr); ok {
		return w.source(b.X), w.source(b.Y)
	}
	return "...", "..."
}

// index gives what was indexed and by what.
func (w *where) index() (x, y string) {
	if b, ok := w.node.(*syntax.IndexExpr); ok {
		return w.source(b.X), w.source(b.Y)
	}
	return "...", "..."
}

func (w *where) callText() string {
	if w.call == nil {
		return "..."
	}
	return w.source(w.call.Fn)
}

func Say(what, why, typ string) *lang.Error { return lang.Mistake(why, typ, "%s", what) }

// kinds are the interpreter's names of types in a coach's words.
var kinds = map[string]string{
	"int": "a number", "float": "a number", "string": "a text", "bool": "True or False", "NoneType": "a blank (None)",
	"list": "a list", "tuple": "a list in round brackets", "dict": "a dict", "set": "a set", "function": "a function",
	"builtin_function_or_method": "a function", "range": "a range", "line": "a line of a table", "table": "a table",
}

func kind(t string) string {
	if k, ok := kinds[t]; ok {
		return k
	}
	if t != "" && strings.Contains("aeiou", t[:1]) {
		return "an " + t
	}
	return "a " + t
}

func re(s string) *regexp.Regexp { return regexp.MustCompile("^(?s)" + s + "$") }

var opWords = map[string]string{
	"+": "added", "-": "taken from each other", "*": "multiplied", "/": "divided", "//": "divided", "%": "divided",
	"<": "compared", "<=": "compared", ">": "compared", ">=": "compared", "in": "looked up",
}

var rules = []rule{
	{re(`len: value of type (\S+) has no len`), func(p []string, w *where) *lang.Error {
		return Say(kind(p[1])+" has no length", "len counts what is in a list, a table, a dict or a text", "len([...])")
	}},
	{re(`function (\S+) called recursively`), func(p []string, w *where) *lang.Error {
		return Say(p[1]+" calls itself", "a function may not come back to itself: a study must end; for repeats, find searches",
			"for i in range(100): ... in place of the call")
	}},
	{re(`unknown binary op: (\S+) (\S+) (\S+)`), func(p []string, w *where) *lang.Error { return w.operator(p[1], p[2], p[3]) }},
	{re(`unknown unary op: (\S+) (\S+)`), func(p []string, w *where) *lang.Error {
		return Say(kind(p[2])+" has no sign", "only numbers have one", "a field of it: "+p[1]+"x.speed")
	}},
	{re(`(\S+) (<|<=|>|>=|==|!=) (\S+) not implemented`), func(p []string, w *where) *lang.Error { return w.operator(p[1], p[2], p[3]) }},
	{re(`(?:floating-point|floored) division by zero`), func(p []string, w *where) *lang.Error {
		x, y := w.both()
		if b, ok := w.node.(*syntax.BinaryExpr); ok {
			if _, written := source.Literal(b.Y); written {
				return Say("nothing can be divided by 0", "what is divided by 0 has no size", x+" / ...")
			}
		}
		return Say("division by nothing: "+y+" is 0 here", "what is divided by 0 has no size", fmt.Sprintf("%s / %s if %s else None", x, y, y))
	}},
	{re(`.*modulo by zero`), func(p []string, w *where) *lang.Error {
		_, y := w.both()
		return Say("division by nothing: "+y+" is 0 here", "what is divided by 0 leaves no rest", y+" other than 0")
	}},
	{re(`(?:list|tuple|table|string|range) index (-?\d+) out of range \[(-?\d+):(-?\d+)\]`), func(p []string, w *where) *lang.Error {
		x, _ := w.index()
		return Say(fmt.Sprintf("%s has no number %s", x, p[1]), fmt.Sprintf("it has the numbers 0 to %s, counted from 0; -1 is the last", p[3]), x+"[-1]")
	}},
	{re(`index (-?\d+) out of range: empty (\S+)`), func(p []string, w *where) *lang.Error {
		x, _ := w.index()
		return Say(x+" is empty", "there is nothing to take the number "+p[1]+" of", x+"["+p[1]+"] if "+x+" else None")
	}},
	{re(`(?:list|tuple|table|string|range|invalid \w+) index: got \S+, want int`), func(p []string, w *where) *lang.Error {
		x, y := w.index()
		return Say("a place in a row of values is a whole number", y+" is none; places are counted from 0, -1 is the last", x+"[0]")
	}},
	{re(`range: .*got (?:float|string), want int`), func(p []string, w *where) *lang.Error {
		return Say("range counts in whole numbers", "steps goes by any step, its last value included", "steps(0, 1, 0.5)")
	}},
	{re(`can't assign to \.(\w+) field of (\S+)`), func(p []string, w *where) *lang.Error {
		x := "thing"
		if d, ok := w.node.(*syntax.DotExpr); ok {
			x = w.source(d.X)
		}
		if p[2] == "line" || p[2] == "table" {
			return Say(kind(p[2])+" cannot change", "what was rowed or read stays as it was; add gives a table with one more column",
				fmt.Sprintf(`t.add({"%s": lambda line: ...})`, p[1]))
		}
		return Say(kind(p[2])+" cannot change", "a thing stays what it was made; change gives a copy", fmt.Sprintf("other = %s.change(...)", x))
	}},
	{re(`key (.*) not in dict`), func(p []string, w *where) *lang.Error {
		x, _ := w.index()
		return Say(fmt.Sprintf("%s has nothing under %s", x, cutText(p[1], 40)), "a dict gives what was put under a name, and only that", x+".get("+cutText(p[1], 40)+")")
	}},
	{re(`unhandled index operation (\S+)\[(\S+)\]`), func(p []string, w *where) *lang.Error {
		x, _ := w.index()
		return Say(kind(p[1])+" has no [ ]", x+" is "+kind(p[1])+", and no list, dict, text or table", x)
	}},
	{re(`(\S+) has no \.(\w+) field or method(?: \(did you mean \.(\w+)\?\))?`), func(p []string, w *where) *lang.Error {
		e := Say(fmt.Sprintf("%s has no %q", kind(p[1]), p[2]), kind(p[1])+" has no such field", "help()")
		switch {
		case p[1] == "module":
			return noFieldOfMath(p[2])
		case p[1] == "NoneType":
			e = Say("there is nothing here to take ."+p[2]+" of", "the value is a blank (None): a function without return, or a line that was not there", "print(...) of what stands before the point")
		case p[3] != "":
			e.Why, e.Type = "the nearest name is "+p[3], "."+p[3]
		}
		return e
	}},
	{re(`invalid call of non-function \((\S+)\)`), func(p []string, w *where) *lang.Error {
		f := w.callText()
		return Say(fmt.Sprintf("%s is %s and cannot be called", f, kind(p[1])), "round brackets behind a name call a function; a number beside brackets wants a *", f+", or "+f+" * (...)")
	}},
	{re(`(?:for loop|comprehension|)\s*(\S+) value is not iterable`), func(p []string, w *where) *lang.Error { return w.notSeveral(p[1]) }},
	{re(`.*got (\S+), want iterable`), func(p []string, w *where) *lang.Error { return w.notSeveral(p[1]) }},
	{re(`(?:global|local) variable (\S+) referenced before assignment`), func(p []string, w *where) *lang.Error {
		return Say(p[1]+" has no value yet", "it is given further down, or in a branch that was not taken", p[1]+" = ... above this line")
	}},
	{re(`internal error: predeclared variable (\S+) is uninitialized`), func(p []string, w *where) *lang.Error {
		return w.unknownName(p[1], w.unit, w.node)
	}},
	{re(`function (\S+) missing \d+ arguments? \((.*)\)`), func(p []string, w *where) *lang.Error {
		return Say(fmt.Sprintf("%s needs %s", p[1], p[2]), "these inputs of it have no = in its def, so each call has to give them", strings.ReplaceAll(p[2], ",", "=...,")+"=...")
	}},
	{re(`function (\S+) accepts no arguments \((\d+) given\)`), func(p []string, w *where) *lang.Error {
		return Say(p[1]+" takes nothing between its brackets", "its def has no inputs", p[1]+"()")
	}},
	{re(`function (\S+) accepts (?:at most )?(\d+) positional arguments? \((\d+) given\)`), func(p []string, w *where) *lang.Error {
		in := w.inputsOf(p[1])
		if p[1] == "lambda" || len(in) == 0 {
			return Say(fmt.Sprintf("this function takes %s, not %s", amount(p[2], "input"), p[3]), "its head says so", amount(p[2], "value")+" between the brackets")
		}
		return Say(fmt.Sprintf("%s takes %s, not %s", p[1], amount(p[2], "input"), p[3]), "its def has "+strings.Join(in, ", "), p[1]+"("+strings.Join(in, ", ")+")")
	}},
	{re(`function (\S+) got an unexpected keyword argument "?(\w+)"?`), func(p []string, w *where) *lang.Error {
		e := Say(fmt.Sprintf("%s has no input %q", p[1], p[2]), "its def names other inputs", "")
		e.Arg, e.Part = p[2], lang.AtName
		if near := table.Nearest(p[2], w.inputsOf(p[1])); near != "" {
			e.Why, e.Type = "the nearest input of its def is "+near, near+"=..."
		} else if in := w.inputsOf(p[1]); len(in) > 0 {
			e.Why, e.Type = "its def has "+strings.Join(in, ", "), in[0]+"=..."
		}
		return e
	}},
	{re(`function (\S+) got multiple values for parameter "?(\w+)"?`), func(p []string, w *where) *lang.Error {
		return Say(fmt.Sprintf("%s got %s twice", p[1], p[2]), "once by its place and once by its name", "one of them")
	}},
	{re(`(?:\w+: )?cannot .* frozen (?:list|hash table|set).*`), func(p []string, w *where) *lang.Error {
		return Say("this list or dict is fixed by now", "a function handed to vary or its like reads it, in parallel; or it comes from a loaded file", "a new one: longer = old + [...]")
	}},
	{re(`(?:\w+: )?cannot .* during iteration.*`), func(p []string, w *where) *lang.Error {
		return Say("a list cannot change while a for goes through it", "the loop would lose its place", "a new list, and add to that one")
	}},
	{re(`unhashable(?: type)?: (\S+)`), func(p []string, w *where) *lang.Error {
		return Say(kind(p[1])+" cannot be a key", "the keys of a dict or set are texts, numbers or things that cannot change", "a text as the key")
	}},
	{re(`.*(?:want|got) (?:float|int) .*|got (\S+), want (?:int|float)`), nil},
	{re(`unknown conversion %(.)`), func(p []string, w *where) *lang.Error {
		return Say("% writes no digits here", "numbers are written with fmt, or in a told text as {x:1 cm}", `fmt(x, 1, "cm")`)
	}},
	{re(`format spec features not supported.*`), func(p []string, w *where) *lang.Error {
		return Say("format() knows no digits", "numbers are written with fmt, or in a told text as {x:1 cm}", `fmt(x, 1, "cm")`)
	}},
	{re(`(not enough|too many) arguments for format string`), func(p []string, w *where) *lang.Error {
		return Say("the text has "+map[string]string{"not enough": "more", "too many": "fewer"}[p[1]]+" % places than values behind it", "each %s takes one value", `"{x}" in a told text, or fmt(x)`)
	}},
	{re(`load: name (\S+) not found in module (\S+?)(?: \(did you mean .*)?`), func(p []string, w *where) *lang.Error {
		return NoSuchName(p[2], p[1], w.Defines(p[2]))
	}},
	{re(`fail: (.*)`), func(p []string, w *where) *lang.Error {
		return Say(p[1], "the study itself says so, with fail", "what the sentence asks for")
	}},
	{re(`(?:too many|too few) values to unpack \(got (\d+), want (\d+)\)`), func(p []string, w *where) *lang.Error {
		return Say(fmt.Sprintf("%s values for %s names", p[1], p[2]), "left of = stand as many names as there are values right of it", "as many names as values")
	}},
	{re(`got (\S+) in sequence assignment`), func(p []string, w *where) *lang.Error {
		return Say("one value for several names", kind(p[1])+" is one value; it cannot be shared out", "one name to the left of =")
	}},
	{re(`shift count too large.*|int too large.*|.*number too large`), func(p []string, w *where) *lang.Error {
		return Say("this number is too large", "no quantity of a boat has so many digits", "a smaller one")
	}},
	{re(`(?:repeat count .* too large|excessive repeat .*)`), func(p []string, w *where) *lang.Error {
		return Say("this would be too large", "lists and texts have limits, so that a study cannot fill the memory", "fewer of them")
	}},
	{re(`cannot convert float (NaN|infinity) to integer.*|cannot convert float (\S+) to int.*`), func(p []string, w *where) *lang.Error {
		return Say("this number has no end, so it is no whole number", "it comes from a division by something too small", "round(x)")
	}},
	{re(`(?:int|float): .*invalid (?:literal|syntax).*|(?:int|float): (.*)|invalid (?:\w+ )?literal.*`), func(p []string, w *where) *lang.Error {
		return Say("this text is no number", "a number in a text is written with a point and without its unit", `float("2.5")`)
	}},
	{re(`(\w+): (.*)`), func(p []string, w *where) *lang.Error { return w.ownFunction(p[1], p[2]) }},
}

// noFieldOfMath is the message of a name that math does not have: it is the only
// module a study meets.
func noFieldOfMath(name string) *lang.Error {
	var names []string
	if m, ok := starlark.Value(lang.Math).(starlark.HasAttrs); ok {
		names = m.AttrNames()
	}
	e := Say(fmt.Sprintf("math has no %q", name), "it has "+lang.Listed(names, "and", 20), "")
	if near := table.Nearest(name, names); near != "" {
		e.Type = "math." + near
	} else {
		e.Type = "math." + names[0]
	}
	return e
}

// amount writes "1 input", "2 inputs".
func amount(n, noun string) string {
	if n == "1" {
		return "1 " + noun
	}
	return n + " " + noun + "s"
}

// translate turns an error in the interpreter's words into ours.
func (s *Scope) Translate(err error, m *Message, stack starlark.CallStack) *lang.Error {
	w := &where{Scope: s}
	for i := len(stack) - 1; i >= 0; i-- {
		name := stack[i].Pos.Filename()
		if u := s.Units[name]; u != nil && !s.Ours[name] {
			w.unit, w.call, w.node = u, u.Calls[source.At(stack[i].Pos)], u.Nodes[source.At(stack[i].Pos)]
			break
		}
	}
	msg := err.Error()
	if s.RefusedCall(msg, stack) {
		w.call = nil // the place is the call, found by explain
	}
	e := (*lang.Error)(nil)
	for _, r := range rules {
		if p := r.pattern.FindStringSubmatch(msg); p != nil && r.say != nil {
			e = r.say(p, w)
			break
		}
	}
	if e == nil {
		e = Say(plainWords(msg), "this is a rule of the language itself", `help("python") tells where it differs`)
	}
	m.What, m.Why, m.Type = e.What, e.Why, e.Type
	return e
}

// plainWords takes the words of the machinery out of a message.
func plainWords(s string) string {
	return strings.NewReplacer("Starlark ", "", "starlark ", "", "NoneType", "a blank (None)", "keyword argument", "name",
		"positional argument", "value", "iterable", "list", "string", "text", "hash table", "dict", "frozen", "fixed").Replace(s)
}

// operator is the message of two values that an operator cannot join.
func (w *where) operator(a, op, b string) *lang.Error {
	x, y := w.both()
	if _, ok := w.node.(*syntax.BinaryExpr); !ok && opWords[op] == "compared" {
		// compared on the way, as sorted does
		return Say(fmt.Sprintf("%s and %s cannot be compared", kind(a), kind(b)), w.callText()+" puts values in order, and only values of a kind have one",
			"a list of one kind, without blanks; or key=lambda x: ...")
	}
	word := opWords[op]
	if word == "" {
		word = "joined by " + op
	}
	what := fmt.Sprintf("%s and %s cannot be %s", kind(a), kind(b), word)
	isNumber := func(t string) bool { return t == "int" || t == "float" }
	switch {
	case a == "NoneType" || b == "NoneType":
		blank := x
		if b == "NoneType" {
			blank = y
		}
		return Say(what, blank+" is a blank here: a column has one where there was no value", fmt.Sprintf("t.complete() for the lines without blanks, or: if %s != None", blank))
	case a == "string" && isNumber(b) && op == "+":
		return Say(what, "a told text fills its {names} by itself; elsewhere fmt makes a text of a number", fmt.Sprintf("%s + fmt(%s)", x, y))
	case b == "string" && isNumber(a) && op == "+":
		return Say(what, "a told text fills its {names} by itself; elsewhere fmt makes a text of a number", fmt.Sprintf("fmt(%s) + %s", x, y))
	case (a == "list" || a == "tuple") && isNumber(b) || (b == "list" || b == "tuple") && isNumber(a):
		list, num := x, y
		if isNumber(a) {
			list, num = y, x
		}
		return Say(what, "sums go value by value", fmt.Sprintf("[v %s %s for v in %s]", op, num, list))
	case a == "function" || b == "function" || a == "builtin_function_or_method" || b == "builtin_function_or_method":
		f := x
		if strings.HasPrefix(b, "function") || strings.HasPrefix(b, "builtin") {
			f = y
		}
		return Say(what, f+" is a function: with brackets behind it, it gives a value", f+"(...)")
	case op == "in":
		return Say(what, "in looks into a list, a dict, a set or a text", x+" in [...]")
	case !isNumber(a) && a != "string" && a != "list":
		return Say(what, x+" is "+kind(a)+"; sums are made with its fields", x+".speed, or any other field")
	case !isNumber(b) && b != "string" && b != "list":
		return Say(what, y+" is "+kind(b)+"; sums are made with its fields", y+".speed, or any other field")
	}
	return Say(what, x+" is "+kind(a)+", "+y+" is "+kind(b), "two of a kind")
}

// notSeveral is the message of a single value where several were wanted.
func (w *where) notSeveral(t string) *lang.Error {
	e := Say(kind(t)+" is one value, not several", "for and its like go through a list, a table or a range", "[...] around it")
	if t == "int" || t == "float" {
		e.Type = "range(n) to count, steps(first, last, by) for values"
	}
	return e
}

// inputsOf gives the inputs of a function of the user's files.
func (w *where) inputsOf(name string) []string {
	var names []string
	for file, u := range w.Units {
		if w.Ours[file] {
			continue
		}
		syntax.Walk(u.Tree, func(n syntax.Node) bool {
			def, ok := n.(*syntax.DefStmt)
			if !ok || def.Name.Name != name || names != nil {
				return true
			}
			for _, p := range def.Params {
				if kv, ok := p.(*syntax.BinaryExpr); ok {
					p = kv.X
				}
				if id, ok := p.(*syntax.Ident); ok {
					names = append(names, id.Name)
				}
			}
			return true
		})
	}
	return names
}

// ownFunction is the message of one of the language's own small functions
// (len, sorted, int ...), whose errors begin with their name.
func (w *where) ownFunction(name, rest string) *lang.Error {
	rest = plainWords(rest)
	return Say(fmt.Sprintf("%s cannot do that: %s", name, rest), name+" is one of the language's own functions", `help("`+name+`")`)
}

// refusedCall tells whether an error is that a function of the study was called
// with the wrong inputs: its place is the call, not the function.
func (s *Scope) RefusedCall(msg string, stack starlark.CallStack) bool {
	n := len(stack)
	if n < 2 || !calledWrong.MatchString(msg) {
		return false
	}
	return strings.HasPrefix(msg, "function "+stack[n-1].Name+" ")
}

var calledWrong = regexp.MustCompile(`^function \S+ (missing|accepts|got) `)
