package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// recoveryNode is what the recovery reads at one place of its grid: all that depends on the share
// of the recovery gone alone.
type recoveryNode struct {
	slope float64 // S'(τ)
	cos   float64 // of the oar's angle, and its ω times the recovery time: where the air on it is computed
	turn  float64
}

// recoveryKey is everything a recovery's grid depends on; arc and squaring only where the oars are
// in the air.
type recoveryKey struct {
	level       int
	inAir       bool
	finish, arc float64
	squaring    float64
}

// recoveryGrid is a grid over the recovery, in τ, with an edge where the blade is squared.
type recoveryGrid struct {
	key    recoveryKey
	start  []float64 // of each step
	width  []float64
	square int // the first step with the blade squared
	nodes  [][16]recoveryNode
}

// recoverySteps is how many steps a recovery takes on each level: without oars in the air, or with
// them before the blade is squared and after it.
var (
	recoverySteps = [gridCount]int{2, 4, 6, 8, 12}
	airSteps      = [gridCount]int{2, 4, 6, 8, 12}
)

// recoveryGrids remembers the grids used last; only a memo.
type recoveryGrids struct {
	kept [16]recoveryGrid
	next int
}

// of gives the recovery's grid of a level for a case.
func (g *recoveryGrids) of(c *coefficients, level int) *recoveryGrid {
	key := recoveryKey{level: level}
	if c.InAir {
		key = recoveryKey{level, true, c.seat.Finish, c.seat.Arc, c.seat.Rower.Squaring}
	}
	for i := range g.kept {
		if k := &g.kept[i]; len(k.width) > 0 && k.key == key {
			return k
		}
	}
	grid := &g.kept[g.next]
	g.next = (g.next + 1) % len(g.kept)
	grid.fill(&key, c.seat)
	return grid
}

// fill lays the grid and tabulates its nodes.
func (g *recoveryGrid) fill(key *recoveryKey, s *problem.SeatPlan) {
	g.key, g.start, g.width, g.nodes = *key, g.start[:0], g.width[:0], g.nodes[:0]
	if !key.inAir {
		g.lay(0, 1, recoverySteps[key.level])
		g.square = len(g.width)
	} else {
		n := float64(airSteps[key.level])
		edge := 1 - key.squaring
		if edge > problem.NoSquaring {
			g.lay(0, edge, int(math.Ceil(float64(n*edge)-0.3)))
		}
		g.square = len(g.width)
		if key.squaring > problem.NoSquaring {
			g.lay(edge, 1, int(math.Ceil(float64(n*key.squaring)-0.3)))
		}
	}
	for i := range g.width {
		var nodes [16]recoveryNode
		for j := range nodes {
			tau := g.start[i] + float64(num.EighthNodes[j]*g.width[i])
			nodes[j].slope = num.RiseSlope(tau)
			if key.inAir {
				var theta float64
				theta, nodes[j].turn = s.Back(tau)
				nodes[j].cos = num.Cos(theta)
			}
		}
		g.nodes = append(g.nodes, nodes)
	}
}

// lay adds n equal steps from a to b, at least one.
func (g *recoveryGrid) lay(a, b float64, n int) {
	n = max(1, n)
	for i := range n {
		g.start = append(g.start, a+(b-a)*float64(i)/float64(n))
		g.width = append(g.width, (b-a)/float64(n))
	}
}
