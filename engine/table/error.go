package table

// Error is a user's mistake in the manner of every message: what, where, why,
// what to type instead. The place is set only where a file was read.
type Error struct {
	What string
	Why  string
	Type string // can be pasted

	File        string // "crews.csv"
	Line, Col   int    // from 1; 0 where there is no place
	Source      string // the line of the file
	CaretLength int    // characters under which the caret stands
}

func (e *Error) Error() string { return e.What }
