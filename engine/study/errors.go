package study

import "fmt"

// WrongWayRound is a range whose first end is the higher one.
type WrongWayRound struct{ Range Range }

func (e *WrongWayRound) Error() string {
	return fmt.Sprintf("%s goes from %g down to %g: ends are given low, high", e.Range.Name, e.Range.Low,
		e.Range.High)
}

// NoSuchOutput is a question about a number that the function does not give.
type NoSuchOutput struct {
	Of    string
	Gives []string // what it does give
	Text  bool     // it gives a text of that name
}

func (e *NoSuchOutput) Error() string {
	if e.Text {
		return fmt.Sprintf("%s is a text, not a number", e.Of)
	}
	return fmt.Sprintf("the function gives no %q", e.Of)
}

// SeveralCases is a function that gives a line for each of several cases where
// the question needs one number.
type SeveralCases struct{ Cases []string }

func (e *SeveralCases) Error() string {
	return fmt.Sprintf("the function gives %d cases where one number is needed", len(e.Cases))
}

// Failed counts points that gave nothing, with the commonest reason.
type Failed struct {
	Count  int
	Of     int
	Reason error // the first of the commonest
}

func (e *Failed) Error() string {
	return fmt.Sprintf("%d of %d failed, most of them because %v", e.Count, e.Of, e.Reason)
}
func (e *Failed) Unwrap() error { return e.Reason }

// NotReached is a target that the output does not cross within the range.
type NotReached struct {
	Range    Range
	Output   Quantity
	Target   float64
	AtLow    float64 // NaN: no answer there
	AtHigh   float64
	Least    float64 // the reachable values over the range
	LeastAt  float64
	Most     float64
	MostAt   float64
	Monotone bool
	Failed   *Failed // points without an answer, or nil
}

func (e *NotReached) Error() string {
	return fmt.Sprintf("%s %g is not reached: it goes from %g (%s %g) to %g (%s %g)", e.Output.Name, e.Target,
		e.Least, e.Range.Name, e.LeastAt, e.Most, e.Range.Name, e.MostAt)
}

// NothingMeets is a set of limits that no point of the ranges meets; the
// nearest miss says by how much.
type NothingMeets struct {
	Ranges []Range
	At     Point
	Misses []Miss
	Failed *Failed
}

// Miss is a limit and what came nearest to it.
type Miss struct {
	Limit Limit
	Value float64 // at the nearest point
	By    float64 // how far outside, above 0
}

func (e *NothingMeets) Error() string {
	s := "nothing meets the limits"
	for _, m := range e.Misses {
		s += fmt.Sprintf("; the nearest misses %s by %g", m.Limit.Of, m.By)
	}
	return s
}

// Unlike is a function that gives one thing in one draw and another in the next.
type Unlike struct{ Gives string }

func (e *Unlike) Error() string { return "the function gives " + e.Gives }

// Unfinished is a study that was stopped; what was done is kept beside it.
type Unfinished struct {
	Done, Of int
	Cause    error
}

func (e *Unfinished) Error() string {
	return fmt.Sprintf("stopped with %d of %d done: %v", e.Done, e.Of, e.Cause)
}
func (e *Unfinished) Unwrap() error { return e.Cause }

// failures counts points without an answer by their reasons.
type failures struct {
	of      int
	reasons []*reason // in the order in which they came
	byText  map[string]*reason
}

type reason struct {
	err   error
	count int
}

func (f *failures) add(err error) {
	f.of++
	if err == nil {
		return
	}
	r := f.byText[err.Error()]
	if r == nil {
		r = &reason{err: err}
		if f.byText == nil {
			f.byText = map[string]*reason{}
		}
		f.byText[err.Error()] = r
		f.reasons = append(f.reasons, r)
	}
	r.count++
}

// sum gives how many failed and the commonest reason; nil when none did.
func (f *failures) sum() *Failed {
	if len(f.reasons) == 0 {
		return nil
	}
	failed, commonest := &Failed{Of: f.of}, f.reasons[0]
	for _, r := range f.reasons {
		failed.Count += r.count
		if r.count > commonest.count {
			commonest = r
		}
	}
	failed.Reason = commonest.err
	return failed
}

func countFailed(results []Result) *Failed {
	var f failures
	for _, r := range results {
		f.add(r.Err)
	}
	return f.sum()
}
