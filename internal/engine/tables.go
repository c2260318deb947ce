package engine

// tables hold what Step would otherwise gather from the slots at each event.
// Sound fills them in.
type tables struct {
	undoes    []Facts // by slot: what goes with it when it is taken back
	tests     []Facts // by slot: the readings of its own line that its window follows from
	ofTests   Facts   // the slots that have such
	computed  Facts
	outliving Facts // computed, and not for one period only
}

func (p *Procedure) tabulate() {
	t := tables{undoes: make([]Facts, len(p.Slots)), tests: make([]Facts, len(p.Slots))}
	for i := range p.Slots {
		t.undoes[i], t.tests[i] = p.undone(i), p.oneTest(i)
		if t.tests[i] != (Facts{}) {
			t.ofTests = t.ofTests.With(i)
		}
		if slot := &p.Slots[i]; slot.Derived {
			t.computed = t.computed.With(i)
			if slot.Life != Period {
				t.outliving = t.outliving.With(i)
			}
		}
	}
	p.tables = t
}

// undone is slot i and what may have been decided by it: what it gave, the rest
// of its line, what is read after it on its path, and what is judged by a window
// that follows from any of these.
func (p *Procedure) undone(i int) Facts {
	own := &p.Slots[i]
	f := own.Gives.With(i)
	for j := i + 1; j < len(p.Slots); j++ {
		slot := &p.Slots[j]
		if slot.Line == own.Line || slot.Path&own.Path != 0 || slot.Follows.meets(f) {
			f = f.With(j)
		}
	}
	return f
}

// oneTest gives the readings of slot i's own line that its window follows from.
func (p *Procedure) oneTest(i int) Facts {
	var f Facts
	for j := range p.Slots[i].Follows.each {
		if p.Slots[j].Line == p.Slots[i].Line && p.Slots[j].Life != Period {
			f = f.With(j)
		}
	}
	return f
}
