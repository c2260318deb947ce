package session

import (
	"fmt"
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
)

// finds are the numbered things that were seen on a page of looking.
type finds []checks.Choice

// found reads item numbers, or none. The worst of them is the verdict.
func found(c checks.Check, text string) (finds, error) {
	if strings.TrimSpace(text) == "none" {
		return nil, nil
	}
	var out finds
	for _, w := range strings.Fields(text) {
		i := slices.IndexFunc(c.Choices, func(x checks.Choice) bool { return x.Key == w })
		if i < 0 {
			return nil, fmt.Errorf("%q is not an item of this page\nhint: the numbers of what you found, or none", clip(w))
		}
		out = append(out, c.Choices[i])
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing was typed\nhint: the numbers of what you found, or none")
	}
	return out, nil
}

func (f finds) reading(i int, prompt, raw string) Reading {
	r := Reading{Slot: i, Prompt: prompt, Raw: raw, Verdict: engine.Pass, Reason: "nothing found"}
	var words []string
	for _, x := range f {
		r.Verdict = min(r.Verdict, x.Verdict)
		words = append(words, x.Words)
	}
	if len(words) > 0 {
		r.Reason = strings.Join(words, "; ")
	}
	return r
}
