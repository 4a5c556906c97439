package examples

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/study"
)

// verdictWords are the verdicts that stand alone, without what they depend on.
var verdictWords = []string{study.HoldsMore, study.HoldsLess, study.SmallMore, study.SmallLess, study.TooSmall,
	study.NotApart, study.MoreUnweighed, study.LessUnweighed}

// An answer says no verdict that no table on its page gives, and no page says that its
// strokes were not weighed beside a verdict that holds over everything.
func TestAnswersSayTheVerdictsOfTheirTables(t *testing.T) {
	studies, err := filepath.Glob("*/study.star")
	if err != nil || len(studies) == 0 {
		t.Fatal(studies, err)
	}
	read := 0
	for _, path := range studies {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), "verdict") {
			continue
		}
		read++
		out := runExample(filepath.Dir(path), "study.star", text)
		if len(out.Errors) > 0 {
			t.Errorf("%s: %v", path, out.Errors)
			continue
		}
		var given []string
		for _, b := range out.Document.Blocks {
			if s, ok := b.(*document.Shown); ok && s.Table != nil {
				if c := s.Table.TextColumn("verdict"); c != nil {
					given = append(given, c.Texts...)
				}
			}
		}
		for _, r := range out.Document.Results {
			if r.IsText {
				given = append(given, r.Text)
			}
		}
		for _, word := range verdictWords {
			if strings.Contains(out.Document.Answer, word) && !slices.Contains(given, word) {
				t.Errorf("%s answers %q, which no table of its page gives: %v", path, word, given)
			}
		}
		for _, c := range out.Document.Cautions {
			if strings.HasPrefix(c.Text, "Not weighed") && strings.Contains(out.Document.Answer, "holds: ") {
				t.Errorf("%s: %q beside the answer %q", path, c.Text, out.Document.Answer)
			}
		}
	}
	if read < 3 {
		t.Errorf("only %d examples say a verdict", read)
	}
}
