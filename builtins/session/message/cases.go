package message

import (
	_ "embed"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"thole/engine/words"
)

//go:embed cases.txt
var casesText string

// Case is one thing that can be wrong with a study, as cases.txt has it.
type Case struct {
	Where, Name     string
	When            []Condition
	What, Why, Type string // templates
	Mark, Arg       string
	Try             string // a study in which the case arises
	Typed           bool   // Try are lines at the prompt
}

// Condition holds where the whole of a named piece matches, or does not.
type Condition struct {
	Name    string
	Not     bool
	pattern *regexp.Regexp
}

// Cases gives the table in order. It is read when the first message is needed: a
// study that is well never pays for it.
var Cases = sync.OnceValue(func() []*Case {
	var table []*Case
	var c *Case
	for n, line := range strings.Split(casesText, "\n") {
		if strings.HasPrefix(line, "[") {
			where, name, _ := strings.Cut(line[1:], "] ")
			c = &Case{Where: where, Name: name}
			table = append(table, c)
			continue
		}
		if c == nil || line == "" || len(line) < 6 {
			continue
		}
		key, value := strings.TrimSpace(line[:6]), line[6:]
		switch key {
		case "when":
			c.When = append(c.When, readCondition(value))
		case "what":
			c.What = value
		case "why":
			c.Why = value
		case "type":
			c.Type = value
		case "mark":
			c.Mark = value
		case "arg":
			c.Arg = value
		case "try", "typed":
			c.Typed = key == "typed"
			c.Try += value + "\n"
		default:
			panic(fmt.Sprintf("cases.txt:%d: %q", n+1, key))
		}
	}
	return table
})

func readCondition(text string) Condition {
	name, pattern, equal := strings.Cut(text, " = ")
	if other, p, not := strings.Cut(text, " != "); not && (!equal || len(other) < len(name)) {
		name, pattern, equal = other, p, false
	}
	return Condition{Name: name, Not: !equal, pattern: regexp.MustCompile("^(?s:" + pattern + ")$")}
}

// said is a case found, with its texts filled.
type said struct {
	what, why, typ, mark, arg string
	name                      string // of the case
}

func (s said) message() *Message {
	return &Message{What: s.what, Why: s.why, Type: s.typ, Case: s.name}
}

// find tells the first case of a kind whose conditions hold. piece gives the named
// pieces of the source at the place.
func find(where string, piece func(name string) string) said {
	for _, c := range Cases() {
		if c.Where != where {
			continue
		}
		if groups, ok := c.holds(piece); ok {
			fill := func(text string) string { return fillIn(text, groups, piece) }
			return said{fill(c.What), fill(c.Why), fill(c.Type), fill(c.Mark), fill(c.Arg), c.Name}
		}
	}
	panic("cases.txt: nothing is told of " + where)
}

// holds tests a case's conditions and gives what their brackets held.
func (c *Case) holds(piece func(string) string) (groups []string, ok bool) {
	for _, cond := range c.When {
		found := cond.pattern.FindStringSubmatch(piece(cond.Name))
		if (found != nil) == cond.Not {
			return nil, false
		}
		if len(found) > 1 {
			groups = append(groups, found[1:]...)
		}
	}
	return groups, true
}

var places = regexp.MustCompile(`<([a-z]*)([0-9]*)>`)

// fillIn fills a template: <1> is what the first bracket held, <kind1> the same
// in other words (see rewordings), <name> a piece of the source.
func fillIn(text string, groups []string, piece func(string) string) string {
	return places.ReplaceAllStringFunc(text, func(place string) string {
		p := places.FindStringSubmatch(place)
		reword, own := rewordings[p[1]]
		switch {
		case place == "<>":
			return place
		case own && p[2] != "" && p[2][0]-'1' < byte(len(groups)):
			return reword(groups[p[2][0]-'1'])
		}
		return piece(p[1] + p[2])
	})
}

// rewordings write what a bracket held in another way.
var rewordings = map[string]func(string) string{
	"":       func(s string) string { return s },
	"kind":   kind,
	"plain":  plainWords,
	"cut":    func(s string) string { return words.Cut(s, 40) },
	"given":  func(s string) string { return strings.ReplaceAll(s, ",", "=...,") + "=..." },
	"inputs": func(n string) string { return amount(n, "input") },
	"values": func(n string) string { return amount(n, "value") },
}

// amount gives the noun for a count: "input" for 1, else "inputs".
func amount(n, noun string) string {
	if n == "1" {
		return noun
	}
	return noun + "s"
}

// kinds are the interpreter's names of types in a coach's words.
var kinds = map[string]string{
	"int": "a number", "float": "a number", "string": "a text", "bool": "True or False",
	"NoneType": "a blank (None)",
	"list":     "a list", "tuple": "a list in round brackets", "dict": "a dict", "set": "a set",
	"function":                   "a function",
	"builtin_function_or_method": "a function", "range": "a range", "line": "a line of a table",
	"table": "a table",
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

// plainWords takes the words of the machinery out of a message.
func plainWords(s string) string {
	return strings.NewReplacer("Starlark ", "", "starlark ", "", "NoneType", "a blank (None)",
		"keyword argument", "name", "positional argument", "value", "iterable", "list", "string", "text",
		"hash table", "dict", "frozen", "fixed").Replace(s)
}
