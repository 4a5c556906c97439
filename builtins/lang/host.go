package lang

import (
	"context"

	"go.starlark.net/starlark"
)

// Host is what a running script stands on. The session gives one to every
// thread; without one the defaults of NoHost hold, so that records can be tried
// alone in tests.
type Host interface {
	// Context is done when the study must stop. Every function that takes
	// longer than a blink polls it.
	Context() context.Context
	// Allow refuses a call that may not be made here, as telling inside a
	// function handed to vary.
	Allow(thread *starlark.Thread, r *Record) error
	// Told is asked after each call that tells: an error where the study has
	// told more than it may.
	Told() error
	// Caution takes a sentence that the reader must see.
	Caution(thread *starlark.Thread, c Caution)
	// Lookup finds a top-level name of the study, for places in texts.
	Lookup(thread *starlark.Thread, name string) (starlark.Value, bool)
	// Names lists the study's top-level names, for the nearest one.
	Names(thread *starlark.Thread) []string
	// Quantity gives the unit and digits of a field every stroke has
	// ("speed"), for names that are written without a unit.
	Quantity(name string) (Field, bool)
	// Check refuses a value that would be larger than the limits allow: n
	// cells of a list, n bytes of a text.
	Check(what string, n int) error
}

// Caution is a value outside its usual range, or a sentence of the tool's own.
// Cautions alike but for the value are told as one.
type Caution struct {
	Text  string  // the whole sentence for one value
	Key   string  // cautions with the same key are told together; "" stands alone
	Many  string  // the sentence for several, with %s where the values are listed
	Value string  // the value as shown
	Arg   string  // parameter to point at
	Why   string  // as in Error
	Type  string  // as in Error
	Sort  float64 // order of the values in a joint sentence

	Beyond float64 // by what part of the usual range a value lies outside it; 0 for other cautions
}

const hostKey = "thole.host"

// SetHost gives the thread its host. To be called before it runs.
func SetHost(thread *starlark.Thread, h Host) { thread.SetLocal(hostKey, h) }

// HostOf gives the thread's host, never nil.
func HostOf(thread *starlark.Thread) Host {
	if thread != nil {
		if h, ok := thread.Local(hostKey).(Host); ok {
			return h
		}
	}
	return NoHost{}
}

// NoHost is the host of a thread that has none: all is allowed, cautions are
// dropped, there are no names.
type NoHost struct{}

func (NoHost) Context() context.Context                               { return context.Background() }
func (NoHost) Allow(*starlark.Thread, *Record) error                  { return nil }
func (NoHost) Told() error                                            { return nil }
func (NoHost) Caution(*starlark.Thread, Caution)                      {}
func (NoHost) Names(*starlark.Thread) []string                        { return nil }
func (NoHost) Quantity(string) (Field, bool)                          { return Field{}, false }
func (NoHost) Check(string, int) error                                { return nil }
func (NoHost) Lookup(*starlark.Thread, string) (starlark.Value, bool) { return nil, false }
