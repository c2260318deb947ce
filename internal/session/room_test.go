package session_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// least is the free room under which nothing is switched on.
func least() uint64 { return uint64(limits.Lookup("record-room").Value.Value) }

func rowsOf(rows []session.Row) string {
	var b strings.Builder
	for _, r := range rows {
		b.WriteString(r.Label + ": " + r.Text + "\n")
	}
	return b.String()
}

func TestNothingIsSwitchedOnWithAFullDisk(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("dead-ht/windings")
	if a := r.Room(least()); len(a.Records) > 0 {
		t.Errorf("just enough room is recorded: %v", a.Records)
	}
	if a := r.Room(least() - 1); len(a.Records) != 1 || a.Records[0].Fields["free"] != "1048575" || !strings.Contains(rowsOf(a.Rows), "less than 1024 KiB") {
		t.Errorf("a full disk is told as %+v", a)
	}
	if a := r.Room(10); len(a.Records) > 0 {
		t.Errorf("told twice: %v", a.Records)
	}
	r.Until("room") // dead work goes on
	if text := rowsOf(r.Prompt().Rows); !strings.HasPrefix(text, "Disk: less than 1024 KiB are free") || strings.Contains(text, "the set is on") {
		t.Errorf("mains is asked for without a word:\n%s", text)
	}
	a := r.Submit("power", r.Now)
	if got := rowsOf(a.Rows); r.State().Supply.Energised() || !strings.Contains(got, "leave the set off, or switch it off now") {
		t.Errorf("switched on: %s", got)
	}
	if last := a.Records[len(a.Records)-1]; last.Kind != "refused" {
		t.Errorf("the record says %+v", last)
	}
	r.Room(least())
	if text := rowsOf(r.Prompt().Rows); strings.Contains(text, "Disk") || !strings.Contains(text, "DANGER: MAINS ON") {
		t.Errorf("with room again:\n%s", text)
	}
	r.Say("power")
	if !r.State().Supply.Energised() {
		t.Error("with room again it is refused")
	}
}

// With mains on already nothing is raised any further, and a dangerous reading
// still stops.
func TestADiskThatFillsWithMainsOn(t *testing.T) {
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Until("ramp/ht-reservoir#50")
	a := r.Room(0)
	text := rowsOf(append(a.Rows, r.Prompt().Rows...))
	if !strings.Contains(text, "The set is on: switch off now") || strings.Contains(text, "Raise:") {
		t.Errorf("it says\n%s", text)
	}
	r.Say("115.0 22.80 400.0")
	if !r.Stopped() {
		t.Errorf("volts far over the window lead to %s", r.Prompt().ID)
	}
}

// A session with a full disk can be parked, and is played again from its record.
func TestARecordOfAFullDiskIsPlayedAgain(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	logged := []session.Logged{{Seq: 1, At: r.Now, Record: session.Record{Kind: "open"}}}
	add := func(a session.Answered) {
		for _, rec := range a.Records {
			logged = append(logged, session.Logged{Seq: len(logged) + 1, At: r.Now, Record: rec})
		}
	}
	s := session.New(p, "x", r.Now)
	add(s.Submit("same", r.Now))
	add(s.Room(0))
	add(s.Submit("unplugged", r.Now))
	add(s.Room(1 << 40))
	add(s.Room(7))
	add(s.Submit("n", r.Now))
	add(s.Submit("park", r.Now))
	if s.Result() != session.Parked {
		t.Fatalf("not parked: %v", s.Result())
	}
	again, err := session.Replay(p, "x", logged)
	if err != nil || len(again.Missing()) > 0 || again.Result() != session.Parked {
		t.Fatalf("not played again: %v", err)
	}
	if a := again.Room(8); len(a.Records) > 0 {
		t.Error("the replayed session has forgotten that the disk is full")
	}
	for why, free := range map[string]string{"no number": "much", "room, and there was room before": "2000000", "none": ""} {
		bad := append([]session.Logged{}, logged...)
		for i, l := range bad {
			if l.Kind == "room" {
				bad[i].Record = session.Record{Kind: "room", Fields: map[string]string{"free": free}}
				break
			}
		}
		if _, err := session.Replay(p, "x", bad); !errors.Is(err, session.ErrDiffers) {
			t.Errorf("%s: %v", why, err)
		}
	}
}
