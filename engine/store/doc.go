// Package store keeps points already computed, so that a run that was cut off
// goes on where it stopped and a sweep that was rowed before is read back. It
// knows keys and bytes, no rowing: what a point means is the caller's affair,
// who makes the key of the solved problem in SI (KeyOf) and never of a text, a
// layout or a file time.
//
// A store is a folder of bbolt files. bbolt locks a whole file for its one
// writer, so each run writes a file of its own and reads those that are
// finished: two runs at once never wait for each other, and a run killed at any
// moment leaves a file that the next run can read up to its last batch. When
// there are many finished files the small ones are joined (tidy.go), and when
// they outgrow the limit the oldest go. Age is a number in the file's name,
// counted up from file to file, because clocks go back.
//
// Nothing here can stop a run: trouble with a file is a sentence in Notes, and
// its points are rowed again. Start with Open; a nil *Store holds nothing and
// takes nothing, and may be used like any other.
package store
