package lang

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// HelpLine is one parameter as help and completion show it.
type HelpLine struct {
	Name    string
	Unit    string
	Default string // "needed", "none", or the value
	Says    string // window, what it is, usual values
	Brief   string // the same on one line, for completion
}

// HelpLines gives the parameters of a function in order.
func (r *Record) HelpLines() []HelpLine {
	var lines []HelpLine
	for i := range r.Params {
		lines = append(lines, r.Params[i].helpLine())
	}
	if r.More != nil {
		lines = append(lines, HelpLine{Name: "*" + r.More.Name, Unit: r.More.Unit, Default: "none",
			Says: r.More.Help})
	}
	if r.Rest != nil {
		lines = append(lines, HelpLine{Name: "**" + r.Rest.Name, Unit: r.Rest.Unit, Default: "none",
			Says: r.Rest.Help})
	}
	return lines
}

func (p *Param) helpLine() HelpLine {
	line := HelpLine{Name: p.Name, Unit: p.Unit, Default: "none"}
	switch {
	case p.Needed:
		line.Default = "needed"
	case p.Shown != "":
		line.Default = p.Shown
	case p.Default != nil:
		line.Default = p.say()
	}
	var says []string
	if p.window() {
		says = append(says, plain(p.Low)+" to "+plain(p.High))
	}
	if p.Help != "" {
		says = append(says, p.Help)
	}
	if len(p.Choices) > 0 {
		says = append(says, strings.Join(quoted(p.Choices), " "))
	}
	if u := p.usualText(); u != "" {
		says = append(says, u)
	}
	line.Says = strings.Join(says, "; ")

	var brief []string
	if p.window() {
		brief = append(brief, plain(p.Low)+" to "+plain(p.High))
	}
	switch u := p.usualText(); {
	case len(p.Choices) > 0:
		brief = append(brief, strings.Join(p.Choices, ", "))
	case u != "":
		brief = append(brief, u)
	case p.Help != "":
		brief = append(brief, p.Help)
	}
	line.Brief = strings.Join(brief, "; ")
	return line
}

// Help gives the page of a topic, a function, a kind of things, a method
// ("table.sort"), a field or a parameter, width characters wide at most. Of
// several words the first that there is help on counts: "grip and slip".
func (l *Library) Help(name string, width int) (text string, ok bool) {
	name = strings.Trim(strings.TrimSpace(name), "?!.()\"'")
	tries := []string{name, strings.ToLower(name), strings.ToLower(strings.ReplaceAll(name, " ", "_"))}
	for _, word := range strings.Fields(strings.ToLower(name)) {
		if l.chapter(name) {
			break // the number of a page there is not asks for that page, not for its first word
		}
		if len(word) > 3 {
			tries = append(tries, word)
		}
	}
	for _, try := range tries {
		if text, ok = l.help(try, width); ok {
			return text, true
		}
	}
	return "", false
}

// TopicOf gives the topic that has this other word, nil for none.
func (l *Library) TopicOf(word string) *Topic {
	for i := range l.Topics {
		if slices.Contains(l.Topics[i].Also, word) {
			return &l.Topics[i]
		}
	}
	return nil
}

// chapter says whether a name is a word and a number where such pages are kept.
func (l *Library) chapter(name string) bool {
	word, number, _ := strings.Cut(strings.ToLower(name), " ")
	_, err := strconv.Atoi(number)
	return err == nil && slices.ContainsFunc(l.Pages, func(t Topic) bool {
		return strings.HasPrefix(t.Name, word+" ")
	})
}

// HelpFields gives the page of a kind of things: what can be read from one.
func (l *Library) HelpFields(kind string, width int) string { return helpThing(l.Thing(kind), width) }

// HelpOn gives the page of a function alone, whatever topics are called like it.
func (l *Library) HelpOn(r *Record, width int) string { return l.helpRecord(r, width) }

func (l *Library) help(name string, width int) (text string, ok bool) {
	if l.byName[name] == nil {
		if to, ok := l.Synonym[name]; ok {
			name = to
		}
	}
	for _, t := range l.Topics {
		if t.Name == name {
			return t.page(), true
		}
	}
	for _, t := range l.Pages {
		if strings.EqualFold(t.Name, name) {
			return t.page(), true
		}
	}
	if r := l.byName[name]; r != nil {
		return l.helpRecord(r, width), true
	}
	if t := l.Thing(name); t != nil {
		return helpThing(t, width), true
	}
	if kind, method, ok := strings.Cut(name, "."); ok {
		if t := l.Thing(kind); t != nil {
			for _, m := range t.Methods {
				if m.Name == method {
					return l.helpRecord(m, width), true
				}
			}
			for _, f := range t.Fields {
				if f.Name == method {
					return helpField(kind, f), true
				}
			}
		}
	}
	if f, ok := l.fields[name]; ok {
		text = helpField("stroke", f)
		for _, t := range l.Topics {
			if slices.Contains(t.Also, name) {
				text += "  see help(\"" + t.Name + "\"): " + t.Summary + "\n"
			}
		}
		return text, true
	}
	if t := l.TopicOf(name); t != nil {
		return t.page(), true
	}
	if r := l.method(name); r != nil {
		return l.helpRecord(r, width), true
	}
	return l.helpParam(name, width)
}

// method is what stands behind a thing's point under a name without its thing, or gives
// a column of that name: "trace", "lift_at_hands".
func (l *Library) method(name string) *Record {
	for _, t := range l.Things {
		for _, m := range t.Methods {
			if m.Name == name || m.More != nil && slices.Contains(m.More.Choices, name) {
				return m
			}
		}
	}
	return nil
}

func (t Topic) page() string {
	return t.Name + ": " + t.Summary + "\n" + strings.TrimRight(t.Text, "\n") + "\n"
}

// helpParam tells which functions take a parameter, and what it is there.
func (l *Library) helpParam(name string, width int) (string, bool) {
	var b strings.Builder
	for _, r := range l.Records {
		for i := range r.Params {
			if p := &r.Params[i]; p.Name == name {
				line := p.helpLine()
				head := strings.TrimRight("  "+r.Name+"("+name+"=)  "+line.Unit, " ") + "  " + line.Default +
					"  "
				Wrapped(&b, head, line.Says, width)
			}
		}
	}
	if b.Len() == 0 {
		return "", false
	}
	return name + ": a parameter of\n" + b.String(), true
}

// HelpNames lists all that help knows, for the nearest name.
func (l *Library) HelpNames() []string {
	set := map[string]bool{}
	for _, r := range l.Records {
		set[r.Name] = true
	}
	for _, t := range l.Topics {
		set[t.Name] = true
		for _, name := range t.Also {
			set[name] = true
		}
	}
	for _, t := range l.Pages {
		set[t.Name] = true
	}
	for _, t := range l.Things {
		set[t.Name] = true
		for _, m := range t.Methods {
			set[m.Name] = true
		}
	}
	for name := range l.fields {
		set[name] = true
	}
	names := make([]string, 0, len(set))
	for name := range set {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// helpRecord writes a function's page.
func (l *Library) helpRecord(r *Record, width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", r.FullName(), r.Summary)
	writeLines(&b, r.HelpLines(), width)
	gives := r.Gives
	if t := l.Thing(r.Name); gives == "" && t != nil {
		gives = fieldList(t)
	}
	if gives != "" {
		Wrapped(&b, "gives ", gives, width)
	}
	for _, n := range r.Notes {
		Wrapped(&b, "", n, width)
	}
	if r.Example != "" {
		for _, line := range strings.Split(strings.TrimSpace(r.Example), "\n") {
			b.WriteString("  " + line + "\n")
		}
	}
	if r.Shows != "" {
		Wrapped(&b, "  ", r.Shows, width)
	}
	last := ""
	if len(r.Sources) > 0 {
		last = "sources: " + strings.Join(r.Sources, "; ") + "."
	}
	if r.Next != "" {
		last = strings.TrimSpace(last + "  Next: help(" + r.Next + ")")
	}
	for _, t := range l.Topics {
		if t.Name == r.Name {
			last = strings.TrimSpace(last + "  What it does to a boat: help(\"" + t.Name + "\").")
		}
	}
	if last != "" {
		Wrapped(&b, "", last, width)
	}
	return b.String()
}

// writeLines writes parameters in columns: name, unit, default, what it is.
func writeLines(b *strings.Builder, lines []HelpLine, width int) {
	name, unit, def := 0, 0, 6
	for _, l := range lines {
		name, unit, def = max(name, runes(l.Name)), max(unit, runes(l.Unit)), max(def, min(runes(l.Default),
			16))
	}
	for _, l := range lines {
		head := "  " + pad(l.Name, name) + "  "
		if unit > 0 {
			head += pad(l.Unit, unit) + "  "
		}
		head += pad(l.Default, def) + "  "
		Wrapped(b, head, l.Says, width)
	}
}

func fieldList(t *ThingDoc) string {
	var names []string
	for _, f := range t.Fields {
		names = append(names, "."+f.Name)
	}
	for _, m := range t.Methods {
		names = append(names, "."+m.Name+"()")
	}
	return strings.Join(names, " ")
}

// helpThing writes the page of a kind of things: its fields and methods.
func helpThing(t *ThingDoc, width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: its fields\n", t.Name)
	name, unit := 0, 0
	for _, f := range t.Fields {
		name, unit = max(name, runes(f.Name)), max(unit, runes(f.Unit))
	}
	for _, m := range t.Methods {
		name = max(name, runes(m.Name)+2)
	}
	for _, f := range t.Fields {
		Wrapped(&b, "  "+pad(f.Name, name)+"  "+pad(f.Unit, unit)+"  ", f.Help, width)
	}
	for _, m := range t.Methods {
		Wrapped(&b, "  "+pad(m.Name+"()", name)+"  "+pad("", unit)+"  ", m.Summary, width)
	}
	return b.String()
}

func helpField(kind string, f Field) string {
	text := f.Name + ": " + f.Help
	if f.Help == "" {
		text = f.Name + ": a field of " + Article(kind)
	}
	if f.Unit != "" {
		text += ", " + f.Unit
	}
	text += "\n"
	if digits := f.Digits; digits >= 0 {
		text += fmt.Sprintf("  shown with %s, as %s.%s or in a told text as {x.%s}\n",
			count(digits, "decimal"), kind, f.Name, f.Name)
	}
	return text
}

func runes(s string) int { return len([]rune(s)) }

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-runes(s))) }

// Wrapped writes a text behind a head, broken at blanks, further lines under
// the text's beginning.
func Wrapped(b *strings.Builder, head, text string, width int) {
	indent := strings.Repeat(" ", min(runes(head), 30))
	if head == "gives " {
		indent = "  "
	}
	line, empty := head, true
	for _, word := range strings.Fields(text) {
		if !empty && runes(line)+1+runes(word) > width {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}
