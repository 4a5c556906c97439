package record

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// Named is a record with the name it goes by: its run's folder.
type Named struct {
	Name string
	*Run
}

// Options of a comparison.
type Options struct {
	// Tolerance is how far a result, or a column of a table, may move without
	// counting, by name, in its own unit. Unnamed: not at all.
	Tolerance map[string]float64
	// Rerun is the earlier run's study and inputs under the later run's
	// version, nil where that was not tried; WhyNot says why.
	Rerun  *Run
	WhyNot string
}

// Comparison is what two runs differ in: the cause, then the effect.
type Comparison struct {
	Before string   `json:"before"`
	After  string   `json:"after"`
	Causes []Cause  `json:"causes"`
	Same   []string `json:"same"` // kinds of cause in which they agree
	// Version says what the change of version did by itself; "" if it is one.
	Version string        `json:"version"`
	Effects []Effect      `json:"results"`
	Tables  []TableEffect `json:"tables"`
	Answers *Answers      `json:"answers,omitempty"` // where they differ
	Verdict string        `json:"verdict"`           // where it comes from
	Count   string        `json:"count"`             // "2 of 4 results differ beyond tolerance."
	Differ  bool          `json:"differ"`
}

// Answers are the two sentences, where they differ.
type Answers struct {
	Before string `json:"before"`
	After  string `json:"after"`
}

// Cause is one thing that is not what it was.
type Cause struct {
	Kind  CauseKind `json:"kind"`
	Where string    `json:"where"` // "oars.csv"
	Lines []string  `json:"lines"` // "line 3, set B: length 288 -> 286 cm"
}

// CauseKind says where a cause lies.
type CauseKind string

const (
	OfInput   CauseKind = "input"
	OfParam   CauseKind = "parameter"
	OfStudy   CauseKind = "study"
	OfVersion CauseKind = "version"
)

// Effect is one result, before and after. Numbers are nil where there is none.
type Effect struct {
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Digits int    `json:"digits"`
	Before any    `json:"before"`
	After  any    `json:"after"`
	// Change is after less before; Inputs and Version are its two parts, nil
	// where they could not be told apart.
	Change    *float64 `json:"change"`
	Inputs    *float64 `json:"from_inputs,omitempty"`
	Version   *float64 `json:"from_version,omitempty"`
	Tolerance float64  `json:"tolerance"`
	Differs   bool     `json:"differs"`

	parted                bool // the earlier data were run under the later version
	versionDid, inputsDid bool // which of the two moved it; texts have no more parts than that
}

// TableEffect is what changed in one table, in words.
type TableEffect struct {
	Name  string   `json:"name"`
	Lines []string `json:"lines"`
}

// Compare tells two runs apart.
func Compare(before, after Named, o Options) *Comparison {
	c := &Comparison{Before: before.Name, After: after.Name, Same: []string{}, Causes: []Cause{},
		Effects: []Effect{}, Tables: []TableEffect{}}
	c.findCauses(before, after)
	c.findEffects(before.Run, after.Run, o)
	if otherEngine(before.Run, after.Run) {
		c.Version = versionDid(before.Run, after.Run, o)
	}
	c.judge(before.Run, after.Run, o)
	return c
}

// Causes are what differs between two runs, without its effects.
func Causes(before, after Named) []Cause {
	c := &Comparison{}
	c.findCauses(before, after)
	return c.Causes
}

func otherEngine(a, b *Run) bool { return a.Version != b.Version || a.Engine != b.Engine }

func (c *Comparison) findEffects(before, after *Run, o Options) {
	for _, name := range union(before.Results.Names(), after.Results.Names()) {
		c.Effects = append(c.Effects, effectOf(name, before, after, o))
	}
	for _, name := range union(tableNames(before), tableNames(after)) {
		lines := tableChanges(tableNamed(before, name), tableNamed(after, name), o.Tolerance)
		if len(lines) > 0 {
			c.Tables = append(c.Tables, TableEffect{name, lines})
		}
	}
	if before.Answer != after.Answer {
		c.Answers = &Answers{before.Answer, after.Answer}
	}
}

func effectOf(name string, before, after *Run, o Options) Effect {
	old, had := before.Results.Get(name)
	now, has := after.Results.Get(name)
	e := Effect{Name: name, Tolerance: o.Tolerance[name], Differs: had != has}
	if had {
		e.Unit, e.Digits, e.Before = old.Unit, old.Digits, old.Value
	}
	if has {
		e.Unit, e.Digits, e.After = now.Unit, now.Digits, now.Value
	}
	if !had || !has {
		return e
	}
	x, isX := e.Before.(float64)
	y, isY := e.After.(float64)
	numbers := isX && isY && old.Unit == now.Unit
	e.Differs = e.Before != e.After || old.Unit != now.Unit
	if numbers {
		change := y - x
		e.Change, e.Differs = &change, !within(x, y, e.Tolerance)
	}
	if o.Rerun == nil {
		return e
	}
	mid, ok := o.Rerun.Results.Get(name)
	if !ok {
		return e
	}
	e.parted, e.versionDid, e.inputsDid = true, mid.Value != e.Before, mid.Value != e.After
	if m, ok := mid.Value.(float64); ok && numbers && mid.Unit == now.Unit {
		inputs, version := y-m, m-x
		e.Inputs, e.Version = &inputs, &version
	}
	return e
}

// within says whether two values count as one. The tolerance as typed (0.1)
// is not its bits: a billionth of the values' size is granted on top of one.
func within(x, y, tolerance float64) bool {
	if x == y {
		return true
	}
	return tolerance > 0 && math.Abs(y-x) <= tolerance+1e-9*math.Max(math.Abs(x), math.Abs(y))
}

// versionDid says what the new version does to the old data.
func versionDid(before, after *Run, o Options) string {
	if o.Rerun == nil {
		return "what the version did by itself is not known: " + o.WhyNot
	}
	moved, largest, count := 0, "", 0
	share := 0.0
	for _, name := range before.Results.Names() {
		old, _ := before.Results.Get(name)
		mid, ok := o.Rerun.Results.Get(name)
		if !ok {
			moved, count = moved+1, count+1
			continue
		}
		count++
		if old.Value == mid.Value {
			continue
		}
		moved++
		x, isX := old.Value.(float64)
		m, isM := mid.Value.(float64)
		if isX && isM && math.Abs(m-x) >= share*math.Abs(x) {
			share = math.Abs((m - x) / x)
			largest = fmt.Sprintf(", most %s: %s", name,
				table.WithUnit(table.Signed(m-x, moreDigits(m-x,
					(&Effect{Name: name, Unit: old.Unit, Digits: old.Digits}).places())), old.Unit))
		}
	}
	name := otherName(before, after)
	if moved == 0 {
		return fmt.Sprintf("%s's data under %s give the same numbers as before", "the earlier run", name)
	}
	return fmt.Sprintf("the earlier run's data under %s move %d of %d results%s", name, moved, count, largest)
}

func otherName(before, after *Run) string {
	if before.Version == after.Version {
		return "the later build of " + after.Version
	}
	return after.Version
}

// moreDigits gives enough decimals that a change does not show as nothing.
func moreDigits(change float64, digits int) int {
	if digits < 0 || change == 0 {
		return digits
	}
	for digits < 12 && strings.Trim(table.Fixed(change, digits), "-0.") == "" {
		digits++
	}
	return digits
}

// judge says where the effect comes from and how many results differ.
func (c *Comparison) judge(before, after *Run, o Options) {
	differ, versionMoved, dataMoved, parted := 0, false, false, true
	for _, e := range c.Effects {
		if !e.Differs {
			continue
		}
		differ++
		parted = parted && e.parted
		versionMoved = versionMoved || e.versionDid
		dataMoved = dataMoved || e.inputsDid
	}
	c.Differ = differ > 0
	switch {
	case len(c.Effects) == 0:
		c.Differ = len(c.Tables) > 0 || c.Answers != nil
		c.Count = "Neither run keeps results by name; tables and answer are the same."
		if c.Differ {
			c.Count = "Neither run keeps results by name; tables or answer differ."
		}
	case differ == 0:
		c.Count = fmt.Sprintf("%s within tolerance.", allOf(len(c.Effects)))
		if c.exact() {
			c.Count = fmt.Sprintf("%s to the last digit.", allOf(len(c.Effects)))
		}
	default:
		c.Count = fmt.Sprintf("%d of %d results differ beyond tolerance.", differ, len(c.Effects))
	}
	if differ == 0 {
		return
	}
	c.Verdict = c.whence(otherEngine(before, after), parted, dataMoved, versionMoved)
}

func (c *Comparison) exact() bool {
	for _, e := range c.Effects {
		if e.Before != e.After {
			return false
		}
	}
	return true
}

func allOf(n int) string {
	if n == 1 {
		return "The one result is the same"
	}
	return fmt.Sprintf("All %d results are the same", n)
}

func (c *Comparison) whence(version, parted, dataMoved, versionMoved bool) string {
	kinds := []string{}
	for _, kind := range []CauseKind{OfInput, OfParam, OfStudy} {
		for _, cause := range c.Causes {
			if cause.Kind == kind {
				kinds = append(kinds, map[CauseKind]string{OfInput: "data", OfParam: "parameters",
					OfStudy: "study"}[kind])
				break
			}
		}
	}
	from := strings.Join(kinds, " and the ")
	switch {
	case !version && from == "":
		return "Nothing that the records hold explains it: one of them was changed by hand."
	case !version:
		return "All of it comes from the " + from + "; the version is the same."
	case from == "":
		return "All of it comes from the new version: study, parameters and data are the same."
	case !parted:
		return "It comes from the " + from + " or from the new version; which, is not known."
	case !versionMoved:
		return "All of it comes from the " + from + ", none from the new version."
	case !dataMoved:
		return "All of it comes from the new version, none from the " + from + "."
	}
	return "It comes partly from the " + from + ", partly from the new version; the columns part them."
}

func union(a, b []string) []string {
	var all []string
	seen := map[string]bool{}
	for _, name := range append(append([]string{}, a...), b...) {
		if !seen[name] {
			seen[name] = true
			all = append(all, name)
		}
	}
	return all
}

func tableNames(r *Run) []string {
	var names []string
	for _, t := range r.Tables {
		names = append(names, t.Name)
	}
	return names
}

func tableNamed(r *Run, name string) *Table {
	for _, t := range r.Tables {
		if t.Name == name {
			return t
		}
	}
	return nil
}
