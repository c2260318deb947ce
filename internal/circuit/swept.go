package circuit

// swept is what one period gave: where it ended, and means and extremes over it.
// Means of volts are counted from base, the state that it began with.
type swept struct {
	end, base charge
	tangent   [3]charge // how the end moves with each value of the beginning
	current   float64   // of the rectifier
	square    float64   // of the same, squared
	mean1     float64   // of the volts on the reservoir
	mean2     float64   // of those on the second capacitor
	square1   float64   // of the same volts squared
	square2   float64
	low, high charge
	peak      float64 // of the rectifier's current
	iron      float64 // the magnetising current that the next half-cycle begins with
	drift     float64 // how that moves with the one at the beginning
	mains     mains
	loss      losses
}

// mains are squares on the primary's side, and the watts taken.
type mains struct{ amps, set, behind, watts float64 }

// losses are means of watts; ohms are all before the rectifier, as seen from the
// winding.
type losses struct{ ohms, rectifier, leak, smoothing, anode, rest float64 }

func (w *swept) begin(c charge) { w.base, w.low, w.high = c, c, c }

// gather adds instant k to the means.
func (st *stepper) gather(g *grid, k int) {
	w, c, h := &st.w, st.at, g.weight(k)
	if i := st.i; i > 0 {
		w.current += h * i
		w.square += h * i * i
		w.peak = max(w.peak, i)
		w.loss.ohms += h * i * i * st.anodes[st.side].ohms
		w.loss.rectifier += h * i * st.anodes[st.side].drop(st.root)
	}
	volts := st.src.crest * g.cosine[k]
	amps := st.sign*st.ratio*st.i + st.iron + st.front.g*st.behind
	set := volts - st.src.lamp*amps
	w.mains.amps += h * amps * amps
	w.mains.set += h * set * set
	w.mains.behind += h * st.behind * st.behind
	w.mains.watts += h * set * amps
	x := c.v1 - w.base.v1
	w.mean1 += h * x
	w.square1 += h * x * x
	x = c.v2 - w.base.v2
	w.mean2 += h * x
	w.square2 += h * x * x
	w.low.v1, w.high.v1 = min(w.low.v1, c.v1), max(w.high.v1, c.v1)
	w.low.v2, w.high.v2 = min(w.low.v2, c.v2), max(w.high.v2, c.v2)
	anode, rest := st.load.drawn(c.v2)
	w.loss.leak += h * st.leak * c.v1 * c.v1
	w.loss.smoothing += h * st.ohms * c.choke * c.choke
	w.loss.anode += h * (anode + st.load.leak*c.v1) * c.v1
	w.loss.rest += h * rest * c.v2
}

// mean divides all sums by the angle they ran over.
func (w *swept) mean(angle float64) {
	for _, x := range [...]*float64{
		&w.current, &w.square, &w.mains.amps, &w.mains.set, &w.mains.behind, &w.mains.watts, &w.mean1, &w.square1, &w.mean2, &w.square2,
		&w.loss.ohms, &w.loss.rectifier, &w.loss.leak, &w.loss.smoothing, &w.loss.anode, &w.loss.rest,
	} {
		*x /= angle
	}
	w.square1, w.square2 = max(w.square1-w.mean1*w.mean1, 0), max(w.square2-w.mean2*w.mean2, 0)
	w.mean1 += w.base.v1
	w.mean2 += w.base.v2
}
