package record

import (
	"fmt"
	"time"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/transcriptlog"
)

// Age is how long ago something was, in words, by the days of the calendar where
// now is told.
func Age(then, now time.Time) string {
	then = then.In(now.Location())
	if ahead(then, now) {
		return "in the future"
	}
	switch days := day(now) - day(then); {
	case days <= 0:
		return "today"
	case days == 1:
		return "yesterday"
	case days < 14:
		return fmt.Sprintf("%d days ago", days)
	}
	months := (now.Year()-then.Year())*12 + int(now.Month()-then.Month())
	if now.Day() < then.Day() {
		months--
	}
	switch {
	case months < 3:
		return fmt.Sprintf("%d weeks ago", (day(now)-day(then))/7)
	case months < 24:
		return fmt.Sprintf("%d months ago", months)
	}
	return fmt.Sprintf("%d years ago", months/12)
}

// ahead tells whether an instant lies further in the future than a clock is put
// right by.
func ahead(then, now time.Time) bool { return then.Sub(now) > seconds("wall-jump") }

// setBack is how far the clock on the wall was set back between two lines, by the
// other clock, which nobody can set. That begins anew with each program: from one
// to the next nothing is known but that time does not run backwards.
func setBack(before, l transcriptlog.Line) time.Duration {
	return max(0, l.Mono-before.Mono) - l.Time.Sub(before.Time)
}

// day counts the days of the calendar.
func day(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

// seconds is a figure of the limits as a time.
func seconds(id string) time.Duration {
	return time.Duration(limits.Lookup(id).Value.Value * float64(time.Second))
}
