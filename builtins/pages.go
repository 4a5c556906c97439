package builtins

import (
	"fmt"
	"strconv"
	"strings"

	"thole/builtins/lang"
	"thole/engine/model"
	"thole/engine/sources"
	"thole/engine/table"
	"thole/engine/words"
)

// pageWidth is how wide the pages of model and sources are written: a window of 80
// columns with room to spare.
const pageWidth = 78

// modelPages are the sections of the model, each under its name, "model 3".
func modelPages() []lang.Topic {
	var out []lang.Topic
	for _, s := range model.Sections() {
		next := s.Number%len(model.Sections()) + 1
		out = append(out, lang.Topic{Name: s.Name(), Summary: s.Title, Text: s.Text + "Next: help(\"model " +
			strconv.Itoa(next) + "\")\n"})
	}
	return out
}

// sourcePages are the sources, each under its key.
func sourcePages() []lang.Topic {
	var out []lang.Topic
	for _, s := range sources.All() {
		var b strings.Builder
		lang.Wrapped(&b, "  ", s.Reference(), pageWidth)
		lang.Wrapped(&b, "  for: ", s.For, pageWidth)
		lang.Wrapped(&b, "  read: ", string(s.Read), pageWidth)
		if s.Doubt != "" {
			lang.Wrapped(&b, "  but: ", s.Doubt, pageWidth)
		}
		for _, n := range sources.Numbers() {
			if n.Source == s.Key {
				lang.Wrapped(&b, "  - ", numberInFull(&n), pageWidth)
			}
		}
		out = append(out, lang.Topic{Name: s.Key, Summary: "a source", Text: b.String()})
	}
	return out
}

// numberInFull is a number with where it stands, how its authors got it and how it
// is rowed here.
func numberInFull(n *sources.Number) string {
	text := n.Says()
	var more []string
	if n.Where != "" {
		more = append(more, n.Where)
	}
	if n.Conditions != "" {
		more = append(more, n.Conditions)
	}
	if n.Rowed != "" && n.Model != "" {
		more = append(more, "rowed here: "+n.Rowed)
	}
	if len(more) > 0 {
		text += " (" + strings.Join(more, "; ") + ")"
	}
	return text + "; " + string(n.Role)
}

// sourcesTopic lists every source; checksTopic what the model is held against.
func sourcesTopic() lang.Topic {
	var b strings.Builder
	lang.Wrapped(&b, "", "Titles, pages and identifiers that our notes do not give are left out: none is "+
		"made up. "+
		"help(\"Affeld et al. 1993\") shows a source with its numbers, help(\"checks\") where the model "+
		"stands to them.", pageWidth)
	for _, s := range sources.All() {
		head := s.Reference()
		if !strings.HasPrefix(head, s.Key) && s.Authors != "" && !strings.HasPrefix(s.Key, s.Authors) {
			head = s.Key + " = " + head
		}
		lang.Wrapped(&b, "  ", head+". "+words.Capital(s.For)+". Read: "+string(s.Read)+".", pageWidth)
	}
	return lang.Topic{Name: "sources", Also: []string{"source", "papers", "references", "citations"},
		Summary: "what defaults and checks lean on, and what was read of it", Text: b.String()}
}

// roles are the roles of checks in the order they are told, with what each means.
var roles = []struct {
	role  sources.Role
	means string
}{
	{sources.Independent, "independent: nothing here was set by them"},
	{sources.Fitted, "fitted: a default was set so that they are met"},
	{sources.SignOnly, "sign only: a direction or a rough size"},
	{sources.Statement, "statements, or from memory: shown, not counted"},
}

func checksTopic() lang.Topic {
	var b strings.Builder
	counted, of := sources.Count(false)
	tables, from := sources.Count(true)
	lang.Wrapped(&b, "", fmt.Sprintf("%d printed numbers from %d sources, by which nothing was set, hold "+
		"the rowing; %d from %d more hold "+
		"the arithmetic of trials. Each is computed again with every change of the program, and a miss "+
		"stays on view.", counted, of, tables, from), pageWidth)
	for _, r := range roles {
		b.WriteString(words.Capital(r.means) + "\n")
		for _, n := range sources.Numbers() {
			if n.Role != r.role {
				continue
			}
			says := n.Says()
			if n.Model == "" && n.HeldBy == "" {
				says += ", not rowed"
			}
			lang.Wrapped(&b, "  ", says+" ("+n.Source+")", pageWidth)
		}
	}
	return lang.Topic{Name: "checks", Also: []string{"literature", "published", "validation"},
		Summary: "printed numbers, and where the model stands to them", Text: b.String()}
}

// withContents ends the topic "model" with the list of its sections.
func withContents(t lang.Topic) lang.Topic {
	if t.Name == "model" {
		head, next, _ := strings.Cut(t.Text, "Next: ")
		t.Text = head + model.Contents() + "help(\"model 3\") shows one of them. Next: " + next
	}
	return t
}

// NearestHelp gives the name of the page of help that comes nearest to one there is
// not; "" for none near. Of sections it is the nearest by number.
func NearestHelp(name string, more ...string) string {
	if number, ok := strings.CutPrefix(strings.ToLower(name), "model "); ok {
		if n, err := strconv.Atoi(number); err == nil {
			_, near, _ := model.Find(n)
			return near.Name()
		}
	}
	return table.Nearest(strings.ToLower(name), append(Library().HelpNames(), more...))
}

// ReferencePage is the whole language and, behind it, the model.
func ReferencePage() string {
	var b strings.Builder
	b.WriteString(Library().Reference())
	b.WriteString("\n## The model\n\nWhat is computed, section by section; an equation's number stands at " +
		"the end of its line.\n")
	for _, s := range model.Sections() {
		b.WriteString("\n### " + strconv.Itoa(s.Number) + " " + s.Title + "\n\n" + s.Text)
	}
	b.WriteString("\n## The sources\n\n| source | what it is | what was read | what for " +
		"|\n|---|---|---|---|\n")
	for _, s := range sources.All() {
		b.WriteString("| " + s.Key + " | " + s.Reference() + " | " + string(s.Read) + " | " + s.For + " |\n")
	}
	return b.String()
}
