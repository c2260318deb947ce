package limits

import (
	"slices"

	"example.com/powerup/internal/unit"
)

const (
	vde0701  = "DIN VDE 0701-0702"
	ietCode  = "IET in-service inspection practice"
	iet2020  = "IET in-service code, 5th edition 2020"
	iec60990 = "IEC 60990 Fig. 4"
	iec61008 = "IEC 61008"
)

// networks has the parts of each touch-current network.
var networks = map[string]string{
	iec60990: "1.5 kΩ and 0.22 µF in parallel, in series with 500 Ω; read over the 500 Ω through 10 kΩ and 22 nF",
}

// profiles: the figures of each are spelled out, so that one can change without
// the other. A third, with polarised plugs at 60 Hz and its own network, fits
// the same shape.
var profiles = []Profile{
	{
		ID: "uk", Dated: "2026-11",
		MainsLow: 216.2, MainsNominal: 230, MainsTop: 253, Frequency: 50,
		bandSource: "UK statutory supply band", Polarised: true, PlugFuse: true,
		Network: iec60990, Buck: 1.05,
		insulationEarthed:   seen("uk-insulation-earthed", unit.Ohm(1e6), "uk: insulation of an earthed set at 500 V, at least", ietCode),
		insulationUnearthed: seen("uk-insulation-unearthed", unit.Ohm(2e6), "uk: insulation of an unearthed set at 500 V, at least", ietCode),
		touch:               seen("uk-touch", unit.Ampere(0.5e-3), "uk: touch current, at most", iec60990+" network; value of "+vde0701),
		protective:          seen("uk-protective", unit.Ampere(5e-3), "uk: current in the protective conductor, at most", iet2020),
		bond:                bondRule{base: seen("uk-bond", unit.Ohm(0.1), "uk: earth bond on top of the lead's own ohms, at most", ietCode)},
		plugFuses: [2]plugFuse{
			{under: 700, rating: seen("uk-plug-fuse", unit.Ampere(3), "uk: plug fuse of a set under 700 W", "BS 1362 practice")},
			{under: 3000, rating: memory("uk-plug-fuse-large", unit.Ampere(13), "uk: plug fuse of a set of 700 W up to 3 kW", "BS 1362 practice")},
		},
		trip: tripOf("uk"),
	},
	{
		ID: "eu", Dated: "2026-11",
		MainsLow: 207, MainsNominal: 230, MainsTop: 253, Frequency: 50,
		bandSource: "IEC 60038, EN 50160",
		Network:    iec60990, Buck: 1.05,
		insulationEarthed:   seen("eu-insulation-earthed", unit.Ohm(1e6), "eu: insulation of an earthed set at 500 V, at least", vde0701),
		insulationUnearthed: seen("eu-insulation-unearthed", unit.Ohm(2e6), "eu: insulation of an unearthed set at 500 V, at least", vde0701),
		touch:               seen("eu-touch", unit.Ampere(0.5e-3), "eu: touch current, at most", vde0701),
		protective:          seen("eu-protective", unit.Ampere(3.5e-3), "eu: current in the protective conductor, at most", vde0701),
		bond: bondRule{
			base: seen("eu-bond-thick", unit.Ohm(0.1), "eu: earth bond on top of the lead's own ohms, cores above 1.5 mm², at most", "tester maker's note on EN 50678"),
			thin: 1.5e-6, short: 5, further: 7.5,
			first: seen("eu-bond", unit.Ohm(0.3), "eu: earth bond of a lead up to 5 m, at most", vde0701),
			each:  seen("eu-bond-each", unit.Ohm(0.1), "eu: and for every further 7.5 m begun", vde0701),
			most:  seen("eu-bond-most", unit.Ohm(1), "eu: earth bond of any lead, at most", vde0701),
		},
		trip: tripOf("eu"),
	},
}

func tripOf(id string) rcd {
	return rcd{
		current:    memory(id+"-rcd", unit.Ampere(30e-3), id+": residual-current device goes at", iec61008),
		time:       memory(id+"-rcd-time", unit.Second(0.3), id+": and within", iec61008),
		timeAtFive: memory(id+"-rcd-time-five", unit.Second(0.04), id+": and at five times that current within", iec61008),
	}
}

// profileFigures lists what the profiles hold, for the table of all figures.
func profileFigures(all []Profile) []Figure {
	var fs []Figure
	for _, p := range all {
		fs = append(fs,
			seen(p.ID+"-mains-low", p.MainsLow, p.ID+": mains, from", p.bandSource),
			seen(p.ID+"-mains-top", p.MainsTop, p.ID+": mains, to", p.bandSource),
			practice(p.ID+"-buck", number(p.Buck), p.ID+": mains over tap above which lower volts are advised"),
			p.insulationEarthed, p.insulationUnearthed, p.touch, p.protective,
			p.bond.base, p.bond.first, p.bond.each, p.bond.most,
			p.plugFuses[0].rating, p.plugFuses[1].rating,
			p.trip.current, p.trip.time, p.trip.timeAtFive)
	}
	return slices.DeleteFunc(fs, func(f Figure) bool { return f.ID == "" })
}
