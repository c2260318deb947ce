package console

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/powerup/internal/session"
)

// Digest shows a scripted session in short: one line a lead position, stories
// in full. Every reading is in the record.
type Digest struct {
	w      io.Writer
	next   func() (string, error)
	pace   func()
	group  string
	passes []string
	seen   map[string]bool
	said   string
	brief  bool // passes are counted, not listed
	passed int
}

// NewDigest shows on w and calls pace after every line. A brief one counts the
// passes between stories.
func NewDigest(w io.Writer, pace func(), brief bool) *Digest {
	return &Digest{w: w, pace: pace, brief: brief, seen: map[string]bool{}}
}

// Begin is the head of a demonstration.
func (d *Digest) Begin(version string) {
	for _, text := range []string{
		"powerup " + version + ": DEMONSTRATION in digest. An invented set, no mains, no real reading.",
		"The bench clock jumps over waits. All that is left out here is in the record.",
		"A guide for a person already able to work safely with mains voltage. Your country's law and a licensed person's judgement come first.",
	} {
		for _, line := range wrap(clean(text), width) {
			d.print(line)
		}
	}
	d.print("")
}

// Next changes where lines come from.
func (d *Digest) Next(next func() (string, error)) { d.next = next }

// Ask implements Prompter.
func (d *Digest) Ask(standing []string, p session.Prompt) (string, error) {
	if g := groupOf(p); g != d.group {
		d.flush()
		d.group = g
	}
	for _, s := range standing {
		d.caution(s)
	}
	d.off(standing, p)
	line, err := d.next()
	d.said = line
	return line, err
}

// off tells once how a live set is made safe, at the first whole proof after
// whole mains.
func (d *Digest) off(standing []string, p session.Prompt) {
	if p.ID != "proof-full.1" || !d.seen["DANGER - HIGH VOLTAGE"] || len(standing) < 2 || d.seen["off"] || d.brief {
		return
	}
	d.seen["off"] = true
	d.flush()
	for _, r := range p.Rows {
		if r.Label == "Do" || r.Label == "Read" || r.Label == "Tool" {
			for _, line := range row(r.Label, r.Text) {
				d.print(line)
			}
		}
	}
}

// caution shows each kind of standing caution the first time it stands.
func (d *Digest) caution(text string) {
	kind, _, _ := strings.Cut(text, ",")
	kind, _, _ = strings.Cut(kind, " at ")
	kind, _, _ = strings.Cut(kind, " up to ")
	if d.seen[kind] {
		return
	}
	d.seen[kind] = true
	d.flush()
	for _, line := range wrap(clean(text), width) {
		d.print(line)
	}
}

// groupOf is the lead position that a prompt belongs to; every rung of a ramp
// is a row of its own, and all proofs are one group.
func groupOf(p session.Prompt) string {
	switch {
	case strings.HasPrefix(p.ID, "proof"), p.ID == "watch", p.ID == "power":
		return p.ID
	case strings.Contains(p.ID, "#"):
		return p.ID
	case strings.HasPrefix(p.Block, "dead"), !strings.Contains(p.Block, "/"):
		return p.ID
	}
	return p.Block
}

// Tell implements Prompter.
func (d *Digest) Tell(standing []string, a session.Answered) {
	story := false
	for _, r := range a.Rows {
		story = story || r.Label != "PASS"
	}
	if !story {
		for _, r := range a.Rows {
			text, _, _ := strings.Cut(r.Text, ": ")
			d.passes = append(d.passes, text)
		}
		return
	}
	d.flush()
	if d.passed > 0 {
		d.print(fmt.Sprintf("pass  %d lines of readings and proofs before this", d.passed))
		d.passed = 0
	}
	if len(a.Rows) > 1 || a.Rows[0].Label != "Released" {
		d.print(fit("> " + d.said))
	}
	for _, r := range a.Rows {
		for _, line := range row(r.Label, r.Text) {
			d.print(line)
		}
	}
	if a.Bell {
		for _, s := range standing {
			for _, line := range wrap(s, width) {
				d.print(line)
			}
		}
	}
}

// Wait implements Prompter; the bench clock jumps.
func (d *Digest) Wait(wait time.Duration, what string) {
	if what == "hands out while the capacitors discharge" {
		d.print(fmt.Sprintf("%-*s%.0f s: %s", labelWidth, "Wait", wait.Seconds(), what))
	}
}

func (d *Digest) flush() {
	if d.brief {
		d.passed, d.passes = d.passed+len(d.passes), nil
		return
	}
	if len(d.passes) == 0 || d.group == "power" || d.group == "watch" || d.group == "proof-full.1" || strings.HasPrefix(d.group, "proof") && d.seen[d.group] {
		d.passes = nil
		return
	}
	d.seen[d.group] = true
	d.print(fit(fmt.Sprintf("pass  %s: %s", d.group, strings.Join(d.passes, ", "))))
	d.passes = nil
}

// fit cuts a line to the width of the screen.
func fit(line string) string {
	line = clean(line)
	if utf8.RuneCountInString(line) <= width {
		return line
	}
	r := []rune(line)
	return strings.TrimRight(string(r[:width-3]), " ,") + "..."
}

func (d *Digest) print(line string) {
	fmt.Fprintln(d.w, line)
	d.pace()
}
