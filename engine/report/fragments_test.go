package report

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"testing"
)

// A fragment that names a method works here and fails in a live page.
func TestFragmentsNameNoMethod(t *testing.T) {
	named := map[string]bool{}
	entries, err := fragmentFiles.ReadDir("fragments")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := fragmentFiles.ReadFile("fragments/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, inside := range regexp.MustCompile(`{{[^}]*}}`).FindAll(text, -1) {
			for _, m := range regexp.MustCompile(`\.([A-Z]\w*)`).FindAllSubmatch(inside, -1) {
				named[string(m[1])] = true
			}
		}
	}
	if !named["Class"] {
		t.Fatal("no field found in the fragments")
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv != nil && named[f.Name.Name] {
				t.Errorf("%s: a fragment may name the method %s; make it a field", name, f.Name.Name)
			}
		}
	}
}
