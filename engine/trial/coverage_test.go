package trial

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// mornings is how many are rowed for each line of the coverage table. Asked for
// 2,000 or more, the table in testdata/coverage.md is written anew:
//
//	go test ./engine/trial -run TestCoverage -mornings 2000
var mornings = flag.Int("mornings", 150, "simulated mornings for each line of the coverage table")

// coverageCase is a line of the table.
type coverageCase struct {
	name    string
	pieces  int
	morning morning
	least   float64 // coverage asked for, %
	most    float64
	outside string // why it is known to lie outside; "" it must lie within
}

func coverageCases() []coverageCase {
	var cases []coverageCase
	add := func(name string, m morning, least, most float64, outside string, pieces ...int) {
		if m.error == 0 {
			m.error = 0.6
		}
		for _, n := range pieces {
			cases = append(cases, coverageCase{name, n, m, least, most, outside})
		}
	}
	add("errors alone", morning{}, 93, 98, "", 8, 12, 16)
	add("drift", morning{drift: -0.15}, 93, 98, "", 6, 8, 12, 16)
	add("bent drift", morning{drift: -0.15, bend: 0.5}, 93, 98, "", 8, 12, 16)
	add("turning wind, written down", morning{drift: -0.1, wind: "turns", written: true}, 93, 98, "", 6, 8,
		12, 16)
	add("wind that rises with the morning", morning{drift: -0.1, wind: "rises", written: true}, 93, 98, "", 6,
		8, 12, 16)
	add("gusts, written down", morning{drift: -0.1, wind: "gusts", written: true}, 93, 98, "", 8, 12, 16)
	add("turning wind, read to 0.5 m/s", morning{drift: -0.1, wind: "turns", written: true, misread: 0.5}, 93,
		98, "", 8, 12, 16)
	for _, alike := range []float64{0.3, 0.6} {
		add(fmt.Sprintf("drift, turning wind, correlation %.1f", alike),
			morning{drift: -0.1, wind: "turns", written: true, alike: alike}, 93, 98, "", 6, 8, 12, 16, 24)
	}
	add("four pieces, drift, turning wind", morning{drift: -0.1, wind: "turns", written: true}, 93, 100, "",
		4)
	add("a spoiled piece, 3 % slow", morning{drift: -0.1, wind: "turns", written: true, spoiled: 3}, 93, 100,
		"", 6, 8, 12, 16)
	add("a spoiled piece, correlation 0.6", morning{drift: -0.1, wind: "turns", written: true, alike: 0.6,
		spoiled: 3}, 93, 100, "", 8, 12, 16)
	add("turning wind, not written down", morning{drift: -0.1, wind: "turns"}, 93, 98,
		"a wind that bends and is not written down passes for scatter: the interval is too wide", 8, 12, 16)
	return cases
}

// told is what came of many mornings of one kind.
type told struct {
	covered, aFaster, bFaster, width, error float64
}

func rowMany(t *testing.T, c coverageCase, n int) told {
	var out told
	var widths []float64
	for k := range n {
		m := c.morning
		m.seed = uint64(k) + 1000
		m.order = orderOf([]string{"long", "short"}, c.pieces, m.seed)
		// no true difference: each "faster" is false
		j, err := Judge(rowMorning(m), JudgeSettings{A: "long", B: "short"})
		if err != nil {
			t.Fatal(err)
		}
		switch j.Verdict {
		case "short faster":
			out.bFaster++
		case "long faster":
			out.aFaster++
		}
		// a true difference of 0.5 %, other luck: does the interval hold it?
		m.difference, m.seed = 0.5, m.seed+1_000_000
		if j, err = Judge(rowMorning(m), JudgeSettings{A: "long", B: "short"}); err != nil {
			t.Fatal(err)
		}
		if j.Difference.Low <= 0.5 && 0.5 <= j.Difference.High {
			out.covered++
		}
		widths = append(widths, (j.Difference.High-j.Difference.Low)/2)
		out.error += (j.Difference.Value - 0.5) * (j.Difference.Value - 0.5)
	}
	all := float64(n)
	out.covered *= 100 / all
	out.aFaster *= 100 / all
	out.bFaster *= 100 / all
	out.width = median(widths)
	out.error = math.Sqrt(out.error / all)
	return out
}

// The 95 % interval holds the true difference in 93 to 98 % of mornings (at
// least 93 % with a spoiled piece), and where there is none each "faster" is told
// in less than 3.5 % of them. Mornings: rowMorning, which shares nothing with
// Judge.
func TestCoverage(t *testing.T) {
	n := *mornings
	// three standard errors of a count at the limits of 93, 98 and 3.5 %, nil
	// where the whole table is asked for: there the limits themselves stand
	slack := func(p float64) float64 {
		if n >= 2000 {
			return 0
		}
		return 3 * 100 * math.Sqrt(p*(1-p)/float64(n))
	}
	var lines strings.Builder
	for _, c := range coverageCases() {
		got := rowMany(t, c, n)
		fmt.Fprintf(&lines, "| %s | %d | %.1f | %.1f | %.1f | %.2f | %.2f |\n", c.name, c.pieces, got.covered,
			got.aFaster, got.bFaster, got.width, got.error)
		if c.outside != "" {
			continue
		}
		if got.covered < c.least-slack(0.93) || got.covered > c.most+slack(0.98) {
			t.Errorf("%s, %d pieces: the interval holds the truth in %.1f %% of mornings", c.name, c.pieces,
				got.covered)
		}
		if limit := 3.5 + slack(0.035); got.aFaster > limit || got.bFaster > limit {
			t.Errorf("%s, %d pieces: false \"faster\" %.1f and %.1f %%", c.name, c.pieces, got.aFaster,
				got.bFaster)
		}
	}
	t.Log("\n" + lines.String())
	if n >= 2000 && !t.Failed() {
		if err := os.WriteFile("testdata/coverage.md", []byte(coverageHead(n)+lines.String()+coverageFoot),
			0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func coverageHead(n int) string {
	return fmt.Sprintf(`# How often the judgement is right

%d simulated mornings for each line, two settings in drawn ABBA/BAAB order, pieces of 500 m at 4.5 m/s timed to 0.1 s,
error of a piece 0.6 %%, the air's part of the drag drawn anew for each boat. Made by

    go test ./engine/trial -run TestCoverage -mornings %d

- covered: mornings whose 95 %% interval holds the true difference of 0.5 %%; 93 to 98 is asked, at least 93 with a spoiled piece.
- false a, false b: mornings without a difference that are told "a faster", "b faster"; nominal 2.5, at most 3.5 is asked.
- half width: the median morning's interval is the difference give or take this. error: of the difference, root mean square.

| morning | pieces | covered, %% | false a, %% | false b, %% | half width, %% | error, %% |
|---|---|---|---|---|---|---|
`, n, n)
}

const coverageFoot = `
Outside 93 to 98 %, and on the wide side: four pieces (with one degree of freedom the model's own wind stands in, whose doubt
comes on top), a turning wind that was not written down, and a spoiled piece.
With a spoiled piece the interval nearly always holds the truth because it is wide: one bad piece makes all of them look
uncertain. Write down why a piece went wrong, take it out for that reason, and the narrow interval comes back.
A wind that bends over the morning and was not written down passes for scatter: the answer stays honest, but it is wide.
From 12 pieces on (three blocks) each block has its own level; without it the interval would hold 98 to 99 % at a
correlation of 0.6, wider than it need be.
`

func median(x []float64) float64 {
	s := append([]float64(nil), x...)
	for i := range s { // small slices: insertion is plenty
		for k := i; k > 0 && s[k] < s[k-1]; k-- {
			s[k], s[k-1] = s[k-1], s[k]
		}
	}
	return s[len(s)/2]
}
