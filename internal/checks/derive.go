package checks

import (
	"fmt"
	"math"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/unit"
)

// most that a derived ratio is written as; beyond it one of its readings is
// nothing.
const mostRatio = 99

// stage is the output valve's circuit with what its readings need to be turned
// into currents.
func (c Case) stage() (circuit.Valve, error) {
	if c.Model == nil {
		return circuit.Valve{}, fmt.Errorf("%w: the sheet gives no HT circuit", ErrNoData)
	}
	v := c.Model.Output
	if !(v.AnodeR > 0) || !(v.CathodeR > 0) {
		return circuit.Valve{}, fmt.Errorf("%w: ohms of output transformer and cathode resistor", ErrNoData)
	}
	return v, nil
}

// anodeCurrent is volts across the output transformer over its ohms.
func (c Case) anodeCurrent() (float64, circuit.Valve, error) {
	v, err := c.stage()
	if err != nil {
		return 0, v, err
	}
	opt, err := c.need("opt-volts")
	return opt / float64(v.AnodeR), v, err
}

func deriveIaRatio(c Case) (unit.Quantity, error) {
	ia, v, err := c.anodeCurrent()
	if err != nil {
		return unit.Quantity{}, err
	}
	vk, err := c.need("output-cathode")
	if err != nil {
		return unit.Quantity{}, err
	}
	ik := vk / float64(v.CathodeR)
	ratio := float64(mostRatio)
	switch {
	case ik > 0:
		ratio = min(ia/ik, mostRatio)
	case !(ia > 0):
		return unit.Quantity{}, fmt.Errorf("%w: neither route shows a current", ErrNoData)
	}
	return unit.Quantity{Kind: unit.KindNumber, Value: ratio}, nil
}

func iaRatioRule(c Case) (Window, error) {
	v, err := c.stage()
	if err != nil {
		return Window{}, err
	}
	d := drafted("ia-ratio", unit.KindNumber, 1-v.Share, fmt.Sprintf("%.3f of the cathode current goes to the anode by the valve's data; cold ohms %v and %v", 1-v.Share, v.AnodeR, v.CathodeR))
	return solved{typical: typicalParts(c, cathodePart, outputPart)}.window(d, unbounded)
}

func deriveCathodeCurrent(c Case) (unit.Quantity, error) {
	ia, v, err := c.anodeCurrent()
	if err != nil {
		return unit.Quantity{}, err
	}
	return unit.Quantity{Kind: unit.KindAmpere, Value: ia / (1 - v.Share)}, nil
}

// maximum is a limit of the output valve's data; one the data does not give is
// no limit to judge by.
func (c Case) maximum(what string, of func(limits.Output) float64) (float64, error) {
	_, data, ok := outputItem(c.Set)
	if x := of(data); ok && x > 0 {
		return x, nil
	}
	return 0, fmt.Errorf("%w: %s of the output valve", ErrNoData, what)
}

// cathodeCurrentRule judges the set at nominal mains, as its dissipation is; the
// valve's maximum itself holds at any mains.
func cathodeCurrentRule(c Case) (Window, error) {
	most, err := c.maximum("greatest cathode current", func(o limits.Output) float64 { return float64(o.IkMax) })
	if err != nil {
		return Window{}, err
	}
	m, sum, err := c.overTap("cathode-exponent")
	if err != nil {
		return Window{}, err
	}
	at := drafted("cathode-current", unit.KindAmpere, most, "")
	d := drafted("cathode-current", unit.KindAmpere, most*m, fmt.Sprintf("valve's maximum %s at any mains; %s", amount(unit.KindAmpere, most), sum))
	d.query = d.query.meet(at.query)
	d.pass = d.pass.meet(d.query)
	return solved{typical: typicalParts(c, outputPart)}.window(d, unbounded)
}

// overTap is the volts on the set over those of the tap, to the power of the
// figure of that id.
func (c Case) overTap(exponent string) (m float64, sum string, err error) {
	set, err := setVolts(c)
	if err != nil {
		return 0, "", err
	}
	tap, err := c.tap()
	if err != nil {
		return 0, "", err
	}
	m = math.Pow(float64(set/tap), number(exponent))
	return m, fmt.Sprintf("the set at (%s / %v)^%.4g = %.3f of it", volts(float64(set)), tap, number(exponent), m), nil
}

// deriveAnodeDissipation takes the anode at the volts of its feed less those
// across the output transformer.
func deriveAnodeDissipation(c Case) (unit.Quantity, error) {
	ia, v, err := c.anodeCurrent()
	if err != nil {
		return unit.Quantity{}, err
	}
	feed := "ht-smoothed"
	if v.FromHT1 {
		feed = "ht-reservoir"
	}
	ht, err := c.need(feed)
	if err != nil {
		return unit.Quantity{}, err
	}
	vk, err := c.need("output-cathode")
	if err != nil {
		return unit.Quantity{}, err
	}
	return unit.Quantity{Kind: unit.KindWatt, Value: (ht - ia*float64(v.AnodeR) - vk) * ia}, nil
}

// dissipationSum words the sum once its readings are in.
func (c Case) dissipationSum() string {
	ia, v, err := c.anodeCurrent()
	ht, okHT := c.reading("ht-reservoir")
	vk, okK := c.reading("output-cathode")
	if err != nil || !okHT || !okK || !v.FromHT1 {
		return ""
	}
	opt := ia * float64(v.AnodeR)
	return fmt.Sprintf("(%s - %s - %s) x %s = %s; ", volts(ht), volts(opt), volts(vk),
		amount(unit.KindAmpere, ia), amount(unit.KindWatt, (ht-opt-vk)*ia))
}

// anodeDissipationRule has two verdicts in one window: the set at nominal
// mains, where the valve's limit holds, and the tap at today's.
func anodeDissipationRule(c Case) (Window, error) {
	most, err := c.maximum("greatest anode dissipation", func(o limits.Output) float64 { return float64(o.PaMax) })
	if err != nil {
		return Window{}, err
	}
	m, at, err := c.overTap("dissipation-exponent")
	if err != nil {
		return Window{}, err
	}
	tap := drafted("anode-dissipation.tap", unit.KindWatt, most, "")
	d := drafted("anode-dissipation", unit.KindWatt, most*m,
		fmt.Sprintf("%svalve's maximum %s; %s", c.dissipationSum(), amount(unit.KindWatt, most), at)).within(tap.pass, tap.query)
	d.sum += "; the tap: " + bandWords(limits.BandOf("anode-dissipation.tap"))
	return solved{typical: typicalParts(c, outputPart)}.window(d, unbounded)
}

func deriveScreenDissipation(c Case) (unit.Quantity, error) {
	if c.Model == nil || !(c.Model.Output.ScreenR > 0) {
		return unit.Quantity{}, fmt.Errorf("%w: ohms of the screen resistor", ErrNoData)
	}
	drop, err := c.need("screen-drop")
	if err != nil {
		return unit.Quantity{}, err
	}
	ht2, err := c.need("ht-smoothed")
	if err != nil {
		return unit.Quantity{}, err
	}
	vk, err := c.need("output-cathode")
	if err != nil {
		return unit.Quantity{}, err
	}
	return unit.Quantity{Kind: unit.KindWatt, Value: (ht2 - drop - vk) * drop / float64(c.Model.Output.ScreenR)}, nil
}

func screenDissipationRule(c Case) (Window, error) {
	most, err := c.maximum("greatest screen dissipation", func(o limits.Output) float64 { return float64(o.Pg2Max) })
	if err != nil {
		return Window{}, err
	}
	return drafted("screen-dissipation", unit.KindWatt, most, "valve's maximum "+amount(unit.KindWatt, most)).window()
}

// deriveSupplyLine is HT1 off what the supply gives at the current that the
// output transformer and the smoothing show, in per cent.
func deriveSupplyLine(c Case) (unit.Quantity, error) {
	drop, err := deriveSmoothingDrop(c)
	if err != nil {
		return unit.Quantity{}, err
	}
	ia, v, err := c.anodeCurrent()
	if err != nil {
		return unit.Quantity{}, err
	}
	ht1, err := c.need("ht-reservoir")
	if err != nil {
		return unit.Quantity{}, err
	}
	if !(c.Model.Smoothing > 0) {
		return unit.Quantity{}, fmt.Errorf("%w: ohms of the smoothing", ErrNoData)
	}
	current := drop.Value / float64(c.Model.Smoothing)
	if v.FromHT1 {
		current += ia
	}
	if c.Model.Leak > 0 { // a bleeder drawn at HT1
		current += ht1 / float64(c.Model.Leak)
	}
	set, err := setVolts(c)
	if err != nil {
		return unit.Quantity{}, err
	}
	line, err := c.Model.Line(set, unit.Ampere(current))
	if err != nil {
		return unit.Quantity{}, err
	}
	return unit.Quantity{Kind: unit.KindPercent, Value: 100 * (ht1/float64(line) - 1)}, nil
}

// supplyLineRule: behind a lamp the crest is flattened, and the line says
// nothing.
func supplyLineRule(c Case) (Window, error) {
	if c.Lamp != nil {
		return Window{}, fmt.Errorf("%w: the supply line is judged with the lamp out", ErrWindow)
	}
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	if !s.known {
		return s.window(drafted("supply-line.all", unit.KindPercent, 1, "HT1 over the line at the currents by the sheet's ohms: a query at most"), unbounded)
	}
	d := drafted("supply-line", unit.KindPercent, 1, "")
	d.pass = Interval{100 * (s.Line.Lo*(1-s.Err) - 1), 100 * (s.Line.Hi*(1+s.Err) - 1)}.meet(d.query)
	d.sum = fmt.Sprintf("HT1 over the line at the measured currents; pass %.1f to %+.1f %%, %s; stop under %.4g %% and over %+.4g %%",
		d.pass.Lo, d.pass.Hi, s.corners(), d.query.Lo, d.query.Hi)
	return s.window(d, unbounded)
}

func deriveSmoothingDrop(c Case) (unit.Quantity, error) {
	ht1, err := c.need("ht-reservoir")
	if err != nil {
		return unit.Quantity{}, err
	}
	ht2, err := c.need("ht-smoothed")
	if err != nil {
		return unit.Quantity{}, err
	}
	return unit.Quantity{Kind: unit.KindVolt, Value: ht1 - ht2}, nil
}

func smoothingDropRule(c Case) (Window, error) {
	s, err := solve(c)
	if err != nil {
		return Window{}, err
	}
	return s.window(s.twoSided("smoothing-drop", s.Drop, s.Err), unbounded)
}
