package builtins

import "thole/builtins/lang"

// askingRecords are the functions that put a question to another function. How
// a function is asked stands in question.go, what it gives in outcome.go.
func askingRecords() []*lang.Record {
	return []*lang.Record{varyRecord, findRecord, findBest, sensitivityRecord, uncertaintyRecord, doubtRecord,
		compareRecord, equalLoad, allocateRecord, attemptRecord}
}
