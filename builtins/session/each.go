package session

import (
	"fmt"
	"sync"
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
)

// Point is what one call of a script's function gave.
type Point struct {
	Value  starlark.Value // nil when it failed or was not reached
	Err    error          // a *lang.Error with NoAnswer, or why it was not reached
	Done   bool           // it was called to its end
	Reason string         // of a failed point

	Cautions []lang.Caution
	prints   []string
}

// Calls says what Each does: fn called N times, the inputs of each call by name.
type Calls struct {
	Fn     starlark.Callable
	N      int
	Inputs func(i int) []starlark.Tuple
	By     string // the function that asks: "vary"
	What   string // of the progress: "rowing"

	Quiet bool // points only tried on the way, as in a search: their cautions stay with them
	// Under is in force during a call and read again by the bindings; nil: what is already.
	Under func(i int) any
	// Read takes a call's value in the worker itself, whose point then holds none: so a
	// million strokes need not be held at once. nil: the points hold the values.
	Read func(i int, v starlark.Value)
	// Calls already done and in all, where these are a stretch of many.
	Before, Of int
}

// Each makes the calls in parallel and gives the points in order, whatever the number of
// cores. What fn reads from outside is fixed from then on. Cautions are told in order.
//
// A point whose inputs have no answer (lang.NoAnswer) is a failed point and no
// error. Any other error ends all calls and is Each's error, that of the first
// point in order among those that had one. When the study must stop, the points
// reached so far come with the error of the context.
func (s *Study) Each(c *lang.Call, calls Calls) ([]Point, error) {
	points, err := s.each(c, calls)
	if calls.Quiet {
		return points, err
	}
	for i := range points {
		for _, caution := range points[i].Cautions {
			hostOf(c.Thread).Caution(c.Thread, caution)
		}
	}
	return points, err
}

func (s *Study) each(c *lang.Call, calls Calls) ([]Point, error) {
	fn, n, inputs := calls.Fn, calls.N, calls.Inputs
	points := make([]Point, n)
	if n == 0 {
		return points, nil
	}
	if err := checkInputs(fn, inputs(0)); err != nil {
		return nil, err
	}
	if !s.meter.Enough() { // threads as short as a stretch's may never look up themselves
		return nil, limits.ErrMemory
	}
	caller, err := s.Caller(c, fn, calls.By)
	if err != nil {
		return nil, err
	}
	jobs := max(1, min(s.cfg.Jobs, n))
	if hostOf(c.Thread).inside != "" {
		jobs = 1 // the outer calls already use all cores
	}

	var next, done atomic.Int64
	var stop atomic.Bool
	errs := make([]error, n)
	var wg sync.WaitGroup
	for range jobs {
		wg.Add(1)
		go func() {
			defer wg.Done()
			w := caller.worker()
			defer w.close()
			for {
				i := int(next.Add(1)) - 1
				if i >= n || stop.Load() || s.ctx.Err() != nil {
					return
				}
				if calls.Under != nil {
					w.thread.SetLocal(underKey, calls.Under(i))
				}
				points[i], errs[i] = w.call(inputs(i))
				if errs[i] != nil {
					stop.Store(true)
					return
				}
				if calls.Read != nil && points[i].Value != nil {
					calls.Read(i, points[i].Value)
					points[i].Value = nil
				}
				s.Progress(calls.What, Step{Done: calls.Before + int(done.Add(1)), Of: max(n, calls.Of)})
			}
		}()
	}
	wg.Wait()

	for i := range points {
		for _, line := range points[i].prints {
			hostOf(c.Thread).print(line)
		}
	}
	for i, err := range errs {
		if err != nil {
			return points, caller.cross(err, inputs(i))
		}
	}
	if err := s.ctx.Err(); err != nil {
		for i := range points {
			if !points[i].Done {
				points[i].Err = err
			}
		}
		return points, err
	}
	return points, nil
}

// Call calls fn once, with its inputs by name, on the caller's own thread; fn
// is held to the same rules as in Each. The error of inputs without an answer
// comes back as it is (lang.IsNoAnswer).
func (s *Study) Call(c *lang.Call, fn starlark.Callable, by string, inputs []starlark.Tuple) (starlark.Value,
	error) {
	points, err := s.Each(c, Calls{Fn: fn, N: 1, Inputs: func(int) []starlark.Tuple { return inputs },
		By: by})
	if err != nil {
		return nil, err
	}
	return points[0].Value, points[0].Err
}

// Caller calls a script's function from many goroutines.
type Caller struct {
	study *Study
	fn    starlark.Callable
	by    string
	outer starlark.CallStack
	under any // in force where it was made
}

const underKey = "thole.under"

// Under is what is in force on a thread: Calls.Under's, nil where nothing is. What is
// called from there, however deep, has it too.
func Under(thread *starlark.Thread) any {
	if thread == nil {
		return nil
	}
	return thread.Local(underKey)
}

// Caller fixes what fn reads and makes it ready to be called in parallel.
func (s *Study) Caller(c *lang.Call, fn starlark.Callable, by string) (*Caller, error) {
	if err := s.fix(fn); err != nil {
		return nil, err
	}
	stack := c.Thread.CallStack()
	if len(stack) > 0 {
		stack = stack[:len(stack)-1] // the builtin itself
	}
	return &Caller{study: s, fn: fn, by: by, outer: append(outerOf(c.Thread), stack...),
		under: Under(c.Thread)}, nil
}

// worker is one goroutine's thread.
type worker struct {
	caller  *Caller
	thread  *starlark.Thread
	host    *host
	release func() bool
}

const outerKey = "thole.outer"

// outerOf gives the calls that led to a worker's thread.
func outerOf(t *starlark.Thread) starlark.CallStack {
	stack, _ := t.Local(outerKey).(starlark.CallStack)
	return stack[:len(stack):len(stack)]
}

func (c *Caller) worker() *worker {
	t := c.study.newThread(c.by)
	h := hostOf(t)
	h.inside = c.by
	t.SetLocal(outerKey, c.outer)
	if c.under != nil {
		t.SetLocal(underKey, c.under)
	}
	return &worker{caller: c, thread: t, host: h, release: c.study.onStop(t)}
}

func (w *worker) close() { w.release() }

// call calls the function once. The error is one that ends the study.
func (w *worker) call(inputs []starlark.Tuple) (p Point, err error) {
	w.host.cautions, w.host.prints = &p.Cautions, &p.prints
	defer func() { w.host.cautions, w.host.prints = nil, nil }()
	v, err := starlark.Call(w.thread, w.caller.fn, nil, inputs)
	if err == nil {
		p.Value, p.Done = v, true
		return p, nil
	}
	if w.caller.study.ctx.Err() != nil {
		p.Err = w.caller.study.ctx.Err()
		return p, nil
	}
	if reason, ok := lang.IsNoAnswer(err); ok {
		p.Err, p.Reason, p.Done = err, reason, true
		return p, nil
	}
	return p, err
}

// crossing is an error of a function called on another thread, with the calls
// that led there.
type crossing struct {
	cause  error
	outer  starlark.CallStack
	inputs string
}

func (e *crossing) Error() string { return e.cause.Error() }
func (e *crossing) Unwrap() error { return e.cause }

func (c *Caller) cross(err error, inputs []starlark.Tuple) error {
	text := ""
	for i, kv := range inputs {
		if i > 0 {
			text += ", "
		}
		name, _ := starlark.AsString(kv[0])
		text += fmt.Sprintf("%s=%s", name, short(kv[1]))
	}
	return &crossing{cause: err, outer: c.outer, inputs: text}
}

// short writes an input in a message.
func short(v starlark.Value) string {
	if named, ok := v.(interface{ Label() string }); ok && named.Label() != "" {
		return named.Label()
	}
	return lang.Briefly(v)
}
