// Package sessiontest answers a session's prompts as an invented example radio
// would, sound or with one reading changed. It serves tests only; every reading
// is invented, the energised ones by the circuit formula of the radio's sheet.
package sessiontest

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/engine"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
	"example.com/powerup/procedures"
)

// Radio is the example radio, sound in every part: HT-side readings from the
// circuit formula of its full sheet, the rest from a table.
type Radio struct {
	plan   *plan.Plan
	truth  *circuit.Supply
	Turns  map[string][]string // at a prompt: what is typed instead, in turn
	again  map[string]bool     // queried slots that were read once more
	Faults map[string]string   // by slot id, or check[@item]: what is read instead
}

// NewRadio is the radio at the bench that p was made for.
func NewRadio(t testing.TB, p *plan.Plan) *Radio {
	t.Helper()
	full := Plan(t, "table-radio", "two-meters")
	return &Radio{plan: p, truth: full.Model, Faults: map[string]string{}, Turns: map[string][]string{}, again: map[string]bool{}}
}

// Plan is what the radio was made for.
func (h *Radio) Plan() *plan.Plan { return h.plan }

// Plan unrolls the shipped procedure over a shipped sheet and bench.
func Plan(t testing.TB, sheetName, benchName string) *plan.Plan {
	t.Helper()
	return Made(t, Inputs(t, sheetName, benchName))
}

// Boxed unrolls the boxed part of it.
func Boxed(t testing.TB, sheetName, benchName string) *plan.Plan {
	t.Helper()
	in := Inputs(t, sheetName, benchName)
	in.Boxed = true
	return Made(t, in)
}

// Made unrolls what it is given.
func Made(t testing.TB, in plan.Inputs) *plan.Plan {
	t.Helper()
	p, err := plan.New(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// ForgetHold spoils a plan: its second hold is never owed, and mains is asked for
// without it.
func ForgetHold(p *plan.Plan) {
	hold := slices.IndexFunc(p.Slots, func(s plan.Slot) bool { return s.Hold == "hold-2" })
	p.Engine.Slots[hold].Life = engine.Period
	for b := range p.Engine.Blocks {
		p.Engine.Blocks[b].Gate = p.Engine.Blocks[b].Gate.Without(engine.Facts{}.With(hold))
	}
}

// Inputs are the shipped files that a plan is made from.
func Inputs(t testing.TB, sheetName, benchName string) plan.Inputs {
	t.Helper()
	in := plan.Inputs{Meters: map[string]*sheet.Meter{}}
	in.Procedure = load(t, procedures.Procedures(), "double-wound", spec.LoadProcedure)
	in.Set = load(t, procedures.Sheets(), sheetName, spec.LoadSet)
	in.Bench = load(t, procedures.Benches(), benchName, spec.LoadBench)
	for _, m := range in.Bench.Meters {
		in.Meters[m.Sheet] = load(t, procedures.Meters(), m.Sheet, spec.LoadMeter)
	}
	if name := in.Bench.Tester; name != "" {
		in.Meters[name] = load(t, procedures.Meters(), name, spec.LoadMeter)
	}
	return in
}

func load[T any](t testing.TB, among []procedures.Named, name string, read func(string, []byte) (*T, error)) *T {
	t.Helper()
	text, ok := procedures.Find(among, name)
	if !ok {
		t.Fatalf("no file %s", name)
	}
	v, err := read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Line is what is typed at p; empty when the radio has no answer.
func (h *Radio) Line(p session.Prompt) string {
	base, _, _ := strings.Cut(p.ID, "~")
	if t := h.Turns[base]; len(t) > 0 {
		h.Turns[base] = t[1:]
		return t[0]
	}
	if id, ok := strings.CutPrefix(p.ID, "query/"); ok {
		return h.query(id)
	}
	var words []string
	if p.Word != "" {
		words = append(words, p.Word)
	}
	switch p.ID {
	case "start/touched":
		return "n"
	case "close/label":
		return labelOf(p)
	}
	for _, f := range p.Fields {
		words = append(words, h.field(f))
	}
	return strings.Join(words, " ")
}

// query reads once more by another way where the class asks for it, then names
// the first cause.
func (h *Radio) query(id string) string {
	for i, slot := range h.plan.Slots {
		if slot.ID != id || slot.Check.Crit == engine.E || h.again[id] {
			continue
		}
		h.again[id] = true
		return "second " + h.field(session.Field{Slot: i}) + " seen bob"
	}
	return "cause 1"
}

func labelOf(p session.Prompt) string {
	for _, r := range p.Rows {
		if rest, ok := strings.CutPrefix(r.Text, "number "); ok {
			return strings.TrimSuffix(rest, " written on the set?")
		}
	}
	return ""
}

func (h *Radio) field(f session.Field) string {
	if f.Node == session.AtRepeat {
		return h.field(session.Field{Slot: f.Repeat, Name: f.Name})
	}
	if f.Slot < 0 {
		switch f.Node {
		case "source":
			return "9.31"
		case "HT1 at once":
			return "0.4"
		case "HT1 while on":
			return "264"
		case "mains":
			return "230"
		case "tool":
			return "t"
		}
		return "0.2"
	}
	if strings.HasSuffix(f.Name, "100 W") && !strings.HasPrefix(f.Name, "lamp A") {
		return "38" // cold ohms of the ramp's bulb
	}
	slot := h.plan.Slots[f.Slot]
	key := slot.Check.ID
	if slot.Item != "" {
		key += "@" + slot.Item
	}
	for _, k := range []string{slot.ID, key, slot.Check.ID} {
		if say, ok := h.Faults[k]; ok {
			return say
		}
	}
	for _, k := range []string{key, slot.Check.ID} {
		if say, ok := deadReadings[k]; ok {
			return say
		}
	}
	return h.live(slot)
}

var deadReadings = map[string]string{
	"rcd": "t", "discharge-tool": "10.02k", "lamp-cold": "98", "meter-source": "9.31", "leads": "0.2",
	"isolation": "120M", "tester-apart": "OL", "tester-joined": "0", "call": "bob, next room, looks in every quarter hour",
	"found-mains": "none", "found-top": "none", "found-under": "none",
	"plug-fuse-mark": "3", "set-fuse-mark": "0.4", "stamped-volts": "450", "stamped-volts@coupling": "400",
	"coupling-capacitor": "3G", "speaker-insulation": "210M", "joint": "0.1",
	"primary-winding@200 V": "40.2", "primary-winding@215 V": "43.1", "primary-winding@230 V": "46.1", "primary-here": "46.1",
	"live-path-on": "0.4", "live-path-off": "OL", "neutral-path": "0.3", "plug-fuse": "0.1", "set-fuse": "1.1",
	"earth-bond": "0.08", "mains-insulation": "180M", "socket-insulation": "220M",
	"ht-line-kick": "9k", "ht-line-60": "214k", "ht-line": "217k",
	"heater-winding": "0.2", "cathode-resistor": "133", "grid-leak": "472k", "screen-resistor": "1.01k",
	"output-transformer": "381", "smoothing-resistor": "1.2k", "half-winding@a": "261", "half-winding@b": "286",
	"speech-coil": "2.5", "electrodes": "OL", "ht-leak-60": "1.16m", "ht-leak": "1.14m",
	"boxed-primary": "46.2", "boxed-insulation": "150M", "boxed-bond": "0.09", "touch-current": "0.12m",
	"lamp-fitted": "0.435", "core-warm": "29", "lamp-off": "0.1", "glow": "a",
	"output-grid": "0.05", "sound": "g", "hum": "l", "controls": "g",
	"hot-primary@first": "53.2", "hot-primary@second": "52.9", "hot-primary@third": "52.6", "warm-insulation": "95M",
}

// live gives an energised reading from the circuit.
func (h *Radio) live(slot plan.Slot) string {
	block := h.plan.Blocks[slot.Block]
	set, lamp := h.volts(block, slot)
	point, err := h.truth.AtSet(set, block.Lamp)
	if err != nil {
		return "?"
	}
	switch slot.Check.ID {
	case "set-volts":
		return volt(set)
	case "lamp":
		return volt(point.Lamp)
	case "lamp-early", "lamp-late", "lamp-heaters":
		return volt(lamp)
	case "half-volts":
		return volt(set / h.truth.Nominal * 274)
	case "heater-volts":
		return volt(set / h.truth.Nominal * 6.46)
	case "ht-reservoir":
		return volt(point.HT1)
	case "cold-start-peak":
		return volt(362)
	case "ripple":
		return volt(point.Ripple / 3.15)
	case "ht-smoothed":
		return volt(point.HT2)
	case "output-cathode":
		return volt(point.Cathode)
	case "opt-volts":
		return volt(point.OPT)
	case "core":
		return map[unit.Second]string{1800: "44", 2700: "47", 3600: "49"}[slot.After]
	}
	return "?"
}

func (h *Radio) volts(block plan.Block, slot plan.Slot) (set, lamp unit.Volt) {
	switch {
	case block.Stage == "transformer":
		_, lamp = circuit.TransformerOnly(h.truth.Nominal, *block.Lamp, 5, 0.040)
		return h.truth.Nominal - lamp, lamp
	case block.Stage == "boxed-start":
		point, err := h.truth.AtMains(h.truth.Nominal, block.Lamp)
		if err != nil {
			return 0, 0
		}
		return point.Set, point.Lamp
	case block.Stage == "heaters":
		return 162, 68
	case slot.Rung > 0:
		return h.truth.Nominal * unit.Volt(slot.Rung) / 100, 0
	}
	return h.truth.Nominal, 0
}

func volt(v unit.Volt) string {
	if math.Abs(float64(v)) < 60 {
		return fmt.Sprintf("%.2f", float64(v))
	}
	return fmt.Sprintf("%.1f", float64(v))
}
