package checks

import "example.com/powerup/internal/engine"

// RulesVersion is the version of the rule by which this program judges, the
// newest of Rules. A logged reading is judged again by the rule of its own.
const RulesVersion = 1

// Logged is what the verdict of a logged reading rests on, as its line has it.
type Logged struct {
	Window, Shown map[string]string // its fields behind "window " and "shown "
	Class         string
}

// Rule gives the one verdict of a logged reading, or why it has none. It takes the
// reading as it is written: how that is read is frozen with the rule.
type Rule func(Logged) (engine.Verdict, error)

// Rules are all rules that records were ever judged by: version n is Rules()[n-1].
// None is ever changed or left out.
func Rules() []Rule { return []Rule{loggedRule1} }
