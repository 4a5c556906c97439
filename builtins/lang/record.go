package lang

import "go.starlark.net/starlark"

// Record is one function of the language: everything there is to say about it,
// and the Go function that does it.
type Record struct {
	Name    string // as it is typed: "oar"
	Of      string // for a method, the kind of thing it belongs to: "table", "stroke"
	Summary string // one line, no full stop: "an oar from its lengths and its blade"
	Says    string // what it does for a hint, "it rows one thing over many values"; Summary when ""
	Makes   string // for makers of things, the plural: "oars"
	Topic   string // "things", "doing", "asking", "telling", "data", "trials"

	Params []Param // in the order of positions; those with ByName come last
	More   *Param  // further values without a name, as in compare(first, *others)
	Rest   *Param  // further names, as the axes of vary(fn, **axes) or the names of a text's places

	Gives   string   // "gives .outboard .kind .hand_weight .change()"
	Errors  []string // what can go wrong, a line each, for the reference
	Counts  string   // what thole check counts it as: "table", "figure", "card"; "" for nothing
	Example string   // runs as it stands, alone or after the examples' common start
	Shows   string   // what the example's last line shows, verified by a test
	Sources []string // "model 1 and 4", "Nolte 2009"
	Next    string   // what to ask help for next
	Notes   []string // further lines of help
	Also    []string // other words people try for it: "boat" for hull

	// Gone are parameters it had once, or that people look for: what takes their place.
	Gone map[string]Gone

	// Tells, Reads and Sets mark what a function handed to vary and its like
	// may not call: telling, reading files, asking for params.
	Tells, Reads, Sets bool

	// Prompt marks the words that only the prompt has, as undo.
	Prompt bool

	// Fills marks functions whose texts have {places}; Rest takes the names.
	Fills bool

	// Do carries the call out. The arguments are checked; numbers lie in
	// their windows. A user's mistake comes back as *Error.
	Do func(c *Call) (starlark.Value, error)

	lib *Library // set when the record joins a library: nearest names need all of them
}

// Kind says which values a parameter takes. Kinds add up: Number|Text.
type Kind uint16

const (
	Number  Kind = 1 << iota // any number; windows apply
	Whole                    // a number without a fraction
	Text                     // a text; choices apply
	Flag                     // True or False
	List                     // a list or tuple
	Dict                     // a dict
	Func                     // a def, a lambda or a function of the tool
	ThingOf                  // a thing whose type is among Types
	Any     Kind = 0         // every value
)

// Param is one parameter of a function.
type Param struct {
	Name  string
	Unit  string   // "cm"; "" for a bare number
	Is    Kind     // Any when 0
	Types []string // for ThingOf: "oar", "stroke", "table"
	Each  bool     // or a list of such values, one a seat

	Needed bool
	ByName bool // stands after the *

	Default any    // float64, int, string, bool or nil: what holds when unset
	Shown   string // how help writes the default when the plain value says too little: "by boat"
	None    bool   // None is a value of its own and not the same as unset (free_speed=None)

	Low, High float64   // window; outside is refused. Both 0: no window
	Usual     []Usual   // outside is a caution
	Extremes  [2]string // below and above Usual in words: "lower", "higher"; "" as the unit has it
	Choices   []string
	Meant     map[string]Meant // words people try in place of a choice

	Help string   // "handle end to the collar face"
	Also []string // other words people try for it: "weight" for mass
}

// Gone says what took the place of something that is no longer there, or never was.
type Gone struct{ Why, Type string }

// Meant is the choice that a word stands for: "quad" is a 4x.
type Meant struct {
	Choice string
	Why    string // "four scullers are a 4x"
}

// Usual is a range of the trade. Outside it a caution is told; Of says to which
// kind it applies ("scull"), "" to all. With exactly one Usual that applies to
// all, the binder checks by itself; else the function calls Call.CheckUsual.
type Usual struct {
	Low, High float64
	Of        string
}

// window tells whether the parameter has one.
func (p *Param) window() bool { return p.Low != 0 || p.High != 0 }

// param gives the parameter of that name, or nil.
func (r *Record) param(name string) *Param {
	for i := range r.Params {
		if r.Params[i].Name == name {
			return &r.Params[i]
		}
	}
	return nil
}

// Window gives the window of a number's parameter.
func (r *Record) Window(name string) (low, high float64) {
	p := r.param(name)
	return p.Low, p.High
}

// FullName is the name with the kind of thing it belongs to: "table.sort".
func (r *Record) FullName() string {
	if r.Of != "" {
		return r.Of + "." + r.Name
	}
	return r.Name
}

// Builtin makes the value that scripts call.
func (r *Record) Builtin() *starlark.Builtin {
	return starlark.NewBuiltin(r.Name, func(thread *starlark.Thread, b *starlark.Builtin, args starlark.Tuple,
		kwargs []starlark.Tuple) (starlark.Value, error) {
		return r.call(thread, b.Receiver(), args, kwargs)
	})
}

// Method makes the record a method of that value.
func (r *Record) Method(receiver starlark.Value) *starlark.Builtin {
	return r.Builtin().BindReceiver(receiver)
}

// Hint says in a few words what the function does.
func (r *Record) Hint() string {
	if r.Says != "" {
		return r.Says
	}
	return r.Summary
}
