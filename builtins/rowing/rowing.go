// Package rowing puts hull, crew and oars together and rows one steady stroke:
// row, the fields of a stroke, its traces and paths, and the sums that go by the
// name of gearing. Start with row.go: a call becomes a stroke.Problem there, SI
// throughout, and comes back as a Stroke whose fields are in the trade's units.
//
// Oar angles are in degrees, before square below 0; a headwind counts up. It asks
// nothing twice: many strokes at once are the business of package asking.
package rowing

import (
	"thole/builtins/lang"
)

// Records are the functions of this room, in the order of the reference.
func Records() []*lang.Record {
	return []*lang.Record{rowRecord, bladePath, perfectPath, slipMap, fitInboard, fitAngles, gearingRecord,
		machinePower, overlapRecord, handsApart, handsRecord, arcRecord, yawMoment}
}

// Docs are the kinds of things made here, for help and completion.
func Docs() []lang.ThingDoc { return []lang.ThingDoc{StrokeType.Doc(), energyType.Doc()} }
