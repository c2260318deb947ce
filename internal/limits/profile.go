package limits

import (
	"math"

	"example.com/powerup/internal/unit"
)

// Profile is a dated set of limits that depend on the place. One session keeps
// to one profile; a limit of one is never used with the network of another.
type Profile struct {
	ID           string // "uk"
	Dated        string // year and month in which the limits were set down
	MainsLow     unit.Volt
	MainsNominal unit.Volt
	MainsTop     unit.Volt
	Frequency    unit.Hertz
	Polarised    bool    // live and neutral cannot be swapped at the wall
	PlugFuse     bool    // a fuse in the plug is usual; without, the set has its own
	Network      string  // of the touch current, by its standard
	Buck         float64 // mains over tap above which lower volts are advised

	bandSource          string // of the mains band, which was seen
	insulationEarthed   Figure
	insulationUnearthed Figure
	touch               Figure
	protective          Figure
	bond                bondRule
	plugFuses           [2]plugFuse // by rising watts
	trip                rcd
}

// bondRule is the limit of an earth bond: base on top of the lead's own ohms,
// or, where there is a table and the core is no thicker than thin, first up to
// the length short, then each more for every further length begun, up to most.
type bondRule struct {
	base              Figure
	thin              unit.SquareMetre // 0: no table
	short, further    unit.Metre
	first, each, most Figure
}

type plugFuse struct {
	under  unit.Watt
	rating Figure
}

// rcd is the residual-current device in front of the bench.
type rcd struct{ current, time, timeAtFive Figure }

// ProfileOf returns the profile of that id, which is written as in [Profiles].
func ProfileOf(id string) (Profile, bool) {
	for _, p := range profiles {
		if p.ID == id {
			return p, true
		}
	}
	return Profile{}, false
}

// Profiles returns every profile.
func Profiles() []Profile { return append([]Profile(nil), profiles...) }

// BondLimit is the highest resistance of an earth bond through a lead of that
// length and conductor area. A length or area no lead can have gives 0, which
// no reading meets.
func (p Profile) BondLimit(length unit.Metre, area unit.SquareMetre) unit.Ohm {
	if !finite(float64(length)) || !finite(float64(area)) {
		return 0
	}
	b := p.bond
	if area > b.thin {
		return unit.Ohm(b.base.Value.Value) + leadOhms(length, area)
	}
	begun := math.Ceil(math.Max(0, float64((length-b.short)/b.further)))
	return unit.Ohm(math.Min(b.first.Value.Value+begun*b.each.Value.Value, b.most.Value.Value))
}

// leadOhms is the resistance of one core of a flex.
func leadOhms(length unit.Metre, area unit.SquareMetre) unit.Ohm {
	const areaOfFigure = 0.75e-6 // m², of "flex-ohms"
	return unit.Ohm(Lookup("flex-ohms").Value.Value * float64(length) * areaOfFigure / float64(area))
}

// finite tells whether x is a size that something can have: above 0, with an end.
func finite(x float64) bool { return x > 0 && x <= math.MaxFloat64 }

// Bond is the figure BondLimit starts from for an ordinary lead; it carries the
// source.
func (p Profile) Bond() Figure {
	if p.bond.thin > 0 {
		return p.bond.first
	}
	return p.bond.base
}

// Insulation is the lowest insulation resistance of mains to touchable metal at
// 500 V, before any guard for the tester.
func (p Profile) Insulation(earthed bool) Figure {
	if earthed {
		return p.insulationEarthed
	}
	return p.insulationUnearthed
}

// Touch is the highest touch current, through the profile's own network.
func (p Profile) Touch() Figure { return p.touch }

// TouchNetwork is that network part by part.
func (p Profile) TouchNetwork() string { return networks[p.Network] }

// Protective is the highest current in the protective conductor.
func (p Profile) Protective() Figure { return p.protective }

// Trip is the residual current at which the device in front of the bench goes,
// and the longest it takes at that current and at five times it.
func (p Profile) Trip() (current, time, timeAtFive Figure) {
	return p.trip.current, p.trip.time, p.trip.timeAtFive
}

// PlugFuseFor is the fuse in the plug of a set of so many watts. It says no
// where plugs have none, and for watts no such plug may carry.
func (p Profile) PlugFuseFor(w unit.Watt) (unit.Ampere, bool) {
	if !(w > 0) || !p.PlugFuse {
		return 0, false
	}
	for _, f := range p.plugFuses {
		if w < f.under {
			return unit.Ampere(f.rating.Value.Value), true
		}
	}
	return 0, false
}
