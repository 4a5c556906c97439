package fast

import "thole/engine/num"

// A warm start on a shaft that bends keeps, beside the two unknowns, how the states rise over each step: a
// problem nearby starts on the steps of the warm start, moved as the unknowns are, with the factors of the
// warm start's own equations.

// course is how a stroke's states rise over each of its steps, to each of its points.
type course [][num.RadauPoints]bentState

// lay makes the steps those of a grid, with nothing in them.
func (b *bentDrive) lay(over *grid) {
	n := len(over.width)
	if cap(b.steps) < n {
		b.steps = make([]bentStep, n)
	}
	b.steps, b.over, b.about = b.steps[:n], over, nil
	for i := range b.steps {
		b.steps[i].begun, b.steps[i].factored = false, false
	}
}

// course gives a copy of the rises of the stroke rowed last.
func (b *bentDrive) course() course {
	c := make(course, len(b.steps))
	for i := range c {
		c[i] = b.steps[i].rise
	}
	return c
}

// factor makes the factors of a warm start's equations, for the problems near it; its own problem
// is in f.near.
func (f *Route) factor(a *warmStart) bool {
	b := &f.bent
	if b.about == &a.course[0] {
		return true
	}
	if f.prepare(&f.near) != nil {
		return false
	}
	f.layout = a.layout
	b.lay(f.grids.of(f.seat, f.layout, a.level))
	if len(b.steps) != len(a.course) {
		return false
	}
	b.start(a.course)
	b.enough = loose
	if _, ok := f.row(a.level, a.x); !ok {
		return false
	}
	b.about = &a.course[0]
	return true
}

// beside starts the steps near a warm start, on its factors; false where the problem's own grid
// has other steps.
func (f *Route) beside(a *warmStart) bool {
	b := &f.bent
	grid := f.grids.of(f.seat, f.layout, a.level)
	if len(grid.width) != len(b.begin) || b.about == nil {
		return false
	}
	b.over = grid
	b.start(b.begin)
	return true
}

// start begins the steps on a course.
func (b *bentDrive) start(c course) {
	for i := range b.steps {
		b.steps[i].rise, b.steps[i].begun = c[i], true
	}
}

// add moves a course by a share of the way from one to another.
func (c course) add(share float64, from, to course) {
	for i := range c {
		for j := range c[i] {
			for k := range c[i][j] {
				c[i][j][k] += float64(share * (to[i][j][k] - from[i][j][k]))
			}
		}
	}
}
