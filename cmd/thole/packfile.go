package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"thole/engine/record"
)

// A pack is a zip with a study, the files it reads and the record of a run. It
// is never unpacked: its files are read into memory within limits and the study
// is run on them, so that no name in it can lead anywhere.
type pack struct {
	study  string
	text   []byte
	files  keptFiles
	record *record.Run // nil: somebody's zip of a folder
}

const (
	mostEntries  = 1000
	mostUnpacked = 256 << 20
)

// readPack reads a pack out of the bytes of a zip.
func readPack(name string, data []byte) (*pack, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, packWrong(name, "it is no zip, or one that is cut short", "thole pack STUDY   makes one")
	}
	if len(z.File) > mostEntries {
		return nil, packWrong(name, fmt.Sprintf("it holds %d files; a study needs fewer than %d", len(z.File),
			mostEntries), "a zip with the study and its data only")
	}
	files := map[string][]byte{}
	left := int64(mostUnpacked)
	for _, entry := range z.File {
		if strings.HasSuffix(entry.Name, "/") {
			continue
		}
		if why := badEntry(entry, files); why != "" {
			return nil, packWrong(name, why, "a zip made with thole pack STUDY")
		}
		content, err := readEntry(entry, left)
		if err != nil {
			return nil, packWrong(name, fmt.Sprintf("%s in it %s", shownName(entry.Name), err),
				"a zip made with thole pack STUDY")
		}
		left -= int64(len(content))
		files[entry.Name] = content
	}
	return packOf(name, files)
}

// badEntry refuses names that lead out of a folder, links, and a name that
// stands twice.
func badEntry(entry *zip.File, files map[string][]byte) string {
	name := entry.Name
	switch {
	case !entry.Mode().IsRegular():
		return shownName(name) + " in it is a link or a device, not a file"
	case strings.ContainsAny(name, "\\:\x00") || !filepath.IsLocal(filepath.FromSlash(name)) ||
		path.Clean(name) != name:
		return shownName(name) + " in it would lie outside the study's folder"
	}
	if _, twice := files[name]; twice {
		return shownName(name) + " stands in it twice"
	}
	return ""
}

func readEntry(entry *zip.File, left int64) ([]byte, error) {
	longest := most(entry.Name)
	tooLong := fmt.Errorf("is too long: a file of its kind may have %s", megabytes(longest))
	if left < longest {
		longest = left
		tooLong = fmt.Errorf("is too long: all files of a zip may have %s, and those before it leave %s",
			megabytes(mostUnpacked), megabytes(left))
	}
	if entry.UncompressedSize64 > uint64(longest) {
		return nil, tooLong
	}
	r, err := entry.Open()
	if err != nil {
		return nil, errors.New("cannot be read")
	}
	defer r.Close()
	// the size a zip says of itself may be a lie
	content, err := io.ReadAll(io.LimitReader(r, longest+1))
	if err != nil {
		return nil, errors.New("is damaged")
	}
	if int64(len(content)) > longest {
		return nil, tooLong
	}
	return content, nil
}

// packOf finds the study among the files.
func packOf(name string, files map[string][]byte) (*pack, error) {
	p := &pack{files: keptFiles{files: files}}
	if data, ok := files[record.FileName]; ok {
		r, err := record.Decode(data)
		if err != nil {
			return nil, packWrong(name, "its "+record.FileName+" "+err.Error(),
				"the one who sent it, for another")
		}
		delete(files, record.FileName)
		p.record, p.study = r, r.Study
		if i := slices.IndexFunc(r.Files,
			func(f record.File) bool { return f.Role == record.Study }); i >= 0 {
			p.study = r.Files[i].Path
		}
	} else {
		var studies []string
		for file := range files {
			if ext := path.Ext(file); (ext == ".star" || ext == ".md") &&
				!strings.EqualFold(file, "README.md") &&
				path.Dir(file) == "." {
				studies = append(studies, file)
			}
		}
		slices.Sort(studies)
		if len(studies) != 1 {
			return nil, packWrong(name, fmt.Sprintf("it holds no record, and %s at its top",
				count(len(studies), "study")), "a zip made with thole pack STUDY")
		}
		p.study = studies[0]
	}
	text, ok := files[p.study]
	if !ok {
		return nil, packWrong(name, "its record is of "+shownName(p.study)+", which is not in it",
			"the one who sent it, for another")
	}
	delete(files, p.study)
	p.text, p.files.said = text, p.study
	return p, nil
}

func packWrong(name, why, typ string) error {
	return &Message{File: filepath.Base(name), What: "this pack cannot be run", Why: why, Type: typ}
}

// shownName keeps a long name of a stranger short.
func shownName(name string) string {
	if r := []rune(name); len(r) > 60 {
		name = string(r[:57]) + "..."
	}
	return fmt.Sprintf("%q", name)
}

// writePack makes the zip of a run: study, loaded files, inputs, record. Nothing
// of the machine or the user is in it: no owner, no time, no path.
func writePack(r *record.Run) ([]byte, error) {
	data, err := r.Encode()
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{record.FileName: data}
	for i := range r.Files {
		name := r.Files[i].Path
		if !filepath.IsLocal(filepath.FromSlash(name)) {
			return nil, &Message{File: "thole pack",
				What: fmt.Sprintf("%q lies outside the study's folder", path.Dir(name)),
				Why: "a pack holds what lies in the study's folder, and nothing that says where on this " +
					"machine " +
					"the rest is",
				Type: "copy " + path.Base(path.Dir(name)) + " beside the study and name it so"}
		}
		files[name] = r.Files[i].Content()
	}
	names := make([]string, 0, len(files))
	for name := range files {
		if strings.HasPrefix(name, "@") {
			continue // the tool's own library comes with the tool
		}
		names = append(names, name)
	}
	slices.Sort(names)
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range names {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(files[name]); err != nil {
			return nil, err
		}
	}
	err = z.Close()
	return out.Bytes(), err
}
