package checks

import (
	"errors"
	"testing"

	"example.com/powerup/internal/unit"
)

// A window made with a memory is the one made without, whatever the memory
// holds from other volts, lamps, spreads and supplies.
func TestMemoryChangesNoWindow(t *testing.T) {
	t.Parallel()
	weaker := fullMains(230)
	model := *weaker.Model
	model.Secondary *= 0.9
	weaker.Model = &model
	sheetOnly := fullMains(230)
	sheetOnly.Taken = map[string]unit.Quantity{}
	cases := []Case{fullMains(230), fullMains(207), behindLamp(60, 148.6), behindLamp(100, 148.6), weaker, sheetOnly}
	bare := behindLamp(60, 148.6)
	bare.Lamp = nil
	cases = append(cases, bare)
	shared := cases[0].Model
	for i := range cases {
		if cases[i].Model != weaker.Model {
			cases[i].Model = shared
		}
	}
	memory := NewMemory()
	for range 2 {
		for i, c := range cases {
			for _, id := range []string{"ht-reservoir", "ht-smoothed", "output-cathode", "ripple"} {
				want := windowOf(t, id, c)
				kept := c
				kept.Memory = memory
				if got := windowOf(t, id, kept); got != want {
					t.Errorf("%s of case %d: %+v with a memory, %+v without", id, i, got, want)
				}
			}
		}
	}
	if len(memory.seen) < len(cases) {
		t.Errorf("%d circuits are kept of %d", len(memory.seen), len(cases))
	}
}

func TestFiguresAreThoseOfTheWindow(t *testing.T) {
	t.Parallel()
	c := fullMains(230)
	f, err := FiguresOf(c)
	if err != nil {
		t.Fatal(err)
	}
	w := windowOf(t, "ht-reservoir", c)
	if !(f.HT1.X > w.Pass.Lo && f.HT1.X < w.Pass.Hi) {
		t.Errorf("HT1 %g V, passes %v", f.HT1.X, w.Pass)
	}
	if w := windowOf(t, "ripple", c); !(float64(f.Shown) > w.Pass.Lo && float64(f.Shown) < w.Pass.Hi) {
		t.Errorf("ripple %v, passes %v", f.Shown, w.Pass)
	}
	c.Model = nil
	if _, err := FiguresOf(c); !errors.Is(err, ErrNoData) {
		t.Errorf("without a circuit: %v", err)
	}
}
