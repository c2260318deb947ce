package spec

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/sheet"
)

// setRules refuses a set sheet whose fields contradict each other in form. What
// they mean for the set is judged by the sheet's own Review.
func setRules(r *reader, s *sheet.Set) {
	r.profile("mains.profile", s.Mains.Profile)
	r.bleed(s.Bleed)
	if d := s.DialLamps; d != nil && d.Count > 0 && !(d.Current > 0) {
		r.failAt("dial-lamps.current", missing, "write what one lamp takes, such as 0.3 A")
	}
	r.member("output-stage.valve", s.Output.Valve, s.Valves)
	seen := map[string]bool{}
	for i, stage := range s.Signal {
		path := fmt.Sprintf("signal-stages[%d].valve", i)
		r.member(path, stage.Valve, s.Valves)
		if seen[stage.Valve] {
			r.failAt(path, "the valve "+quote(stage.Valve)+" has two entries", "put its resistors in one")
		}
		seen[stage.Valve] = true
	}
	for i, m := range s.Reported {
		if _, err := time.Parse(time.DateOnly, m.Date); err != nil {
			r.failAt(fmt.Sprintf("measured[%d].date", i), quote(m.Date)+" is no date", "write year, month and day, as 2026-11-25")
		}
	}
}

// profile wants a set of limits that the program has.
func (r *reader) profile(path, id string) {
	if _, ok := limits.ProfileOf(id); !ok {
		var known []string
		for _, p := range limits.Profiles() {
			known = append(known, p.ID)
		}
		r.failAt(path, quote(id)+" is no profile of limits", "one of: "+strings.Join(known, ", "))
	}
}

func (r *reader) bleed(b *sheet.Bleed) {
	const hint = "write resistance and at, or none: true if the diagram shows no path"
	switch {
	case b == nil:
	case b.None && (b.Resistance != nil || b.At != ""):
		r.failAt("bleed", "this says both that there is a path and that there is none", hint)
	case !b.None && b.Resistance == nil:
		r.failAt("bleed.resistance", missing, hint)
	case !b.None && b.At == "":
		r.failAt("bleed.at", missing, "write HT1 or HT2")
	}
}

// member wants a valve to be one of those the sheet lists.
func (r *reader) member(path, valve string, valves []string) {
	if valve != "" && !slices.Contains(valves, valve) {
		r.failAt(path, quote(valve)+" is not among the valves", "the valves are: "+strings.Join(valves, ", "))
	}
}
