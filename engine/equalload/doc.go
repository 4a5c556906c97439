// Package equalload finds the oar that loads a crew as a given stroke does: a new blade
// or shaft with one measure adjusted (Adjust) so that one quantity (Match) stays what it
// was. Call Find with a solved stroke and a Question.
//
// Only quantities that reproduce common practice may be matched; the others are refused
// with the reason (Question.check). It does not say which oar is faster. SI.
package equalload
