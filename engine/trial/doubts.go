package trial

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"thole/engine/table"
	"thole/engine/words"
)

const (
	// bestScatter is what the steadiest crews show from piece to piece, %; crewsScatter
	// what crews do (derived: trials at 0.5–0.9 %; 0.9 % race to race, Smith &
	// Hopkins 2011).
	bestScatter  = 0.5
	crewsScatter = 0.9
	// tooGood: less scatter than this share of steady crews' mornings would show.
	tooGood = 0.01
	// mostNeeded is where counting more pieces ends.
	mostNeeded = 400
	wanted     = 0.80
)

// Odd is a piece that stands apart from all others.
type Odd struct {
	Piece   float64         // its number
	Off     float64         // % of speed, from what the others say of it
	Without *table.Estimate // the difference without it
	Verdict string          // the verdict without it
}

// odd finds pieces that the others do not explain: the externally studentised
// residual beyond t at 5 % shared among all pieces (Cook & Weisberg 1982,
// Residuals and Influence, §2.2.2). The judgement stands on all pieces; what it
// would be without is told beside it.
func (j *Judgement) odd(rows []row, s JudgeSettings, f fitted) {
	if f.degrees < 2 {
		return
	}
	n := float64(len(rows))
	limit := studentT(1-0.025/n, float64(f.degrees-1))
	for i := range rows {
		room := 1 - f.leverage[i]
		if room < 1e-6 {
			continue // the fit goes through this piece, whatever it is
		}
		others := (f.scatter*f.scatter*float64(f.degrees) - f.left[i]*f.left[i]/room) / float64(f.degrees-1)
		// below a hundredth of a per cent times are equal as far as watches go
		apart := f.left[i] / math.Sqrt(math.Max(others, 1e-4)*room)
		if math.Abs(apart) <= limit {
			continue
		}
		rest := append(append([]row{}, rows[:i]...), rows[i+1:]...)
		odd := Odd{Piece: rows[i].number, Off: f.left[i] / room}
		if checkSettings(rest, s) == nil {
			d := newDesign(rest)
			if len(rest) > len(d.columns) {
				odd.Without = differenceEstimate(d.fit().contrast(d.between(s.A, s.B)), s.Worthwhile)
				odd.Verdict = d.verdict(odd.Without, s)
			}
		}
		j.Odd = append(j.Odd, odd)
	}
	for _, o := range j.Odd {
		says := fmt.Sprintf("piece %s stands %s %% apart from what the others say of it", short(o.Piece),
			table.Signed(o.Off, 2))
		if o.Without != nil {
			says += fmt.Sprintf("; without it %s: %s", o.Without.String(), o.Verdict)
		}
		j.Cautions = append(j.Cautions,
			says+". It was kept: only a reason that was written down takes a piece out.")
	}
}

// more counts the further pieces of each setting that would tell a difference
// of the size found, at least the worthwhile one, with a chance of 0.80.
func (j *Judgement) more(f fitted, found contrast) {
	if j.Verdict != "cannot tell" || f.scatter == 0 {
		return
	}
	size := math.Max(math.Abs(found.value), j.Worthwhile)
	settings := len(f.design.settings)
	// what drift and wind cost of the interval stays as it was this morning
	each := float64(min(j.PerSetting[j.A], j.PerSetting[j.B]))
	cost := math.Max(1, found.standardError()/(f.scatter*math.Sqrt(2/each)))
	has := min(j.PerSetting[j.A], j.PerSetting[j.B])
	needed := piecesNeeded(size, f.scatter*cost, settings, 1)
	if needed == 0 {
		j.MorePieces = -1
		return
	}
	j.MorePieces = max(needed-has, 1)
}

// piecesNeeded is the number of pieces a setting that tell a difference with
// the wanted chance, error that of one piece; 0: more than anybody rows.
// Comparisons: how many are made at once.
func piecesNeeded(difference, error float64, settings, comparisons int) int {
	// a normal distribution needs fewer than any t: begin there
	limit := distuv.UnitNormal.Quantile(1-0.025/float64(comparisons)) + distuv.UnitNormal.Quantile(wanted)
	first := 2 * math.Pow(limit*error/difference, 2)
	if first > mostNeeded {
		return 0
	}
	for n := max(2, int(first)); n <= mostNeeded; n++ {
		degrees := degreesOf(n*settings, settings)
		if degrees >= 1 && chanceToTell(difference, error*math.Sqrt(2/float64(n)), degrees,
			comparisons) >= wanted {
			return n
		}
	}
	return 0
}

// chanceToTell is the power with the right sign, comparisons made at once
// sharing the 5 % (Bonferroni).
func chanceToTell(difference, standardError float64, degrees, comparisons int) float64 {
	limit := studentT(1-0.025/float64(comparisons), float64(degrees))
	return 1 - noncentralT(limit, float64(degrees), difference/standardError)
}

// several compares every two settings where there are more than two. The
// intervals share the 5 % (Bonferroni), so that all of them hold together; the
// F test says first whether the settings differ at all.
func (j *Judgement) several(d *design, f fitted) {
	k := len(d.settings)
	if k < 3 {
		return
	}
	comparisons := k * (k - 1) / 2
	text := func(name string) *table.Column { return table.NewColumn(name, "", table.Text) }
	setting, against, verdict := text("setting"), text("against"), text("verdict")
	difference := table.NewColumn("difference", "%", table.Measured)
	difference.Digits, difference.Signed = 2, true
	for a := range k {
		for b := a + 1; b < k; b++ {
			e := f.contrast(d.between(d.settings[a], d.settings[b])).estimateAt(1 -
				0.025/float64(comparisons))
			if e.Low > -j.Worthwhile && e.High < j.Worthwhile {
				e.Verdict = "too small to matter"
			}
			setting.Texts = append(setting.Texts, d.settings[b])
			against.Texts = append(against.Texts, d.settings[a])
			difference.Estimates = append(difference.Estimates, e)
			verdict.Texts = append(verdict.Texts, d.verdict(e,
				JudgeSettings{A: d.settings[a], B: d.settings[b]}))
		}
	}
	j.All = &table.Table{Name: "every two settings", Columns: []*table.Column{setting, against, difference,
		verdict}}
	how := "do not differ by more than their scatter"
	if d.overall(f) < 0.05 {
		how = "differ by more than their scatter"
	}
	j.Says = append(j.Says, fmt.Sprintf("taken together the %d settings %s; the %d intervals between them "+
		"are widened so that all hold at once", k, how, comparisons))
}

// overall is the chance of settings that differ as much as these do where none
// differs at all (F test).
func (d *design) overall(f fitted) float64 {
	var without [][]float64
	for i, c := range d.columns {
		if i == 0 || i >= len(d.settings) {
			without = append(without, c)
		}
	}
	plain := 0.0
	for _, v := range regress(without, d.y).left {
		plain += v * v
	}
	full := f.scatter * f.scatter * float64(f.degrees)
	if full == 0 {
		return 0
	}
	of := float64(len(d.settings) - 1)
	ratio := (plain - full) / of / (full / float64(f.degrees))
	return 1 - distuv.F{D1: of, D2: float64(f.degrees)}.CDF(ratio)
}

// agree sets the model's own prediction beside the water's answer.
func (j *Judgement) agree(s JudgeSettings, found contrast) {
	p := s.Predicted
	if p == nil {
		return
	}
	doubt := (p.High - p.Low) / (2 * 1.96)
	apart := found.value - p.Value
	e := found.standardError()
	total := math.Hypot(e, doubt)
	both := contrast{value: apart, error: found.error, fixed: math.Hypot(found.fixed, doubt),
		degrees: found.degrees}
	words := "The change came out as the model said, within both intervals"
	if half := both.halfWidth(0.975); math.Abs(apart) > half {
		words = "The change did not come out as the model said: beyond what both intervals allow"
	} else if math.Abs(p.Value) < half {
		words = "Water and model do not contradict each other, but these pieces could not have told the " +
			"model's answer from nothing"
	}
	j.Agreement = fmt.Sprintf("%s. The model said %s, the water %s.", words, rangeOf(p),
		rangeOf(j.Difference))
	if !s.Combine || total == 0 {
		return
	}
	share := doubt * doubt / (total * total) // of the water
	together := contrast{value: share*found.value + (1-share)*p.Value, error: share * found.error,
		fixed: math.Hypot(share*found.fixed, (1-share)*doubt), degrees: found.degrees}
	j.Combined = differenceEstimate(together, j.Worthwhile)
	j.Says = append(j.Says, fmt.Sprintf("as asked, the model's prediction shares in the combined answer: "+
		"%.0f %% of it is the water's", 100*share))
}

func rangeOf(e *table.Estimate) string {
	return fmt.Sprintf("%s %% (%s)", table.Signed(e.Value, 2), table.Range(e.Low, e.High, 2, true))
}

// caution says what a reader should look at first.
func (j *Judgement) caution(d *design, f fitted) {
	squares := f.scatter * f.scatter * float64(f.degrees)
	if (distuv.ChiSquared{K: float64(f.degrees)}).CDF(squares/(bestScatter*bestScatter)) < tooGood {
		j.Cautions = append(j.Cautions, fmt.Sprintf("beyond %s the pieces scatter by %s %%, crews by %s "+
			"%%: too good; look at how the times were taken before believing it.",
			allowedFor(d), table.Fixed(f.scatter, 2), table.Fixed(crewsScatter, 1)))
	}
	if d.mixed != "" {
		j.Cautions = append(j.Cautions, "each setting was rowed one way only: stream and setting cannot be "+
			"told apart, whatever the interval says.")
	}
	if rates := meanBy(d.rows, func(r row) float64 { return r.rate }); len(rates) > 1 {
		if a, b := rates[j.A], rates[j.B]; math.Abs(a-b) >= 0.5 {
			j.Cautions = append(j.Cautions, fmt.Sprintf("%s was rowed at %s, %s at %s strokes a minute: "+
				"part of the difference may be the rate.", j.A, table.Fixed(a, 1), j.B, table.Fixed(b, 1)))
		}
	}
	if math.IsNaN(j.Distance) {
		j.Cautions = append(j.Cautions, "the pieces are of different lengths: each counts alike, though a "+
			"short one scatters more.")
	}
	if few := min(j.PerSetting[j.A], j.PerSetting[j.B]); few < 2 {
		j.Cautions = append(j.Cautions,
			"one of the settings was rowed once only: a single odd piece decides.")
	}
	if allBlank(d.rows) {
		j.Cautions = append(j.Cautions, "no wind was written down: a wind that turned with the settings "+
			"would pass for them.")
	}
}

// allowedFor lists in words what stood beside the settings.
func allowedFor(d *design) string {
	names := []string{"drift"}
	for _, c := range d.used {
		names = append(names, c.name)
	}
	for _, c := range d.stoodIn {
		names = append(names, c.name)
	}
	return words.List(names)
}

func allBlank(rows []row) bool {
	for _, r := range rows {
		if !math.IsNaN(r.wind) {
			return false
		}
	}
	return true
}

func meanBy(rows []row, of func(row) float64) map[string]float64 {
	sum, count := map[string]float64{}, map[string]float64{}
	for _, r := range rows {
		if v := of(r); !math.IsNaN(v) {
			sum[r.setting] += v
			count[r.setting]++
		}
	}
	mean := map[string]float64{}
	for s := range sum {
		mean[s] = sum[s] / count[s]
	}
	return mean
}
