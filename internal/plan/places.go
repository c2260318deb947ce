package plan

// atLampBox and byEye are readings that need no lead inside the set.
const (
	atLampBox = "lamp-box"
	byEye     = ""
)

// AtLampBox tells whether the block's readings are made at the lamp box.
func (b *Block) AtLampBox() bool { return b.Spot == atLampBox }

// liveSpots tells where the meter's leads are for an energised check.
var liveSpots = map[string]string{
	"set-volts": atLampBox, "lamp": atLampBox, "lamp-early": atLampBox, "lamp-late": atLampBox,
	"lamp-off": atLampBox, "lamp-heaters": atLampBox,
	"heater-volts": "heater-pins",
	"ht-reservoir": "ht-reservoir", "cold-start-peak": "ht-reservoir", "ripple": "ht-reservoir",
	"touch-current": "touchable",
	"ht-smoothed":   "ht-smoothed", "ripple-smoothed": "ht-smoothed", "output-grid": "output-grid",
	"output-cathode": "output-cathode", "opt-volts": "output-transformer",
	"mains-current": "mains-lead", // in series: the meter at the lamp box stays on volts
}

// spotOf gives the lead position of an energised check, byEye where none is
// needed.
func spotOf(id, item string) string {
	if id == "half-volts" {
		return "half-" + item
	}
	return liveSpots[id]
}

// deadPlaces groups dead checks that are entered on one line: one lead stays
// where it is, or the instrument does.
var deadPlaces = map[string]string{
	"rcd": "bench", "isolation": "isolation", "discharge-tool": "bench", "lamp-cold": "bench", "meter-source": "bench",
	"leads": "bench", "tester-apart": "bench", "tester-joined": "bench",
	"call":        "call",
	"found-mains": "mains-side", "found-top": "top", "found-under": "under",
	"plug-fuse-mark": "fuse-marks", "set-fuse-mark": "fuse-marks", "stamped-volts": "stamped", "reservoir-size": "stamped",
	"coupling-capacitor": "tester", "speaker-insulation": "tester", "joint": "joints",
	"primary-winding": "taps",
	"live-path-on":    "poles", "live-path-off": "poles", "neutral-path": "poles",
	"plug-fuse": "poles", "set-fuse": "poles", "earth-bond": "bond",
	"primary-here": "insulation", "mains-insulation": "insulation", "socket-insulation": "insulation",
	"ht-line-kick": "ht-line", "ht-line-60": "ht-line", "ht-line": "ht-line", "discharge-path": "ht-line",
	"heater-winding": "black-chassis", "cathode-resistor": "black-chassis", "grid-leak": "black-chassis",
	"output-transformer": "black-ht1", "smoothing-resistor": "black-ht1", "screen-resistor": "black-ht1",
	"half-winding": "windings", "speech-coil": "windings",
	"electrodes":   "electrodes",
	"reform-early": "reform", "reform-leak": "reform",
	"ht-leak-60": "ht-leak", "ht-leak": "ht-leak",
	"lamp-fitted":   "lamp",
	"boxed-primary": "insulation", "boxed-insulation": "insulation", "boxed-bond": "bond",
	"hot-primary": "hot-primary", "winding-rise": "hot-primary", "warm-insulation": "insulation",
}
