package words

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Fold is a name without what people write differently: case, accents (composed or not),
// blanks in front, behind and doubled. "Dàcé", "dace" and "DACE " fold alike.
func Fold(name string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(name) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
