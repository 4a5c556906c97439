package typed

import (
	"fmt"
	"strings"

	"go.starlark.net/syntax"

	"thole/builtins/session/source"
)

// renamed writes a statement with the names it reads and gives in the study.
func (k *keeping) renamed(line *keptLine) string {
	var edits []source.Edit
	change := func(id *syntax.Ident, to string) {
		if to != "" && to != id.Name {
			edits = append(edits,
				source.Edit{Line: int(id.NamePos.Line), Col: int(id.NamePos.Col),
					Len: len([]rune(id.Name)), With: to})
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
func placeEdits(lit *syntax.Literal, name, to string) []source.Edit {
	var edits []source.Edit
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
		e := source.Edit{Line: int(lit.TokenPos.Line) + strings.Count(before, "\n"), Len: len([]rune(name)),
			With: to}
		if nl := strings.LastIndex(before, "\n"); nl >= 0 {
			e.Col = 1 + len([]rune(before[nl+1:]))
		} else {
			e.Col = int(lit.TokenPos.Col) + len([]rune(before))
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

// applyEdits changes a statement's text.
func applyEdits(st *Statement, edits []source.Edit) string {
	start := syntax.Start(st.stmt)
	for i := range edits {
		if edits[i].Line -= int(start.Line) - 1; edits[i].Line == 1 {
			edits[i].Col -= int(start.Col) - 1
		}
	}
	return strings.Join(source.Edited(strings.Split(st.Text, "\n"), edits), "\n")
}
