package transcriptlog

import (
	"bytes"
	"fmt"
	"strings"
)

// spellingVectors are about the one spelling of a line: whoever made them had
// the chain right.
func spellingVectors() []vector {
	good := rawLines(openLine, nextLine, lastLine)
	row := lines(good)
	var all []vector
	bad := func(name string, line int, reason, chain, promise string, body []byte) {
		all = append(all, broken("spelling/"+name, line, reason, chain, promise, body))
	}
	bad("bom", 1, noLine, "bad", "a byte order mark", append([]byte("\ufeff"), good...))
	bad("utf16", 1, noLine, "bad", "two bytes a character", bytes.ReplaceAll(good, []byte(""), []byte{0})[:2*len(good)])
	bad("array", 1, noLine, "bad", "the lines as one array", append([]byte("["), good...))
	bad("crlf", 1, fmt.Sprintf("byte %d: %s", len(row[0])+1, pastEnd), "bad",
		"carriage returns added to a finished file", bytes.ReplaceAll(good, []byte("\n"), []byte("\r\n")))
	bad("cr-alone", 1, noWholeLine, "bad", "carriage returns in place of line feeds", bytes.ReplaceAll(good, []byte("\n"), []byte("\r")))
	bad("one-line", 1, fmt.Sprintf("byte %d: %s", len(row[0])+1, pastEnd), "bad", "two objects in one line", joined(row[0]+row[1], row[2]))
	bad("empty-line", 2, noLine, "bad", "an empty line between two", joined(row[0], "", row[1]))
	bad("empty-first-line", 1, noLine, "bad", "an empty line before the first", joined("", row[0], row[1]))
	bad("leading-space", 2, noLine, "bad", "a space before a line", joined(row[0], " "+row[1]))
	bad("prev-capitals", 2, fmt.Sprintf("byte %d: %s", 10+strings.IndexAny(row[1][9:], "abcdef"), otherSpelling), "bad",
		"capital digits in prev", joined(row[0], row[1][:9]+strings.ToUpper(row[1][9:73])+row[1][73:]))
	bad("prev-no-digit", 2, badPrev, "bad", "a digit that is none", joined(row[0], row[1][:72]+"g"+row[1][73:]))
	bad("prev-short", 2, badPrev, "bad", "63 digits", joined(row[0], row[1][:72]+row[1][73:]))
	bad("prev-long", 2, `byte 74: want ","seq":`, "bad", "65 digits", joined(row[0], row[1][:73]+"0"+row[1][73:]))
	bad("prev-empty", 2, badPrev, "bad", "no digits", joined(row[0], row[1][:9]+row[1][73:]))
	bad("seq-leading-zero", 2, "byte 82: "+otherSpelling, "bad", "seq 02", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":02`, 1)))
	bad("seq-text", 2, badSeq, "bad", "seq as a string", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":"2"`, 1)))
	bad("seq-plus", 2, badSeq, "bad", "seq +2", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":+2`, 1)))
	bad("seq-float", 2, `byte 83: want ,"practice":`, "bad", "seq 2.0", joined(row[0], strings.Replace(row[1], `"seq":2`, `"seq":2.0`, 1)))
	bad("seq-huge", 2, badSeq, "bad", "seq beyond every bound", second(`%`, `%99999999999999999999`))
	for _, mark := range []string{"1", "null", "True", `"true"`} {
		bad("practice-"+strings.Trim(mark, `"`)+map[bool]string{true: "-text"}[mark[0] == '"'], 2, "byte 95: want false", "bad",
			"the practice mark is "+mark, joined(row[0], strings.Replace(row[1], `"practice":false`, `"practice":`+mark, 1)))
	}
	bad("kind-empty", 2, `kind "" `+kindRule, "good", "no kind", second(`reading`, ``))
	bad("kind-capitals", 2, `kind "Reading" `+kindRule, "good", "a capital", second(`reading`, `Reading`))
	bad("kind-space", 2, `kind "a b" `+kindRule, "good", "a space in the kind", second(`reading`, `a b`))
	bad("kind-not-ascii", 2, `kind "läsning" `+kindRule, "good", "a letter beyond a to z", second(`reading`, `läsning`))
	bad("kind-65", 2, `kind "`+strings.Repeat("k", 65)+`" `+kindRule, "good", "65 characters", second(`reading`, strings.Repeat("k", 65)))
	bad("kind-escaped", 2, `kind "a\nb" `+kindRule, "good", "an escape in the kind", second(`reading`, `a\nb`))
	bad("field-without-name", 2, "a field has no name", "good", "an empty key", second(`"check"`, `""`))
	for _, s := range spellings {
		body := second(s.old, s.new)
		at := strings.Index(lines(body)[1], s.at) + 1
		bad(s.name, 2, fmt.Sprintf("byte %d: %s", at, s.reason), "good", s.comment, body)
	}
	for _, s := range spelledWell {
		all = append(all, unsigned("spelling/"+s.name, s.promise, second(s.old, s.new)))
	}
	return append(all, characterVectors()...)
}

// Characters at both ends of what is always escaped, and their neighbours, which
// never are.
const (
	turning = "\x00\x1f\x7f\u009f\u061c\u200b\u200f\u2028\u202e\u2060\u2069\ufeff"
	plainly = "\u00a0\u061b\u061d\u200a\u2010\u2027\u202f\u205f\u206a\ufefe\uff00\ufffd\uffff\U0010ffff"
)

func characterVectors() (all []vector) {
	add := func(r rune, name, promise, text, fault string) {
		name, promise = fmt.Sprintf("spelling/u%04x-%s", r, name), fmt.Sprintf("U+%04X %s", r, promise)
		body := second("4k7", text)
		if fault == "" {
			all = append(all, unsigned(name, promise, body))
			return
		}
		at := strings.LastIndex(lines(body)[1], text) + 1
		all = append(all, broken(name, 2, fmt.Sprintf("byte %d: %s", at, fault), "good", promise, body))
	}
	for _, r := range turning {
		add(r, "escaped", "is written with four digits", fmt.Sprintf(`\u%04x`, r), "")
		add(r, "raw", "is never written as itself", string(r), otherSpelling)
	}
	for _, r := range plainly {
		add(r, "raw", "is written as itself", string(r), "")
	}
	for _, r := range []rune{'A', '/', 0xa0, 0x2010, 0xfffd} {
		add(r, "escaped", "is never escaped", fmt.Sprintf(`\u%04x`, r), badEscape)
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
	badPrev       = "byte 10: prev is not 64 hexadecimal digits"
	badSeq        = "byte 82: not an integer from 0 to 100000"
	noLine        = `byte 1: want {"prev":"`
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
	{"time-lower-case", "a small t and z", `2030-01-01T10:00:01.000Z`, `2030-01-01t10:00:01.000z`, `2030-01-01t`, badTime},
	{"time-space", "a space for the T", `01T10`, `01 10`, `2030-01-01 `, badTime},
	{"time-month-13", "the 13th month", `2030-01-01`, `2030-13-01`, `2030-13`, badTime},
	{"time-hour-24", "midnight as hour 24", `10:00:01`, `24:00:01`, `2030-01-01`, badTime},
	{"time-no-leap-day", "the 29th of February of a year without", `2030-01-01`, `2030-02-29`, `2030-02-29`, badTime},
	{"time-two-decimals", "two decimals", `01.000Z`, `01.00Z`, `2030-01-01`, badTime},
	{"time-four-decimals", "four decimals", `01.000Z`, `01.0000Z`, `2030-01-01`, badTime},
	{"time-year-of-five", "a year of five figures", `2030-`, `12030-`, `12030-`, badTime},
	{"time-empty", "no time", `2030-01-01T10:00:01.000Z`, ``, `","mono"`, badTime},
	{"mono-empty", "no number", `1000`, ``, `,"kind"`, badMono},
	{"mono-text", "a number as a string", `1000`, `"1000"`, `"1000"`, badMono},
	{"mono-plus", "a sign", `1000`, `+1000`, `+1000`, badMono},
	{"mono-minus-zero", "zero with a sign", `1000`, `-0`, `-0,`, badMono},
	{"tab-between", "a tab between members", `,"kind"`, "\t,\"kind\"", "\t,", `want ,"kind":"`},
	{"members-in-another-order", "kind before mono", `"mono":1000,"kind":"reading"`, `"kind":"reading","mono":1000`, `","kind"`, `want ","mono":`},
	{"value-array", "an array within the fields", `"4k7"`, `["4k7"]`, `":["`, `want ":"`},
	{"value-true", "a truth within the fields", `"4k7"`, `true`, `":true`, `want ":"`},
	{"fields-null", "no object of fields", `{"check":"ht-line","raw":"4k7"}`, `null`, `","fields":null`, `want ","fields":{`},
	{"fields-unclosed", "one brace at the end", `}}`, `}`, `}`, `want }}`},
	{"bracket-at-end", "a bracket behind the braces", `}}`, `}}]`, `]`, pastEnd},
	{"single-quotes", "quotes of another kind", `"4k7"`, `'4k7'`, `":'4k7'`, `want ":"`},
	{"comment", "a comment", `,"kind"`, `/**/,"kind"`, `/**/`, `want ,"kind":"`},
	{"fields-by-written-order", "keys are ordered as they are read, not as they are written", `{"check":"ht-line","raw":"4k7"}`, `{"a!":"","a\nb":""}`, `!":""`, otherSpelling},
	{"escape-quote-long", `\u0022 is written \"`, `4k7`, `\u0022`, `u0022`, otherSpelling},
	{"escape-backslash-long", `\u005c is written \\`, `4k7`, `\u005c`, `u005c`, otherSpelling},
	{"escape-tab-long", `\u0009 is written \t`, `4k7`, `\u0009`, `u0009`, otherSpelling},
	{"escape-backspace", `\b is written \u0008`, `4k7`, `\b`, `\b`, badEscape},
	{"escape-form-feed", `\f is written \u000c`, `4k7`, `\f`, `\f`, badEscape},
	{"escape-pair", "two halves of a character", `4k7`, `\ud83d\ude00`, `\ud83d`, badEscape},
	{"escape-digits", "digits that are none", `4k7`, `\u00zz`, `\u00zz`, badEscape},
	{"escape-big-u", "an escape of another language", `4k7`, `\U0001F600`, `\U`, badEscape},
	{"escape-hex", "an escape of another language", `4k7`, `\x1b`, `\x1b`, badEscape},
	{"escape-at-end", "a backslash is the last byte", `4k7"}}`, `4k7\`, `\`, badEscape},
	{"key-control-raw", "a raw character in a key", `raw`, "r\x1bw", "\x1b", otherSpelling},
	{"key-escape-plain", "a plain letter escaped in a key", `raw`, `\u0072aw`, `\u0072`, badEscape},
	{"utf8-cut", "the last byte of a character is gone", `4k7`, "4k7\xe2\x84", "\xe2", otherSpelling},
	{"utf8-too-large", "a character beyond U+10FFFF", `4k7`, "\xf4\x90\x80\x80", "\xf4", otherSpelling},
	{"utf8-in-kind", "a byte in the kind that is not UTF-8", `reading`, "r\xff", "\xff", otherSpelling},
	{"utf8-in-key", "a byte in a key that is not UTF-8", `raw`, "r\xff", "\xff", otherSpelling},
}

// spelledWell are changes to line 2 that are taken as they stand.
var spelledWell = []struct{ name, promise, old, new string }{
	{"no-fields", "a line without fields", `"check":"ht-line","raw":"4k7"`, ``},
	{"value-empty", "a value may be empty", `4k7`, ``},
	{"key-any-text", "a key may be any text", `"raw"`, `"r aw\n\u202e\"Ω"`},
	{"key-order-by-bytes", "capitals before small letters, and those before other letters", `{"check":"ht-line","raw":"4k7"}`, `{"B":"","a":"","é":"","Ω":"","𝛺":""}`},
	{"key-order-as-read", "a line feed comes before an exclamation mark, however it is written", `{"check":"ht-line","raw":"4k7"}`, `{"a\nb":"","a!":""}`},
	{"key-order-prefix", "a key comes before one that begins with it", `{"check":"ht-line","raw":"4k7"}`, `{"a":"","a ":"","aa":""}`},
	{"quote", `\" is a quote`, `4k7`, `\"4k7\"`},
	{"backslash", `\\ is a backslash`, `4k7`, `\\n`},
	{"line-feed", `\n, \r and \t`, `4k7`, `\n\r\t`},
	{"markup", "< > & / are written as they are", `4k7`, `<b>&amp;</b>`},
	{"not-composed", "a letter and its accent stay two characters", `4k7`, "e\u0301"},
	{"beyond-16-bits", "a character of four bytes", `4k7`, `𝛺`},
	{"kind-64", "64 characters", `reading`, strings.Repeat("k", 64)},
	{"kind-signs", "figures and signs in a kind", `reading`, `0a.b_c-9`},
	{"mono-zero", "mono 0", `1000`, `0`},
	{"mono-largest", "the largest mono", `1000`, `9223372036854`},
	{"time-year-0", "the first year", `2030-01-01`, `0000-01-01`},
	{"time-year-9999", "the last millisecond", `2030-01-01T10:00:01.000Z`, `9999-12-31T23:59:59.999Z`},
	{"time-leap-day", "the 29th of February of a year that has it", `2030-01-01`, `2032-02-29`},
}
