package transcriptlog

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestReadGivesBackWhatWasAppended(t *testing.T) {
	for _, practice := range []bool{false, true} {
		got := Read(encode(t, practice, records()...))
		if got.Ending != Complete || got.BadLine != 0 || got.Reason != "" || len(got.Notes) != 0 {
			t.Fatalf("got %v, line %d, %q, %q", got.Ending, got.BadLine, got.Reason, got.Notes)
		}
		for i, r := range records() {
			want := Line{Seq: i + 1, Practice: practice, Time: stamp(i).Wall, Mono: stamp(i).Mono, Kind: r.Kind, Fields: r.Fields}
			want.Prev = got.Lines[i].Prev
			if !sameLine(got.Lines[i], want) {
				t.Errorf("line %d: got %+v, want %+v", i+1, got.Lines[i], want)
			}
		}
	}
}

// prev is the SHA-256 of the raw line before without its line feed (FIPS 180-4,
// by the Go library, over the bytes of the file and not through our reader).
func TestPrevIsTheHashOfTheRawLine(t *testing.T) {
	rows := lines(encode(t, false, records()...))
	for i, row := range rows {
		want := strings.Repeat("0", 64)
		if i > 0 {
			sum := sha256.Sum256([]byte(rows[i-1]))
			want = hex.EncodeToString(sum[:])
		}
		if got := row[9:73]; got != want { // the fixed place that FORMAT.md gives
			t.Errorf("line %d: prev is %s, want %s", i+1, got, want)
		}
		if row[81] != byte('1'+i) {
			t.Errorf("line %d: seq does not begin at byte 81: %s", i+1, row[:90])
		}
	}
}

func TestZeroTranscriptIsBroken(t *testing.T) {
	var z Transcript
	if z.Ending != Broken || z.Ending.String() != "BROKEN" || z.Namespace() != "" {
		t.Errorf("the zero transcript is %v, signed in %q", z.Ending, z.Namespace())
	}
	if got := Ending(99).String(); got != "BROKEN" {
		t.Errorf("an ending that does not exist is shown as %s", got)
	}
}

func TestNamespaceIsThatOfThePracticeMark(t *testing.T) {
	whole, practice := encode(t, false, records()...), encode(t, true, records()...)
	for _, c := range []struct {
		why  string
		file []byte
		want string
	}{
		{"a closed real session", whole, NamespaceReal},
		{"a closed practice session", practice, NamespacePractice},
		{"an open session", whole[:lineEnds(whole)[3]], ""},
		{"a torn session", whole[:len(whole)-1], ""},
		{"a broken session", whole[1:], ""},
	} {
		if got := Read(c.file).Namespace(); got != c.want {
			t.Errorf("%s: got %q, want %q", c.why, got, c.want)
		}
	}
}

// A file cut anywhere is never COMPLETE, and keeps every line that is whole.
func TestEveryTruncation(t *testing.T) {
	whole := encode(t, false, records()...)
	ends := lineEnds(whole)
	for n := range whole {
		got := Read(whole[:n])
		full := 0
		for full < len(ends) && ends[full] <= n {
			full++
		}
		want := RecoveredOpen
		switch {
		case full == 0:
			want = Broken
		case ends[full-1] == n:
			want = Open
		}
		if got.Ending != want || len(got.Lines) != full {
			t.Errorf("cut to %d bytes: %v with %d lines, want %v with %d", n, got.Ending, len(got.Lines), want, full)
		}
		if err := CheckChain(whole[:n], 2); (err == nil) != (want == Open) {
			t.Errorf("cut to %d bytes: chain %v", n, err)
		}
	}
}

// Every change of a byte before the last line breaks the chain, named at the
// line itself or the one after; in the last line only the signature sees it.
func TestEveryChangedByteBeforeTheLastLine(t *testing.T) {
	whole := encode(t, false, records()...)
	ends := lineEnds(whole)
	last := ends[len(ends)-2]
	line := 1
	for i := range whole[:last] {
		if i == ends[line-1] {
			line++
		}
		for _, mask := range []byte{0x01, 0x02, 0x04, 0x08, 0x10, 0x20, 0x40, 0x80, 0xff} {
			b := bytes.Clone(whole)
			b[i] ^= mask
			got := Read(b)
			if got.Ending != Broken || got.BadLine != line && got.BadLine != line+1 {
				t.Fatalf("byte %d ^ %#x (line %d): %v, line %d, %q", i, mask, line, got.Ending, got.BadLine, got.Reason)
			}
			if i == last-1 { // the last two lines became one, which nothing follows: Read's to find
				continue
			}
			if err := CheckChain(b, 1+i%3); !errors.Is(err, ErrBroken) {
				t.Fatalf("byte %d ^ %#x (line %d): the chain still follows: %v", i, mask, line, err)
			}
		}
	}
}

// Lines taken out, doubled, moved: all are found, and the first place is named.
func TestEveryLineRemovedDoubledSwapped(t *testing.T) {
	rows := lines(encode(t, false, records()...))
	file := func(rows ...[]string) []byte {
		var all []string
		for _, r := range rows {
			all = append(all, r...)
		}
		return []byte(strings.Join(all, "\n") + "\n")
	}
	broken := func(what string, b []byte, line int) {
		t.Helper()
		got := Read(b)
		if got.Ending != Broken || got.BadLine != line {
			t.Errorf("%s: %v, line %d, %q; want line %d", what, got.Ending, got.BadLine, got.Reason, line)
		}
		if err := CheckChain(b, 2); !errors.Is(err, ErrBroken) {
			t.Errorf("%s: the chain still follows", what)
		}
	}
	n := len(rows)
	for i := range rows[:n-1] {
		broken("removed", file(rows[:i], rows[i+1:]), i+1)
		broken("doubled", file(rows[:i+1], rows[i:]), i+2)
		for j := i + 1; j < n; j++ {
			swapped := append([]string(nil), rows...)
			swapped[i], swapped[j] = swapped[j], swapped[i]
			broken("swapped", file(swapped), i+1)
		}
	}
	broken("doubled last", file(rows, rows[n-1:]), n+1)
}

func TestBoundsOfReading(t *testing.T) {
	long := func(n int) []byte { // a file whose line 2 has n bytes
		short := len(lines(second("4k7", ""))[1])
		return second("4k7", strings.Repeat("x", n-short))
	}
	if got := Read(long(MaxLine)); got.Ending != Complete {
		t.Errorf("a line of 1 MiB is refused: %s", got.Reason)
	}
	got := Read(long(MaxLine + 1))
	if got.Ending != Broken || got.BadLine != 2 || got.Reason != "longer than 1 MiB" {
		t.Errorf("a line of 1 MiB and a byte: %v, line %d, %q", got.Ending, got.BadLine, got.Reason)
	}
	tail := append(bytes.Clone(long(MaxLine)[:lineEnds(second("", ""))[0]]), bytes.Repeat([]byte("x"), MaxLine+1)...)
	if got := Read(tail); got.Ending != Broken || got.Reason != "longer than 1 MiB" {
		t.Errorf("a torn tail longer than a line: %v, %q", got.Ending, got.Reason)
	}
	for _, b := range [][]byte{long(MaxLine + 1), tail} {
		if err := CheckChain(b, 2); !errors.Is(err, ErrBroken) {
			t.Errorf("the chain takes a line that is too long: %v", err)
		}
	}
	huge := make([]byte, MaxFile+1)
	if got := Read(huge); got.Ending != Broken || got.BadLine != 0 || got.Reason != tooLarge {
		t.Errorf("a file that is too long: %v, line %d, %q", got.Ending, got.BadLine, got.Reason)
	}
	if err := CheckChain(huge, 2); !errors.Is(err, ErrBroken) {
		t.Errorf("the chain of a file that is too long: %v", err)
	}
}

func TestAtMost100000Lines(t *testing.T) {
	recs := make([]Record, 1000)
	for i := range recs {
		recs[i].Kind = "note"
	}
	var b []byte
	var h head
	for range MaxLines / len(recs) {
		var err error
		if b, h, err = h.extend(b, false, stamp(0), recs); err != nil {
			t.Fatal(err)
		}
	}
	if got := Read(b); got.Ending != Open || len(got.Lines) != 100_000 {
		t.Fatalf("100 000 lines: %v, %q", got.Ending, got.Reason)
	}
	if err := CheckChain(b, 2); err != nil {
		t.Fatal(err)
	}
	if _, _, err := h.extend(nil, false, stamp(0), recs[:1]); err == nil {
		t.Error("line 100 001 is written")
	}
	more := h
	more.lines = 1 // the writer believes that there is room
	tail, _, err := more.extend(nil, false, stamp(0), recs[:1])
	if err != nil {
		t.Fatal(err)
	}
	b = append(b, bytes.Replace(tail, []byte(`"seq":2`), []byte(`"seq":100001`), 1)...)
	if got := Read(b); got.Ending != Broken || got.Reason != "more than 100 000 lines" {
		t.Errorf("line 100 001 is read: %v, %q", got.Ending, got.Reason)
	}
	if err := CheckChain(b, 2); !errors.Is(err, ErrBroken) {
		t.Errorf("line 100 001 is in the chain: %v", err)
	}
}

func TestNotesSayWhatIsNotKnown(t *testing.T) {
	whole := encode(t, false, records()...)
	got := Read(whole[:len(whole)-10])
	text := strings.Join(got.Notes, "\n")
	for _, want := range []string{"have no line feed", "cut it back to any earlier line"} {
		if !strings.Contains(text, want) {
			t.Errorf("the notes do not say %q: %q", want, text)
		}
	}
	told := "line 2: a torn write of 9 bytes before it was kept aside in \"a.torn-1\""
	if got := Read(rawLines(openLine, torn2, lastLine)).Notes; len(got) != 1 || !strings.Contains(got[0], told) {
		t.Errorf("a recovery is not noted: %q", got)
	}
}

// The pieces that are checked side by side give the same answer as one alone,
// and as the strict reader, wherever a byte is changed.
func TestChainInPiecesIsTheChain(t *testing.T) {
	recs := make([]Record, 40)
	for i := range recs {
		recs[i] = Record{Kind: "note", Fields: map[string]string{"text": strings.Repeat("x", i%7*30)}}
	}
	whole := encode(t, false, recs...)
	rapid.Check(t, func(t *rapid.T) {
		b := bytes.Clone(whole)
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			b[rapid.IntRange(0, len(b)-1).Draw(t, "at")] ^= rapid.Byte().Draw(t, "mask")
		}
		b = b[:len(b)-rapid.SampledFrom([]int{0, 0, 0, 1, 50, len(b) - 1}).Draw(t, "cut")]
		one := CheckChain(b, 1)
		for _, workers := range []int{2, 3, 7, 40, 1000} {
			many := CheckChain(b, workers)
			if (one == nil) != (many == nil) || one != nil && one.Error() != many.Error() {
				t.Fatalf("%d workers say %v, one says %v", workers, many, one)
			}
		}
		if strict := Read(b); strict.Ending == Open && one != nil {
			t.Fatalf("Read takes it, CheckChain says %v", one)
		}
	})
}

// FuzzRead: nothing panics, and what is taken is the one spelling of itself.
func FuzzRead(f *testing.F) {
	vectors := vectorFiles(f) // fails if there are none
	for _, v := range vectors {
		f.Add(v.body)
	}
	f.Add(encode(f, true, records()...))
	f.Fuzz(func(t *testing.T, b []byte) {
		got, h := read(b)
		if got.Ending == Broken {
			if got.Reason == "" || got.BadLine < 1 {
				t.Errorf("broken without saying where and why: %+v", got)
			}
			return
		}
		tail := b[h.size:]
		if !bytes.Equal(append(linesAsFile(got.Lines), tail...), b) {
			t.Errorf("two spellings of one transcript: %q", b)
		}
		if bytes.IndexByte(tail, '\n') >= 0 || got.Ending == Complete && len(tail) > 0 {
			t.Errorf("%v with the tail %q", got.Ending, tail)
		}
		if err := CheckChain(b, 3); (err == nil) != (len(tail) == 0) {
			t.Errorf("%v, but the chain says %v", got.Ending, err)
		}
	})
}
