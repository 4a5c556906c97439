package session

import (
	"context"
	"errors"
	"runtime"
	"testing"
	"time"

	"thole/builtins/session/limits"
)

// Work that never looks up is left behind when time is over, when it is stopped,
// and when it holds too much; work that fails says why.
func TestGovern(t *testing.T) {
	endless := func() (int, error) { select {} }
	short, cancel := context.WithTimeout(context.Background(), 10*time.Millisecond)
	defer cancel()
	if _, err := Govern(short, limits.Limits{}, endless); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("over time: %v", err)
	}
	stopped, stop := context.WithCancel(context.Background())
	time.AfterFunc(10*time.Millisecond, stop)
	if _, err := Govern(stopped, limits.Limits{}, endless); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	over := make(chan bool)
	defer close(over)
	if _, err := Govern(context.Background(), limits.Limits{Heap: 64 << 20}, func() (int, error) {
		var held [][]byte
		for range 100 { // 200 MB in all, and no more
			held = append(held, make([]byte, 2<<20))
		}
		<-over
		runtime.KeepAlive(held)
		return len(held), nil
	}); !errors.Is(err, limits.ErrMemory) {
		t.Errorf("over memory: %v", err)
	}
	if _, err := Govern(context.Background(), limits.Limits{},
		func() (int, error) { panic("oh") }); !errors.Is(err,
		ErrFault) {
		t.Errorf("a fault: %v", err)
	}
	if n, err := Govern(context.Background(), limits.Limits{},
		func() (int, error) { return 7, nil }); n != 7 || err != nil {
		t.Errorf("done: %d, %v", n, err)
	}
}
