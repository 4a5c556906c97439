package session

import (
	"context"
	"errors"
	"fmt"
	"time"

	"thole/builtins/session/limits"
)

// betweenLooks is how often work that is governed is looked at.
const betweenLooks = 20 * time.Millisecond

// Govern does a piece of work after the script, as writing a page or a picture,
// within the limits that hold the script: it comes back when the work is done, and
// within a moment when the context ends or the work takes more memory than it may.
// Work that does not look up is left behind, so the caller must end soon and must
// not read what the work was making.
func Govern[T any](ctx context.Context, l limits.Limits, work func() (T, error)) (T, error) {
	type result struct {
		made T
		err  error
	}
	var none T
	if ctx.Err() != nil {
		return none, context.Cause(ctx)
	}
	meter := limits.New(ctx, l)
	done := make(chan result, 1)
	go func() {
		defer func() {
			if p := recover(); p != nil {
				done <- result{none, fmt.Errorf("%w: %v", ErrFault, p)}
			}
		}()
		made, err := work()
		done <- result{made, err}
	}()
	looking, enough := context.WithCancel(ctx)
	defer enough()
	select {
	case r := <-done:
		return r.made, r.err
	case <-ctx.Done():
		return none, context.Cause(ctx)
	case <-full(looking, meter):
		return none, limits.ErrMemory
	}
}

// full tells when more memory is held than may be. It looks beside the work and
// whoever waits for it: a look may collect garbage, which takes seconds on a busy
// machine, and the end of time must not wait for that.
func full(ctx context.Context, meter *limits.Meter) <-chan struct{} {
	over := make(chan struct{})
	go func() {
		looks := time.NewTicker(betweenLooks)
		defer looks.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-looks.C:
				if !meter.Enough() {
					close(over)
					return
				}
			}
		}
	}()
	return over
}

// ErrFault is work that went wrong by a fault of the tool itself.
var ErrFault = errors.New("a fault of thole")
