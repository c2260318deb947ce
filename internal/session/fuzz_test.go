package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
	"example.com/powerup/internal/unit"
)

// story is a session that was played once: where each of its lines was typed.
type story struct {
	plan  *plan.Plan
	lines []session.Logged
	begin []int // of each entry: the lines before it
}

func playedOnce(t testing.TB, turns map[string][]string) story {
	t.Helper()
	r := sessiontest.NewTape(t, "table-radio", "two-meters")
	r.Radio.Turns = turns
	r.Until("")
	s := story{plan: r.Plan, lines: r.Lines}
	for i, l := range r.Lines {
		if l.Kind == "entry" {
			s.begin = append(s.begin, i)
		}
	}
	return s
}

// bench is every prompt of several stories, with the session that stands there.
type bench struct {
	stories []story
	stand   []*session.Session // nil: not played to there, or spent
}

// newBench has a healthy session, and one with a slip, queries, a stop and its
// repair.
func newBench(t testing.TB) *bench {
	b := &bench{stories: []story{playedOnce(t, map[string][]string{}), playedOnce(t, map[string][]string{
		"openings/tester":                      {">20M 210M 9.31 0.2 0.2 9.31"},
		"query/openings/coupling-capacitor@V4": {"second 3G seen bob", "second 212M way tester after the leads were dried", "cause 1"},
		"dead-ht/black-chassis":                {"0.2 1k35 472k", "133ohm 472k"},
		"query/transformer/core-warm@300s":     {"cause 1 a warm room"},
		"transformer/half-b@300s":              {"219.7 261.7 37"},
		"ramp/output-grid#75@300s":             {"1.7"},
		"stop/repair":                          {"p coupling capacitor V4, a new one fitted", "v output EL84, another fitted"},
	})}}
	b.stand = make([]*session.Session, b.size())
	return b
}

func (b *bench) size() int {
	n := 0
	for _, s := range b.stories {
		n += len(s.begin)
	}
	return n
}

// at gives story, place of its entry in the lines, for prompt number n.
func (b *bench) at(n int) (s story, i int) {
	for _, s = range b.stories {
		if n < len(s.begin) {
			return s, s.begin[n]
		}
		n -= len(s.begin)
	}
	panic("no such prompt")
}

// to gives the session that stands at prompt number n.
func (b *bench) to(t *testing.T, n int) *session.Session {
	t.Helper()
	if b.stand[n] != nil {
		return b.stand[n]
	}
	s, i := b.at(n)
	var at *session.Session
	if i == 0 {
		at = session.New(s.plan, sessiontest.Label, s.lines[0].At)
	} else {
		var err error
		if at, err = session.Replay(s.plan, sessiontest.Label, s.lines[:i]); err != nil {
			t.Fatal(err)
		}
	}
	b.stand[n] = at
	return at
}

// refuses types a line at prompt number n, and tells whether it was refused
// whole; the session then stands where it stood, and stays for other lines.
func (b *bench) refuses(t *testing.T, n int, line string, now session.Instant) bool {
	at := b.to(t, n)
	before, asked := at.State(), at.Prompt()
	a := at.Submit(line, now)
	if kinds := kindsOf(a.Records); !slices.Equal(kinds, []string{"entry", "refused"}) {
		return false
	}
	after := at.State()
	after.Waited = before.Waited // a wait was over when the line came
	if after != before {
		t.Fatalf("%s: %q was refused and changed the state from %+v to %+v", asked.ID, line, before, after)
	}
	return true
}

// FuzzSubmit types any text at any prompt: it never panics, what is refused
// changes nothing, nothing passes that cannot be read, mains comes on by one
// word only, and the record replays to the same state.
func FuzzSubmit(f *testing.F) {
	b := newBench(f)
	seeds := 0
	add := func(n int, line string) {
		f.Add(uint16(n), line)
		seeds++
	}
	for n := range b.size() {
		s, i := b.at(n)
		at, honest := s.lines[i].Fields["at"], s.lines[i].Fields["say"]
		words := strings.Fields(honest)
		if n%40 == 0 {
			add(n, honest)
		}
		if n%40 == 12 || at == "openings/tester" {
			add(n, honest+" 5")
		}
		if at == "mains-side/taps" {
			add(n, strings.Join(words[:len(words)-1], " ")+" 4k7k")
		}
		if strings.HasPrefix(at, "proof-full") && n < 20 {
			add(n, strings.ReplaceAll(honest, "0.2", "25"))
			add(n, strings.Replace(honest, "9.31", "0", 1))
		}
		if n%50 == 1 {
			for _, line := range nonsense {
				add(n, line)
			}
			add(n, strings.Replace(honest, ".", ",", 1))
		}
	}
	if seeds == 0 || b.size() < 150 {
		f.Fatalf("%d seeds at %d prompts", seeds, b.size())
	}
	f.Fuzz(func(t *testing.T, prompt uint16, line string) {
		n := int(prompt) % b.size()
		s, i := b.at(n)
		now := s.lines[i].At
		if b.refuses(t, n, line, now) {
			return
		}
		b.stand[n] = nil // it may have refused other lines before: once more from the record
		at := b.to(t, n)
		b.stand[n] = nil
		before, asked := at.State(), at.Prompt()
		a := at.Submit(line, now)
		for _, r := range a.Records {
			legible(t, s.plan, asked, line, r)
		}
		whole(t, asked, line, a.Records)
		if at.State().Supply.Energised() && !before.Supply.Energised() && strings.TrimSpace(line) != "power" {
			t.Fatalf("%s: mains came on by %q", asked.ID, line)
		}
		more := slices.Clone(s.lines[:i])
		for _, r := range a.Records {
			more = append(more, session.Logged{Seq: len(more) + 1, At: now, Record: r})
		}
		again, err := session.Replay(s.plan, sessiontest.Label, more)
		if err != nil {
			t.Fatalf("%s: %q: %v", asked.ID, line, err)
		}
		if again.State() != at.State() {
			t.Fatalf("%s: %q leaves %+v, and its record %+v", asked.ID, line, at.State(), again.State())
		}
	})
}

func kindsOf(rs []session.Record) []string {
	var out []string
	for _, r := range rs {
		if r.Kind != "elapsed" {
			out = append(out, r.Kind)
		}
	}
	return out
}

// legible holds a record that counts against the text it came from, by a second
// way: the typed word must be there, and must be what the check asks for.
func legible(t *testing.T, p *plan.Plan, asked session.Prompt, line string, r session.Record) {
	t.Helper()
	switch r.Kind {
	case "proof":
		if r.Fields["fault"] == "" {
			provedDead(t, asked, line, r)
		}
	case "reading":
		i := slices.IndexFunc(p.Slots, func(s plan.Slot) bool { return s.ID == r.Fields["slot"] })
		if i < 0 {
			t.Fatalf("a reading of no slot: %v", r.Fields)
		}
		check, say := p.Slots[i].Check, r.Fields["say"]
		if check.Answer == checks.Derived {
			return
		}
		if !held(line, say, asked) {
			t.Fatalf("%s: %q was never typed in %q", asked.ID, say, line)
		}
		if !means(check, say) {
			t.Fatalf("%s: %q counts as a reading of %s: %v", asked.ID, say, check.ID, r.Fields)
		}
	}
}

// whole holds a line of which something counts to being understood as a whole:
// none of its readings may be left over, and none may be illegible behind others
// that count; "-" for a reading that cannot be left is the one that may.
func whole(t *testing.T, asked session.Prompt, line string, rs []session.Record) {
	t.Helper()
	text := slices.ContainsFunc(asked.Fields, func(f session.Field) bool { return f.Text })
	typed := 0
	for _, w := range strings.Fields(line) {
		if strings.Trim(w[:1], "0123456789<>") == "" {
			typed++
		}
	}
	counted, refused := 0, false
	for _, r := range rs {
		if r.Kind == "reading" && r.Fields["say"] != "" && strings.Contains(line, r.Fields["say"]) || r.Kind == "proof" && r.Fields["fault"] == "" {
			counted++
		}
		refused = refused || r.Kind == "refused"
	}
	if counted > 0 && len(asked.Fields) > 1 && !text && typed > len(asked.Fields) {
		t.Fatalf("%s: %q has %d readings for %d, and counts", asked.ID, line, typed, len(asked.Fields))
	}
	if counted > 0 && refused && !slices.Contains(strings.Fields(line), "-") {
		t.Fatalf("%s: %q was refused after a part of it counted", asked.ID, line)
	}
}

// held tells whether say is part of the line, or stood behind a query or a slip
// before.
func held(line, say string, asked session.Prompt) bool {
	var found bool
	for _, w := range strings.Fields(say) {
		found = strings.Contains(line, w)
		if !found {
			break
		}
	}
	return found || strings.HasPrefix(asked.ID, "query/") || strings.TrimSpace(line) == "keep"
}

// means tells whether a text is an answer of the check at all.
func means(check checks.Check, say string) bool {
	key := func(k string) bool {
		return slices.ContainsFunc(check.Choices, func(c checks.Choice) bool { return c.Key == k })
	}
	switch check.Answer {
	case checks.Text:
		return strings.TrimSpace(say) != ""
	case checks.Letter:
		return key(say)
	case checks.Found:
		words := strings.Fields(say)
		return len(words) > 0 && (say == "none" || !slices.ContainsFunc(words, func(w string) bool { return !key(w) }))
	}
	e, err := unit.ParseEntry(check.Kind, say)
	return err == nil && e.Form != unit.NotRead
}

// provedDead wants plain volts at every point of a proof that counts, and ten
// at most where the capacitors and the plug are (common practice, no source).
func provedDead(t *testing.T, asked session.Prompt, line string, r session.Record) {
	t.Helper()
	values := 0
	for k, v := range r.Fields {
		number, point, ok := strings.Cut(k, " ")
		if !ok || strings.Trim(number, "0123456789") != "" {
			continue
		}
		values++
		if point == "tool" {
			if v != "t" {
				t.Fatalf("%s: %q proves dead without the tool", asked.ID, line)
			}
			continue
		}
		e, err := unit.ParseEntry(unit.KindVolt, v)
		if err != nil || e.Form != unit.Exact {
			t.Fatalf("%s: %q proves dead with %q at %s", asked.ID, line, v, point)
		}
		_, atOnce := r.Fields["1 HT1 at once"]
		shows := point == "source" || point == "mains" || point == "HT1 at once" || point == "HT1 watch" || point == "HT1 while on" || atOnce && number == "2"
		if !shows && !(math.Abs(e.Value) <= 10) {
			t.Fatalf("%s: %q proves dead with %v V at %s", asked.ID, line, e.Value, point)
		}
		if point == "source" && !(e.Value > 8 && e.Value < 11) { // 9.3 V, a tenth either way
			t.Fatalf("%s: %q proves dead with a meter that shows %v V on the source", asked.ID, line, e.Value)
		}
	}
	if values == 0 {
		t.Fatalf("%s: %q proves dead with no reading: %v", asked.ID, line, r.Fields)
	}
}
