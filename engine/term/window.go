// Package term sets text, tables and charts in the columns of a terminal.
//
// Begin with a Window: how wide it is, and whether it shows ASCII only. Its
// methods give lines of text; what they may colour they mark (Style), and the
// marks become colours, or nothing, when a Terminal prints the lines. Charts are
// drawn on a Canvas: character cells, each with an upper and a lower half.
//
// What holds everywhere:
//
//   - Results go to stdout, messages, notes and progress to stderr.
//   - Running text is set at most 100 columns wide.
//   - Colour never says anything alone: bold for a title and the answer, red for
//     the head of an error, yellow for a caution, dim for units rows, and the
//     series of a chart in a fixed order.
//   - All characters drawn are one column wide. A window without UTF-8 gets
//     ASCII: cm2, N s/m, deg, - | + *.
//   - Whatever comes from a study or its data goes through Clean, so that a name
//     cannot move the cursor or change the title of the window.
//
// The package asks the machine nothing: size, locale, colours and the clock are
// handed in. It knows tables (engine/table), but no study and no figure.
package term

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Window is what something is drawn in.
type Window struct {
	Width int  // columns
	ASCII bool // no character beyond ASCII
}

// widestText is the widest that running text is set.
const widestText = 100

// TextWidth is how wide running text is set.
func (w Window) TextWidth() int { return min(w.Width, widestText) }

// Clean makes a text from outside fit for the window: on one line, without
// control characters, in the characters the window has.
func (w Window) Clean(text string) string {
	return strings.ReplaceAll(w.CleanLines(text), "\n", " ")
}

// CleanLines is Clean for a text that may have several lines.
func (w Window) CleanLines(text string) string {
	text = StripControls(text)
	if w.ASCII {
		return toASCII(text)
	}
	return text
}

// StripControls takes out what could act on a terminal: control characters but
// the line end (a tab becomes a blank), marks that turn the direction of writing,
// and the private use area, where the marks of styles lie.
func StripControls(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n':
			return c
		case c == '\t':
			return ' '
		case c == unicode.ReplacementChar:
			return '?'
		case unicode.IsControl(c), unicode.Is(unicode.Co, c), unicode.Is(unicode.Cf,
			c), c == '\u2028', c == '\u2029':
			return -1
		}
		return c
	}, text)
}

// asciiWords are characters that say more in ASCII than their bare shape.
var asciiWords = strings.NewReplacer(
	"²", "2", "³", "3", "·", " ", "°C", "deg C", "°", "deg", "×", "x", "→", "->", "←", "<-",
	"\u2212", "-", "–", "-", "—", "-", "…", "...", "‘", "'", "’", "'", "“", `"`, "”", `"`,
	"\u00a0", " ", "\u202f", " ",
	"ß", "ss", "ø", "o", "Ø", "O", "æ", "ae", "Æ", "AE", "ł", "l", "Ł", "L")

// toASCII writes a text in ASCII: letters without their accents, and a question
// mark for what is left.
func toASCII(text string) string {
	if !strings.ContainsFunc(text, func(c rune) bool { return c >= 0x80 }) {
		return text
	}
	return strings.Map(func(c rune) rune {
		switch {
		case c < 0x80, isMark(c):
			return c
		case unicode.Is(unicode.Mn, c):
			return -1
		}
		return '?'
	}, norm.NFD.String(asciiWords.Replace(text)))
}
