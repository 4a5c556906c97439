package telling

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/stroke"
	"thole/engine/table"
)

// finePoints is how many points a drawn path has between catch and finish.
const finePoints = 181

func plotPathDo(c *lang.Call) (starlark.Value, error) {
	strokes, names, err := strokesOf(c, 3)
	if err != nil {
		return nil, err
	}
	at, err := rowing.MomentsOf(c)
	if err != nil {
		return nil, err
	}
	f := &document.Figure{Kind: figure.Paths, Every: at.Every}
	for i, s := range strokes {
		path, err := pathOf(names[i], at, s.BladePath)
		if err != nil {
			return nil, rowing.NoStroke(err)
		}
		f.Paths = append(f.Paths, path)
		if c.Flag("perfect") {
			label := "perfect grip"
			if len(strokes) > 1 {
				label += ", " + names[i]
			}
			ideal, err := pathOf(label, at, s.PerfectPath)
			if err != nil {
				return nil, rowing.NoStroke(err)
			}
			ideal.Reference = true
			f.Paths = append(f.Paths, ideal)
		}
	}
	f.Table = pathTable(f.Paths)
	f.Held = rowing.HeldAlike(strokes...)
	return starlark.None, tellFigure(c, f, "path of the blade")
}

// pathOf gives a path at the moments asked for and, for the line itself, finely.
func pathOf(name string, at stroke.Moments,
	of func(seat int, at stroke.Moments) (*table.Table, error)) (document.Path, error) {
	t, err := of(0, at)
	if err != nil {
		return document.Path{}, err
	}
	fine, err := of(0, stroke.Moments{Points: finePoints})
	if err != nil {
		return document.Path{}, err
	}
	col := func(t *table.Table, name string) []float64 { return t.Column(name).Nums }
	return document.Path{
		Name: name, Time: col(t, "time"), Angle: col(t, "angle"),
		TipX: col(t, "tip_x"), TipY: col(t, "tip_y"), CentreX: col(t, "centre_x"), CentreY: col(t,
			"centre_y"),
		NeckX: col(t, "neck_x"), NeckY: col(t, "neck_y"), HandleX: col(t, "handle_x"), HandleY: col(t,
			"handle_y"),
		PinX:  pinOf(t),
		FineX: col(fine, "centre_x"), FineY: col(fine, "centre_y"), FineAngle: col(fine, "angle"),
	}, nil
}

// pinOf finds the pin on the line from handle to blade's centre: it lies on y = 0.
func pinOf(t *table.Table) []float64 {
	hx, hy := t.Column("handle_x").Nums, t.Column("handle_y").Nums
	cx, cy := t.Column("centre_x").Nums, t.Column("centre_y").Nums
	pin := make([]float64, len(hx))
	for i := range pin {
		u := hy[i] / (hy[i] - cy[i])
		pin[i] = hx[i] + u*(cx[i]-hx[i])
	}
	return pin
}

// pathTable lays the paths out as one table, a line each moment.
func pathTable(paths []document.Path) *table.Table {
	t := &table.Table{}
	col := func(name, unit string, digits int, of func(document.Path) []float64) {
		c := &table.Column{Name: name, Unit: unit, Digits: digits, Change: digits, Kind: table.Number}
		for _, p := range paths {
			c.Nums = append(c.Nums, of(p)...)
		}
		t.Columns = append(t.Columns, c)
	}
	names := &table.Column{Name: "case", Kind: table.Text}
	for _, p := range paths {
		for range p.Time {
			names.Texts = append(names.Texts, p.Name)
		}
	}
	t.Columns = append(t.Columns, names)
	col("time", "s", 2, func(p document.Path) []float64 { return p.Time })
	col("angle", "deg", 1, func(p document.Path) []float64 { return p.Angle })
	col("tip_x", "cm", 1, func(p document.Path) []float64 { return p.TipX })
	col("tip_y", "cm", 1, func(p document.Path) []float64 { return p.TipY })
	col("centre_x", "cm", 1, func(p document.Path) []float64 { return p.CentreX })
	col("centre_y", "cm", 1, func(p document.Path) []float64 { return p.CentreY })
	col("neck_x", "cm", 1, func(p document.Path) []float64 { return p.NeckX })
	col("neck_y", "cm", 1, func(p document.Path) []float64 { return p.NeckY })
	col("handle_x", "cm", 1, func(p document.Path) []float64 { return p.HandleX })
	col("handle_y", "cm", 1, func(p document.Path) []float64 { return p.HandleY })
	return t
}

var plotPath = &lang.Record{
	Name: "plot_path", Counts: "figure", Topic: "telling",
	Summary: "the blade's path through the water, from above", Tells: true, Fills: true, Rest: places,
	More: strokesParam,
	Params: []lang.Param{
		{Name: "perfect", Is: lang.Flag, ByName: true, Default: false,
			Help: "with the path of the same oar without slip"},
		rowing.EveryParam, rowing.PointsParam(3, 40),
		nameParam, captionParam},
	Gives:   "nothing",
	Example: `plot_path(usual, perfect=True)`,
	Sources: []string{"model 1", "model 2"},
}
