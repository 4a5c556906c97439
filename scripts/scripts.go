// Package scripts holds what the tool brings along in its own language: the
// libraries that a study loads as "@name" and the studies that `thole new` lays
// down. All of it is text that a reader of studies can read.
package scripts

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed *.star boathouse
var libraries embed.FS

//go:embed all:templates
var templates embed.FS

// Library gives the text of a library that is loaded as "@name": name.star, and beneath it
// the files of the folder name, a file an idea.
func Library(name string) (text []byte, ok bool) {
	text, err := libraries.ReadFile(name + ".star")
	if err != nil {
		return nil, false
	}
	parts, _ := libraries.ReadDir(name)
	for _, part := range parts {
		more, err := libraries.ReadFile(name + "/" + part.Name())
		if err != nil {
			return nil, false
		}
		text = append(append(text, '\n'), more...)
	}
	return text, true
}

// Libraries lists their names.
func Libraries() []string {
	var names []string
	entries, _ := libraries.ReadDir(".")
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".star"); ok {
			names = append(names, name)
		}
	}
	return names
}

// Templates lists what `thole new NAME --like` knows.
func Templates() []string {
	var names []string
	entries, _ := templates.ReadDir("templates")
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

// Template gives the files of a template; its study is study.star or study.md
// and takes the new study's name.
func Template(name string) (fs.FS, bool) {
	if !slices.Contains(Templates(), name) {
		return nil, false
	}
	files, err := fs.Sub(templates, path.Join("templates", name))
	return files, err == nil
}
