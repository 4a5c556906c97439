// Package trials is for mornings on the water: the order in which to row the
// pieces (plan.go), reading the sheet or a watch's track (reading.go), judging two
// settings (judge.go), and fitting the model to measured strokes (calibrate.go,
// fit.go). The statistics are engine/trial's.
//
// Differences are in per cent of speed, b against a; times in minutes on the plan
// and in seconds on the sheet. A judgement says which rig was faster that
// morning, never which is safer.
package trials

import (
	"thole/builtins/lang"
	"thole/engine/table"
)

// Records are the functions of this room, in the order of the reference.
func Records() []*lang.Record {
	return []*lang.Record{trialPlan, readTrial, readTrack, judgeRecord, calibrateRecord}
}

func init() {
	trialPlan.Do = trialPlanDo
	readTrial.Do = readTrialDo
	readTrack.Do = readTrackDo
	judgeRecord.Do = judgeDo
}

// spoken turns a mistake of the engine's into one of the study.
func spoken(err error) error {
	if e, ok := err.(*table.Error); ok && e.File == "" {
		return lang.Mistake(e.Why, e.Type, "%s", e.What)
	}
	return err
}

func cautions(c *lang.Call, texts []string) {
	for _, text := range texts {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
	}
}

// Docs are the kinds of things made here, for help and completion.
func Docs() []lang.ThingDoc {
	return []lang.ThingDoc{planType.Doc(), judgementType.Doc(), fitType.Doc()}
}
