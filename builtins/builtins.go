// Package builtins is what a script can call: one file a topic, each a table of
// records. A record's numbers are in the trade's units; they become SI things
// here and nowhere else, and results become the trade's units in the one table
// of result fields (engine/stroke).
//
// Start with Library, all records together. The values of a study are immutable
// Go values behind a lang.Thing: a changed oar is another oar, made again by the
// function that made the first from the arguments that were given.
package builtins

import (
	"strings"
	"sync"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
)

// library is made once: records hold no state of a run.
var library = sync.OnceValue(func() *lang.Library {
	l := &lang.Library{Values: starlark.StringDict{"math": lang.Math}, Fields: strokeFieldDocs(), Synonym: synonyms, Later: later}
	for _, topic := range [][]*lang.Record{
		thingRecords(), doingRecords(), askingRecords(), tellingRecords(), dataRecords(), trialRecords(), promptRecords(),
	} {
		l.Records = append(l.Records, topic...)
	}
	l.Things = thingDocs()
	l.Topics = topics
	return l.Seal()
})

// Library gives every word of the language, tied together and checked.
func Library() *lang.Library { return library() }

// synonyms are words people try for a name of the language.
var synonyms = map[string]string{
	"boat": "hull", "shell": "hull", "simulate": "row", "scull": "oar", "sculls": "oar", "rigger": "rig",
	"athlete": "rower", "sweep": "vary", "optimise": "find_best", "optimize": "find_best", "solve": "find",
	"chart": "plot", "graph": "plot", "display": "show", "write": "note", "warn": "caution", "warning": "caution",
	"format": "fmt", "avg": "mean", "average": "mean", "range_of": "steps", "linspace": "steps", "save": "keep",
}

// later are names of the language that this version does not have yet.
var later = []string{}

// The records of each topic, in the order of the reference.

func thingRecords() []*lang.Record {
	return []*lang.Record{hullRecord, bladeRecord, oarRecord, rigRecord, rowerRecord, crewRecord, waterRecord}
}

func doingRecords() []*lang.Record {
	return []*lang.Record{rowRecord, bladePath, perfectPath, slipMap, fitInboard, leverRatio, spreadRatio, surveyRatio,
		effectiveRatio, overlapRecord, arcRecord, yawMoment}
}

func tellingRecords() []*lang.Record {
	return []*lang.Record{titleRecord, answerRecord, noteRecord, showRecord, plotRecord, plotPath, plotCurves, plotEnergy,
		animateRecord, exploreRecord, cardRecord, cautionRecord, assumeRecord, resultRecord, askRecord, fillRecord}
}

func dataRecords() []*lang.Record {
	return append(append([]*lang.Record{session.ParamRecord}, lang.Basics()...), readCSV, writeCSV, readRunRecord)
}

func thingDocs() []lang.ThingDoc {
	return []lang.ThingDoc{hullType.Doc(), bladeType.Doc(), oarType.Doc(), rigType.Doc(), rowerType.Doc(), crewType.Doc(),
		waterType.Doc(), strokeType.Doc(), energyType.Doc(), runType.Doc(),
		planType.Doc(), judgementType.Doc(), fitType.Doc(),
		lang.TableDoc(), lang.EstimateDoc()}
}

// listTexts lists texts in a sentence.
func listTexts(texts []string) string { return strings.Join(texts, ", ") }
