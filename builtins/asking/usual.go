package asking

import (
	"fmt"
	"math"
	"slices"

	"thole/builtins/lang"
	"thole/engine/rounding"
	"thole/engine/study"
	"thole/engine/table"
	"thole/engine/words"
)

// A search follows the numbers wherever its ranges lead: to a scull of 276 cm, to a blade of
// 400 cm². Nobody is to be sent there, so an answer whose oar, blade or rig lies beyond what
// is usual also says what the usual range reaches instead, and one at its edge says that.

// beyond is the output that tells how far beyond the usual a point's things lie: 0 within.
const beyond = "beyond the usual"

func beyondUsual(cautions []lang.Caution) study.Value {
	far := 0.0
	for _, c := range cautions {
		far += c.Beyond
	}
	return study.Value{Quantity: study.Quantity{Name: beyond}, Number: far}
}

// beyondAt asks the points once more: how far beyond the usual each lies, NaN where there
// is no answer.
func (q *Question) beyondAt(points []study.Point) ([]float64, []study.Outcome) {
	again := *q
	again.quiet, again.usual = true, true
	far, outcomes := make([]float64, len(points)), make([]study.Outcome, len(points))
	for i, r := range again.Batch(q.C.Context(), points) {
		far[i] = math.NaN()
		if r.Err == nil && len(r.Outcome) > 0 {
			v, _ := r.Outcome.Get(beyond)
			far[i], outcomes[i] = v.Number, r.Outcome
		}
	}
	return far, outcomes
}

// within is what the usual range has of a find's answer: the nearest place inside it and
// what is reached there; text says so, "" where the answer lies well inside. With nothing
// usual in the range, found stands as it is.
func (q *Question) within(r study.Range, found *study.Found, of string) (study.Found, string) {
	step := math.Pow(10, -float64(setDigits(r)))
	far, _ := q.beyondAt([]study.Point{{found.Input}, {found.Input - step}, {found.Input + step}})
	if !(far[0] > 0) {
		if far[1] > 0 || far[2] > 0 {
			return *found, placeText([]study.Range{r}, study.Point{found.Input}) + " is at the edge of the " +
				"usual range"
		}
		return *found, ""
	}
	inside, ok := q.usualEdge(r, found.Input)
	if !ok {
		return *found, ""
	}
	place := placeText([]study.Range{r}, study.Point{inside.Input})
	v := numberOf(inside.Outcome, of)
	text := fmt.Sprintf("the usual range, to %s, reaches %s", place, reached(v.Quantity, v.Number))
	if own, asks := q.shareOf(r, found, v.Number, of); asks {
		text += ", " + own
	}
	return inside, placeText([]study.Range{r}, study.Point{found.Input}) + " lies beyond what is usual: " +
		text
}

// reached writes an output's value with its name, but for one that has none.
func reached(q study.Quantity, x float64) string {
	if q.Name == "value" {
		return quantity(q, x)
	}
	return words.Spaced(q.Name) + " " + quantity(q, x)
}

// numberOf is an output of a search, or the only one where it was not named.
func numberOf(o study.Outcome, of string) study.Value {
	for _, v := range o[0].Values {
		if v.Name == of || of == "" && !v.IsText && v.Name != beyond {
			return v
		}
	}
	return study.Value{Number: math.NaN()}
}

// shareOf says how much of the way from the function's own value of the input to the
// target the usual range goes: "61 % of the way from inboard 88.0 cm".
func (q *Question) shareOf(r study.Range, found *study.Found, at float64, of string) (string, bool) {
	if math.IsNaN(r.Base) {
		return "", false
	}
	_, from := q.beyondAt([]study.Point{{r.Base}})
	if from[0] == nil {
		return "", false
	}
	start, end := numberOf(from[0], of), numberOf(found.Outcome, of)
	share := 100 * (at - start.Number) / (end.Number - start.Number)
	if !(share > 0 && share < 100) {
		return "", false
	}
	return table.Fixed(share, 0) + " % of the way from " + placeText([]study.Range{r}, study.Point{r.Base}),
		true
}

// usualEdge is the place nearest to an answer beyond the usual that lies within it, as far
// as the range has any: looked for between the answer and the nearest usual place of nine.
func (q *Question) usualEdge(r study.Range, answer float64) (study.Found, bool) {
	const looked = 8
	points := make([]study.Point, 0, looked+2)
	for i := range looked + 1 {
		points = append(points, study.Point{r.Low + float64(i)/looked*(r.High-r.Low)})
	}
	if !math.IsNaN(r.Base) {
		points = append(points, study.Point{r.Base})
	}
	far, _ := q.beyondAt(points)
	in, out := math.NaN(), answer
	for i, p := range points {
		if far[i] == 0 && !(math.Abs(p[0]-answer) >= math.Abs(in-answer)) {
			in = p[0]
		}
	}
	if math.IsNaN(in) {
		return study.Found{}, false
	}
	for range 20 { // to a millionth of the way
		mid := (in + out) / 2
		if far, _ = q.beyondAt([]study.Point{{mid}}); far[0] == 0 {
			in = mid
		} else {
			out = mid
		}
	}
	// the edge itself has few digits: 89 cm
	even := rounding.Decimals(in, max(setDigits(r), 0))
	far, at := q.beyondAt([]study.Point{{even}, {in}})
	if far[0] == 0 {
		return study.Found{Input: even, Outcome: at[0].Without(beyond)}, true
	}
	return study.Found{Input: in, Outcome: at[1].Without(beyond)}, at[1] != nil
}

// tellUsual cautions of an answer beyond the usual range or at its edge.
func (q *Question) tellUsual(text string) {
	if text != "" {
		lang.HostOf(q.C.Thread).Caution(q.C.Thread, lang.Caution{Text: text, Key: text})
	}
}

// bestWithin asks a search for the best once more within the usual range where its best
// lies beyond it; the best itself where it does not, or nothing is usual.
func (q *Question) bestWithin(ranges []study.Range, goal study.Goal, best *study.Best) (*study.Best, string) {
	places := []study.Point{best.At}
	for i, r := range ranges {
		step := math.Pow(10, -float64(setDigits(r)))
		for _, by := range []float64{-step, step} {
			near := slices.Clone(best.At)
			near[i] += by
			places = append(places, near)
		}
	}
	far, _ := q.beyondAt(places)
	if !(far[0] > 0) {
		var edge []string
		for i := range ranges {
			if far[1+2*i] > 0 || far[2+2*i] > 0 {
				edge = append(edge, placeText(ranges[i:i+1], best.At[i:i+1]))
			}
		}
		if edge == nil {
			return best, ""
		}
		return best, words.List(edge) + map[bool]string{true: " is", false: " are"}[len(edge) == 1] +
			" at the edge of the usual range"
	}
	again := *q
	again.usual = true
	goal.Limits = append(slices.Clone(goal.Limits), study.Limit{Of: beyond, Low: math.NaN(), High: 0})
	usual, err := study.FindBest(q.C.Context(), again.Batch, ranges, goal)
	if err != nil {
		return best, "it lies beyond what is usual, and nothing usual in the ranges meets the limits"
	}
	usual.Outcome = usual.Outcome.Without(beyond)
	return usual, fmt.Sprintf("it lies beyond what is usual: the usual ranges reach %s at %s",
		reached(usual.Output, usual.Value), placeText(ranges, usual.At))
}
