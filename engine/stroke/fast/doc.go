// Package fast is the fast route to a steady stroke, some twenty times faster than the
// general one, for what most studies ask: rowers alike (Applies). The oar angle is the
// independent variable, so no event is looked for, and an eighth-order pair runs over a
// grid laid out before (drive.go, grid.go). On a shaft that bends, whose light handle
// swings fast and is damped, the steps are implicit ones, by collocation (bent.go,
// bentgrid.go, factors.go, past.go); what is read off them stands in bentlook.go. Newton's
// method begins at a warm start, a problem nearby with round numbers (steady.go,
// warmstart.go).
//
// With the general route it shares the formulas of water, hull and crew, and neither
// integrator, grid, event nor steady-state code. It judges itself by what two grids make
// of one problem, by the embedded error estimate and by the energy book, refines, and
// hands over what it cannot vouch for.
//
// Call Row, or Solve of a Route that is kept. The answer is a function of the problem
// alone, to the last bit, whatever was solved before. SI.
package fast
