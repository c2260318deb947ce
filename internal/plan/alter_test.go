package plan_test

import (
	"strings"
	"testing"

	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session/sessiontest"
)

// What a row of the table of alterations reaches, worked out by hand from the
// parts of a set and the tests that belong to each, not copied from the program.
const (
	splashed = "mains-side/mains-insulation mains-side/socket-insulation " +
		"dead-ht/ht-line-kick dead-ht/ht-line-60 dead-ht/ht-line dead-ht/discharge-path" // a drop of solder may be anywhere
	atVolts    = "dead-ht/ht-leak-60 dead-ht/ht-leak"
	rampOnward = "ramp/* first-full/* spot-checks/* soak/* warm/hot-primary warm/winding-rise warm/warm-insulation"
	idleOnward = "transformer/* heaters/* " + rampOnward
	stage      = "spot-checks/output-grid spot-checks/output-cathode spot-checks/opt-volts spot-checks/grid-slope " +
		"spot-checks/ia-ratio spot-checks/cathode-current spot-checks/anode-dissipation" // of the output valve, at full mains
	ceiling = "ramp/output-grid ramp/output-cathode"
)

// TestEachAlterationVoidsItsRowAndNoMore holds every reading of the open part
// against the table: flex C1 to C6; transformer C4 to C9 and all from the
// transformer alone on; and so forth. Readings that belong to one period go with
// their line and are not counted.
func TestEachAlterationVoidsItsRowAndNoMore(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for _, c := range []struct{ told, void, why string }{
		{"n", "", "nothing"},
		{
			"m a new flex", "looking/found-mains looking/plug-fuse-mark looking/set-fuse-mark mains-side/plug-fuse mains-side/set-fuse " +
				"mains-side/live-path-on mains-side/live-path-off mains-side/neutral-path transformer/lamp-off warm/warm-insulation ramp/* " + splashed,
			"wiring, fuses, switch by ohms and by lamp, insulation; after a fuse the ramp from its first step",
		},
		{"l blew", "bench/lamp-cold next-lamp/lamp-fitted ramp/*", "the bulb and, since it failed, the ramp"},
		{
			"x rewound", "mains-side/primary-winding dead-ht/half-winding dead-ht/heater-winding " + splashed + " " + idleOnward,
			"its windings, insulation, and all with mains on",
		},
		{"y a new one", splashed + " warm/warm-insulation", "insulation, cold and warm"},
		{
			"h second can", "looking/found-under looking/stamped-volts@reservoir looking/stamped-volts@second looking/reservoir-size " +
				splashed + " " + atVolts + " " + rampOnward,
			"how it sits, rating, size, the line at volts, and all from the ramp on",
		},
		{"v output", "dead-ht/electrodes@V4 heaters/* " + rampOnward, "its electrodes, the heaters, and all from the ramp on"},
		{"v rectifier", "dead-ht/electrodes@rectifier looking/reservoir-size heaters/* " + rampOnward, "and what it may charge"},
		{
			"v V2", "heaters/* spot-checks/ht-smoothed spot-checks/supply-line spot-checks/smoothing-drop",
			"another valve: the heaters and what it draws at full mains",
		},
		{"v", "dead-ht/electrodes looking/reservoir-size heaters/* " + rampOnward, "not said which: as each of them"},
		{
			"r at the cathode", "dead-ht/cathode-resistor dead-ht/grid-leak dead-ht/screen-resistor dead-ht/smoothing-resistor " +
				splashed + " " + ceiling + " " + stage,
			"the resistors, the passes at the ceiling, the spot checks; no new soak",
		},
		{
			"o a new one", "dead-ht/output-transformer openings/speaker-insulation openings/joint@speaker dead-ht/speech-coil " +
				splashed + " " + atVolts + " " + ceiling + " " + stage,
			"its ohms and insulation, the loudspeaker, the line at volts, passes and spot checks of its stage; no new soak",
		},
		{
			"p coupling", "openings/coupling-capacitor openings/joint@coupling looking/stamped-volts@coupling ramp/output-grid " +
				splashed + " spot-checks/output-grid spot-checks/output-cathode spot-checks/grid-slope spot-checks/ia-ratio " +
				"spot-checks/cathode-current spot-checks/anode-dissipation",
			"its stamp, its test at volts, its joint, the grid at the ceiling, the spot checks of the next valve",
		},
		{
			"p a tone capacitor", "openings/coupling-capacitor openings/joint looking/stamped-volts@coupling ramp/output-grid " +
				splashed + " " + atVolts + " " + stage,
			"it might be the coupling capacitor, or stand on the HT line",
		},
		{"t", "mains-side/primary-winding " + idleOnward, "the primary, and all from the transformer alone on"},
		{"b found open", "", "the boxed tests, which are another session's"},
		{"d a damp shed", "mains-side/mains-insulation mains-side/socket-insulation dead-ht/ht-line warm/warm-insulation", "what stands for a day"},
	} {
		classes := p.ClassesOf(c.told)
		if len(classes) != 1 {
			t.Errorf("%q is %d rows", c.told, len(classes))
			continue
		}
		hit := map[string]bool{}
		for i, slot := range p.Slots {
			if slot.Hold != "" || slot.Look || p.Engine.Slots[i].Life == engine.Period {
				continue
			}
			want := reaches(c.void, slot, hit)
			if got := p.Engine.Voids[classes[0]].Has(i); got != want {
				t.Errorf("%q (%s): %s is void: %v, want %v", c.told, c.why, slot.ID, got, want)
			}
		}
		for _, name := range strings.Fields(c.void) {
			if !hit[name] {
				t.Errorf("%q: no reading is %s", c.told, name)
			}
		}
	}
}

// reaches tells whether a list of stage/check[@item] or stage/* names a slot.
func reaches(list string, slot plan.Slot, hit map[string]bool) bool {
	found := false
	for _, name := range strings.Fields(list) {
		check, item, _ := strings.Cut(name, "@")
		if (check == slot.Stage+"/*" || check == slot.Stage+"/"+slot.Check.ID) && strings.HasPrefix(slot.Item, item) {
			hit[name], found = true, true
		}
	}
	return found
}

// Not sure voids all that guards a person or energy, and nothing of class E but
// what a splash may have spoilt.
func TestNotSureVoidsAllThatGuards(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	c := p.ClassesOf("? a lump of solder")[0]
	for i, slot := range p.Slots {
		guards := slot.Hold == "" && slot.Check.Crit != engine.E
		splash := reaches(splashed, slot, map[string]bool{})
		if got := p.Engine.Voids[c].Has(i); slot.Hold == "" && !slot.Look && got != (guards || splash) {
			t.Errorf("%s is void: %v", slot.ID, got)
		}
	}
}

// Soldering, and whoever found the set opened, had hands in it: the proof falls.
func TestProofFallsWithHandsInTheSet(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for letter, hands := range map[string]bool{
		"n": false, "m": true, "l": false, "x": true, "y": true, "h": true, "v": false, "r": true,
		"o": true, "p": true, "t": false, "b": true, "d": false, "?": true,
	} {
		for _, c := range p.ClassesOf(letter) {
			if p.Engine.Solder[c] != hands {
				t.Errorf("%s ends the proof: %v", letter, !hands)
			}
		}
	}
}

// A set found opened or boxed is tested boxed again; what the tests inside gave
// stands through boxing.
func TestFoundOpenedVoidsTheBoxedTests(t *testing.T) {
	p := sessiontest.Boxed(t, "earthed-radio", "two-meters")
	c := p.ClassesOf("b the screws were out")[0]
	for i, slot := range p.Slots {
		want := reaches("boxed/boxed-primary boxed/boxed-insulation boxed/boxed-bond boxed-touch/*", slot, map[string]bool{})
		if got := p.Engine.Voids[c].Has(i); slot.Hold == "" && slot.Stage == "boxed" && p.Engine.Slots[i].Life != engine.Period && got != want {
			t.Errorf("%s is void: %v, want %v", slot.ID, got, want)
		}
	}
}

// A valve is named by its place in the chassis, by its socket or by its type.
func TestValveIsKnownByItsSocketAndType(t *testing.T) {
	p := sessiontest.Plan(t, "table-radio", "two-meters")
	for told, part := range map[string]string{
		"v output": "output", "v V4, another fitted": "output", "v EL84": "output", "v the el84 again": "output",
		"v rectifier": "rectifier", "v EZ80": "rectifier", "v V2": "signal", "v ECH81, a better one": "signal",
		"v": "", "v the big one": "", "v V40": "", "v 6BQ5": "",
	} {
		classes := p.ClassesOf(told)
		if len(classes) != 1 || p.Classes[classes[0]].Part != part {
			t.Errorf("%q is %v, want the row %q", told, classes, part)
		}
	}
	if got := p.ClassesOf("v V2 and V4"); len(got) != 2 {
		t.Errorf("two valves are %d rows", len(got))
	}
}
