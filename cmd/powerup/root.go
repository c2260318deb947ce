package main

import (
	"context"

	"github.com/spf13/cobra"
)

// run is the whole program with everything it touches handed in; it returns the
// exit code.
func run(w world) int {
	root := newRoot(w)
	root.SetArgs(w.args)
	root.SetIn(w.in)
	root.SetOut(w.out)
	root.SetErr(w.err)
	err := root.ExecuteContext(context.Background())
	if err != nil {
		complain(w.err, err)
	}
	return exitCode(err)
}

const rootExamples = `  powerup run --demo             the example radio, start to finish, no set needed
  powerup plan my-set.yaml       every reading with its window, before anything is touched
  powerup run my-set.yaml        your own set`

func newRoot(w world) *cobra.Command {
	root := &cobra.Command{
		Use:   "powerup",
		Short: "powerup takes a restored mains valve set through its first power-up",
		Long: `powerup walks the hour in which a restored valve set first sees the mains
again. It tells what each reading should be on this set, judges what was read
with the meter's own error, will not go on when a reading is dangerous, and
leaves a signed record. It is a guide for a person already able to work safely
with mains; your country's law and a licensed person's judgement come first.`,
		Example:       rootExamples,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usage(err) })
	root.AddCommand(
		newRunCommand(w), newResumeCommand(w), newPlanCommand(), newVetCommand(), newVerifyCommand(),
		newKeyCommand(w), newListCommand(), newVersionCommand(),
	)
	root.SetHelpTemplate(root.HelpTemplate() + "\n" + exitHelp())
	return root
}
