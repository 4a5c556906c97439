package main

import (
	"regexp"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"thole/engine"
)

// version is the tool's, from the stamp of its build. It stands in records and in
// the names of runs; the engine has a mark of its own, made from the numbers it gives,
// which changes whenever they do.
var version = versionOf(debug.ReadBuildInfo())

// unreleased is the version of every build that is not of a tagged release: from
// a working tree, between two releases, or changed since. Its commit is left out,
// so that the same study gives the same bytes after a change that does not matter
// to it; where the equations differ, the engine's mark says so.
const unreleased = "unreleased"

var (
	released = regexp.MustCompile(`^v\d+\.\d+\.\d+(-[0-9A-Za-z.-]+)?$`)
	between  = regexp.MustCompile(`-(.*\.)?\d{14}-[0-9a-f]{12}$`) // as Go stamps a commit without a tag
)

func versionOf(build *debug.BuildInfo, stamped bool) string {
	if !stamped || !released.MatchString(build.Main.Version) || between.MatchString(build.Main.Version) {
		return unreleased
	}
	return strings.TrimPrefix(build.Main.Version, "v")
}

func versionCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "which thole this is, and which engine", Args: nothing,
		RunE: func(*cobra.Command, []string) error {
			return tty.Print("thole "+version,
				"engine "+engine.Fingerprint()+" (made from the numbers it gives: the same mark, the same "+
					"numbers)")
		},
	}
}
