package spec

import (
	"fmt"
	"time"
)

// Answers is a file that drives a whole session unattended: what is said at
// each prompt, in order. It serves practice, demonstrations and tests.
type Answers struct {
	Lines []AnswerLine `yaml:"lines" validate:"min=1,dive"`
}

// AnswerLine is one entry: a line at a prompt, a key at a prompt, or time that
// passes before the next prompt.
type AnswerLine struct {
	At   string `yaml:"at"`  // the prompt's id, which must match
	Say  string `yaml:"say"` // what is typed
	Key  string `yaml:"key" validate:"omitempty,oneof=enter abort eof"`
	Wait string `yaml:"wait"` // "12h", "90s"
	Line int    `yaml:"-"`
}

// LoadAnswers reads an answers file, which begins with the key "answers".
func LoadAnswers(name string, b []byte) (*Answers, error) {
	return load(name, "answers", b, answersRules)
}

func answersRules(r *reader, a *Answers) {
	for i, l := range a.Lines {
		path := fmt.Sprintf("lines[%d]", i)
		given := 0
		for _, field := range []string{"say", "key", "wait"} {
			if r.has(path + "." + field) {
				given++
			}
		}
		if given != 1 {
			r.failAt(path, "one of say, key and wait is wanted", "what is typed, a key, or time that passes")
		}
		if l.Wait == "" && l.At == "" {
			r.failAt(path, "at is missing", "the id of the prompt that is answered")
		}
		if d, err := l.Duration(); err != nil || d < 0 {
			r.failAt(path+".wait", quote(l.Wait)+" is no time", "as 90s, 10m or 12h")
		}
	}
}

// Duration is the time that passes, zero for a line that is typed.
func (l AnswerLine) Duration() (time.Duration, error) {
	if l.Wait == "" {
		return 0, nil
	}
	return time.ParseDuration(l.Wait)
}
