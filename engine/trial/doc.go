// Package trial plans trials on the water, reads what was rowed, judges it and
// fits a model to measured strokes.
//
// In the order of a morning:
//
//	MakePlan    what so many pieces can tell, and the order to row them in
//	ReadTrial   the filled sheet, a CSV, as a table of pieces
//	ReadTrack   a watch's track (GPX or FIT) as time, distance, speed; FindPieces
//	            finds the pieces in it, Streams pairs them out and back
//	Judge       what the pieces told: a difference in per cent of speed with its
//	            interval, or "cannot tell"
//	Calibrate   named inputs of a model fitted to measured quantities
//
// Signs: a difference is in per cent of speed, positive where the second
// setting is faster. Wind is positive ahead, stream positive with the boat.
// Per cent are differences of natural logarithms times 100 throughout, so that
// "2 % faster" and "2 % slower" are the same distance.
//
// The package reads bytes, never files, and knows no scripting. It does not say
// why a rig is faster, and it does not replace getting used to a rig: a crew
// that had no outings with one of the settings is judged on the change, not on
// the setting.
package trial
