package examples

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/report"
	"thole/engine/study"
	"thole/engine/table"
)

// verdictWords are the verdicts that a sentence can say. That on a change hangs on something
// comes last: its words stand in other sentences too.
var verdictWords = []string{study.HoldsMore, study.HoldsLess, study.SmallMore, study.SmallLess, study.TooSmall,
	study.NotApart, study.MoreUnweighed, study.LessUnweighed, study.DependsOn}

// stale are words that no verdict has any more: whoever reads one reads of another verdict.
var stale = []string{"clearly more", "clearly less", "nearer than the model", "nearer than 0.5"}

// claim is a verdict on a quantity of a pair of strokes, and where it stands.
type claim struct{ where, pair, quantity, word string }

// wordOf is the verdict that a text begins with, "" for none.
func wordOf(text string) string {
	for _, w := range verdictWords {
		if strings.HasPrefix(text, w) {
			return w
		}
	}
	return ""
}

// sentenceOf reads the sentence beneath a table: "Speed +0.04 % at the same power: too small to
// matter; ..." says a verdict on the speed.
var sentenceOf = regexp.MustCompile(`^([A-Z][a-z ]*) [+-][0-9.]+ [^:]*: (.*)`)

// claimsOf are the verdicts that tables and the sentences beneath them give.
func claimsOf(doc *document.Document) []claim {
	var out []claim
	for n, b := range doc.Blocks {
		s, ok := b.(*document.Shown)
		if !ok {
			continue
		}
		pair := s.Head
		if s.Table != nil {
			if pair == "" {
				pair = s.Table.Head
			}
			verdict, quantity := s.Table.TextColumn("verdict"), s.Table.TextColumn("quantity")
			if verdict == nil || quantity == nil {
				continue
			}
			for i, text := range verdict.Texts {
				where := fmt.Sprintf("block %d, %s", n+1, quantity.Texts[i])
				out = append(out, claim{where, pair + caseAt(s.Table, i), quantity.Texts[i], wordOf(text)})
				if c := s.Table.Column("change"); c != nil && c.Kind == table.Measured && c.Estimates[i] != nil {
					out = append(out, claim{where + " (change)", pair + caseAt(s.Table, i), quantity.Texts[i],
						wordOf(c.Estimates[i].Verdict)})
				}
			}
		}
		for _, line := range append(slices.Clone(s.Foot), s.Line) {
			if m := sentenceOf.FindStringSubmatch(line); m != nil && wordOf(m[2]) != "" {
				out = append(out, claim{fmt.Sprintf("beneath block %d", n+1), pair,
					strings.ToLower(m[1]), wordOf(m[2])})
			}
		}
	}
	return slices.DeleteFunc(out, func(c claim) bool { return c.word == "" })
}

// caseAt tells cases of one table apart.
func caseAt(t *table.Table, i int) string {
	if c := t.TextColumn("case"); c != nil && c.Varies() {
		return ", " + c.Texts[i]
	}
	return ""
}

// contradictions are all places where a document says one thing and another, as far as words
// and signs can tell.
func contradictions(doc *document.Document) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	claims := claimsOf(doc)
	var given []string
	for _, c := range claims {
		given = append(given, c.word)
		for _, d := range claims {
			if c.pair == d.pair && c.pair != "" && c.quantity == d.quantity && c.word < d.word {
				say("%s of %q is %q in %s and %q in %s", c.quantity, c.pair, c.word, c.where, d.word, d.where)
			}
		}
	}
	for _, r := range doc.Results {
		given = append(given, wordOf(r.Text))
	}
	for _, word := range verdictWords {
		if strings.Contains(doc.Answer, word) && !slices.Contains(given, word) {
			say("the answer says %q, which no table and no result gives", word)
		}
	}
	for _, c := range doc.Cautions {
		if strings.HasPrefix(c.Text, "Not weighed:") && slices.ContainsFunc(given, weighed) {
			say("%q beside a verdict that was weighed", c.Text)
		}
		for _, d := range claims {
			if strings.HasPrefix(c.Text, "Not weighed (") && strings.Contains(c.Text, d.pair) && d.pair != "" &&
				weighed(d.word) {
				say("%q, and %s of it %s", c.Text, d.quantity, d.word)
			}
		}
	}
	for _, way := range ways {
		if regexp.MustCompile(`\d[^.;:,]*\b`+way.word+`\b`).MatchString(doc.Answer) &&
			!goes(doc, way.quantity, way.sign) {
			say("the answer says %s, and no table has a change of %s that way", way.word, way.quantity)
		}
	}
	var page bytes.Buffer
	if err := report.WritePage(&page, doc); err != nil {
		say("no page: %v", err)
	}
	for _, word := range stale {
		if strings.Contains(page.String(), word) {
			say("the page says %q", word)
		}
	}
	return out
}

func weighed(word string) bool {
	return word == study.HoldsMore || word == study.HoldsLess || word == study.DependsOn
}

// ways are words of an answer that say which way a quantity goes.
var ways = []struct {
	word, quantity string
	sign           float64
}{{"faster", "speed", 1}, {"slower", "speed", -1}, {"heavier", "heaviness", 1}, {"lighter", "heaviness", -1}}

// goes says whether a comparison has a change of a quantity that way, or no comparison has
// a change of it at all.
func goes(doc *document.Document, quantity string, sign float64) bool {
	some := false
	for _, b := range doc.Blocks {
		s, ok := b.(*document.Shown)
		if !ok || s.Table == nil || s.Table.TextColumn("quantity") == nil {
			continue
		}
		change := s.Table.Column("change")
		if change == nil {
			change = s.Table.Column("percent")
		}
		for i, name := range s.Table.TextColumn("quantity").Texts {
			if change == nil || change.Kind == table.Text || name != quantity && !strings.HasSuffix(name, " "+quantity) {
				continue
			}
			if some = true; change.Value(i)*sign > 0 {
				return true
			}
		}
	}
	return !some
}

// Every example, template and study of the tests, and those that are shared where they are
// there: table, answer, caution, page and results say the same of the same.
func TestNothingContradictsItself(t *testing.T) {
	var studies []string
	for _, pattern := range []string{"*/study.star", "*/study.md", "../scripts/templates/*/study.star",
		"../testdata/studies/*.star", "../testdata/studies/*.md", "../../shared/studies/*.star"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		studies = append(studies, found...)
	}
	read, said := 0, 0
	for _, path := range studies {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		out := runExample(filepath.Dir(path), filepath.Base(path), text)
		if len(out.Errors) > 0 {
			t.Logf("%s is not read: %v", path, out.Errors)
			continue
		}
		read++
		said += len(claimsOf(out.Document))
		for _, text := range contradictions(out.Document) {
			t.Errorf("%s: %s", path, text)
		}
	}
	if read < len(studies)-3 || said < 50 {
		t.Errorf("%d of %d studies read, %d verdicts in them", read, len(studies), said)
	}
}

// What is planted is found, and what says the same is left alone.
func TestContradictionsAreFound(t *testing.T) {
	shown := func(verdict, foot string, change float64) *document.Shown {
		q, v := table.NewColumn("quantity", "", table.Text), table.NewColumn("verdict", "", table.Text)
		c := table.NewColumn("change", "", table.Number)
		q.Texts, v.Texts, c.Nums = []string{"speed"}, []string{verdict}, []float64{change}
		return &document.Shown{Head: "now -> new", Foot: []string{foot},
			Table: &table.Table{Columns: []*table.Column{q, c, v}}}
	}
	agrees := "Speed +0.40 % at the same power: holds: more; forms of the model, one at a time: +0.31 % to +0.52 %."
	for name, c := range map[string]struct {
		doc  document.Document
		want string
	}{
		"none": {document.Document{Answer: "The new oar is 0.4 % faster: holds: more.",
			Blocks: []document.Block{shown(study.HoldsMore, agrees, .02)}}, ""},
		"answer": {document.Document{Answer: "Speed: too small to matter.",
			Blocks: []document.Block{shown(study.HoldsMore, agrees, .02)}}, "which no table"},
		"two tables": {document.Document{Blocks: []document.Block{shown(study.HoldsMore, agrees, .02),
			shown("depends on the hold", "", .02)}}, `"depends on "`},
		"the sentence beneath": {document.Document{Blocks: []document.Block{shown(study.TooSmall, agrees, .02)}},
			"beneath block 1"},
		"a caution": {document.Document{Blocks: []document.Block{shown(study.HoldsMore, agrees, .02)},
			Cautions: []document.Caution{{Text: "Not weighed: how the crew pulls"}}}, "beside a verdict"},
		"a caution by name": {document.Document{Blocks: []document.Block{shown(study.HoldsMore, agrees, .02)},
			Cautions: []document.Caution{{Text: "Not weighed (now -> new): how the crew pulls"}}}, "of it holds"},
		"which way": {document.Document{Answer: "The new oar is 0.4 % slower.",
			Blocks: []document.Block{shown(study.HoldsMore, agrees, .02)}}, "says slower"},
		"a word of old": {document.Document{Answer: "It is clearly more."}, "the page says"},
	} {
		got := strings.Join(contradictions(&c.doc), "\n")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: found %q, want %q", name, got, c.want)
		}
	}
}
