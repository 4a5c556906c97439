package lang

import (
	"math"

	"go.starlark.net/starlark"
	"go.starlark.net/starlarkstruct"
)

// Math is the module math: sqrt exp log pow pi, and angles in degrees.
var Math = &starlarkstruct.Module{Name: "math", Members: mathMembers()}

func mathMembers() starlark.StringDict {
	d := starlark.StringDict{"pi": starlark.Float(math.Pi), "e": starlark.Float(math.E)}
	one := func(name, summary string, f func(float64) float64) {
		d[name] = mathRecord(name, summary, []string{"x"}, func(x []float64) float64 {
			return f(x[0])
		}).Builtin()
	}
	rad := math.Pi / 180
	one("sqrt", "the square root", math.Sqrt)
	one("exp", "e to the power of x", math.Exp)
	one("log", "the natural logarithm", math.Log)
	one("log10", "the logarithm to base 10", math.Log10)
	one("floor", "the whole number below", math.Floor)
	one("ceil", "the whole number above", math.Ceil)
	one("sin_deg", "the sine of an angle in degrees", func(x float64) float64 { return math.Sin(x * rad) })
	one("cos_deg", "the cosine of an angle in degrees", func(x float64) float64 { return math.Cos(x * rad) })
	one("tan_deg", "the tangent of an angle in degrees", func(x float64) float64 { return math.Tan(x * rad) })
	one("asin_deg", "the angle in degrees whose sine is x", func(x float64) float64 {
		return math.Asin(x) / rad
	})
	one("acos_deg", "the angle in degrees whose cosine is x", func(x float64) float64 {
		return math.Acos(x) / rad
	})
	one("atan_deg", "the angle in degrees whose tangent is x", func(x float64) float64 {
		return math.Atan(x) / rad
	})
	d["pow"] = mathRecord("pow", "x to the power of y", []string{"x", "y"}, func(x []float64) float64 {
		return math.Pow(x[0], x[1])
	}).Builtin()
	return d
}

func mathRecord(name, summary string, params []string, f func([]float64) float64) *Record {
	r := &Record{Name: name, Summary: summary, Topic: "data"}
	for _, p := range params {
		r.Params = append(r.Params, Param{Name: p, Is: Number, Needed: true})
	}
	r.Do = func(c *Call) (starlark.Value, error) {
		xs := make([]float64, len(params))
		for i, p := range params {
			xs[i] = c.Number(p)
		}
		y := f(xs)
		if math.IsNaN(y) || math.IsInf(y, 0) {
			return nil, NoAnswer("math."+name+" has no value there",
				"math."+name+" of a number within its range", "math.%s of %s has no value", name,
				plain(xs[0]))
		}
		return Num(y), nil
	}
	return r
}
