package sheet

import (
	"math"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// openVolts is the volts of one half of the HT winding without load, at the
// volts of the tap in use. It is typical when worked back from printed HT1, or
// from volts on load without the ohms to compute the regulation.
func (s *Set) openVolts() (v unit.Volt, typical, ok bool) {
	if w := s.HTWinding; w != nil {
		if w.Taken == Open {
			return w.Volts, false, true
		}
		drop, known := s.regulation()
		return w.Volts * unit.Volt(1+drop), !known, true
	}
	tap := s.Mains.Tap
	if p := s.Printed; p != nil && p.HT1 != nil && tap != nil {
		mains := *tap
		if p.Mains != nil {
			mains = *p.Mains
		}
		return *p.HT1 * unit.Volt(limits.Lookup("no-load-over-working").Value.Value/math.Sqrt2) * *tap / mains, true, true
	}
	return 0, false, false
}

// regulation is the part by which the HT winding's volts rise without load. A
// winding of R ohms that carries P watts at V volts drops P R / V² of them: the
// primary carries the set's watts, each half of the HT winding half of what the
// heaters leave. The iron's watts and the rectifier's count as HT, so that the
// result is rather too high. Unknown, it is the typical figure.
func (s *Set) regulation() (part float64, known bool) {
	t, tap := s.Transformer, s.Mains.Tap
	if t.Primary == nil || t.HalfA == nil || t.HalfB == nil || tap == nil || s.Watts == nil {
		return limits.Lookup("regulation-typical").Value.Value / 100, false
	}
	load := s.heaterLoad()
	watts := float64(*s.Watts)
	heaters := float64(load.volts) * float64(load.all())
	half := max(0, watts-heaters) / 2
	ohms := float64(*t.HalfA+*t.HalfB) / 2
	volts := float64(s.HTWinding.Volts)
	return watts*float64(*t.Primary)/float64(*tap**tap) + half*ohms/(volts*volts), true
}

// NoLoadHT is the HT that stands on the capacitors before any valve draws
// current: 1.414 times the winding's open volts, at the given mains. Formula of
// a rectifier with a reservoir; the rectifier's drop is nothing without current.
func (s *Set) NoLoadHT(mains unit.Volt) (v unit.Volt, typical, ok bool) {
	open, typical, ok := s.openVolts()
	tap := s.Mains.Tap
	if !ok || tap == nil {
		return 0, typical, false
	}
	return open * math.Sqrt2 * mains / *tap, typical, true
}

// RatedAmps is what the set takes from the mains on the tap in use, its watts
// over its volts.
func (s *Set) RatedAmps() (unit.Ampere, bool) {
	if s.Watts == nil || s.Mains.Tap == nil {
		return 0, false
	}
	return unit.Ampere(float64(*s.Watts) / float64(*s.Mains.Tap)), true
}

// railVolts is the full volts of the rail that feeds the driver, which stand on
// its anode while it is cold: as the sheet gives them, or as printed for the
// rail it names.
func (s *Set) railVolts() (unit.Volt, bool) {
	k := s.Output.Coupling
	if k == nil {
		return 0, false
	}
	v := k.RailVolts
	if p := s.Printed; v == nil && p != nil {
		v = map[Node]*unit.Volt{HT1: p.HT1, HT2: p.HT2}[k.Rail]
	}
	if v == nil {
		return 0, false
	}
	return *v, true
}
