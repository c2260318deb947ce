package limits

// outputValves: where no source is named the figures are from memory. Grid
// leaks and pins are from memory throughout. K and Mu are computed, from the
// working point and its slope where the note does not say otherwise:
// d = 1.5 Ia/gm, Mu = (Vg2 - Vg1)/(d - Vg1), K = (Ia + Ig2)/d^1.5.
func outputValves() []Valve {
	noval := Pins{Grid: 2, Cathode: 3, Anode: 7, Screen: 9, Heater: [2]int{4, 5}}
	octal := Pins{Grid: 5, Cathode: 8, Anode: 3, Screen: 4, Heater: [2]int{2, 7}}
	return []Valve{
		{
			Type: "EL84", US: "6BQ5", HeaterVolts: 6.3, HeaterCurrent: 0.76,
			Sections: []Section{{
				Name: "output pentode", VaMax: 300, PaMax: 12, Vg2Max: 300, Pg2Max: 2, IkMax: 65e-3,
				Va: 250, Vg2: 250, Vg1: -7.3, Ia: 48e-3, Ig2: 5.5e-3, Gm: 11.3e-3,
			}},
			Output: &Output{
				VaMax: 300, PaMax: 12, Vg2Max: 300, Pg2Max: 2, IkMax: 65e-3,
				Share: 5.5 / 53.5, K: 3.4305e-3, Mu: 19,
				GridLeakMax: 1e6, GridLeakMaxFixed: 0.3e6, TypicalRk: 135,
				Ia: 48e-3, Ig2: 5.5e-3, Pins: noval,
			},
			Mark:   Memory,
			Source: "maxima, heater and slope as an encyclopedia quotes the maker (seen); working point",
			Note:   "Pg2 4 W at full signal; Mu taken as 19, K from the working point",
		},
		{
			Type: "EL34", US: "6CA7", HeaterVolts: 6.3, HeaterCurrent: 1.5,
			Sections: []Section{{
				Name: "output pentode", VaMax: 800, PaMax: 25, Vg2Max: 500, Pg2Max: 8, IkMax: 150e-3,
				Va: 250, Vg2: 250, Vg1: -12.2, Ia: 100e-3, Ig2: 15e-3, Gm: 11e-3,
			}},
			Output: &Output{
				VaMax: 800, PaMax: 25, Vg2Max: 500, Pg2Max: 8, IkMax: 150e-3,
				Share: 15.0 / 115, K: 2.30e-3, Mu: 9.7,
				GridLeakMax: 0.7e6, GridLeakMaxFixed: 0.5e6, TypicalRk: 106,
				Ia: 100e-3, Ig2: 15e-3, Pins: octal,
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "early sheets allow Vg2 425 V only; g3 has a pin of its own, 1; Mu taken as 9.7, K from the working point with volts to the cathode",
		},
		{
			Type: "6V6GT", US: "6V6GT/6V6", HeaterVolts: 6.3, HeaterCurrent: 0.45,
			Sections: []Section{{
				Name: "beam output", VaMax: 315, PaMax: 12, Vg2Max: 285, Pg2Max: 2,
				Va: 250, Vg2: 250, Vg1: -12.5, Ia: 45e-3, Ig2: 4.5e-3, Gm: 4.1e-3,
			}},
			Output: &Output{
				VaMax: 315, PaMax: 12, Vg2Max: 285, Pg2Max: 2,
				Share: 4.5 / 49.5, K: 7.411e-4, Mu: 9.064,
				GridLeakMax: 0.5e6, GridLeakMaxFixed: 0.1e6, TypicalRk: 252.5,
				Ia: 45e-3, Ig2: 4.5e-3, Pins: octal,
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "design-centre figures; the same type later carried 14 W (seen), 350 V, Vg2 315 V, 2.2 W as design maxima; no cathode current limit given; Rk computed, 12.5 V / 49.5 mA",
		},
		{
			Type: "6L6GC", US: "6L6GC", HeaterVolts: 6.3, HeaterCurrent: 0.9,
			Sections: []Section{{
				Name: "beam output", VaMax: 500, PaMax: 30, Vg2Max: 450, Pg2Max: 5,
				Va: 350, Vg2: 250, Vg1: -18, Ia: 54e-3, Ig2: 2.5e-3, Gm: 5.2e-3,
			}},
			Output: &Output{
				VaMax: 500, PaMax: 30, Vg2Max: 450, Pg2Max: 5,
				Share: 2.5 / 56.5, K: 9.189e-4, Mu: 7.982,
				GridLeakMax: 0.5e6, GridLeakMaxFixed: 0.1e6, TypicalRk: 318.6,
				Ia: 54e-3, Ig2: 2.5e-3, Pins: octal,
			},
			Mark:   Memory,
			Source: "heater, Va, Pa and working point as an encyclopedia quotes a maker's data of 1973 (seen); screen",
			Note:   "design-maximum figures; a plain 6L6 carries 19 W (seen) and is another type; no cathode current limit given; Rk computed, 18 V / 56.5 mA",
		},
		{
			Type: "ECL82", US: "6BM8", HeaterVolts: 6.3, HeaterCurrent: 0.78,
			Sections: []Section{
				{
					Name: "output pentode", VaMax: 300, PaMax: 7, Vg2Max: 300, Pg2Max: 1.8, IkMax: 50e-3,
					Va: 200, Vg2: 200, Vg1: -16, Ia: 35e-3, Ig2: 7e-3, Gm: 6.4e-3,
				},
				{Name: "triode", VaMax: 300, PaMax: 1, IkMax: 15e-3, Va: 100, Ia: 3.5e-3, Mu: 70},
			},
			Output: &Output{
				VaMax: 300, PaMax: 7, Vg2Max: 300, Pg2Max: 1.8, IkMax: 50e-3,
				Share: 7.0 / 42, K: 1.788e-3, Mu: 8.924,
				GridLeakMax: 1e6, GridLeakMaxFixed: 0.3e6, TypicalRk: 380,
				Ia: 35e-3, Ig2: 7e-3,
				Pins: Pins{Grid: 3, Cathode: 2, Anode: 6, Screen: 7, Heater: [2]int{4, 5}},
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "some sheets allow Va 600 V; Pg2 3.2 W at full signal",
		},
		{
			Type: "ECL86", US: "6GW8", HeaterVolts: 6.3, HeaterCurrent: 0.7,
			Sections: []Section{
				{
					Name: "output pentode", VaMax: 300, PaMax: 9, Vg2Max: 300, Pg2Max: 1.5, IkMax: 55e-3,
					Va: 250, Vg2: 250, Vg1: -7, Ia: 36e-3, Ig2: 6e-3, Gm: 10e-3,
				},
				{Name: "triode", VaMax: 300, PaMax: 0.5, IkMax: 4e-3, Va: 250, Vg1: -1.9, Ia: 1.2e-3, Mu: 100},
			},
			Output: &Output{
				VaMax: 300, PaMax: 9, Vg2Max: 300, Pg2Max: 1.5, IkMax: 55e-3,
				Share: 6.0 / 42, K: 3.347e-3, Mu: 20.73,
				GridLeakMax: 1e6, GridLeakMaxFixed: 0.3e6, TypicalRk: 170,
				Ia: 36e-3, Ig2: 6e-3,
				Pins: Pins{Grid: 8, Cathode: 7, Anode: 6, Screen: 3, Heater: [2]int{4, 5}},
			},
			Mark:   Memory,
			Source: "Pa and slope from a maker's release of 1962, Va, Vg2 and triode from a valve list (seen); rest",
			Note:   "heater 0.66 or 0.70 A by source; a page that gives Pa 7 W is contradicted by the maker",
		},
		{
			Type: "UL84", US: "45B5", HeaterVolts: 45, HeaterCurrent: 0.1, SeriesHeater: true,
			Sections: []Section{{
				Name: "output pentode", VaMax: 250, PaMax: 12, Vg2Max: 200, Pg2Max: 1.75, IkMax: 100e-3,
				Va: 170, Vg2: 170, Vg1: -12.5, Ia: 70e-3, Ig2: 5e-3, Gm: 10e-3,
			}},
			Output: &Output{
				VaMax: 250, PaMax: 12, Vg2Max: 200, Pg2Max: 1.75, IkMax: 100e-3,
				Share: 5.0 / 75, K: 3.172e-3, Mu: 8.8,
				GridLeakMax: 1e6, GridLeakMaxFixed: 0.3e6, TypicalRk: 165,
				Ia: 70e-3, Ig2: 5e-3, Pins: noval,
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "Mu taken as 8.8, K from the working point",
		},
	}
}
