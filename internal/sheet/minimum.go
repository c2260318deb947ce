package sheet

import (
	"fmt"
	"slices"
	"strings"
)

// why says what keeps the other constructions off the mains here.
var why = map[Construction]string{
	AutoWound:      "the chassis of an auto-transformer set is joined to the mains",
	SeriesHeater:   "the chassis of a series-heater set is joined to the mains",
	FloatingMinus:  "the HT negative of this set is joined to the mains",
	BatteryPowered: "a battery set has no mains side",
	"":             "how the set is joined to the mains is not known: it counts as one with a live chassis",
	UnknownBuild:   "a set of unknown construction counts as one with a live chassis",
}

// minimum refuses a sheet without what is needed to energise the set.
func (r *review) minimum() {
	s := r.set
	if s.Construction != DoubleWound {
		r.refuse("construction", why[s.Construction]+": it is not energised by this program", "only a double-wound mains transformer keeps the chassis off the mains; find out by the diagram and by looking")
	}
	r.flex()
	r.mains()
	if s.Watts == nil {
		r.refuse("watts", "the set's watts are missing", "they stand on its label or in the service sheet; fuse, lamp and idle limits follow from them")
	}
	if _, err := s.RectifierValve(); err != nil {
		r.refuseErr("rectifier", err)
	}
	if _, _, err := s.OutputValve(); err != nil {
		field := "valves"
		if s.Output.Valve != "" {
			field = "output-stage.valve"
		}
		r.refuseErr(field, err)
	}
	if i := slices.Index(s.Valves, s.Rectifier); i >= 0 {
		r.refuse(fmt.Sprintf("valves[%d]", i), s.Rectifier+" is the rectifier, which the list of valves leaves out", "keep it at rectifier only")
	}
	if s.HTWinding == nil && (s.Printed == nil || s.Printed.HT1 == nil) {
		r.refuse("ht-winding", "neither the HT winding's volts nor printed HT1 are known", "one of the two is needed to know what the capacitors must stand")
	}
}

func (r *review) refuseErr(field string, err error) {
	what, hint, _ := strings.Cut(err.Error(), "\nhint: ")
	r.refuse(field, what, hint)
}

// flex wants to know the earth core, whose ohms the bond may have.
func (r *review) flex() {
	f := r.set.Flex
	if !f.Earthed() {
		return
	}
	const hint = "an earth core needs both: they say how many ohms the earth bond may have"
	if f.Length == nil {
		r.refuse("flex.length", "the length of the 3-core flex is missing", hint)
	}
	if f.Area == nil {
		r.refuse("flex.area", "the cross-section of the 3-core flex is missing", hint)
	}
}

func (r *review) mains() {
	m := r.set.Mains
	if m.Profile != r.profile.ID {
		r.refuse("mains.profile", fmt.Sprintf("the sheet is written for the profile %s, and %s is used", m.Profile, r.profile.ID), "limits of one place do not hold in another")
	}
	if f := r.set.Frequency; f != nil && *f != r.profile.Frequency {
		r.warn("frequency", fmt.Sprintf("the set is made for %v, and the mains has %v", *f, r.profile.Frequency), "a transformer for a higher frequency runs hot on a lower one")
	}
	for i := range m.Taps {
		if i > 0 && !(m.Taps[i] > m.Taps[i-1]) {
			r.refuse(fmt.Sprintf("mains.taps[%d]", i), fmt.Sprintf("the tap %v does not follow %v", m.Taps[i], m.Taps[i-1]), "list the taps once each, the lowest first")
		}
	}
	switch {
	case m.Tap == nil:
		r.refuse("mains.tap", "the tap in use is missing", "see where the voltage selector stands")
	case !slices.Contains(m.Taps, *m.Tap):
		r.refuse("mains.tap", fmt.Sprintf("the tap in use, %v, is not one of the taps", *m.Tap), "write it as one of the list")
	}
}
