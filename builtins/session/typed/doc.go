// Package typed runs lines that come one by one, as at the prompt. New opens a
// Session; Eval runs a block; Undo takes it back; Again works out once more what
// stands on a name that was given again; Keep writes the session as a study;
// Complete lists what may be typed next.
//
// It has no terminal: who types and how a value shows itself is the caller's.
package typed
