// Package things is what a study is made of: hulls, blades, oars, rigs, rowers,
// crews and the water, one file a kind. Records lists the functions that make
// them; each kind has its Type (HullType, OarType), which tells a script value of
// that kind from any other and lists its fields.
//
// Parameters and fields are in the trade's units (cm, cm², degrees, W); the SI
// thing of the engine lies inside (Oar holds an oar.Oar). A thing never changes:
// .change() makes another from the arguments that were given (Given).
//
// Things do not row, and a rig moves nobody by itself: package rowing puts them
// together.
package things

import (
	"thole/builtins/lang"
)

// Records are the functions of this room, in the order of the reference.
func Records() []*lang.Record {
	return []*lang.Record{hullRecord, bladeRecord, OarRecord, rigRecord, rowerRecord, crewRecord, waterRecord}
}

// Docs are the kinds of things made here, for help and completion.
func Docs() []lang.ThingDoc {
	return []lang.ThingDoc{HullType.Doc(), bladeType.Doc(), OarType.Doc(), RigType.Doc(), rowerType.Doc(),
		CrewType.Doc(), WaterType.Doc()}
}
