package builtins

import (
	"regexp"
	"strings"
	"sync"
)

// exampleStart is what the examples of help may stand on: name by name, in
// order, what it is and the lines that give it.
var exampleStart = []struct{ name, is, lines string }{
	{"sculls", "an oar", `sculls = oar(length=288, inboard=88, blade="scull hatchet")`},
	{"usual", "a stroke", `usual = row(hull("1x"), crew(mass=84, power=380, rate=32), sculls)`},
	{"pair", "a stroke", `pair_oar = oar(length=374, inboard=115, blade="sweep hatchet")
pair = row(hull("2-"), crew(mass=88, power=430, rate=36), pair_oar, name="pair",
           rig=rig(spread=86, sides="ps"))`},
	{"rigged", "a stroke", `rigged = row(hull("1x"), crew(mass=84, power=380, rate=32), sculls,
             rig=rig(span=159, height=16, pitch=4,
                     work_through=8, stretcher=46))`},
	{"t", "a table", `t = table([
    {"crew": "Otters", "outboard (cm)": 200, "area (cm²)": 820,
     "speed": 5.0, "heaviness": 180, "set": "A"},
    {"crew": "Herons", "outboard (cm)": 202, "area (cm²)": 820,
     "speed": 5.1, "heaviness": 190, "set": "B"}])`},
	{"other", "a table", `other = table([{"crew": "Otters", "boat": "4x"}])`},
}

// exampleLines are the lines of all examples of functions, as a page has them.
var exampleLines = sync.OnceValue(func() map[string]bool {
	lines := map[string]bool{}
	l := Library()
	all := l.Records
	for _, t := range l.Things {
		all = append(all[:len(all):len(all)], t.Methods...)
	}
	for _, r := range all {
		for line := range strings.Lines(strings.TrimSpace(r.Example)) {
			lines["  "+strings.TrimRight(line, "\n")] = true
		}
	}
	return lines
})

var nameInCode = regexp.MustCompile(`"[^"]*"|[A-Za-z_.][A-Za-z_0-9]*=?`)

// ExamplesNeed gives the lines to type before the examples of a page can be
// tried: for each name that they stand on and the session does not have.
func ExamplesNeed(page string, has func(name string) bool) (is []string, lines []string) {
	used := map[string]bool{}
	for line := range strings.Lines(page) {
		line = strings.TrimRight(line, "\n")
		code, isTopic := strings.CutPrefix(line, "> ")
		if !isTopic && !exampleLines()[line] {
			continue
		}
		for _, word := range nameInCode.FindAllString(code, -1) {
			used[word] = true
		}
		name, _, gives := strings.Cut(code, " = ")
		if gives && !strings.ContainsAny(name, " (") {
			used[name] = used[name] && has(name) // the page gives it itself
		}
	}
	if used["usual"] || used["rigged"] {
		used["sculls"] = true
	}
	for _, s := range exampleStart {
		if used[s.name] && !has(s.name) {
			is = append(is, s.name+" is "+s.is)
			lines = append(lines, strings.Split(s.lines, "\n")...)
		}
	}
	return is, lines
}
