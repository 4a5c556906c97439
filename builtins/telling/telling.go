// Package telling is what a study puts on its page, in order: texts, values,
// figures, sliders, rigging cards, questions. Every function fills the places of
// its texts ({usual.speed}), makes a block of the page as plain data and hands it
// to the session; none of them draws. Start with texts.go for the shortest.
//
// Figures hold numbers in the trade's units. What they look like is decided where
// pages, windows and pictures are made, not here.
package telling

import (
	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/document"
)

// Records are the functions of this room, in the order of the reference.
func Records() []*lang.Record {
	return []*lang.Record{titleRecord, answerRecord, noteRecord, showRecord, plotRecord, plotPath, plotCurves,
		plotEnergy, plotRig, plotForce,
		animateRecord, exploreRecord, cardRecord, cautionRecord, assumeRecord, resultRecord, askRecord,
		fillRecord}
}

// tell puts a block on the page; where no study runs, as in a test of one record,
// there is no page.
func tell(c *lang.Call, b document.Block) {
	if s := session.Of(c.Thread); s != nil {
		s.Tell(b)
	}
}
