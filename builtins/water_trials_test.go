package builtins

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/builtins/session"
	"thole/engine/report"
)

// folder serves the files of a directory to a study.
type folder string

func (f folder) ReadFile(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(string(f), name))
}

// runIn runs a text as a study in a directory, with parameters set.
func runIn(dir, text string, set map[string]string) *session.Outcome {
	return session.Run(context.Background(), "study.star", []byte(text), session.Config{Library: Library(), Files: folder(dir), Set: set, Jobs: 2})
}

// studied runs a file of testdata/studies and fails where it has errors.
func studied(t *testing.T, name string, set map[string]string) *session.Outcome {
	t.Helper()
	dir := filepath.Join("..", "testdata", "studies")
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	o := runIn(dir, string(text), set)
	for _, m := range o.Errors {
		t.Fatalf("%s: %s\n%s\n%s", name, m.Error(), m.Why, m.Type)
	}
	return o
}

// cardTitled finds a card by its title.
func cardTitled(t *testing.T, d *report.Document, title string) *report.Card {
	t.Helper()
	for _, b := range d.Blocks {
		if s, ok := b.(*report.Shown); ok && s.Card != nil && s.Card.Title == title {
			return s.Card
		}
	}
	t.Fatalf("no card %q is shown", title)
	return nil
}

func remark(c *report.Card, label string) string {
	for _, it := range c.Items {
		if it.Label == label {
			return it.Remark
		}
	}
	return ""
}

func TestTrialStudyBefore(t *testing.T) {
	d := studied(t, "f_trial.star", nil).Document
	if !strings.Contains(d.Answer, "Row the 8 pieces in the order below") {
		t.Errorf("answer %q", d.Answer)
	}
	for _, b := range d.Blocks {
		if s, ok := b.(*report.Shown); ok && s.Table != nil && s.Name == "order of pieces" {
			if !s.Table.WriteIn || s.Side == "" || len(s.Foot) != 2 || s.Foot[1] != "For a chance of 0.80: 24 pieces a setting." {
				t.Errorf("sheet: side %q, foot %q", s.Side, s.Foot)
			}
			return
		}
	}
	t.Error("no order of pieces is shown")
}

func TestTrialStudyAfter(t *testing.T) {
	for file, want := range map[string]struct{ answer, caution, title string }{
		"saturday.csv":          {"Saturday cannot tell long from short (+0.60 %", "", "cannot tell"},
		"saturday_too_good.csv": {"Saturday says short faster: +0.67 % (95 % +0.50 to +0.83): clearly more, worth having with a chance of", "too good", "short faster"},
	} {
		d := studied(t, "f_trial.star", map[string]string{"pieces": file}).Document
		if !strings.Contains(d.Answer, want.answer) {
			t.Errorf("%s: answer %q", file, d.Answer)
		}
		card := cardTitled(t, d, want.title)
		t.Logf("%s: %+v", file, card)
		var cautions []string
		for _, c := range d.Cautions {
			cautions = append(cautions, c.Text)
		}
		if said := strings.Join(cautions, "\n"); !strings.Contains(said, want.caution) {
			t.Errorf("%s: cautions %q", file, cautions)
		}
		if want.title == "short faster" {
			if got := remark(card, "wind"); got != "+0.19 % for each m/s (-0.68 to +1.06): cannot be told apart" {
				t.Errorf("wind %q", got)
			}
			if got := remark(card, "pairs"); got != "+0.54  +0.80  +0.80  +0.62 %" {
				t.Errorf("pairs %q", got)
			}
		}
	}
}

func TestCalibrateStudy(t *testing.T) {
	o := studied(t, "g_calibrate.star", nil)
	t.Log(o.Document.Answer)
	t.Logf("%+v", cardTitled(t, o.Document, "fit"))
	for _, c := range o.Document.Cautions {
		t.Log(c.Text)
	}
	for _, r := range o.Remarks {
		t.Log(r.What)
	}
}
