package session

import (
	"errors"
	"fmt"
	"strconv"

	"example.com/powerup/internal/limits"
)

// Room tells the session how many bytes are free where its record is kept, for
// it asks nothing itself. Only what changes is recorded.
func (s *Session) Room(free uint64) Answered {
	var a Answered
	full := free < roomLeast()
	if full == s.full {
		return a
	}
	s.full = full
	a.record("room", "free", strconv.FormatUint(free, 10))
	if full {
		a.say("Disk", s.fullText())
	} else {
		a.say("Disk", "there is room for the record again")
	}
	return a
}

func roomLeast() uint64 { return uint64(limits.Lookup("record-room").Value.Value) }

// fullText says what a full disk means for the set as it is now.
func (s *Session) fullText() string {
	text := fmt.Sprintf("less than %d KiB are free where the record is kept: nothing is switched on until there is more", roomLeast()>>10)
	if s.state.Supply.Energised() {
		return text + ". The set is on: switch off now, plug out, Ctrl+C"
	}
	return text + ". Work on the dead set goes on, and the record can be closed or parked"
}

// promptRoom stands where mains would be asked for.
func (s *Session) promptRoom(block string) Prompt {
	return Prompt{ID: "room", Block: block, Rows: []Row{
		{"Disk", s.fullText()},
		{"Do", "leave the set off; make room where the record is kept"},
		{"Type", "? to look again, or park"},
	}}
}

// errNoRoom refuses mains where the record of what comes of it may have no room.
// With mains on already, what is read is still judged: a dangerous reading is
// told, whatever the disk.
var errNoRoom = errors.New("the disk is nearly full, and what is switched on must be on record\nhint: leave the set off, or switch it off now; make room where the record is kept, then ? to look again; or park")
