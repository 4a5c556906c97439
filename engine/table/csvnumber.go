package table

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

func isBlank(c rune) bool {
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\u00a0' || c == '\u202f'
}

// number reads a cell: decimal point or comma, one of them in a whole CSV file;
// minutes and seconds where seconds are wanted. unit is the one written in the
// cell itself, else "".
func (r *reading) number(cell string, j int, want asked) (x float64, unit string, err *Error) {
	plain := strings.NewReplacer("\u2212", "-", "\u2013", "-").Replace(cell)
	comma, point := strings.Count(plain, ","), strings.Count(plain, ".")
	bad := func(why, type_ string) (float64, string, *Error) {
		return 0, "", r.atCell(j, fmt.Sprintf("%s %q is no number", plainName(want.name),
			shorten(cell)), why, type_)
	}
	if comma+point > 1 {
		return bad("a mark for thousands and one for decimals look alike",
			"the number without marks for thousands")
	}
	if comma+point == 1 {
		mark := byte('.')
		if comma == 1 {
			mark = ','
		}
		if r.decimals == 0 || r.sheet != "" { // a sheet's numbers have a point, its texts may have commas
			r.decimals, r.decimalsAt = mark, r.positions[j][0]
		}
		if r.decimals != mark {
			return bad(fmt.Sprintf("line %d has its decimals behind a %s, this one behind a %s",
				r.decimalsAt, markName(r.decimals), markName(mark)), "one of the two in the whole file")
		}
		if mark == ',' && r.example == "" {
			r.example = cell
		}
		if mark == '.' {
			r.thousands.see(plain)
		}
		plain = strings.Replace(plain, ",", ".", 1)
	}
	if want.unit == "s" && strings.Contains(plain, ":") {
		if x, unit, err := ParseQuantity(plain); err == nil && unit == "s" {
			return x, "", nil
		}
		return bad("minutes and seconds are written 1:52.6", "1:52.6 or 112.6")
	}
	if numberEnd(plain) == len(plain) {
		if x, err := strconv.ParseFloat(plain, 64); err == nil && !math.IsInf(x, 0) && !math.IsNaN(x) {
			return x, "", nil
		}
	}
	if end := numberEnd(plain); end > 0 && want.unit != "" {
		written := CanonicalUnit(plain[end:])
		if x, err := strconv.ParseFloat(plain[:end], 64); err == nil && KnownUnit(written) {
			inWanted, err := Convert(x, written, want.unit)
			if err != nil {
				return bad(err.Error(), fmt.Sprintf("the number in %s", want.unit))
			}
			is := ""
			if written != want.unit {
				is = fmt.Sprintf(" is %s %s", FourFigures(inWanted), want.unit)
			}
			r.forgiven.units.add(fmt.Sprintf("%q%s under %s, %s", cell, is, plainName(want.name), r.said(j)))
			return x, written, nil
		}
	}
	wanted := "a number"
	if want.unit != "" {
		wanted = "a number in " + want.unit
	}
	return bad(fmt.Sprintf("%s asks for %s; nothing at all is a blank", r.asker, wanted),
		"a number, or leave the cell empty")
}

// thousands looks whether every point in a file may be a mark for thousands: where ;
// stands between the cells, decimals usually stand behind a comma.
type thousands struct {
	example string // the first number that may be meant so
	not     bool   // one cannot: its points are decimals
}

var likeThousands = regexp.MustCompile(`^-?[1-9][0-9]{0,2}\.[0-9]{3}$`)

func (t *thousands) see(number string) {
	switch {
	case !likeThousands.MatchString(number):
		t.not = true
	case t.example == "":
		t.example = number
	}
}

func markName(mark byte) string {
	if mark == ',' {
		return "comma"
	}
	return "point"
}

func shorten(s string) string {
	if utf8.RuneCountInString(s) > 24 {
		return string([]rune(s)[:21]) + "..."
	}
	return s
}
