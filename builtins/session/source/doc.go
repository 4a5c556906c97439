// Package source reads the text of a study: New takes a file's bytes and finds
// the code, in a Markdown study between fences; Parse gives the tree with what
// stands where (Unit). Lex cuts any text into words and signs, whether it makes
// sense or not, for messages, completion and the question whether a typed block
// goes on (More).
//
// Lines and columns count from 1 and columns count characters, as messages write
// them. It runs nothing and words no messages: its errors are the parser's own.
package source
