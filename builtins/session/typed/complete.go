package typed

import (
	"sort"
	"strings"
	"unicode/utf8"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/source"
)

// Completion is what may stand at the end of a line being typed.
type Completion struct {
	From  int // byte of the text that the items replace from
	Items []CompletionItem
	// Files asks for names of files that begin with the text from From on.
	Files bool
}

// CompletionItem is one possibility.
type CompletionItem struct {
	Insert  string // "inboard=", "speed"
	Unit    string
	Default string // of a parameter: "needed", "none", or its value
	Says    string
}

// Complete lists what may stand at the end of a text: names, parameters of the
// call the end stands in, choices, fields behind a dot, names in a place of a
// text, files.
func (l *Session) Complete(text string) Completion {
	lexemes := source.Lex(text)
	n := len(lexemes)
	starts := source.LineStarts(text)
	offset := func(x source.Lexeme) int { // byte where a lexeme begins
		at := starts[x.Line-1]
		for n := 1; n < x.Col && at < len(text); n++ {
			_, size := utf8.DecodeRuneInString(text[at:])
			at += size
		}
		return at
	}

	// inside a text that is still open
	if n > 0 && lexemes[n-1].Kind == source.Quoted && openText(lexemes[n-1].Text) &&
		strings.HasSuffix(text, lexemes[n-1].Text) {
		return l.completeText(text, lexemes, offset(lexemes[n-1]))
	}

	// a word that is being typed
	word, from := "", len(text)
	if n > 0 && lexemes[n-1].Kind == source.Word && strings.HasSuffix(text, lexemes[n-1].Text) {
		word, from = lexemes[n-1].Text, offset(lexemes[n-1])
		n--
	}
	if n > 0 && lexemes[n-1].Text == "." {
		return Completion{From: from, Items: l.fieldItems(lexemes[:n-1], word)}
	}
	c := Completion{From: from}
	if call, ok := openCall(lexemes[:n]); ok {
		behind := ""
		if n > 0 {
			behind = lexemes[n-1].Text
		}
		if r := l.recordOf(lexemes, call); r != nil && (behind == "(" || behind == ",") {
			c.Items = paramItems(r, lexemes[call+1:n], word)
		}
		if r := l.recordOf(lexemes, call); r != nil && behind == "=" && n >= 2 {
			c.Items = choiceItems(r, lexemes[n-2].Text, word)
		}
		if len(c.Items) > 0 && word == "" {
			return c
		}
		if len(c.Items) > 0 { // beside parameters only the user's own names
			for _, name := range l.Names() {
				if strings.HasPrefix(name, word) {
					c.Items = append(c.Items, CompletionItem{Insert: name, Says: lang.KindOf(l.env[name])})
				}
			}
			return c
		}
	}
	c.Items = l.nameItems(word)
	return c
}

// openText tells whether a text has no closing quote.
func openText(t string) bool {
	q := t[:1]
	if strings.HasPrefix(t, q+q+q) {
		return len(t) < 6 || !strings.HasSuffix(t, q+q+q)
	}
	return len(t) < 2 || !strings.HasSuffix(t, q)
}

// openCall finds the bracket of the innermost call that is still open.
func openCall(lexemes []source.Lexeme) (at int, ok bool) {
	depth := 0
	for i := len(lexemes) - 1; i >= 0; i-- {
		switch t := lexemes[i].Text; {
		case lexemes[i].Kind != source.Sign:
		case t == ")" || t == "]" || t == "}":
			depth++
		case t == "[" || t == "{":
			if depth == 0 {
				return 0, false
			}
			depth--
		case t == "(":
			if depth == 0 {
				return i, i > 0 && lexemes[i-1].Kind == source.Word
			}
			depth--
		}
	}
	return 0, false
}

// recordOf finds the function of an open call: one of the tool's, or a method
// of a value the session has.
func (l *Session) recordOf(lexemes []source.Lexeme, bracket int) *lang.Record {
	name := lexemes[bracket-1].Text
	if bracket >= 3 && lexemes[bracket-2].Text == "." {
		v := l.value(lexemes[:bracket-2])
		if v == nil {
			return nil
		}
		if t := l.study.Config().Library.Thing(v.Type()); t != nil {
			for _, m := range t.Methods {
				if m.Name == name {
					return m
				}
			}
		}
		return nil
	}
	if l.has(name) {
		return nil
	}
	return l.study.Config().Library.Record(name)
}

// value gives the value of the dotted names that a list of lexemes ends with,
// without running anything.
func (l *Session) value(lexemes []source.Lexeme) starlark.Value {
	i := len(lexemes) - 1
	if i < 0 || lexemes[i].Kind != source.Word {
		return nil
	}
	for i >= 2 && lexemes[i-1].Text == "." && lexemes[i-2].Kind == source.Word {
		i -= 2
	}
	if i > 0 && lexemes[i-1].Text == "." {
		return nil // a field of something that has to run first
	}
	v, ok := l.Lookup(lexemes[i].Text)
	for i += 2; ok && i < len(lexemes); i += 2 {
		f, has := v.(interface {
			Field(string) (starlark.Value, lang.Field, bool)
		})
		if !has {
			return nil
		}
		v, _, ok = f.Field(lexemes[i].Text)
	}
	if !ok {
		return nil
	}
	return v
}

// fieldItems lists fields and methods of the value before a dot.
func (l *Session) fieldItems(before []source.Lexeme, word string) []CompletionItem {
	v := l.value(before)
	if v == nil {
		return nil
	}
	var items []CompletionItem
	seen := map[string]bool{}
	add := func(it CompletionItem) {
		if strings.HasPrefix(it.Insert, word) && !seen[it.Insert] {
			seen[it.Insert] = true
			items = append(items, it)
		}
	}
	doc := l.study.Config().Library.Thing(v.Type())
	if doc != nil {
		for _, f := range doc.Fields {
			add(CompletionItem{Insert: f.Name, Unit: f.Unit, Says: f.Help})
		}
	}
	if x, ok := v.(lang.AnyThing); ok {
		for _, name := range x.FieldNames() {
			_, f, _ := x.Field(name)
			add(CompletionItem{Insert: name, Unit: f.Unit, Says: f.Help})
		}
	}
	if doc != nil {
		for _, m := range doc.Methods {
			add(CompletionItem{Insert: m.Name + "(", Says: m.Summary})
		}
	}
	if x, ok := v.(starlark.HasAttrs); ok {
		for _, name := range x.AttrNames() {
			if !seen[name+"("] {
				add(CompletionItem{Insert: name})
			}
		}
	}
	return items
}

// paramItems lists the parameters that the call does not have yet.
func paramItems(r *lang.Record, given []source.Lexeme, word string) []CompletionItem {
	have := map[string]bool{}
	places, depth := 0, 0
	named := false
	for i, x := range given {
		switch x.Text {
		case "(", "[", "{":
			depth++
		case ")", "]", "}":
			depth--
		case "=":
			if depth == 0 && i > 0 {
				have[given[i-1].Text] = true
				named = true
			}
		case ",":
			if depth == 0 {
				if !named {
					places++
				}
				named = false
			}
		}
	}
	var items []CompletionItem
	for i, line := range r.HelpLines() {
		if i < places && i < len(r.Params) && !r.Params[i].ByName || have[line.Name] ||
			strings.HasPrefix(line.Name, "*") {
			continue
		}
		if strings.HasPrefix(line.Name, word) {
			items = append(items, CompletionItem{Insert: line.Name + "=", Unit: line.Unit,
				Default: line.Default, Says: line.Brief})
		}
	}
	return items
}

// choiceItems lists the choices of a parameter.
func choiceItems(r *lang.Record, param, word string) []CompletionItem {
	var items []CompletionItem
	for _, p := range r.Params {
		if p.Name != param {
			continue
		}
		for _, c := range p.Choices {
			if word == "" {
				items = append(items, CompletionItem{Insert: starlark.String(c).String(), Says: p.Help})
			}
		}
	}
	return items
}

// nameItems lists names: the user's first, then the tool's, then the language's.
func (l *Session) nameItems(word string) []CompletionItem {
	var items []CompletionItem
	seen := map[string]bool{}
	add := func(name, says string) {
		if strings.HasPrefix(name, word) && !seen[name] && name != "_" {
			seen[name] = true
			items = append(items, CompletionItem{Insert: name, Says: says})
		}
	}
	for _, name := range l.Names() {
		says := ""
		if v := l.env[name]; v != nil {
			says = lang.KindOf(v)
		}
		add(name, says)
	}
	lib := l.study.Config().Library
	for _, name := range append(lib.Names(), lib.AtPrompt().Keys()...) {
		says := ""
		if r := lib.Record(name); r != nil {
			says = r.Summary
		}
		add(name, says)
	}
	if word != "" {
		var rest []string
		for name := range starlark.Universe {
			rest = append(rest, name)
		}
		rest = append(rest, "def", "for", "if", "else", "elif", "lambda", "return", "and", "or", "not", "in")
		sort.Strings(rest)
		for _, name := range rest {
			add(name, "")
		}
	}
	return items
}

// completeText completes inside a text that is being typed: a place's names and
// fields, a choice, a file.
func (l *Session) completeText(text string, lexemes []source.Lexeme, start int) Completion {
	inside := text[start+1:]
	if i := strings.LastIndexByte(inside, '{'); i >= 0 && !strings.Contains(inside[i:], "}") &&
		!strings.Contains(inside[i:], ":") {
		place := inside[i+1:]
		from := start + 1 + i + 1
		if dot := strings.LastIndexByte(place, '.'); dot >= 0 {
			return Completion{From: from + dot + 1, Items: l.fieldItems(source.Lex(place[:dot]),
				place[dot+1:])}
		}
		var items []CompletionItem
		for _, name := range l.Names() {
			if strings.HasPrefix(name, place) && name != "_" {
				items = append(items, CompletionItem{Insert: name, Says: lang.KindOf(l.env[name])})
			}
		}
		return Completion{From: from, Items: items}
	}
	c := Completion{From: start + 1}
	call, ok := openCall(lexemes[:len(lexemes)-1])
	if !ok {
		return c
	}
	r := l.recordOf(lexemes, call)
	if r == nil {
		return c
	}
	if r.Reads {
		c.Files = true
		return c
	}
	// the parameter: by its name, or by its place
	param := ""
	if k := len(lexemes) - 2; k >= 1 && lexemes[k].Text == "=" {
		param = lexemes[k-1].Text
	} else {
		places := 0
		for _, x := range lexemes[call+1 : len(lexemes)-1] {
			if x.Text == "," {
				places++
			}
		}
		if places < len(r.Params) {
			param = r.Params[places].Name
		}
	}
	for _, p := range r.Params {
		if p.Name == param {
			for _, choice := range p.Choices {
				if strings.HasPrefix(choice, inside) {
					c.Items = append(c.Items, CompletionItem{Insert: choice + text[start:start+1],
						Says: p.Help})
				}
			}
		}
	}
	return c
}
