package transcriptlog

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the files under testdata anew")

// A vector is a file that makes one promise: a head of "name: value" rows, an
// empty row, and the bytes of a transcript.
type vector struct {
	name    string
	expect  string // the ending
	line    int    // the first bad line, 0 if none
	reason  string // whole, so that a refusal for a wrong reason does not pass
	chain   string // what CheckChain says: "good" or "bad"
	comment string
	body    []byte
}

func (v vector) file() []byte {
	return fmt.Appendf(nil, "expect: %s\nline: %d\nreason: %s\nchain: %s\ncomment: %s\n\n%s",
		v.expect, v.line, v.reason, v.chain, v.comment, v.body)
}

func parseVector(t testing.TB, path string) vector {
	t.Helper()
	top, body, ok := bytes.Cut(readFile(t, path), []byte("\n\n"))
	v := vector{name: strings.TrimSuffix(filepath.Base(path), ".txt"), body: body}
	rows := map[string]*string{"expect": &v.expect, "reason": &v.reason, "chain": &v.chain, "comment": &v.comment, "line": new(string)}
	for row := range strings.SplitSeq(string(top), "\n") {
		name, value, _ := strings.Cut(row, ": ")
		if rows[name] == nil {
			t.Fatalf("%s: row %q is not known", path, row)
		}
		*rows[name] = value
	}
	n, err := strconv.Atoi(*rows["line"])
	if !ok || err != nil {
		t.Fatalf("%s: not a vector", path)
	}
	v.line = n
	return v
}

// vectorFiles are the vectors on the disk; none at all is a failure.
func vectorFiles(t testing.TB) (all []vector) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("testdata", "vectors", "*.txt"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no vectors: this would test nothing (%v)", err)
	}
	for _, p := range paths {
		all = append(all, parseVector(t, p))
	}
	return all
}

func TestVectors(t *testing.T) {
	made := makeVectors(t)
	if *update {
		for _, v := range made {
			if err := os.WriteFile(filepath.Join("testdata", "vectors", v.name+".txt"), v.file(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	files := vectorFiles(t)
	if len(files) != len(made) {
		t.Errorf("%d files under testdata/vectors, %d are made here: see -update", len(files), len(made))
	}
	for _, v := range files {
		t.Run(v.name, func(t *testing.T) {
			got := Read(v.body)
			if got.Ending.String() != v.expect || got.BadLine != v.line || got.Reason != v.reason {
				t.Errorf("%s: got %v, line %d, %q; want %s, line %d, %q",
					v.comment, got.Ending, got.BadLine, got.Reason, v.expect, v.line, v.reason)
			}
			if got.Ending == Broken && got.BadLine != len(got.Lines)+1 {
				t.Errorf("line %d is bad but %d lines came before it", got.BadLine, len(got.Lines))
			}
			for workers := range 5 {
				if err := CheckChain(v.body, workers); (err == nil) != (v.chain == "good") {
					t.Errorf("%d workers: the chain is %s, got %v", workers, v.chain, err)
				}
			}
		})
	}
}

// The files are what is made here, byte for byte: nobody edited them by hand.
func TestVectorsCanBeMadeAgain(t *testing.T) {
	for _, v := range makeVectors(t) {
		if got := readFile(t, filepath.Join("testdata", "vectors", v.name+".txt")); !bytes.Equal(got, v.file()) {
			t.Errorf("%s: the file is not what is made here: see -update", v.name)
		}
	}
}

// Two lines that the vectors are made of.
const (
	openLine = `%,"practice":false,"time":"2030-01-01T10:00:00.000Z","mono":0,"kind":"open","fields":{"format":"1"}}`
	nextLine = `%,"practice":false,"time":"2030-01-01T10:00:01.000Z","mono":1000,"kind":"reading","fields":{"check":"ht-line","raw":"4k7"}}`
	lastLine = `%,"practice":false,"time":"2030-01-01T10:00:02.000Z","mono":2000,"kind":"close","fields":{}}`
)

// second is a file whose line 2 has one part changed.
func second(old, new string) []byte {
	return rawLines(openLine, strings.Replace(nextLine, old, new, 1), lastLine)
}

func makeVectors(t testing.TB) []vector {
	t.Helper()
	good := rawLines(openLine, nextLine, lastLine)
	row := lines(good)
	join := func(rows ...string) []byte { return []byte(strings.Join(rows, "\n") + "\n") }
	open := join(row[:2]...)
	recovered := strings.Replace(nextLine, `"kind":"reading","fields":{"check":"ht-line","raw":"4k7"}`,
		`"kind":"recovered","fields":{"torn_bytes":"9","torn_file":"a.jsonl.torn-1","torn_sha256":"00"}`, 1)

	all := []vector{
		{name: "complete", expect: "COMPLETE", chain: "good", comment: "three lines, the last is close", body: good},
		{
			name: "complete-practice", expect: "COMPLETE", chain: "good", comment: "every line says practice",
			body: encode(t, true, records()...),
		},
		{
			name: "complete-after-recovery", expect: "COMPLETE", chain: "good", comment: "a torn tail was kept aside, then the session was closed",
			body: rawLines(openLine, recovered, lastLine),
		},
		{name: "open", expect: "OPEN", chain: "good", comment: "no close line yet", body: open},
		{
			name: "open-cut-back", expect: "OPEN", chain: "good", comment: "a closed file cut back to line 1 still follows: only the signature shows it",
			body: join(row[0]),
		},
		{
			name: "recovered", expect: "RECOVERED", chain: "good", comment: "open, with a line that tells of a torn tail",
			body: rawLines(openLine, recovered),
		},
		{
			name: "torn", expect: "RECOVERED", chain: "bad", comment: "open, with a torn tail in the file",
			body: append(bytes.Clone(open), row[2][:100]...),
		},
		{
			name: "torn-close", expect: "RECOVERED", chain: "bad", comment: "all of the close line but its line feed: not closed",
			body: good[:len(good)-1],
		},
	}
	bad := func(name string, line int, reason, chain, comment string, body []byte) {
		all = append(all, vector{name, "BROKEN", line, reason, chain, comment, body})
	}

	bad("empty", 1, "no whole line", "bad", "a file of no bytes", nil)
	bad("only-torn", 1, "no whole line", "bad", "the first line never reached the disk whole", []byte(row[0]))
	bad("changed-value", 3, "3 does not follow 2", "bad", "4k7 became 4k8 in line 2",
		bytes.Replace(good, []byte("4k7"), []byte("4k8"), 1))
	bad("removed-line", 2, "2 does not follow 1", "bad", "line 2 is gone", join(row[0], row[2]))
	bad("removed-first-line", 1, "1 is not a first line", "bad", "line 1 is gone", join(row[1], row[2]))
	bad("doubled-line", 3, "3 does not follow 2", "bad", "line 2 twice", join(row[0], row[1], row[1], row[2]))
	bad("swapped-lines", 2, "2 does not follow 1", "bad", "lines 2 and 3 changed places",
		join(row[0], strings.Replace(row[2], "close", "note", 1), row[1]))
	bad("seq-jump", 2, "2 does not follow 1", "bad", "the hash is right, the number is not", second(`%`, `%9`))
	bad("first-seq", 1, "1 is not a first line", "bad", "the first line has number 0",
		[]byte(strings.Replace(string(join(row[0])), `"seq":1`, `"seq":0`, 1)))
	bad("first-prev", 1, "1 is not a first line", "bad", "the first line follows something",
		[]byte(strings.Replace(string(join(row[0])), `"prev":"0`, `"prev":"1`, 1)))
	bad("practice-mixed", 2, "its practice mark is not that of line 1", "bad", "a practice line among real ones",
		second(`false`, `true`))
	bad("real-among-practice", 3, "its practice mark is not that of line 1", "bad", "a real line among practice ones",
		rawLines(strings.Replace(openLine, "false", "true", 1), strings.Replace(nextLine, "false", "true", 1), lastLine))
	bad("after-close", 4, "bytes after the close line", "good", "a line after the close line",
		rawLines(openLine, nextLine, lastLine, nextLine))
	bad("torn-after-close", 4, "bytes after the close line", "bad", "one byte after the close line", append(bytes.Clone(good), '{'))
	bad("line-feed-after-close", 4, "bytes after the close line", "bad", "an empty line after the close line", append(bytes.Clone(good), '\n'))
	bad("close-first", 1, "a close line cannot be the first", "good", "nothing happened, yet it is closed", rawLines(lastLine))
	bad("format-2", 1, `format "2" is not known`, "good", "a later format", rawLines(strings.Replace(openLine, `"1"`, `"2"`, 1)))

	bad("bom", 1, `byte 1: want {"prev":"`, "bad", "a byte order mark", append([]byte("\ufeff"), good...))
	bad("crlf", 1, fmt.Sprintf("byte %d: bytes after the end of the object", len(row[0])+1), "bad",
		"carriage returns added to a finished file", bytes.ReplaceAll(good, []byte("\n"), []byte("\r\n")))
	bad("empty-line", 2, `byte 1: want {"prev":"`, "bad", "an empty line between two", join(row[0], "", row[1]))
	bad("prev-capitals", 2, fmt.Sprintf("byte %d: %s", 10+strings.IndexAny(row[1][9:], "abcdef"), otherSpelling), "bad",
		"capital digits in prev", join(row[0], row[1][:9]+strings.ToUpper(row[1][9:73])+row[1][73:]))
	bad("prev-no-digit", 2, "byte 10: prev is not 64 hexadecimal digits", "bad", "a digit that is none",
		join(row[0], row[1][:72]+"g"+row[1][73:]))
	bad("prev-short", 2, "byte 10: prev is not 64 hexadecimal digits", "bad", "63 digits", join(row[0], row[1][:72]+row[1][73:]))
	bad("seq-leading-zero", 2, "byte 82: "+otherSpelling, "bad", "seq 02",
		join(row[0], strings.Replace(row[1], `"seq":2`, `"seq":02`, 1)))
	bad("seq-huge", 2, "byte 82: not an integer from 0 to 100000", "bad", "seq beyond every bound", second(`%`, `%99999999999999999999`))
	bad("kind-empty", 2, `kind "" `+kindRule, "good", "no kind", second(`reading`, ``))
	bad("kind-capitals", 2, `kind "Reading" `+kindRule, "good", "a capital", second(`reading`, `Reading`))
	bad("kind-escaped", 2, `kind "a\nb" `+kindRule, "good", "an escape in the kind", second(`reading`, `a\nb`))
	bad("field-without-name", 2, "a field has no name", "good", "an empty key", second(`"check"`, `""`))

	for _, s := range spellings {
		body := second(s.old, s.new)
		at := strings.Index(lines(body)[1], s.at) + 1
		bad(s.name, 2, fmt.Sprintf("byte %d: %s", at, s.reason), "good", s.comment, body)
	}
	return all
}

const (
	kindRule      = "is not 1 to 64 of a-z, 0-9, '.', '_' and '-'"
	otherSpelling = "not the one spelling of what it says"
	badTime       = "time is not as 2030-01-01T10:00:00.000Z"
	badEscape     = "an escape that is not used here"
	noQuote       = "a string without its closing quote"
	pastEnd       = "bytes after the end of the object"
	badMono       = "not an integer from 0 to 9223372036854"
)

// spellings are changes to line 2 that leave the chain whole: old becomes new,
// and the fault is found where the text "at" stands first in the changed line.
var spellings = []struct{ name, comment, old, new, at, reason string }{
	{"crlf-hashed", "a carriage return in the chain", `"}}`, "\"}}\r", "\r", pastEnd},
	{"trailing-space", "a space at the end", `"}}`, `"}} `, ` `, pastEnd},
	{"space", "a space between members", `,"kind"`, ` ,"kind"`, ` ,"kind"`, `want ,"kind":"`},
	{"space-after-colon", "a space after a colon", `"raw":"`, `"raw": "`, `": "`, `want ":"`},
	{"unknown-member", "a member the format does not have", `"reading",`, `"reading","note":"x",`, `","note"`, `want ","fields":{`},
	{"unknown-member-at-end", "a member after the fields", `"}}`, `"},"note":"x"}`, `},"note"`, `want }}`},
	{"missing-member", "no mono", `"mono":1000,`, ``, `","kind"`, `want ","mono":`},
	{"member-in-capitals", "encoding/json alone would take it", `"kind"`, `"Kind"`, `,"Kind"`, `want ,"kind":"`},
	{"member-twice", "encoding/json alone would take the last", `"kind":"reading",`, `"kind":"reading","kind":"note",`, `","kind":"note"`, `want ","fields":{`},
	{"field-twice", "the same key twice, with two values", `{"check"`, `{"check":"ht-linf","check"`, `f","check"`, otherSpelling},
	{"field-twice-equal", "the same key and value twice", `{"check"`, `{"check":"ht-line","check"`, `check":"ht-line","raw"`, otherSpelling},
	{"fields-unsorted", "keys that fall", `"check"`, `"raz"`, `z":`, otherSpelling},
	{"value-number", "a JSON number", `"4k7"`, `4700`, `":4700`, `want ":"`},
	{"value-null", "null", `"4k7"`, `null`, `":null`, `want ":"`},
	{"value-object", "an object within the fields", `"4k7"`, `{"a":"b"}`, `":{"a"`, `want ":"`},
	{"comma-at-end", "a comma after the last field", `"4k7"`, `"4k7",`, `}}`, `want "`},
	{"string-without-end", "the last quote is gone", `4k7"`, `4k7`, `4k7`, noQuote},
	{"escape-without-end", "a backslash before the last quote", `4k7"`, `4k7\"`, `4k7`, noQuote},
	{"escape-slash", `\/ is written /`, `4k7`, `\/`, `\/`, badEscape},
	{"escape-plain", "a plain letter escaped", `4k7`, `\u0041`, `\u0041`, badEscape},
	{"escape-short", "three digits", `4k7`, `\u00a`, `\u00a`, badEscape},
	{"escape-surrogate", "half a character", `4k7`, `\ud800`, `\ud800`, badEscape},
	{"escape-line-feed-long", `\u000a is written \n`, `4k7`, `\u000a`, `u000a`, otherSpelling},
	{"escape-capitals", "capital hexadecimal digits", `4k7`, `\u001B`, `B`, otherSpelling},
	{"control-raw", "a raw escape character would move the cursor", `4k7`, "\x1b", "\x1b", otherSpelling},
	{"bidi-raw", "a raw U+202E would turn the line", `4k7`, "\u202e", "\u202e", otherSpelling},
	{"utf8-bad", "a byte that is not UTF-8", `4k7`, "\xff", "\xff", otherSpelling},
	{"utf8-overlong", "two bytes for one", `4k7`, "\xc0\xaf", "\xc0", otherSpelling},
	{"utf8-surrogate", "a surrogate in UTF-8", `4k7`, "\xed\xa0\x80", "\xed", otherSpelling},
	{"mono-float", "mono is no integer", `1000`, `1000.0`, `.0,`, `want ,"kind":"`},
	{"mono-exponent", "mono is no integer", `1000`, `1e3`, `e3`, `want ,"kind":"`},
	{"mono-negative", "mono before the start", `1000`, `-1000`, `-1000`, badMono},
	{"mono-huge", "mono too large to hold", `1000`, `9223372036855`, `9223372036855`, badMono},
	{"mono-leading-zero", "mono 01000", `1000`, `01000`, `01000`, otherSpelling},
	{"time-offset", "local time with its offset", `10:00:01.000Z`, `10:00:01+00:00`, `2030-01-01`, badTime},
	{"time-no-decimals", "whole seconds", `01.000Z`, `01Z`, `2030-01-01`, badTime},
	{"time-comma", "a decimal comma", `01.000Z`, `01,000Z`, `,000Z`, otherSpelling},
	{"time-no-day", "the 30th of February", `2030-01-01`, `2030-02-30`, `2030-02-30`, badTime},
	{"time-leap-second", "second 60", `10:00:01`, `10:00:60`, `2030-01-01`, badTime},
}
