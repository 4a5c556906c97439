package asking

import (
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

var attemptRecord = &lang.Record{
	Name: "attempt", Topic: "asking", Says: "it calls a function that may have no answer",
	Summary: "calls a function that may have no answer, and goes on either way",
	Params:  []lang.Param{{Name: "fn", Is: lang.Func, Needed: true, Help: "called with nothing"}},
	Gives:   "(value, None), or (None, reason)",
	Example: `attempt(lambda: usual.change(crew=usual.crew.change(power=60)))`,
}

func init() {
	attemptRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		_, needs, _ := inputsOf(c.Func("fn"))
		if len(needs) > 0 {
			call := "attempt(lambda: ...)"
			if name := c.Func("fn").Name(); name != "lambda" {
				call = "attempt(lambda: " + name + "(...))"
			}
			return nil, c.Wrong("fn", lang.Mistake("attempt calls it with nothing", call, "%s needs %s",
				FnName(c.Func("fn")), strings.Join(needs, ", ")))
		}
		v, err := starlark.Call(c.Thread, c.Func("fn"), nil, nil)
		if reason, ok := lang.IsNoAnswer(err); ok {
			return starlark.Tuple{starlark.None, starlark.String(reason)}, nil
		}
		if err != nil {
			return nil, err
		}
		return starlark.Tuple{v, starlark.None}, nil
	}
}
