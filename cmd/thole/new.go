package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/engine/table"
	"thole/engine/workbook"
	"thole/scripts"
)

func newCommand(tty *terminal) *cobra.Command {
	like := "sweep"
	c := &cobra.Command{
		Use: "new NAME", Short: "a study to start on",
		Long: "Writes a study that runs as it stands, to be changed line by line. Nothing that\n" +
			"is there already is written over.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] != "" {
				return nil
			}
			return &Message{Usage: true, File: "thole new", What: "what is the study to be called?",
				Why: "one name is given, for its file", Type: "thole new quad --like sweep"}
		},
		RunE: func(_ *cobra.Command, args []string) error { return lay(tty, args[0], like) },
	}
	c.Flags().StringVar(&like, "like", like,
		"what to start from, a `kind`: "+strings.Join(scripts.Templates(), ", "))
	return c
}

// lay lays a template down under a name: one file, or a folder where the study
// has data beside it.
func lay(tty *terminal, name, like string) error {
	name = strings.TrimSuffix(strings.TrimSuffix(name, ".star"), ".md")
	if name == "" || strings.HasPrefix(name, "-") ||
		strings.ContainsFunc(name,
			func(c rune) bool { return c < ' ' || strings.ContainsRune(`<>:"|?*`, c) }) {
		return &Message{Usage: true, File: "thole new", What: fmt.Sprintf("%q cannot be a file's name", name),
			Why: "letters, digits, - and _ do", Type: "thole new quad --like " + like}
	}
	template, ok := scripts.Template(like)
	if !ok {
		known := scripts.Templates()
		msg := Message{Usage: true, File: "thole new", What: fmt.Sprintf("there is nothing like %q", like),
			Why: "there are " + strings.Join(known, ", "), Type: "thole new " + quoted(name) +
				" --like sweep"}
		if near := table.Nearest(like, known); near != "" {
			msg.Type = "thole new " + quoted(name) + " --like " + near
		}
		return &msg
	}
	files, err := templateFiles(template)
	if err != nil {
		return err
	}
	if err := bindRegisters(template, files); err != nil {
		return err
	}
	dir := filepath.Dir(name)
	if len(files) > 1 {
		dir = name
	}
	var study string
	texts := map[string][]byte{}
	for from, text := range files {
		to := filepath.Join(dir, filepath.FromSlash(from))
		if strings.HasPrefix(from, "study.") {
			to = filepath.Join(dir, filepath.Base(name)+filepath.Ext(from))
			study = to
			text = bytes.ReplaceAll(text, []byte("NAME"), []byte(filepath.Base(name)))
		}
		if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
			return &Message{Usage: true, File: "thole new", What: fmt.Sprintf("%s is there already", to),
				Why: "nothing is written over", Type: "thole new " + quoted(name+"_2") + " --like " + like}
		}
		texts[to] = text
	}
	for to, text := range texts {
		err := os.MkdirAll(filepath.Dir(to), 0o755)
		if err == nil {
			err = writeNew(to, text)
		}
		if err != nil {
			return fmt.Errorf("%s cannot be written: %s", to, plainError(err))
		}
	}
	beside := ""
	if n := len(files) - 1; n > 0 {
		beside = ", with " + count(n, "file") + " beside it"
	}
	written := study + " written" + beside + ". Change its numbers, then"
	return tty.Print(append(tty.Wrap("", 2, written), "type  thole run "+quoted(study))...)
}

// registersDir holds a template's registers as text; they are laid down as one
// workbook of this name.
const registersDir = "boathouse"

// bindRegisters puts the workbook in the place of the registers it is made of.
func bindRegisters(template fs.FS, files map[string][]byte) error {
	registers, err := fs.Sub(template, registersDir)
	if err != nil {
		return err
	}
	for name := range files {
		if strings.HasPrefix(name, registersDir+"/") {
			delete(files, name)
			if files[registersDir+".xlsx"] == nil {
				if files[registersDir+".xlsx"], err = workbook.Registers(registers); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func templateFiles(template fs.FS) (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(template, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files[path], err = fs.ReadFile(template, path)
		return err
	})
	return files, err
}

// writeNew writes a file that is not there yet.
func writeNew(path string, text []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	return errors.Join(err, file.Close())
}
