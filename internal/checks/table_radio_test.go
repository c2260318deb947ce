package checks

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/meter"
	"example.com/powerup/internal/unit"
)

// tableRadioModel is the full radio as its netlist has it, with the figures
// that no sheet gives.
func tableRadioModel() *circuit.Supply {
	return &circuit.Supply{
		Nominal: 230, Frequency: 50, Secondary: 275, Primary: 46, HalfA: 260, HalfB: 285,
		HeaterPower: 6.3 * 2.91, HeaterExp: 0.4, HeaterOpen: 6.88 / 6.3, HeaterR: 0.09 * (230 / 6.88) * (230 / 6.88),
		Idle: 5, Magnetising: 0.04, Perveance: 8.722e-4,
		Reservoir: 32e-6, Smoothing: 1200, Second: 32e-6, Bleed: 220e3, Rest: 47e3,
		Output: circuit.Valve{
			Name: "EL84", K: 3.4305e-3, Mu: 19, CathodeR: 135, ScreenR: 1000, Share: 5.5 / 53.5, AnodeR: 380, FromHT1: true,
		},
		Others: []circuit.Valve{
			{Name: "ECH81", K: 1.823e-3, Mu: 20, CathodeR: 200, ScreenR: 18e3, Share: 0.673},
			{Name: "EF89", K: 1.5e-3, Mu: 17, CathodeR: 167, ScreenR: 39e3, Share: 0.25},
		},
	}
}

// measured are the dead readings and the transformer's that narrow the corners.
func measured() map[string]unit.Quantity {
	return map[string]unit.Quantity{
		"half-volts@a":          {Kind: unit.KindVolt, Value: 273.8},
		"half-volts@b":          {Kind: unit.KindVolt, Value: 273.8},
		"cathode-resistor@V4":   {Kind: unit.KindOhm, Value: 135},
		"smoothing-resistor":    {Kind: unit.KindOhm, Value: 1200},
		"output-transformer":    {Kind: unit.KindOhm, Value: 380},
		"primary-winding@230 V": {Kind: unit.KindOhm, Value: 46},
	}
}

// fullMains is the table radio on 230 V with every cathode hot.
func fullMains(set unit.Volt) Case {
	return Case{
		Set: fullRadio(), Profile: ukProfile(), Model: tableRadioModel(), Item: "V4", Rung: 100,
		AtSet: set, Mains: set, TwoSided: true, Settled: true, Taken: measured(),
	}
}

// behindLamp is the same behind a lamp, at a step where nothing says that the
// cathodes emit, three minutes on.
func behindLamp(watts unit.Watt, set unit.Volt) Case {
	c := fullMains(set)
	c.Lamp, c.Rung, c.TwoSided, c.Mains = &circuit.Lamp{Watts: watts, Volts: 230}, 0, false, 230
	return c
}

func ukProfile() limits.Profile {
	p, _ := limits.ProfileOf("uk")
	return p
}

// verdict judges x as a meter without error would show it.
func verdict(t testing.TB, id string, c Case, x float64) engine.Verdict {
	t.Helper()
	check, _ := Find(id)
	return windowOf(t, id, c).Judge(meter.Read(x, 0), check.Crit).Verdict
}

// derivedValue works out a derived check.
func derivedValue(t testing.TB, id string, c Case) float64 {
	t.Helper()
	check, ok := Find(id)
	if !ok {
		t.Fatalf("no check %s", id)
	}
	q, err := check.Derive(c)
	if err != nil {
		t.Fatalf("%s: %v", id, err)
	}
	if q.Kind != check.Kind {
		t.Errorf("%s gives %s, the check counts in %s", id, q.Kind.Name(), check.Kind.Name())
	}
	return q.Value
}

// row is one line of testdata/table_radio.csv.
type row map[string]string

func (r row) value(t testing.TB, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s %s: column %s: %v", r["fault"], r["mode"], column, err)
	}
	return x
}

// simulated reads the readings of the table radio, healthy and with one part
// changed. All readings of a row belong together.
func simulated(t testing.TB) []row {
	t.Helper()
	f, err := os.Open("testdata/table_radio.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		m := row{}
		for i, column := range lines[0] {
			m[column] = line[i]
		}
		rows = append(rows, m)
	}
	if len(rows) < 50 {
		t.Fatalf("testdata/table_radio.csv has %d rows: the test would test little", len(rows))
	}
	return rows
}

func rowOf(t testing.TB, fault, mode string) row {
	t.Helper()
	for _, r := range simulated(t) {
		if r["fault"] == fault && r["mode"] == mode {
			return r
		}
	}
	t.Fatalf("no row %q %q", fault, mode)
	return nil
}

func mustFloat(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
