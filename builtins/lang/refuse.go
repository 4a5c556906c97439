package lang

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/words"
)

// This file holds the messages of the binder: what a call got wrong and what to
// type instead.

// spoken says in words how the values of a unit are typed.
var spoken = map[string]string{
	"cm": "lengths are typed in centimetres", "mm": "this is typed in millimetres",
	"m":   "this is typed in metres",
	"cm²": "areas are typed in square centimetres", "m²": "this area is typed in square metres",
	"kg": "masses are typed in kilograms", "W": "power is typed in watts",
	"deg": "angles are typed in degrees, without a sign",
	"m/s": "speeds are typed in metres a second", "°C": "temperatures are typed in degrees Celsius",
	"1/min": "rates are typed in strokes a minute", "N": "forces are typed in newtons",
	"s": "times are typed in seconds",
	"%": "this is typed in per cent", "kg·m²": "this is typed in kg·m²",
}

// slip is a unit somebody may have typed instead: (x − Zero) times Factor is in
// our unit.
type slip struct {
	Factor float64
	Name   string
	Zero   float64 // what it reads at our 0
}

// meant is what x would be in our unit, as one would type it: two decimals below 10,
// one above.
func (s slip) meant(x float64) float64 {
	y := (x - s.Zero) * s.Factor
	if math.Abs(y) < 10 {
		return rounding.Decimals(y, 2)
	}
	return rounding.Decimals(y, 1)
}

var slips = map[string][]slip{
	"cm": {{Factor: 100, Name: "metres"}, {Factor: 0.1, Name: "millimetres"}, {Factor: 2.54,
		Name: "inches"}, {Factor: 30.48, Name: "feet"}},
	"mm":  {{Factor: 10, Name: "centimetres"}, {Factor: 1000, Name: "metres"}},
	"m":   {{Factor: 0.01, Name: "centimetres"}, {Factor: 0.001, Name: "millimetres"}},
	"cm²": {{Factor: 1e4, Name: "square metres"}, {Factor: 0.01, Name: "square millimetres"}},
	"m²":  {{Factor: 1e-4, Name: "square centimetres"}},
	"kg":  {{Factor: 0.001, Name: "grams"}, {Factor: 0.45359237, Name: "pounds"}},
	"W":   {{Factor: 1000, Name: "kilowatts"}},
	"deg": {{Factor: -1, Name: "an angle with its sign"}, {Factor: 180 / math.Pi, Name: "radians"},
		{Factor: -180 / math.Pi, Name: "radians with a sign"}},
	"m/s":   {{Factor: 1 / 3.6, Name: "kilometres an hour"}},
	"1/min": {{Factor: 60, Name: "strokes a second"}},
	"s":     {{Factor: 0.001, Name: "milliseconds"}},
	"°C":    {{Factor: 1, Name: "kelvin", Zero: 273.15}, {Factor: 1 / 1.8, Name: "Fahrenheit", Zero: 32}},
}

// outside is the message of a number outside its window, with the likely slip.
func (p *Param) outside(x float64) *Error {
	e := NoAnswer("", "", "%s %s is outside %s to %s", p.Name, table.WithUnit(plain(x), p.Unit), plain(p.Low),
		plain(p.High))
	how := spoken[p.Unit]
	if how == "" && p.Unit != "" {
		how = "this is typed in " + p.Unit
	}
	for _, s := range slips[p.Unit] {
		y := s.meant(x)
		if y < p.Low || y > p.High {
			continue
		}
		e.Why = fmt.Sprintf("%s, bare; %s looks like %s", how, plain(x), s.Name)
		if s.Factor == -1 {
			e.Why = fmt.Sprintf("%s; %s looks like %s", how, plain(x), s.Name)
		}
		e.Type = p.Name + "=" + plain(y)
		return e
	}
	if -x >= p.Low && -x <= p.High {
		e.Why = p.Name + " has no sign: " + p.about()
		e.Type = p.Name + "=" + plain(-x)
		return e
	}
	if p.Unit == "" && p.High == 1 && x >= 2 && x <= 100 {
		e.Why = fmt.Sprintf("it is a share; %s looks like percent", plain(x))
		e.Type = p.Name + "=" + plain(x/100)
		return e
	}
	e.Why = p.about()
	e.Type = p.Name + "=" + plain(p.nearestUsual(x))
	return e
}

// about says in one line what a parameter is and what is usual.
func (p *Param) about() string {
	var parts []string
	if p.Help != "" {
		parts = append(parts, p.Help)
	}
	if u := p.usualText(); u != "" {
		parts = append(parts, u)
	}
	if len(parts) == 0 {
		if s := spoken[p.Unit]; s != "" {
			return s + ", bare"
		}
		return fmt.Sprintf("%s lies between %s and %s", p.Name, plain(p.Low), plain(p.High))
	}
	return strings.Join(parts, "; ")
}

// usualText writes the usual ranges: "usual 281 to 293 scull, 366 to 378 sweep".
func (p *Param) usualText() string {
	var parts []string
	for _, u := range p.Usual {
		s := plain(u.Low) + " to " + plain(u.High)
		if u.Of != "" {
			s += " " + u.Of
		}
		parts = append(parts, s)
	}
	if parts == nil {
		return ""
	}
	return "usual " + strings.Join(parts, ", ")
}

// nearestUsual gives the nearest usual value, or the nearest end of the window.
func (p *Param) nearestUsual(x float64) float64 {
	low, high := p.Low, p.High
	if len(p.Usual) > 0 {
		low, high = p.Usual[0].Low, p.Usual[0].High
		for _, u := range p.Usual {
			low, high = math.Min(low, u.Low), math.Max(high, u.High)
		}
	}
	return math.Max(low, math.Min(high, x))
}

// unusual is the caution of a number outside its usual range.
func (p *Param) unusual(x float64, u Usual, thing string) Caution {
	sides := [2]string{"less", "more"}
	switch {
	case p.Extremes[0] != "":
		sides = p.Extremes
	case p.Unit == "cm":
		sides = [2]string{"shorter", "longer"}
	case p.Unit == "cm²":
		sides = [2]string{"smaller", "larger"}
	}
	side := sides[1]
	if x < u.Low {
		side = sides[0]
	}
	if thing == "" {
		thing = p.Name
	}
	usual := plain(u.Low) + " to " + plain(u.High)
	why, typ := p.about(), ""
	for _, s := range slips[p.Unit] {
		if y := s.meant(x); y >= u.Low && y <= u.High {
			why, typ = fmt.Sprintf("%s; %s looks like %s", spoken[p.Unit], plain(x), s.Name),
				p.Name+"="+plain(y)
			break
		}
	}
	return Caution{
		Text: fmt.Sprintf("%s %s is %s than usual (%s)", thing,
			table.WithUnit(plain(rounding.Decimals(x, 1)), p.Unit), side, usual),
		Key: thing + " " + side + " " + usual,
		Many: fmt.Sprintf("%s %%s%s is %s than usual (%s)", thing, strings.TrimSuffix(" "+p.Unit, " "), side,
			usual),
		Value: plain(rounding.Decimals(x, 1)),
		Sort:  x,

		Beyond: math.Max(u.Low-x, x-u.High) / (u.High - u.Low),
		Arg:    p.Name,
		Why:    why,
		Type:   typ,
	}
}

// checkChoice refuses a text that is none of the choices.
func (c *Call) checkChoice(p *Param, s string) error {
	for _, choice := range p.Choices {
		if s == choice {
			return nil
		}
	}
	e := Mistake(p.Name+" is "+Listed(quoted(p.Choices), "or", 12), "", "%s knows no %s %q", c.Record.Name,
		p.Name, s)
	near := table.Nearest(s, p.Choices)
	if m, ok := p.Meant[strings.ToLower(s)]; ok {
		near = m.Choice
		if m.Why != "" {
			e.Why = p.Name + "s are " + strings.Join(p.Choices, " ") + "; " + m.Why
		}
	}
	if near == "" {
		near = p.Choices[0]
	}
	e.Type = p.Name + "=" + starlark.String(near).String()
	if c.Record.Of == "" && c.Record.Params[0].Name == p.Name && !p.ByName {
		e.Type = c.Record.Name + "(" + starlark.String(near).String() + ")"
		if len(c.Record.Params) > 1 && c.Record.Params[1].Needed {
			e.Type = c.Record.Name + "(" + starlark.String(near).String() + ", ...)"
		}
	}
	return c.Wrong(p.Name, e)
}

func quoted(texts []string) []string {
	q := make([]string, len(texts))
	for i, s := range texts {
		q[i] = starlark.String(s).String()
	}
	return q
}

// unknown is the message of a parameter that the function does not have.
func (r *Record) unknown(name string, v starlark.Value) *Error {
	e := Mistake("", "", "%s has no %q", r.FullName(), name)
	e.Arg, e.Part = name, AtName
	if now := r.lib.Now(r.FullName(), name); now.Name != "" {
		e.Why, e.Type = "it is called "+now.Name+" now", now.Name+"="+typed(v)
		if p := r.param(now.Name); p != nil && now.Beyond != "" {
			if x, ok := AsNumber(v); ok && (x < p.Low || x > p.High) {
				e.Why = fmt.Sprintf("%s, from %s to %s", now.Beyond, plain(p.Low), plain(p.High))
				e.Type = now.Name + "=" + plain(p.nearestUsual(1))
			}
		}
		return e
	}
	if gone, ok := r.Gone[name]; ok {
		e.Why, e.Type = gone.Why, gone.Type
		return e
	}
	e.Why = r.Name + " takes " + Listed(r.names(), "and", 14)
	if len(r.Params) == 0 {
		e.Why = r.Name + " takes nothing by name"
	}
	value := typed(v)

	// a word people use for one of ours, or a slip of the fingers
	for _, p := range r.Params {
		for _, also := range p.Also {
			if also == name {
				e.Type = p.Name + "=" + value
				return e
			}
		}
	}
	near := table.Nearest(name, r.names())
	// the name may belong to another function
	if r.lib != nil && near == "" || r.lib != nil && !alike(name, near) {
		var at []string
		for _, other := range r.lib.Records {
			if other != r && other.param(name) != nil {
				at = append(at, other.Name+"()")
			}
		}
		if len(at) > 0 {
			e.Why = fmt.Sprintf("%s belongs to %s", name, Listed(at, "or", 3))
			e.Type = strings.TrimSuffix(at[0], ")") + name + "=" + value + ")"
			// what a stroke was rowed with changes through it
			for _, owner := range []string{"oar", "crew", "hull"} {
				if r.Of == "stroke" && r.Name == "change" && slices.Contains(at, owner+"()") {
					e.Why = fmt.Sprintf("%s belongs to the %s; the stroke's own has a .change, too", name,
						owner)
					e.Type = fmt.Sprintf("s.change(%s=s.%s.change(%s=%s)), s being the stroke", owner, owner,
						name, value)
					break
				}
			}
			return e
		}
	}
	if near != "" {
		e.Type = near + "=" + value
		return e
	}
	e.Type = "help(" + r.Name + ")"
	return e
}

// alike tells whether a name is so near another that it can only be a slip.
func alike(name, near string) bool {
	return near != "" && abs(len(name)-len(near)) <= 1 && name[0] == near[0]
}

func abs(n int) int { return max(n, -n) }

// typed writes a value as it could be typed again.
func typed(v starlark.Value) string {
	switch v := v.(type) {
	case starlark.Int, starlark.Bool, starlark.NoneType:
		return words.Cut(v.String(), 33)
	case starlark.Float:
		return plain(float64(v))
	case starlark.String:
		if len(v) < 40 {
			return v.String()
		}
	}
	return "..."
}

// missing is the message of a needed parameter that was not given.
func (r *Record) missing(p *Param) *Error {
	e := Mistake("", "", "%s needs %s", r.Name, p.Name)
	why := p.Name + " is " + p.Help
	if p.Help == "" {
		why = p.Name + " is " + p.says()
	}
	if p.Unit != "" {
		why += ", in " + p.Unit
	}
	if u := p.usualText(); u != "" {
		why += "; " + u
	}
	e.Why, e.Type = why, r.example()
	return e
}

// blank is the message of a needed parameter that was given a blank.
func (r *Record) blank(p *Param) *Error {
	return Mistake("a blank (None) is what a column holds where there was no value, or a function without "+
		"return gives",
		"t.complete() for the lines without blanks, or: if x != None", "%s of %s is a blank here", p.Name,
		r.Name)
}

// tooMany is the message of more values without a name than there are places.
func (r *Record) tooMany(places int, args starlark.Tuple) *Error {
	e := Mistake("", "", "%s takes %s without a name, not %d", r.Name, count(places, "value"), len(args))
	e.Arg, e.Index = "", places
	byName := joinNames(r.Params, func(p *Param) bool { return p.ByName })
	switch {
	case len(r.Gone) == 1 && places > 0: // most likely it is the one that is no longer there
		for _, gone := range r.Gone {
			e.Why, e.Type = gone.Why, gone.Type
		}
	case places == 0 && len(args) > 1 && len(byName) > 0 && r.Example != "":
		e.Why = "all of them go by name: " + Listed(byName, "and", 8)
		e.Type, _, _ = strings.Cut(strings.TrimSpace(r.Example), "\n")
	case len(byName) > 0:
		e.Why = "the others go by name: " + Listed(byName, "and", 8)
		e.Type = r.example()
		if p := r.param(byName[0]); p.takes(args[places]) {
			e.Type = byName[0] + "=" + typed(args[places])
		}
	case places == 0:
		e.Why, e.Type = "nothing goes between its brackets", r.Name+"()"
	default:
		e.Why = "its values are " + Listed(r.names()[:places], "and", 8)
		e.Type = r.Head()
	}
	return e
}

// wrongKind is the message of a value of a kind that the parameter does not take.
func (r *Record) wrongKind(p *Param, v starlark.Value) *Error {
	e := Mistake("", "", "%s of %s takes %s, not %s", p.Name, r.Name, p.says(), KindOf(v))
	e.Why = p.Name + " is " + p.Help
	if p.Help == "" {
		e.Why = r.Name + " takes " + Listed(r.names(), "and", 14)
	}
	e.Type = p.Name + "=" + p.say()
	if p.Is&ThingOf != 0 && len(p.Types) > 0 {
		e.Type = p.Name + "=" + p.Types[0] + "(...)"
		if r.lib != nil && r.lib.Record(p.Types[0]) == nil {
			e.Type = r.example()
		}
	}
	if !p.ByName {
		e.Type = r.example()
	}
	// a number in quotes, perhaps with its unit
	if s, ok := v.(starlark.String); ok && p.Is&(Number|Whole) != 0 {
		if x, unit, ok := leadingNumber(string(s)); ok {
			e.Why = "numbers are typed bare, without quotes"
			if unit != "" {
				e.Why = "numbers are typed bare, without quotes and unit"
			}
			e.Type = p.Name + "=" + plain(x)
		}
	}
	return e
}

// leadingNumber reads "289", "2.5 kg", "78,5".
func leadingNumber(s string) (x float64, unit string, ok bool) {
	s = strings.TrimSpace(s)
	i := 0
	for i < len(s) && strings.IndexByte("+-0123456789.,", s[i]) >= 0 {
		i++
	}
	x, err := strconv.ParseFloat(strings.Replace(s[:i], ",", ".", 1), 64)
	return x, strings.TrimSpace(s[i:]), err == nil
}

// count writes "1 value", "3 values", "no values".
func count(n int, noun string) string {
	switch n {
	case 0:
		return "no " + noun + "s"
	case 1:
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
