package trial

import "thole/engine/table"

// PlanProblem is the question before the morning. Zero values stand for the
// defaults that are written beside them.
type PlanProblem struct {
	Settings     []string     // names of the settings, two or more
	Difference   float64      // the difference that matters, % of speed (0.3)
	TypicalError float64      // of one piece from the next, same rig, % of speed (0.9)
	Pieces       int          // all settings together; 0: from Minutes, else from the wanted chance
	Minutes      float64      // time at hand on the water, min; 0: not given
	Distance     float64      // of a piece, m (500)
	Rest         float64      // between two pieces, min (5)
	Change       float64      // to change the rig, min (10)
	Learn        *table.Table // pieces rowed with one rig, to learn the typical error; nil: none
	Seed         uint64       // of the order (0 is a seed like any other)
}

// Plan is what such a morning can tell.
type Plan struct {
	Pieces     int     // all settings together
	PerSetting int     // the fewest that any setting gets
	Resolves   float64 // half the 95 % interval that Judge will give, % of speed
	Chance     float64 // that a true Difference is told from nothing, 0 to 1
	Wanted     float64 // the chance that Needed is for (0.80)
	Needed     int     // pieces a setting for the wanted chance; 0: beyond any morning
	Degrees    int     // of freedom left for the scatter, as in Judge
	Minutes    float64 // that the pieces take with rest and changes, min
	Changes    int     // changes of rig within the morning

	Difference   float64         // as used, % of speed
	TypicalError *table.Estimate // as used; with an interval where it was learned
	Order        *table.Table    // piece, block, setting, distance, and what is to be filled in
	Says         []string        // what it can tell and what it cannot, a sentence each
	Cautions     []string
}
