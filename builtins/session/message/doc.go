// Package message says in a coach's words what is wrong with a study. A Message
// has four parts: what, where, why, and what to type next.
//
// The words stand in cases.txt, case by case, each with an example that a test
// runs. A case is found among those of its kind: [reading] what the parser
// refuses (Unreadable), [resolving] and [names] names that nothing has
// (ResolveMessages, UnknownNames), [rules] names given twice (OwnNames) and while
// (NoWhile), [loading] names of another file (NoSuchName), [running] what the
// interpreter says when a line fails (Translate). Locate, Put and PutInText set
// the place. What a function of the tool refuses comes as a lang.Error with its
// own words.
package message
