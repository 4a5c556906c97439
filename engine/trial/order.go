package trial

import (
	"math/rand/v2"
	"slices"

	"thole/engine/table"
)

// orderOf draws the order of pieces: blocks that read the same from both ends
// (ABBA), so that a steady drift takes from each setting alike, each block begun
// by another setting than the one before (BAAB), so that a bending drift does
// too. What is drawn is who begins; the seed is recorded with the plan. Pieces
// are a multiple of the settings.
func orderOf(settings []string, pieces int, seed uint64) []string {
	draw := rand.New(rand.NewPCG(seed, 2))
	k := len(settings)
	var order, turn []string
	for block := 0; len(order) < pieces; block++ {
		if block%k == 0 { // every setting has begun a block: draw anew
			turn = slices.Clone(settings)
			draw.Shuffle(k, func(i, j int) { turn[i], turn[j] = turn[j], turn[i] })
		} else {
			turn = append(turn[1:], turn[0])
		}
		back := slices.Clone(turn)
		slices.Reverse(back)
		order = append(append(order, turn...), back...)
	}
	return order[:pieces]
}

// changesOf counts how often the rig changes within an order.
func changesOf(order []string) int {
	n := 0
	for i := 1; i < len(order); i++ {
		if order[i] != order[i-1] {
			n++
		}
	}
	return n
}

// orderTable is the sheet: the order, and blanks for what is to be written in.
// Saved as CSV and filled it is what ReadTrial reads.
func orderTable(order []string, distance float64) *table.Table {
	blank := func(heading string, kind table.Kind) *table.Column {
		name, unit, _ := table.Heading(heading)
		c := table.NewColumn(name, unit, kind)
		if kind == table.Text {
			c.Texts = make([]string, len(order))
		} else {
			c.Nums = slices.Repeat([]float64{nan}, len(order))
		}
		return c
	}
	piece, setting := blank("piece (-)", table.Number), blank("setting", table.Text)
	length := blank("distance (m)", table.Number)
	for i, s := range order {
		piece.Nums[i], setting.Texts[i], length.Nums[i] = float64(i+1), s, distance
	}
	return &table.Table{Name: "order of pieces", Columns: []*table.Column{piece, setting, length,
		blank("time (s)", table.Number), blank("rate (1/min)", table.Number),
		blank("wind (m/s)", table.Number),
		blank("remarks", table.Text)}}
}
