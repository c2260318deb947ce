package session

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// Names of the points that a proof reads.
const (
	atSource = "source"
	atOnce   = "HT1 at once"
	atWatch  = "HT1 watch"
	atMains  = "mains"
	pinsAC   = "pins a.c."
	pinsDC   = "pins d.c."
)

func (s *Session) proofFields(names ...string) []Field {
	if s.oneMeter() && s.state.Block > 0 && s.plan.Blocks[s.state.Block-1].Supply.Energised() {
		names = append(names, atMains)
	}
	out := make([]Field, 0, len(names))
	for _, n := range names {
		out = append(out, Field{Name: n, Kind: unit.KindVolt, Slot: -1, Node: n})
	}
	return out
}

func (s *Session) oneMeter() bool { return len(s.plan.Bench.Meters) == 1 }

const offText = "set's switch off, wall switch off, plug OUT where you can see it"

func (s *Session) promptFullProof() Prompt {
	if s.plan.Boxed {
		return s.promptPins("proof-full.1")
	}
	p := Prompt{ID: "proof-full.1", Block: "proof"}
	if s.state.Supply.Energised() {
		p.Rows = append(p.Rows, Row{"Do", offText})
	}
	p.Rows = append(p.Rows, s.dischargeRows()...)
	p.Rows = append(p.Rows,
		Row{"Then", "prove the meter on the known source, read each point across its own terminals, black on HT negative, clipped"},
		Row{"Dead is", "10 V or less everywhere (common practice, no source)"})
	p.Fields = s.proofFields(atOnce, "HT1", atSource, "HT1", "HT2", "screen", pinsAC, pinsDC)
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
	return p
}

// dischargeRows tell the wait and the tool.
func (s *Session) dischargeRows() []Row {
	t, path := s.dischargeTime()
	return []Row{
		{"Read", "HT1 at once, then hands out for " + t + " (" + path + "), then HT1 again"},
		{"Tool", "10 kΩ on HT1, one hand, other lead clipped: 5 s. Then HT2, 5 s. Always, whatever the meter says"},
	}
}

// dischargeTime is how long the bleeder takes from the highest HT there can be
// to the published no-danger volts.
func (s *Session) dischargeTime() (text, path string) {
	t, ok := s.decay()
	if !ok {
		return "60 s", "no known discharge path: the tool does it"
	}
	return fmt.Sprintf("%.0f s", math.Ceil(t.Seconds())),
		fmt.Sprintf("%s to 60 V through %s", show(unit.KindVolt, float64(s.htBound())), s.plan.Set.Bleed.Resistance)
}

func (s *Session) decay() (time.Duration, bool) {
	set := s.plan.Set
	if set.Bleed == nil || set.Bleed.Resistance == nil || set.Reservoir.Capacitance == nil || set.Second.Capacitance == nil {
		return 0, false
	}
	t := circuit.Decay(s.htBound(), unit.Volt(volts("still-charged")), *set.Bleed.Resistance, *set.Reservoir.Capacitance+*set.Second.Capacitance)
	return time.Duration(float64(t) * float64(time.Second)), true
}

func volts(id string) float64 { return limits.Lookup(id).Value.Value }

// promptPins is the proof of a boxed set: its plug pins are all that can be
// reached, and hands stay outside.
func (s *Session) promptPins(id string) Prompt {
	p := Prompt{ID: id, Block: "proof", Fields: s.proofFields(atSource, pinsAC, pinsDC, atSource)}
	if s.state.Supply.Energised() {
		p.Rows = append(p.Rows, Row{"Do", offText})
	}
	p.Rows = append(p.Rows, Row{"Then", "source, plug pins a.c. and d.c., source; hands stay outside the set"}, Row{"Type", typeText(p)})
	return p
}

func (s *Session) promptSecondProof() Prompt {
	if s.plan.Boxed {
		return s.promptPins("proof-full.2")
	}
	p := Prompt{ID: "proof-full.2", Block: "proof", Waits: "capacitors can come back"}
	p.Fields = s.proofFields("HT1", "HT2", atSource)
	p.Rows = []Row{{"Wait", "60 s after the line before, then once more: capacitors can come back"}, {"Type", typeText(p)}}
	return p
}

// promptLeadProof is the short proof: with a meter across the reservoir that
// has followed the HT down, else the points that the next move needs.
func (s *Session) promptLeadProof() Prompt {
	block := s.plan.Blocks[s.state.Block-1]
	if s.plan.Boxed {
		return s.promptPins("proof-quick")
	}
	if block.Watch {
		p := Prompt{ID: "watch", Block: "proof", Word: "unplugged"}
		p.Fields = s.proofFields(atWatch, "HT1 after tool")
		p.Rows = []Row{{"Do", offText}, {"Read", "the meter across the reservoir must fall to 10 V or less by itself; then the tool across it; read it again"}, {"Type", typeText(p)}}
		return p
	}
	p := Prompt{ID: "proof-quick", Block: "proof"}
	p.Fields = s.proofFields(atSource, "HT1", pinsAC, pinsDC, atSource)
	p.Rows = []Row{{"Do", offText}}
	p.Rows = append(p.Rows, Row{"Then", "source, the reservoir, plug pins a.c. and d.c., source; then the 10 kΩ tool, 5 s"}, Row{"Type", typeText(p)})
	return p
}

func (s *Session) promptNodes() Prompt {
	p := Prompt{ID: "proof-node", Block: "proof", Fields: s.nodeFields(s.state.Unproved)}
	p.Rows = []Row{{"Do", "discharge with the tool and prove dead what the test has charged"}, {"Type", typeText(p)}}
	return p
}

func (s *Session) nodeFields(nodes engine.Nodes) []Field {
	out := []Field{{Name: atSource, Kind: unit.KindVolt, Slot: -1, Node: atSource}}
	for bit, n := range s.plan.Nodes {
		if nodes&(1<<bit) != 0 {
			out = append(out, Field{Name: string(n), Kind: unit.KindVolt, Slot: -1, Node: string(n)})
		}
	}
	return append(out, Field{Name: atSource, Kind: unit.KindVolt, Slot: -1, Node: atSource})
}

func (s *Session) nodeNames(nodes engine.Nodes) string {
	var out []string
	for bit, n := range s.plan.Nodes {
		if nodes&(1<<bit) != 0 {
			out = append(out, string(n))
		}
	}
	return strings.Join(out, ", ")
}

func (s *Session) answerFullProof(a *Answered, line string) error {
	return s.answerProof(a, line, engine.HalfProof)
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
	p := s.ask()
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
	why := s.judgeProof(p.Fields, words)
	verdict := engine.Pass
	if why != "" {
		verdict = engine.Query
	}
	if err := s.step(engine.Event{Kind: engine.Prove, Proof: to, Verdict: verdict}); err != nil {
		return err
	}
	s.recordProof(a, p, words, why)
	s.proofAt, s.rung = s.now, 0
	delete(s.taken, "set-volts")
	switch {
	case why != "":
		a.say("NOT DEAD", why+". Use the tool and prove again from the start: nothing else goes on.")
		s.tries[p.ID]++
	case to == engine.HalfProof:
		a.say("PASS", "dead so far; 60 s more, then the second look.")
	default:
		a.say("PASS", "proved dead.")
	}
	if s.state.Mode == engine.Stopped {
		a.Rows = append(a.Rows, s.stoppedRows()...)
	}
	return nil
}

// judgeProof gives what is wrong with the volts of a proof; empty: nothing.
func (s *Session) judgeProof(fields []Field, words []string) string {
	dead := volts("dead-volts")
	for n, f := range fields {
		e, err := unit.ParseEntry(unit.KindVolt, words[n])
		if err != nil {
			return err.Error()
		}
		s.counts.Numbers++
		switch {
		case f.Node == atMains:
			s.taken["mains"] = unit.Quantity{Kind: unit.KindVolt, Value: e.Value}
		case f.Node == atSource:
			if why := s.sourceWrong(e.Value); why != "" {
				return why
			}
		case f.Node == atOnce, f.Node == atWatch, s.beforeTool(fields, n): // shows whether the bleeder works; the tool comes after it
		case !(math.Abs(e.Value) <= dead):
			return fmt.Sprintf("%s has %s, and 10 V or less is wanted", f.Name, show(unit.KindVolt, e.Value))
		}
	}
	return ""
}

// beforeTool tells whether field n is the HT1 that is read after the wait and
// before the tool: it only shows whether the bleeder works.
func (s *Session) beforeTool(fields []Field, n int) bool {
	return n > 0 && fields[n-1].Node == atOnce
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
		f = append(f, strconv.Itoa(n+1)+" "+field.Name, words[n])
	}
	a.record("proof", append(f, "kind", p.ID, "tool", "used, as the line says", "fault", why)...)
}

// proveNodes reads the end of a line whose tests have charged something.
func (s *Session) proveNodes(a *Answered, words []string) error {
	return s.proveNodeWords(a, s.nodeFields(s.state.Unproved), words)
}

func (s *Session) answerNodes(a *Answered, line string) error {
	p := s.ask()
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
	why := s.judgeProof(fields, words)
	verdict := engine.Pass
	if why != "" {
		verdict = engine.Query
	}
	if err := s.step(engine.Event{Kind: engine.ProveNode, Verdict: verdict}); err != nil {
		return err
	}
	s.recordProof(a, Prompt{ID: "proof-node", Fields: fields}, words, why)
	if why != "" {
		a.say("NOT DEAD", why+". Use the tool; the whole proof is owed.")
		return nil
	}
	a.say("PASS", "what the test charged is dead again.")
	return nil
}
