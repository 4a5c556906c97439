package main

import (
	"regexp"
	"testing"
)

func TestWhatCanBePasted(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{quoted("quad.star"), "quad.star"},
		{quoted("my study.star"), "'my study.star'"},
		{quoted("it's"), `'it'\''s'`},
		{quoted(""), "''"},
		{quoted("area_now=800"), "area_now=800"},
		{quoted("note=a b"), "'note=a b'"},
		{quoted("$HOME"), "'$HOME'"},
		{rerun("quad.star", []string{"area_now=8dm2"}), "thole run quad.star --set area_now=8dm2"},
		{rerun("/home/somebody/quad.star", nil), "thole run quad.star"},
		{roundBetween(820, 600), "700"},
		{roundBetween(1, 2), "1.3"},
		{roundBetween(0.12, 0.13), "0.123"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	names := fileNames{}
	for _, want := range []string{"pieces", "Pieces_2", "table", "table_2"} {
		given := map[string]string{"pieces": "pieces", "Pieces_2": "Pieces", "table": "", "table_2": ""}[want]
		if got := names.of(given, "table"); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// The page of commands names each, with what is typed behind it.
func TestOverviewNamesAllCommands(t *testing.T) {
	for _, c := range commands(&terminal{}).Commands() {
		if !c.Hidden && c.Name() != "help" &&
			!regexp.MustCompile(`(?m)(^| )  `+c.Name()+`\b`).MatchString(commandList) {
			t.Errorf("the page of commands does not name %s", c.Name())
		}
	}
}
