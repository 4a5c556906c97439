// Package session runs studies: it checks their text (package source), runs it
// on threads of the script language within limits (package limits), and gives
// back what was told as a document.Document, with every error as a message.Message
// in a coach's words.
//
// Start with Run for a whole study, Check for one that is only read, Params for
// what can be set; package typed takes statements that come one by one, as at the
// prompt. A function of the language reaches its study by Of(thread): to tell, to
// read files, to call a script's function many times in parallel (Each).
//
// The package has no files, no terminal and no clock of its own: files come
// through Files, time limits and Ctrl-C as the caller's context.
package session
