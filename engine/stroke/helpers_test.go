package stroke

import "thole/engine/table"

// tab reads columns of a table in tests.
type tab struct{ *table.Table }

func (t tab) column(name string) []float64 { return t.Column(name).Nums }

func columns(t *table.Table, err error) (interface{ column(string) []float64 }, error) {
	return tab{t}, err
}
