package describe

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
)

// Buys says what an answer is used for, those checks first that few other lines
// feed; empty where nothing was given that a sheet of a set has.
func (h Heard) Buys() string {
	var ids, serves []string
	for _, p := range h.Puts {
		feed, ok := FeedOf(p.Path)
		if !ok || p.Value == "" {
			continue
		}
		if text := p.Name + ": " + feed.Serves; feed.Serves != "" && !slices.Contains(serves, text) {
			serves = append(serves, text)
		}
		for _, id := range feed.Checks {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	if len(ids) > 0 {
		serves = append([]string{titles(ids)}, serves...)
	}
	return strings.Join(serves, "; ")
}

// shown is how many checks are named of many.
const shown = 5

func titles(ids []string) string {
	fed := map[string]int{}
	for _, path := range Set.Fields() {
		feed, _ := FeedOf(path)
		for _, id := range feed.Checks {
			fed[id]++
		}
	}
	ids = slices.Clone(ids)
	slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(fed[a], fed[b]) })
	var names []string
	for _, id := range ids {
		if name := short(id); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	text := count(len(names), "window", "windows") + ": " + strings.Join(names[:min(shown, len(names))], "; ")
	if more := len(names) - shown; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// short is a check's title without what tells its readings apart.
func short(id string) string {
	c, _ := checks.Find(id)
	title, _, _ := strings.Cut(c.Title, ",")
	return strings.TrimSpace(strings.NewReplacer(" of {item}", "", " {item}", "", "{item} ", "").Replace(title))
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
