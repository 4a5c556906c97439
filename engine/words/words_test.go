package words

import "testing"

func TestWordsAsASentenceNeedsThem(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Capital(""), ""},
		{Capital("drive time"), "Drive time"},
		{Capital("Oar"), "Oar"},
		{Capital("éclair"), "Éclair"},
		{Capital("4 oars"), "4 oars"},
		{List(nil), ""},
		{List([]string{"catch"}), "catch"},
		{List([]string{"catch", "finish"}), "catch and finish"},
		{List([]string{"catch", "drive", "finish"}), "catch, drive and finish"},
		{Plural(1, "line"), "line"},
		{Plural(0, "line"), "lines"},
		{Plural(2, "entry"), "entries"},
		{Cut("outboard", 8), "outboard"},
		{Cut("outboard", 7), "outb..."},
		{Cut("ωωωωω", 5), "ωωωωω"},
		{Cut("ωωωωωω", 5), "ωω..."},
		{Cut("outboard", 2), ".."},
		{Cut("outboard", -1), ""},
		{Spaced("peak_pin_force"), "peak pin force"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
