package spec

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/sheet"
)

// places are where the meters of a bench stay: one moves in the set, a second
// is at the lamp box, a third watches the HT.
var places = []string{"set", "lamp-box", "ht-watch"}

func benchRules(r *reader, b *sheet.Bench) {
	letters, stays := []string{"A", "B", "C"}, map[string]bool{}
	wanted := places[:len(b.Meters)]
	for i, m := range b.Meters {
		path := fmt.Sprintf("meters[%d]", i)
		if m.Letter != letters[i] {
			r.failAt(path+".letter", "meter number "+fmt.Sprint(i+1)+" has the letter "+m.Letter, "letters follow the order of the list: A, B, C")
		}
		switch {
		case !slices.Contains(wanted, m.Stays):
			r.failAt(path+".stays", "no meter stays at "+m.Stays+" on a bench with "+plural(fmt.Sprint(len(b.Meters)), "meter", "meters"),
				"with this many, meters stay at: "+strings.Join(wanted, ", "))
		case stays[m.Stays]:
			r.failAt(path+".stays", "two meters stay at "+m.Stays, "with this many, meters stay at: "+strings.Join(wanted, ", "))
		}
		stays[m.Stays] = true
	}
	if b.Touch != "" {
		r.profile("touch-network", b.Touch)
	}
	for i := range b.Lamps {
		if i > 0 && !(b.Lamps[i] > b.Lamps[i-1]) {
			r.failAt(fmt.Sprintf("lamps[%d]", i), b.Lamps[i].String()+" does not follow "+b.Lamps[i-1].String(), "each lamp once, the smallest first")
		}
	}
}
