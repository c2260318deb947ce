package session_test

import (
	"slices"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
)

// route is a word that answers a query, in its place or out of it.
func (g *game) route(honest string) string {
	word, _, _ := strings.Cut(honest, " ")
	if i := g.queried(); i >= 0 {
		word = g.field(i)
	}
	word = pick(g, []string{word, word, g.number(word)})
	return pick(g, []string{
		"cause 1", "cause 2 it is old", "cause 9", "second " + word + " by a", "second " + word + " by b", "second " + word + " later",
		"second " + word + " way bridge", "second " + word + " seen bob", "second " + word, word,
	})
}

// queried is the slot whose query is open, -1: none.
func (g *game) queried() int {
	if !strings.HasPrefix(g.seen.prompt.ID, "query/") {
		return -1
	}
	return engine.Cursor(&g.plan.Engine, g.s.State())
}

// field is what the radio shows at a slot.
func (g *game) field(i int) string {
	return g.radio.Line(session.Prompt{Fields: []session.Field{{Slot: i}}})
}

// honest is what somebody types who works as asked: a query is read again, then
// seconded, then answered by a cause; a stop is repaired by whoever is not sure
// what it was.
func (g *game) honest() string {
	p := g.seen.prompt
	p.ID = base(p.ID)
	switch i := g.queried(); {
	case i >= 0:
		return g.answer(p.ID, i)
	case p.ID == "stop/repair":
		if g.plan.Boxed {
			return "b gone over from end to end"
		}
		return "? gone over from end to end"
	case p.ID == "clip-off":
		return "clip off 217k"
	}
	return g.radio.Line(p)
}

func (g *game) answer(id string, i int) string {
	n := g.tries[id]
	g.tries[id]++
	slot := g.plan.Slots[i]
	if slot.Check.Answer == checks.Derived {
		if n%2 == 0 {
			return "cause 1"
		}
		for _, l := range slices.Backward(g.lines) {
			if l.Kind == "reading" && slices.Contains(slot.Check.Inputs, l.Fields["check"]) {
				return "wrong " + l.Fields["number"]
			}
		}
	}
	return []string{g.field(i), "second " + g.field(i) + " seen bob", "cause 1"}[n%3]
}

// finish comes to the close by honest answers alone, when what was typed
// otherwise has been taken back: no session is stuck, whatever has happened.
func (g *game) finish() {
	if g.s.Result() != session.Running {
		g.resume()
	}
	g.tries = map[string]int{}
	for _, n := range g.lies() {
		g.say("wrong " + n)
	}
	for n := 0; g.s.Result() != session.Tested; n++ {
		line := g.honest()
		if n > 600 || line == "" {
			g.fail("stuck at %s: %+v", g.seen.prompt.ID, g.seen.state)
		}
		g.say(line)
	}
}

// lies are the readings that are held and that the radio has not shown.
func (g *game) lies() []string {
	newest := map[int]session.Record{}
	for _, l := range g.lines {
		if l.Kind == "reading" {
			newest[g.l.slot(l.Record)] = l.Record
		}
	}
	var out []string
	for i, slot := range g.plan.Slots {
		r, ok := newest[i]
		if ok && slot.Check.Answer != checks.Derived && g.s.State().Held.Has(i) && r.Fields["say"] != g.field(i) {
			out = append(out, r.Fields["number"])
		}
	}
	return out
}
