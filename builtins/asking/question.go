package asking

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/study"
	"thole/engine/table"
)

// Question is a question put to a function of the study: its inputs are handed
// over by name, many calls at once, on all cores.
type Question struct {
	C     *lang.Call
	Fn    starlark.Callable
	Names []string // of the inputs, in the order of a study.Point
	// thing gives the script value of input i; nil: it is the number itself.
	thing func(i int, x float64) starlark.Value
	What  string        // of the progress: "rowing", "drawing"
	asks  string        // the parameter that holds the function: "fn"
	quiet bool          // points are only tried on the way: they caution of nothing
	usual bool          // each outcome says besides how far beyond the usual its rig lies
	share session.Share // which part of the points is asked here; zero: all
	asked int           // points asked in earlier stretches
	all   int           // points in all stretches; 0: there are no stretches
	load  *loadWatch    // how the load of those who need care goes; nil before the first stretch
	never bool          // None is an answer: not at all
	Ended error         // the first error that ended the study, with its place
}

// errOtherPart is the reason of points that another part of a shared run asks.
var errOtherPart = errors.New("in another part")

// NewQuestion makes a question of the call's own fn and checks its inputs against it.
func NewQuestion(c *lang.Call, names []string, what string) (*Question, error) {
	q := &Question{C: c, Fn: c.Func("fn"), asks: "fn", Names: names, What: what}
	return q, q.check()
}

// searching makes a question of the call's ranges whose points are probed and not
// told: only the answer's own cautions are.
func searching(c *lang.Call, what string) (*Question, []study.Range, error) {
	q, err := NewQuestion(c, NamesOf(c.Rest), what)
	if err != nil {
		return nil, nil, err
	}
	ranges, err := q.Ranges(c.Rest)
	q.quiet = true
	return q, ranges, err
}

// Batch calls the function at many points; the order is that of the points. What a call
// gave is read in the worker itself, so that no whole strokes are held.
func (q *Question) Batch(ctx context.Context, points []study.Point) []study.Result {
	results := make([]study.Result, len(points))
	mine := make([]int, 0, len(points))
	for i := range points {
		if q.share.N > 1 && (q.asked+i)%q.share.N != q.share.K-1 {
			results[i].Err = errOtherPart
			continue
		}
		mine = append(mine, i)
	}
	parts, before := max(q.share.N, 1), q.asked
	if q.load == nil && !q.quiet {
		q.load = &loadWatch{many: q.all > 1 || len(points) > 1, place: q.placeOf}
	}
	done, err := session.Of(q.C.Thread).Each(q.C, session.Calls{
		Fn: q.Fn, N: len(mine), By: q.C.Record.Name, What: q.What, Quiet: q.quiet,
		Inputs: func(n int) []starlark.Tuple { return q.inputs(points[mine[n]]) },
		Read: func(n int, v starlark.Value) {
			results[mine[n]] = q.read(v)
			if !q.quiet {
				q.load.see(before+mine[n], points[mine[n]], v)
			}
		},
		Before: q.asked / parts, Of: q.all / parts,
	})
	q.asked += len(points)
	if err != nil && ctx.Err() == nil {
		q.Ended = err
		results[0].Err = &study.Stop{Err: err}
		return results
	}
	if !q.quiet && q.asked >= q.all {
		q.load.tell(account.BookOf(q.C.Thread))
	}
	for n, p := range done {
		if r := &results[mine[n]]; p.Err != nil {
			r.Err = p.Err
		} else if !p.Done {
			r.Err = ctx.Err()
		} else if q.usual && r.Err == nil {
			r.Outcome = r.Outcome.And(beyondUsual(p.Cautions))
		}
	}
	return results
}

// inputs are the values of a point by name, as the function takes them.
func (q *Question) inputs(p study.Point) []starlark.Tuple {
	values := make([]starlark.Value, len(q.Names))
	for k, x := range p {
		values[k] = starlark.Value(lang.Num(x))
		if q.thing != nil {
			if v := q.thing(k, x); v != nil {
				values[k] = v
			}
		}
	}
	return session.Inputs(q.Names, values)
}

// read takes what the function gave.
func (q *Question) read(v starlark.Value) study.Result {
	if q.never && v == starlark.None {
		return study.Result{} // no outcome and no error
	}
	outcome, err := OutcomeOf(q.Fn, v)
	if err != nil {
		return study.Result{Err: &study.Stop{Err: q.C.Wrong(q.asks, lang.AsError(err))}}
	}
	return study.Result{Outcome: outcome}
}

// aloud asks the point of the answer once more, for the cautions it deserves.
func (q *Question) aloud(p study.Point) {
	loud := *q
	loud.quiet = false
	loud.Batch(q.C.Context(), []study.Point{p})
}

// check holds the names of the inputs against what the function takes.
func (q *Question) check() error {
	takes, needs, any := inputsOf(q.Fn)
	given := map[string]bool{}
	for _, name := range q.Names {
		given[name] = true
		if any || slices.Contains(takes, name) {
			continue
		}
		e := lang.Mistake(FnName(q.Fn)+" takes "+strings.Join(takes, ", "), "", "%s has no input %q",
			FnName(q.Fn), name)
		if len(takes) == 0 {
			e.Why = "it takes nothing; what is handed to it stands between its brackets"
			e.Type = "def " + q.Fn.Name() + "(" + name + "): ..."
			if q.Fn.Name() == "lambda" {
				e.Type = "lambda " + name + ": ..."
			}
		} else if near := table.Nearest(name, takes); near != "" {
			e.Type = near + "="
		} else {
			e.Type = takes[0] + "="
		}
		e.Part = lang.AtName
		return q.C.Wrong(name, e)
	}
	for _, name := range needs {
		if !given[name] {
			return q.C.Wrong("fn", lang.Mistake("every input needs a value from somewhere",
				fmt.Sprintf("%s= in this call, or a value of its own in the function, as in  %s=0", name,
					name),
				"%s needs %s, and nothing gives it", FnName(q.Fn), name))
		}
	}
	return nil
}

// inputsOf lists a function's inputs, those without a value of their own, and
// whether it takes any name. Of the tool's own functions nothing is known.
func inputsOf(fn starlark.Callable) (takes, needs []string, any bool) {
	f, ok := fn.(*starlark.Function)
	if !ok {
		return nil, nil, true
	}
	n := f.NumParams()
	if f.HasKwargs() {
		n, any = n-1, true
	}
	if f.HasVarargs() {
		n--
	}
	for i := range n {
		name, _ := f.Param(i)
		takes = append(takes, name)
		if f.ParamDefault(i) == nil {
			needs = append(needs, name)
		}
	}
	return takes, needs, any
}

// OwnValue is the number at which an input stands in the function itself, NaN
// where it has none.
func OwnValue(fn starlark.Callable, name string) float64 {
	if f, ok := fn.(*starlark.Function); ok {
		for i := range f.NumParams() {
			if n, _ := f.Param(i); n == name {
				if x, ok := lang.AsNumber(f.ParamDefault(i)); ok {
					return x
				}
			}
		}
	}
	return math.NaN()
}

// UnitOf gives unit and digits of an input by its name: that of the parameter
// it is called like, where it has one unit everywhere.
func UnitOf(c *lang.Call, name string) (unit string, digits int) {
	if s := session.Of(c.Thread); s != nil {
		unit, _ = s.Config().Library.UnitOf(name)
	}
	digits, _ = table.DigitsFor(name, unit)
	return unit, digits
}

// Ranges reads the further names of a call as ranges: (low, high) or about().
func (q *Question) Ranges(named []lang.Named) ([]study.Range, error) {
	ranges := make([]study.Range, len(named))
	for i, n := range named {
		span, err := lang.AsRange(n.Name, n.Value)
		if err != nil {
			if items, ok := lang.Items(n.Value); ok && len(items) == 2 {
				if x, number := lang.AsNumber(items[0]); number && items[0] == items[1] {
					err = lang.Mistake("with one value there is nothing to ask",
						fmt.Sprintf("%s=(%s, %s), or %s fixed in the function", n.Name, table.Fixed(x-5, -1),
							table.Fixed(x+5, -1), n.Name),
						"%s goes from %s to %s", n.Name, table.Fixed(x, -1), table.Fixed(x, -1))
				}
			}
			return nil, q.C.Wrong(n.Name, err)
		}
		if math.IsInf(span.Low, 0) || math.IsInf(span.High, 0) {
			return nil, q.C.Wrong(n.Name, lang.Mistake("both ends have to be reached", n.Name+"=(190, 206)",
				"%s has no end", n.Name))
		}
		r := study.Even(n.Name, span.Low, span.High)
		if span.Bell {
			r = study.About(n.Name, span.Value, span.SD)
		}
		if peak, ok := peakOf(n.Name, span); ok {
			r = study.Peak(n.Name, span.Low, peak, span.High)
		}
		r.Unit, r.Digits = UnitOf(q.C, n.Name)
		r.Base = OwnValue(q.Fn, n.Name)
		ranges[i] = r
	}
	return ranges, nil
}
