package main

import (
	"runtime/debug"
	"testing"
)

func TestVersionIsTheBuildsStamp(t *testing.T) {
	for stamp, want := range map[string]string{
		"v1.2.0":                                  "1.2.0",
		"v2.0.0-rc.1":                             "2.0.0-rc.1",
		"v0.0.0-20261128105548-a3e49de00000":      unreleased,
		"v1.2.1-0.20261128105548-a3e49de00000":    unreleased,
		"v1.3.0-rc.0.20261128105548-a3e49de00000": unreleased,
		"v1.2.0+dirty":                            unreleased,
		"(devel)":                                 unreleased,
		"":                                        unreleased,
	} {
		if got := versionOf(&debug.BuildInfo{Main: debug.Module{Version: stamp}}, true); got != want {
			t.Errorf("%q: %q, want %q", stamp, got, want)
		}
	}
	if got := versionOf(nil, false); got != unreleased {
		t.Errorf("no stamp: %q", got)
	}
}
