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
	if err := ctx.Err(); err != nil {
		return none, err
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
	looks := time.NewTicker(betweenLooks)
	defer looks.Stop()
	for {
		select {
		case r := <-done:
			return r.made, r.err
		case <-ctx.Done():
			return none, ctx.Err()
		case <-looks.C:
			if !meter.Enough() {
				return none, limits.ErrMemory
			}
		}
	}
}

// ErrFault is work that went wrong by a fault of the tool itself.
var ErrFault = errors.New("a fault of thole")
