package transcriptlog

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

// validity is from when and until when a row of a signers file is good, both
// ends with it; zero: no limit.
type validity struct{ after, before time.Time }

func (v validity) limited() bool { return !v.after.IsZero() || !v.before.IsZero() }

// holds tells whether an instant, in whole seconds as OpenSSH has them, lies
// within. If nobody said when, no limit holds.
func (v validity) holds(at time.Time) bool {
	if !v.limited() {
		return true
	}
	at = at.Truncate(time.Second)
	return !at.IsZero() && !at.Before(v.after) && (v.before.IsZero() || !at.After(v.before))
}

func (v validity) String() string {
	var parts []string
	if !v.after.IsZero() {
		parts = append(parts, "from "+inUTC(v.after))
	}
	if !v.before.IsZero() {
		parts = append(parts, "until "+inUTC(v.before))
	}
	return strings.Join(parts, " ")
}

// options are the dates as options of a row, each after a comma.
func (v validity) options() (text string) {
	const layout = "20060102150405Z"
	if !v.after.IsZero() {
		text += fmt.Sprintf(",valid-after=%q", v.after.UTC().Format(layout))
	}
	if !v.before.IsZero() {
		text += fmt.Sprintf(",valid-before=%q", v.before.UTC().Format(layout))
	}
	return text
}

func inUTC(t time.Time) string { return t.UTC().Format("2006-01-02 15:04:05") + " UTC" }

// instantText is a date and time as OpenSSH writes it, without separators.
var instantText = regexp.MustCompile(`^([0-9]{8}|[0-9]{12}|[0-9]{14})((?i)Z|UTC)?$`)

// parseInstant reads a date or time. Without Z it is that of a clock on the
// wall, and in summer there are two readings of it: the hour that the clock
// shows, and the hour without summer time, which OpenSSH 9.2 takes. A limit has
// to hold by both.
func parseInstant(text string, zone *time.Location) (early, late time.Time, err error) {
	m := instantText.FindStringSubmatch(text)
	if m == nil {
		return early, late, fmt.Errorf("%.40q is no date or time: want YYYYMMDD, YYYYMMDDHHMM or YYYYMMDDHHMMSS, and a Z behind it for UTC", text)
	}
	const layout = "20060102150405"
	at, err := time.Parse(layout[:len(m[1])], m[1])
	if err != nil {
		return early, late, fmt.Errorf("%q is no day and hour of the calendar", text)
	}
	if at.Year() < 1971 {
		return early, late, fmt.Errorf("%q is before 1971: OpenSSH takes no second up to 0", text)
	}
	if m[2] != "" {
		return at, at, nil
	}
	shown := time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Second(), 0, zone)
	plain := at.Add(-standardOffset(at.Year(), zone))
	if plain.Before(shown) { // where summer time is the standard, as in Ireland
		return plain, shown, nil
	}
	return shown, plain, nil
}

// standardOffset is how far a zone is ahead of UTC in that year without summer
// time.
func standardOffset(year int, zone *time.Location) time.Duration {
	t := time.Date(year, time.January, 1, 0, 0, 0, 0, zone)
	if t.IsDST() {
		t = time.Date(year, time.July, 1, 0, 0, 0, 0, zone)
	}
	_, seconds := t.Zone()
	return time.Duration(seconds) * time.Second
}
