package stroke_test

import (
	"fmt"
	"log"
	"math"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke"
)

// A single rows at 32 strokes a minute with 380 W, then with sculls 2 cm longer: a
// little faster, and heavier in the hands.
func Example() {
	boat, err := hull.New("1x")
	if err != nil {
		log.Fatal(err)
	}
	hatchet, err := blade.New("scull hatchet")
	if err != nil {
		log.Fatal(err)
	}
	problem := stroke.Problem{
		Hull: boat, OarsPerRower: boat.OarsPerRower(),
		Rate: 32, Water: fluid.FreshWater(15), Air: fluid.StandardAir(),
		Hold: stroke.Power, Target: math.NaN(), // each rower's own power
	}
	for _, length := range []float64{2.88, 2.90} {
		problem.Seats = []stroke.Seat{{
			Count: boat.Seats(), Rower: crew.New(84, 380), Oar: oar.New(length, 0.88, hatchet),
			Catch: num.Radians(64), Finish: num.Radians(43),
		}}
		s, err := stroke.Row(problem, stroke.Settings{})
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.2f m: %.3f m/s, heaviness %.1f N·s/m, drive %.3f s\n",
			length, s.Speed, s.Heaviness(0), s.Seats[0].DriveTime)
	}
	// Output:
	// 2.88 m: 4.290 m/s, heaviness 222.2 N·s/m, drive 0.916 s
	// 2.90 m: 4.292 m/s, heaviness 224.9 N·s/m, drive 0.926 s
}

// A crew whose drive takes too long gets no stroke, but a reason and what to type.
func ExampleFailure() {
	boat, err := hull.New("1x")
	if err != nil {
		log.Fatal(err)
	}
	hatchet, err := blade.New("scull hatchet")
	if err != nil {
		log.Fatal(err)
	}
	_, err = stroke.Row(stroke.Problem{
		Hull: boat, OarsPerRower: 2, Rate: 38, Water: fluid.FreshWater(15), Air: fluid.StandardAir(),
		Hold: stroke.Power, Target: 150,
		Seats: []stroke.Seat{{Rower: crew.New(84, 380), Oar: oar.New(2.88, 0.88, hatchet),
			Catch: num.Radians(64), Finish: num.Radians(43)}},
	}, stroke.Settings{})
	fmt.Println(err)
	if f, ok := err.(*stroke.Failure); ok {
		fmt.Println(f.Why)
		fmt.Println(f.Advice())
	}
	// Output:
	// the drive would take more than 1.31 s of a 1.58 s stroke
	// a fifth of the stroke, 0.32 s, is the least to come forward in: 150 W are too little power for rate 38 and this arc
	// rate=33 (drive 77 %) or target=220 (79 %)
}
