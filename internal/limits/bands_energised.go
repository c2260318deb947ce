package limits

import (
	"math"

	"example.com/powerup/internal/unit"
)

// up and down are open sides of a band.
var up, down = math.Inf(1), math.Inf(-1)

// bandsEnergised are the windows of the checks made with mains on the set. The
// circuit computes the value; these are the multiples of it, the same for
// every set. A band of kind None counts in multiples. Where a pass side is the
// corner of the toleranced parts the band gives only the outer line, and its
// pass side repeats the computed value.
var bandsEnergised = []Band{
	// The supply.
	{
		ID: "set-volts", What: "volts at the set over the tap in use", PassLo: 0.5, PassHi: 1.1,
		QueryLo: down, QueryHi: 1.15, Danger: High,
	},
	{
		ID: "set-volts.lamp", What: "volts at the set over the tap in use, behind a lamp", PassLo: 0.25, PassHi: 1.1,
		QueryLo: down, QueryHi: 1.15, Danger: High,
	},
	{
		ID: "set-volts.rung", What: "volts at the set off the step, in per cent of the tap", Kind: unit.KindPercent,
		PassLo: -2, PassHi: 2, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "lamp", What: "lamp volts, everything on", PassLo: 0.45, PassHi: 1.06,
		QueryLo: down, QueryHi: 1.15, Danger: High,
	},
	{
		ID: "lamp.short", What: "lamp volts over those left on the set: more is a dead short behind the lamp", PassLo: down, PassHi: 9,
		QueryLo: down, QueryHi: 9, Danger: High,
	},

	// Transformer only.
	{
		ID: "idle-watts", What: "idle watts over the size of the transformer in VA", PassLo: 0, PassHi: 0.12,
		QueryLo: down, QueryHi: 0.25, Danger: High,
	},
	{
		ID: "lamp-late", What: "lamp volts at 60 s over those at 5 s", PassLo: 0, PassHi: 1.05,
		QueryLo: down, QueryHi: 1.05, Danger: High,
	},
	{
		ID: "lamp-late.digits", What: "and what the meter's last digits may add to that", Kind: unit.KindVolt, PassLo: 0, PassHi: 0.5,
		QueryLo: down, QueryHi: 0.5, Danger: High,
	},
	{
		ID: "half-volts", What: "open-circuit volts of one half of the HT winding", PassLo: 0.945, PassHi: 1.055,
		QueryLo: 0.92, QueryHi: 1.08, Danger: Both,
	},
	{
		ID: "half-volts.typical", What: "the same from typical values, or from volts on load and no ohms", PassLo: 0.90, PassHi: 1.055,
		QueryLo: 0.1, QueryHi: up, Danger: Low,
	},
	{
		ID: "half-balance", What: "difference of the halves over their mean", Kind: unit.KindPercent,
		PassLo: -3, PassHi: 3, QueryLo: -6, QueryHi: 6, Danger: Both,
	},
	{
		ID: "core-warm", What: "rise of the core in the first minutes, in degrees", Kind: unit.KindCelsius,
		PassLo: down, PassHi: 10, QueryLo: down, QueryHi: 15, Danger: High,
	},
	{
		ID: "lamp-off", What: "lamp volts with the set's own switch off", Kind: unit.KindVolt,
		PassLo: down, PassHi: 1, QueryLo: down, QueryHi: 3, Danger: High,
	},

	// Heaters only.
	{
		ID: "lamp-heaters", What: "lamp volts, heaters only", PassLo: 0.6, PassHi: 1.2,
		QueryLo: down, QueryHi: 1.7, Danger: High,
	},
	{
		ID: "heater-volts", What: "heater volts at the valve pins, no HT load yet", PassLo: 0.93, PassHi: 1.08,
		QueryLo: 0.90, QueryHi: 1.12, Danger: Both, Mark: Seen, Source: cp1005,
	},
	{
		ID: "heater-tap", What: "heater volts at today's mains over nominal", PassLo: 0.93, PassHi: 1.07,
		QueryLo: down, QueryHi: 1.10, Danger: High, Mark: Seen, Source: cp1005,
	},

	// HT.
	{
		ID: "ht-reservoir", What: "HT1, from 85 % of the tap", PassLo: 1, PassHi: 1,
		QueryLo: 0.90, QueryHi: 1.105, Danger: Both,
	},
	{
		ID: "ht-reservoir.step", What: "HT1 at a step below 85 % of the tap; the low side from 75 % only", PassLo: 0.70, PassHi: 1.07,
		QueryLo: 0.54, QueryHi: up, Danger: Both,
	},
	{
		ID: "ht-reservoir.cold", What: "HT1 over what it reaches with cold valves", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 1.01, Danger: High,
	},
	{
		ID: "ht-reservoir.rating", What: "HT1 over the lowest capacitor rating; what was read and typed has stood longer than it may", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 1, Danger: High,
	},
	{
		ID: "ht-reservoir.zero", What: "HT1 that reads nothing; under it the line is negative", Kind: unit.KindVolt,
		PassLo: -1, PassHi: up, QueryLo: -20, QueryHi: up, Danger: Low,
	},
	{
		ID: "polarity", What: "volts of the output stage that read nothing; under it the leads are reversed", Kind: unit.KindVolt,
		PassLo: -1, PassHi: up, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "ht-smoothed", What: "HT2, from 85 % of the tap", PassLo: 1, PassHi: 1,
		QueryLo: 0.875, QueryHi: 1.13, Danger: Both,
	},
	{
		ID: "cold-start-peak", What: "highest HT1 of a cold start over the no-load HT", PassLo: 0, PassHi: 1,
		QueryLo: down, QueryHi: 1, Danger: High, Mark: Computed, Source: "√2 × open-circuit volts of a half",
	},
	{
		ID: "ripple", What: "ripple at HT1", PassLo: 1, PassHi: 1,
		QueryLo: down, QueryHi: 2.05, Danger: High,
	},

	// The output stage.
	{
		ID: "output-grid", What: "grid of the output valve at a step", Kind: unit.KindVolt,
		PassLo: down, PassHi: 0.25, QueryLo: down, QueryHi: 0.5, Danger: High,
	},
	{
		ID: "output-grid.full", What: "grid of the output valve, from 85 % of the tap", Kind: unit.KindVolt,
		PassLo: -0.5, PassHi: 0.25, QueryLo: down, QueryHi: 0.5, Danger: High,
	},
	{
		ID: "output-cathode", What: "cathode of the output valve", PassLo: 1, PassHi: 1,
		QueryLo: 0.70, QueryHi: 1.30, Danger: Both,
	},
	{
		ID: "output-cathode.short", What: "cathode of an output valve that draws anode current", Kind: unit.KindVolt,
		PassLo: 0.1, PassHi: up, QueryLo: 0.1, QueryHi: up, Danger: Low,
	},
	{
		ID: "opt-volts", What: "volts across the output transformer, parts measured", PassLo: 1, PassHi: 1,
		QueryLo: 0.33, QueryHi: 1.30, Danger: Both,
	},
	{
		ID: "opt-volts.all", What: "the same with the sheet alone", PassLo: 1, PassHi: 1,
		QueryLo: 0.33, QueryHi: 1.41, Danger: Both,
	},
	{
		ID: "opt-volts.step", What: "the same at a step, sheet alone", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 1.32, Danger: High,
	},
	{
		ID: "opt-volts.open", What: "the same over HT1: more is an open primary", PassLo: down, PassHi: 0.5,
		QueryLo: down, QueryHi: 0.5, Danger: High,
	},

	// What follows from several readings.
	{
		ID: "ia-ratio", What: "anode current over cathode current, by two routes", PassLo: 0.89, PassHi: 1.17,
		QueryLo: 0.78, QueryHi: 1.28, Danger: Both,
	},
	{
		ID: "cathode-current", What: "cathode current over the valve's maximum, brought to nominal mains; the maximum itself at any", PassLo: down, PassHi: 0.85,
		QueryLo: down, QueryHi: 1, Danger: High,
	},
	{
		ID: "anode-dissipation", What: "anode dissipation over the valve's maximum, brought to nominal mains", PassLo: 0.60, PassHi: 1.05,
		QueryLo: down, QueryHi: 1.20, Danger: High,
	},
	{
		ID: "anode-dissipation.tap", What: "the same at today's mains", PassLo: down, PassHi: 1.20,
		QueryLo: down, QueryHi: 1.30, Danger: High,
	},
	{
		ID: "screen-dissipation", What: "screen dissipation over the valve's maximum", PassLo: down, PassHi: 1,
		QueryLo: down, QueryHi: 1.20, Danger: High,
	},
	{
		ID: "screen-drop", What: "volts over the screen resistor", PassLo: 1, PassHi: 1,
		QueryLo: down, QueryHi: 2, Danger: High,
	},
	{
		ID: "smoothing-drop", What: "drop over the smoothing", PassLo: 1, PassHi: 1,
		QueryLo: down, QueryHi: 1.32, Danger: High,
	},
	{
		ID: "supply-line", What: "HT1 off the supply line, in per cent, parts measured", Kind: unit.KindPercent,
		PassLo: 0, PassHi: 0, QueryLo: -6, QueryHi: 9, Danger: Both,
	},
	{
		ID: "supply-line.all", What: "the same with the sheet alone", Kind: unit.KindPercent,
		PassLo: -9.5, PassHi: 9.5, QueryLo: down, QueryHi: up, Danger: Neither,
	},
	{
		ID: "slope", What: "rise a minute, in per cent of the stop limit", Kind: unit.KindPercent,
		PassLo: down, PassHi: 2, QueryLo: down, QueryHi: 5, Danger: High,
	},
	{
		ID: "core", What: "surface of the core, brought to a room of 25 °C", Kind: unit.KindCelsius,
		PassLo: down, PassHi: 60, QueryLo: down, QueryHi: 80, Danger: High,
	},
}
