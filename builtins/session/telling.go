package session

import (
	"fmt"
	"strings"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/engine/document"
	"thole/engine/table"
)

// What a study may tell. A page or record beyond it would fill the memory of
// whoever opens it; nobody reads that much.
const (
	mostBlocks  = 10_000
	mostCells   = 40_000_000 // of tables, and of tables behind figures: they are files beside the page
	mostWords   = 16 << 20   // bytes of all texts
	mostNotes   = 2 << 20    // bytes of all notes
	mostWritten = 64 << 20   // bytes of files
	mostStates  = 2_000_000  // numbers behind sliders, which the page carries
	longestNote = 100_000    // characters of one note: more takes minutes to set
	mostOpen    = 2_000      // [ in one note
	mostQuoted  = 20         // > before one line
)

// toldSize counts what a study has told.
type toldSize struct {
	cells, states, words, notes, written int
	refused                              *lang.Error // what is beyond the bounds, told at the end of the call
}

// Tell puts a block on the page.
func (s *Study) Tell(b document.Block) {
	s.told = true
	s.measure(b)
	if s.size.refused == nil {
		s.doc.Blocks = append(s.doc.Blocks, b)
	}
}

// Title sets the question; the last one stands.
func (s *Study) Title(text string) {
	s.told, s.doc.Title = true, text
	s.words(text)
}

// Answer sets the one sentence; the last one stands.
func (s *Study) Answer(text string) {
	s.told, s.doc.Answer = true, text
	s.markdown(text)
}

// Assume puts a line into the box of assumptions, once.
func (s *Study) Assume(a document.Assumption) {
	s.mu.Lock() // doubt may be asked inside a function that is called in parallel
	defer s.mu.Unlock()
	for _, have := range s.doc.Assumptions {
		if have == a {
			return
		}
	}
	s.words(a.What)
	if s.size.refused == nil && len(s.doc.Assumptions) < mostBlocks {
		s.doc.Assumptions = append(s.doc.Assumptions, a)
	}
}

// Result keeps a named result. A name given twice is an error.
func (s *Study) Result(r document.Result) error {
	if s.results[r.Name] {
		return lang.Mistake("a result is found again by its name next season, so each name stands once",
			fmt.Sprintf("result(%q, ...)", r.Name+" 2"), "there is a result %q already", r.Name).At("name")
	}
	s.told, s.results[r.Name] = true, true
	s.words(r.Name + r.Text)
	if len(s.doc.Results) >= mostBlocks {
		s.tooMuch("%s results", limits.Grouped(mostBlocks+1))
		return nil
	}
	s.doc.Results = append(s.doc.Results, r)
	return nil
}

// Write puts a file into the run's folder. The caller of Run does the writing.
func (s *Study) Write(name string, data []byte) {
	if s.size.written += len(data); s.size.written > mostWritten {
		s.tooMuch("%s bytes of files", limits.Grouped(s.size.written))
		return
	}
	s.written = append(s.written, FileWritten{name, data})
}

// tooMuch notes that the study tells more than it may.
func (s *Study) tooMuch(what string, args ...any) {
	if s.size.refused == nil {
		s.size.refused = lang.Mistake("nobody reads that much, and its page would fill the memory of "+
			"whoever opens it", "fewer of them: a table with .where(...), one figure for all",
			"this study tells too much: "+what, args...)
	}
}

// tooMuchText refuses one text.
func (s *Study) tooMuchText(what string, args ...any) {
	if s.size.refused == nil {
		s.size.refused = lang.Mistake("a page is made of it, and a reader reads it",
			"a shorter text, or several", what, args...)
	}
}

func (s *Study) words(text string) {
	if s.size.words += len(text); s.size.words > mostWords {
		s.tooMuch("%s characters", limits.Grouped(s.size.words))
	}
}

// markdown counts a text that is set as Markdown: what is nested without end
// takes without end to set.
func (s *Study) markdown(text string) {
	s.words(text)
	s.size.notes += len(text)
	switch {
	case len(text) > longestNote:
		s.tooMuchText("this text has %s characters, %s are the most", limits.Grouped(len(text)),
			limits.Grouped(longestNote))
	case strings.Count(text, "[") > mostOpen:
		s.tooMuchText("this text has %s [, %s are the most", limits.Grouped(strings.Count(text, "[")),
			limits.Grouped(mostOpen))
	case s.size.notes > mostNotes:
		s.tooMuch("%s characters of notes", limits.Grouped(s.size.notes))
	case deepQuotes(text):
		s.tooMuchText("this text is quoted more than %d deep", mostQuoted)
	}
}

func deepQuotes(text string) bool {
	for _, line := range strings.Split(text, "\n") {
		n := 0
		for _, r := range line {
			if r == '>' {
				n++
			} else if r != ' ' && r != '\t' {
				break
			}
		}
		if n > mostQuoted {
			return true
		}
	}
	return false
}

func (s *Study) cells(t *table.Table) {
	if t == nil {
		return
	}
	s.size.cells += t.Len() * len(t.Columns)
	for _, c := range t.Columns {
		for _, text := range c.Texts {
			s.size.words += len(text)
		}
	}
	if s.size.cells > mostCells {
		s.tooMuch("%s cells of tables", limits.Grouped(s.size.cells))
	}
	s.words("")
}

// measure counts a block.
func (s *Study) measure(b document.Block) {
	if len(s.doc.Blocks) >= mostBlocks {
		s.tooMuch("%s blocks", limits.Grouped(mostBlocks+1))
	}
	switch b := b.(type) {
	case *document.Note:
		s.markdown(b.Markdown)
	case *document.Shown:
		s.words(b.Line + b.Head + b.Side + strings.Join(b.Foot, ""))
		s.cells(b.Table)
	case *document.Figure:
		s.markdown(b.Caption)
		s.words(b.Sentence)
		s.cells(b.Table)
	case *document.Ask:
		s.markdown(b.Question)
		s.markdown(b.Because)
	case *document.Explore:
		for _, state := range b.States {
			s.size.states += len(state)
		}
		if s.size.states > mostStates {
			s.tooMuch("%s numbers behind sliders", limits.Grouped(s.size.states))
		}
	}
}

// Told is asked after each call that tells: whether that was within bounds.
func (h *host) Told() error {
	if h.size.refused == nil {
		return nil
	}
	return h.size.refused
}
