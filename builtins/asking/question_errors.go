package asking

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"thole/builtins/lang"
	"thole/engine/study"
	"thole/engine/table"
)

// NeedRanges refuses a call without ranges.
func NeedRanges(c *lang.Call, example string) error {
	if len(c.Rest) > 0 {
		return nil
	}
	return lang.Mistake("a range by the name of each input says what to move",
		c.Record.Name+"("+FnName(c.Func("fn"))+", ..., "+example+")",
		"%s has no range", c.Record.Name)
}

// Tell turns an error of the engine's studies into a message. arg is the
// parameter that names the output.
func (q *Question) Tell(err error, arg string) error {
	if q.Ended != nil {
		return q.Ended
	}
	if e := lang.AsError(err); e != nil && !errors.As(err, new(*study.Failed)) {
		return e
	}
	var (
		no      *study.NoSuchOutput
		several *study.SeveralCases
		failed  *study.Failed
		wrong   *study.WrongWayRound
		unlike  *study.Unlike
	)
	switch {
	case errors.As(err, &no):
		return q.noSuchOutput(no, arg)
	case errors.As(err, &several):
		return q.C.Wrong("fn", lang.Mistake("the answer has to be one number: a difference, or one "+
			"stroke's field",
			"def gain(...): return a.speed - b.speed", "%s gives %d strokes (%s)", FnName(q.Fn),
			len(several.Cases), strings.Join(several.Cases, ", ")))
	case errors.As(err, &failed):
		return q.failed(failed)
	case errors.As(err, &wrong):
		return q.C.Wrong(wrong.Range.Name, lang.Mistake("a range is given low, high", "", "%v", err))
	case errors.As(err, &unlike):
		return q.C.Wrong("fn", lang.Mistake("draws can be summed up only where each gives the same names",
			"the same dict by every way through the function", "%s gives %s", FnName(q.Fn), unlike.Gives))
	case q.C.Context().Err() != nil:
		return err
	}
	return lang.Mistake("this question has no answer as it stands", "help("+q.C.Record.Name+")", "%v", err)
}

func (q *Question) noSuchOutput(no *study.NoSuchOutput, arg string) error {
	e := lang.Mistake("", "", "%s gives no %q", FnName(q.Fn), no.Of)
	if no.Text {
		e.What = fmt.Sprintf("%s of %s is a text, not a number", no.Of, FnName(q.Fn))
	}
	gives := no.Gives
	switch {
	case no.Of == "":
		e.What = fmt.Sprintf("which number of %s is meant?", FnName(q.Fn))
		e.Why = "it gives " + fewNames(gives)
		e.Type = arg + "=" + strconv.Quote(cmp.Or(cmp.Or(gives...), "speed"))
		return e
	case table.Nearest(no.Of, gives) != "":
		e.Why = "the nearest it gives is " + table.Nearest(no.Of, gives)
		e.Type = arg + "=" + strconv.Quote(table.Nearest(no.Of, gives))
	default:
		e.Why = "it gives " + fewNames(gives)
		e.Type = arg + "=" + strconv.Quote(cmp.Or(cmp.Or(gives...), "speed"))
	}
	if arg == "" {
		return e
	}
	return q.C.Wrong(arg, e)
}

// failed tells of points that all have no answer, or of draws that mostly have none.
func (q *Question) failed(f *study.Failed) error {
	reason := f.Reason.Error()
	typ := "narrower ranges, " + fewNames(q.Names) + ", away from where it fails"
	if e := lang.AsError(f.Reason); e != nil && e.Type != "" {
		typ = e.Type
	}
	for _, name := range q.Names { // the input left its window: so must its range
		if low, high := windowOf(name); strings.HasPrefix(typ, name+"=") && !math.IsInf(low, 0) {
			typ = fmt.Sprintf("%s=(%s, %s), or a part of it", name, table.Fixed(low, -1), table.Fixed(high,
				-1))
		}
	}
	if f.Count == f.Of {
		return q.C.Wrong("fn", lang.NoAnswer("each time: "+reason, typ,
			"%s has no answer at any of %d points", FnName(q.Fn), f.Of))
	}
	return q.C.Wrong("fn", lang.NoAnswer("most of them: "+reason, typ,
		"%d of %d draws have no answer: at most half may fail", f.Count, f.Of))
}

// fewNames lists the outputs of a function, the first of very many.
func fewNames(names []string) string { return cmp.Or(lang.FirstOf(8, names), "no number") }
