package transcriptlog

import "strings"

// patterns is a list as ssh_config(5) has it under PATTERNS: `*` stands for any
// characters or none, `?` for one, and a pattern behind `!` takes away.
type patterns []pattern

type pattern struct {
	text string
	not  bool // it began with !
}

func splitPatterns(list string) patterns {
	var ps patterns
	for text := range strings.SplitSeq(list, ",") {
		text, not := strings.CutPrefix(text, "!")
		ps = append(ps, pattern{text, not})
	}
	return ps
}

// match tells whether a pattern matches and none that takes away does.
func (ps patterns) match(s string) bool {
	found := false
	for _, p := range ps {
		if !matchPattern(s, p.text) {
			continue
		}
		if p.not {
			return false
		}
		found = true
	}
	return found
}

// name is the one name that a list spells out; a list of more, or of patterns,
// has none.
func (ps patterns) name() string {
	if len(ps) != 1 || ps[0].not || strings.ContainsAny(ps[0].text, "*?") {
		return ""
	}
	return ps[0].text
}

func (ps patterns) String() string {
	var b strings.Builder
	for i, p := range ps {
		if i > 0 {
			b.WriteByte(',')
		}
		if p.not {
			b.WriteByte('!')
		}
		b.WriteString(p.text)
	}
	return b.String()
}

// matchPattern goes through both once; at a mismatch the last `*` takes one
// character more, so that no pattern takes longer than its length times that of s.
func matchPattern(s, pattern string) bool {
	i, p := 0, 0
	star, from := -1, 0 // place of the last *, and where what it takes ends
	for i < len(s) {
		switch {
		case p < len(pattern) && pattern[p] == '*':
			star, from = p, i
			p++
		case p < len(pattern) && (pattern[p] == '?' || pattern[p] == s[i]):
			i, p = i+1, p+1
		case star >= 0:
			from++
			i, p = from, star+1
		default:
			return false
		}
	}
	return strings.Trim(pattern[p:], "*") == ""
}
