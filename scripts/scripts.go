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

//go:embed *.star
var libraries embed.FS

//go:embed all:templates
var templates embed.FS

// Library gives the text of a library that is loaded as "@name".
func Library(name string) (text []byte, ok bool) {
	text, err := libraries.ReadFile(name + ".star")
	return text, err == nil
}

// Libraries lists their names.
func Libraries() []string {
	var names []string
	entries, _ := libraries.ReadDir(".")
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".star"))
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
