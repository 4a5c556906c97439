package asking

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/defaults"
	"thole/engine/document"
	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/words"
)

// doubts are the topics of doubt() and the defaults they stand for.
var doubts = []struct {
	topic string
	of    [][2]string // where and name in the table of defaults
}{
	{"blade", [][2]string{{"blade", "drag"}, {"blade", "bury"}, {"blade", "along"}}},
	{"added_mass", [][2]string{{"blade", "added_mass"}}},
	{"air", [][2]string{{"hull", "body_area"}, {"hull", "sheltered_area"}, {"plain hull", "air_area"}}},
	{"water", [][2]string{{"hull", "class_factor"}, {"hull", "transition"}}},
	{"crew", [][2]string{{"rower", "free_speed"}, {"rower", "body_travel"}}},
}

var doubtRecord = &lang.Record{
	Name: "doubt", Topic: "asking", Says: "it gives ready ranges of what nobody knows exactly",
	Summary: "ready ranges of what nobody knows exactly, with their sources",
	More: &lang.Param{Name: "topics", Is: lang.Text, Choices: doubtTopics(),
		Help: "blade: drag, bury and along; added_mass; air: body_area and sheltered_area, or air_area; " +
			"water: class_factor and transition; crew: free_speed, and body_travel where mass is given"},
	Params: []lang.Param{
		{Name: "boat", Is: lang.Text, ByName: true, Default: "1x", Choices: []string{"1x", "2x", "2-", "2+",
			"4x", "4-", "4+", "8+"}, Help: "whose areas and class_factor"},
		{Name: "mass", Unit: "kg", Is: lang.Number, ByName: true, Low: 25, High: 160,
			Help: "of the rowers, for body_travel"}},
	Gives:   "a dict of ranges by parameter name, for **doubt(...)",
	Example: `doubt("blade", "crew")`,
	Notes: []string{"an input of doubt that fn does not take is left out, and said so",
		"drag is drawn by a triangle with its peak at the default, which lies at the edge of its span"},
	Do: doubtDo,
}

func doubtTopics() []string {
	topics := make([]string, len(doubts))
	for i, d := range doubts {
		topics[i] = d.topic
	}
	return topics
}

func doubtDo(c *lang.Call) (starlark.Value, error) {
	if len(c.More) == 0 {
		return nil, lang.Mistake("it knows "+strings.Join(doubtTopics(), ", "), `doubt("blade")`,
			"doubt of what?")
	}
	ranges := new(starlark.Dict)
	for _, v := range c.More {
		topic, _ := starlark.AsString(v)
		known := false
		for _, d := range doubts {
			if d.topic != topic {
				continue
			}
			known = true
			for _, name := range d.of {
				low, high, ok := spanOf(c, name[0], name[1])
				if !ok {
					continue
				}
				assumeDoubt(c, name[0], name[1], low, high)
				pair := starlark.Tuple{lang.Num(low), lang.Num(high)}
				if err := ranges.SetKey(starlark.String(name[1]), pair); err != nil {
					return nil, err
				}
			}
		}
		if !known {
			near := cmp.Or(table.Nearest(topic, doubtTopics()), "blade")
			return nil, lang.Mistake("it knows "+strings.Join(doubtTopics(), ", "), fmt.Sprintf("doubt(%q)",
				near), "doubt knows nothing of %s", lang.Briefly(v))
		}
	}
	return ranges, nil
}

// assumeDoubt puts a span with its source into the box of assumptions.
func assumeDoubt(c *lang.Call, where, name string, low, high float64) {
	s := session.Of(c.Thread)
	f, ok := defaults.Find(where, name, doubtOf(c, where))
	if s == nil || !ok {
		return
	}
	unit := f.Unit
	if name == "body_travel" {
		unit = "m"
	}
	s.Assume(document.Assumption{What: "in doubt: " + words.Spaced(name), Value: table.Fixed(low, -1) +
		" to " + table.Fixed(high, -1), Unit: unit, Source: f.Source})
}

// doubtOf is the kind a span is taken from.
func doubtOf(c *lang.Call, where string) string {
	switch where {
	case "blade":
		return "scull hatchet" // the span of drag is that of every shape
	case "hull", "plain hull":
		return c.Text("boat")
	}
	return ""
}

// spanOf gives the span within which the truth of a default may lie.
func spanOf(c *lang.Call, where, name string) (low, high float64, ok bool) {
	if name == "sheltered_area" && c.Text("boat") == "1x" {
		return 0, 0, false // nobody sits behind
	}
	f, found := defaults.Find(where, name, doubtOf(c, where))
	if !found || !f.Spanned() {
		panic("no span for " + where + "." + name)
	}
	if name == "body_travel" { // times mass^⅓
		if !c.Given("mass") {
			return 0, 0, false
		}
		k := math.Cbrt(c.Number("mass"))
		return math.Round(1000*f.Low*k) / 1000, math.Round(1000*f.High*k) / 1000, true
	}
	return rounding.Clean(f.Low), rounding.Clean(f.High), true
}

// peakOf gives where a doubt's draws crowd: drag's default lies at the edge of its span, so its draws
// make a triangle with the peak there. Only for the span as doubt gives it.
func peakOf(name string, span lang.Range) (peak float64, ok bool) {
	f, found := defaults.Find("blade", "drag", "scull hatchet")
	if name != "drag" || !found || span.Bell || span.Low != f.Low || span.High != f.High {
		return 0, false
	}
	return f.Value, true
}

// LeaveOut takes out of a call's ranges those of doubt() that fn does not take: a doubt has more
// inputs than most questions name. Where fn passes on whatever it is given, only the forms that it has to
// name (along, and one drag area instead of the bodies' areas) are left out.
func LeaveOut(c *lang.Call) {
	takes, _, anything := inputsOf(c.Func("fn"))
	var kept []lang.Named
	var left []string
	for _, n := range c.Rest {
		taken := slices.Contains(takes, n.Name) || anything && n.Name != "air_area" && n.Name != "along"
		if taken || !asDoubted(c, n) {
			kept = append(kept, n)
		} else if n.Name != "air_area" {
			left = append(left, n.Name)
		}
	}
	c.Rest = kept
	if s := session.Of(c.Thread); s != nil && len(left) > 0 && len(kept) > 0 {
		s.Assume(document.Assumption{What: "in doubt, but not drawn", Value: strings.Join(left, ", "),
			Source: "the function does not take it"})
	}
}

// asDoubted says whether a range is the one that doubt() gives for its name.
func asDoubted(c *lang.Call, n lang.Named) bool {
	span, err := lang.AsRange(n.Name, n.Value)
	if err != nil || span.Bell {
		return false
	}
	for _, d := range doubts {
		for _, of := range d.of {
			if of[1] != n.Name || n.Name == "body_travel" {
				continue
			}
			for _, f := range defaults.All() {
				if f.Where == of[0] && f.Name == of[1] && f.Spanned() && rounding.Clean(f.Low) == span.Low &&
					rounding.Clean(f.High) == span.High {
					return true
				}
			}
		}
	}
	return false
}
