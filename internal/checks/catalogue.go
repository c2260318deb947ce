package checks

import (
	"slices"
	"sync"
)

// catalogue is built once, at the first use, and read only.
var catalogue = sync.OnceValue(func() []Check {
	return slices.Concat(benchChecks(), lookingChecks(), deadChecks(), energisedChecks(), derivedChecks(), warmChecks(), boxedChecks())
})

// All is every check of the catalogue in the order of the work.
func All() []Check { return slices.Clone(catalogue()) }

// Find gives a check by its id.
func Find(id string) (Check, bool) {
	i := slices.IndexFunc(catalogue(), func(c Check) bool { return c.ID == id })
	if i < 0 {
		return Check{}, false
	}
	return catalogue()[i], true
}

// deadChecks are made on a set proved dead, before it is first energised.
func deadChecks() []Check {
	return slices.Concat(openingChecks(), mainsSideChecks(), lineChecks(), partChecks(), extraChecks(), reformChecks(), leakChecks())
}
