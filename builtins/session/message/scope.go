package message

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/source"
)

// Scope is what is known around a study's text when something in it is wrong:
// the names a message may call the nearest, and the texts it may point into.
type Scope struct {
	Library *lang.Library
	Units   map[string]*source.Unit // texts read so far, by file name
	Ours    map[string]bool         // files that are the tool's own, never blamed

	Value   func(name string) (starlark.Value, bool) // the study's top-level names
	Names   func() []string
	Start   starlark.StringDict                // names a live session starts with; nil: none
	Defines func(file string) (names []string) // names a loaded file gives
}
