package trials

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/study"
	"thole/engine/trial"
)

// fitValue is a calibration of a study, with the stroke at its middle.
type fitValue struct {
	*trial.Fit
	stroke   starlark.Value // None where fn gave no stroke
	measured []trial.Quantity
}

// fitThing makes the value of a fit: its inputs are fields by their own names.
func fitThing(f *fitValue) starlark.Value {
	t := &lang.Type[*fitValue]{Name: "fit", Line: fitLine, Methods: nil}
	for i, name := range f.Names {
		t.Fields = append(t.Fields, lang.ValueField(name, "an input, as the measurements settle it",
			func(f *fitValue) starlark.Value { return lang.NewEstimate(f.Estimates[i]) }))
	}
	t.Fields = append(t.Fields, fitFields...)
	return t.New(f)
}

var fitFields = []lang.FieldOf[*fitValue]{
	lang.ValueField("stroke", "at the fitted inputs", func(f *fitValue) starlark.Value { return f.stroke }),
	lang.ValueField("misfit", "measured and fitted, value by value", func(f *fitValue) starlark.Value {
		return lang.NewTable(f.Misfit)
	}),
	lang.ValueField("unsettled", "inputs that these data cannot tell", func(f *fitValue) starlark.Value {
		return lang.Strings(f.Unsettled)
	}),
	lang.NumberField("widened", "", 2, "how much the errors grew because the model misses; 1: not at all",
		func(f *fitValue) float64 { return f.Widened }),
}

// fitType documents a fit for help; each fit's own type has its inputs besides.
var fitType = &lang.Type[*fitValue]{Name: "fit", Line: fitLine, Fields: fitFields}

func fitLine(f *fitValue) string {
	text := "fit:"
	for i, name := range f.Names {
		if i > 0 {
			text += ","
		}
		text += " " + name + " " + f.Estimates[i].String()
	}
	return text
}

// fitOf gives a fit, whatever inputs it has: each fit is of a type of its own.
func fitOf(v starlark.Value) *fitValue {
	f, _ := lang.GoOf(v).(*fitValue)
	return f
}

// Joint gives the inputs of a fit to be drawn together, for uncertainty(fit=).
func (f *fitValue) Joint() *study.Joint {
	return &study.Joint{Names: f.Names, Mean: f.Mean, Cov: f.Covariance, Low: f.Low, High: f.High}
}
