package lang

import (
	"math"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/engine/table"
	"thole/engine/words"
)

// Place is one {place} of a text: a path of names and how to write the value.
type Place struct {
	Start, End int      // bytes of the text, braces included
	Path       []string // "top", "outboard"
	Digits     int      // decimals, when Fixed
	Fixed      bool
	Signed     bool
	Unit       string // what the text wants behind the number
	HasSpec    bool   // a colon was there
}

// Name is the path as it stands between the braces.
func (p Place) Name() string { return strings.Join(p.Path, ".") }

// Places finds the places of a text, in order. A place that cannot be read is
// an error that says where (Start) and what a place looks like.
func Places(text string) ([]Place, error) {
	var places []Place
	for i := 0; i < len(text); i++ {
		if text[i] != '{' {
			continue
		}
		if i+1 < len(text) && text[i+1] == '{' {
			i++
			continue
		}
		end := strings.IndexByte(text[i:], '}')
		if end < 0 {
			return places, &PlaceError{Start: i, End: len(text),
				Err: Mistake("a place ends with }, and a brace that is only a brace is written {{", "{{",
					"this { has no }")}
		}
		p, err := parsePlace(text[i+1 : i+end])
		p.Start, p.End = i, i+end+1
		if err != nil {
			return places, &PlaceError{Start: p.Start, End: p.End, Err: err}
		}
		places = append(places, p)
		i += end
	}
	return places, nil
}

// PlaceError is an error at a place of a text.
type PlaceError struct {
	Start, End int
	Err        *Error
}

func (e *PlaceError) Error() string { return e.Err.What }
func (e *PlaceError) Unwrap() error { return e.Err }

// parsePlace reads what stands between the braces: "x", "x.y", "x:1 cm", "x:+1 %".
func parsePlace(s string) (Place, *Error) {
	path, spec, has := strings.Cut(s, ":")
	p := Place{HasSpec: has}
	for _, name := range strings.Split(path, ".") {
		name = strings.TrimSpace(name)
		if !isName(name) {
			return p,
				Mistake("a place holds a name, or name.field, of a value given above or in the call "+
					"itself; a brace that is only a brace is written {{",
					"{name}, with name = ... above", "{%s} is no place for a name", words.Cut(s, 33))
		}
		p.Path = append(p.Path, name)
	}
	if !has {
		return p, nil
	}
	spec = strings.TrimSpace(spec)
	if strings.HasPrefix(spec, "+") {
		p.Signed, spec = true, spec[1:]
	}
	i := 0
	for i < len(spec) && spec[i] >= '0' && spec[i] <= '9' {
		i++
	}
	if i > 0 {
		n, err := strconv.Atoi(spec[:i])
		if err != nil || n > 9 {
			return p, Mistake("behind the colon stands the number of decimals, 0 to 9, and a unit",
				"{"+path+":1 cm}", "{%s} asks for too many decimals", words.Cut(s, 33))
		}
		p.Digits, p.Fixed = n, true
	}
	if rest := spec[i:]; rest != "" && i > 0 && rest[0] != ' ' && rest[0] != '%' || strings.HasPrefix(rest,
		".") {
		return p, Mistake("behind the colon stand the decimals and the unit, as {x:1 cm}", "{"+path+":1}",
			"{%s} cannot be read", words.Cut(s, 33))
	}
	p.Unit = strings.TrimSpace(spec[i:])
	return p, nil
}

func isName(s string) bool {
	for i, r := range s {
		if r != '_' && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (i == 0 || r < '0' || r > '9') {
			return false
		}
	}
	return s != ""
}

// Fill fills the places of a text from names given with the call, then from
// the study's. A text between three quotes loses its common indent. The error
// is a *Error; it points at no argument.
func Fill(thread *starlark.Thread, text string, names []Named) (string, error) {
	host := HostOf(thread)
	return FillFrom(text, func(name string) (starlark.Value, bool) {
		for _, n := range names {
			if n.Name == name {
				return n.Value, true
			}
		}
		return host.Lookup(thread, name)
	}, func() []string {
		var all []string
		for _, n := range names {
			all = append(all, n.Name)
		}
		return append(all, host.Names(thread)...)
	})
}

// FillFrom is Fill with any source of names.
func FillFrom(text string, lookup func(string) (starlark.Value, bool), all func() []string) (string, error) {
	return FillPlaces(Dedent(text), lookup, all)
}

// FillPlaces is FillFrom for a text whose indent means something.
func FillPlaces(text string, lookup func(string) (starlark.Value, bool),
	all func() []string) (string, error) {
	places, err := Places(text)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	last := 0
	for _, p := range places {
		b.WriteString(unbrace(text[last:p.Start]))
		s, err := p.value(lookup, all)
		if err != nil {
			err.Place = text[p.Start:p.End]
			return "", &PlaceError{Start: p.Start, End: p.End, Err: err}
		}
		b.WriteString(s)
		last = p.End
		if b.Len() > longest {
			return "", TooLong()
		}
	}
	b.WriteString(unbrace(text[last:]))
	return b.String(), nil
}

// longest is how many bytes a filled text may have, whatever the limits.
const longest = 16 << 20

// unbrace makes {{ and }} single braces.
func unbrace(s string) string {
	return strings.NewReplacer("{{", "{", "}}", "}").Replace(s)
}

// NoPlace is the error of a place whose name nothing has.
func NoPlace(p Place, all []string) *Error {
	e := Mistake("a text is filled from the study's own names and those given with the call", "",
		"no name for the place {%s}", p.Name())
	if near := table.Nearest(p.Path[0], all); near != "" {
		e.Why = "a text is filled from the study's own names; the nearest is " + near
		e.Type = "{" + strings.Join(append([]string{near}, p.Path[1:]...), ".") + "}"
		return e
	}
	e.Type = p.Path[0] + "=... behind the text, or " + p.Path[0] + " = ... above"
	return e
}

// value finds and writes the value of a place.
func (p Place) value(lookup func(string) (starlark.Value, bool), all func() []string) (string, *Error) {
	v, ok := lookup(p.Path[0])
	if !ok || v == nil {
		return "", NoPlace(p, all())
	}
	f := Field{Digits: table.AutoDigits}
	for _, name := range p.Path[1:] {
		var err *Error
		if v, f, err = fieldOf(v, name); err != nil {
			return "", err
		}
	}
	return p.write(v, f, 0)
}

// fielder is a value whose fields know their unit and digits.
type fielder interface {
	Field(name string) (starlark.Value, Field, bool)
}

// fieldOf takes a field of a value, with its unit and digits where they are known.
func fieldOf(v starlark.Value, name string) (starlark.Value, Field, *Error) {
	bare := Field{Digits: table.AutoDigits}
	if x, ok := v.(fielder); ok {
		if y, f, ok := x.Field(name); ok {
			return y, f, nil
		}
	}
	x, ok := v.(starlark.HasAttrs)
	if !ok {
		if v == starlark.None {
			return nil, bare, Mistake("the value is a blank (None)", "another name",
				"there is nothing to take .%s of", name)
		}
		return nil, bare, Mistake(Briefly(v)+" is "+KindOf(v), "the name alone, without ."+name,
			"%s has no %q", KindOf(v), name)
	}
	y, err := x.Attr(name)
	if e := AsError(err); e != nil {
		return nil, bare, e
	}
	if err != nil || y == nil {
		return nil, bare, NoField(v.Type(), name, x.AttrNames())
	}
	return y, bare, nil
}

// write writes a value as the place wants it.
func (p Place) write(v starlark.Value, f Field, depth int) (string, *Error) {
	switch v := v.(type) {
	case starlark.Int, starlark.Float:
		x, _ := AsNumber(v)
		return p.number(x, f), nil
	case *Estimate:
		return p.estimate(v), nil
	case starlark.NoneType:
		return "none", nil
	case starlark.Bool:
		return map[bool]string{true: "yes", false: "no"}[bool(v)], nil
	case starlark.String:
		return string(v), nil
	case starlark.Callable:
		return "", Mistake("a place holds a value; a function gives one when it is called",
			p.Path[0]+" = "+p.Name()+"(...) above, and the place {"+p.Path[0]+"}",
			"%s is a function, not a value", p.Name())
	}
	if _, isTable := v.(*Table); isTable {
		return "", Mistake("a table stands on the page by show", "show("+p.Name()+")",
			"%s is a table, too wide for a sentence", p.Name())
	}
	if items, ok := Items(v); ok {
		var parts []string
		if depth > 3 {
			return "", TooLong()
		}
		for _, x := range items {
			s, err := p.write(x, f, depth+1)
			if err != nil {
				return "", err
			}
			parts = append(parts, s)
		}
		if parts == nil {
			return "none", nil
		}
		return strings.Join(parts, ", "), nil
	}
	if d, isDict := v.(*starlark.Dict); isDict {
		if _, ok := Measure(d, 1<<16); !ok {
			return "", TooLong()
		}
	}
	return v.String(), nil
}

// number writes a number: as the place asks, else with the field's unit and
// digits, else bare with four figures.
func (p Place) number(x float64, f Field) string {
	if f.Name == "chance" && p.Unit == "" {
		return table.Chance(x)
	}
	if !p.HasSpec {
		if f.Clock {
			return table.Quantity(x, f.Name, f.Unit, f.Digits)
		}
		return table.WithUnit(fixed(x, f.Digits, f.Signed), f.Unit)
	}
	digits := f.Digits
	if p.Fixed {
		digits = p.Digits
	}
	return table.WithUnit(fixed(x, digits, p.Signed), p.Unit)
}

func fixed(x float64, digits int, signed bool) string {
	if math.IsNaN(x) {
		return "none"
	}
	if signed {
		return table.Signed(x, digits)
	}
	return table.Fixed(x, digits)
}

// estimate writes an estimate with its interval, in the decimals and unit the
// place asks for; the verdict is a field of its own.
func (p Place) estimate(v *Estimate) string {
	if !p.HasSpec {
		return v.E.InText()
	}
	e := *v.E
	if p.Fixed {
		e.Digits = p.Digits
	}
	e.Signed = e.Signed || p.Signed
	if p.Unit != "" {
		e.Unit = p.Unit
	}
	return e.InText()
}

// Dedent takes the common indent off the lines of a text, and the empty first
// and last line that three quotes leave. A text of one line stays as it is.
func Dedent(text string) string {
	if !strings.Contains(text, "\n") {
		return text
	}
	lines := strings.Split(text, "\n")
	common := -1
	for i, line := range lines {
		if strings.TrimSpace(line) == "" || i == 0 {
			continue // what follows the quotes has no indent to speak of
		}
		if n := len(line) - len(strings.TrimLeft(line, " \t")); common < 0 || n < common {
			common = n
		}
	}
	if strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	} else {
		lines[0] = strings.TrimLeft(lines[0], " \t")
	}
	for i, line := range lines {
		n := len(line) - len(strings.TrimLeft(line, " \t"))
		lines[i] = line[min(n, max(0, common)):]
	}
	if n := len(lines); n > 0 && strings.TrimSpace(lines[n-1]) == "" {
		lines = lines[:n-1]
	}
	return strings.Join(lines, "\n")
}

// ParseName reads "outboard change (cm)" as a result, output or column has it:
// name with _ for blanks, unit, and the digits such a quantity is shown with. A
// name without brackets takes the unit of the stroke's field of that name.
func ParseName(thread *starlark.Thread, text string) Field {
	name, unit, bracketed := table.Heading(text)
	if !bracketed {
		if f, ok := HostOf(thread).Quantity(name); ok {
			return f
		}
	}
	digits, change := table.DigitsFor(name, unit)
	return Field{Name: name, Unit: unit, Digits: digits, Change: change, Clock: table.ClockFor(name, unit)}
}
