package record

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/transcriptlog"
)

// head is what the first line tells.
func head(l transcriptlog.Line) Facts {
	text := func(key string) string { return own(l.Fields[key], nameRoom) }
	f := Facts{
		Practice: l.Practice, Boxed: l.Fields["part"] == "boxed", Begun: l.Time,
		Label: text("label"), Operator: text("operator"), Profile: text("profile"),
		Procedure: text("procedure name"), BenchClock: strings.HasPrefix(l.Fields["clock"], "bench clock"),
		First: own(l.Fields["after"], 60), FirstSum: text("after sha256"), Owed: -1,
	}
	if set, err := spec.LoadSet("set", []byte(l.Fields["set"])); err == nil {
		f.Name, f.Mark = own(set.Name, nameRoom), own(set.Mark, nameRoom)
		if set.Mains.Tap != nil {
			f.Tap = set.Mains.Tap.String()
		}
	}
	if p, err := spec.LoadProcedure("procedure", []byte(l.Fields["procedure"])); err == nil {
		f.Procedure = own(fmt.Sprintf("%s, edition %d", p.Name, p.Edition), nameRoom)
	}
	return f
}
