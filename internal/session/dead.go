package session

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

func (s *Session) answerFullProof(a *Answered, line string) error {
	return s.answerProof(a, line, s.plan.Engine.FirstProof())
}

func (s *Session) answerSecondProof(a *Answered, line string) error {
	return s.answerProof(a, line, engine.FullProof)
}

func (s *Session) answerLeadProof(a *Answered, line string) error {
	return s.answerProof(a, line, engine.LeadProof)
}

// answerProof reads a line of a proof. What is not dead sends it back to its
// beginning: only discharging and proving go on.
func (s *Session) answerProof(a *Answered, line string, to engine.Proof) error {
	p := s.asked
	if p.Word != "" {
		word, rest, _ := strings.Cut(line, " ")
		if err := s.word(word, p.Word); err != nil {
			return err
		}
		line = rest
	}
	words, err := split(p, line)
	if err != nil {
		return err
	}
	if err := s.legible(p, words); err != nil {
		return err
	}
	if (to == engine.HalfProof || s.plan.Boxed) && s.now.Mono < s.waitTo.Mono {
		return fmt.Errorf("the capacitors are still discharging\nhint: hands out until %s", s.waitTo.clock())
	}
	f, block := s.judgeProof(p.Fields, words), s.state.Block-1
	waited, _ := s.discharge() // as the prompt told it, before the state moves on
	if err := s.step(engine.Event{Kind: engine.Prove, Proof: to, Verdict: f.verdict()}); err != nil {
		return err
	}
	s.recordProof(a, p, words, f.why)
	s.proofAt, s.rung = s.now, 0
	s.undead = f.why != "" || s.undead && to == engine.HalfProof
	s.noteMains(a, p.Fields, words, block)
	switch {
	case f.why != "":
		f.tell(a, "Use the tool and prove again from the start: nothing else goes on.")
		s.tries[p.ID]++
	case to == engine.HalfProof:
		s.tellBleeder(a, p.Fields, words, waited)
		a.say("PASS", "dead so far; 60 s more, then the second look.")
	case to == engine.LeadProof:
		a.say("PASS", "dead for this move of leads or valves; for work inside the whole proof is owed.")
	default:
		a.say("PASS", s.deadText()+".")
	}
	if s.state.Mode == engine.Stopped {
		a.Rows = append(a.Rows, s.stoppedRows()...)
	}
	return nil
}

// fault is what is wrong with a proof. The zero value is no fault.
type fault struct {
	why     string
	volts   bool // where there should be none
	charged bool // so many that they can hurt
}

func (f fault) verdict() engine.Verdict {
	switch {
	case f.volts:
		return engine.Stop
	case f.why != "":
		return engine.Query
	}
	return engine.Pass
}

func (f fault) tell(a *Answered, then string) {
	if f.charged {
		a.Bell = true
		a.say("STOP", "hands out. "+f.why+". Is the plug out? Is the tool whole, its lead clipped?")
	}
	a.say("NOT DEAD", f.why+". "+then)
}

// judgeProof gives what is wrong with the volts of a proof.
func (s *Session) judgeProof(fields []Field, words []string) fault {
	before, tool := 0.0, fault{}
	for n, f := range fields {
		if f.Node == atTool {
			tool = judgeTool(words[n])
			continue
		}
		e, err := unit.ParseEntry(unit.KindVolt, words[n])
		if err != nil {
			return fault{why: err.Error()}
		}
		s.counts.Numbers++
		if bad := s.judgeVolts(f, e.Value, before); bad.why != "" {
			return bad
		}
		before = e.Value
	}
	return tool
}

func judgeTool(letter string) fault {
	if letter != toolUsed {
		return fault{why: "the discharge tool was not used: without it no set is dead, whatever was read"}
	}
	return fault{}
}

// toolUsed is the letter that says so.
const toolUsed = "t"

// judgeVolts judges one of the volts of a proof; before is what was read just
// before it.
func (s *Session) judgeVolts(f Field, x, before float64) fault {
	dead, charged := volts("dead-volts"), volts("still-charged")
	switch f.Node {
	case atMains, atOnce:
		return fault{}
	case atSource:
		return fault{why: s.sourceWrong(x)}
	case atOn:
		if !(x > charged) {
			return fault{why: fmt.Sprintf("the meter across the reservoir showed %s with the set on: its fall proves nothing", show(unit.KindVolt, x))}
		}
		return fault{}
	case atWaited: // shows whether the bleeder works; the tool comes after it
		if !(math.Abs(x) <= math.Abs(before)+dead) {
			return fault{why: fmt.Sprintf("HT1 has risen by itself to %s", show(unit.KindVolt, x)), volts: true, charged: true}
		}
		return fault{}
	}
	if !(math.Abs(x) <= dead) {
		why := fmt.Sprintf("%s has %s, and 10 V or less is wanted", f.Name, show(unit.KindVolt, x))
		return fault{why: why, volts: true, charged: !(math.Abs(x) <= charged)}
	}
	return fault{}
}

// tellBleeder says when the wait has not brought HT1 down, and whether good
// capacitors can explain it: only the tool has discharged it.
func (s *Session) tellBleeder(a *Answered, fields []Field, words []string, waited time.Duration) {
	var from float64
	for n, f := range fields {
		e, _ := unit.ParseEntry(unit.KindVolt, words[n])
		switch x := math.Abs(e.Value); {
		case f.Node == atOnce:
			from = x
		case f.Node != atWaited || x <= volts("still-charged"):
		case x <= s.stillUp(from, waited):
			a.say("Bleeder", show(unit.KindVolt, x)+" after the wait: slow, as with capacitors at the top of their tolerance. The tool has brought it down.")
		default:
			a.say("Bleeder", show(unit.KindVolt, x)+" after the wait: no bleeder works here, or it is open. Find out before the set is closed.")
		}
	}
}

func (s *Session) sourceWrong(x float64) string {
	want := float64(s.plan.Bench.Source.Volts)
	if !(math.Abs(x-want) <= want*volts("source-agree")/100) {
		return fmt.Sprintf("the meter shows %s on the known source of %s: it proves nothing", show(unit.KindVolt, x), s.plan.Bench.Source.Volts)
	}
	return ""
}

func (s *Session) recordProof(a *Answered, p Prompt, words []string, why string) {
	var f []string
	for n, field := range p.Fields {
		f = append(f, strconv.Itoa(n+1)+" "+field.Node, words[n])
	}
	a.record("proof", append(f, "kind", p.ID, "fault", why)...)
}

// proveNodes reads the end of a line whose tests have charged something.
func (s *Session) proveNodes(a *Answered, words []string) error {
	return s.proveNodeWords(a, s.nodeFields(s.state.Unproved), words)
}

func (s *Session) answerNodes(a *Answered, line string) error {
	p := s.asked
	words, err := split(p, line)
	if err != nil {
		return err
	}
	if err := s.legible(p, words); err != nil {
		return err
	}
	return s.proveNodeWords(a, p.Fields, words)
}

func (s *Session) proveNodeWords(a *Answered, fields []Field, words []string) error {
	if len(fields) != len(words) {
		return errors.New("the proof does not fit what was charged")
	}
	f := s.judgeProof(fields, words)
	if err := s.step(engine.Event{Kind: engine.ProveNode, Verdict: f.verdict()}); err != nil {
		return err
	}
	s.recordProof(a, Prompt{ID: "proof-node", Fields: fields}, words, f.why)
	if s.undead = f.why != ""; s.undead {
		f.tell(a, "Use the tool; the whole proof is owed.")
		return nil
	}
	a.say("PASS", "what the test charged is dead again.")
	return nil
}
