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
