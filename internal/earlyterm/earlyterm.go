// Package earlyterm answers a question before it is asked.
//
// The package init of github.com/charmbracelet/bubbletea v1 asks lipgloss
// whether the terminal's background is dark. Lipgloss asks the terminal and
// waits up to five seconds for an answer: in every command, the help too, where
// the terminal is silent, and with escape sequences in the output where it is
// not. An answer that was set beforehand is taken without asking. The screens
// carry their meaning in words, so the answer itself does not matter.
//
// Go initialises packages in the order of their import paths, each as soon as
// all that it imports is ready (The Go Programming Language Specification,
// "Program initialization"). This package must be ready before bubbletea is, so
//   - it imports nothing but lipgloss, which bubbletea imports as well;
//   - the module's path must sort before "github.com/charmbracelet/bubbletea",
//     as "example.com/powerup" does. A module path that sorts after it brings
//     the wait back.
//
// Package main imports this package for its init alone.
package earlyterm

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
