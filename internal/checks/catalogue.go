package checks

import "slices"

// All is every check of the catalogue in the order of the work.
func All() []Check {
	return slices.Concat(benchChecks(), lookingChecks(), deadChecks(), energisedChecks(), derivedChecks(), warmChecks(), boxedChecks())
}

// Find gives a check by its id.
func Find(id string) (Check, bool) {
	all := All()
	i := slices.IndexFunc(all, func(c Check) bool { return c.ID == id })
	if i < 0 {
		return Check{}, false
	}
	return all[i], true
}

// deadChecks are made on a set proved dead, before it is first energised.
func deadChecks() []Check {
	return slices.Concat(openingChecks(), mainsSideChecks(), lineChecks(), partChecks(), leakChecks())
}
