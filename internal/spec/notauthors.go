package spec

import (
	"reflect"
	"slices"
	"strings"

	"example.com/powerup/internal/sheet"
)

// notTheAuthors are fields that somebody may look for in a procedure, and that
// belong to the check or to the program: each with the interlock it would break.
var notTheAuthors = []struct {
	names   []string
	because string
}{
	{[]string{"window", "min", "max", "limit"}, "INV-17: an author's window lies inside the check's own"},
	{[]string{"red", "black", "leads", "lead", "probe", "move"}, "INV-25: every lead is clipped on dead, where the check says, and stays while mains is on"},
	{[]string{"caution", "cautions", "warning", "stands"}, "INV-25: cautions and how the set stands are the program's; a note comes beside them and overrides nothing"},
	{[]string{"default", "answer", "say", "optional", "skip", "when", "if"}, "INV-37: only a reading answers for a reading, and the check decides whether it is owed"},
	{[]string{"criticality", "crit", "class"}, "INV-38: how much hangs on a check is the catalogue's"},
	{[]string{"proof", "make-safe", "gate", "interlock", "override"}, "INV-38: nothing in a file defeats an interlock"},
}

// unknown is what is wrong with a field that a group does not have, and what
// would be right.
func unknown(field string, group reflect.Type) (what, hint string) {
	if slices.Contains([]reflect.Type{reflect.TypeFor[sheet.Procedure](), reflect.TypeFor[sheet.Stage](), reflect.TypeFor[sheet.Step]()}, group) {
		for _, n := range notTheAuthors {
			if slices.Contains(n.names, field) {
				return n.because + ": unknown field " + quote(field), "leave it out; here may stand " + strings.Join(names(group), ", ")
			}
		}
	}
	return "unknown field " + quote(field), nearest(field, names(group))
}
