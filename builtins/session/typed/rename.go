package typed

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

// edit is a piece of text to put in place of another.
type edit struct {
	line, col, n int
	with         string
}

// renamed writes a statement with the names it reads and gives in the study.
func (k *keeping) renamed(line *keptLine) string {
	var edits []edit
	change := func(id *syntax.Ident, to string) {
		if to != "" && to != id.Name {
			edits = append(edits, edit{int(id.NamePos.Line), int(id.NamePos.Col), len([]rune(id.Name)), to})
		}
	}
	for _, id := range source.UsesOf(line.stmt) {
		if k.live.has(id.Name) || id.Name == "_" {
			change(id.Ident, line.reads[id.Name])
		}
	}
	source.Given([]syntax.Stmt{line.stmt}, false, func(id *syntax.Ident, _ bool, _ syntax.Stmt) {
		change(id, line.gives[id.Name])
	})
	syntax.Walk(line.stmt, func(n syntax.Node) bool {
		if lit, ok := n.(*syntax.Literal); ok && lit.Token == syntax.STRING {
			for name, to := range line.reads {
				if to != name && k.live.has(name) {
					edits = append(edits, placeEdits(lit, name, to)...)
				}
			}
		}
		return true
	})
	text := applyEdits(line.Statement, edits)
	if a, ok := line.stmt.(*syntax.AssignStmt); ok && a.Op != syntax.EQ {
		return spelledOut(line, a, text)
	}
	return text
}

// placeEdits rename the places of a text that begin with a name: {a}, {a.b:1}.
func placeEdits(lit *syntax.Literal, name, to string) []edit {
	var edits []edit
	for from := 0; ; {
		i := strings.Index(lit.Raw[from:], "{"+name)
		if i < 0 {
			return edits
		}
		from += i + 1 // behind the brace
		if end := from + len(name); end >= len(lit.Raw) || strings.IndexByte(".:}", lit.Raw[end]) < 0 {
			continue
		}
		before := lit.Raw[:from]
		e := edit{int(lit.TokenPos.Line) + strings.Count(before, "\n"), 0, len([]rune(name)), to}
		if nl := strings.LastIndex(before, "\n"); nl >= 0 {
			e.col = 1 + len([]rune(before[nl+1:]))
		} else {
			e.col = int(lit.TokenPos.Col) + len([]rune(before))
		}
		edits = append(edits, e)
	}
}

// spelledOut writes x += 1 as x = x_1 + (1): a study gives a name once.
func spelledOut(line *keptLine, a *syntax.AssignStmt, text string) string {
	id, ok := a.LHS.(*syntax.Ident)
	_, rest, found := strings.Cut(text, a.Op.String())
	if !ok || !found {
		return text
	}
	op := strings.TrimSuffix(a.Op.String(), "=")
	return fmt.Sprintf("%s = %s %s (%s)", line.gives[id.Name], line.reads[id.Name], op,
		strings.TrimSpace(rest))
}

// applyEdits changes a statement's text, from its end to its beginning.
func applyEdits(st *Statement, edits []edit) string {
	slices.SortFunc(edits, func(a, b edit) int { return cmp.Or(b.line-a.line, b.col-a.col) })
	start := syntax.Start(st.stmt)
	lines := strings.Split(st.Text, "\n")
	for _, e := range edits {
		i, col := e.line-int(start.Line), e.col-1
		if i < 0 || i >= len(lines) {
			continue
		}
		if i == 0 {
			col -= int(start.Col) - 1
		}
		if r := []rune(lines[i]); col >= 0 && col+e.n <= len(r) {
			lines[i] = string(r[:col]) + e.with + string(r[col+e.n:])
		}
	}
	return strings.Join(lines, "\n")
}
