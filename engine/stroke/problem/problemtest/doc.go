// Package problemtest has boats for the tests of the rooms that solve strokes: the open
// cases of testdata, random draws over the trade's ranges or over all that is plausible,
// and how closely two solutions of one problem must agree. No part of the program.
package problemtest
