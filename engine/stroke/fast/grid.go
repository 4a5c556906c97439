package fast

import (
	"math"
	"slices"

	"thole/engine/crew"
	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// node is what the drive reads at one place of the grid: all that depends on
// the oar's angle alone.
type node struct {
	cos, sin      float64
	pull          float64 // f(φ)
	buried, entry float64 // b; b_out db_in/dθ, 1/rad
	slope, curve  float64 // s'(φ)/arc, s”(φ)/arc²
	angle         float64 // dθ/dσ = 2 arc σ, rad
}

// grid is a grid over the drive with its nodes tabulated. Its edges lie where
// something in the equations is not smooth: where burying ends, where release
// begins, at θ = 0 (the lift changes), at the knots of a measured style; and at a
// third of the arc, where the early load ends. The independent variable is σ,
// θ = −θ_c + arc·σ², up to the last panel, and there x from 0 to 1, as stretchOfArc
// says.
type grid struct {
	key   gridKey
	width []float64 // of each step
	place []stretchOfArc
	nodes [][16]node // stages 13 to 15 (dense output) are filled when asked for
	dense []bool
	third int // steps in the first third of the arc
}

// stretchOfArc says where on the arc a step lies: in σ from its start, or, in the
// last panel, in x with 1 − φ = left (1 − x)^power.
type stretchOfArc struct {
	start float64
	left  float64
	power float64 // 0 = σ
}

// layout is what a grid is laid for beside its seat.
type layout struct {
	stiff int // the class of stiffness, or of swing where the shaft bends
	// how far the handle is past square when the blade is square, rad; 0 where nothing bends there
	lag float64
}

// gridKey is everything a grid depends on.
type gridKey struct {
	bent, light                  bool
	level                        int
	layout                       layout
	catch, finish, bury, release float64
	peak, start                  float64
	points                       []crew.Point
}

func (k *gridKey) equal(o *gridKey) bool {
	return k.bent == o.bent && k.light == o.light && k.level == o.level && k.layout == o.layout &&
		k.catch == o.catch &&
		k.finish == o.finish && k.bury == o.bury && k.release == o.release &&
		k.peak == o.peak && k.start == o.start && slices.Equal(k.points, o.points)
}

// The levels of grids.
const (
	coarse    = 0
	fine      = 1
	gridCount = 5
)

// wide is the width of a level's steps against level 1 where accuracy sets it,
// lean where stability does.
var (
	wide = [gridCount]float64{2.4, 1, 0.6, 0.3, 0.15}
	lean = [gridCount]float64{1.1, 1, 0.75, 0.5, 0.3}
)

// gridMemo remembers the grids used last, in memory it keeps. It is only a memo: a
// grid depends on its key alone. A grid given stays as it is until seven others
// have been asked for.
type gridMemo struct {
	kept  [8]grid
	used  [8]int // when
	clock int
}

// of gives the grid of a level for a seat.
func (g *gridMemo) of(s *problem.SeatPlan, laid layout, level int) *grid {
	key := gridKey{s.Flexible, s.Water.LightEntry, level, laid, s.Catch, s.Finish, s.Water.Bury,
		s.Water.Release,
		s.Rower.Style.Peak, s.Rower.Style.Start, s.Rower.Style.Points}
	g.clock++
	oldest := 0
	for i := range g.kept {
		if g.used[i] > 0 && g.kept[i].key.equal(&key) {
			g.used[i] = g.clock
			return &g.kept[i]
		}
		if g.used[i] < g.used[oldest] {
			oldest = i
		}
	}
	g.used[oldest] = g.clock
	g.kept[oldest].fill(s, &key)
	return &g.kept[oldest]
}

// edges of a grid, in σ.
type gridEdges struct {
	bury, release, square float64
	// damping of the blade against its inertia, per rad of the oar; 0 where the shaft bends
	stiff float64
	swing float64 // σ over which the handle swings on a shaft that bends, 0 = it is rigid
}

// fill lays the grid and tabulates its nodes.
func (g *grid) fill(s *problem.SeatPlan, key *gridKey) {
	points := append(g.key.points[:0], key.points...)
	g.key = *key
	if key.points != nil {
		g.key.points = points
	}
	g.width, g.place, g.third = g.width[:0], g.place[:0], 0

	e := gridEdges{root(s.Water.Bury / s.Arc), root(1 - s.Water.Release/s.Arc), root(s.Catch / s.Arc),
		stiffness(key.layout.stiff), 0}
	if key.bent {
		e.square = root((s.Catch + key.layout.lag) / s.Arc)
		e.stiff, e.swing = 0, swing(key.layout.stiff)
	}
	var room [48]float64
	list := append(room[:0], 0, e.bury, third, e.square, e.release, 1)
	if e.bury < settling {
		list = append(list, settling)
	}
	if max(e.release, e.square) < nearFinish {
		list = append(list, nearFinish)
	}
	for _, knot := range s.Shape.Knots() {
		list = append(list, root(knot))
		if key.bent && knot > 0 && knot < 1 { // behind it the handle trembles on its shaft
			list = append(list, root(knot)+0.015)
		}
	}
	slices.Sort(list)
	reached := 0.0
	for _, edge := range list {
		if edge-reached < 1e-7 { // closer than worth a step
			continue
		}
		if edge > 1-1e-7 {
			g.last(s, &e, reached)
		} else {
			g.panel(s, &e, reached, edge)
		}
		reached = edge
		if edge < third+1e-7 {
			g.third = len(g.width)
		}
	}

	n := len(g.width)
	g.nodes, g.dense = slices.Grow(g.nodes[:0], n)[:n], slices.Grow(g.dense[:0], n)[:n]
	for i := range n {
		if key.bent {
			for j, c := range num.Radau.Node {
				g.place[i].node(&g.nodes[i][j], s, float64(c*g.width[i]))
			}
			continue
		}
		g.dense[i] = false
		for j := range 12 {
			g.place[i].node(&g.nodes[i][j], s, num.EighthNodes[j]*g.width[i])
		}
		g.nodes[i][12] = g.nodes[i][11]
	}
}

// settling is σ by which the oar has got going where burying takes less;
// nearFinish where the last panel begins if release comes later, or earlier by much.
const settling, nearFinish = 0.2, 0.955

// third is σ at a third of the arc.
var third = root(1. / 3)

// root is σ at a share φ of the arc.
func root(phi float64) float64 { return math.Sqrt(min(1, max(0, phi))) }

// accuracy is how many steps of level 1 a unit of σ asks for: six over the burying
// (the water taken on there multiplies the swing weight, and ω bends most); after
// it at least two up to σ. Set so that each panel adds about 1e-9 to the error of
// the mean speed of usual boats.
func (e *gridEdges) accuracy(sigma float64) float64 {
	if e.swing > 0 {
		return e.bentAccuracy(sigma)
	}
	switch {
	case sigma < e.bury:
		return 6 / e.bury
	case sigma < settling:
		return 6 / settling
	case sigma < third:
		return max(1/0.115, 2/sigma)
	case sigma < e.square:
		return 1 / 0.085
	}
	return 1 / 0.066
}

// stability is how many steps a unit of σ asks for lest they be longer than 3.5
// time constants of the water's damping (the method is stable up to about 5.5): the
// damping rate is stiff·V (|sin θ| + s_n/V), ω is near V cos θ/L, the slip near V/4.
func (e *gridEdges) stability(s *problem.SeatPlan, sigma float64) float64 {
	sin, cos := num.Sincos(float64(s.Arc*sigma*sigma) - s.Catch)
	return e.stiff * (math.Abs(sin) + 0.25) / max(cos, 0.2) * 2 * s.Arc * sigma / 3.5
}

// panel lays the steps from σ = a to b: as many as the density asks for, each with
// the same share of it.
func (g *grid) panel(s *problem.SeatPlan, e *gridEdges, a, b float64) {
	const cells = 16
	var sum [cells + 1]float64
	w := (b - a) / cells
	for i := range cells {
		sigma := a + float64((float64(i)+0.5)*w)
		sum[i+1] = sum[i] + float64(w*max(e.accuracy(sigma)/wide[g.key.level], e.stability(s, sigma)/
			lean[g.key.level]))
	}
	n := max(1, int(math.Ceil(sum[cells]-0.05)))
	x, cell := a, 0
	for i := range n {
		end := b
		if i < n-1 {
			want := sum[cells] * float64(i+1) / float64(n)
			for sum[cell+1] < want {
				cell++
			}
			end = a + float64(w*(float64(cell)+(want-sum[cell])/(sum[cell+1]-sum[cell])))
		}
		if x == 0 {
			// ω ~ σ: a short first step keeps its start good
			g.add(0.3*end, stretchOfArc{start: 0})
			x = float64(0.3 * end)
		}
		g.add(end-x, stretchOfArc{start: x})
		x = end
	}
}

// last lays the last panel, from σ = a to the finish, where f goes like a power e of
// 1 − φ that is not whole (2/3 for the late style, 13/7 for the usual one): in x with
// 1 − φ = left (1 − x)^power and a power that makes it smooth, or smooth enough.
func (g *grid) last(s *problem.SeatPlan, e *gridEdges, a float64) {
	power, least := 2.0, 4.0
	if p := s.Rower.Style.Peak; s.Rower.Style.Points == nil && (1-p)/p < 1 {
		power, least = 3, 6
	}
	n := max(2, int(math.Ceil(max(least/wide[g.key.level], e.stability(s, a)*(1-a)/lean[g.key.level]-0.05))))
	for i := range n {
		g.add(1/float64(n), stretchOfArc{start: float64(i) / float64(n), left: 1 - float64(a*a),
			power: power})
	}
}

func (g *grid) add(width float64, place stretchOfArc) {
	g.width, g.place = append(g.width, width), append(g.place, place)
}

// phi gives the share of the arc at a way x from the step's start, what is left
// of it, and dφ/dx.
func (p *stretchOfArc) phi(x float64) (phi, left, rate float64) {
	if p.power == 0 {
		sigma := p.start + float64(x)
		phi = float64(sigma * sigma)
		return phi, 1 - phi, 2 * sigma
	}
	y := max(0, 1-p.start-float64(x))
	rate = p.left * p.power * y
	left = float64(p.left * y * y)
	if p.power == 3 {
		left *= y
		rate *= y
	}
	return 1 - left, left, rate
}

// node tabulates the node at a way x from the step's start. Equation 13.2.
func (p *stretchOfArc) node(n *node, s *problem.SeatPlan, x float64) {
	phi, left, rate := p.phi(x)
	n.sin, n.cos = num.Sincos(float64(s.Arc*phi) - s.Catch)
	n.pull = s.Shape.At(phi)
	b := s.Water.Buried(s.Arc*phi, s.Arc*left)
	n.buried, n.entry = b.Share, b.Entry
	n.slope = crew.BodySlope(phi) / s.Arc
	n.curve = crew.BodyCurve(phi) / (s.Arc * s.Arc)
	n.angle = s.Arc * rate
}

// extend tabulates what dense output of step i needs.
func (g *grid) extend(s *problem.SeatPlan, i int) {
	if g.dense[i] {
		return
	}
	for j := 13; j < 16; j++ {
		g.place[i].node(&g.nodes[i][j], s, num.EighthNodes[j]*g.width[i])
	}
	g.dense[i] = true
}

// The water's damping against the inertia it meets, Σ ½ρ c w_i k_D R_i²/(I + m_a L²)
// times L, per rad of the oar's way: explicit steps longer than a few of its time
// constants are unstable. It comes in classes, a factor of √2 apart, so that nearly alike
// problems share a grid; stiff class 40 and more (a million) is beyond any grid.
func stiffClass(s *problem.SeatPlan) int {
	sum := 0.0
	for i := range s.Water.N {
		r := s.Water.R[i]
		sum += float64(s.Water.Half[i] * r * r)
	}
	sum *= max(s.Water.KD, 2*s.Water.KLTip, 2*s.Water.KLNeck) * s.Centre /
		(s.Inertia + float64(s.Water.Mass*s.Centre*s.Centre))
	if !(sum > 1) {
		return 0
	}
	return int(math.Ceil(2 * num.Log2(sum)))
}

func stiffness(class int) float64 { return num.Pow(math.Sqrt2, float64(class)) }
