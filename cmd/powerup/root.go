package main

import (
	"context"
	"fmt"
	"strings"

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

const rootExamples = `  powerup run --demo         the example radio, start to finish, no set needed
  powerup plan my-set.yaml   every reading with its window, before any is made
  powerup run                asks for your set and your bench, and begins`

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
		Args:          cobra.ArbitraryArgs,
		RunE:          noCommand,
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usage(err) })
	root.AddCommand(
		newDescribeCommand(w), newRunCommand(w), newResumeCommand(w), newPlanCommand(w), newVetCommand(), newVerifyCommand(w),
		newKeyCommand(w), newListCommand(w), newSolveCommand(), newVersionCommand(),
	)
	root.SuggestionsMinimumDistance = 2
	countArgsAsUsage(root)
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages", ".FlagUsagesWrapped 80"))
	root.SetHelpTemplate(root.HelpTemplate() + "\n" + exitHelp())
	return root
}

// noCommand is powerup with nothing, or with what is no command of it.
func noCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return c.Help()
	}
	err := fmt.Errorf("%q is no command of powerup", args[0])
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		err = fmt.Errorf("%w\nhint: did you mean %s?", err, strings.Join(near, " or "))
	}
	return usage(err)
}

// countArgsAsUsage makes too many or too few arguments an error of usage, in
// every command.
func countArgsAsUsage(c *cobra.Command) {
	if args := c.Args; args != nil {
		c.Args = func(c *cobra.Command, given []string) error {
			if err := args(c, given); err != nil {
				return usage(fmt.Errorf("%w\nhint: %s", err, c.UseLine()))
			}
			return nil
		}
	}
	for _, sub := range c.Commands() {
		countArgsAsUsage(sub)
	}
}
