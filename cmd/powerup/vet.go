package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/spec"
)

func newVetCommand() *cobra.Command {
	return &cobra.Command{
		Use: "vet FILE...", Short: "read files strictly and report everything that is wrong with them", Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return runVet(args, c.OutOrStdout(), c.ErrOrStderr()) },
	}
}

func runVet(args []string, out, errs io.Writer) error {
	bad := false
	for _, name := range args {
		text, err := os.ReadFile(name)
		if err != nil {
			return usage(err)
		}
		if err := vet(name, text); err != nil {
			complain(errs, err)
			bad = true
			continue
		}
		fmt.Fprintf(out, "%s: nothing wrong found\n", name)
	}
	if bad {
		return quiet{errUsage}
	}
	return nil
}

// vet loads a file by the kind its first key names.
func vet(name string, text []byte) error {
	var err error
	switch {
	case hasKey(text, "meter:"):
		_, err = spec.LoadMeter(name, text)
	case hasKey(text, "bench:"):
		_, err = spec.LoadBench(name, text)
	case hasKey(text, "procedure:"):
		_, err = spec.LoadProcedure(name, text)
	case hasKey(text, "answers:"):
		_, err = spec.LoadAnswers(name, text)
	default:
		_, err = spec.LoadSet(name, text)
	}
	return err
}

func hasKey(text []byte, key string) bool {
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, key) {
			return true
		}
	}
	return false
}
