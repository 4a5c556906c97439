// Package data is how numbers get into a study and out of it: CSV files and workbooks
// of its folder (csv.go, sheet.go), earlier runs (read_run.go), and the functions on plain numbers,
// texts and tables that package lang brings. Start with Records.
//
// Reading stays in the study's folder and writing in the run's: both go through
// the session (files.go), which refuses any other path. A column's unit stands in
// its heading and converts to the one asked for; nothing else converts.
package data

import (
	"thole/builtins/lang"
	"thole/builtins/session"
)

// Records are the functions of this room, in the order of the reference.
func Records() []*lang.Record {
	return append(append([]*lang.Record{session.ParamRecord}, lang.Basics()...), readCSV, readSheet, writeCSV,
		meantRecord,
		readRunRecord)
}

// Docs are the kinds of things made here, for help and completion.
func Docs() []lang.ThingDoc { return []lang.ThingDoc{runType.Doc()} }
