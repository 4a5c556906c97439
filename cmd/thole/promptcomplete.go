package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"thole/builtins"
	"thole/builtins/session/typed"
	"thole/cmd/thole/input"
	"thole/engine/term"
)

// complete finds what may stand at the end of what was typed.
func (p *prompt) complete(text string) input.Completion {
	c := p.live.Complete(text)
	begun := text[c.From:]
	out := input.Completion{With: begun, Instead: len(begun)}
	items := c.Items
	switch found := helpOn.FindStringSubmatch(text); {
	case found != nil:
		items, begun = subjects(found[1]), found[1]
		out = input.Completion{With: begun, Instead: len(begun)}
	case c.Files:
		items = filesLike(begun, text[c.From-1:c.From])
	}
	if len(items) == 0 {
		return input.Completion{}
	}
	common := items[0].Insert
	for _, item := range items[1:] {
		common = common[:commonPrefix(common, item.Insert)]
	}
	if len(common) > len(begun) && strings.HasPrefix(common, begun) {
		out.With = common
	}
	if len(items) > 1 && out.With == begun || len(items) == 1 && items[0].Default != "" {
		out.List = completions(p.tty.Window, items)
	}
	return out
}

// helpOn is a call of help whose subject is being typed.
var helpOn = regexp.MustCompile(`\bhelp\(["'](\w*)$`)

// subjects lists the topics that begin so, or without any all that there is
// help on.
func subjects(begun string) []typed.CompletionItem {
	var items []typed.CompletionItem
	for _, t := range builtins.Library().Topics {
		if strings.HasPrefix(t.Name, begun) {
			items = append(items, typed.CompletionItem{Insert: t.Name + `")`, Says: t.Summary})
		}
	}
	if len(items) > 0 {
		return items
	}
	for _, name := range builtins.Library().HelpNames() {
		if strings.HasPrefix(name, begun) {
			items = append(items, typed.CompletionItem{Insert: name + `")`})
		}
	}
	return items
}

func commonPrefix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	for n > 0 && n < len(a) && a[n]&0xC0 == 0x80 { // not within a character
		n--
	}
	return n
}

// mostExplained is how many completions are listed with what they are; more
// stand by their names alone.
const mostExplained = 40

// completions lists names with unit, default and what they are.
func completions(w term.Window, items []typed.CompletionItem) []string {
	if len(items) > mostExplained || alike(items) {
		return inColumns(w, items)
	}
	cells := make([][]string, len(items))
	for i, item := range items {
		cells[i] = []string{w.Clean(item.Insert), w.Clean(item.Unit), w.Clean(item.Default)}
	}
	lines := term.Align(cells, 3)
	for i, line := range lines {
		lines[i] = strings.TrimRight(term.Cut("  "+line+w.Clean(items[i].Says), w.Width-1), " ")
	}
	return lines
}

// alike says whether the items say no more than their names, as choices do.
func alike(items []typed.CompletionItem) bool {
	return len(items) > 1 && !slices.ContainsFunc(items, func(item typed.CompletionItem) bool {
		return item.Says != items[0].Says || item.Unit+item.Default != ""
	})
}

// inColumns lists names alone, down the columns.
func inColumns(w term.Window, items []typed.CompletionItem) []string {
	widest := 0
	for _, item := range items {
		widest = max(widest, term.Width(w.Clean(item.Insert)))
	}
	across := max((w.Width-2)/(widest+2), 1)
	down := (len(items) + across - 1) / across
	lines := make([]string, down)
	for i, item := range items {
		lines[i%down] += "  " + term.PadRight(w.Clean(item.Insert), widest)
	}
	return lines
}

// filesLike lists files of this folder that begin so; quote closes a name.
func filesLike(begun, quote string) []typed.CompletionItem {
	if filepath.IsAbs(begun) || strings.Contains(begun, "..") {
		return nil
	}
	dir, begin := filepath.Split(begun)
	entries, err := os.ReadDir(filepath.Join(".", dir))
	if err != nil {
		return nil
	}
	var items []typed.CompletionItem
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, begin) || strings.HasPrefix(name, ".") {
			continue
		}
		if e.IsDir() {
			name += "/"
		} else {
			name += quote
		}
		items = append(items, typed.CompletionItem{Insert: term.StripControls(filepath.ToSlash(dir) + name)})
	}
	return items
}
