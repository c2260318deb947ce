package plan

// stage is a part of the work: the state of its supply, whether the set is open
// or boxed, and how it stands, what is in, what is out, what covers it; empty: as
// in the stage before.
type stage struct{ name, supply, part, stands string }

// stages are all there are, in the order of the work. How the set stands belongs
// to the program, so the stages do; a note of the file comes beside it and
// replaces nothing. The steps within them are the author's.
var stages = []stage{
	{"bench", "unknown", "both", ""},
	{"looking", "unknown", "open", "plug out, hands outside, a good light"},
	{"openings", "dead", "open", "one leg of the coupling capacitor free, speaker secondary off its chassis strap"},
	{"mains-side", "dead", "open", ""},
	{"re-form", "dead", "open", ""},
	{"dead-ht", "dead", "open", ""},
	{"transformer", "limited", "open", "valves, rectifier and dial lamps out; rectifier socket covered"},
	{"heaters", "limited", "open", "valves and dial lamps in, rectifier out and its socket covered"},
	{"next-lamp", "unknown", "open", ""},
	{"ramp", "raised", "open", "all valves, the rectifier and the load in; shield and eye protection"},
	{"lamp-out", "dead", "open", ""},
	{"first-full", "full", "open", "all valves, the rectifier and the load in; shield on for the first 15 minutes"},
	{"spot-checks", "full", "open", "all valves, the rectifier and the load in"},
	{"soak", "full", "open", "all in; nobody leaves the bench"},
	{"warm", "dead", "open", ""},
	{"boxed", "dead", "boxed", "all refitted and screwed down; hands outside"},
	{"boxed-start", "limited", "boxed", "boxed, everything on"},
	{"boxed-touch", "full", "boxed", "boxed; leads clipped with the plug out, hands off while it is on"},
}

// standsIn tells how the set stands in a stage.
func standsIn(name string) string {
	for _, s := range stages {
		if s.name == name {
			return s.stands
		}
	}
	return ""
}
