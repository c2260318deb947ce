package circuit

// drift is how state and magnetising current move with the magnetising current
// that the sweep began with.
type drift struct {
	charge
	iron float64
}

// pull is the volts at the anode in use for an ampere of magnetising current.
func (n *network) pull() float64 { return -n.ratio * n.part * n.series }

func (d *drift) next(st *stepper, oldSlope, inverse float64) {
	m := &st.matrix
	oldI := oldSlope * (st.sign*st.pull()*d.iron - d.v1)
	behind := -st.part * st.series * (st.sign*st.ratio*oldI + d.iron)
	iron := (d.iron + st.b*st.step*behind/2) * m.yields
	b, alpha, p := m.right(d.charge, st.moved(d.charge, oldI))
	drive := st.sign * st.pull() * iron
	d.charge = m.state((b+m.theta*st.slope*drive)*inverse, alpha, p)
	d.iron = iron - m.takes*st.sign*st.slope*(drive-d.v1)
}
