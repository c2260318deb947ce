package transcriptlog

import (
	"bytes"
	"strings"
	"testing"
)

// Three lines that the vectors are made of.
const (
	openLine = `%,"practice":false,"time":"2030-01-01T10:00:00.000Z","mono":0,"kind":"open","fields":{"format":"1"}}`
	nextLine = `%,"practice":false,"time":"2030-01-01T10:00:01.000Z","mono":1000,"kind":"reading","fields":{"check":"ht-line","raw":"4k7"}}`
	lastLine = `%,"practice":false,"time":"2030-01-01T10:00:02.000Z","mono":2000,"kind":"close","fields":{}}`
)

// second is a file whose line 2 has one part changed.
func second(old, new string) []byte {
	return rawLines(openLine, strings.Replace(nextLine, old, new, 1), lastLine)
}

// joined is a file of rows, each with its line feed.
func joined(rows ...string) []byte { return []byte(strings.Join(rows, "\n") + "\n") }

// unsigned is a record with nothing wrong in it but that nobody has signed it.
func unsigned(name, promise string, body []byte) vector {
	base := name[strings.LastIndexByte(name, '/')+1:]
	return vector{
		Name: name, Ending: "COMPLETE", Chain: "good", Result: "unsigned", Promise: promise, body: body,
		Reason: "it is not signed yet: there is no " + base + vectorFile + ".sig",
	}
}

// unclosed is a record with nothing wrong in it that has no close line.
func unclosed(name, ending, chain, promise string, body []byte) vector {
	return vector{
		Name: name, Ending: ending, Chain: chain, Result: "open", Promise: promise, body: body,
		Reason: "it is open, and an open record is not signed",
	}
}

func broken(name string, line int, reason, chain, promise string, body []byte) vector {
	return vector{Name: name, Ending: "BROKEN", Line: line, Reason: reason, Chain: chain, Result: "broken", Promise: promise, body: body}
}

const (
	torn2 = `%,"practice":false,"time":"2030-01-01T10:00:01.000Z","mono":1000,"kind":"recovered","fields":{"torn_bytes":"9","torn_file":"a.torn-1","torn_sha256":"00"}}`

	afterClose  = "bytes after the close line"
	noWholeLine = "no whole line"
)

// chainVectors are about the order of lines and the ending.
func chainVectors(t testing.TB) []vector {
	t.Helper()
	good := rawLines(openLine, nextLine, lastLine)
	row := lines(good)
	other := lines(rawLines(openLine, strings.Replace(nextLine, "4k7", "4k8", 1), lastLine))
	open := joined(row[:2]...)
	practice := encode(t, true, records()...)
	all := []vector{
		unsigned("chain/complete", "three lines, the last is close", good),
		unsigned("chain/shortest", "an open line and a close line", rawLines(openLine, lastLine)),
		unsigned("chain/no-format", "line 1 need not name the format", rawLines(strings.Replace(openLine, `"format":"1"`, "", 1), lastLine)),
		unsigned("chain/unknown-kind", "the format takes any kind", second("reading", "kind-of-a-later_version.2")),
		unsigned("chain/complete-after-recovery", "a torn tail was kept aside, then the session was closed", rawLines(openLine, torn2, lastLine)),
		unsigned("chain/recovered-more-fields", "a recovered line may say more", rawLines(openLine, strings.Replace(torn2, `"00"}`, `"00","why":"power cut"}`, 1), lastLine)),
		unsigned("chain/clock-set-back", "the wall clock may go back", second("10:00:01", "09:00:01")),
		unsigned("chain/mono-anew", "the other clock starts anew after a resume", rawLines(openLine, strings.Replace(nextLine, "1000", "9000", 1), lastLine)),
		{
			Name: "chain/complete-practice", Ending: "COMPLETE", Chain: "good", Result: "practice", body: practice,
			Promise: "every line says practice, and it was asked for as real",
			Reason:  "it is a practice record: it proves nothing about a set (--practice accepts it as practice)",
		},
		{
			Name: "chain/real-asked-as-practice", Asked: "practice", Ending: "COMPLETE", Chain: "good", Result: "real", body: good,
			Promise: "a real record, and it was asked for as practice", Reason: "it is a real record, and --practice accepts practice only",
		},
		unclosed("chain/open", "OPEN", "good", "no close line yet", open),
		unclosed("chain/open-cut-back", "OPEN", "good", "a closed file cut back to line 1 still follows: only the signature shows it", joined(row[0])),
		unclosed("chain/recovered", "RECOVERED", "good", "open, with a line that tells of a torn tail", rawLines(openLine, torn2)),
		unclosed("chain/recovered-twice", "RECOVERED", "bad", "a torn tail earlier and one now", append(rawLines(openLine, torn2), `{"prev`...)),
		unclosed("chain/torn", "RECOVERED", "bad", "open, with a torn tail in the file", append(bytes.Clone(open), row[2][:100]...)),
		unclosed("chain/torn-one-byte", "RECOVERED", "bad", "a torn tail of one byte, which need not be text", append(bytes.Clone(open), 0xff)),
		unclosed("chain/torn-close", "RECOVERED", "bad", "all of the close line but its line feed: not closed", good[:len(good)-1]),
	}
	bad := func(name string, line int, reason, chain, promise string, body []byte) {
		all = append(all, broken("chain/"+name, line, reason, chain, promise, body))
	}
	bad("empty", 1, noWholeLine, "bad", "a file of no bytes", []byte{})
	bad("only-torn", 1, noWholeLine, "bad", "the first line never reached the disk whole", []byte(row[0]))
	bad("changed-value", 3, "3 does not follow 2", "bad", "4k7 became 4k8 in line 2", bytes.Replace(good, []byte("4k7"), []byte("4k8"), 1))
	bad("changed-first-line", 2, "2 does not follow 1", "bad", "a field more in line 1", bytes.Replace(good, []byte(`{"format"`), []byte(`{"a":"","format"`), 1))
	bad("changed-mono", 3, "3 does not follow 2", "bad", "one figure of a clock", bytes.Replace(good, []byte(":1000,"), []byte(":1001,"), 1))
	bad("removed-line", 2, "2 does not follow 1", "bad", "line 2 is gone", joined(row[0], row[2]))
	bad("removed-first-line", 1, "1 is not a first line", "bad", "line 1 is gone", joined(row[1], row[2]))
	bad("doubled-line", 3, "3 does not follow 2", "bad", "line 2 twice", joined(row[0], row[1], row[1], row[2]))
	bad("doubled-first-line", 2, "2 does not follow 1", "bad", "line 1 twice", joined(row[0], row[0], row[1], row[2]))
	bad("swapped-lines", 2, "2 does not follow 1", "bad", "lines 2 and 3 changed places", joined(row[0], strings.Replace(row[2], "close", "note", 1), row[1]))
	bad("swapped-first-lines", 1, "1 is not a first line", "bad", "lines 1 and 2 changed places", joined(row[1], row[0], row[2]))
	bad("spliced-line", 3, "3 does not follow 2", "bad", "line 2 is that of another record with the same line 1", joined(row[0], other[1], row[2]))
	bad("spliced-end", 3, "3 does not follow 2", "bad", "line 3 is that of another record", joined(row[0], row[1], other[2]))
	bad("two-records", 4, afterClose, "bad", "a whole record behind another", append(bytes.Clone(good), good...))
	bad("seq-jump", 2, "2 does not follow 1", "bad", "the hash is right, the number is not", second(`%`, `%9`))
	bad("seq-zero", 2, "2 does not follow 1", "bad", "the number of line 2 is 0", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":0`, 1)))
	bad("seq-again", 2, "2 does not follow 1", "bad", "the number of line 2 is 1", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":1`, 1)))
	bad("first-seq", 1, "1 is not a first line", "bad", "the first line has number 0", joined(strings.Replace(row[0], `"seq":1`, `"seq":0`, 1)))
	bad("first-seq-2", 1, "1 is not a first line", "bad", "the first line has number 2", joined(strings.Replace(row[0], `"seq":1`, `"seq":2`, 1)))
	bad("first-prev", 1, "1 is not a first line", "bad", "the first line follows something", joined(strings.Replace(row[0], `"prev":"0`, `"prev":"1`, 1)))
	bad("prev-zeros", 2, "2 does not follow 1", "bad", "line 2 carries the zeros of a first line", joined(row[0], row[0][:9+64]+row[1][9+64:]))
	bad("prev-of-line-feed", 2, "2 does not follow 1", "bad", "the hash of line 1 with its line feed", joined(row[0], row[1][:9]+sumOf(row[0]+"\n")+row[1][9+64:]))
	bad("prev-of-before", 3, "3 does not follow 2", "bad", "line 3 carries the hash of line 1", joined(row[0], row[1], row[2][:9]+sumOf(row[0])+row[2][9+64:]))
	bad("prev-of-itself", 2, "2 does not follow 1", "bad", "the hash of another text", joined(row[0], row[1][:9]+sumOf(row[1])+row[1][9+64:]))
	bad("practice-mixed", 2, otherMark, "bad", "a practice line among real ones", second(`false`, `true`))
	bad("practice-close", 3, otherMark, "bad", "a practice close line of a real record", rawLines(openLine, nextLine, strings.Replace(lastLine, "false", "true", 1)))
	bad("real-among-practice", 3, otherMark, "bad", "a real line among practice ones",
		rawLines(strings.Replace(openLine, "false", "true", 1), strings.Replace(nextLine, "false", "true", 1), lastLine))
	bad("practice-edited-to-real", 2, "2 does not follow 1", "bad", "every mark of a practice record was turned", bytes.ReplaceAll(practice, []byte("true"), []byte("false")))
	bad("after-close", 4, afterClose, "good", "a line after the close line", rawLines(openLine, nextLine, lastLine, nextLine))
	bad("second-close", 4, afterClose, "good", "a close line after the close line", rawLines(openLine, nextLine, lastLine, lastLine))
	bad("torn-after-close", 4, afterClose, "bad", "one byte after the close line", append(bytes.Clone(good), '{'))
	bad("line-feed-after-close", 4, afterClose, "bad", "an empty line after the close line", append(bytes.Clone(good), '\n'))
	bad("space-after-close", 4, afterClose, "bad", "a space after the close line", append(bytes.Clone(good), ' '))
	bad("zeros-after-close", 4, afterClose, "bad", "zeros, as a disk fills a block", append(bytes.Clone(good), make([]byte, 16)...))
	bad("close-first", 1, "a close line cannot be the first", "good", "nothing happened, yet it is closed", rawLines(lastLine))
	bad("recovered-first", 1, "a recovered line cannot be the first: no line stands before what was torn", "good", "a torn tail, and nothing before it", rawLines(torn2, lastLine))
	bad("recovered-first-open", 1, "a recovered line cannot be the first: no line stands before what was torn", "good", "the same, and not closed", rawLines(torn2))
	bad("format-2", 1, `format "2" is not known`, "good", "a later format", rawLines(strings.Replace(openLine, `"1"`, `"2"`, 1)))
	bad("format-empty", 1, `format "" is not known`, "good", "a format without a name", rawLines(strings.Replace(openLine, `"1"`, `""`, 1)))
	bad("format-1.0", 1, `format "1.0" is not known`, "good", "the format's name has one spelling", rawLines(strings.Replace(openLine, `"1"`, `"1.0"`, 1)))
	bad("recovered-without-file", 2, halfTold, "good", "a recovered line that does not name the file",
		rawLines(openLine, strings.Replace(torn2, `"torn_file":"a.torn-1",`, "", 1), lastLine))
	bad("recovered-without-length", 2, halfTold, "good", "a recovered line that does not give the length",
		rawLines(openLine, strings.Replace(torn2, `"torn_bytes":"9",`, "", 1), lastLine))
	bad("recovered-without-sum", 2, halfTold, "good", "a recovered line that does not give the SHA-256",
		rawLines(openLine, strings.Replace(torn2, `,"torn_sha256":"00"`, "", 1), lastLine))
	bad("zeros-before-end", 3, `byte 1: want {"prev":"`, "bad", "a line of zeros, as a disk fills a block", joined(row[0], row[1], strings.Repeat("\x00", 16)))
	return all
}
