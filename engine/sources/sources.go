// Package sources is the ledger: every text, table, list and rule that a
// default, a check, a caution or a line of help leans on, with what was read of
// it, and every number taken from it as it was printed.
//
// A source's key is the way it is cited, "Affeld et al. 1993", so that a
// comment, a help page and a study's page all read like a paper's references.
// A test walks the tree: a citation that is no key fails, and so does a key
// that nobody cites. What the project's notes do not tell (a title, a page, an
// identifier) is left blank: nothing here is made up to look complete.
package sources

import (
	"slices"
	"strconv"
	"strings"
)

// Read says what was read of a source before a number was taken from it.
type Read string

// From the source itself down to nothing at all.
const (
	Itself   Read = "the text itself"
	Partly   Read = "the text or its abstract" // our notes do not tell which
	Abstract Read = "its abstract only"
	Quoted   Read = "a second text that quotes it"
	Memory   Read = "nothing, from memory"
	Textbook Read = "nothing, the method is in every textbook"
	Unread   Read = "its opening only, nothing is taken from it"
)

// Source is one text, table, list or rule.
type Source struct {
	Key     string // as it is cited
	Authors string // all that are known, "et al." after the last known
	Year    int    // 0 where it is not known
	In      string // title, journal, publisher or body
	Volume  string // with the issue, "25(6)"
	Pages   string // pages, or the number of an article or a report
	DOI     string // blank where it is not known
	Read    Read
	For     string // what is taken from it, or leans on it
	Doubt   string // what speaks against it
}

// All gives the ledger in the order of the subjects: oar and blade, water and
// air, crew, rig and rules, trials, methods.
func All() []Source {
	return slices.Concat(oarAndBlade, waterAndAir, crew, rigAndRules, trials, methods)
}

// Find gives a source by its key.
func Find(key string) (Source, bool) {
	for _, s := range All() {
		if s.Key == key {
			return s, true
		}
	}
	return Source{}, false
}

// Keys gives every key, longest first, so that a search for them in a text finds
// "Grift, Tummers & Westerweel 2021" before a shorter one that it holds.
func Keys() []string {
	var keys []string
	for _, s := range All() {
		keys = append(keys, s.Key)
	}
	slices.SortStableFunc(keys, func(a, b string) int { return len(b) - len(a) })
	return keys
}

// Cited gives the keys that a text names, in the order of the ledger.
func Cited(text string) []string {
	found := map[string]bool{}
	for _, key := range Keys() {
		if strings.Contains(text, key) {
			found[key] = true
			text = strings.ReplaceAll(text, key, " ")
		}
	}
	var keys []string
	for _, s := range All() {
		if found[s.Key] {
			keys = append(keys, s.Key)
		}
	}
	return keys
}

// Reference is the whole citation: authors, year, where it appeared.
func (s Source) Reference() string {
	year := ""
	if s.Year != 0 {
		year = strconv.Itoa(s.Year)
	}
	text := strings.TrimSpace(s.Authors + " " + year)
	if text == "" {
		text = s.Key
	}
	if s.In != "" {
		text += ", " + s.In
	}
	switch {
	case s.Volume != "" && s.Pages != "":
		text += " " + s.Volume + ":" + s.Pages
	case s.Volume != "" || s.Pages != "":
		text += " " + s.Volume + s.Pages
	}
	if s.DOI != "" {
		text += ", doi " + s.DOI
	}
	return text
}
