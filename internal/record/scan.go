package record

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// scan goes through a transcript and keeps what stands at its end.
type scan struct {
	f        Facts
	standing map[string]reading // by slot
	left     map[string]string  // slots left with "-": their checks
	live     bool               // mains is on, as far as the lines tell
	power    int                // number of the line that switched it on
	most     engine.Supply
	stopped  bool
	before   transcriptlog.Line
}

// reading is one that stands.
type reading struct {
	check, item, verdict, cause string
	number                      string
	line                        int
	at                          time.Time
	typical                     bool
}

func newScan(first transcriptlog.Line) *scan {
	return &scan{f: head(first), before: first, standing: map[string]reading{}, left: map[string]string{}}
}

func (s *scan) line(l transcriptlog.Line) {
	f := l.Fields
	s.f.SetBack = max(s.f.SetBack, setBack(s.before, l))
	s.before = l
	switch l.Kind {
	case "reading":
		s.read(l)
	case "accepted":
		if r, ok := s.standing[f["slot"]]; ok {
			r.cause = f["cause"]
			s.standing[f["slot"]] = r
		}
	case "second":
		if who, ok := strings.CutPrefix(f["how"], "seen "); ok && who != "" {
			s.f.Seconds++
		}
	case "not-read":
		s.left[f["slot"]] = checkOf(f["slot"])
	case "wrong", "altered", "read-again", "outlet-moved", "elapsed", "no-such-part":
		s.fall(l)
	case "stop":
		s.stopped, s.f.Stop = true, query(f["check"], s.standing[f["slot"]].item, f["reason"])
	case "repair":
		s.stopped = false
	case "released":
		s.witness(f["witness"])
	case "over":
		s.f.Operator = own(s.f.Operator+", then "+f["to"], textRoom)
	default:
		s.moved(l)
	}
}

// moved keeps how the session and the supply stand.
func (s *scan) moved(l transcriptlog.Line) {
	f := l.Fields
	switch l.Kind {
	case "power":
		s.on(l)
	case "unplugged", "proof":
		s.live = false
	case "park":
		s.f.State, s.f.Owed = Parked, count(f["open"])
		s.live = false
	case "abort":
		s.f.State = BrokenOff
		s.live = f["energised"] != "false"
	case "resume":
		s.f.State, s.f.Owed = Unknown, -1
	case transcriptlog.KindClose:
		s.close(f)
	}
}

func (s *scan) close(f map[string]string) {
	s.f.State, s.f.Closing = Closed, own(f["result"], idRoom)
	s.f.Strange = f["result"] != "" && !session.IsResult(f["result"])
	s.f.NoVolts = f["not-proved-at-volts"] != ""
	s.witness(f["witness"])
	if s.f.Name == "" && s.f.Mark == "" { // a sheet that this program cannot read
		s.f.Name, s.f.Mark = own(f["set"], nameRoom), own(f["mark"], nameRoom)
	}
	if f["open"] != "0" {
		s.f.State, s.f.Owed = BrokenOff, count(f["open"])
	}
}

func (s *scan) on(l transcriptlog.Line) {
	s.live, s.power = true, l.Seq
	s.f.Alone = s.f.Alone || l.Fields["alone"] != ""
	if supply := supplyOf(l.Fields["supply"]); supply >= s.most {
		s.most = supply
		s.f.Power = Power{own(l.Fields["supply"], idRoom), own(l.Fields["set"], textRoom), own(l.Fields["lamp"], textRoom)}
	}
}

func (s *scan) witness(name string) {
	if name != "" && name != "none" {
		s.f.Witness = own(name, nameRoom)
	}
}

func (s *scan) read(l transcriptlog.Line) {
	f := l.Fields
	s.f.Stage, _, _ = strings.Cut(f["slot"], "/")
	delete(s.left, f["slot"])
	s.standing[f["slot"]] = reading{
		check: f["check"], item: f["item"], verdict: f["verdict"], number: f["number"],
		line: l.Seq, at: l.Time, typical: f["window grade"] == "typical",
	}
	switch f["check"] {
	case "call":
		s.f.Call = own(f["say"], textRoom)
	case "touch-current":
		s.f.Touched = f["verdict"] == "pass"
	}
}

// fall takes away what a line says does not stand any more.
func (s *scan) fall(l transcriptlog.Line) {
	f := l.Fields
	switch l.Kind {
	case "wrong":
		s.drop(func(_ string, r reading) bool { return r.number == f["number"] })
	case "no-such-part":
		delete(s.standing, f["slot"])
	case "altered":
		for slot := range strings.FieldsSeq(f["void"]) {
			delete(s.standing, slot)
		}
	case "read-again":
		stage, _, _ := strings.Cut(f["slot"], "/")
		s.drop(func(slot string, _ reading) bool { return strings.HasPrefix(slot, stage+"/") })
	case "outlet-moved":
		s.drop(func(_ string, r reading) bool { return r.line > s.power })
	case "elapsed":
		if f["timer"] == "day-over" {
			s.drop(func(_ string, r reading) bool { return forADay(r.check) })
		}
	}
}

func (s *scan) drop(gone func(slot string, r reading) bool) { maps.DeleteFunc(s.standing, gone) }

// facts sums up what stands after the last line.
func (s *scan) facts(last transcriptlog.Line) Facts {
	f := s.f
	f.Ended, f.Live = last.Time, s.live
	f.Stage = own(f.Stage, idRoom)
	switch {
	case s.stopped:
		f.State = Stopped
	case f.State == Closed:
	case s.live:
		f.State = LeftOn
	case f.State == Unknown:
		f.State = BrokenOff
	}
	for _, slot := range slices.Sorted(maps.Keys(s.standing)) {
		f.count(s.standing[slot])
	}
	for _, slot := range slices.Sorted(maps.Keys(s.left)) {
		if check := own(s.left[slot], idRoom); !slices.Contains(f.NotRead, check) {
			f.NotRead = append(f.NotRead, check)
		}
	}
	return f
}

func (f *Facts) count(r reading) {
	f.Readings++
	if r.typical {
		f.Typical++
	}
	switch {
	case r.verdict == "stop":
		f.Stops++
	case r.verdict == "query" && r.cause != "":
		f.Queries = append(f.Queries, query(r.check, r.item, r.cause))
	case r.verdict == "query":
		f.Doubts++
	}
	if forADay(r.check) && (f.Day.IsZero() || r.at.Before(f.Day)) {
		f.Day = r.at
	}
}

func query(check, item, cause string) Query {
	return Query{own(check, idRoom), own(item, idRoom), own(cause, textRoom)}
}

// forADay tells whether a reading stands for a day only; so does one of a check
// that this program does not know.
func forADay(check string) bool {
	c, ok := checks.Find(check)
	return !ok || c.Life == engine.Day
}

// checkOf is the id of a slot's check: "ramp/output-grid@V4#75" is of output-grid.
func checkOf(slot string) string {
	_, name, _ := strings.Cut(slot, "/")
	if end := strings.IndexAny(name, "@#~"); end >= 0 {
		return name[:end]
	}
	return name
}

func supplyOf(word string) engine.Supply {
	for s := engine.Full; s > engine.Unknown; s-- {
		if s.String() == word {
			return s
		}
	}
	return engine.Unknown
}

// count reads a number of readings; -1: none is said.
func count(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return -1
	}
	return n
}
