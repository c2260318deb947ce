package plan

// stands tells how the set stands in a stage: what is in, what is out, what
// covers it. It belongs to the program: a note of the file comes beside it and
// replaces nothing.
var stands = map[string]string{
	"looking":     "plug out, hands outside, a good light",
	"openings":    "one leg of the coupling capacitor free, speaker secondary off its chassis strap",
	"transformer": "valves, rectifier and dial lamps out; rectifier socket covered",
	"heaters":     "valves and dial lamps in, rectifier out and its socket covered",
	"ramp":        "all valves, the rectifier and the load in; shield and eye protection",
	"first-full":  "all valves, the rectifier and the load in; shield on for the first 15 minutes",
	"spot-checks": "all valves, the rectifier and the load in",
	"soak":        "all in; nobody leaves the bench",
	"boxed":       "all refitted and screwed down; hands outside",
	"boxed-start": "boxed, everything on",
	"boxed-touch": "boxed; leads clipped with the plug out, hands off while it is on",
}
