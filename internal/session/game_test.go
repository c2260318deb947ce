package session_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/session/sessiontest"
)

// game is one random session.
type game struct {
	t       interface{ Fatalf(string, ...any) }
	fails   *int // how often a promise broke here
	seed    uint64
	events  int
	rnd     *rand.Rand
	plan    *plan.Plan
	radio   *sessiontest.Radio
	s       *session.Session
	now     session.Instant
	lines   []session.Logged
	copies  []session.Record // of the lines as they were written
	newest  int              // first line of the newest event
	l       *ledger
	seen    sight
	tries   map[string]int // honest tries at a query
	odds    [acts]int      // of each act that is not honest
	every   int            // one act in so many is not honest
	story   []string
	reached *tally
}

func newGame(radios []*sessiontest.Radio, seed uint64, reached *tally) *game {
	radio := radios[seed%uint64(len(radios))]
	g := &game{seed: seed, rnd: rand.New(rand.NewPCG(seed, 0)), plan: radio.Plan(), radio: radio, tries: map[string]int{}, reached: reached}
	g.every = []int{3, 6, 12, 25, 50}[g.rnd.IntN(5)]
	for i := range g.odds {
		g.odds[i] = often[i] * g.rnd.IntN(4)
	}
	g.now = session.Instant{Wall: time.Date(2030, 1, 2, 18, 0, 0, 0, time.UTC)}
	g.s = session.New(g.plan, sessiontest.Label, g.now)
	g.keep([]session.Record{{Kind: "open"}}) // as the program does: a replay begins at its instant
	g.l, g.seen = newLedger(g.plan, g.now), sightOf(g.s)
	return g
}

func (g *game) fail(format string, args ...any) {
	*g.fails++
	tail := g.story[max(0, len(g.story)-12):]
	g.t.Fatalf("%s\n%s; again with %s=%d,%d\nafter %d events, the last:\n%s",
		fmt.Sprintf(format, args...), nameOf(g.plan), oneEnv, g.seed, g.events, len(g.story), strings.Join(tail, "\n"))
}

// play has the events happen, then has half of the sessions come to their end
// by honest answers alone.
func (g *game) play(events int) {
	g.events = events
	for n := 0; n < events && g.s.Result() != session.Tested; n++ {
		g.turn()
	}
	if g.rnd.IntN(2) == 0 && g.s.Result() != session.Tested {
		g.finish()
	}
	if g.seed%3 == 0 { // those with a crash are replayed there
		g.replays()
	}
	g.unchanged()
	g.reached.finished.Add(1)
	g.reached.events.Add(int64(len(g.story)))
	if g.s.Result() == session.Tested {
		g.reached.closed.Add(1)
	}
}

// The acts that are not honest answers.
const (
	wrongNumber = iota
	wrongText
	wrongCount
	wordOutOfPlace
	altered
	takenBack
	clipped
	unasked
	aborted
	parked
	slept
	clockMoved
	crashed
	acts
)

// often is how common each act is.
var often = [acts]int{
	wrongNumber: 12, wrongText: 2, wrongCount: 1, wordOutOfPlace: 2, altered: 3, takenBack: 3, clipped: 2, unasked: 2,
	aborted: 1, parked: 1, slept: 1, clockMoved: 2, crashed: 1,
}

// turn is one thing that happens at the bench.
func (g *game) turn() {
	if g.s.Result() != session.Running {
		g.resume()
		return
	}
	honest := g.honest()
	if g.rnd.IntN(g.every) != 0 {
		g.say(honest)
		return
	}
	switch g.act() {
	case wrongNumber:
		g.say(g.spoilt(honest, g.number))
	case wrongText:
		g.say(g.spoilt(honest, func(string) string { return pick(g, nonsense) }))
	case wrongCount:
		words := strings.Fields(honest)
		g.say(strings.Join(pick(g, [][]string{append(words, "5"), words[:max(0, len(words)-1)], append(words, words...)}), " "))
	case wordOutOfPlace:
		g.say(pick(g, []string{"keep", "?", "release", "power", "power covered", "unplugged", "close", "close told", "same", "n", "none", "-", "touched n", "over to carl", "over to dora", "over"}))
	case altered:
		g.say(pick(g, []string{"touched ", "touched ", ""}) + g.letters())
	case takenBack:
		g.say(fmt.Sprint("wrong ", g.rnd.IntN(len(g.l.readOf)+40)))
	case clipped:
		g.say(pick(g, []string{"clip on", "clip off 217k", "clip off 2k", "clip off OL", "clip off -3", "clip"}))
	case unasked:
		g.say(g.route(honest))
	case aborted:
		g.abort()
	case parked:
		g.say("park")
	case slept:
		g.now.Wall = g.now.Wall.Add(g.span())
	case clockMoved:
		g.moveClock()
	case crashed:
		g.crash()
	}
}

func pick[T any](g *game, among []T) T { return among[g.rnd.IntN(len(among))] }

// act draws by the odds of this session.
func (g *game) act() int {
	sum := 0
	for _, o := range g.odds {
		sum += o
	}
	n := g.rnd.IntN(sum + 1)
	for i, o := range g.odds {
		if n -= o; n < 0 {
			return i
		}
	}
	return wrongNumber
}

// span is some time, seconds as likely as hours.
func (g *game) span() time.Duration {
	return time.Duration(1+g.rnd.IntN(20)) * pick(g, []time.Duration{time.Second, time.Minute, 5 * time.Minute, time.Hour})
}

func (g *game) moveClock() {
	switch d := g.span(); g.rnd.IntN(4) {
	case 0:
		g.now.Wall = g.now.Wall.Add(-d)
	case 1:
		g.now.Wall = g.now.Wall.Add(d)
	default:
		g.pass(d)
	}
}

func (g *game) pass(d time.Duration) {
	g.now = session.Instant{Wall: g.now.Wall.Add(d), Mono: g.now.Mono + d}
}

// spoilt replaces one word of a line.
func (g *game) spoilt(line string, by func(string) string) string {
	words := strings.Fields(line)
	if len(words) == 0 {
		return by(line)
	}
	n := g.rnd.IntN(len(words))
	words[n] = by(words[n])
	return strings.Join(words, " ")
}

// number gives another number for the one that was meant.
func (g *game) number(word string) string {
	digits := strings.IndexFunc(word, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) })
	if digits < 0 {
		digits = len(word)
	}
	tail := word[digits:]
	x, err := strconv.ParseFloat(word[:digits], 64)
	if err != nil {
		x = 7
	}
	scaled := func(by float64) string { return strconv.FormatFloat(x*by, 'f', 3, 64) + tail }
	return pick(g, []string{
		scaled(10), scaled(0.1), scaled(100), scaled(0.001), scaled(1.5), scaled(0.5), scaled(1.3), scaled(0.7), scaled(1.08), scaled(0.93), scaled(2), "-" + word, "0", "0" + tail,
		"OL", "<" + word, ">" + word, "-", "25", "400", "1M", "3k", ">20M", "n",
	})
}

// letters are alterations as somebody may tell them, or not quite.
func (g *game) letters() string {
	var clauses []string
	for range 1 + g.rnd.IntN(1+g.rnd.IntN(3)) {
		c := pick(g, g.plan.Classes)
		clauses = append(clauses, c.Letter+" "+pick(g, []string{c.Part + " changed", "changed", "", "second " + c.Part, "and h"}))
	}
	return strings.Join(clauses, "; ")
}

// say types a line when its wait is over, mostly.
func (g *game) say(line string) {
	if g.rnd.IntN(40) != 0 {
		g.pass(g.seen.prompt.Wait)
	}
	g.pass(time.Duration(g.rnd.IntN(4)) * time.Second)
	g.happened(happening{what: "line", line: line}, g.s.Submit(line, g.now))
}

func (g *game) abort() {
	g.reached.aborts.Add(1)
	g.happened(happening{what: "abort"}, g.s.Abort("the stop key", g.now))
}

// happened puts what came of an event on the record, and asserts.
func (g *game) happened(h happening, a session.Answered) {
	g.newest = len(g.lines)
	g.keep(a.Records)
	h.now, h.before, h.answered = g.now, g.seen, a
	g.seen = sightOf(g.s)
	h.after = g.seen
	g.story = append(g.story, fmt.Sprintf("%s at %s: %s %q gives %v, then %s", g.now.Wall.Format("02 15:04:05"), h.before.prompt.ID, h.what, h.line, brief(a.Records), h.after.prompt.ID))
	if fault := g.l.broken(h); fault != "" {
		g.fail("%s\nbefore %+v\nafter %+v\nrecords %v", fault, h.before.state, h.after.state, a.Records)
	}
	for _, i := range g.s.Valued() {
		if !g.s.State().Held.Has(i) {
			g.fail("a window may follow from %s, which is not held", g.plan.Slots[i].ID)
		}
	}
	g.count(h)
}

func brief(rs []session.Record) []string {
	var out []string
	for _, r := range rs {
		text := r.Kind
		for _, k := range []string{"timer", "slot", "verdict", "fault", "because"} {
			if v := r.Fields[k]; v != "" {
				text += " " + v
			}
		}
		out = append(out, text)
	}
	return out
}

func (g *game) count(h happening) {
	if cameOn(h) && !h.before.state.Supply.Energised() {
		g.reached.energised.Add(1)
	}
	for _, r := range h.answered.Records {
		switch r.Kind {
		case "stop":
			g.reached.stops.Add(1)
		case "repair":
			g.reached.repairs.Add(1)
		case "accepted":
			g.reached.accepted.Add(1)
		case "refused":
			g.reached.refused.Add(1)
		case "park":
			g.reached.parks.Add(1)
		}
	}
}

func (g *game) keep(rs []session.Record) {
	for _, r := range rs {
		g.lines = append(g.lines, session.Logged{Seq: len(g.lines) + 1, At: g.now, Record: r})
		g.copies = append(g.copies, session.Record{Kind: r.Kind, Fields: maps.Clone(r.Fields)})
	}
}

// unchanged holds every line against what it was when it was written.
func (g *game) unchanged() {
	for i, l := range g.lines {
		if !reflect.DeepEqual(l.Record, g.copies[i]) {
			g.fail("line %d said %v and says %v", i+1, g.copies[i], l.Record)
		}
	}
}

// replayed is a session from a record; nothing may be missing from a whole one.
func (g *game) replayed(lines []session.Logged) *session.Session {
	s, err := session.Replay(g.plan, sessiontest.Label, lines)
	if err != nil {
		g.fail("the record does not replay: %v", err)
	}
	return s
}

func (g *game) replays() *session.Session {
	if len(g.lines) == 0 {
		return g.s
	}
	s := g.replayed(g.lines)
	if len(s.Missing()) > 0 {
		g.fail("a whole record lacks %v", s.Missing())
	}
	if diff := same(s, g.s); diff != "" {
		g.fail("the record replays to another session: %s", diff)
	}
	return s
}

// crash loses the process and, perhaps, the last lines of what the newest event
// gave: the record is completed from its own entry, and the session resumes.
func (g *game) crash() {
	if len(g.lines) == 0 {
		return
	}
	g.reached.crashes.Add(1)
	if first := g.newest + 1; g.rnd.IntN(2) == 0 && first < len(g.lines) {
		cut := first + g.rnd.IntN(len(g.lines)-first)
		s := g.replayed(g.lines[:cut])
		var lost []session.Record
		for _, l := range g.lines[cut:] {
			lost = append(lost, l.Record)
		}
		if !reflect.DeepEqual(s.Missing(), lost) {
			g.fail("of the lines that were lost %v, %v are missed", lost, s.Missing())
		}
		if diff := same(s, g.s); diff != "" {
			g.fail("a torn record replays to another session: %s", diff)
		}
		g.s = s
	} else {
		g.s = g.replays()
	}
	if g.s.Result() != session.Tested {
		g.resume()
	}
}

// resume goes on after some time; what it goes on from is a crash's replay, or
// the session itself, which a replay must equal.
func (g *game) resume() {
	g.reached.resumes.Add(1)
	away := pick(g, []time.Duration{time.Second, 20 * time.Minute, 3 * time.Hour, 12 * time.Hour, 24 * time.Hour, 30 * time.Hour})
	g.now = session.Instant{Wall: g.now.Wall.Add(away)}
	if g.rnd.IntN(10) == 0 {
		g.now.Wall, away = g.now.Wall.Add(-2*away), 0 // the clock was set back meanwhile
	}
	g.happened(happening{what: "resume"}, g.s.Resume(g.now, away))
}
