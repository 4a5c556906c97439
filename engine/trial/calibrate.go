package trial

import (
	"context"

	"thole/engine/table"
)

// Input is a named number of the model that is to be found.
type Input struct {
	Name, Unit string
	Digits     int     // decimals shown, or table.AutoDigits
	Low, High  float64 // bounds; the fit never leaves them
	Start      float64 // NaN: the middle
	Mean, SD   float64 // what is known beforehand (a bell); SD 0: nothing but the bounds
}

// Quantity is something measured: one number, or many along At.
type Quantity struct {
	Name, Unit string
	Digits     int
	Value      []float64
	SD         []float64 // of the measurement, one each; nil: 4 % of the largest |Value|
	At         []float64 // where each was measured; nil for one number
	AtName     string    // "angle"
	AtUnit     string    // "deg"
}

// Model gives, for inputs in the order of the problem, what would be measured:
// every quantity in order, every value of it in order, one flat list. It must
// be safe to call from several goroutines.
type Model func(ctx context.Context, inputs []float64) ([]float64, error)

// CalibrateProblem is a model, what was measured, and what is to be found.
type CalibrateProblem struct {
	Inputs   []Input
	Measured []Quantity
	Model    Model
}

// Fit is what the measurements say of the inputs. Names, Mean, Covariance, Low
// and High are all that is needed to draw the inputs jointly (a bell cut at the
// bounds).
type Fit struct {
	Names      []string
	Units      []string
	Mean       []float64
	Covariance [][]float64 // widened by how badly the model misses
	Low, High  []float64

	Estimates   []*table.Estimate // one an input, 95 %
	Correlation [][]float64
	Widened     float64      // factor on the standard errors because the model misses; 1: none
	Misfit      *table.Table // quantity, at, measured, fitted, off, in measurement errors
	Unsettled   []string     // inputs these data cannot tell, in words: "air", "grip from power"
	AtBound     []string     // inputs that ended at an end of their range
	Says        []string     // a sentence each
	Cautions    []string
	Rounds      int
	Status      string // how the search ended, in words
}
