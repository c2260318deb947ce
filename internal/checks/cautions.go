package checks

// Signal is the word a caution opens with.
type Signal string

// Danger will kill or injure badly, Warning could, Care is for small hurts.
// Source: ANSI Z535.4, the meanings of its signal words.
const (
	Danger  Signal = "DANGER"
	Warning Signal = "WARNING"
	Care    Signal = "CAUTION"
)

// Caution is one text that no procedure file can replace. Volts and times in
// braces are filled in by whoever shows it.
type Caution struct {
	ID     string
	Signal Signal
	Text   string
}

// CautionOf gives a caution by its id.
func CautionOf(id string) (Caution, bool) {
	for _, c := range cautions {
		if c.ID == id {
			return c, true
		}
	}
	return Caution{}, false
}

// cautions is read only.
var cautions = []Caution{
	// The standing lines of a supply state.
	{"mains-on", Danger, "MAINS ON. {volts} at the set. One hand, touch no metal, emergency off in reach."},
	{"high-voltage", Danger, "HIGH VOLTAGE {volts} d.c. Can kill. Leads were clipped on dead; do not move them."},
	{"treat-as-live", Danger, "TREAT AS LIVE AND CHARGED. Nothing is proved dead."},

	// Mains and stored charge.
	{"plug-out", Danger, "Plug out of the wall and where you can see it. Switched off is not unplugged."},
	{"stored-charge", Danger, "Capacitors keep their charge after the plug is out. Wait, measure, discharge through the resistor tool, measure again. Use the tool whatever the meter says."},
	{"live-chassis", Danger, "This chassis can be at full mains whatever the switch says. Isolating transformer only. Never earth it, and connect no earthed instrument."},
	{"isolating-transformer", Warning, "It takes away the path to earth and nothing else. Two points touched still kill, and the RCD cannot see it. One set to one transformer."},
	{"rcd", Warning, "An RCD cuts some shocks short. It limits no current and does not act live to neutral, on HT, or behind an isolating transformer. Press its test button before use."},
	{"variable-transformer", Warning, "It isolates nothing. Zero on its scale is not zero to earth."},
	{"lamp-limiter", Warning, "The lamp protects the set, not you. Dark does not mean off. After a new bulb or fuse start again from zero."},
	{"shorting-clip", Danger, "A clip joins the HT line to chassis. Take it off and read the line before you switch on."},
	{"flex-colours", Warning, "Colours in an old flex mean nothing. Find live, neutral and earth with the meter."},
	{"open-socket", Danger, "More than 500 V between the contacts of the empty rectifier socket. Cover it. Never measure from anode to anode."},
	{"insulation-test", Warning, "This instrument puts out 250 or 500 V. Hands off while it is on. It should discharge the part when the button is let go: check."},

	// Heat, glass, vapour, old materials.
	{"hot-parts", Warning, "Valves, droppers and rectifiers burn skin for minutes after switching off. Wait, and use a cloth."},
	{"glass", Warning, "Evacuated bulbs. Eye protection; never lift or turn one by its pins or its base."},
	{"eht", Danger, "Television and extra-high-tension equipment is outside this procedure. Stop here."},
	{"venting", Warning, "A capacitor can vent into your face. Eye protection and a shield for the whole ramp and the first 15 minutes of full mains. Face away."},
	{"selenium", Warning, "Burnt selenium smells of bad radish and is poisonous. Off, plug out, leave the room, air it, wipe nothing up dry."},
	{"asbestos", Warning, "White or grey heat board and cord sleeving may be asbestos. Leave it dry, sealed and alone; cut and brush nothing; take advice. It is damped only to be taken out with the set unplugged, and never energised damp."},
	{"pcb", Warning, "Oil from old capacitors and transformers: gloves, no flame, controlled disposal."},
	{"beryllia", Warning, "Some ceramics of high-power valves are poisonous as dust. Never file, break or bin them."},
	{"radium", Warning, "Dial paint that glowed may be radioactive. Scrape and lick nothing, wash your hands, keep it sealed."},

	// People.
	{"lone-working", Warning, "Somebody must be within call who knows where the off switch is and what to do."},
	{"helper-drill", Warning, "Say it aloud: cut the power before you touch anyone. Call the emergency number. Not breathing: press the chest at once, defibrillator if there is one. After a shock from hand to hand: hospital, even if all seems well."},
	{"children", Warning, "No children and no animals in the room while the set is open, or energised and unwatched."},
	{"hands", Care, "Dry hands; no rings, watch or necklace; sleeves buttoned; shoes on; sit away from earthed metal."},
	{"guide", Care, "This is a guide for a person already able to work safely with mains. Your country's law, your workplace's rules and a licensed or competent person's judgement come first. Meeting these limits is no approval to any standard. If you are unsure, stop."},
}
