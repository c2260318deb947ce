package session

// Record is one line for the transcript: what happened, as strings.
type Record struct {
	Kind   string
	Fields map[string]string
}

// Row is one labelled line of text for the screen. An empty label goes on from
// the row above.
type Row struct {
	Label string
	Text  string
}

// Answered is what came of one entry: what to put on disk, then what to show.
type Answered struct {
	Records []Record
	Rows    []Row
	Bell    bool
}

func (a *Answered) record(kind string, pairs ...string) {
	f := make(map[string]string, len(pairs)/2)
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			f[pairs[i]] = pairs[i+1]
		}
	}
	a.Records = append(a.Records, Record{Kind: kind, Fields: f})
}

func (a *Answered) say(label, text string) {
	a.Rows = append(a.Rows, Row{Label: label, Text: text})
}
