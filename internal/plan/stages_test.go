package plan

import (
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/checks"
)

// TestWhatGuardsAStageIsNamedRight: a check or stage that nobody knows would
// guard nothing, and no file would be refused for it.
func TestWhatGuardsAStageIsNamedRight(t *testing.T) {
	isStage := func(name string) bool {
		return slices.ContainsFunc(stages, func(s stage) bool { return s.name == name })
	}
	isCheck := func(name string) bool { _, ok := checks.Find(name); return ok }
	for what, home := range homes {
		if !isStage(home) || !isCheck(what) && !strings.HasPrefix(what, "hold-") {
			t.Errorf("%s at home in %s", what, home)
		}
	}
	for _, late := range lateReadings {
		if !isStage(late.stage) || !isCheck(late.check) || !(figure(late.figure) > 0) {
			t.Errorf("late reading %+v", late)
		}
	}
	for check, spot := range liveSpots {
		if !isCheck(check) {
			t.Errorf("%s is read at %q", check, spot)
		}
	}
}
