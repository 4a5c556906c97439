package trial

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"thole/engine/table"
)

var nan = math.NaN()

// PlanProblem is the question before the morning. Zero values stand for the
// defaults that are written beside them.
type PlanProblem struct {
	Settings     []string     // names of the settings, two or more
	Difference   float64      // the difference that matters, % of speed (0.3)
	TypicalError float64      // of one piece from the next, same rig, % of speed (0.9)
	Pieces       int          // all settings together; 0: from Minutes, else from the wanted chance
	Minutes      float64      // time at hand on the water, min; 0: not given
	Distance     float64      // of a piece, m (500)
	Rest         float64      // between two pieces, min; 0: 5
	Change       float64      // to change the rig, min; 0: 10
	Learn        *table.Table // pieces rowed with one rig, to learn the typical error; nil: none
	Seed         uint64       // of the order (0 is a seed like any other)
}

// Plan is what such a morning can tell.
type Plan struct {
	Pieces     int     // all settings together, as many of each
	PerSetting int     // pieces of one setting
	Resolves   float64 // half the 95 % interval that Judge will give, % of speed
	Chance     float64 // that a true Difference is told from nothing, 0 to 1
	Wanted     float64 // the chance that Needed is for (0.80)
	Needed     int     // pieces a setting for the wanted chance; 0: more than anybody rows
	Degrees    int     // of freedom left for the scatter, as in Judge
	Minutes    float64 // that the pieces take with rest and changes, min
	Changes    int     // changes of rig within the morning
	Seed       uint64

	Difference   float64         // as used, % of speed
	TypicalError *table.Estimate // as used; with an interval where it was learned
	Order        *table.Table    // piece, setting, distance, and what is to be filled in
	Says         []string        // what it can tell and what it cannot, a sentence each
	Cautions     []string
}

// defaults of a plan that nobody measured: common practice, no source, but for
// the error (race to race within a crew, Smith & Hopkins 2011).
const (
	usualPieces   = 8    // of a morning, where neither pieces nor time are given
	mostMorning   = 16   // pieces that one morning holds
	usualDistance = 500  // m
	usualRest     = 5    // min
	usualChange   = 10   // min
	pieceSpeed    = 4.5  // m/s, to turn a distance into minutes
	mostPieces    = 1000 // of a plan
)

// MakePlan says what a morning can tell, by the non-central t with the degrees
// of freedom that Judge will have: drift, wind and, from three blocks on, blocks
// are taken off them.
func MakePlan(p PlanProblem) (*Plan, error) {
	p, err := p.filled()
	if err != nil {
		return nil, err
	}
	plan := &Plan{Wanted: wanted, Difference: p.Difference, Seed: p.Seed}
	plan.TypicalError = &table.Estimate{Value: p.TypicalError, Low: p.TypicalError, High: p.TypicalError,
		AsSet: nan, Unit: "%", Digits: 2}
	if p.Learn != nil {
		if plan.TypicalError, err = learnError(p.Learn); err != nil {
			return nil, err
		}
	}
	k := len(p.Settings)
	comparisons := k * (k - 1) / 2
	e := plan.TypicalError.Value
	plan.Needed = piecesNeeded(p.Difference, e, k, comparisons)
	if err := plan.count(p); err != nil {
		return nil, err
	}

	n := plan.Pieces
	plan.PerSetting = n / k
	plan.Degrees = degreesOf(n, k)
	standard := e * math.Sqrt(2/float64(plan.PerSetting))
	plan.Resolves = studentT(1-0.025/float64(comparisons), float64(plan.Degrees)) * standard
	plan.Chance = chanceToTell(p.Difference, standard, plan.Degrees, comparisons)

	order := orderOf(p.Settings, n, p.Seed)
	plan.Changes = changesOf(order)
	plan.Minutes = p.minutes(order)
	plan.Order = orderTable(order, p.Distance)
	plan.say(p)
	plan.Order.Side, plan.Order.WriteIn = "write in, then save as CSV", true
	plan.Order.Foot = append(plan.Order.Foot, plan.Says[0], plan.Says[1],
		"water ______ °C   stream ______ m/s with the boat   crew, date ______________")
	return plan, nil
}

// filled puts the defaults in and refuses what cannot be planned.
func (p PlanProblem) filled() (PlanProblem, error) {
	switch {
	case len(p.Settings) < 2:
		return p, &table.Error{What: "a trial needs two settings or more",
			Why: "one rig alone shows its scatter, not a difference", Type: `settings=("long", "short")`}
	case p.Pieces < 0 || p.Minutes < 0 || p.Rest < 0 || p.Change < 0 || p.Distance < 0 || p.Difference < 0 ||
		p.TypicalError < 0:
		return p, &table.Error{What: "a plan's numbers are above zero",
			Why: "pieces, minutes, metres and per cent are counted upward", Type: "worthwhile=0.3, pieces=8"}
	}
	seen := map[string]bool{}
	for _, s := range p.Settings {
		if strings.TrimSpace(s) == "" || seen[s] {
			return p, &table.Error{What: fmt.Sprintf("setting %q stands twice or has no name", s),
				Why:  "the sheet tells pieces apart by their setting's name",
				Type: `settings=("long", "short")`}
		}
		seen[s] = true
	}
	set := func(x *float64, usual float64) {
		if *x == 0 {
			*x = usual
		}
	}
	set(&p.Difference, defaultWorthwhile)
	set(&p.TypicalError, crewsScatter)
	set(&p.Distance, usualDistance)
	set(&p.Rest, usualRest)
	set(&p.Change, usualChange)
	return p, nil
}

// count finds the number of pieces: as asked, else what the time holds, else
// what the wanted chance needs if a morning holds it, else a usual morning.
func (plan *Plan) count(p PlanProblem) error {
	k := len(p.Settings)
	n := p.Pieces
	switch {
	case n > mostPieces:
		return &table.Error{What: fmt.Sprintf("%d pieces are more than anybody rows", n),
			Why: "a morning holds eight to sixteen", Type: "pieces=8"}
	case n > 0:
	case p.Minutes > 0:
		for ; n+k <= mostPieces && p.minutes(orderOf(p.Settings, n+k, p.Seed)) <= p.Minutes; n += k {
		}
	case plan.Needed > 0 && plan.Needed*k <= mostMorning:
		n = plan.Needed * k
	default:
		n = usualPieces / k * k
	}
	if rest := n % k; rest != 0 {
		plan.Cautions = append(plan.Cautions,
			fmt.Sprintf("%d pieces are not as many of each of %d settings: %d are planned.", n, k, n-rest))
		n -= rest
	}
	if least := 2 * k; n < least {
		if p.Pieces == 0 && p.Minutes > 0 {
			return &table.Error{What: fmt.Sprintf("%s min hold %d pieces", short(p.Minutes), n),
				Why: fmt.Sprintf("a piece of %s m takes about %.1f min, rest %s min, a change of rig %s "+
					"min; at least %d pieces can be judged", short(p.Distance), p.pieceMinutes(),
					short(p.Rest), short(p.Change), least),
				Type: fmt.Sprintf("minutes=%.0f", math.Ceil(p.minutes(orderOf(p.Settings, least, p.Seed))))}
		}
		return &table.Error{What: fmt.Sprintf("%d pieces of %d settings cannot be judged", n, k),
			Why:  "with the drift allowed for, nothing is left to see the scatter by",
			Type: fmt.Sprintf("pieces=%d", least)}
	}
	plan.Pieces = n
	return nil
}

func (p PlanProblem) pieceMinutes() float64 { return p.Distance / pieceSpeed / 60 }

// minutes that an order takes: pieces, rests, and where the rig changes the
// longer of rest and change, for the crew rests meanwhile.
func (p PlanProblem) minutes(order []string) float64 {
	changes := changesOf(order)
	return float64(len(order))*p.pieceMinutes() + float64(changes)*math.Max(p.Rest, p.Change) +
		float64(len(order)-1-changes)*p.Rest
}

// learnError finds the typical error of pieces that were all rowed with one rig,
// drift and wind allowed for, with its 95 % interval (χ²).
func learnError(pieces *table.Table) (*table.Estimate, error) {
	if pieces.Column("setting") == nil {
		c := table.NewColumn("setting", "", table.Text)
		for range pieces.Len() {
			c.Texts = append(c.Texts, "the rig")
		}
		pieces = &table.Table{Columns: append([]*table.Column{c}, pieces.Columns...)}
	}
	rows, err := rowsOf(pieces)
	if err != nil {
		if e, ok := err.(*pieceError); ok {
			return nil, &e.fault
		}
		return nil, err
	}
	d := newDesign(rows)
	if len(d.settings) > 1 {
		return nil, &table.Error{What: fmt.Sprintf("the pieces to learn from have %d settings",
			len(d.settings)),
			Why: "the typical error is learned with one rig: with two, their difference would count as " +
				"scatter",
			Type: fmt.Sprintf("learn=pieces.where(setting=%q)", d.settings[0])}
	}
	if len(rows)-len(d.columns) < fewestDegrees {
		return nil, &table.Error{What: fmt.Sprintf("%d pieces are too few to learn the typical error from",
			len(rows)), Why: "drift and wind are allowed for, and the rest must show the scatter",
			Type: "six pieces with one rig, or typical_error=0.9"}
	}
	f := d.fit()
	degrees := float64(f.degrees)
	chi := distuv.ChiSquared{K: degrees}
	return &table.Estimate{Value: f.scatter, Low: f.scatter * math.Sqrt(degrees/chi.Quantile(0.975)),
		High: f.scatter * math.Sqrt(degrees/chi.Quantile(0.025)), AsSet: nan, Unit: "%", Digits: 2}, nil
}

// say puts the plan in sentences.
func (plan *Plan) say(p PlanProblem) {
	k := len(p.Settings)
	tell := fmt.Sprintf("%d pieces tell %s %% or more; a true %s %% would be seen with a chance of %s.",
		plan.Pieces, table.Fixed(plan.Resolves, 1), short(p.Difference), table.Chance(plan.Chance))
	if k > 2 {
		tell = fmt.Sprintf("%d pieces tell any two of %d settings apart by %s %% or more; a true %s %% "+
			"would be seen with a chance of %s.", plan.Pieces, k, table.Fixed(plan.Resolves, 1),
			short(p.Difference), table.Chance(plan.Chance))
	}
	needed := fmt.Sprintf("For a chance of %s: %d pieces a setting.", table.Fixed(wanted, 2), plan.Needed)
	if plan.Needed == 0 {
		needed = fmt.Sprintf("For a chance of %s more than %d pieces a setting would be needed: no trial on "+
			"the water tells %s %%.", table.Fixed(wanted, 2), mostNeeded, short(p.Difference))
	}
	plan.Says = append(plan.Says, tell, needed)
	if p.Learn != nil {
		plan.Says = append(plan.Says,
			fmt.Sprintf("The typical error was learned from %d pieces with one rig: %s %% (95 %% %s).",
				p.Learn.Len(), table.Fixed(plan.TypicalError.Value, 2),
				table.Range(plan.TypicalError.Low, plan.TypicalError.High, 2, false))+
				fmt.Sprintf(" At the upper end of that the %d pieces would tell %s %%.", plan.Pieces,
					table.Fixed(plan.Resolves*plan.TypicalError.High/plan.TypicalError.Value, 1)))
	}
	plan.Says = append(plan.Says,
		fmt.Sprintf("On the water about %.0f min: %d changes of rig of %s min, %s min of rest between the "+
			"other pieces.", plan.Minutes, plan.Changes, short(p.Change), short(p.Rest)),
		"Before that two or three outings with each setting that is new to the crew: a rig nobody is used "+
			"to is judged as strange, not as it is.")
	if p.Minutes > 0 && plan.Minutes > p.Minutes {
		plan.Cautions = append(plan.Cautions,
			fmt.Sprintf("%d pieces take about %.0f min, and %s min are at hand.", plan.Pieces, plan.Minutes,
				short(p.Minutes)))
	}
	if plan.Pieces > mostMorning {
		plan.Cautions = append(plan.Cautions,
			fmt.Sprintf("%d pieces are more than one morning holds: row whole blocks of %d on each, and "+
				"number them on.", plan.Pieces, 2*k))
	}
	if plan.Chance < 0.5 {
		plan.Says = append(plan.Says,
			fmt.Sprintf("Of a true %s %% \"cannot tell\" is the likely answer, which means neither yes nor "+
				"no.", short(p.Difference)))
	}
}
