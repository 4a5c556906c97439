package blade_test

import (
	"fmt"
	"log"
	"math"

	"thole/engine/blade"
	"thole/engine/fluid"
)

// The force of the water on a scull's hatchet blade, its centre 1.75 m from the pin, in
// a boat at 5 m/s: 50° before the perpendicular, where its tip leads, and square to the
// hull, where it slips sternward across its whole face.
func Example() {
	hatchet, err := blade.New("scull hatchet")
	if err != nil {
		log.Fatal(err)
	}
	var elements blade.Elements
	if err := elements.Prepare(&hatchet, fluid.FreshWater(15), 1.75); err != nil {
		log.Fatal(err)
	}
	const speed = 5.0                                                           // m/s
	for _, oar := range []struct{ angle, rate float64 }{{-50, 2.0}, {0, 3.3}} { // deg, rad/s
		sin, cos := math.Sincos(oar.angle * math.Pi / 180)
		load := elements.Water(speed, oar.rate, sin, cos)
		fmt.Printf("%3.0f deg: slip %.2f m/s, %.0f N across the blade, %.0f W left in the water\n",
			oar.angle, 1.75*oar.rate-speed*cos, load.Normal, load.Loss)
	}
	// Output:
	// -50 deg: slip 0.29 m/s, 94 N across the blade, 50 W left in the water
	//   0 deg: slip 0.77 m/s, 67 N across the blade, 77 W left in the water
}
