package engine

import (
	"errors"
	"fmt"
	"sync"
)

// Exploration is what an exploration of a procedure has found: every place that any
// order of events leads to.
type Exploration struct {
	Places, Steps int
	view          *view
	index         map[place]int32
	places        []place
	came          []came
	m             machine
}

// came is how a place was first come to.
type came struct {
	from int32 // -1: nothing known
	by   Event
}

// Told is one step of the story that leads to a broken interlock.
type Told struct {
	Event Event
	State State // before it
}

// Unsafe is the error of a procedure in which an interlock can be broken, or from
// some state of which no work leads to its end.
type Unsafe struct {
	ID    string // of the interlock; empty: the work comes to no end
	What  string
	Story []Told
}

func (u *Unsafe) Error() string { return u.What }

// ErrTooLarge is in the chain when a procedure has more places than were allowed
// for: it is not proved.
var ErrTooLarge = errors.New("the procedure is too large to be proved")

// Explore goes through p breadth-first through Step itself, with every event and verdict
// at every place, and no more than most places. It stops at the first interlock
// that is broken.
//
// A place leaves open what is held beyond the owed slot. Step is therefore taken
// from the state with nothing held there and from the one with everything, and
// where an event makes a fact of the owed slot from one state for each slot that
// can be owed next. That gives every place that a session can come to, and some
// that none can.
func Explore(p *Procedure, scope Scope, most int) (*Exploration, error) {
	return whole.explore(p, scope, most)
}

func (m machine) explore(p *Procedure, scope Scope, most int) (*Exploration, error) {
	x := &Exploration{view: newView(p, scope), index: map[place]int32{}, m: m}
	x.add(find{x.view.place(&State{}), came{from: -1}})
	for done := 0; done < len(x.places); {
		if len(x.places) > most {
			return x, fmt.Errorf("%w: more than %d places", ErrTooLarge, most)
		}
		end := len(x.places)
		if err := x.ring(done, end); err != nil {
			return x, err
		}
		done = end
	}
	x.Places = len(x.places)
	return x, x.comesToAnEnd()
}

// walkers share the work of an exploration.
const walkers = 4

// ring tries every event at the places from done to end, on all cores. What they
// lead to is added in the order of the places, whatever core was quicker.
func (x *Exploration) ring(done, end int) error {
	var workers [walkers]walker
	share := (end - done + len(workers) - 1) / len(workers)
	var wait sync.WaitGroup
	for k := range workers {
		w := &workers[k]
		w.x = x
		from, to := min(done+k*share, end), min(done+(k+1)*share, end)
		wait.Go(func() { w.walk(from, to) })
	}
	wait.Wait()
	for k := range workers {
		x.Steps += workers[k].steps
		if workers[k].err != nil {
			return workers[k].err
		}
		for _, f := range workers[k].found {
			x.add(f)
		}
	}
	return nil
}

// Covers tells whether the place of s was found.
func (x *Exploration) Covers(s State) bool {
	_, ok := x.index[x.view.place(&s)]
	return ok
}

// find is a place with how it was come to.
type find struct {
	place
	came
}

func (x *Exploration) add(f find) {
	if _, ok := x.index[f.place]; ok {
		return
	}
	x.index[f.place] = int32(len(x.places))
	x.places, x.came = append(x.places, f.place), append(x.came, f.came)
}

// walker tries events at places. It reads the exploration and changes nothing of
// it.
type walker struct {
	x     *Exploration
	turn  turn
	steps int
	found []find
	err   error
}

func (w *walker) walk(from, to int) {
	for i := from; i < to && w.err == nil; i++ {
		for _, e := range w.x.view.events {
			if w.try(int32(i), e); w.err != nil {
				return
			}
		}
	}
}

// try takes e from the states of place i.
func (w *walker) try(i int32, e Event) {
	q, n := w.x.places[i], len(w.x.view.p.Slots)
	c := int(q.cursor)
	if q.elsewhere(e) || !w.step(i, beyond{}, e) {
		return
	}
	if e.gains() {
		for upTo := c + 2; upTo <= n; upTo++ {
			w.step(i, beyond{upTo: upTo}, e)
		}
	}
	if e.goesBack() {
		w.step(i, beyond{upTo: n}, e)
		w.step(i, beyond{left: true}, e)
		w.step(i, beyond{upTo: n, left: true}, e)
	}
}

// elsewhere tells whether what e leads to from q is come to from another place
// too. What is taken back beyond the owed slot is as the owed slot taken back, and
// before a proof is begun as well as in its middle. An alteration, an interruption
// and a reading taken back forget what belonged to the owed slot, and so does
// taking that slot back alone: from there they lead to the same.
func (q place) elsewhere(e Event) bool {
	const ofTheSlot = 1<<2 | 1<<3 | 1<<4 | 1<<5 | 1<<6
	switch e.Kind {
	case Retract:
		own := e.Slot == int(q.cursor)
		return e.Slot > int(q.cursor) || !own && (q.proof == HalfProof || q.flags&ofTheSlot != 0)
	case Alter, Interrupt:
		return q.flags&ofTheSlot != 0
	}
	return false
}

// step takes e from one state of place i, and tells whether it was taken.
func (w *walker) step(i int32, b beyond, e Event) bool {
	w.steps++
	w.turn.before = w.x.view.state(w.x.places[i], b)
	switch broken := w.turn.take(&w.x.m, w.x.view.p, e).(type) { // not wrapped; errors.As would allocate
	case nil:
	case *Broken:
		w.err = &Unsafe{ID: broken.ID, What: broken.Error(), Story: append(w.x.story(i), Told{e, w.turn.before})}
		return false
	default:
		return false
	}
	if q := w.x.view.place(&w.turn.after); !w.x.has(q) {
		w.found = append(w.found, find{q, came{i, e}})
	}
	return true
}

func (x *Exploration) has(q place) bool {
	_, ok := x.index[q]
	return ok
}

// story is how place i was come to.
func (x *Exploration) story(i int32) []Told {
	var back []Told
	for c := x.came[i]; c.from >= 0; c = x.came[c.from] {
		back = append(back, Told{c.by, x.view.state(x.places[c.from], beyond{})})
	}
	for a, b := 0, len(back)-1; a < b; a, b = a+1, b-1 {
		back[a], back[b] = back[b], back[a]
	}
	return back
}
