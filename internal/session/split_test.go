package session_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/session"
)

// A line with too few or too many readings is told how many, one as one.
func TestAWrongNumberOfReadingsIsCounted(t *testing.T) {
	one, two := session.Prompt{Fields: make([]session.Field, 1)}, session.Prompt{Fields: make([]session.Field, 2)}
	for _, c := range []struct {
		p          session.Prompt
		line, want string
	}{
		{one, "1 2", "1 reading is wanted and 2 were typed\nhint: "},
		{two, "1", "2 readings are wanted and 1 was typed\nhint: "},
		{two, "1 2 3", "2 readings are wanted and 3 were typed\nhint: "},
	} {
		if err := session.Split(c.p, c.line); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.line, err, c.want)
		}
	}
}
