package lang

import (
	"fmt"
	"sort"
	"strings"

	"go.starlark.net/starlark"

	"thole/engine/table"
)

// Library is all words of the language together. Binding, nearest names, help,
// completion and the reference are made from it; nothing else lists them again.
type Library struct {
	Records []*Record           // functions, in the order of the reference
	Things  []ThingDoc          // kinds of things with their fields and methods
	Values  starlark.StringDict // names that are no functions: math
	Later   []string            // names of the language that this version does not have yet
	Topics  []Topic             // further pages of help: "gearing"
	Pages   []Topic             // pages that no list of topics names: "model 3", "Affeld et al. 1993"
	Fields  []Field             // fields of a stroke: names whose unit is known everywhere
	Synonym map[string]string   // words people try -> names: "boat" -> "hull"
	Renamed map[string]Renamed  // what has another name now: "lever_ratio", "hull.class_factor"

	byName map[string]*Record
	fields map[string]Field
	units  map[string]string // unit of a parameter, where it has one everywhere
}

// Topic is a page of help that belongs to no function.
type Topic struct {
	Name    string
	Also    []string // other words under which it is found: "heavy", "light"
	Summary string
	Text    string // as it is printed, without the line of name and summary
}

// Renamed is what a name of an older version is now: lever_ratio(o) is gearing(o).lever,
// Name "gearing" and Field "lever"; hull(drag_factor=) is hull(class_factor=), Name alone;
// blade(shape, law="perfect") is blade(shape).change(law="perfect"), Field alone.
// Beyond says what a number may have been meant for that the new one cannot be.
type Renamed struct{ Name, Field, Beyond string }

// As writes the new name, and what follows the call's brackets.
func (r Renamed) As(call string) string {
	if r.Field != "" {
		return call + "." + r.Field
	}
	return call
}

// Seal checks the records against programmer's mistakes, ties them together and
// gives the library back. It panics on two records of one name.
func (l *Library) Seal() *Library {
	l.byName = map[string]*Record{}
	l.fields = map[string]Field{}
	for _, f := range l.Fields {
		l.fields[f.Name] = f
	}
	for _, r := range l.Records {
		if l.byName[r.Name] != nil {
			panic("two records are named " + r.Name)
		}
		l.byName[r.Name] = r
	}
	units := map[string]string{}
	unlike := map[string]bool{}
	for _, r := range l.all() {
		r.check()
		r.lib = l
		for _, p := range r.Params {
			if p.Is&Number == 0 {
				continue
			}
			if u, seen := units[p.Name]; seen && u != p.Unit {
				unlike[p.Name] = true
			}
			units[p.Name] = p.Unit
		}
	}
	for name := range unlike {
		delete(units, name)
	}
	l.units = units
	for old, now := range l.Renamed {
		if owner, name, ok := strings.Cut(old, "."); ok && now.Name != "" {
			if kind := l.Thing(owner); kind != nil && kind.was != nil {
				kind.was[name] = now.Name
				table.Former[name] = now.Name
			}
		}
	}
	return l
}

// all gives functions and methods.
func (l *Library) all() []*Record {
	all := append([]*Record(nil), l.Records...)
	for _, t := range l.Things {
		all = append(all, t.Methods...)
	}
	return all
}

// check panics on a record that cannot work.
func (r *Record) check() {
	seen := map[string]bool{}
	byName, optional := false, false
	for _, p := range r.Params {
		switch {
		case seen[p.Name]:
			panic(fmt.Sprintf("%s: parameter %s twice", r.FullName(), p.Name))
		case byName && !p.ByName:
			panic(fmt.Sprintf("%s: %s stands after a parameter by name", r.FullName(), p.Name))
		case optional && p.Needed && !p.ByName:
			panic(fmt.Sprintf("%s: needed %s stands after an optional one", r.FullName(), p.Name))
		case p.Needed && p.Default != nil:
			panic(fmt.Sprintf("%s: %s is needed and has a default", r.FullName(), p.Name))
		}
		seen[p.Name] = true
		byName = byName || p.ByName
		optional = optional || !p.Needed
		valueOf(p.Default)
	}
	if r.Do == nil {
		panic(r.FullName() + " does nothing")
	}
}

// Record gives the function of that name, or nil.
func (l *Library) Record(name string) *Record { return l.byName[name] }

// Thing gives the kind of things of that name, or nil.
func (l *Library) Thing(name string) *ThingDoc {
	for i := range l.Things {
		if l.Things[i].Name == name {
			return &l.Things[i]
		}
	}
	return nil
}

// Now gives today's name of a parameter or field of an older version, none where it has none
// or the owner ("hull", "stroke") never had it.
func (l *Library) Now(owner, name string) Renamed {
	if l == nil {
		return Renamed{}
	}
	return l.Renamed[owner+"."+name]
}

// UnitOf gives the unit of a parameter's name where it has one everywhere, as
// an axis of vary needs it, or of a stroke's field.
func (l *Library) UnitOf(name string) (unit string, ok bool) {
	if f, ok := l.fields[name]; ok {
		return f.Unit, true
	}
	unit, ok = l.units[name]
	return unit, ok
}

// Quantity gives a stroke's field by name: unit and digits.
func (l *Library) Quantity(name string) (Field, bool) {
	f, ok := l.fields[name]
	return f, ok
}

// Predeclared gives the names a study starts with.
func (l *Library) Predeclared() starlark.StringDict {
	d := starlark.StringDict{}
	for _, r := range l.Records {
		if !r.Prompt {
			d[r.Name] = r.Builtin()
		}
	}
	for name, v := range l.Values {
		d[name] = v
	}
	return d
}

// AtPrompt gives the names that the prompt has besides.
func (l *Library) AtPrompt() starlark.StringDict {
	d := starlark.StringDict{}
	for _, r := range l.Records {
		if r.Prompt {
			d[r.Name] = r.Builtin()
		}
	}
	return d
}

// Names lists all functions and values, sorted.
func (l *Library) Names() []string {
	var names []string
	for _, r := range l.Records {
		if !r.Prompt {
			names = append(names, r.Name)
		}
	}
	for name := range l.Values {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// IsLater tells whether the language has a function of that name that this
// version does not have yet.
func (l *Library) IsLater(name string) bool {
	for _, n := range l.Later {
		if n == name {
			return true
		}
	}
	return false
}
