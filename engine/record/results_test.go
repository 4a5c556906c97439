package record

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/engine/document"
	"thole/engine/table"
)

func TestResultsAsJSON(t *testing.T) {
	doc := &document.Document{Study: "a_outboard.star", Answer: "An outboard of 199 cm.",
		Blocks: []document.Block{
			&document.Shown{Name: "best outboard for each blade", Table: &table.Table{Columns: []*table.Column{
				{Name: "speed", Unit: "m/s", Nums: []float64{5.0371, math.NaN()}}}}}}}
	doc.Results = []document.Result{
		{Name: "best_outboard", Unit: "cm", Value: 199.12345678901234},
		{Name: "change", Unit: "cm", Estimate: &table.Estimate{Value: -6.6, Low: -7.2, High: -6.2}},
		{Name: "verdict on speed", IsText: true, Text: "holds: <more>"},
		{Name: "none", Value: math.NaN()},
	}
	var params Ordered[*Param]
	params.Add("area_now", &Param{Value: 800.0, Unit: "cm²"})
	var data bytes.Buffer
	err := WriteResults(&data, doc, params)
	if err != nil {
		t.Fatal(err)
	}
	var plain struct {
		Study   string
		Params  map[string]map[string]any
		Results map[string]map[string]any
		Tables  []struct {
			Name    string
			Columns []map[string]string
			Lines   [][]any
		}
		Cautions []string
	}
	if err := json.Unmarshal(data.Bytes(), &plain); err != nil {
		t.Fatal(err)
	}
	want := map[string]map[string]any{
		"best_outboard":    {"value": 199.12345678901234, "unit": "cm"},
		"change":           {"value": -6.6, "unit": "cm", "low": -7.2, "high": -6.2},
		"verdict on speed": {"value": "holds: <more>", "unit": ""},
		"none":             {"value": nil, "unit": ""},
	}
	if diff := cmp.Diff(want, plain.Results); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(map[string]map[string]any{"area_now": {"value": 800.0, "unit": "cm²"}},
		plain.Params); diff != "" {
		t.Error(diff)
	}
	if got := plain.Tables[0]; got.Name != "best outboard for each blade" ||
		got.Columns[0]["unit"] != "m/s" || got.Lines[0][0] != 5.0371 || got.Lines[1][0] != nil {
		t.Errorf("table %+v", got)
	}
	if strings.Index(data.String(), "best_outboard") > strings.Index(data.String(), "verdict on speed") {
		t.Error("results are not in the order of the study")
	}
}
