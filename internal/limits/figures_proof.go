package limits

import "example.com/powerup/internal/unit"

const (
	en50191a = "EN 50191:2010 cl. 1.2 a"
	en50191b = "EN 50191:2010 cl. 1.2 b"
	en50191d = "EN 50191:2010 cl. 1.2 d"
	gs38     = "HSE GS38, 4th edition 2015, para 9"
)

// figuresProof: what harms nobody, discharging, proving dead, how long a proof lasts.
var figuresProof = []Figure{
	seen("no-danger-dc", unit.Volt(60), "d.c. volts that may be touched, at or below", en50191a),
	seen("no-danger-ac", unit.Volt(25), "a.c. volts that may be touched, at or below", en50191a),
	seen("harmless-current-ac", unit.Ampere(3e-3), "a.c. through 2 kΩ that harms nobody, at or below", en50191b),
	seen("harmless-current-dc", unit.Ampere(12e-3), "d.c. through 2 kΩ that harms nobody, at or below", en50191b),
	seen("harmless-energy", number(0.35), "joules of a discharge that harms nobody, at or below", en50191d),

	practice("dead-volts", unit.Volt(10), "hands go in at or below"),
	seen("still-charged", unit.Volt(60), "above this after the discharge tool nothing but discharging is offered; also where the wait for the bleed path ends", en50191a),
	seen("charging-volts", unit.Volt(60), "a test that puts more than this on a node ends that node's proof", en50191a),

	practice("discharge-tool", unit.Ohm(10e3), "resistance of the discharge tool"),
	practice("discharge-tool-tolerance", unit.Percent(10), "the tool may read off by this much"),
	practice("discharge-tool-watts", unit.Watt(10), "rating of the tool's resistor"),
	practice("tool-minimum", unit.Second(5), "shortest use of the tool on one capacitor"),
	practice("rebound-wait", unit.Second(60), "reservoirs are read again after"),
	practice("decay-fast", number(0.5), "falls in less than this times R x C: the meter is doubted"),
	practice("decay-slow", number(1.5), "takes more than this times R x C: the bleed path is doubted"),
	practice("source-agree", unit.Percent(10), "both readings of the known source lie this near its stated volts"),

	practice("proof-idle", 15*minute, "a proof of dead ends without an entry for"),
	practice("proof-longest", 60*minute, "a proof of dead ends after"),
	practice("live-idle", 30*minute, "energised without an entry for: the state is unknown"),
	practice("day", 24*hour, "insulation, bond and HT line readings stand for"),
	practice("wall-jump", 2*minute, "a clock that jumps more voids what stands for a day"),
	practice("check-in", 15*minute, "alone at the bench: an entry is due every"),

	seen("probe-tip", unit.Metre(4e-3), "bare metal of a probe, at most", gs38),
	seen("probe-tip-better", unit.Metre(2e-3), "bare metal of a probe, better", gs38),
	seen("probe-fuse", unit.Ampere(0.5), "fuse in a test lead, at most", gs38),
	practice("pin-gap", unit.Metre(4e-3), "pins nearer than this are not probed by hand"),
}
