package lang

import (
	"fmt"
	"slices"
	"strings"

	"thole/engine/words"
)

// topicOrder is the order of the reference; other topics follow as they come.
var topicOrder = []string{"things", "doing", "asking", "telling", "data", "trials", "prompt"}

var topicTitles = map[string]string{"things": "Things", "doing": "Doing", "asking": "Asking",
	"telling": "Telling", "data": "Data", "trials": "Trials on the water", "prompt": "At the prompt"}

// Reference writes the whole language as one page of CommonMark.
func (l *Library) Reference() string {
	var b strings.Builder
	b.WriteString("# Reference\n\nEvery name of the language, made from what the program itself knows. " +
		"Numbers are plain, in the unit named here.\n")
	topics := append([]string(nil), topicOrder...)
	for _, r := range l.Records {
		if !slices.Contains(topics, r.Topic) {
			topics = append(topics, r.Topic)
		}
	}
	for _, topic := range topics {
		title := topicTitles[topic]
		if title == "" {
			title = topic
		}
		first := true
		for _, r := range l.Records {
			if r.Topic != topic {
				continue
			}
			if first {
				fmt.Fprintf(&b, "\n## %s\n", title)
				first = false
			}
			r.reference(&b, "###")
		}
	}
	b.WriteString("\n## Fields and methods\n")
	for i := range l.Things {
		t := &l.Things[i]
		fmt.Fprintf(&b, "\n### of %s\n", Article(t.Name))
		if len(t.Fields) > 0 {
			b.WriteString("\n| field | unit | what it is |\n|---|---|---|\n")
			for _, f := range t.Fields {
				fmt.Fprintf(&b, "| `%s` | %s | %s |\n", f.Name, f.Unit, escapeCell(f.Help))
			}
		}
		for _, m := range t.Methods {
			m.reference(&b, "####")
		}
	}
	return b.String()
}

func (r *Record) reference(b *strings.Builder, level string) {
	fmt.Fprintf(b, "\n%s %s\n\n`%s`\n\n%s.", level, r.Name, r.Head(), words.Capital(r.Summary))
	if r.Gives != "" {
		fmt.Fprintf(b, " Gives %s.", r.Gives)
	}
	b.WriteString("\n")
	if lines := r.HelpLines(); len(lines) > 0 {
		b.WriteString("\n| parameter | unit | default | |\n|---|---|---|---|\n")
		for _, h := range lines {
			fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", h.Name, h.Unit, escapeCell(h.Default),
				escapeCell(h.Says))
		}
	}
	for _, n := range r.Notes {
		fmt.Fprintf(b, "\n%s\n", n)
	}
	if len(r.Errors) > 0 {
		fmt.Fprintf(b, "\nRefused: %s.\n", strings.Join(r.Errors, "; "))
	}
	if r.Example != "" {
		fmt.Fprintf(b, "\n```starlark\n%s\n```\n", strings.TrimSpace(r.Example))
	}
	if len(r.Sources) > 0 {
		fmt.Fprintf(b, "\nSources: %s.\n", strings.Join(r.Sources, "; "))
	}
}

func escapeCell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }
