package builtins

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"thole/builtins/lang"
)

// readStubs lists what Python's own parser finds in a stub file: of each function
// its parameters in order, and of each parameter its default as it is written.
const readStubs = `
import ast, json, sys
def one(f):
    a = f.args
    places = [p.arg for p in a.posonlyargs + a.args if p.arg != "self"]
    named = [p.arg for p in a.kwonlyargs]
    ends = dict(zip(reversed(places), reversed(a.defaults)))
    ends.update(zip(named, a.kw_defaults))
    return {"places": places, "named": named,
            "more": a.vararg.arg if a.vararg else "", "rest": a.kwarg.arg if a.kwarg else "",
            "defaults": {n: ast.literal_eval(d) for n, d in ends.items() if d is not None},
            "doc": ast.get_docstring(f) or "", "gives": ast.unparse(f.returns)}
found = {}
for node in ast.parse(sys.stdin.read()).body:
    if isinstance(node, ast.FunctionDef):
        found[node.name] = one(node)
    if isinstance(node, ast.ClassDef):
        for sub in node.body:
            if isinstance(sub, ast.FunctionDef) and not sub.name.startswith("__"):
                found[node.name + "." + sub.name] = one(sub)
json.dump(found, sys.stdout)
`

// The stub file says of every record what the record says: parameters in order,
// which go by name, every default, and the unit in the docstring.
func TestStubsSayWhatTheRecordsSay(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("there is no python3 here, whose parser reads the stubs")
	}
	cmd := exec.Command(python, "-c", readStubs)
	cmd.Stdin = strings.NewReader(Library().Stubs())
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("python does not read the stubs: %v\n%s", err, err.(*exec.ExitError).Stderr)
	}
	var found map[string]struct {
		Places, Named []string
		More, Rest    string
		Defaults      map[string]any
		Doc, Gives    string
	}
	if err := json.Unmarshal(out, &found); err != nil {
		t.Fatal(err)
	}
	check := func(key string, r *lang.Record) {
		stub, ok := found[key]
		if !ok {
			t.Errorf("%s is not in the stubs", key)
			return
		}
		var places, named []string
		for i := range r.Params {
			p := &r.Params[i]
			if p.ByName {
				named = append(named, p.Name)
			} else {
				places = append(places, p.Name)
			}
			got, has := stub.Defaults[p.Name]
			want := p.Default
			switch d := want.(type) {
			case int:
				want = float64(d)
			}
			if has == p.Needed || got != want {
				t.Errorf("%s: default of %s is %v, the record says %v (needed: %t)", key, p.Name, got, want,
					p.Needed)
			}
			if p.Unit != "" && !strings.Contains(stub.Doc, p.Name+" ("+p.Unit+")") {
				t.Errorf("%s: the docstring does not give %s its unit %s:\n%s", key, p.Name, p.Unit, stub.Doc)
			}
		}
		if strings.Join(places, " ") != strings.Join(stub.Places, " ") || strings.Join(named, " ") !=
			strings.Join(stub.Named, " ") {
			t.Errorf("%s takes %v and by name %v, the record says %v and %v", key, stub.Places, stub.Named,
				places, named)
		}
		for _, extra := range []struct {
			got string
			p   *lang.Param
		}{{stub.More, r.More}, {stub.Rest, r.Rest}} {
			if want := extra.p; want == nil && extra.got != "" || want != nil && extra.got != want.Name {
				t.Errorf("%s: further values are called %q, not as the record has them", key, extra.got)
			}
		}
		if first, _, _ := strings.Cut(stub.Doc, "\n"); !strings.EqualFold(strings.TrimSuffix(first, "."),
			r.Summary) {
			t.Errorf("%s is said to be %q, not %q", key, first, r.Summary)
		}
	}
	for _, r := range Library().Records {
		check(r.Name, r)
	}
	for _, kind := range Library().Things {
		for _, m := range kind.Methods {
			check(strings.ToUpper(kind.Name[:1])+kind.Name[1:]+"."+m.Name, m)
		}
	}
	for name, gives := range map[string]string{"row": "Stroke", "hull": "Hull", "title": "None",
		"vary": "Table", "Stroke.change": "Stroke", "steps": "list[float]"} {
		if found[name].Gives != gives {
			t.Errorf("%s gives %q in the stubs, not %q", name, found[name].Gives, gives)
		}
	}
}
