package report

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// checkers is where the development-only checkers of pages lie, once installed.
const checkers = "../../testdata/page/node_modules"

// axe-core finds nothing on any page, at three widths, light and dark.
func TestAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join(checkers, "axe-core", "axe.min.js"))
	if err != nil {
		missing(t, "axe-core (npm ci in testdata/page)")
	}
	w := openTab(t)
	views := []struct {
		width  int64
		scheme string
	}{{320, "light"}, {768, "dark"}, {1280, "light"}, {320, "dark"}, {768, "light"}, {1280, "dark"}}
	if os.Getenv("THOLE_NEED_BROWSER") == "" {
		views = views[2:4] // all six where changes are checked
	}
	for name, doc := range allDocs() {
		for _, view := range views {
			w.see(view.width, 800, view.scheme, "no-preference")
			w.open(doc, "")
			evaluate[any](w, string(axe)+";0")
			found := evaluate[string](w, `(() => { document.querySelectorAll('.rev').forEach(b => b.click()); document.querySelectorAll('details').forEach(d => d.open = true); return axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => JSON.stringify(r.violations.map(v => [v.id, v.nodes.length, v.nodes[0].html.slice(0, 120), v.nodes[0].failureSummary.slice(0, 200)]))) })()`, true)
			var list []any
			if err := json.Unmarshal([]byte(found), &list); err != nil {
				t.Fatal(err)
			}
			for _, v := range list {
				t.Errorf("%s at %d, %s: %v", name, view.width, view.scheme, v)
			}
		}
	}
}

// html-validate finds nothing on any page, live or not, and no text of theirs is markup.
func TestValidHTML(t *testing.T) {
	tool := filepath.Join(checkers, ".bin", "html-validate")
	if _, err := os.Stat(tool); err != nil {
		missing(t, "html-validate (npm ci in testdata/page)")
	}
	dir := t.TempDir()
	for name, doc := range allDocs() {
		var b bytes.Buffer
		if err := WritePage(&b, doc); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".html"), b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for name, doc := range allDocs() {
		var b bytes.Buffer
		live := Live{Engine: "AAAA", State: map[string]string{"name": "</script><b>"}, Controls: []Control{
			{Name: "length", Unit: "cm", Number: true, Value: "289", Low: "280", High: "295", Step: "0.1", Help: "of the scull"},
			{Name: "blade", Value: "scull hatchet", Choices: []string{"scull hatchet", "<b>other"}},
			{Name: "wind", Flag: true, Value: "False"}, {Name: "who", Value: `"><script>`}}}
		if err := WriteLive(&b, doc, live); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(b.Bytes(), []byte("</script><b>")) || bytes.Contains(b.Bytes(), []byte("<b>other")) {
			t.Errorf("%s: text became markup", name)
		}
		if err := os.WriteFile(filepath.Join(dir, name+"-live.html"), b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	pages, _ := filepath.Glob(filepath.Join(dir, "*.html"))
	out, err := exec.Command(tool, append([]string{"-c", "../../testdata/page/.htmlvalidate.json", "-f", "text"}, pages...)...).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
