package main

import (
	"context"
	"fmt"
	"strings"

	"example.com/powerup/internal/console"
)

// asker gives the way in which single questions are asked: a form where there is a
// terminal for one, else line by line. Both hold an answer against the same check.
func asker(w world, plain bool) func(context.Context, console.Question) (string, error) {
	if !plain && w.forms() {
		return func(ctx context.Context, q console.Question) (string, error) {
			answers, err := w.ask(ctx, console.Page{Title: leavingKeeps, Questions: []console.Question{q}})
			return answers[q.Key], err
		}
	}
	in := console.NewReader(w.in)
	return func(ctx context.Context, q console.Question) (string, error) { return askLine(ctx, w, in, q) }
}

const leavingKeeps = "Ctrl+C leaves."

// askLine asks until an answer passes its check.
func askLine(ctx context.Context, w world, in *console.Reader, q console.Question) (string, error) {
	for {
		fmt.Fprintln(w.out)
		console.PrintRow(w.out, "Asked", q.Title)
		console.PrintRow(w.out, "", q.Help)
		fmt.Fprint(w.out, "> ")
		answer, err := stoppable(ctx, in.Line)
		if err != nil {
			fmt.Fprintln(w.out)
			return "", err
		}
		answer = strings.TrimSpace(answer)
		if !w.interactive() {
			console.PrintRow(w.out, answer, "")
		}
		if err = q.Answerable(answer); err == nil {
			return answer, nil
		}
		what, hint, _ := strings.Cut(err.Error(), "\nhint: ")
		console.PrintRow(w.out, "Not taken", what)
		if hint != "" {
			console.PrintRow(w.out, "", hint)
		}
	}
}
