package engine

import "fmt"

// comesToAnEnd follows the order of work from every place, with nothing held
// beyond the owed slot and everything answered well: it must be taken, and lead to
// a closed record without going in a circle.
func (x *Exploration) comesToAnEnd() error {
	const unseen, under, ends = 0, 1, 2
	mark := make([]uint8, len(x.places))
	for start := range x.places {
		var path []int32
		i := int32(start)
		for mark[i] == unseen && x.places[i].mode != Closed {
			mark[i] = under
			path = append(path, i)
			next, err := x.well(i)
			if err != nil {
				return err
			}
			if mark[next] == under {
				return &Unsafe{What: "the order of work goes in a circle", Story: x.story(i)}
			}
			i = next
		}
		mark[i] = ends
		for _, j := range path {
			mark[j] = ends
		}
	}
	return nil
}

// well answers the next act at place i well.
func (x *Exploration) well(i int32) (int32, error) {
	s := x.view.state(x.places[i], beyond{})
	for _, e := range Answers(x.view.p, s) {
		t := turn{before: s}
		if err := t.take(&x.m, x.view.p, e); err != nil {
			return 0, &Unsafe{What: fmt.Sprintf("what is asked for is refused: %v", err), Story: append(x.story(i), Told{e, s})}
		}
		s = t.after
	}
	next, ok := x.index[x.view.place(&s)]
	if !ok {
		return 0, &Unsafe{What: "the exploration has missed a place", Story: x.story(i)}
	}
	return next, nil
}

// Answers gives the events that answer the next act well, waits first. A stop is
// mended by the change that voids most.
func Answers(p *Procedure, s State) []Event {
	todo := Next(p, s)
	var out []Event
	if todo.Act == ProveSecond || todo.Act == Enter && p.Slots[todo.Slot].Wait || todo.Act == SwitchOn && p.Blocks[todo.Block].Wait {
		out = append(out, Event{Kind: Elapsed, Timer: MinWait})
	}
	if e := answer(p, todo.Act); e.Kind != 0 {
		if e.Kind == Mend {
			e.Class = Class(len(p.Voids) - 1)
		}
		out = append(out, e)
	}
	return out
}

func answer(p *Procedure, act Act) Event {
	switch act {
	case Unclip:
		return Event{Kind: ClipOff, Verdict: Pass}
	case Unplug:
		return Event{Kind: Off}
	case ProveLead:
		return Event{Kind: Prove, Proof: LeadProof, Verdict: Pass}
	case ProveFull:
		return Event{Kind: Prove, Proof: p.FirstProof(), Verdict: Pass}
	case ProveSecond:
		return Event{Kind: Prove, Proof: FullProof, Verdict: Pass}
	case ProveNodes:
		return Event{Kind: ProveNode, Verdict: Pass}
	case SwitchOn:
		return Event{Kind: Power}
	case Enter, Resolve:
		return Event{Kind: Read, Verdict: Pass}
	case Release:
		return Event{Kind: Free}
	case Repair:
		return Event{Kind: Mend}
	case Finish:
		return Event{Kind: Done}
	}
	return Event{}
}
