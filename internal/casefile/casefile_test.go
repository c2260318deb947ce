package casefile_test

import (
	"encoding/json"
	"errors"
	"io"
	"maps"
	"os"
	"strings"
	"testing"

	"example.com/powerup/internal/casefile"
	"example.com/powerup/internal/circuit"
	"example.com/powerup/internal/spec"
)

// least is a case with nothing to spare; invented.
var least = map[string]any{
	"topology": "FW_CT", "rect_law": "valve", "perveance_A_V15": 1e-3,
	"f_Hz": 50, "mains_nominal_V": 230, "v_sec_oc_V": 250, "r_pri_ohm": 30, "r_sec_ohm": 180,
	"C1_uF": 32, "smoothing": "RC", "R_sm_ohm": 1200, "C2_uF": 32, "load": "R", "RL_ohm": 5000,
}

// valves are what load cathode needs more.
var valves = map[string]any{
	"load": "cathode", "RL_ohm": nil, "v1_K_A_V15": 3e-3, "v1_mu": 19, "v1_Rk_ohm": 135, "v1_anode_from": "reservoir",
}

// with is the least case with some values changed.
func with(t testing.TB, changes ...map[string]any) string {
	t.Helper()
	c := maps.Clone(least)
	for _, more := range changes {
		maps.Copy(c, more)
	}
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// read gives all cases of a text, and what was said of the others.
func read(text string) (cases []*casefile.Case, said []string, err error) {
	r := casefile.NewReader("f", strings.NewReader(text))
	for {
		c, err := r.Next()
		var refused spec.Errors
		switch {
		case errors.Is(err, io.EOF):
			return cases, said, nil
		case errors.As(err, &refused):
			said = append(said, err.Error())
		case err != nil:
			return cases, said, err
		default:
			cases = append(cases, c)
		}
	}
}

// one is the only case of a text.
func one(t *testing.T, text string) *casefile.Case {
	t.Helper()
	cases, said, err := read(text)
	if err != nil || len(said) > 0 || len(cases) != 1 {
		t.Fatalf("%s: %d cases, %q, %v", text, len(cases), said, err)
	}
	return cases[0]
}

// answer is what the model gives for a case, without its id.
func answer(t *testing.T, c *casefile.Case) string {
	t.Helper()
	a, err := c.Solve()
	if err != nil {
		t.Fatal(err)
	}
	a.ID = nil
	return string(a.JSON())
}

func TestWhatDoesNotApplyMayBeWrittenInAnyWay(t *testing.T) {
	want := answer(t, one(t, with(t)))
	for _, c := range []struct {
		reason  string
		changes map[string]any
	}{
		{"null", map[string]any{"L_sm_H": nil, "v1_anode_from": nil, "lamp_W": nil}},
		{"an empty text, as a table has it", map[string]any{"L_sm_H": "", "v1_anode_from": "", "lamp_W": "", "note": "", "id": ""}},
		{"a number as text", map[string]any{"C1_uF": "32.0", "perveance_A_V15": "1e-03", "RL_ohm": "5000"}},
		{"none of what there is none of", map[string]any{"L_sm_H": 0, "I0_A": "0.0"}},
		{"what the others follow from", map[string]any{"ratio": 250.0 / 230 * 1.0009}},
		{"what is taken when nothing is said", map[string]any{"ramp": 1, "conducting_anodes": "2.0", "heater_exp": 0}},
		{"what is for people", map[string]any{"id": 7, "note": []int{1}, "rectifier": "EZ80"}},
		{"somebody's results", map[string]any{"ng_Vres_dc": "nan", "ng_anything": map[string]any{"topology": 1}}},
	} {
		if got := answer(t, one(t, with(t, c.changes))); got != want {
			t.Errorf("%s: %s, want %s", c.reason, got, want)
		}
	}
}

func TestObjectsStreamsAndArraysAreTheSame(t *testing.T) {
	c := with(t)
	for _, text := range []string{c + c + c, c + "\n" + c + "\n\n" + c, "[" + c + "," + c + "," + c + "]", "[" + c + "]" + c + "[]\n[" + c + "]"} {
		cases, said, err := read(text)
		if err != nil || len(said) > 0 || len(cases) != 3 {
			t.Fatalf("%s: %d cases, %q, %v", text, len(cases), said, err)
		}
		for i, c := range cases {
			if c.Number != i+1 {
				t.Errorf("case %d is numbered %d", i+1, c.Number)
			}
		}
	}
}

// refusals are cases that are refused, with what is said.
var refusals = []struct {
	reason  string
	changes map[string]any
	says    string
}{
	{"a slip in a name", map[string]any{"C1_uf": 32}, "f: case 1: \"C1_uf\": there is no such parameter\nhint: did you mean C1_uF?"},
	{"a name from nowhere", map[string]any{"colour of the dial": 1}, "\nhint: powerup solve --help lists all"},
	{"a word that is none", map[string]any{"topology": "FWCT"}, "f: case 1: topology: \"FWCT\" is not known here\nhint: one of FW_CT, BRIDGE, HW"},
	{"another law", map[string]any{"rect_law": "ideal"}, "rect_law: \"ideal\" is not known here"},
	{"another load", map[string]any{"load": "P2"}, "load: \"P2\" is not known here\nhint: one of R, P15, P15T, cathode"},
	{"another smoothing", map[string]any{"smoothing": "CLC"}, "smoothing: \"CLC\" is not known here"},
	{"a number for a word", map[string]any{"topology": 2}, "topology: 2 is not known here"},
	{"a name twice", nil, "f: case 1: f_Hz: it stands there twice"},
	{"no number", map[string]any{"C1_uF": "32 uF"}, "C1_uF: \"32 uF\" is no number\nhint: above zero: reservoir"},
	{"not a number", map[string]any{"C1_uF": "NaN"}, "C1_uF: \"NaN\" is no number"},
	{"endless", map[string]any{"v1_Vg_V": "inf"}, "v1_Vg_V: \"inf\" is no number"},
	{"a programmer's number", map[string]any{"RL_ohm": "5_000"}, "RL_ohm: \"5_000\" is no number"},
	{"another programmer's", map[string]any{"RL_ohm": "0x10"}, "RL_ohm: \"0x10\" is no number"},
	{"more than a number holds", map[string]any{"RL_ohm": "1e999"}, "RL_ohm: \"1e999\" is no number"},
	{"more than anything has", map[string]any{"RL_ohm": "1e31"}, "RL_ohm: \"1e31\" is a size that nothing has"},
	{"less than anything has", map[string]any{"C2_uF": 1e-31}, "C2_uF: 1e-31 is a size that nothing has"},
	{"true is no number", map[string]any{"RL_ohm": true}, "RL_ohm: true is no number"},
	{"a list is no number", map[string]any{"RL_ohm": []int{5000}}, "RL_ohm: an object or a list is no number"},
	{"a list is no id", map[string]any{"id": []int{1}}, "id: an object or a list is no name of a case"},
	{"nothing where something must be", map[string]any{"C1_uF": 0}, "C1_uF: 0 is not above zero"},
	{"less than none", map[string]any{"R_sm_ohm": -1}, "R_sm_ohm: -1 is not zero or more"},
	{"so little that it is none", map[string]any{"f_Hz": "1e-400"}, "f_Hz: 0 is not above zero"},
	{"a lamp of no watts", map[string]any{"lamp_W": 0, "lamp_rated_V": 230}, "lamp_W: 0 is not above zero"},
	{"a lamp without volts", map[string]any{"lamp_W": 60}, "lamp_rated_V: it is missing"},
	{"volts without a lamp", map[string]any{"lamp_rated_V": 230}, "lamp_rated_V: it goes with nothing in this case"},
	{"something left out", map[string]any{"C2_uF": ""}, "C2_uF: it is missing\nhint: zero or more: second capacitor"},
	{"a word left out", map[string]any{"load": nil, "RL_ohm": nil}, "load: it is missing"},
	{"a choke without its henries", map[string]any{"smoothing": "LC"}, "L_sm_H: it is missing"},
	{"henries without a choke", map[string]any{"L_sm_H": 10}, "L_sm_H: it goes with nothing in this case\nhint: leave it out, or null"},
	{"another load's value", map[string]any{"I0_A": 0.05}, "I0_A: it goes with nothing in this case"},
	{"another load's word", map[string]any{"v1_anode_from": "smoothed"}, "v1_anode_from: it goes with nothing in this case"},
	{"another law's value", map[string]any{"diode_N": 1.7}, "diode_N: it goes with nothing in this case"},
	{"a tap that P15 has not", map[string]any{"load": "P15", "RL_ohm": "", "I0_A": 0.05, "V0_V": 220, "Ia0_tap_A": 0.05}, "Ia0_tap_A: it goes with nothing in this case"},
	{"a ratio of another set", map[string]any{"ratio": 1.2}, "ratio: 1.2 is not v_sec_oc_V over mains_nominal_V, 1.08696"},
	{"a ratio just off", map[string]any{"ratio": 250.0 / 230 * 1.0011}, "v_sec_oc_V over mains_nominal_V"},
	{"three anodes", map[string]any{"conducting_anodes": 3}, "conducting_anodes: 3 is neither 1 nor 2"},
	{"a bridge with a dead arm", map[string]any{"topology": "BRIDGE", "conducting_anodes": 1}, "conducting_anodes: 1 is not computed for a bridge"},
	{"a share above all", merge(valves, map[string]any{"v1_screen_share": 1.1}), "v1_screen_share: 1.1 is not from 0 to 1"},
	{"an anode from anywhere", merge(valves, map[string]any{"v1_anode_from": "heaven"}), "v1_anode_from: \"heaven\" is not known here\nhint: one of reservoir, smoothed"},
	{"half a signal valve", merge(valves, map[string]any{"v2_K_A_V15": 1e-3, "v2_mu": 20}), "v2_Rk_ohm: it is missing"},
	{"parts of a signal valve", merge(valves, map[string]any{"v2_mu": 20}), "v2_mu: it goes with nothing in this case"},
}

func merge(a, b map[string]any) map[string]any {
	c := maps.Clone(a)
	maps.Copy(c, b)
	return c
}

func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		text := with(t, c.changes)
		if c.changes == nil {
			text = `{"f_Hz": 50,` + text[1:]
		}
		cases, said, err := read(text + with(t))
		if err != nil || len(said) != 1 || !strings.Contains(said[0], c.says) || !strings.HasPrefix(said[0], "f: case 1: ") {
			t.Errorf("%s: said %q, %v; want %q in it", c.reason, said, err, c.says)
		}
		if len(cases) != 1 || cases[0].Number != 2 {
			t.Errorf("%s: the case after it was not read", c.reason)
		}
	}
}

func TestAllThatIsWrongIsSaidAtOnce(t *testing.T) {
	_, said, _ := read(with(t, map[string]any{"C1_uF": "x", "C2_uF": -1, "topolgy": "HW", "load": "L"}))
	for _, field := range []string{"C1_uF: ", "C2_uF: ", `"topolgy": `, "load: "} {
		if len(said) != 1 || strings.Count(said[0], field) != 1 {
			t.Errorf("%q does not say once what is wrong with %s", said, field)
		}
	}
}

func TestWhatIsNoCase(t *testing.T) {
	good := with(t)
	for _, c := range []struct {
		reason, text, says string
		read               int // cases all the same
	}{
		{"nothing", "", "f: there is no case in it\nhint: ", 0},
		{"an empty array", " [ ] ", "f: there is no case in it\nhint: ", 0},
		{"a number", "[1, " + good + "]", "f: case 1: it is no JSON object\nhint: ", 1},
		{"an array in an array", "[[" + good + "], " + good + "]", "f: case 1: it is no JSON object", 1},
		{"cut short", good + good[:40], "f: case 2: the text ends before the case does", 1},
		{"an array cut short", "[" + good, "f: case 2: the text ends before the case does", 1},
		{"no JSON", good + "{topology: HW}" + good, "f: case 2: no JSON at byte ", 1},
		{"NaN of another program", good + `{"C1_uF": NaN}`, "NaN and Infinity are no JSON either", 1},
		{"a bracket too many", good + "]", "f: case 2: no JSON at byte ", 1},
	} {
		cases, said, err := read(c.text)
		if err != nil || len(said) != 1 || !strings.Contains(said[0], c.says) {
			t.Errorf("%s: said %q, %v; want %q in it", c.reason, said, err, c.says)
		}
		if len(cases) != c.read {
			t.Errorf("%s: %d cases were read, want %d", c.reason, len(cases), c.read)
		}
	}
}

type brokenPipe struct{}

func (brokenPipe) Read([]byte) (int, error) { return 0, os.ErrClosed }

func TestAFailureToReadIsNoFaultOfTheCase(t *testing.T) {
	_, err := casefile.NewReader("f", brokenPipe{}).Next()
	if !errors.Is(err, os.ErrClosed) || errors.As(err, new(spec.Errors)) {
		t.Errorf("got %v", err)
	}
}

// A case that the program cannot compute is answered with why, under its id.
func TestNoAnswerIsSaidUnderTheID(t *testing.T) {
	c := one(t, with(t, map[string]any{"id": "x", "v_sec_oc_V": 1e30, "mains_nominal_V": 1e-30}))
	a, err := c.Solve()
	if !errors.Is(err, circuit.ErrNoAnswer) {
		t.Fatalf("it is answered with %s, %v", a.JSON(), err)
	}
	line := c.NoAnswer(err)
	var said map[string]string
	if fault := json.Unmarshal(line, &said); fault != nil || len(said) != 2 || said["id"] != "x" || said["error"] != err.Error() {
		t.Errorf("%s: %v", line, fault)
	}
}

func TestTheIDComesBackAsItWas(t *testing.T) {
	for _, id := range []string{`"c01"`, `7`, `1.50`, `""`, `null`, `"\u003ca\u003e"`} {
		a, err := one(t, `{"id": `+id+`,`+with(t)[1:]).Solve()
		if err != nil || !strings.HasPrefix(string(a.JSON()), `{"id":`+id+`,"Vres_dc":`) {
			t.Errorf("%s: %s, %v", id, a.JSON(), err)
		}
	}
}

func TestTheNameOfACaseMovesNoCursor(t *testing.T) {
	for id, want := range map[string]string{`"c\u001b[2Jd"`: "c\ufffd[2Jd", `7`: "7", `""`: "case 1", `null`: "case 1"} {
		if got := one(t, `{"id": `+id+`,`+with(t)[1:]).Name(); got != want {
			t.Errorf("%s is named %q, want %q", id, got, want)
		}
	}
}
