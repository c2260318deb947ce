package session

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/powerup/internal/engine"
)

// Submit takes one line that was typed at the present prompt. Deadlines that
// have passed are fired first. Nothing of the answer may be shown before its
// records are on disk.
func (s *Session) Submit(line string, now Instant) Answered {
	var a Answered
	before := s.todo()
	fired := s.fire(now)
	s.asked = s.answerable()
	id := s.tried(s.asked.ID)
	for _, caution := range s.cautionsOf(s.asked) {
		s.cautioned[caution] = true
	}
	a.record("entry", "at", id, "say", line)
	a.Records = append(a.Records, fired...)
	s.counts.Lines++
	if s.todo() != before && len(fired) > 0 && changesWork(fired) {
		a.say("Too late", "a time limit has passed while this prompt stood: the set counts as live and charged again. The line was not used.")
		s.forgetLine()
		s.reopen()
		return a
	}
	s.entryAt = now
	if err := s.answer(&a, strings.TrimSpace(line)); err != nil {
		s.counts.Refused++
		s.tries[s.ask().ID]++
		a.record("refused", "because", err.Error())
		a.say("Not taken", err.Error())
	}
	s.reopen()
	s.runDerived(&a)
	return a
}

// reopen goes back to work from the last question when something is owed again.
func (s *Session) reopen() {
	if s.phase == askClose && s.told == nil && s.todo().Act != engine.Finish {
		s.phase = working
	}
}

func changesWork(fired []Record) bool {
	for _, r := range fired {
		if r.Fields["timer"] != "wait-over" {
			return true
		}
	}
	return false
}

// forgetLine drops what hangs on a line that did not count.
func (s *Session) forgetLine() { s.slip, s.pending = "", nil }

func (s *Session) answer(a *Answered, line string) error {
	if s.phase == over {
		return errors.New("the session is over")
	}
	if s.told != nil {
		return s.confirm(a, line)
	}
	word, rest, _ := strings.Cut(line, " ")
	if s.undead && (word == "wrong" || word == "touched" || word == "clip" || word == "over") {
		return fmt.Errorf("INV-32: the last proof has failed: nothing else is taken\nhint: discharge with the tool, prove the set dead, then %s", word)
	}
	switch word {
	case "":
		return errors.New("an empty line is no reading\nhint: - for not read, park to stop for today, Ctrl+C to abort")
	case "park":
		return s.park(a)
	case "unplugged":
		if todo := s.todo(); rest == "" && s.phase == working && s.state.Supply.Energised() && (todo.Act == engine.Enter || todo.Act == engine.Resolve) {
			return s.offNow(a, todo.Slot)
		}
	case "over":
		return s.overTo(a, rest)
	case "wrong":
		return s.wrong(a, rest)
	case "touched":
		return s.touched(a, rest)
	case "clip":
		word, value, _ := strings.Cut(rest, " ")
		return s.clip(a, word, value)
	case "?":
		if !s.asksLetter() {
			s.help(a)
			s.counts.Lines--
			return nil
		}
	}
	switch s.phase {
	case askBench:
		return s.answerBench(a, line)
	case askUnplugged:
		return s.answerUnplugged(a, line)
	case askTouched:
		return s.answerTouched(a, line)
	case askLabel:
		return s.answerLabel(a, line)
	case askClose:
		return s.answerClose(a, line)
	}
	return s.work(a, line)
}

// help tells the present prompt in full.
func (s *Session) help(a *Answered) {
	for n, f := range s.asked.Fields {
		if f.Slot >= 0 {
			a.Rows = append(a.Rows, s.slotRows(f.Slot, n == 0)...)
		}
	}
	a.say("Help", "type the readings in the order shown, a space between them; - for one that was not read; keep, park, wrong N, over to NAME, touched LETTER, clip on, clip off OHMS; Ctrl+C stops at once")
}

func (s *Session) work(a *Answered, line string) error {
	todo := s.todo()
	switch todo.Act {
	case engine.Unplug:
		return s.answerUnplug(a, line)
	case engine.ProveLead:
		return s.answerLeadProof(a, line)
	case engine.ProveFull:
		return s.answerFullProof(a, line)
	case engine.ProveSecond:
		return s.answerSecondProof(a, line)
	case engine.ProveNodes:
		return s.answerNodes(a, line)
	case engine.SwitchOn:
		return s.answerPower(a, line, todo.Block)
	case engine.Release:
		return s.answerRelease(a, line, todo.Slot)
	case engine.Resolve:
		return s.answerResolve(a, line, todo.Slot)
	case engine.Repair:
		return s.answerRepair(a, line)
	case engine.Unclip:
		return errors.New("INV-44: a shorting clip is on the HT line\nhint: take it off, read the line, and type clip off with its ohms")
	case engine.Finish:
		return s.answerLabel(a, line)
	case engine.Enter:
		return s.answerLine(a, line)
	}
	return errors.New("nothing is asked now")
}

// word demands the one word a prompt asks for.
func (s *Session) word(line, want string) error {
	if line != want {
		return fmt.Errorf("%q is not %s\nhint: type %s when it is done", clip(line), want, want)
	}
	s.counts.Words++
	return nil
}

// clip shortens foreign text for a message.
func clip(text string) string {
	r := []rune(text)
	if len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return text
}

// Abort is the stop key, the end of input or a hang-up. The record comes first.
func (s *Session) Abort(why string, now Instant) Answered {
	var a Answered
	fired := s.fire(now)
	live := s.state.Supply.Energised()
	a.record("abort", "because", why, "energised", fmt.Sprint(live))
	s.unanswered(&a)
	_ = s.step(engine.Event{Kind: engine.Abort}) // never refused while open
	s.result, s.phase = Aborted, over
	a.Records = append(a.Records, fired...) // behind the line that a replay goes by
	a.say("STOPPED", "by "+why+". Switch off at the wall, plug out. TREAT AS LIVE AND CHARGED.")
	a.say("Later", "all that was read is kept; powerup resume goes on from nothing known.")
	return a
}

func (s *Session) park(a *Answered) error {
	if s.state.Supply.Energised() {
		return errors.New("the set is on: park is for a dead set\nhint: at the first line of a stage type unplugged, prove the set dead, then park; in its middle go on to its end, or Ctrl+C, which keeps all")
	}
	s.result, s.phase = Parked, over
	s.counts.Words++
	a.record("park", "open", fmt.Sprint(len(s.Open())))
	a.say("Parked", "plug out, and treat the set as charged when you come back.")
	return nil
}

// Resume begins a new session on this one's facts: everything that one session
// may know is gone, and the set is live and charged until proved otherwise.
func (s *Session) Resume(now Instant, away time.Duration) Answered {
	var a Answered
	away = away.Round(time.Second) // as the record says it
	left := s.state.Held
	a.record("resume", "away", away.String())
	s.unanswered(&a)
	held := s.state.Held
	old := ""
	switch {
	case now.Wall.Before(s.now.Wall):
		old = "the clock was set back, and tells no age"
	case away >= seconds("day") || s.dayIsOver(now):
		old = "older than a day"
	}
	_ = s.step(engine.Event{Kind: engine.Interrupt}) // first: it looks where the work stood
	if old != "" {
		_ = s.step(engine.Event{Kind: engine.Elapsed, Timer: engine.DayOver})
		a.record("elapsed", "timer", "day-over")
	}
	s.forgetLine()
	s.phase, s.result = askBench, Running
	s.now, s.entryAt, s.waitTo = now, now, Instant{}
	s.proofAt, s.powerAt, s.rungAt, s.readAt = now, now, now, now
	s.tries, s.cautioned = map[string]int{}, map[string]bool{}
	s.forgetSupply()
	s.forgetTimes()
	s.tellCarried(&a, left, held, old)
	return a
}
