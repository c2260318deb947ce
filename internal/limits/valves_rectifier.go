package limits

// rectifierValves: warm-up without a source is common practice, 15 to 30 s for
// an indirectly heated rectifier, 2 to 5 s for a filament. Perveance is
// computed, DropAt/Drop^1.5.
func rectifierValves() []Valve {
	return []Valve{
		{
			Type: "EZ80", US: "6V4", HeaterVolts: 6.3, HeaterCurrent: 0.6,
			Rectifier: &Rectifier{
				VacMax: 350, IdcMax: 90e-3, IpkMax: 270e-3, PIV: 1000, CMax: 50e-6,
				Series: []Series{{250, 125}, {275, 175}, {300, 215}, {350, 300}},
				Drop:   22, DropAt: 90e-3, Perveance: 8.722e-4, FullWave: true, WarmUp: 35,
			},
			Mark:   Memory,
			Source: "maxima, series resistance, reservoir and warm-up as published for EZ40 of the same ratings (seen); heater and peak current",
			Note:   "drop fitted to the published outputs of 260, 285, 310, 360 V at 90 mA, which it meets within 1.4 %",
		},
		{
			Type: "EZ81", US: "6CA4", HeaterVolts: 6.3, HeaterCurrent: 1,
			Rectifier: &Rectifier{
				VacMax: 350, IdcMax: 150e-3, IpkMax: 450e-3, PIV: 1300, CMax: 50e-6,
				Series: []Series{{250, 150}, {300, 190}, {350, 230}},
				Drop:   19, DropAt: 150e-3, Perveance: 1.811e-3, FullWave: true, WarmUp: 30,
			},
			Mark: Memory, Source: "currents from a forum (seen); rest",
			Note: "drop fits the remembered outputs within 2.5 %",
		},
		{
			Type: "5Y3GT", US: "5Y3GT/5Y3", HeaterVolts: 5, HeaterCurrent: 2,
			Rectifier: &Rectifier{
				VacMax: 350, IdcMax: 125e-3, IpkMax: 400e-3, PIV: 1400, CMax: 20e-6,
				Series: []Series{{350, 50}},
				Drop:   50, DropAt: 125e-3, Perveance: 3.536e-4, DirectlyHeated: true, FullWave: true, WarmUp: 5,
			},
			Mark:   Memory,
			Source: "current, reservoir and filament from a transcription of data (seen); rest",
			Note:   "500 V with choke input; another source has a drop of 60 V; the filament winding is HT+",
		},
		{
			Type: "GZ34", US: "5AR4", HeaterVolts: 5, HeaterCurrent: 1.9,
			Rectifier: &Rectifier{
				VacMax: 450, IdcMax: 250e-3, IpkMax: 750e-3, PIV: 1500, CMax: 60e-6,
				Series: []Series{{300, 75}, {350, 100}, {400, 125}, {450, 150}, {500, 175}, {550, 200}},
				Drop:   17, DropAt: 225e-3, Perveance: 3.210e-3, FullWave: true, WarmUp: 30,
			},
			Mark: Memory, Source: "reservoir from a transcription of data (seen); rest",
			Note: "550 V at 160 mA; remembered outputs are 2 to 4 % above the law; the cathode is joined to the heater, whose winding is HT+",
		},
		{
			Type: "UY85", US: "38A3", HeaterVolts: 38, HeaterCurrent: 0.1, SeriesHeater: true,
			Rectifier: &Rectifier{
				VacMax: 250, IdcMax: 110e-3, IpkMax: 660e-3, PIV: 700, CMax: 100e-6,
				Series: []Series{{127, 0}, {220, 90}, {250, 100}},
				Drop:   20, DropAt: 110e-3, Perveance: 1.230e-3, WarmUp: 30,
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "the drop is an assumption",
		},
		{
			Type: "EZ90", US: "6X4", HeaterVolts: 6.3, HeaterCurrent: 0.6,
			Rectifier: &Rectifier{
				VacMax: 325, IdcMax: 70e-3, IpkMax: 245e-3, PIV: 1250,
				Series: []Series{{325, 525}},
				Drop:   22, DropAt: 70e-3, Perveance: 6.784e-4, FullWave: true, WarmUp: 30,
			},
			Mark:   Memory,
			Source: "volts, current, series resistance and drop from a transcription of a maker's sheet (seen); heater, peaks",
			Note:   "no largest reservoir given",
		},
		{
			Type: "35W4", US: "35W4", HeaterVolts: 35, HeaterCurrent: 0.15, SeriesHeater: true,
			Rectifier: &Rectifier{
				VacMax: 117, IdcMax: 100e-3, IpkMax: 600e-3, PIV: 330, CMax: 40e-6,
				Series: []Series{{117, 33}},
				Drop:   18, DropAt: 200e-3, Perveance: 2.619e-3, WarmUp: 30,
			},
			Mark: Memory, Source: "valve data sheet",
			Note: "60 mA with a dial lamp in circuit; 0 to 33 Ω in series by sheet, the larger taken",
		},
	}
}
