package engine

// Kind names an event. The zero value is none of them and is refused.
type Kind uint8

// The events.
const (
	_         Kind = iota
	Read           // the owed slot was read and judged
	Leave          // the owed slot is left unread
	Agree          // a second reading by another meter, way or after five flat minutes agrees with the query
	Accept         // somebody answers for the query
	Free           // the hold is released
	Power          // mains goes to the set
	Off            // the plug is out; nothing is proved
	Prove          // a line of a proof was read and judged
	ProveNode      // what a test charged was read and judged
	Elapsed        // a deadline has passed
	Alter          // something was changed that the procedure did not ask for
	Mend           // cause and repair of a stop are recorded
	Interrupt      // a new session on an old record
	Abort          // somebody pressed stop, the line went dead, the disk is full
	Done           // the record is closed
	Retract        // what was typed for a slot was wrong: it is read again
	ClipOn         // a shorting clip was put on the HT line
	ClipOff        // it was taken off, and the line was read and judged
)

// Timer names a deadline. Step knows no instant: that one has passed is an event.
type Timer uint8

// ProofOver: 15 min without an entry or 60 min in all while dead. LiveIdle:
// 30 min without an entry while energised. DayOver: 24 h, or the clock jumped.
// MinWait: the wait before the owed slot is over.
const (
	ProofOver Timer = iota
	LiveIdle
	DayOver
	MinWait
)

// Role is who answers for a query. The zero value is the one who measured.
type Role uint8

// The person who measured, and anybody else.
const (
	Measurer Role = iota
	Another
)

// Event is one thing that happened, already judged. The zero Event is refused.
type Event struct {
	Kind    Kind
	Verdict Verdict
	Proof   Proof // Prove: HalfProof, LeadProof or FullProof is what it would give
	Timer   Timer
	By      Role
	Class   Class
	Slot    int  // Retract: which
	Absent  bool // Leave: the set has no such part
	Weak    bool // Read: the window came from typical values
	Doubt   bool // Mend: nothing was wrong with the set, a lead or contact was
}
