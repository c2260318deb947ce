package plan_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
)

// walked sends events to a plan's engine; a number goes on with everything
// answered well until that slot is owed.
type walked struct {
	t    *testing.T
	p    *plan.Plan
	s    engine.State
	told []engine.Told
}

func (w *walked) until(id string) {
	w.t.Helper()
	for n := 0; ; n++ {
		if i := engine.Next(&w.p.Engine, w.s).Slot; i < 0 || w.p.Slots[i].ID == id && engine.Next(&w.p.Engine, w.s).Act == engine.Enter || n > 2000 {
			return
		}
		w.send(engine.Answers(&w.p.Engine, w.s)...)
	}
}

func (w *walked) send(es ...engine.Event) {
	w.t.Helper()
	for _, e := range es {
		w.told = append(w.told, engine.Told{Event: e, State: w.s})
		n, err := engine.Step(&w.p.Engine, w.s, e)
		if err != nil {
			w.t.Fatalf("%+v: %v", e, err)
		}
		w.s = n
	}
}

func TestStoryIsToldInTheWordsOfTheBench(t *testing.T) {
	w := &walked{t: t, p: sessiontest.Plan(t, "table-radio", "two-meters")}
	w.until("dead-ht/ht-line")
	w.send(engine.Event{Kind: engine.Read, Verdict: engine.Query}, engine.Event{Kind: engine.Accept, By: engine.Another})
	w.send(engine.Event{Kind: engine.Interrupt})
	w.until("ramp/ht-reservoir#50")
	w.send(engine.Event{Kind: engine.Off}, engine.Event{Kind: engine.Alter, Class: 0}, engine.Event{Kind: engine.Prove, Proof: engine.HalfProof, Verdict: engine.Pass})
	want := []string{
		"all is answered well, up to dead-ht/ht-line (line 54)",
		"dead-ht/ht-line (line 54) reads QUERY",
		"the query on dead-ht/ht-line (line 54) is accepted, by somebody else",
		"the program is started again, at dead-ht/discharge-path (line 54)",
		"all is answered well, up to ramp/ht-reservoir#50 (line 92)",
		"the plug is pulled, at ramp/ht-reservoir#50 (line 92)",
		"touched " + w.p.Classes[0].Words + ", at mains at ramp/ht-reservoir (line 92)",
		"the first line of the whole proof reads dead, at dead-ht/ht-line-60 (line 54)",
	}
	if got := w.p.Story(w.told); !slices.Equal(got, want) {
		t.Errorf("told\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A plan whose second hold could be forgotten: the work comes to where mains is
// refused.
func TestWhatIsNotSafeIsTold(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	sessiontest.ForgetHold(p)
	_, err := p.Prove(engine.Scope{})
	if err == nil {
		t.Fatal("it is proved")
	}
	for _, want := range []string{"double-wound:", "INV-11: the lamp stays in until hold 2 is released", "all is answered well, up to ", "mains at first-full/ht-reservoir (line ", "hint: "} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in\n%v", want, err)
		}
	}
}
