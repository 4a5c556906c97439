package record

import (
	"fmt"
	"slices"
	"strings"

	"thole/engine"
	"thole/engine/table"
)

// findCauses names what differs between two runs, inputs first, and what does not.
func (c *Comparison) findCauses(before, after Named) {
	inputs := pairFiles(filesOf(before.Run, Input), filesOf(after.Run, Input))
	c.inputCauses(inputs)
	c.paramCauses(before.Run, after.Run, inputs)
	c.textCauses(before.Run, after.Run)
	if otherEngine(before.Run, after.Run) {
		line := fmt.Sprintf("%s -> %s", before.Version, after.Version)
		if before.Version == after.Version {
			line = fmt.Sprintf("%s, another build (%.8s -> %.8s)", after.Version, before.Engine, after.Engine)
		}
		if engine.OfNumbers(before.Engine) != engine.OfNumbers(after.Engine) {
			line += "; one of the two marks is of the former kind, made from the engine's text: whether " +
				"its numbers differ, the marks do not tell"
		}
		c.Causes = append(c.Causes, Cause{OfVersion, "thole", []string{line}})
	} else {
		c.Same = append(c.Same, "thole "+after.Version)
	}
}

// pair is one file in both runs; either may be missing.
type pair struct{ before, after *File }

func (c *Comparison) inputCauses(inputs []pair) {
	for _, p := range inputs {
		switch {
		case p.before == nil:
			c.Causes = append(c.Causes, Cause{OfInput, p.after.Path, []string{"read only by " + c.After}})
		case p.after == nil:
			c.Causes = append(c.Causes, Cause{OfInput, p.before.Path, []string{"read only by " + c.Before}})
		case p.before.SHA256 == p.after.SHA256:
			c.Same = append(c.Same, p.label())
		default:
			if lines := p.changes(); len(lines) > 0 {
				c.Causes = append(c.Causes, Cause{OfInput, p.label(), lines})
			} else {
				c.Same = append(c.Same, p.label()+" (written otherwise, read as the same)")
			}
		}
	}
}

func (p pair) label() string {
	if p.before.Path == p.after.Path {
		return p.after.Path
	}
	return p.before.Path + " -> " + p.after.Path
}

// changes tells in lines how a file's tables differ; a file of which no table
// is kept differs as a whole.
func (p pair) changes() []string {
	if len(p.before.Tables) == 0 || len(p.before.Tables) != len(p.after.Tables) {
		return []string{"differs"}
	}
	var lines []string
	for i, old := range p.before.Tables {
		now := p.after.Tables[i]
		a, errA := old.ToTable()
		b, errB := now.ToTable()
		if errA != nil || errB != nil {
			return []string{"differs"}
		}
		lines = append(lines, columnChanges(a, b)...)
		lines = append(lines, fileLines(changes(a, b, nil), old, now, keyColumns(a, b))...)
	}
	return slices.Compact(lines)
}

func fileLines(all []change, old, now *TableIn, key []string) []string {
	var lines []string
	for i, c := range all {
		if i == most {
			return append(lines, fmt.Sprintf("%d more lines differ", len(all)-most))
		}
		who := ""
		if c.who != "" {
			who = ", " + plainName(key[0]) + " " + c.who
		}
		switch {
		case c.before < 0:
			lines = append(lines, fmt.Sprintf("line %d%s: new", now.line(c.after), who))
		case c.after < 0:
			lines = append(lines, fmt.Sprintf("line %d%s: gone", old.line(c.before), who))
		default:
			lines = append(lines, fmt.Sprintf("line %d%s: %s", now.line(c.after), who,
				strings.Join(c.cells, ", ")))
		}
	}
	return lines
}

// line gives the line of the file at which line i of the table begins.
func (t *TableIn) line(i int) int {
	if i < len(t.At) {
		return t.At[i]
	}
	return i + 2
}

func filesOf(r *Run, role Role) []*File {
	var out []*File
	for i := range r.Files {
		if r.Files[i].Role == role {
			out = append(out, &r.Files[i])
		}
	}
	return out
}

// pairFiles pairs files by path; what is left over in both, in the order read,
// if the study made tables with the same columns of them: the same question was
// asked of another file.
func pairFiles(before, after []*File) []pair {
	var pairs []pair
	used := map[*File]bool{}
	find := func(b *File, same func(a *File) bool) *File {
		for _, a := range before {
			if !used[a] && same(a) {
				used[a] = true
				return a
			}
		}
		return nil
	}
	for _, b := range after {
		pairs = append(pairs, pair{find(b, func(a *File) bool { return a.Path == b.Path }), b})
	}
	for i, p := range pairs {
		if p.before == nil {
			pairs[i].before = find(p.after, func(a *File) bool {
				return len(a.Tables) > 0 && slices.Equal(columnsOf(a), columnsOf(p.after)) &&
					!pathIn(after, a.Path)
			})
		}
	}
	for _, a := range before {
		if !used[a] {
			pairs = append(pairs, pair{a, nil})
		}
	}
	return pairs
}

func pathIn(files []*File, path string) bool {
	return slices.ContainsFunc(files, func(f *File) bool { return f.Path == path })
}

func columnsOf(f *File) []string {
	var names []string
	for _, t := range f.Tables {
		for _, c := range t.Columns {
			names = append(names, c.Name+" "+c.Unit)
		}
		names = append(names, "")
	}
	return names
}

func (c *Comparison) paramCauses(before, after *Run, inputs []pair) {
	var lines []string
	same := true
	for _, name := range union(before.Params.Names(), after.Params.Names()) {
		old, had := before.Params.Get(name)
		now, has := after.Params.Get(name)
		switch {
		case !had:
			lines = append(lines, name+": new, "+paramText(now))
		case !has:
			lines = append(lines, name+": gone, was "+paramText(old))
		case old.Value != now.Value || old.Unit != now.Unit:
			same = false
			if namesFile(old.Value, now.Value, inputs) {
				continue
			}
			was := paramText(old)
			if old.Unit == now.Unit {
				was = paramText(&Param{Value: old.Value})
			}
			lines = append(lines, name+": "+was+" -> "+paramText(now))
		}
	}
	if len(lines) > 0 {
		c.Causes = append(c.Causes, Cause{OfParam, "parameters", lines})
	} else if same && after.Params.Len() > 0 {
		c.Same = append(c.Same, "parameters")
	}
}

// namesFile says whether a parameter only says which file is read, or which
// folder or run: then the file is the cause, and told.
func namesFile(old, now any, inputs []pair) bool {
	was, ok := old.(string)
	is, too := now.(string)
	if !ok || !too {
		return false
	}
	for _, p := range inputs {
		switch {
		case p.before != nil && p.after != nil:
			if was != "" && p.before.Path != p.after.Path &&
				strings.Replace(p.before.Path, was, is, 1) == p.after.Path {
				return true
			}
		case p.after != nil && was == "" && p.after.Path == is+"/"+FileName, p.before != nil && is == "" &&
			p.before.Path == was+"/"+FileName:
			return true
		}
	}
	return false
}

func paramText(p *Param) string {
	switch v := p.Value.(type) {
	case float64:
		return table.WithUnit(table.FourFigures(v), p.Unit)
	case string:
		if v == "" {
			return "nothing"
		}
		return v
	case bool:
		return map[bool]string{true: "True", false: "False"}[v]
	}
	return "blank"
}

func (c *Comparison) textCauses(before, after *Run) {
	same := true
	old := append(filesOf(before, Study), filesOf(before, Loaded)...)
	now := append(filesOf(after, Study), filesOf(after, Loaded)...)
	for _, p := range pairTexts(old, now) {
		cause := Cause{Kind: OfStudy}
		switch {
		case p.before == nil:
			cause.Where, cause.Lines = p.after.Path, []string{"loaded only by " + c.After}
		case p.after == nil:
			cause.Where, cause.Lines = p.before.Path, []string{"loaded only by " + c.Before}
		case p.before.SHA256 == p.after.SHA256:
			continue
		default:
			cause.Where, cause.Lines = p.label(), textChanges(p.before, p.after)
			if len(cause.Lines) == 0 {
				c.Same = append(c.Same, p.label()+" (only remarks and layout differ)")
				same = false
				continue
			}
		}
		same = false
		c.Causes = append(c.Causes, cause)
	}
	if same {
		c.Same = append(c.Same, "study")
	}
}

// pairTexts pairs studies whatever they are called, and loaded files by path.
func pairTexts(before, after []*File) []pair {
	if len(before) > 0 && len(after) > 0 && before[0].Role == Study && after[0].Role == Study {
		return append([]pair{{before[0], after[0]}}, pairFiles(before[1:], after[1:])...)
	}
	return pairFiles(before, after)
}
