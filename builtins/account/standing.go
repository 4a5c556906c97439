package account

import (
	"slices"
	"strconv"
	"strings"

	"thole/engine/document"
	"thole/engine/hull"
	"thole/engine/sources"
)

// sectionOf tells where the model's chapter speaks of a thing that has defaults.
var sectionOf = map[string]int{"blade": 3, "oar": 4, "rower": 5, "crew": 5, "hull": 10, "water": 10,
	"air": 11, "rig": 12}

// foundation is the end of "How it was computed", in CommonMark: what the result stands
// on, where the model says more, and the sources of the defaults in use.
func (b *Book) foundation(assumptions []document.Assumption) string {
	used := sources.Used{Windy: b.windy}
	sections, cited := []int{6, 8}, ""
	for d := range b.inUse {
		if d.where == "hull" && slices.Contains(hull.Boats, d.of) && !slices.Contains(used.Boats, d.of) {
			used.Boats = append(used.Boats, d.of)
		}
		used.Bent = used.Bent || d.where == "oar" && d.name == "damping"
		if n := sectionOf[d.where]; n != 0 && !slices.Contains(sections, n) {
			sections = append(sections, n)
		}
	}
	slices.Sort(used.Boats)
	slices.Sort(sections)
	var out strings.Builder
	for _, sentence := range sources.Standing(used) {
		out.WriteString("\n\n" + sentence)
	}
	out.WriteString("\n\nThe equations: ")
	for i, n := range sections {
		if i > 0 {
			out.WriteString(", ")
		}
		out.WriteString("`thole help \"model " + strconv.Itoa(n) + "\"`")
	}
	out.WriteString(". The sources of what was taken for granted, and what was read of them:\n")
	for _, a := range assumptions {
		cited += a.Source + "\n"
	}
	for _, key := range sources.Cited(cited) {
		s, _ := sources.Find(key)
		name := s.Reference()
		if !strings.HasPrefix(name, key) {
			name = key + ": " + name
		}
		out.WriteString("\n- " + strings.ReplaceAll(name, "_", `\_`) + " (read: " + string(s.Read) + ")")
	}
	return out.String()
}
