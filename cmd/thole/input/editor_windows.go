package input

import (
	"errors"

	"thole/engine/term"
)

// Editor is not there on this system yet: lines are read as they come.
type Editor struct{ Plain }

// Edit says that there is no editing here.
func Edit(*term.Terminal, *History, func(string) Completion) (*Editor, error) {
	return nil, errors.New("no line editing here")
}

func (e *Editor) Close()          {}
func (e *Editor) Remember(string) {}
