// Package lang says what a word of the script language is, and turns that one
// statement into everything the word needs: the binding of arguments with its
// checks and messages, help, completion, the reference page. It also holds the
// script values that know no rowing: tables, their lines, estimates, ranges and
// the base of all immutable things.
//
// Start with Record: one function of the language, as data, with the Go function
// that does it. A Library is all records together. Things of a study (oars,
// strokes ...) are made by a Type. Everything a user did wrong is an *Error with
// the parts of a message; where it stands in the text is added by the session.
//
// Numbers in scripts are plain and in the trade's units (cm, degrees, m/s, W);
// the caller turns them into SI at this edge and nowhere else.
//
// Non-goals: running scripts (builtins/session) and rowing (builtins).
package lang
