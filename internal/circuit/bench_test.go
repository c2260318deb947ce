package circuit

import "testing"

func BenchmarkAtSet(b *testing.B) {
	s := tableRadio()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.AtSet(230, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAtSetBehindLamp(b *testing.B) {
	s, lamp := tableRadio(), Lamp{Watts: 60, Volts: 230}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.AtSet(149, &lamp); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAtMainsBehindLamp(b *testing.B) {
	s, lamp := tableRadio(), Lamp{Watts: 60, Volts: 230}
	for b.Loop() {
		if _, err := s.AtMains(230, &lamp); err != nil {
			b.Fatal(err)
		}
	}
}

// Sets alike in both half-cycles: a silicon bridge, a radio, and that behind a
// lamp.
func BenchmarkSymmetric(b *testing.B) {
	for _, id := range []string{"c36", "c57", "c67"} {
		b.Run(id, func(b *testing.B) {
			row := caseRow(b, id)
			s, lamp := caseSupply(b, row)
			for b.Loop() {
				if _, err := s.Solve(s.Nominal, lamp); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
