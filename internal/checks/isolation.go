package checks

import (
	"fmt"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// isolation proves an isolating transformer where the bench names one: a
// variable transformer taken for it joins its poles to its own input.
func isolation() Check {
	return Check{
		ID: "isolation", Title: "Isolating transformer, output poles joined {item}", Short: "isol",
		Crit: engine.S, Life: engine.Session, Retest: true,
		Kind: unit.KindOhm, Function: sheet.Insulation, Range: "500 V", Danger: limits.Low,
		Red: "both output poles, joined", Black: "{item}",
		Method:   "Everything unplugged at both ends. Press for a minute, hands off. A variable transformer reads nearly nothing: it isolates nothing.",
		Meaning:  "it does not isolate: a touched pole is live to earth",
		Cautions: []string{"isolating-transformer", "insulation-test"},
		Items:    func(*sheet.Set) []string { return []string{"to its own input pins", "to earth"} },
		Rule: func(Case) (Window, error) {
			floor := limits.Lookup("isolation-floor")
			shown := displayed(floor.Value.Value)
			d := least(unit.KindOhm, shown, fmt.Sprintf("limit %v / %.4g for the tester = %s as shown", floor.Value, number("tester-guard"), ohms(shown)), floor.Cite())
			d.shown = true
			return d.window()
		},
	}
}
