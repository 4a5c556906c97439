// Package limits keeps a study's memory and time in bounds. The interpreter
// bounds neither for a single operation ("a" * (1 << 29) is one step), so Harden
// rewrites a tree before it is compiled: operations that may make something
// large become calls of guards (Guards), which ask the thread's Meter first. The
// Meter also looks at the heap now and then and stops the threads it watches.
//
// Wall time is the caller's context. What a function of the tool makes asks
// Meter.Check itself.
package limits
