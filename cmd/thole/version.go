package main

import (
	"github.com/spf13/cobra"

	"thole/engine"
)

// version is the tool's. The engine has a mark of its own, made from its
// equations, which changes whenever they do.
const version = "1.0"

func versionCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "which thole this is, and which engine", Args: nothing,
		RunE: func(*cobra.Command, []string) error {
			return tty.Print("thole "+version, "engine "+engine.Mark()+" (made from its equations: the same mark, the same numbers)")
		},
	}
}
