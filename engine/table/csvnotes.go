package table

import (
	"fmt"
	"strings"
)

// notes say how the file was read, where that was not plain.
func (r *reading) notes(t *Table, wants []asked, place []int) []string {
	var notes []string
	separators := map[rune]string{';': "; between columns", '\t': "tabs between columns",
		',': ", between columns"}
	switch {
	case r.sheet == "" && r.decimals == ',' && r.example != "":
		point := strings.Replace(r.example, ",", ".", 1)
		notes = append(notes, fmt.Sprintf("read with %s and decimal commas (%s is %s)", separators[r.comma],
			r.example, point))
	case r.sheet == "" && r.comma != ',' && len(r.headers) > 1:
		notes = append(notes, "read with "+separators[r.comma])
	}
	if t := r.thousands; r.sheet == "" && r.comma == ';' && t.example != "" && !t.not {
		notes = append(notes, fmt.Sprintf("%s is read as %s; if %s is meant, write it without the point",
			t.example,
			strings.TrimRight(strings.TrimRight(t.example, "0"), "."),
			strings.Replace(t.example, ".", "", 1)))
	}
	if r.guessed {
		notes = append(notes, "read as Windows-1252, a guess: the file is no UTF-8; see whether accented "+
			"letters are right")
	}
	notes = append(notes, r.forgiven.notes()...)
	var order []string // units, as they first appear
	unsaid := map[string][]string{}
	used := map[int]bool{}
	for k, want := range wants {
		j := place[k]
		if j < 0 {
			continue
		}
		used[j] = true
		if !want.number || want.unit == "" {
			continue
		}
		h := r.headers[j]
		switch {
		case !h.has:
			if unsaid[want.unit] == nil {
				order = append(order, want.unit)
			}
			unsaid[want.unit] = append(unsaid[want.unit], strings.ReplaceAll(want.name, "_", " "))
		case h.unit != want.unit:
			if c := t.Column(want.name); c != nil {
				for i := range c.Len() {
					if !c.Blank(i) {
						back, _ := Convert(c.Nums[i], want.unit, h.unit)
						notes = append(notes, fmt.Sprintf("%s: %s %s is %s %s",
							strings.ReplaceAll(want.name, "_", " "), FourFigures(back), h.unit,
							FourFigures(c.Nums[i]), want.unit))
						break
					}
				}
			}
		}
	}
	if len(order) > 0 {
		parts := make([]string, len(order))
		for i, unit := range order {
			parts[i] = strings.Join(unsaid[unit], ", ") + " in " + unit
		}
		notes = append(notes, "units not written, so taken as the study asks: "+strings.Join(parts, ", "))
	}
	var left []string
	for j, h := range r.headers {
		if !used[j] && h.text != "" {
			left = append(left, h.text)
		}
	}
	if len(left) > 0 {
		notes = append(notes, "left out: "+strings.Join(left, ", "))
	}
	if t.Len() == 0 {
		notes = append(notes, "no lines beneath the names")
	}
	return notes
}
