// Package checkpoint keeps points already rowed in a file beside a run, so that a run that was
// killed goes on where it was, and the parts of a sweep can be gathered. Start with Open.
//
// A file is a line that says what it is, then points one behind the other: key, length, sum,
// bytes. It is only ever added to, so a kill leaves a whole file with half a point at its end, which
// is passed over. Each run writes a file of its own and reads those of runs before it; no
// file is ever waited for. A store of all points ever rowed was rejected: since a stroke takes
// a tenth of a millisecond, keeping it costs more than it saves.
package checkpoint
