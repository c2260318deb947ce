package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/checks"
)

// version is what the build says of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

func newVersionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "print the program's and the rules' version", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := fmt.Fprintf(c.OutOrStdout(), "powerup %s, rules %d\n", version(), checks.RulesVersion)
			return err
		},
	}
}
