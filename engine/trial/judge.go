package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/engine/table"
)

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
	Worthwhile float64         // %
	Chance     float64         // that the setting that came out ahead is so by more than Worthwhile, 0 to 1
	Ahead      string          // that setting
	Pairs      []float64       // neighbours of unlike setting as rowed, B against A, %, nothing allowed for
	Drift      *table.Estimate // % of speed a piece
	Wind       *table.Estimate // % for each m/s of headwind; nil: left out
	Effects    []Effect        // all that was allowed for, drift and wind included
	LeftOut    []string        // what was not used, with the reason, a sentence each
	Scatter    float64         // of a piece, beyond all that, % of speed
	Degrees    int             // of freedom of Scatter
	Pieces     int
	PerSetting map[string]int
	Distance   float64 // of a piece, m; NaN where they differ

	Odd []Odd // pieces that stand apart, with and without
	// more pieces of each setting that would tell a difference of this size (at least Worthwhile)
	// with a chance of 0.80; 0: told already; −1: beyond any season
	MorePieces int
	All        *table.Table    // every two settings, where there are more than two; else nil
	Agreement  string          // model and water beside each other, a sentence; "" without prediction
	Combined   *table.Estimate // prediction and water together, where asked
	Cautions   []string
	Says       []string     // what was done and why, a sentence each
	Figure     *table.Table // what (pair 1 ... difference), change %, interval (in the last line), odd
	Used       *table.Table // the pieces with speed, and what was left over
}

// Effect is something beside the setting that moves speed.
type Effect struct {
	Name     string          // "drift", "wind", "rate", "water", "way"
	Per      string          // "a piece", "for each m/s"
	Estimate *table.Estimate // % of speed; out of the pieces, or the model's own
	Model    bool            // the model's own stood in, with its doubt
}

// defaultWorthwhile is the smallest change that matters in races, a third of a
// crew's variation from race to race: Smith & Hopkins 2011, MSSE 43:2155–2160.
const defaultWorthwhile = 0.3

// Judge says what the pieces told of B against A: least squares on log speeds
// with drift, blocks, wind and what else varied allowed for, Student's t on the
// degrees of freedom that remain.
func Judge(pieces *table.Table, s JudgeSettings) (*Judgement, error) {
	if s.Worthwhile == 0 {
		s.Worthwhile = defaultWorthwhile
	}
	rows, err := rowsOf(pieces)
	if err != nil {
		if e, ok := err.(*pieceError); ok {
			return nil, &e.fault
		}
		return nil, err
	}
	s.A, s.B = asRowed(rows, s.A), asRowed(rows, s.B)
	if err := checkSettings(rows, s); err != nil {
		return nil, err
	}
	if err := checkSlips(rows, s); err != nil {
		return nil, err
	}
	d := newDesign(rows)
	if spare := len(rows) - len(d.columns); spare < 1 {
		return nil, &table.Error{What: fmt.Sprintf("%d pieces of %d settings cannot be judged", len(rows),
			len(d.settings)),
			Why:  "with the drift allowed for, nothing is left to see the scatter by",
			Type: fmt.Sprintf("at least %d pieces, %d of each setting", 2*len(d.settings), 2)}
	}
	f := d.fit()

	j := &Judgement{A: s.A, B: s.B, Worthwhile: s.Worthwhile, Scatter: f.scatter, Degrees: f.degrees,
		Pieces:     len(rows),
		PerSetting: map[string]int{}, LeftOut: d.leftOut, Says: d.says}
	for _, r := range rows {
		j.PerSetting[r.setting]++
	}
	j.Distance = rows[0].distance
	for _, r := range rows {
		if r.distance != j.Distance {
			j.Distance = math.NaN()
		}
	}

	// the difference, and what else was found
	found := f.contrast(d.between(s.A, s.B))
	j.Difference = differenceEstimate(found, s.Worthwhile)
	j.Verdict = d.verdict(j.Difference, s)
	j.Ahead, j.Chance = s.B, found.above(s.Worthwhile)
	if found.value < 0 {
		j.Ahead, j.Chance = s.A, found.below(-s.Worthwhile)
	}
	j.effects(d, f)
	j.Used = usedTable(d, f)

	// what a reader should know before believing it
	j.odd(rows, s, f)
	j.pairs(rows)
	j.more(f, found)
	j.several(d, f)
	j.agree(s, found)
	j.caution(d, f)
	return j, nil
}

// checkSettings sees that both settings were rowed.
func checkSettings(rows []row, s JudgeSettings) error {
	var names []string
	for _, r := range rows {
		if !slices.Contains(names, r.setting) {
			names = append(names, r.setting)
		}
	}
	listed := `"` + strings.Join(names, `", "`) + `"`
	switch {
	case len(names) == 1:
		return &table.Error{What: fmt.Sprintf("all pieces were rowed with %q", names[0]),
			Why:  "one rig alone shows its scatter, not a difference",
			Type: "the other rig's name in column setting, on the pieces that were rowed with it"}
	case s.A == s.B:
		return &table.Error{What: fmt.Sprintf("a and b are both %q", s.A),
			Why:  "a difference is between two settings; rowed were " + listed,
			Type: fmt.Sprintf("a=%q, b=%q", names[0], names[1])}
	}
	for _, want := range []struct{ parameter, name string }{{"a", s.A}, {"b", s.B}} {
		if slices.Contains(names, want.name) {
			continue
		}
		suggestion := table.Nearest(want.name, names)
		if suggestion == "" { // the one that the other parameter does not name
			for _, name := range names {
				if suggestion == "" && name != s.A && name != s.B {
					suggestion = name
				}
			}
		}
		if suggestion == "" {
			suggestion = names[0]
		}
		return &table.Error{What: fmt.Sprintf("no piece was rowed with %s=%q", want.parameter, want.name),
			Why: "rowed were " + listed, Type: fmt.Sprintf("%s=%q", want.parameter, suggestion)}
	}
	return nil
}

// asRowed gives a setting's name as the pieces spell it.
func asRowed(rows []row, name string) string {
	for _, r := range rows {
		if strings.EqualFold(r.setting, strings.TrimSpace(name)) {
			return r.setting
		}
	}
	return name
}

// checkSlips finds a setting that reads like one of the two but was rowed less
// often than it: a slip of the pen, which would pass for a third rig. A real third
// rig has a name of its own.
func checkSlips(rows []row, s JudgeSettings) error {
	count := map[string]int{}
	for _, r := range rows {
		count[r.setting]++
	}
	for _, r := range rows {
		if r.setting == s.A || r.setting == s.B || len(r.setting) < 4 {
			continue
		}
		if near := table.Nearest(r.setting, []string{s.A, s.B}); near != "" &&
			count[r.setting] < count[near] {
			return &table.Error{What: fmt.Sprintf("piece %s: setting %q is neither %q nor %q",
				short(r.number), r.setting, s.A, s.B),
				Why: fmt.Sprintf("it stands on %d of %d pieces, and reads like a slip of the pen",
					count[r.setting], len(rows)), Type: fmt.Sprintf("%s, in column setting of piece %s", near,
					short(r.number))}
		}
	}
	return nil
}

// verdict is by the interval alone, and none where a way cannot be told from
// the settings.
func (d *design) verdict(e *table.Estimate, s JudgeSettings) string {
	switch {
	case d.mixed != "":
		return "cannot tell"
	case e.Low > 0:
		return s.B + " faster"
	case e.High < 0:
		return s.A + " faster"
	}
	return "cannot tell"
}

// effects tells drift, wind and the rest.
func (j *Judgement) effects(d *design, f fitted) {
	add := func(name, per string, found contrast, model bool) {
		e := found.estimate()
		j.Effects = append(j.Effects, Effect{Name: name, Per: per, Estimate: e, Model: model})
		switch name {
		case "drift":
			j.Drift = e
		case "wind":
			j.Wind = e
		}
	}
	add("drift", "a piece", f.contrast(d.one("drift", 1)), false)
	for _, c := range d.used {
		add(c.name, "for each "+per(c), f.contrast(d.one(c.name, c.step)), false)
	}
	for _, c := range d.stoodIn {
		value := c.own.slope * c.step
		add(c.name, "for each "+per(c), contrast{value: value, fixed: math.Abs(value * c.own.doubt)}, true)
	}
}

// pairs sets neighbours of unlike setting beside each other, each piece once,
// and makes the table of the figure: each pair, then the difference.
func (j *Judgement) pairs(rows []row) {
	var two []row
	for _, r := range rows {
		if r.setting == j.A || r.setting == j.B {
			two = append(two, r)
		}
	}
	odd := map[float64]bool{}
	for _, o := range j.Odd {
		odd[o.Piece] = true
	}
	what, mark := table.NewColumn("what", "", table.Text), table.NewColumn("odd", "", table.Text)
	change, interval := table.NewColumn("change", "%", table.Number),
		table.NewColumn("interval", "%", table.Measured)
	change.Digits, change.Signed = 2, true
	add := func(name string, percent float64, e *table.Estimate, isOdd bool) {
		text := ""
		if isOdd {
			text = "odd"
		}
		what.Texts, mark.Texts = append(what.Texts, name), append(mark.Texts, text)
		change.Nums, interval.Estimates = append(change.Nums, percent), append(interval.Estimates, e)
	}
	for i := 0; i+1 < len(two); i++ {
		first, second := two[i], two[i+1]
		if first.setting == second.setting {
			continue
		}
		if first.setting == j.B {
			first, second = second, first
		}
		percent := 100 * math.Log(second.speed()/first.speed())
		j.Pairs = append(j.Pairs, percent)
		add(fmt.Sprintf("pair %d", len(j.Pairs)), percent, nil, odd[first.number] || odd[second.number])
		i++
	}
	add("difference", j.Difference.Value, j.Difference, false)
	j.Figure = &table.Table{Name: "pairs", Columns: []*table.Column{what, change, interval, mark}}
}

// speed over the ground.
func (r row) speed() float64 { return r.distance / r.time }

// usedTable shows each piece with what was left over when all was allowed for.
func usedTable(d *design, f fitted) *table.Table {
	piece, setting := table.NewColumn("piece", "", table.Number), table.NewColumn("setting", "", table.Text)
	speed, left := table.NewColumn("speed", "m/s", table.Number),
		table.NewColumn("left_over", "%", table.Number)
	left.Digits, left.Signed = 2, true
	for i, r := range d.rows {
		piece.Nums = append(piece.Nums, r.number)
		setting.Texts = append(setting.Texts, r.setting)
		speed.Nums = append(speed.Nums, r.speed())
		left.Nums = append(left.Nums, f.left[i])
	}
	return &table.Table{Name: "pieces judged", Columns: []*table.Column{piece, setting, speed, left}}
}
