package lang

import (
	"fmt"
	"math"
	"runtime/debug"
	"strings"

	"go.starlark.net/starlark"
)

// call binds the arguments, checks them and carries the record out. A panic in
// it is a fault of the tool; it comes back as an error, never to the user.
func (r *Record) call(thread *starlark.Thread, receiver starlark.Value, args starlark.Tuple,
	kwargs []starlark.Tuple) (v starlark.Value, err error) {
	defer func() {
		if p := recover(); p != nil {
			v, err = nil, &Error{
				What: r.Name + " went wrong inside",
				Why:  "this is a fault of thole, not of the study",
				Type: "the same line without its last change; and report it with the study", Index: -1,
				Cause: fmt.Errorf("panic: %v\n%s", p, debug.Stack()),
			}
		}
	}()
	host := HostOf(thread)
	if err := host.Allow(thread, r); err != nil {
		return nil, err
	}
	c, err := r.bind(thread, receiver, args, kwargs)
	if err != nil {
		return nil, err
	}
	for i := range r.Params {
		if err := c.checkArg(host, i); err != nil {
			return nil, err
		}
	}
	if e := c.unusedPlace(); e != nil {
		return nil, e
	}
	if r.Tells {
		if err := c.tellable(host); err != nil {
			return nil, err
		}
	}
	v, err = r.Do(c)
	if err == nil && r.Tells {
		err = host.Told()
	}
	if v == nil && err == nil {
		v = starlark.None
	}
	return v, err
}

// bind lays arguments onto parameters.
func (r *Record) bind(thread *starlark.Thread, receiver starlark.Value, args starlark.Tuple,
	kwargs []starlark.Tuple) (*Call, error) {
	c := &Call{Record: r, Thread: thread, Receiver: receiver,
		values: make([]starlark.Value, len(r.Params)), index: make([]int, len(r.Params))}
	for i := range c.index {
		c.index[i] = -1
	}

	// values without a name fill the parameters in order
	places := 0
	for places < len(r.Params) && !r.Params[places].ByName {
		places++
	}
	for i, v := range args {
		switch {
		case i < places:
			c.set(i, v)
			c.index[i] = i
		case r.More != nil:
			c.More = append(c.More, v)
		default:
			return nil, r.tooMany(places, args)
		}
	}

	for _, kv := range kwargs {
		name, v := string(kv[0].(starlark.String)), kv[1]
		i := -1
		for j := range r.Params {
			if r.Params[j].Name == name {
				i = j
				break
			}
		}
		switch {
		case i >= 0 && c.index[i] >= 0:
			e := Mistake(fmt.Sprintf("the value in place %d is %s already", c.index[i]+1, name),
				"leave one of them out", "%s got %s twice", r.Name, name)
			e.Arg, e.Part = name, AtName
			return nil, e
		case i >= 0:
			c.set(i, v)
		case r.Rest != nil:
			c.Rest = append(c.Rest, Named{name, v})
		default:
			return nil, r.unknown(name, v)
		}
	}

	for i := range r.Params {
		if p := &r.Params[i]; p.Needed && c.values[i] == nil {
			if c.index[i] >= 0 || named(kwargs, p.Name) {
				return nil, c.Wrong(p.Name, r.blank(p))
			}
			return nil, r.missing(p)
		}
	}
	return c, nil
}

// named says whether a value was given by this name.
func named(kwargs []starlark.Tuple, name string) bool {
	for _, kv := range kwargs {
		if s, _ := kv[0].(starlark.String); string(s) == name {
			return true
		}
	}
	return false
}

// set lays a value onto parameter i; None is unset unless it is a value there.
func (c *Call) set(i int, v starlark.Value) {
	if v == starlark.None && !c.Record.Params[i].None {
		return
	}
	c.values[i] = v
}

// checkArg holds argument i against its kind, window, choices and usual range.
func (c *Call) checkArg(host Host, i int) error {
	p, v := &c.Record.Params[i], c.values[i]
	if v == nil || v == starlark.None {
		return nil
	}
	// one value, or one a seat
	if p.Each {
		switch v.(type) {
		case *starlark.List, starlark.Tuple:
			items, _ := Items(v)
			for _, x := range items {
				if err := c.checkOne(host, p, x); err != nil {
					return err
				}
			}
			return nil
		}
	}
	return c.checkOne(host, p, v)
}

func (c *Call) checkOne(host Host, p *Param, v starlark.Value) error {
	if !p.takes(v) {
		return c.Wrong(p.Name, c.Record.wrongKind(p, v))
	}
	switch x := v.(type) {
	case starlark.Int, starlark.Float:
		if p.Is&(Number|Whole) != 0 {
			return c.checkNumber(p, v)
		}
	case starlark.String:
		if p.Is&Text != 0 && len(p.Choices) > 0 && p.Is&List == 0 {
			return c.checkChoice(p, string(x))
		}
	}
	return nil
}

// checkNumber refuses what lies outside the window and cautions outside the
// usual range.
func (c *Call) checkNumber(p *Param, v starlark.Value) error {
	x, ok := AsNumber(v)
	switch {
	case !ok || math.IsNaN(x) || math.IsInf(x, 0):
		return c.Wrong(p.Name, NoAnswer("a number must have an end", p.Name+"="+p.say(),
			"%s is no number that can be used", p.Name))
	case p.Is&Whole != 0 && p.Is&Number == 0 && x != math.Trunc(x):
		return c.Wrong(p.Name, Mistake(p.Name+" counts: "+p.Help, fmt.Sprintf("%s=%d", p.Name,
			int(math.Round(x))), "%s %s is no whole number", p.Name, plain(x)))
	case p.window() && (x < p.Low || x > p.High):
		return c.Wrong(p.Name, p.outside(x))
	}
	if len(p.Usual) == 1 && p.Usual[0].Of == "" {
		c.CheckUsual(p.Name, x, "", "")
	}
	return nil
}

// CheckUsual tells a caution where x lies outside the parameter's usual range
// for that kind ("scull", or "" where there is one range for all). The thing
// is how the sentence begins, "a scull of"; "" makes it "length".
func (c *Call) CheckUsual(param string, x float64, of, thing string) {
	p := &c.Record.Params[c.at(param)]
	for _, u := range p.Usual {
		if u.Of != of || x >= u.Low && x <= u.High {
			continue
		}
		HostOf(c.Thread).Caution(c.Thread, p.unusual(x, u, thing))
	}
}

// takes tells whether a value is of a kind the parameter takes.
func (p *Param) takes(v starlark.Value) bool {
	if p.Is == Any {
		return true
	}
	switch v := v.(type) {
	case starlark.Bool:
		return p.Is&Flag != 0
	case starlark.Int, starlark.Float:
		return p.Is&(Number|Whole) != 0
	case starlark.String:
		return p.Is&Text != 0
	case *starlark.List, starlark.Tuple:
		return p.Is&List != 0
	case *starlark.Dict:
		return p.Is&Dict != 0
	case starlark.Callable:
		return p.Is&Func != 0
	default:
		if p.Is&List != 0 {
			if _, table := v.(*Table); !table {
				if _, ok := v.(starlark.Sequence); ok {
					return true // a range, a set
				}
			}
		}
		if p.Is&ThingOf != 0 {
			for _, t := range p.Types {
				if v.Type() == t {
					return true
				}
			}
		}
	}
	return false
}

// says writes the kinds a parameter takes: "a number", "an oar or a text".
func (p *Param) says() string {
	var kinds []string
	add := func(k Kind, say string) {
		if p.Is&k != 0 {
			kinds = append(kinds, say)
		}
	}
	add(Number, "a number")
	if p.Is&Number == 0 {
		add(Whole, "a whole number")
	}
	if p.Is&ThingOf != 0 {
		for _, t := range p.Types {
			kinds = append(kinds, Article(t))
		}
	}
	add(Text, "a text")
	add(Flag, "True or False")
	add(List, "a list")
	add(Dict, "a dict")
	add(Func, "a function")
	if p.Each {
		kinds = append(kinds, "a list of them, one a seat")
	}
	if len(kinds) == 0 {
		return "any value"
	}
	return Listed(kinds, "or", 9)
}

// say gives a value to type for the parameter: its default, the middle of a
// usual range, an end of the window, or points.
func (p *Param) say() string {
	switch d := p.Default.(type) {
	case float64:
		return plain(d)
	case int:
		return fmt.Sprint(d)
	case string:
		return starlark.String(d).String()
	case bool:
		return starlark.Bool(d).String()
	}
	switch {
	case len(p.Usual) > 0:
		return plain(math.Round((p.Usual[0].Low + p.Usual[0].High) / 2))
	case len(p.Choices) > 0:
		return starlark.String(p.Choices[0]).String()
	}
	return "..."
}

func joinNames(params []Param, keep func(*Param) bool) []string {
	var names []string
	for i := range params {
		if keep(&params[i]) {
			names = append(names, params[i].Name)
		}
	}
	return names
}

func (r *Record) names() []string {
	return joinNames(r.Params, func(*Param) bool { return true })
}

// example gives a line to paste: the record's example, or its head.
func (r *Record) example() string {
	if r.Example != "" {
		first, _, _ := strings.Cut(strings.TrimSpace(r.Example), "\n")
		return first
	}
	return r.Head()
}

// Head is the call as the reference writes it: "oar(*, length, inboard ...)".
func (r *Record) Head() string {
	var b strings.Builder
	if r.Of != "" {
		b.WriteString(".")
	}
	b.WriteString(r.Name + "(")
	sep, star := "", false
	put := func(s string) { b.WriteString(sep + s); sep = ", " }
	for i := range r.Params {
		p := &r.Params[i]
		if p.ByName && !star {
			star = true
			if r.More != nil {
				put("*" + r.More.Name)
			} else {
				put("*")
			}
		}
		switch {
		case p.Needed:
			put(p.Name + "!")
		case p.Default != nil:
			put(p.Name + "=" + p.say())
		default:
			put(p.Name)
		}
	}
	if r.More != nil && !star {
		put("*" + r.More.Name)
	}
	if r.Rest != nil {
		put("**" + r.Rest.Name)
	}
	b.WriteString(")")
	return b.String()
}
