package circuit

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/powerup/internal/unit"
)

// cycles at the end of a simulation are what its figures are taken over.
const cycles = 5

// ngspice is the program's path; without it a test skips, or fails where nothing
// may be skipped.
func ngspice(t testing.TB) string {
	t.Helper()
	path, err := exec.LookPath("ngspice")
	if err != nil && os.Getenv("POWERUP_TEST_NOSKIP") != "" {
		t.Fatal("ngspice is not here, and nothing may be skipped")
	}
	if err != nil {
		t.Skip("ngspice is not here")
	}
	return path
}

var transient = regexp.MustCompile(`(?m)^tran .*$`)

// simulate runs the netlist of a row with steps of the given length to the end,
// in seconds, and gives every waveform of the last quarter of a second.
func simulate(t testing.TB, id string, step, end float64) (waves map[string][]float64, took time.Duration) {
	t.Helper()
	program := ngspice(t)
	netlist, err := os.ReadFile("testdata/netlists/" + id + ".cir")
	if err != nil {
		t.Fatal(err)
	}
	if len(transient.FindAll(netlist, -1)) != 1 {
		t.Fatalf("%s does not have one transient analysis", id)
	}
	dir := t.TempDir()
	line := fmt.Sprintf("tran %g %g %g %g uic", step, end, end-0.25, step)
	if err := os.WriteFile(filepath.Join(dir, "in.cir"), transient.ReplaceAll(netlist, []byte(line)), 0o600); err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program, "-b", "in.cir")
	c.Dir = dir
	began := time.Now()
	out, err := c.CombinedOutput()
	took = time.Since(began)
	data, missing := os.ReadFile(filepath.Join(dir, id+".dat"))
	if missing != nil {
		t.Fatalf("%v, %v\n%s", missing, err, out)
	}
	return readWaves(t, string(data)), took
}

// readWaves reads a table with the names of its columns in the first line.
func readWaves(t testing.TB, text string) map[string][]float64 {
	t.Helper()
	waves := map[string][]float64{}
	first, rest, _ := strings.Cut(text, "\n")
	heads := strings.Fields(first)
	for line := range strings.Lines(rest) {
		fields := strings.Fields(line)
		if len(fields) != len(heads) {
			t.Fatalf("%d columns under %d names: %q", len(fields), len(heads), line)
		}
		for i, f := range fields {
			x, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatal(err)
			}
			name := strings.ToLower(heads[i])
			waves[name] = append(waves[name], x)
		}
	}
	return waves
}

// measured is what a wave shows over whole periods.
type measured struct{ mean, rms, peak, ripple, rippleRMS float64 }

// measure integrates a wave by the trapezoid over the given time at its end.
func measure(t testing.TB, waves map[string][]float64, name string, span float64) measured {
	t.Helper()
	at, wave := waves["time"], waves[name]
	if len(wave) < 2 {
		t.Fatalf("no wave %s", name)
	}
	last := len(at) - 1
	from := at[last] - span
	if at[0] > from {
		t.Fatalf("%s begins %g s before its end, want %g s", name, at[last]-at[0], span)
	}
	low, high, sum, square := math.Inf(1), math.Inf(-1), 0.0, 0.0
	for k := last; k > 0 && at[k] > from; k-- {
		a, b, h := wave[k-1], wave[k], at[k]-at[k-1]
		if at[k-1] < from { // the period begins inside this step
			a += (b - a) * (from - at[k-1]) / h
			h = at[k] - from
		}
		sum += h * (a + b) / 2
		square += h * (a*a + a*b + b*b) / 3
		low, high = min(low, a, b), max(high, a, b)
	}
	m := measured{mean: sum / span, rms: math.Sqrt(square / span), peak: high, ripple: high - low}
	m.rippleRMS = math.Sqrt(max(square/span-m.mean*m.mean, 0))
	return m
}

func caseRow(t testing.TB, id string) map[string]string {
	t.Helper()
	for _, row := range readTable(t, "testdata/cases.csv") {
		if row["id"] == id {
			return row
		}
	}
	t.Fatalf("no row %s", id)
	return nil
}

// ngspice itself, run now: direct volts within 0.1 %, ripple and currents within
// 1 %. The netlists begin near their steady state; stopped at 2 s instead of 6
// they give what the table has of the longer simulation, within 0.1 % too.
func TestNgspiceAgrees(t *testing.T) {
	ngspice(t)
	const direct, rest = 0.001, 0.01
	for id, kind := range map[string]string{
		"c20": "full-wave valve, resistor, anode from the reservoir",
		"c27": "full-wave valve, choke, 60 Hz",
		"c36": "silicon bridge",
		"c44": "half-wave valve",
		"c49": "half-wave metal rectifier",
		"c63": "cathode-biased valves, a leak across the reservoir",
		"c67": "cathode-biased valves behind a lamp",
	} {
		t.Run(id+" "+kind, func(t *testing.T) {
			t.Parallel()
			row := caseRow(t, id)
			waves, took := simulate(t, id, 10e-6, 2)
			s, lamp := caseSupply(t, row)
			p, err := s.Solve(unit.Volt(number(t, row, "mains_nominal_V")*number(t, row, "ramp")), lamp)
			if err != nil {
				t.Fatal(err)
			}
			take := func(name string) measured { return measure(t, waves, name, cycles/float64(s.Frequency)) }
			v1, v2, anode, half, mains := take("v(r)"), take("v(o)"), take("i(vk)"), take("i(vs1)"), take("i(vm)")
			within(t, "HT1", float64(p.HT1), v1.mean, direct)
			within(t, "HT2", float64(p.HT2), v2.mean, direct)
			within(t, "HT current", float64(p.HTCurrent), anode.mean, direct)
			within(t, "volts behind the primary's ohms", float64(p.Behind), take("v(p)").rms, direct)
			within(t, "HT1 at its highest", float64(p.HT1Peak), v1.peak, direct)
			within(t, "ripple", float64(p.Ripple), v1.ripple, rest)
			within(t, "ripple, r.m.s.", float64(p.RippleRMS), v1.rippleRMS, rest)
			within(t, "ripple of HT2", float64(p.Ripple2), v2.ripple, rest)
			within(t, "ripple of HT2, r.m.s.", float64(p.Ripple2RMS), v2.rippleRMS, rest)
			within(t, "peak of the rectifier", float64(p.RectifierPeak), anode.peak, rest)
			within(t, "winding, r.m.s.", float64(p.Secondary), half.rms, rest)
			within(t, "primary, r.m.s.", float64(p.Primary), mains.rms, rest)
			if lamp != nil {
				within(t, "volts at the set", float64(p.Set), take("v(ml)").rms, direct)
			}
			if row["load"] == "cathode" {
				within(t, "cathode", float64(p.Cathode), take("v(kc1)").mean, 0.005)
			}
			within(t, "HT1 of the longer simulation", v1.mean, number(t, row, "ng_Vres_dc"), direct)
			within(t, "HT2 of the longer simulation", v2.mean, number(t, row, "ng_Vout_dc"), direct)
			t.Logf("HT1 %.3f V against %.3f; ngspice took %.1f s", float64(p.HT1), v1.mean, took.Seconds())
		})
	}
}

// How many times as long ngspice takes on the same netlist, at its 5 µs step and
// at a coarse one.
func BenchmarkNgspice(b *testing.B) {
	for _, id := range []string{"c36", "c63"} {
		for _, step := range []float64{5e-6, 100e-6} {
			b.Run(fmt.Sprintf("%s in steps of %g µs", id, step*1e6), func(b *testing.B) {
				row := caseRow(b, id)
				s, lamp := caseSupply(b, row)
				const solutions = 1000
				var theirs, ours time.Duration
				for b.Loop() {
					_, took := simulate(b, id, step, 6)
					theirs += took
					began := time.Now()
					for range solutions {
						if _, err := s.Solve(unit.Volt(number(b, row, "mains_nominal_V")), lamp); err != nil {
							b.Fatal(err)
						}
					}
					ours += time.Since(began) / solutions
				}
				b.ReportMetric(float64(theirs)/float64(ours), "times")
				b.ReportMetric(float64(ours.Microseconds())/float64(b.N), "model-µs")
			})
		}
	}
}
