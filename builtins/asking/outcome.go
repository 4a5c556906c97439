package asking

import (
	"errors"
	"fmt"
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/units"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/table"
)

// OutcomeOf reads what a function gave: a number is an output "value"; a stroke
// is its fields; a line or a dict of numbers and texts is its entries; a dict
// of strokes is one case each. Anything else is the function's fault.
func OutcomeOf(fn starlark.Callable, v starlark.Value) (study.Outcome, error) {
	if x, ok := lang.AsNumber(v); ok {
		out := study.One("value", "", x)
		if math.IsInf(x, 0) || math.IsNaN(x) {
			out = study.Outcome{{Err: errEndless}}
		}
		return out, nil
	}
	if s, ok := rowing.StrokeType.From(v); ok {
		return study.Outcome{{Values: fieldValues(s)}}, nil
	}
	switch v := v.(type) {
	case *starlark.Dict:
		return dictOutcome(fn, v)
	case *lang.Line:
		return study.Outcome{{Values: lineValues(v)}}, nil
	}
	return nil, givesNothing(fn, v)
}

// fieldValues are all result fields of a stroke.
func fieldValues(s *rowing.Stroke) []study.Value {
	values := make([]study.Value, len(stroke.Fields))
	for i, f := range stroke.Fields {
		values[i] = study.Value{Quantity: study.Quantity{Name: f.Name, Unit: f.Unit, Digits: f.Digits,
			Change: f.Change}, Number: units.Clean(f.Of(s.Stroke), f.Unit)}
	}
	return values
}

// lineValues are the cells of a line of a table.
func lineValues(line *lang.Line) []study.Value {
	var values []study.Value
	t, i := line.Of()
	for _, c := range t.T.Columns {
		q := study.Quantity{Name: c.Name, Unit: c.UnitAt(i), Digits: c.DigitsAt(i), Change: c.Change}
		if c.Kind == table.Text {
			values = append(values, study.Value{Quantity: q, Text: c.Texts[i], IsText: true})
		} else {
			values = append(values, study.Value{Quantity: q, Number: c.Value(i)})
		}
	}
	return values
}

// errNoStroke is the reason of an alternative that a function gives as None.
var errNoStroke = errors.New("no stroke")

// dictOutcome reads a dict: of strokes a case each, else named numbers and texts.
func dictOutcome(fn starlark.Callable, d *starlark.Dict) (study.Outcome, error) {
	if d.Len() == 0 {
		return nil, lang.Mistake("a dict names what comes out",
			`return {"gain (s)": a.time(2000) - b.time(2000)}`, "%s gives an empty dict", FnName(fn))
	}
	strokes := 0
	for _, kv := range d.Items() {
		if _, ok := rowing.StrokeType.From(kv[1]); ok {
			strokes++
		}
	}
	var cases study.Outcome
	var values []study.Value
	for _, kv := range d.Items() {
		key, ok := starlark.AsString(kv[0])
		if !ok {
			return nil, lang.Mistake("outputs are found again by their names", `{"gain (s)": ...}`,
				"%s gives a dict with %s for a name", FnName(fn), kv[0])
		}
		if s, ok := rowing.StrokeType.From(kv[1]); ok {
			cases = append(cases, study.Case{Name: key, Values: fieldValues(s)})
			continue
		}
		if kv[1] == starlark.None && strokes > 0 {
			cases = append(cases, study.Case{Name: key, Err: errNoStroke})
			continue
		}
		value, err := namedValue(fn, key, kv[1])
		if err != nil {
			return nil, err
		}
		values = append(values, value)
	}
	if len(cases) > 0 && len(values) > 0 {
		return nil, lang.Mistake("strokes become a line each, numbers a column each",
			"two functions, or a dict of numbers alone",
			"%s gives strokes and numbers in one dict", FnName(fn))
	}
	if len(cases) > 0 {
		return cases, nil
	}
	for _, v := range values {
		if math.IsInf(v.Number, 0) {
			return study.Outcome{{Err: errEndless}}, nil
		}
	}
	return study.Outcome{{Values: values}}, nil
}

// errEndless is the reason of a point that came out without an end.
var errEndless = errors.New("no number that can be used: it has no end")

// namedValue reads one entry of a dict: "gain (s)" and a number, text or blank.
func namedValue(fn starlark.Callable, key string, v starlark.Value) (study.Value, error) {
	name, unit, bracketed := table.Heading(key)
	if f, ok := stroke.FieldNamed(name); ok && !bracketed {
		unit = f.Unit
	}
	digits, change := table.DigitsFor(name, unit)
	out := study.Value{Quantity: study.Quantity{Name: name, Unit: unit, Digits: digits, Change: change}}
	switch x := v.(type) {
	case starlark.NoneType:
		out.Number = math.NaN()
	case starlark.String:
		out.Text, out.IsText = string(x), true
	case starlark.Bool:
		out.Text, out.IsText = x.String(), true
	default:
		number, ok := lang.AsNumber(v)
		if !ok {
			return out, lang.Mistake("an entry of the dict is a number or a text; a stroke's field is one",
				fmt.Sprintf("{%q: s.speed}", key),
				"%s gives %s as %q", FnName(fn), lang.KindOf(v), key)
		}
		out.Number = number
	}
	return out, nil
}

// givesNothing is a function that gives what no study can count.
func givesNothing(fn starlark.Callable, v starlark.Value) error {
	if v == starlark.None {
		return lang.Mistake("what it works out has to be handed back",
			"return at its end, as in  return today.change(wind=wind)", "%s gives nothing back", FnName(fn))
	}
	return lang.Mistake("it should give a number, a stroke, a dict of numbers, or a dict of strokes",
		"return today.change(...), or return {\"gain (s)\": ...}",
		"%s gives %s", FnName(fn), lang.KindOf(v))
}

// FnName is how a message calls a function.
func FnName(fn starlark.Callable) string {
	if fn.Name() == "lambda" {
		return "the function"
	}
	return fn.Name()
}
