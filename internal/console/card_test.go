package console

import (
	"strings"
	"testing"

	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/unit"
)

// The card shows the ceiling of each bulb and how well it separates a fault from
// the healthy set, and says so when the bulb of the ramp cannot.
func TestCardShowsTheCeilingOfEachBulb(t *testing.T) {
	for _, c := range []struct {
		lamps []unit.Watt
		want  []string
		blind bool
	}{
		// 117 and 183 V on the set, 115 and 48.4 V on the lamp (ngspice-39).
		{[]unit.Watt{40, 100}, []string{"40 W: the set reaches 117 V, the lamp 115 V", "100 W: the set reaches 183 V, the lamp 48"}, false},
		{[]unit.Watt{40, 500}, []string{"40 W for transformer and heaters; 500 W for the ramp"}, true},
	} {
		in := sessiontest.Inputs(t, "table-radio", "two-meters")
		in.Bench.Lamps = c.lamps
		p := sessiontest.Made(t, in)
		out := textOf(WorkOf(p), false)
		text := strings.Join(strings.Fields(out), " ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%v: the card does not say %q", c.lamps, want)
			}
		}
		if got := strings.Contains(text, "tells such a fault from a healthy set"); got != c.blind {
			t.Errorf("%v: says that no bulb can tell: %v", c.lamps, got)
		}
		fits(t, out)
	}
}
