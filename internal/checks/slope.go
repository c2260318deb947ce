package checks

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// TimedSlot is the id under which a reading taken at so many minutes of the
// energised time is kept: "output-grid@V4#at-5".
func TimedSlot(id string, minutes int) string { return id + timed + strconv.Itoa(minutes) }

const timed = "#at-"

// sample is one reading of a series.
type sample struct{ minutes, value float64 }

// samples are the timed readings of a check in the order of time, as taken at
// its item or without one.
func (c Case) samples(id string) []sample {
	var out []sample
	item, _, _ := outputItem(c.Set)
	for key, q := range c.Taken {
		at, minutes, ok := strings.Cut(key, timed)
		n, err := strconv.Atoi(minutes)
		if !ok || err != nil || at != id && at != id+"@"+item || !(q.Value-q.Value == 0) {
			continue
		}
		out = append(out, sample{float64(n), q.Value})
	}
	slices.SortFunc(out, func(a, b sample) int { return cmp.Compare(a.minutes, b.minutes) })
	return out
}

// slope is the rise a minute of the straight line through the samples, by least
// squares. It needs three of them over two minutes.
func slope(s []sample) (float64, error) {
	few := int(number("slope-readings"))
	if len(s) < few || !(60*(s[len(s)-1].minutes-s[0].minutes) >= number("slope-span")) {
		return 0, fmt.Errorf("%w: a slope needs %d readings over %v", ErrNoData, few, limits.Lookup("slope-span").Value)
	}
	var t, v float64
	for _, x := range s {
		t += x.minutes / float64(len(s))
		v += x.value / float64(len(s))
	}
	var over, under float64
	for _, x := range s {
		over += (x.minutes - t) * (x.value - v)
		under += (x.minutes - t) * (x.minutes - t)
	}
	return over / under, nil
}

// deriveGridSlope: per cent of the grid's stop line a minute.
func deriveGridSlope(c Case) (unit.Quantity, error) {
	return slopeOf(c.samples("output-grid"), number("grid-stop"))
}

// deriveCathodeSlope: per cent of the cathode's stop line a minute, over the
// soak.
func deriveCathodeSlope(c Case) (unit.Quantity, error) {
	s, err := solve(c)
	if err != nil {
		return unit.Quantity{}, err
	}
	return slopeOf(c.samples("output-cathode"), s.Cathode.X*limits.BandOf("output-cathode").QueryHi)
}

func slopeOf(s []sample, stop float64) (unit.Quantity, error) {
	rise, err := slope(s)
	return unit.Quantity{Kind: unit.KindPercent, Value: 100 * rise / stop}, err
}

// ErrUnsettled is in the chain when a core gains as fast as before, so that no
// end can be reckoned: it is soaked on, and after the longest soak that is a
// stop.
var ErrUnsettled = errors.New("the core is not settling")

// deriveCoreEnd is what the core settles at in a room of 25 °C. Each quarter of
// an hour brings the same part r of the rise before, so that after the last
// rise d there is d r/(1-r) to come (computed: geometric series).
func deriveCoreEnd(c Case) (unit.Quantity, error) {
	s := c.samples("core")
	if len(s) < 3 {
		return unit.Quantity{}, fmt.Errorf("%w: the core was not read three times", ErrNoData)
	}
	s = s[len(s)-3:]
	first, err := quarterRise(s[0], s[1])
	if err != nil {
		return unit.Quantity{}, err
	}
	last, err := quarterRise(s[1], s[2])
	if err != nil {
		return unit.Quantity{}, err
	}
	end, small := s[2].value, number("soak-small-rise")
	switch r := last / first; {
	case last <= 0:
	case first < small && last < small:
		end += small
	case !(first > 0 && r <= number("soak-ratio")):
		return unit.Quantity{}, fmt.Errorf("%w: %.1f K, then %.1f K in a quarter of an hour\nhint: soak on", ErrUnsettled, first, last)
	default:
		end += last * r / (1 - r)
	}
	if room, ok := c.reading("room"); ok {
		end -= room - number("soak-room")
	}
	return unit.Quantity{Kind: unit.KindCelsius, Value: end}, nil
}

// quarterRise is the rise from a to b brought to a quarter of an hour: a late
// reading counts with its own time.
func quarterRise(a, b sample) (float64, error) {
	step := number("soak-step") / 60
	parts := (b.minutes - a.minutes) / step
	if !(parts >= 2.0/3 && parts <= 5.0/3) {
		return 0, fmt.Errorf("%w: core readings %g and %g minutes in are not a quarter of an hour apart\nhint: read it every %g minutes", ErrNoData, a.minutes, b.minutes, step)
	}
	return (b.value - a.value) / parts, nil
}
