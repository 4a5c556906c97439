package session

import (
	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/engine/table"
)

// Config is what a study runs on. The zero value of a field means none, or the
// default where one is named.
type Config struct {
	Library *lang.Library // the words of the language

	Files Files // the study's folder; nil: no files
	// Sheet gives the cells of a workbook's sheet; nil: workbooks cannot be read
	// here, as on the live page. Errors are *table.Error.
	Sheet func(file string, data []byte, sheet string) (*table.Grid, error)
	// Boathouse gives the text of a library file that is loaded as "@name".
	Boathouse func(name string) (source []byte, ok bool)

	// ReadOnly reads the data a study asks for and stops before anything is rowed
	// or told.
	ReadOnly bool

	Set    map[string]string // --set name=value, as typed
	Jobs   int               // functions called at the same time; 0: 1
	Limits limits.Limits

	Print    func(text string)         // print(...); called on one goroutine at a time
	Progress func(what string, p Step) // how far a long computation is; any goroutine

	Kept  Remember // points already computed; nil: none
	Share Share    // which part of every sweep to compute; zero: all
	Extra any      // what the bindings need from their caller: session does not look at it

	Version string // of the engine, for the document
	Command string // what reruns the study, "thole run a_outboard.star"
}

// Files is the study's folder. Names are as typed in the study; what lies
// outside the folder is refused with an error in a coach's words (*lang.Error
// or *table.Error).
type Files interface {
	ReadFile(name string) ([]byte, error)
}

// Remember keeps points already computed: keys and bytes. Awake says whether it has any, or
// takes any: a key costs a twentieth of a stroke.
type Remember interface {
	Awake() bool
	Get(key []byte) (value []byte, ok bool)
	Put(key, value []byte)
}

// Share is part K of N of every sweep.
type Share struct{ K, N int }

// Step is how far a computation is.
type Step struct{ Done, Of int }

// FileRead is a file the study read, in the order of reading.
type FileRead struct {
	Name string // as typed
	Role string // "study", "loaded", "input"
	Data []byte
	// Tables are those read out of it: one of a CSV file, one a sheet of a workbook.
	// Their FileLines tell the file's lines.
	Tables []*table.Table
}

// FileWritten is a file the study wrote into its run's folder.
type FileWritten struct {
	Name string
	Data []byte
}

// ParamValue is a parameter as it was in force, in full precision.
type ParamValue struct {
	Name, Unit string
	Value      any // float64, string or bool
	Written    any // the value in the study's text
	Set        bool
	Help       string
}
