package circuit

import (
	"math"
	"testing"

	"example.com/powerup/internal/unit"
)

// misses are the rows of testdata/published_outputs.csv, by valve, r.m.s. volts
// and ohms, that the law does not reach within 3 %, with the reason.
var misses = map[[3]string]string{
	{"EZ41", "250", "150"}: "read off a curve by the source; the point does not fit the valve's other one",
	{"GZ34", "300", "75"}:  "at high peaks the valve drops less than the three-halves-power law, drawn through its average-current point, says",
}

// Published output volts within 3 %, each miss with its reason; what another
// time-domain program computed within 0.5 %. Sources: the table's own column.
func TestPublishedOutputs(t *testing.T) {
	missed, worst := 0, 0.0
	rows := readTable(t, "testdata/published_outputs.csv")
	for _, row := range rows {
		f := func(col string) float64 { return number(t, row, col) }
		rt := unit.Ohm(f("Rt"))
		s := &Supply{
			Nominal: unit.Volt(f("v_ac")), Frequency: 50, Secondary: unit.Volt(f("v_ac")), HalfA: rt, HalfB: rt,
			Perveance: f("at_A") / math.Pow(f("drop_V"), 1.5), Reservoir: unit.Farad(f("C_uF") * 1e-6),
		}
		got, err := s.Line(s.Nominal, unit.Ampere(f("I_A")))
		if err != nil {
			t.Fatal(err)
		}
		off := float64(got)/f("published_V") - 1
		t.Logf("%s, %s V, %s Ω: %.1f V, published %s V, %+.1f %%", row["valve"], row["v_ac"], row["Rt"], float64(got), row["published_V"], off*100)
		within(t, "against the other program", float64(got), f("model_V"), 0.005)
		reason := misses[[3]string{row["valve"], row["v_ac"], row["Rt"]}]
		switch miss := math.Abs(off) > 0.03; {
		case miss && reason == "":
			t.Errorf("%s, %s V: %+.1f %%, and nobody says why", row["valve"], row["v_ac"], off*100)
		case !miss && reason != "":
			t.Errorf("%s, %s V is within 3 %%: it is no miss", row["valve"], row["v_ac"])
		case miss:
			missed++
		default:
			worst = max(worst, math.Abs(off))
		}
	}
	if missed != len(misses) || len(rows) != 19 {
		t.Errorf("%d of %d rows missed, want %d of 19", missed, len(rows), len(misses))
	}
	t.Logf("the others are within %.1f %%", worst*100)
}
