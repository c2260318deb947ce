package checks

import (
	"testing"

	"example.com/powerup/internal/unit"
)

// What is marked on a part makes the windows that a sheet with it would make, and
// only of the readings that come after it.
func TestWhatIsMarkedCountsAsOnTheSheet(t *testing.T) {
	full, lost := fullRadio(), fullRadio()
	lost.Output.CathodeR, lost.Output.GridLeak = nil, nil
	for _, id := range []string{"cathode-resistor", "grid-leak", "coupling-capacitor"} {
		want := windowOf(t, id, caseFor(t, full, "V4"))
		k := caseFor(t, lost, "V4")
		if got := windowOf(t, id, k); got.Typical == "" {
			t.Errorf("%s: of nothing marked the window is not typical: %+v", id, got)
		}
		marked := k.had("marked-ohms@cathode resistor", unit.KindOhm, 135).had("marked-ohms@grid leak", unit.KindOhm, 470e3)
		if got := windowOf(t, id, marked); got.Pass != want.Pass || got.Query != want.Query || got.Typical != want.Typical {
			t.Errorf("%s: %+v, with the sheet's %+v", id, got, want)
		}
	}
	if c, _ := Find("marked-ohms"); len(c.Items(full)) != 0 || len(c.Items(lost)) != 2 {
		t.Errorf("asked for %v and %v", c.Items(full), c.Items(lost))
	}
}
