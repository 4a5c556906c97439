package trial_test

import (
	"fmt"
	"log"

	"thole/engine/trial"
)

// A morning of eight pieces with sculls as they were (long) and shorter ones: the sheet
// as it was filled in, judged. The crew is invented.
func Example() {
	const sheet = `piece,setting,distance (m),time (s),rate,wind (m/s)
1,long,500,112.6,30,1.0
2,short,500,111.4,30,1.2
3,short,500,112.7,30,1.3
4,long,500,112.9,30,1.1
5,short,500,112.3,30,1.5
6,long,500,113.9,30,1.4
7,long,500,112.6,30,1.6
8,short,500,112.4,30,1.6
`
	pieces, notes, err := trial.ReadTrial("saturday.csv", []byte(sheet))
	if err != nil {
		log.Fatal(err)
	}
	for _, note := range notes {
		fmt.Println(note)
	}
	j, err := trial.Judge(pieces, trial.JudgeSettings{A: "long", B: "short", Worthwhile: 0.3})
	if err != nil {
		log.Fatal(err)
	}
	d := j.Difference
	fmt.Printf("short against long: %+.2f %% of speed, 90 %% interval %+.2f to %+.2f\n", d.Value, d.Low,
		d.High)
	fmt.Println("verdict:", j.Verdict)
	fmt.Println("more pieces of each that would tell:", j.MorePieces)
	// Output:
	// units not written, so taken as the study asks: rate in 1/min
	// short against long: +0.60 % of speed, 90 % interval -0.88 to +2.09
	// verdict: cannot tell
	// more pieces of each that would tell: 22
}
