package engine_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"thole/engine/model"
	"thole/engine/sources"
)

// What the house says of itself must lead somewhere: a citation to the ledger, a
// section or an equation to the model's chapter; and everything in the ledger and
// the chapter must be leant on by something.

// told is a file's text and, of Go, its functions' comments.
type told struct {
	path, text string
}

// everything reads all that can cite: Go, pages of help, the model, tables, readmes,
// studies. Recorded outputs quote the rest and are left out.
func everything(t *testing.T) []told {
	t.Helper()
	var out []told
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if slices.Contains([]string{".git", "node_modules", "runs", "fuzz"}, d.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		if slices.Contains([]string{".go", ".md", ".txt", ".star", ".csv"}, filepath.Ext(path)) {
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			out = append(out, told{filepath.ToSlash(path), string(text)})
		}
		return nil
	})
	if err != nil || len(out) < 200 {
		t.Fatalf("%d files read: %v", len(out), err)
	}
	return out
}

func inLedger(path string) bool { return strings.HasPrefix(path, "../engine/sources/") }

// authorYear finds what looks like a citation, names and a year, over the end of a
// comment's line too.
var authorYear = regexp.MustCompile(`((?:(?:de|van|Dal) )?\p{Lu}[\p{L}-]+(?:(?:, | & | and )(?:(?:de|van) )?\p{Lu}[\p{L}-]+)*(?: et al\.)?)(?:'s)? \(?((?:18|19|20)\d\d)\b`)

// notAuthors are words that stand before a year or a number like one.
var notAuthors = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
	"December", "Jan", "Feb", "Mar", "Apr", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "ITTC", "Season", "Copyright", "Copyright (c)"}

func TestEveryCitationIsInTheLedger(t *testing.T) {
	joined := regexp.MustCompile(`\n\s*(//|#)?\s*`)
	for _, f := range everything(t) {
		if inLedger(f.path) || strings.HasPrefix(f.path, "../examples/") && strings.HasSuffix(f.path, ".txt") {
			continue // the ledger's own authors and journals; recorded outputs
		}
		text := joined.ReplaceAllString(f.text, " ")
		for _, at := range authorYear.FindAllStringSubmatchIndex(text, -1) {
			names, year := text[at[2]:at[3]], text[at[4]:at[5]]
			if slices.Contains(notAuthors, names) || strings.HasPrefix(text[at[5]:], " m") || strings.HasPrefix(text[at[5]:], ".") && at[5]+1 < len(text) && text[at[5]+1] >= '0' && text[at[5]+1] <= '9' {
				continue
			}
			key := names + " " + year
			if _, ok := sources.Find(key); !ok {
				t.Errorf("%s cites %q, which is not in the ledger (engine/sources)", f.path, key)
			}
		}
	}
}

func TestEverySourceIsCited(t *testing.T) {
	cited := map[string]bool{}
	joined := regexp.MustCompile(`\n\s*(//)?\s*`)
	for _, f := range everything(t) {
		if inLedger(f.path) {
			continue
		}
		for _, key := range sources.Cited(joined.ReplaceAllString(f.text, " ")) {
			cited[key] = true
		}
	}
	for _, key := range sources.Keys() {
		if !cited[key] {
			t.Errorf("%s is in the ledger and nobody cites it", key)
		}
	}
}

// Sections and equations named anywhere exist; no page is cited that readers do not have.
func TestNumbersOfTheModelExist(t *testing.T) {
	equations := map[string]bool{}
	for _, s := range model.Sections() {
		for _, e := range s.Equations() {
			equations[e] = true
		}
	}
	section := regexp.MustCompile(`\bmodel (\d+)\b`)
	equation := regexp.MustCompile(`(?i)\bequations? (\d+\.\d+)((?:(?:,| and) \d+\.\d+)*)`)
	further := regexp.MustCompile(`\d+\.\d+`)
	inPage := regexp.MustCompile(`\((\d\d?\.\d\d?)\)`)
	design := regexp.MustCompile(`model\.md|facts\.md|\bfacts (§ ?)?\d|language\.md|design/`)
	for _, f := range everything(t) {
		if strings.HasSuffix(f.path, "engine/citations_test.go") {
			continue
		}
		for _, m := range section.FindAllStringSubmatch(f.text, -1) {
			number := 0
			for _, c := range m[1] {
				number = 10*number + int(c-'0')
			}
			asked := strings.Contains(f.path, "_test.go") || strings.Contains(f.path, "testdata") // "model 99" is asked for there
			if _, _, ok := model.Find(number); !ok && !asked {
				t.Errorf("%s names model %s, which does not exist", f.path, m[1])
			}
		}
		for _, m := range equation.FindAllStringSubmatch(f.text, -1) {
			for _, number := range append(further.FindAllString(m[2], -1), m[1]) {
				if !equations[number] {
					t.Errorf("%s names equation %s, which does not exist", f.path, number)
				}
			}
		}
		if strings.HasPrefix(f.path, "../engine/model/") && strings.HasSuffix(f.path, ".md") {
			for _, m := range inPage.FindAllStringSubmatch(f.text, -1) {
				if !equations[m[1]] {
					t.Errorf("%s names equation %s, which does not exist", f.path, m[1])
				}
			}
		}
		if strings.HasSuffix(f.path, ".go") || strings.HasSuffix(f.path, ".txt") || strings.HasSuffix(f.path, ".md") {
			if m := design.FindString(f.text); m != "" {
				t.Errorf("%s cites %q, a page that no reader has", f.path, m)
			}
		}
	}
}

// Every equation is computed by a function that says so, and held by a test that does.
func TestEveryEquationIsComputedAndHeld(t *testing.T) {
	computed, held := map[string]bool{}, map[string]bool{}
	named := regexp.MustCompile(`(?i)\bequations? (\d+\.\d+(?:(?:,| and) \d+\.\d+)*)`)
	number := regexp.MustCompile(`\d+\.\d+`)
	for _, f := range everything(t) {
		if !strings.HasSuffix(f.path, ".go") || !strings.Contains(strings.ToLower(f.text), "equation") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), f.path, f.text, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			isTest := strings.HasSuffix(f.path, "_test.go")
			var doc *ast.CommentGroup
			switch d := d.(type) {
			case *ast.FuncDecl:
				if doc = d.Doc; isTest && !strings.HasPrefix(d.Name.Name, "Test") {
					continue
				}
			case *ast.GenDecl: // a table of functions, as the result fields are
				if doc = d.Doc; isTest {
					continue
				}
			}
			for _, m := range named.FindAllStringSubmatch(strings.Join(strings.Fields(doc.Text()), " "), -1) {
				for _, n := range number.FindAllString(m[1], -1) {
					if isTest {
						held[n] = true
					} else {
						computed[n] = true
					}
				}
			}
		}
	}
	for _, s := range model.Sections() {
		for _, e := range s.Equations() {
			if !computed[e] {
				t.Errorf("no function says that it computes equation %s", e)
			}
			if !held[e] {
				t.Errorf("no test says that it holds equation %s", e)
			}
		}
	}
}
