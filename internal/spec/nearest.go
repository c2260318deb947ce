package spec

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest says which of the known words was meant, or what they are.
func nearest(word string, known []string) string {
	const longest = 40 // no field has a name so long
	best, least := "", max(1, len(word)/3)+1
	if len(word) <= longest {
		plain := strings.ReplaceAll(strings.ToLower(word), "_", "-")
		for _, k := range known {
			if d := levenshtein.ComputeDistance(plain, strings.ToLower(k)); d < least {
				best, least = k, d
			}
		}
	}
	if best != "" {
		return "did you mean " + best + "?"
	}
	return "known here: " + strings.Join(known, ", ")
}
