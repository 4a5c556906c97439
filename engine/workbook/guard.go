package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"

	"thole/engine/table"
)

// Limits of a workbook: far above any club's registers.
const (
	MaxBytes    = 16 << 20 // as it lies on the disk
	MaxUnpacked = 64 << 20 // all its parts together
	MaxParts    = 2_000
)

// compound begins the files of older spreadsheets, and of workbooks with a
// password ([MS-CFB] 2.2, header signature).
var compound = []byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}

// encrypted names the stream that holds a workbook with a password, in UTF-16
// ([MS-OFFCRYPTO] 2.3.4.4).
var encrypted = []byte("E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00")

// guard refuses what is no plain workbook, by its first bytes and the list of its
// parts: nothing is unpacked.
func guard(file string, data []byte) error {
	refuse := func(what, why, typ string) error {
		return &table.Error{What: what, Why: why, Type: typ, File: file}
	}
	const asXLSX = "in the spreadsheet: save as, workbook (.xlsx)"
	switch {
	case len(data) == 0:
		return refuse("the file is empty", "there is no workbook in it", asXLSX)
	case len(data) > MaxBytes:
		return refuse(fmt.Sprintf("the workbook is %.1f MB; at most %d MB are read",
			float64(len(data))/(1<<20),
			MaxBytes>>20), "registers of every club in the world would fit",
			"a workbook with the registers only")
	case bytes.HasPrefix(data, compound) && bytes.Contains(data, encrypted):
		return refuse("the workbook has a password", "thole reads what anyone may read, and asks for none",
			"in the spreadsheet: take the password off, and save")
	case bytes.HasPrefix(data, compound):
		return refuse("this is a workbook of the older kind, .xls", "only .xlsx workbooks are read", asXLSX)
	}
	parts, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		why := "it is cut short, or something else that is only called so"
		if !bytes.HasPrefix(data, []byte("PK")) {
			why = "a workbook begins with PK; this may be a CSV file, which read_csv reads"
		}
		return refuse("this is no .xlsx workbook", why, asXLSX)
	}
	if len(parts.File) > MaxParts {
		return refuse(fmt.Sprintf("the workbook has %d parts; at most %d are read", len(parts.File),
			MaxParts),
			"no register has so many sheets", "a workbook with the registers only")
	}
	var unpacked uint64
	book := false
	for _, part := range parts.File {
		unpacked += part.UncompressedSize64
		name := strings.ToLower(part.Name)
		switch {
		case unpacked > MaxUnpacked:
			return refuse(fmt.Sprintf("unpacked, the workbook would have more than %d MB", MaxUnpacked>>20),
				"so much in so small a file is no register, or a sheet has a million lines",
				"a workbook with the lines of this study only")
		case strings.HasSuffix(name, "vbaproject.bin"):
			return refuse("the workbook has macros", "a register holds numbers and runs nothing", asXLSX)
		case name == "mimetype":
			return refuse("this is a workbook of another kind, .ods", "only .xlsx workbooks are read", asXLSX)
		case name == "xl/workbook.xml":
			book = true
		}
	}
	if !book {
		return refuse("this is no .xlsx workbook", "it is packed like one, but holds no sheets", asXLSX)
	}
	return nil
}
