package trials

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/views"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/trial"
)

func init() {
	views.ByKind["plan"] = func(v, _ starlark.Value) []document.Block {
		p, _ := planType.From(v)
		return []document.Block{&document.Shown{Card: planCard(p)}, &document.Shown{Name: p.Order.Name,
			Table: p.Order, Side: p.Order.Side, Foot: append(slices.Clone(p.Order.Foot), onTheWater...)}}
	}
	views.ByKind["judgement"] = func(v, _ starlark.Value) []document.Block {
		j, _ := judgementType.From(v)
		blocks := []document.Block{&document.Shown{Card: judgementCard(j)}, piecesFigure(j)}
		if j.All != nil {
			blocks = append(blocks, &document.Shown{Name: j.All.Name, Table: j.All})
		}
		return blocks
	}
	views.ByKind["fit"] = func(v, _ starlark.Value) []document.Block {
		f := fitOf(v)
		return append([]document.Block{&document.Shown{Card: fitCard(f)}}, fitFigures(f)...)
	}
	views.ShortByKind["judgement"] = func(v starlark.Value) []string {
		j, _ := judgementType.From(v)
		return []string{j.Verdict + ": " + differenceText(j)}
	}
}

// onTheWater stands on every plan, every sheet and every judgement of a trial: common
// practice, no source. The rules of the water itself are for those who know it.
var onTheWater = []string{
	"On the water: a launch beside the crew; cold water: the local rules on when not to row.",
	"The local rules of the water hold, and the coach on the spot decides, not this sheet.",
	"After each change: bolts and gates checked again before the next piece. Pain: stop.",
}

// saidItem is a line of a card that is a text.
func saidItem(label, format string, args ...any) document.Item {
	return document.Item{Label: label, Remark: fmt.Sprintf(format, args...)}
}

// planCard tells what a morning can tell.
func planCard(p *trial.Plan) *document.Card {
	card := &document.Card{Title: "plan", Side: fmt.Sprintf("%d pieces, %d a setting", p.Pieces,
		p.PerSetting)}
	card.Items = append(card.Items,
		saidItem("resolves", "%s %% of speed", table.Fixed(p.Resolves, 1)),
		saidItem("chance", "%s that a true %s %% is seen", table.Chance(p.Chance), table.Fixed(p.Difference,
			-1)),
		saidItem("error", "%s %% of a piece, %d degrees of freedom left to see it by",
			p.TypicalError.Number(), p.Degrees),
		saidItem("order", "drawn with seed %d", p.Seed))
	card.Foot = append(card.Foot, p.Says[2:]...) // the first two stand under the sheet
	card.Foot = append(card.Foot, onTheWater...)
	return card
}

// differenceText is the difference as a judgement tells it.
func differenceText(j *trial.Judgement) string {
	d := j.Difference
	return fmt.Sprintf("%s %% of speed (95 %% %s), %s against %s", table.Signed(d.Value, 2),
		table.Range(d.Low, d.High, 2, true), j.B, j.A)
}

// judgementCard tells what the pieces told.
func judgementCard(j *trial.Judgement) *document.Card {
	card := &document.Card{Title: j.Verdict, Side: piecesText(j)}
	card.Items = append(card.Items,
		saidItem("difference", "%s", differenceText(j)),
		saidItem("worth it", "%smore than %s %%: chance %s", aheadText(j), table.Fixed(j.Worthwhile, -1),
			table.Chance(j.Chance)))
	if len(j.Pairs) > 0 {
		card.Items = append(card.Items, saidItem("pairs", "%s %%", pairsText(j.Pairs)))
	}
	for _, e := range j.Effects {
		text := fmt.Sprintf("%s %% %s (%s)", table.Signed(e.Estimate.Value, 2), e.Per,
			table.Range(e.Estimate.Low, e.Estimate.High, 2, true))
		switch {
		case e.Model:
			text += ": the model's own, for this morning cannot tell it"
		default:
			text += ": " + e.Estimate.Verdict
		}
		card.Items = append(card.Items, saidItem(e.Name, "%s", text))
	}
	for _, o := range j.Odd {
		if o.Without != nil {
			card.Items = append(card.Items, saidItem("without "+table.Fixed(o.Piece, 0), "%s %% (%s): %s",
				table.Signed(o.Without.Value, 2), table.Range(o.Without.Low, o.Without.High, 2, true),
				o.Verdict))
		}
	}
	if j.Combined != nil {
		card.Items = append(card.Items, saidItem("combined", "%s %% with what the model said (%s)",
			table.Signed(j.Combined.Value, 2), table.Range(j.Combined.Low, j.Combined.High, 2, true)))
	}
	if j.Agreement != "" {
		card.Foot = append(card.Foot, j.Agreement)
	}
	switch {
	case j.MorePieces > 0:
		card.Foot = append(card.Foot, fmt.Sprintf("%d more pieces of each setting would tell %s %% with a "+
			"chance of 0.80.", j.MorePieces, table.Fixed(math.Max(math.Abs(j.Difference.Value), j.Worthwhile),
			2)))
	case j.MorePieces < 0:
		card.Foot = append(card.Foot, fmt.Sprintf("No trial on the water would tell %s %% at this scatter.",
			table.Fixed(math.Max(math.Abs(j.Difference.Value), j.Worthwhile), 2)))
	}
	card.Foot = append(append(append(card.Foot, j.Says...), j.LeftOut...), onTheWater...)
	return card
}

func piecesText(j *trial.Judgement) string {
	text := fmt.Sprintf("%d pieces", j.Pieces)
	if !math.IsNaN(j.Distance) {
		text += " of " + table.Fixed(j.Distance, -1) + " m"
	}
	least, most := math.MaxInt, 0
	for _, n := range j.PerSetting {
		least, most = min(least, n), max(most, n)
	}
	if least == most {
		return text + fmt.Sprintf(", %d a setting", least)
	}
	return text + fmt.Sprintf(", %d to %d a setting", least, most)
}

// aheadText names the setting that came out ahead where it is not b.
func aheadText(j *trial.Judgement) string {
	if j.Ahead == j.B {
		return ""
	}
	return j.Ahead + " ahead by "
}

func pairsText(pairs []float64) string {
	parts := make([]string, len(pairs))
	for i, p := range pairs {
		parts[i] = table.Signed(p, 2)
	}
	return strings.Join(parts, "  ")
}

// piecesFigure draws each pair, and the difference against the band that
// matters.
func piecesFigure(j *trial.Judgement) *document.Figure {
	w := j.Worthwhile
	f := &document.Figure{Kind: figure.Pieces, Name: "pairs", Table: j.Figure, Caption: j.B + " against " +
		j.A + ", pair by pair",
		Guides: []document.Guide{{Axis: "change", At: 0, Label: "no difference"}, {Axis: "change", At: w,
			Label: "worth it"}, {Axis: "change", At: -w, Label: "worth it"}}}
	f.Sentence = figure.Sentence(f)
	return f
}

// fitCard tells what the measurements settled.
func fitCard(f *fitValue) *document.Card {
	card := &document.Card{Title: "fit", Side: fmt.Sprintf("%d values measured, %d inputs found",
		f.Misfit.Len(), len(f.Names))}
	for i, name := range f.Names {
		e := f.Estimates[i]
		card.Items = append(card.Items, saidItem(name, "%s (95 %% %s)", table.WithUnit(e.Number(), e.Unit),
			table.Range(e.Low, e.High, e.Digits, false)))
	}
	card.Foot = append(append(card.Foot, f.Misfit.Foot...), f.Says...)
	return card
}

// fitFigures draws each measured curve with the fitted one, and what is left.
func fitFigures(f *fitValue) []document.Block {
	var blocks []document.Block
	k := 0
	for _, m := range f.measured {
		n := len(m.Value)
		if m.At != nil {
			at, y, which := table.NewColumn(m.AtName, m.AtUnit, table.Number), table.NewColumn(m.Name, m.Unit,
				table.Number), table.NewColumn("case", "", table.Text)
			for _, source := range []string{"measured", "fitted", "off"} {
				column := f.Misfit.Column(source)
				for i := range n {
					at.Nums, y.Nums, which.Texts = append(at.Nums, m.At[i]), append(y.Nums, column.Nums[k+i]),
						append(which.Texts, source)
				}
			}
			name := m.Name + " measured and fitted"
			drawn := &document.Figure{Kind: figure.Lines, Name: name, Table: &table.Table{Name: name,
				Columns: []*table.Column{at, y, which}}, X: m.AtName, Y: []string{m.Name}, By: "case"}
			drawn.Sentence = figure.Sentence(drawn)
			blocks = append(blocks, drawn)
		}
		k += n
	}
	return blocks
}
