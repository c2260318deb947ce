package limits

import "example.com/powerup/internal/unit"

// oldLeakage is where the limits of formed electrolytics come from.
const oldLeakage = "JAN-C-62 as quoted on a restorers' list"

// bandsExtra are the windows of checks that a procedure may name and the one
// that comes with the program does not: they cost a line each, or an instrument
// that few have.
var bandsExtra = []Band{
	// Dead.
	{
		ID: "capacitance", What: "capacitance of an electrolytic over the sheet's", PassLo: 0.9, PassHi: 1.5,
		QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "capacitance.typical", What: "the same where the sheet gives none", Kind: unit.KindFarad,
		PassLo: 8e-6, PassHi: 100e-6, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "coils", What: "ohms of a coil that feeds an anode or a screen; far above is an open one", Kind: unit.KindOhm,
		PassLo: 0.5, PassHi: 100, QueryLo: down, QueryHi: 10e3, Danger: High,
	},
	{
		ID: "valve-heaters", What: "cold ohms of a heater over its volts by its current; far above is an open one", PassLo: 0.1, PassHi: 0.25,
		QueryLo: 0.05, QueryHi: 20, Danger: Both,
	},
	{
		ID: "reform-early", What: "current after the first hour over the most a forming capacitor may take", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: up, Danger: Neither, Mark: Seen, Source: reageing,
	},
	{
		ID: "reform-leak", What: "leak of an old capacitor after forming over the limit of such", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 3, Danger: High, Mark: Seen, Source: oldLeakage,
	},
	{
		ID: "reform-leak.rise", What: "leak after forming over the reading after the first hour", PassLo: down, PassHi: 1.05,
		QueryLo: down, QueryHi: 1.05, Danger: High,
	},

	// Energised.
	{
		ID: "ripple-smoothed", What: "ripple at HT2", PassLo: down, PassHi: 2,
		QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "mains-current", What: "current of the whole set", PassLo: 1, PassHi: 1,
		QueryLo: down, QueryHi: 1.27, Danger: High,
	},
}
