package table

import (
	"errors"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decode gives the text of a file as UTF-8 with plain line ends: by its
// byte-order mark, as UTF-8 where it is valid, else as Windows-1252, which is
// what older spreadsheets write: that is guessed.
func decode(data []byte) (text string, guessed bool, err error) {
	var from encoding.Encoding
	switch {
	case strings.HasPrefix(string(data[:min(3, len(data))]), "\xef\xbb\xbf"):
		data = data[3:]
	case len(data) >= 2 && data[0] == 0xff && data[1] == 0xfe, len(data) >= 2 && data[0] == 0xfe &&
		data[1] == 0xff:
		from = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	}
	if from == nil {
		if hasNul(data) {
			return "", false, errors.New("this is not a text file")
		}
		if !utf8.Valid(data) {
			from, guessed = charmap.Windows1252, true
		}
	}
	if from != nil {
		plain, err := from.NewDecoder().Bytes(data)
		if err != nil || hasNul(plain) {
			return "", false, errors.New("this is not a text file")
		}
		data = plain
	}
	text = strings.ReplaceAll(string(data), "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), guessed, nil
}
