package record

import (
	"fmt"
	"slices"
)

// link is what came of looking for the record of the open set that a boxed one
// goes on from. Without it the boxed record says nothing of what is inside.
type link struct {
	open  Entry
	wrong string // in a word or two; empty: the open record is here and fit
	text  string
}

// linked looks for the record that a boxed one names, by its digest.
func linked(boxed Entry, all []Entry) link {
	f := boxed.Facts
	if at := bySum(all, f.FirstSum); at >= 0 {
		if why := unfit(all[at], boxed); why != "" {
			return link{wrong: "first unfit", text: "goes on from " + all[at].File + ", which " + why}
		}
		return link{open: all[at]}
	}
	named := fmt.Sprintf("goes on from record %s with SHA-256 %.16s..., ", f.First, f.FirstSum)
	number := func(e Entry) bool { return e.Facts.Label == f.First && !e.Facts.Boxed && f.First != "" }
	if at := slices.IndexFunc(all, number); at >= 0 {
		return link{wrong: "first differs", text: named + "and " + all[at].File + " has that number and other bytes"}
	}
	return link{wrong: "first missing", text: named + "which is not here: nothing is known of the inside"}
}

// bySum is the place of the record with a digest; -1: it is not here. It copies no
// entry, since an archive has many and each boxed record asks.
func bySum(all []Entry, sum string) int {
	for i := range all {
		if all[i].Sum == sum {
			return i
		}
	}
	return -1
}

// unfit says why nothing goes on from a record; empty: it is fit.
func unfit(open, boxed Entry) string {
	switch f := open.Facts; {
	case !open.believed():
		return "is not accepted"
	case f.Boxed || f.State != Closed:
		return "is no closed record of the open set"
	case f.Label != boxed.Facts.First:
		return "has another number, not " + boxed.Facts.First
	case !sameSet(open, boxed):
		return "is that of another set"
	}
	return ""
}
