package lang

import (
	"errors"
	"fmt"
)

// Part says what of an argument a message points at.
type Part uint8

const (
	AtValue Part = iota // the value: 2.89 of length=2.89
	AtName              // the name: pwr of pwr=360
	AtBoth              // target=200
)

// Error is a mistake in a study, told in a coach's words. The session adds
// where: file, line, column, the source line and the caret.
type Error struct {
	What string // "length 2.89 cm is outside 150 to 450"
	Why  string // "lengths are typed in centimetres, bare; 2.89 looks like metres"
	Type string // "length=289": what to type next, can be pasted

	// Arg is the parameter to point at, Index its place where it was given
	// without a name (-1: by name). With Arg "" the call's name is pointed at.
	Arg   string
	Index int
	Part  Part

	// Place is the place of a text that is meant, "{today.sped}": it is pointed
	// at where the text is written out in the call.
	Place string

	// NoAnswer marks values that have no answer although the text is right: a
	// drive longer than the stroke, a number outside its window. A sweep keeps
	// such a point as a blank line with What as its reason; any other error
	// ends the study.
	NoAnswer bool

	// Advise finds what to type where that takes work, as rowing neighbouring
	// strokes. It is called only when the message is told and Type is "".
	Advise func() string

	Cause error // for traces only, never shown to a coach
}

func (e *Error) Error() string { return e.What }
func (e *Error) Unwrap() error { return e.Cause }

// Mistake makes an error of its three spoken parts. What is formatted.
func Mistake(why, typ, what string, args ...any) *Error {
	return &Error{What: fmt.Sprintf(what, args...), Why: why, Type: typ, Index: -1}
}

// NoAnswer makes the error of values that have none; see Error.NoAnswer.
func NoAnswer(why, typ, what string, args ...any) *Error {
	e := Mistake(why, typ, what, args...)
	e.NoAnswer = true
	return e
}

// At points the error at the value of a parameter and gives it back.
func (e *Error) At(param string) *Error {
	e.Arg, e.Index = param, -1
	return e
}

// AsError finds the *Error in a chain, or nil.
func AsError(err error) *Error {
	var e *Error
	if errors.As(err, &e) {
		return e
	}
	return nil
}

// IsNoAnswer tells whether err is one that a sweep keeps as a blank line, and
// gives its reason.
func IsNoAnswer(err error) (reason string, ok bool) {
	if e := AsError(err); e != nil && e.NoAnswer {
		return e.What, true
	}
	return "", false
}
