package engine

import (
	"fmt"
	"testing"
)

// long is the toy about as large as a table radio.
func long() *Procedure { return enlarged(13) }

// enlarged is the toy with so many of every reading.
func enlarged(many int) *Procedure {
	p := toy()
	var all []Slot
	line, moved := 0, map[int]int{}
	for i, slot := range p.Slots {
		times := many
		if slot.Hold || slot.Life == Session {
			times = 1
		}
		for n := range times {
			more := slot
			more.Gives, more.From = Facts{}, Facts{}
			if n == 0 && (i == 0 || slot.Line != p.Slots[i-1].Line) || slot.Life != Period {
				line++
			}
			more.Line = line
			all = append(all, more)
		}
		moved[i] = len(all) - 1
	}
	for c, f := range p.Voids {
		p.Voids[c] = Facts{}
		for i := range p.Slots {
			if f.Has(i) {
				p.Voids[c] = p.Voids[c].With(moved[i])
			}
		}
	}
	p.Slots = all
	return gated(p)
}

func TestAStepAllocatesItsTwoStatesAlone(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector allocates")
	}
	p := long()
	for _, i := range []int{1, len(p.Slots) / 2, len(p.Slots) - 1} {
		s := upTo(t, p, reading(p, i))
		s.Waited = true
		e := read1
		if p.Slots[i].Hold {
			e = Event{Kind: Free}
		}
		if n := testing.AllocsPerRun(100, func() { _, _ = Step(p, s, e) }); n > 1 {
			t.Errorf("%v allocations at slot %d", n, i)
		}
	}
}

// BenchmarkStep goes through the whole work, one event a round.
func BenchmarkStep(b *testing.B) {
	p := long()
	type taken struct {
		s State
		e Event
	}
	var work []taken
	for s := (State{}); s.Mode != Closed; {
		for _, e := range Answers(p, s) {
			work = append(work, taken{s, e})
			n, err := Step(p, s, e)
			if err != nil {
				b.Fatal(err)
			}
			s = n
		}
	}
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		w := work[n%len(work)]
		_, _ = Step(p, w.s, w.e)
	}
	b.ReportMetric(float64(len(p.Slots)), "slots")
}

// BenchmarkNext asks at the far end, with the period's readings of every line
// to be passed over.
func BenchmarkNext(b *testing.B) {
	p := long()
	s := State{Held: lives(p, Session, Lasting)}
	s.Held = s.Held.Without(slots(len(p.Slots) - 1))
	if Cursor(p, s) != len(p.Slots)-1 {
		b.Fatal("not at the far end")
	}
	for b.Loop() {
		Next(p, s)
	}
}

// BenchmarkExplore tells how an exploration grows with the procedure.
func BenchmarkExplore(b *testing.B) {
	for _, many := range []int{2, 4, 8, 12, 24} {
		p := enlarged(many)
		b.Run(fmt.Sprintf("%d slots", len(p.Slots)), func(b *testing.B) {
			b.ReportAllocs()
			var x *Exploration
			for b.Loop() {
				var err error
				if x, err = Explore(p, Scope{}, mostPlaces); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(x.Places), "places")
			b.ReportMetric(float64(x.Steps), "steps")
		})
	}
}
