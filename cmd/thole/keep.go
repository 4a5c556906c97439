package main

import (
	"bytes"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"thole/builtins/session"
	"thole/engine/chart"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/record"
	"thole/engine/report"
	"thole/engine/table"
	"thole/engine/window"
	"thole/engine/workbook"
)

// keptFolder is where a run lies and what lies there.
type keptFolder struct {
	dir              string
	tables, pictures int
	note             string
	record           *record.Run
}

// keep writes a run's folder: the page, tables as CSV, figures as SVG and PNG,
// what the study wrote, and last the record that makes the run whole.
func keep(j job, out *session.Outcome, dir string) (keptFolder, error) {
	doc := out.Document
	files, params := recordFiles(out.Files), recordParams(out.Params)
	doc.Run = runName(version, j.Name, files, params)
	kept := keptFolder{dir: dir, record: record.Of(doc, params, files)}
	kept.record.Seeds = out.Seeds
	if dir == "" {
		kept.dir = filepath.Join(runsDir, doc.Run)
	}
	folder, err := openRunFolder(kept.dir)
	if err != nil {
		return kept, err
	}
	defer folder.Close()

	var page bytes.Buffer
	if err := report.WritePage(&page, doc); err != nil {
		return kept, err
	}
	if err := folder.Write("page.html", page.Bytes()); err != nil {
		return kept, err
	}
	names := fileNames{}
	var sheets []workbook.Page
	for _, b := range doc.Blocks {
		switch b := b.(type) {
		case *document.Shown:
			if b.Table != nil {
				name := names.of(b.Name, b.Table.Name, "table")
				if err := writeTable(folder, name, b.Table); err != nil {
					return kept, err
				}
				sheets = append(sheets, workbook.Page{Name: name, Table: b.Table})
				kept.tables++
			}
		case *document.Figure:
			name := names.of(b.Name, "figure")
			if b.Table != nil {
				if err := writeTable(folder, name, b.Table); err != nil {
					return kept, err
				}
				sheets = append(sheets, workbook.Page{Name: name, Table: b.Table})
				kept.tables++
			}
			drawn, err := writePictures(folder, name, b)
			if err != nil {
				return kept, err
			}
			kept.pictures += drawn
		}
	}
	if err := writeWorkbook(folder, sheets); err != nil {
		return kept, err
	}
	for _, w := range out.Written {
		if err := folder.Write(w.Name, w.Data); err != nil {
			return kept, err
		}
	}
	kept.note, err = folder.Finish(kept.record)
	return kept, err
}

func writeTable(folder *runFolder, name string, t *table.Table) error {
	var b bytes.Buffer
	if err := table.WriteCSV(&b, t); err != nil {
		return err
	}
	return folder.Write(name+".csv", b.Bytes())
}

// tablesFile is the workbook of all of a run's tables.
const tablesFile = "tables.xlsx"

// writeWorkbook writes all tables as one workbook, which opens right wherever
// decimals stand behind a comma.
func writeWorkbook(folder *runFolder, sheets []workbook.Page) error {
	if len(sheets) == 0 {
		return nil
	}
	var b bytes.Buffer
	if err := workbook.Write(&b, sheets); err != nil {
		return err
	}
	return folder.Write(tablesFile, b.Bytes())
}

// writePictures writes a figure for other documents. A kind that only a page
// can show has none.
func writePictures(folder *runFolder, name string, f *document.Figure) (int, error) {
	if !figure.Drawable(f) {
		return 0, nil
	}
	for _, format := range []chart.Format{chart.SVG, chart.PNG} {
		data, err := chart.Write(f, format)
		if err != nil {
			return 0, err
		}
		if err := folder.Write(name+"."+string(format), data); err != nil {
			return 0, err
		}
	}
	return 1, nil
}

// fileNames gives each table and figure a file name of its own.
type fileNames map[string]bool

// of makes a file name from the first of these that gives one, with a number
// behind a name given twice.
func (n fileNames) of(names ...string) string {
	name := ""
	for _, candidate := range names {
		if name = window.FileName(candidate); name != "" {
			break
		}
	}
	free := name
	for k := 2; n[strings.ToLower(free)]; k++ {
		free = fmt.Sprintf("%s_%d", name, k)
	}
	n[strings.ToLower(free)] = true
	return free
}

// keepPartial writes the tables a stopped computation had, without a record: an
// unfinished run.
func (tty *terminal) keepPartial(j job, out *session.Outcome, dir string) {
	if len(out.Partial) == 0 {
		return
	}
	if dir == "" {
		dir = filepath.Join(runsDir, runName(version, j.Name, recordFiles(out.Files), recordParams(out.Params)))
	}
	folder, err := openRunFolder(dir)
	if err != nil {
		tty.printMessage(writeFailed(dir, err))
		return
	}
	defer folder.Close()
	for k, t := range out.Partial {
		if err := writeTable(folder, fmt.Sprintf("stopped_%d", k+1), t); err != nil {
			tty.printMessage(writeFailed(dir, err))
			return
		}
	}
	tty.PrintNote(tty.Clean("Kept     " + path.Join(filepath.ToSlash(dir), "stopped_1.csv") +
		", the points that were done"))
}
