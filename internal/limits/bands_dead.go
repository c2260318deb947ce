package limits

import "example.com/powerup/internal/unit"

// Where several dead bands come from.
const (
	coldFilament = "a cold filament has a tenth to a fifteenth of its hot ohms"
	fusePractice = "BS 1362 practice: 3 A, red, below 700 W"
)

// bandsDead are the windows of the checks made with the plug out. A band of
// kind None counts in multiples of what the sheet gives. The ones that end in
// ".typical" stand in where it gives nothing: beyond them lies a dead short or
// an open circuit, and only that stops.
var bandsDead = []Band{
	// Bench.
	{
		ID: "discharge-tool", What: "ohms of the discharge tool", Kind: unit.KindOhm,
		PassLo: 9e3, PassHi: 11e3, QueryLo: 9e3, QueryHi: 11e3, Danger: Both,
	},
	{
		ID: "lamp-cold", What: "cold ohms of the lamp over its hot ohms", PassLo: 0.045, PassHi: 0.14,
		QueryLo: 0.03, QueryHi: 0.25, Danger: Both, Mark: Memory, Source: coldFilament,
	},
	{
		ID: "lamp-fitted", What: "amperes read off a lamp over those of the one that is due", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.8, QueryHi: 1.25, Danger: Both,
	},
	{
		ID: "meter-source", What: "reading over the volts stated for the known source", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.8, QueryHi: 1.2, Danger: Both,
	},
	{
		ID: "leads", What: "a meter's leads held together", Kind: unit.KindOhm,
		PassLo: down, PassHi: 0.5, QueryLo: down, QueryHi: 2, Danger: High,
	},
	{
		ID: "tester-apart", What: "the tester's leads apart", Kind: unit.KindOhm,
		PassLo: 200e6, PassHi: up, QueryLo: 20e6, QueryHi: up, Danger: Low,
	},
	{
		ID: "tester-joined", What: "the tester's leads held together", Kind: unit.KindOhm,
		PassLo: down, PassHi: 0.5e6, QueryLo: down, QueryHi: 1e6, Danger: High,
	},

	// Looking.
	{
		ID: "plug-fuse-mark", What: "marking of the plug fuse over the size the profile wants", PassLo: 0.3, PassHi: 1,
		QueryLo: 0.3, QueryHi: 1.67, Danger: Both, Mark: Seen, Source: fusePractice,
	},
	{
		ID: "stamped-volts", What: "rating over the volts that can stand there", PassLo: 1, PassHi: up,
		QueryLo: 1, QueryHi: up, Danger: Low,
	},

	// Openings.
	{
		ID: "coupling-capacitor.typical", What: "a coupling capacitor that is no dead short; where it passes is computed", Kind: unit.KindOhm,
		PassLo: 1e6, PassHi: up, QueryLo: 1e6, QueryHi: up, Danger: Low,
	},
	{
		ID: "joint", What: "a joint closed again", Kind: unit.KindOhm,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 5, Danger: High,
	},

	// Mains side.
	{
		ID: "primary-winding", What: "ohms of the primary", PassLo: 0.85, PassHi: 1.15,
		QueryLo: 0.70, QueryHi: 1.30, Danger: Both,
	},
	{
		ID: "primary-winding.typical", What: "the same over tap volts squared by the size in VA", PassLo: 0.03, PassHi: 0.08,
		QueryLo: 0, QueryHi: 10, Danger: Both,
	},
	{
		ID: "live-path-on", What: "live pin to the primary, fuses taken off", Kind: unit.KindOhm,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 5, Danger: High,
	},
	{
		ID: "neutral-path", What: "neutral pin to the primary", Kind: unit.KindOhm,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 5, Danger: High,
	},
	{
		ID: "plug-fuse", What: "a fuse of 1 A or more", Kind: unit.KindOhm,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 100, Danger: High,
	},
	{
		ID: "set-fuse", What: "a fuse of less than 1 A", Kind: unit.KindOhm,
		PassLo: down, PassHi: 30, QueryLo: down, QueryHi: 100, Danger: High,
	},

	// HT side.
	{
		ID: "ht-line-kick", What: "HT line at once over its drawn path", PassLo: down, PassHi: 0.5,
		QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-line-kick.open", What: "the same with no path drawn", Kind: unit.KindOhm,
		PassLo: down, PassHi: 500e3, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-line-60", What: "HT line at one minute over its drawn path", PassLo: 0.7, PassHi: 1.3,
		QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-line-60.open", What: "the same with no path drawn", Kind: unit.KindOhm,
		PassLo: 100e3, PassHi: up, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-line", What: "settled HT line over its drawn path", PassLo: 0.7, PassHi: 1.3,
		QueryLo: 0.5, QueryHi: up, Danger: Low,
	},
	{
		ID: "ht-line.open", What: "settled HT line with no path drawn", Kind: unit.KindOhm,
		PassLo: 500e3, PassHi: up, QueryLo: 100e3, QueryHi: up, Danger: Low,
	},
	{
		ID: "ht-line.typical", What: "settled HT line where nobody says whether there is a path", Kind: unit.KindOhm,
		PassLo: 500e3, PassHi: up, QueryLo: 5e3, QueryHi: up, Danger: Low,
	},
	{
		ID: "ht-line.settled", What: "HT line at two minutes over the reading at one minute", PassLo: 0.95, PassHi: 1.05,
		QueryLo: 0.95, QueryHi: up, Danger: Low,
	},
	{
		ID: "discharge-path", What: "time from no-load HT to 60 V without the tool", Kind: unit.KindSecond,
		PassLo: 0, PassHi: 60, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "heater-winding", What: "heater winding to chassis, beyond what is drawn", Kind: unit.KindOhm,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 10, Danger: High,
	},
	{
		ID: "cathode-resistor", What: "ohms of the cathode resistor", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.8, QueryHi: 1.2, Danger: Both,
	},
	{
		ID: "cathode-resistor.typical", What: "the same over the valve data's", PassLo: 0.8, PassHi: 1.25,
		QueryLo: 0.05, QueryHi: 20, Danger: Both,
	},
	{
		ID: "grid-leak", What: "ohms of the grid leak; the valve's maximum ends the high side", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.2, QueryHi: up, Danger: Both,
	},
	{
		ID: "grid-leak.typical", What: "the same where the sheet gives none", Kind: unit.KindOhm,
		PassLo: 220e3, PassHi: 680e3, QueryLo: 1e3, QueryHi: up, Danger: Both,
	},
	{
		ID: "screen-resistor", What: "ohms of the screen resistor", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.8, QueryHi: 1.2, Danger: Both,
	},
	{
		ID: "smoothing-resistor", What: "ohms of the smoothing resistor", PassLo: 0.9, PassHi: 1.1,
		QueryLo: 0.8, QueryHi: 1.2, Danger: Both,
	},
	{
		ID: "smoothing-resistor.wound", What: "ohms of a smoothing choke or field coil", PassLo: 0.85, PassHi: 1.15,
		QueryLo: 0.7, QueryHi: 20, Danger: Both,
	},
	{
		ID: "smoothing-resistor.typical", What: "smoothing where the sheet gives none", Kind: unit.KindOhm,
		PassLo: 50, PassHi: 5e3, QueryLo: 2, QueryHi: 100e3, Danger: Both,
	},
	{
		ID: "output-transformer", What: "ohms of the output transformer's primary", PassLo: 0.8, PassHi: 1.2,
		QueryLo: 0.3, QueryHi: 2, Danger: Both,
	},
	{
		ID: "output-transformer.typical", What: "the same where the sheet gives none", Kind: unit.KindOhm,
		PassLo: 150, PassHi: 600, QueryLo: 5, QueryHi: 10e3, Danger: Both,
	},
	{
		ID: "half-winding", What: "ohms of one half of the HT winding", PassLo: 0.85, PassHi: 1.15,
		QueryLo: 0.75, QueryHi: 1.25, Danger: Both,
	},
	{
		ID: "half-winding.typical", What: "the same where the sheet gives none", Kind: unit.KindOhm,
		PassLo: 100, PassHi: 500, QueryLo: 2, QueryHi: 10e3, Danger: Both,
	},
	{
		ID: "half-winding.balance", What: "difference of the halves over their mean", Kind: unit.KindPercent,
		PassLo: -15, PassHi: 15, QueryLo: -25, QueryHi: 25, Danger: Both,
	},
	{
		ID: "speech-coil", What: "ohms of the speech coil over the speaker's impedance", PassLo: 0.65, PassHi: 1,
		QueryLo: 0.4, QueryHi: 1.5, Danger: Both,
	},
	{
		ID: "speech-coil.typical", What: "the same where the sheet gives none", Kind: unit.KindOhm,
		PassLo: 1.5, PassHi: 16, QueryLo: 0.2, QueryHi: 100, Danger: Both,
	},
	{
		ID: "electrodes", What: "between electrodes of a cold valve", Kind: unit.KindOhm,
		PassLo: 20e6, PassHi: up, QueryLo: 1e6, QueryHi: up, Danger: Low,
	},
	{
		ID: "ht-leak", What: "current into the HT line over that of its drawn path", PassLo: 0.8, PassHi: 1.4,
		QueryLo: down, QueryHi: 2, Danger: High,
	},
	{
		ID: "ht-leak-60", What: "the same at one minute", PassLo: 0.8, PassHi: 1.4,
		QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-leak-60.old", What: "leak beyond the path at one minute over the limit of old capacitors", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: up, Danger: Neither, Mark: Seen, Source: oldLeakage,
	},
	{
		ID: "ht-leak.old", What: "leak beyond the path over the limit of old capacitors", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 3, Danger: High, Mark: Seen, Source: oldLeakage,
	},
	{
		ID: "ht-leak.rise", What: "current at two minutes over the reading at one minute", PassLo: down, PassHi: 1.05,
		QueryLo: down, QueryHi: 1.05, Danger: High,
	},

	// Warm.
	{
		ID: "winding-rise", What: "rise of the primary winding over the room", Kind: unit.KindCelsius,
		PassLo: 0, PassHi: 60, QueryLo: down, QueryHi: 70, Danger: High, Mark: Memory,
		Source: "85 and 95 °C on average in a room of 25 °C",
	},
}
