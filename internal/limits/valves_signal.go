package limits

// signalValves: mixers, amplifiers and diodes. K and Mu of a Signal are computed
// from one working point, Ik = K ((Vg2 - Vg1)/Mu + Vg1)^1.5.
func signalValves() []Valve {
	return []Valve{
		{
			Type: "ECC83", US: "12AX7", HeaterVolts: 6.3, HeaterCurrent: 0.3,
			Sections: []Section{{Name: "each triode", VaMax: 300, PaMax: 1, IkMax: 8e-3, Va: 250, Vg1: -2, Ia: 1.2e-3, Mu: 100}},
			Mark:     Seen, Source: "an encyclopedia and a valve list, agreeing",
			Note: "heater 12.6 V 0.15 A with its halves in series; United States design maxima 330 V, 1.2 W",
		},
		{
			Type: "ECC81", US: "12AT7", HeaterVolts: 6.3, HeaterCurrent: 0.3,
			Sections: []Section{{Name: "each triode", VaMax: 300, PaMax: 2.5, IkMax: 15e-3, Va: 250, Vg1: -2, Ia: 10e-3, Gm: 5.5e-3, Mu: 60}},
			Mark:     Memory, Source: "maxima, Mu and slope from a valve list (seen); working point",
			Note: "heater 12.6 V 0.15 A with its halves in series",
		},
		{
			Type: "ECC82", US: "12AU7", HeaterVolts: 6.3, HeaterCurrent: 0.3,
			Sections: []Section{{Name: "each triode", VaMax: 300, PaMax: 2.75, IkMax: 20e-3, Va: 250, Vg1: -8.5, Ia: 10.5e-3, Gm: 2.2e-3, Mu: 17}},
			Mark:     Memory, Source: "maxima, Mu and slope from a valve list (seen); working point",
			Note: "heater 12.6 V 0.15 A with its halves in series",
		},
		{
			Type: "ECH81", US: "6AJ8", HeaterVolts: 6.3, HeaterCurrent: 0.3,
			Sections: []Section{
				{
					Name: "heptode", VaMax: 300, PaMax: 1.7, Vg2Max: 125, Pg2Max: 1, IkMax: 12.5e-3,
					Va: 250, Vg2: 100, Vg1: -2, Ia: 3.25e-3, Ig2: 6.7e-3, Gm: 0.78e-3,
				},
				{Name: "triode", VaMax: 250, PaMax: 0.8, IkMax: 6.5e-3, Va: 100, Ia: 4.5e-3, Mu: 22},
			},
			Signal: &Signal{K: 1.823e-3, Mu: 20, Share: 6.7 / 9.95, TypicalRk: 200, TypicalRg2: 18e3},
			Mark:   Memory, Source: "valve data sheet",
			Note: "Vg2 up to 300 V at low current; the triode stands behind about 33 kΩ",
		},
		{
			Type: "EF89", US: "6DA6", HeaterVolts: 6.3, HeaterCurrent: 0.2,
			Sections: []Section{{
				Name: "pentode", VaMax: 300, PaMax: 2.25, Vg2Max: 300, Pg2Max: 0.45, IkMax: 16.5e-3,
				Va: 250, Vg2: 100, Vg1: -2, Ia: 9e-3, Ig2: 3e-3, Gm: 3.6e-3,
			}},
			Signal: &Signal{K: 1.5e-3, Mu: 17, Share: 0.25, TypicalRk: 167, TypicalRg2: 39e3},
			Mark:   Memory, Source: "valve data sheet; a forum's transcription (seen) has slope 3.5 mA/V and Mu about 19",
			Note: "Mu taken as 17",
		},
		{
			Type: "EABC80", US: "6T8/6AK8", HeaterVolts: 6.3, HeaterCurrent: 0.45,
			Sections: []Section{
				{Name: "triode", VaMax: 300, PaMax: 1, IkMax: 5e-3, Va: 250, Vg1: -3, Ia: 1e-3, Mu: 70},
				{Name: "three diodes"},
			},
			Mark: Memory, Source: "valve data sheet",
		},
	}
}
