package describe

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/spec"
	"example.com/powerup/internal/unit"
)

// Bench asks for a bench file. whole makes the path of a meter sheet one that
// holds in any folder.
func Bench(whole func(string) string) *Form {
	return &Form{
		Key:   "bench",
		Head:  "What stands on the bench from one evening to the next. What must be new each\ntime is asked each time.",
		Lines: benchLines,
		load: func(text []byte) spec.Errors {
			_, errs := spec.DraftBench(text)
			return errs
		},
		write: func(_ []byte, puts []Put) []spec.Put { return writeBench(puts, whole) },
	}
}

var benchLines = []Line{
	{
		Title: "What the bench is called, operator, place",
		Like:  "my bench, anna, back room",
		Where: "The operator, in one word, stands on every record and in the file of known keys.",
		groups: []group{
			one(field{name: "name", path: "name", rest: true, comment: "Which bench this is."}),
			one(field{name: "operator", path: "operator", rest: true, comment: "Who works here."}),
			one(field{name: "place", path: "place", rest: true, comment: "Where it stands."}),
		},
	},
	{
		Title:  "Meter sheets, A first. One moves; of two A stays at the lamp box; of three B watches the HT",
		Like:   "general-digital; my-meter.yaml",
		Where:  "powerup list meters shows the examples; powerup describe --meter my-meter.yaml makes one from your meter's booklet.",
		groups: []group{one(field{name: "meters", path: "meters.sheet", texts: true})},
	},
	{
		Title:  "The insulation tester's sheet, - for none",
		Like:   "insulation-tester",
		Where:  "As for the meters. Without a tester insulation cannot be tested, and no set is handed back.",
		groups: []group{one(field{name: "tester", path: "tester", rest: true, comment: "The insulation tester's sheet."})},
	},
	{
		Title: "Volts of the known source, ohms of the discharge tool",
		Like:  "9.3 V, 10k",
		Where: "What meters are proved on before and after: a battery will do, as it reads today. The tool is a resistor on insulated leads.",
		groups: []group{
			one(field{name: "source", path: "source.volts", kind: unit.KindVolt, comment: "What meters are proved on."}),
			one(field{name: "discharge tool", path: "discharge-tool", kind: unit.KindOhm, comment: "The discharge tool's ohms."}),
		},
	},
	{
		Title: "Lamps at hand, the smallest first; the volts they are made for",
		Like:  "40 100, 230",
		Where: "Filament lamps only, by their labels: others do not limit.",
		groups: []group{
			one(field{name: "lamps", path: "lamps", kind: unit.KindWatt, many: true, comment: "Filament lamps, by their labels."}),
			one(field{name: "made for", path: "lamp-volts", kind: unit.KindVolt, comment: "The volts printed on them."}),
		},
	},
	{
		Title: "An RCD? A variable transformer? A by-pass at the lamp box? A thermometer?",
		Like:  "yes, yes, no, no",
		Where: "The RCD in front of all of it. The by-pass is a switch across the lamp. The thermometer is for the transformer's core.",
		groups: []group{
			one(field{name: "RCD", path: "rcd", words: yesNo, count: true, comment: "An RCD in front of all of it."}),
			one(field{name: "variable transformer", path: "variable-transformer", words: yesNo, count: true, comment: "A variable transformer."}),
			one(field{name: "by-pass", path: "lamp-by-pass", words: yesNo, count: true, comment: "A switch across the lamp."}),
			one(field{name: "thermometer", path: "thermometer", words: yesNo, count: true, comment: "A thermometer for the transformer's core."}),
		},
	},
	{
		Title: "Isolating transformer, network for touch current: - for none",
		Like:  "grey box, uk",
		Where: "What stands on the isolating transformer's plate. The network is a box for measuring touch current, made for the profile that it names.",
		groups: []group{
			one(field{name: "isolating transformer", path: "isolating-transformer", rest: true, comment: "What stands on its plate."}),
			one(field{name: "touch network", path: "touch-network", comment: "The profile of its network."}),
		},
	},
}

// stays are where the meters of a bench stay, by how many there are.
var stays = [][]string{{"set"}, {"lamp-box", "set"}, {"lamp-box", "ht-watch", "set"}}

func writeBench(puts []Put, whole func(string) string) []spec.Put {
	var out []spec.Put
	for _, p := range puts {
		put := spec.Put{Path: p.Path, Value: p.Value, Comment: commentOf(benchLines, p.Path)}
		switch {
		case p.Path == "meters.sheet":
			put.Path, put.Value, put.Comment = "meters", meters(p.Value, whole), "The meters, and where each stays."
		case p.Path == "tester" && p.Value != "":
			put.Value = path(p.Value, whole)
		}
		out = append(out, put)
	}
	return out
}

// meters gives each sheet its letter and its place.
func meters(list string, whole func(string) string) string {
	sheets := spec.Texts(list)
	if len(sheets) == 0 {
		return ""
	}
	places := stays[min(len(sheets), len(stays))-1]
	var all []string
	for i, s := range sheets {
		all = append(all, fmt.Sprintf("{letter: %c, sheet: %s, stays: %s}", 'A'+i, scalar(whole(s)), places[min(i, len(places)-1)]))
	}
	return "[" + strings.Join(all, ", ") + "]"
}

func path(value string, whole func(string) string) string {
	if texts := spec.Texts("[" + value + "]"); len(texts) == 1 {
		return scalar(whole(texts[0]))
	}
	return value
}
