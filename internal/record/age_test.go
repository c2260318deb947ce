package record

import (
	"testing"
	"time"
)

func TestAgeInWords(t *testing.T) {
	t.Parallel()
	now := time.Date(2030, 3, 31, 9, 0, 0, 0, time.UTC)
	for _, c := range []struct{ reason, then, want string }{
		{"this morning", "2030-03-31T08:00:00Z", "today"},
		{"just after midnight", "2030-03-31T00:00:00Z", "today"},
		{"nine hours ago, and another day", "2030-03-30T23:59:59Z", "yesterday"},
		{"almost two days", "2030-03-30T00:00:00Z", "yesterday"},
		{"two days", "2030-03-29T23:00:00Z", "2 days ago"},
		{"three days", "2030-03-28T12:00:00Z", "3 days ago"},
		{"not yet weeks", "2030-03-18T12:00:00Z", "13 days ago"},
		{"weeks", "2030-03-17T12:00:00Z", "2 weeks ago"},
		{"five weeks and six days", "2030-02-18T12:00:00Z", "5 weeks ago"},
		{"a day short of three months", "2030-01-01T12:00:00Z", "12 weeks ago"},
		{"three months", "2029-12-31T12:00:00Z", "3 months ago"},
		{"a day short of two years", "2028-04-01T12:00:00Z", "23 months ago"},
		{"two years", "2028-03-31T12:00:00Z", "2 years ago"},
		{"a day short of three", "2027-04-01T12:00:00Z", "2 years ago"},
		{"a clock that is a minute ahead", "2030-03-31T09:01:00Z", "today"},
		{"ahead by more than a clock is put right by", "2030-03-31T09:02:01Z", "in the future"},
		{"next year", "2031-01-01T00:00:00Z", "in the future"},
	} {
		then, err := time.Parse(time.RFC3339, c.then)
		if err != nil {
			t.Fatal(err)
		}
		if got := Age(then, now); got != c.want {
			t.Errorf("%s: %q, want %q", c.reason, got, c.want)
		}
	}
}

// Days are those of the place where the age is told.
func TestAgeGoesByTheCalendarOfThePlace(t *testing.T) {
	t.Parallel()
	then := time.Date(2030, 1, 2, 23, 30, 0, 0, time.UTC)
	now := then.Add(20 * time.Minute)
	if got := Age(then, now); got != "today" {
		t.Errorf("in UTC: %q", got)
	}
	east := time.FixedZone("east", 15*60) // where midnight fell between the two
	if got := Age(then, now.In(east)); got != "yesterday" {
		t.Errorf("east of it: %q", got)
	}
}
