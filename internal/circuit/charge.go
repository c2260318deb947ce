package circuit

import "math"

// charge is the state of the HT circuit at one instant: volts on reservoir and
// second capacitor, amperes in the choke.
type charge struct{ v1, v2, choke float64 }

func unitCharge(k int) charge {
	var c charge
	*c.value(k) = 1
	return c
}

func (c *charge) value(k int) *float64 {
	switch k {
	case 0:
		return &c.v1
	case 1:
		return &c.v2
	}
	return &c.choke
}

func (c charge) minus(o charge) charge { return charge{c.v1 - o.v1, c.v2 - o.v2, c.choke - o.choke} }

func (c charge) plus(o charge) charge { return charge{c.v1 + o.v1, c.v2 + o.v2, c.choke + o.choke} }

func (c charge) times(k float64) charge { return charge{c.v1 * k, c.v2 * k, c.choke * k} }

func (c charge) finite() bool {
	sum := c.v1 + c.v2 + c.choke
	return sum-sum == 0
}

// newton is Newton's step towards the state whose period ends where it began:
// (1 - M) step = r with the tangents M.
func newton(m *[3]charge, r charge, order int) charge {
	var a [3][4]float64
	for i := range order {
		for j := range order {
			a[i][j] = -*m[j].value(i)
		}
		a[i][i]++
		a[i][3] = *r.value(i)
	}
	for i := range order { // Gauss with the largest pivot
		best := i
		for k := i + 1; k < order; k++ {
			if math.Abs(a[k][i]) > math.Abs(a[best][i]) {
				best = k
			}
		}
		a[i], a[best] = a[best], a[i]
		for k := range order {
			if k != i && a[i][i] != 0 {
				f := a[k][i] / a[i][i]
				for j := i; j < 4; j++ {
					a[k][j] -= f * a[i][j]
				}
			}
		}
	}
	var step charge
	for i := range order {
		*step.value(i) = a[i][3] / a[i][i]
	}
	return step
}
