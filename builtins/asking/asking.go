// Package asking puts a question to a function of the study: vary, find,
// find_best, sensitivity, uncertainty, compare, equal_load, allocate. Start with
// question.go, how a function is asked at many points on all cores, and
// outcome.go, what it may give; then one file a question. The search itself is
// engine/study's, which knows no rowing.
//
// Inputs and outputs are in the trade's units, as the function takes and gives
// them. A point without an answer keeps its reason; it does not end the study. No
// question judges whether a load is good for anybody.
package asking

import "thole/builtins/lang"

// Records are the functions that put a question to another function. How
// a function is asked stands in question.go, what it gives in outcome.go.
func Records() []*lang.Record {
	return []*lang.Record{varyRecord, findRecord, findBest, sensitivityRecord, uncertaintyRecord, doubtRecord,
		compareRecord, equalLoad, tradeOff, allocateRecord, attemptRecord}
}
