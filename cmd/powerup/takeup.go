package main

import (
	"errors"
	"fmt"

	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// takeUp makes a session again from the lines of an open record, to go on with it.
// Under other rules it never does: what was judged and what is to be judged would
// not agree. Another version of the program goes on where every line follows again
// word for word.
func takeUp(lines []transcriptlog.Line, path, command string) (*job, *session.Session, error) {
	if len(lines) > 0 && makerOf(lines).rules != thisProgram().rules {
		err := usage(fmt.Errorf("%s was made with other rules, and no session goes on under two", path))
		return nil, nil, notTakenUp(err, makerOf(lines), path, command)
	}
	j, s, err := rebuild(lines, path)
	if errors.Is(err, session.ErrDiffers) {
		err = notTakenUp(err, makerOf(lines), path, command)
	}
	return j, s, err
}

// notTakenUp says what to do with a record that this program cannot go on with.
func notTakenUp(err error, made maker, path, command string) error {
	if made.other() != "" {
		err = fmt.Errorf("%w\nhint: it was made by %s, and this is %s: finish it with that one", err, made, thisProgram())
	}
	return fmt.Errorf("%w\nhint: nothing is added to it; %[2]s verify %[3]s shows what is in it, and %[2]s run begins anew, from nothing known", err, command, shell(path))
}

// followed says that a record of another version of the program is gone on with;
// empty: it is this version's own.
func followed(lines []transcriptlog.Line) string {
	made := makerOf(lines)
	if made.program == version() {
		return ""
	}
	return fmt.Sprintf("made by %s, and this is %s: all %d lines follow again, word for word", made.named(), thisProgram().named(), len(lines))
}
