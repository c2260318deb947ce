package spec

import (
	"strings"

	"github.com/agnivade/levenshtein"
)

// nearest says which of the known words was meant, or what they are.
func nearest(word string, known []string) string {
	if best := Nearest(word, known); best != "" {
		return "did you mean " + best + "?"
	}
	return "known here: " + strings.Join(known, ", ")
}

// Nearest is the known word that was likely meant; empty when none is near.
// Capitals count for nothing, and a low line is as good as a hyphen.
func Nearest(word string, known []string) string {
	const longest = 40 // no field has a name so long
	best, least := "", max(1, len(word)/3)+1
	if len(word) > longest {
		return ""
	}
	for _, k := range known {
		if d := levenshtein.ComputeDistance(plain(word), plain(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

func plain(word string) string { return strings.ReplaceAll(strings.ToLower(word), "_", "-") }
