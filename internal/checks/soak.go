package checks

import (
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// soakChecks are read over the hour at full mains, beside the cathode of the
// output valve.
func soakChecks() []Check {
	return []Check{
		{
			ID: "core", Title: "Core of the mains transformer, soaking", Short: "core", Crit: engine.E, Supply: engine.Full,
			Kind: unit.KindCelsius, Function: sheet.Thermo,
			Red:     "core, top lamination, the same spot each time",
			Method:  "Thermometer fixed dead on the bare core. Three readings a quarter of an hour apart give the end value.",
			Meaning: "shorted turns, wrong tap, or the set draws too much",
			Danger:  limits.High,
			Causes: []string{
				"a hot valve or resistor beside it: read another spot of the core",
				"warm room: read the room too",
			},
			Cautions: []string{"mains-on", "hot-parts"}, Void: voidHT, Life: engine.Lasting, Path: "mains", Rule: coreRule,
		},
	}
}

// coreRule judges the core as it stands; its end value is worked out from
// three readings by core-end.
func coreRule(Case) (Window, error) {
	return drafted("core", unit.KindCelsius, 1, "as it stands; the end value follows from three readings").window()
}
