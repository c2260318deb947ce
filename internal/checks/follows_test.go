package checks

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// TestEveryReadingThatMovesAWindowIsNamed: INV-19. Each reading of a whole
// session is changed in turn; whose window moves must say that it follows, and
// nobody may say so without need.
func TestEveryReadingThatMovesAWindowIsNamed(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds, and many under the race detector")
	}
	moves := map[string]map[string]bool{}
	for _, s := range []*sheet.Set{fullRadio(), sparseRadio(), unmarkedRadio()} {
		taken := wholeSession(t, s)
		before := windowsOf(t, s, taken)
		for key, q := range taken {
			from, _, _ := strings.Cut(key, "@")
			for _, part := range []float64{0.3, 1.2, 4} {
				taken[key] = unit.Quantity{Kind: q.Kind, Value: q.Value * part}
				for _, id := range moved(before, windowsOf(t, s, taken)) {
					if moves[id] == nil {
						moves[id] = map[string]bool{}
					}
					moves[id][from] = true
				}
			}
			taken[key] = q
		}
	}
	for _, c := range All() {
		for from := range moves[c.ID] {
			if !slices.Contains(c.Follows, from) && !slices.Contains(c.Inputs, from) {
				t.Errorf("%s does not say that its window follows from %s", c.ID, from)
			}
		}
		for _, from := range c.Follows {
			if !moves[c.ID][from] {
				t.Errorf("%s says that its window follows from %s, which moves nothing", c.ID, from)
			}
		}
	}
}

// wholeSession is a reading inside each window, of a sound set.
func wholeSession(t *testing.T, s *sheet.Set) map[string]unit.Quantity {
	t.Helper()
	taken := map[string]unit.Quantity{}
	for range 2 { // the second time with what the first has given
		for key, w := range windowsOf(t, s, taken) {
			lo, hi := w.Pass.Lo, w.Pass.Hi
			switch {
			case !math.IsInf(lo+hi, 0) && !math.IsNaN(lo+hi):
				taken[key] = unit.Quantity{Kind: w.Kind, Value: (lo + hi) / 2}
			case !math.IsInf(lo, 0):
				taken[key] = unit.Quantity{Kind: w.Kind, Value: 2*lo + 1}
			}
		}
	}
	return taken
}

// windowsOf are the windows of every check and item at full mains, by
// check[@item].
func windowsOf(t *testing.T, s *sheet.Set, taken map[string]unit.Quantity) map[string]Window {
	t.Helper()
	out := map[string]Window{}
	k := caseFor(t, s, "")
	k.Taken, k.Rung, k.AtSet, k.TwoSided, k.Settled = taken, 100, 230, true, true
	if s.HTWinding == nil { // and with a meter that loads what it touches
		k.Meter = &sheet.Meter{Kind: sheet.Digital, Input: new(unit.Ohm(1e6))}
	}
	for _, c := range All() {
		items := []string{""}
		if c.Items != nil {
			items = c.Items(s)
		}
		for _, item := range items {
			key := c.ID
			if item != "" {
				key += "@" + item
			}
			if k.Item = item; c.Rule == nil {
				continue
			}
			if w, err := c.Rule(k); err == nil {
				out[key] = w
			}
		}
	}
	return out
}

// moved are the checks whose window is another, or gone.
func moved(before, after map[string]Window) []string {
	var out []string
	for key, w := range before {
		if a, ok := after[key]; !ok || a.Pass != w.Pass || a.Query != w.Query {
			id, _, _ := strings.Cut(key, "@")
			out = append(out, id)
		}
	}
	return out
}
