package session

import (
	"strings"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/unit"
)

// Names of the points that a proof reads.
const (
	atSource = "source"
	atOnce   = "HT1 at once"
	atWaited = "HT1 waited"
	atOn     = "HT1 while on"
	atWatch  = "HT1 watch"
	atMains  = "mains"
	atTool   = "tool"
	pinsAC   = "pins a.c."
	pinsDC   = "pins d.c."
)

func (s *Session) proofFields(names ...string) []Field {
	if s.asksMains() {
		names = append(names, atMains)
	}
	return fieldsOf(names...)
}

func fieldsOf(names ...string) []Field {
	out := make([]Field, 0, len(names))
	for _, n := range names {
		name := n
		if n == atTool {
			name = "tool (t used, n not)"
		}
		out = append(out, Field{Name: name, Kind: unit.KindVolt, Slot: -1, Node: n})
	}
	return out
}

// asksMains tells whether a proof also brackets the time that mains was on with
// the volts at the outlet: a single meter was elsewhere meanwhile.
func (s *Session) asksMains() bool {
	return s.oneMeter() && s.state.Block > 0 && s.plan.Blocks[s.state.Block-1].Supply.Energised()
}

// mainsRows tell how the single meter reads the outlet.
func (s *Session) mainsRows() []Row {
	if !s.asksMains() {
		return nil
	}
	return []Row{{"Mains", "last, the set's plug lying out of it: the outlet's own a.c. volts, live to neutral"}}
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
	p.Fields = s.proofFields(atOnce, atWaited, atTool, atSource, "HT1", "HT2", "screen", pinsAC, pinsDC)
	p.Rows = append(p.Rows, s.mainsRows()...)
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
	return p
}

// promptPins is the proof of a boxed set: its plug pins are all that can be
// reached, and hands stay outside.
func (s *Session) promptPins(id string) Prompt {
	p := Prompt{ID: id, Block: "proof", Fields: s.proofFields(atSource, pinsAC, pinsDC, atSource)}
	if s.state.Supply.Energised() {
		p.Rows = append(p.Rows, Row{"Do", offText})
	}
	p.Rows = append(p.Rows, Row{"Then", "source, plug pins a.c. and d.c., source; hands stay outside the set"}, Row{"DANGER", insideText})
	p.Rows = append(p.Rows, s.mainsRows()...)
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
	return p
}

func (s *Session) promptSecondProof() Prompt {
	p := Prompt{ID: "proof-full.2", Block: "proof", Waits: "capacitors can come back"}
	p.Fields = fieldsOf("HT1", "HT2", atSource)
	p.Rows = []Row{{"Wait", "60 s after the line before, then once more: capacitors can come back"}}
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
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
		return s.promptWatch()
	}
	p := Prompt{ID: "proof-quick", Block: "proof"}
	p.Fields = s.proofFields(atSource, "HT1", pinsAC, pinsDC, atSource, atTool)
	p.Rows = []Row{{"Do", offText}}
	p.Rows = append(p.Rows, Row{"Then", "source, the reservoir, plug pins a.c. and d.c., source; then the tool, " + inSeconds(s.toolTime())})
	p.Rows = append(p.Rows, s.mainsRows()...)
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
	return p
}

// promptWatch is the proof by the meter at the reservoir: it proves itself as it
// falls from the HT that it has just shown.
func (s *Session) promptWatch() Prompt {
	p := Prompt{ID: "watch", Block: "proof", Word: "unplugged"}
	names := []string{atWatch, "HT1 after tool"}
	if !s.shownHT {
		names = append([]string{atOn}, names...)
		p.Rows = append(p.Rows, Row{"First", "what the meter across the reservoir shows on d.c. volts while the set is still on"})
	}
	p.Fields = s.proofFields(names...)
	p.Rows = append(p.Rows, Row{"Do", offText},
		Row{"Read", "the meter across the reservoir must fall to 10 V or less by itself (" + s.fallText() + "); then the tool across it, " + inSeconds(s.toolTime()) + "; read it again"})
	p.Rows = append(p.Rows, s.mainsRows()...)
	p.Rows = append(p.Rows, Row{"Type", typeText(p)})
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
