package main

import "example.com/powerup/internal/console"

func benchPages(testers []console.Option) []console.Page {
	return []console.Page{
		{Title: "Your bench, who and with what. " + leaving, Questions: []console.Question{
			{Key: "operator", Title: "Operator", Help: "One word: it stands on every record and in the signers file.", Check: listable},
			{Key: "meters", Title: "How many meters?", Options: []console.Option{{Shown: "one, which moves", Value: "1"}, {Shown: "two", Value: "2"}, {Shown: "three", Value: "3"}}},
			{Key: "tester", Title: "Insulation tester", Options: append([]console.Option{{Shown: "none", Value: noTester}}, testers...)},
		}},
		{Title: "Your bench, its figures. " + leaving, Questions: []console.Question{
			{Key: "source", Title: "Volts of the known source", Help: "Meters are proved on it before and after: 9.3 V", Check: judged("source")},
			{Key: "discharge-tool", Title: "Ohms of the discharge tool", Help: "10 kΩ, or 10 kohm", Check: judged("discharge-tool")},
			{Key: "lamps", Title: "Lamps at hand, the smallest first", Help: "Filament lamps only, by their labels: 40 W, 100 W", Check: judged("lamps")},
			{Key: "lamp-volts", Title: "Volts that the lamps are made for", Help: "As printed on them: 230 V, 240 V", Check: judged("lamp-volts")},
		}},
		{Title: "Your bench, the mains side. " + leaving, Questions: []console.Question{
			yesNo("rcd", "An RCD in front of all of it?"),
			yesNo("variable-transformer", "A variable transformer?"),
		}},
		{Title: "Your bench, the rest. " + leaving, Questions: []console.Question{
			yesNo("lamp-by-pass", "Has the lamp box a switch that by-passes the lamp?"),
			yesNo("thermometer", "A thermometer for the transformer's core?"),
		}},
	}
}

func yesNo(key, title string) console.Question {
	return console.Question{Key: key, Title: title, Options: []console.Option{{Shown: "yes", Value: "true"}, {Shown: "no", Value: "false"}}}
}

// meterPages asks for the sheet of each meter, a page each.
func meterPages(count string, meters []console.Option) []console.Page {
	words := map[string]string{
		"set": "moves in the set", "lamp-box": "stays at the lamp box", "ht-watch": "watches the HT",
	}
	var out []console.Page
	for i, place := range stays[count] {
		letter := letters[i]
		out = append(out, console.Page{Title: "Your bench, meter " + letter + ". " + leaving, Questions: []console.Question{
			{Key: "meter " + letter, Title: "Sheet of meter " + letter + ", which " + words[place], Options: meters},
		}})
	}
	return out
}
