// Package message says in a coach's words what is wrong with a study. A Message
// has four parts: what, where, why, and what to type next.
//
// Unreadable words what the parser refuses, Scope.ResolveMessages names that
// nothing has, Scope.Translate what the interpreter says when a line fails;
// Locate, Put and PutInText set the place. What a function of the tool refuses
// comes as a lang.Error with its own words.
package message
