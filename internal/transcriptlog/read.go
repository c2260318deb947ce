package transcriptlog

import (
	"bytes"
	"crypto/sha256"
	"fmt"
)

// Ending says how a transcript ends. The zero value is the worst.
type Ending uint8

// Endings. FORMAT.md, "Reading", defines them.
const (
	Broken        Ending = iota // a line is bad; see BadLine
	Open                        // no close line yet
	RecoveredOpen               // no close line, and a torn tail now or earlier
	Complete                    // closed; the signature is another question
)

// String is the word that is shown.
func (e Ending) String() string {
	switch e {
	case Open:
		return "OPEN"
	case RecoveredOpen:
		return "RECOVERED"
	case Complete:
		return "COMPLETE"
	}
	return "BROKEN"
}

// Transcript is what Read found. If it is Broken, BadLine is the place of the
// first bad line (0: the file as a whole) and Lines are those before it, the
// last of which may itself be the one that was changed: fit to be shown, never
// to be relied on. Notes are whole sentences for people.
type Transcript struct {
	Lines   []Line
	Ending  Ending
	BadLine int
	Reason  string
	Notes   []string
}

// Namespace is the one namespace in which this transcript can be signed: by its
// practice mark if it is Complete, else none ("").
func (t Transcript) Namespace() string {
	switch {
	case t.Ending != Complete:
		return ""
	case t.Lines[0].Practice:
		return NamespacePractice
	}
	return NamespaceReal
}

// Read checks the chain and every line of a transcript, strictly: a line that
// Append would not have written is refused. It does not look at a signature.
func Read(b []byte) Transcript {
	t, _ := read(b)
	return t
}

// read also says where the whole lines end and what the next one must carry.
func read(b []byte) (Transcript, head) {
	var r reader
	if len(b) > MaxFile {
		return r.broken(0, tooLarge)
	}
	r.text = string(b)
	for r.size < len(b) {
		rest := b[r.size:]
		n := bytes.IndexByte(rest, '\n')
		tail := n < 0
		if tail {
			n = len(rest)
		}
		switch {
		case r.closed:
			return r.broken(r.lines+1, "bytes after the close line")
		case n > MaxLine:
			return r.broken(r.lines+1, tooLong)
		case tail:
			return r.end(n)
		}
		if fault := r.take(rest[:n]); fault != "" {
			return r.broken(r.lines+1, fault)
		}
	}
	return r.end(0)
}

// reader goes through a file line by line.
type reader struct {
	text string // the file; the strings of all lines are parts of it
	head
	t      Transcript
	buffer []byte
}

// take reads the next line and says what is wrong with it.
func (r *reader) take(raw []byte) (fault string) {
	if r.lines >= MaxLines {
		return "more than 100 000 lines"
	}
	l, buffer, err := decodeLine(r.text[r.size:r.size+len(raw)], r.buffer)
	r.buffer = buffer
	switch {
	case err != nil:
		return err.Error()
	case l.Seq != r.lines+1 || l.Prev != r.prev:
		return doesNotFollow(r.lines + 1)
	case r.lines == 0 && notFirst(l.Kind) != "":
		return notFirst(l.Kind)
	case r.lines == 0 && otherFormat(l.Fields):
		return fmt.Sprintf("format %.20q is not known", l.Fields["format"])
	case r.lines > 0 && l.Practice != r.t.Lines[0].Practice:
		return otherMark
	case !tellsOfTear(l.Kind, l.Fields):
		return halfTold
	}
	r.t.Lines = append(r.t.Lines, l)
	r.head = r.next(raw, l.Kind)
	return ""
}

// otherFormat tells whether line 1 names a format that is not this one.
func otherFormat(fields map[string]string) bool {
	name, named := fields["format"]
	return named && name != Format
}

// broken is the end of reading at a bad line.
func (r *reader) broken(line int, reason string) (Transcript, head) {
	r.t.Ending, r.t.BadLine, r.t.Reason, r.t.Notes = Broken, line, reason, nil
	return r.t, r.head
}

// end judges how a transcript without a bad line ends, with so many bytes torn.
func (r *reader) end(torn int) (Transcript, head) {
	if r.lines == 0 {
		return r.broken(1, "no whole line")
	}
	recovered := r.noteRecoveries()
	if torn > 0 {
		r.note("the last %d bytes have no line feed: a torn write, no line", torn)
	}
	switch {
	case r.closed:
		r.t.Ending = Complete
		return r.t, r.head
	case torn > 0 || recovered:
		r.t.Ending = RecoveredOpen
	default:
		r.t.Ending = Open
	}
	r.note("not closed: whoever holds the file can cut it back to any earlier line unseen")
	return r.t, r.head
}

func (r *reader) noteRecoveries() (any bool) {
	for _, l := range r.t.Lines {
		if l.Kind == KindRecovered {
			any = true
			r.note("line %d: a torn write of %s bytes before it was kept aside in %q",
				l.Seq, l.Fields[fieldTornBytes], l.Fields[fieldTornFile])
		}
	}
	return any
}

func (r *reader) note(format string, a ...any) {
	r.t.Notes = append(r.t.Notes, fmt.Sprintf(format, a...))
}

// head is where a chain stands: what the next line must carry.
type head struct {
	lines  int
	size   int      // bytes of all whole lines
	prev   [32]byte // SHA-256 of the last line; zero if there is none
	closed bool
}

// next is the head after a line.
func (h head) next(raw []byte, kind string) head {
	return head{
		lines:  h.lines + 1,
		size:   h.size + len(raw) + 1,
		prev:   sha256.Sum256(raw),
		closed: kind == KindClose,
	}
}
