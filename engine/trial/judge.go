package trial

import "thole/engine/table"

// JudgeSettings says what is to be told apart. Zero values: the defaults.
type JudgeSettings struct {
	A, B       string          // names of the settings; the difference is B against A
	Worthwhile float64         // smallest difference that matters, % of speed (0.3)
	Predicted  *table.Estimate // the model's own difference, %; nil: none
	Combine    bool            // let the prediction share in the answer (said so in Says)
}

// Judgement is what the pieces told.
type Judgement struct {
	A, B    string
	Verdict string // "b faster", "a faster" by their names, or "cannot tell"

	Difference *table.Estimate // B against A, % of speed, drift and wind allowed for
	Chance     float64         // that B is faster than A by more than Worthwhile, 0 to 1
	Worthwhile float64         // %
	Pairs      []float64       // neighbours of unlike setting in the order rowed, b against a, %, as rowed
	Drift      *table.Estimate // % of speed a piece; nil: left out
	Wind       *table.Estimate // % for each m/s of headwind; nil: left out
	Effects    []Effect        // all that were allowed for, drift and wind included
	LeftOut    []string        // columns that were not used, with the reason, a sentence each
	Scatter    float64         // of a piece, beyond all that, % of speed
	Degrees    float64         // of freedom of Scatter
	Pieces     int
	PerSetting map[string]int

	Odd        []Odd           // pieces that stand apart, with and without
	MorePieces int             // pieces a setting, in all, that would tell a difference of this size; 0: none needed or beyond any morning
	All        *table.Table    // every two settings, where there are more than two; else nil
	Agreement  string          // model and water beside each other, a sentence; "" without prediction
	Combined   *table.Estimate // prediction and water together, where asked
	Cautions   []string
	Says       []string     // what was done and why, a sentence each
	Used       *table.Table // the pieces with speed, what was allowed for, and what was left over
}

// Effect is something else than the setting that moves speed.
type Effect struct {
	Name     string          // "drift", "wind", "rate", "water", "way"
	Unit     string          // "% a piece", "% for each m/s"
	Estimate *table.Estimate // out of the pieces, or the model's own
	Model    bool            // the model's own stood in, with its doubt
}

// Odd is a piece that stands apart from all others.
type Odd struct {
	Piece   float64         // its number
	Off     float64         // % of speed from what the others say of it
	Without *table.Estimate // the difference without it
	Verdict string          // the verdict without it
}
