// Package study asks questions of any function of named numbers: it varies the
// function over a grid, finds where it reaches a target, finds its best within
// limits, says which input moves it most, draws what is uncertain and tells a
// change from noise, and allots one list to another at the least total cost.
//
// It knows no rowing and no scripting. A question is put with Ranges or Axes,
// the function is handed in as a Batch, which may work on as many cores as it
// likes: answers never depend on how many, nor on what was asked before.
//
// Call Vary, Find, FindBest, Sensitivity, Uncertainty, Compare or Allocate.
package study
