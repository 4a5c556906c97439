package study_test

import (
	"context"
	"fmt"
	"log"
	"math"

	"thole/engine/study"
)

// Functions of named numbers, asked three questions: where one is best, where one
// reaches a target, and how far each input moves it, the largest first.
func Example() {
	ctx := context.Background()
	fn := study.Parallel(func(_ context.Context, p study.Point) (study.Outcome, error) {
		a, b := p[0], p[1]
		return study.One("yield", "kg", 10-(a-2)*(a-2)-(b-1)*(b-1)/4), nil
	})
	inputs := []study.Range{study.Even("a", 0, 5), study.Even("b", 0, 4)}

	best, err := study.FindBest(ctx, fn, inputs, study.Goal{Of: "yield", Maximise: true})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("best %.2f at a = %.2f, b = %.2f\n", best.Value, best.At[0], best.At[1])

	line := study.Parallel(func(_ context.Context, p study.Point) (study.Outcome, error) {
		return study.One("yield", "kg", math.Exp(p[0])), nil
	})
	found, err := study.Find(ctx, line, study.Even("a", 0, 3), "yield", 5)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("5 kg at a = %.4f\n", found.Input)

	swings, err := study.Sensitivity(ctx, fn, inputs, "yield")
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range swings.Inputs {
		fmt.Printf("%s: %.2f to %.2f kg\n", s.Name, s.AtLow, s.AtHigh)
	}
	// Output:
	// best 10.00 at a = 2.00, b = 1.00
	// 5 kg at a = 1.6094
	// a: 5.75 to 0.75 kg
	// b: 9.50 to 7.50 kg
}
