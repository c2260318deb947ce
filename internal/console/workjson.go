package console

import (
	"time"

	"example.com/powerup/internal/engine"
)

// What a plan tells beyond its readings, for programs.

type stageDocument struct {
	Name     string            `json:"name"`
	Supply   string            `json:"supply"`
	Lines    int               `json:"lines"`
	Minutes  int               `json:"minutes"`
	Cautions []cautionDocument `json:"cautions"`
	Parks    []parkDocument    `json:"parks"`
}

type cautionDocument struct {
	Signal string `json:"signal"`
	Text   string `json:"text"`
}

type parkDocument struct {
	Where   string `json:"where"`
	Hold    string `json:"hold,omitempty"`
	Lines   *int   `json:"more-lines,omitempty"`
	Minutes *int   `json:"more-minutes,omitempty"`
}

type endingDocument struct {
	Result string        `json:"result"`
	Why    string        `json:"why-not,omitempty"`
	Boxed  *nextDocument `json:"boxed,omitempty"`
}

type nextDocument struct {
	Lines   int      `json:"lines"`
	Minutes int      `json:"minutes"`
	Cannot  []string `json:"cannot-measure"`
	Result  string   `json:"result,omitempty"`
	Why     string   `json:"why-not,omitempty"`
	Refused string   `json:"refused,omitempty"`
}

type afterDocument struct {
	Record   string           `json:"record"`
	Practice bool             `json:"practice"`
	At       string           `json:"at"`
	Closed   bool             `json:"closed"`
	Kept     int              `json:"kept"`
	Lapsed   int              `json:"lapsed"`
	Queries  []string         `json:"open-queries"`
	Stopped  string           `json:"stopped,omitempty"`
	Because  string           `json:"because,omitempty"`
	Repairs  []repairDocument `json:"repairs,omitempty"`
}

type repairDocument struct {
	Letter  string `json:"letter"`
	Part    string `json:"part,omitempty"`
	Words   string `json:"words"`
	Lines   *int   `json:"more-lines,omitempty"`
	Minutes *int   `json:"more-minutes,omitempty"`
	Twice   bool   `json:"twice"`
}

// actNames are the acts before a line of readings.
var actNames = map[engine.Act]string{
	engine.Unplug: "unplug", engine.ProveLead: "prove-lead", engine.ProveFull: "prove-full", engine.ProveSecond: "prove-second",
	engine.ProveNodes: "prove-nodes", engine.SwitchOn: "power", engine.Unclip: "unclip", engine.Repair: "repair",
}

var whereNames = map[where]string{atHold: "hold", atEnd: "end", atProof: "proof"}

func stageOf(s Stage) stageDocument {
	d := stageDocument{Name: s.Name, Supply: s.Supply.String(), Lines: s.Share.Lines, Minutes: s.Minutes, Parks: []parkDocument{}, Cautions: []cautionDocument{}}
	for _, c := range s.Cautions {
		d.Cautions = append(d.Cautions, cautionDocument{c.Label, c.Text})
	}
	for _, p := range s.Parks {
		park := parkDocument{Where: whereNames[p.Where], Hold: p.Hold}
		if p.Known {
			park.Lines, park.Minutes = &p.Share.Lines, &p.Minutes
		}
		d.Parks = append(d.Parks, park)
	}
	return d
}

func endingOf(w Work) endingDocument {
	d := endingDocument{Result: w.Result, Why: w.Why}
	if n := w.Boxed; n != nil {
		d.Boxed = &nextDocument{Lines: n.Share.Lines, Minutes: n.Minutes, Cannot: some(n.Cannot), Result: n.Result, Why: n.Why}
		if n.Refused != nil {
			d.Boxed.Refused = n.Refused.Error()
		}
	}
	return d
}

func afterOf(a *After) *afterDocument {
	if a == nil {
		return nil
	}
	d := &afterDocument{Record: a.Label, Practice: a.Practice, At: a.At.Format(time.RFC3339), Closed: a.Closed, Kept: a.Kept, Lapsed: a.Lapsed, Queries: some(a.Queries), Stopped: a.Stopped, Because: a.Because}
	for _, r := range a.Repairs {
		repair := repairDocument{Letter: r.Class.Letter, Part: r.Class.Part, Words: r.Class.Words, Twice: r.Twice}
		if r.Cost.Known {
			minutes := int(r.Cost.More.Time.Round(time.Minute).Minutes())
			repair.Lines, repair.Minutes = &r.Cost.More.Lines, &minutes
		}
		d.Repairs = append(d.Repairs, repair)
	}
	return d
}
