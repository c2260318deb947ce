package limits

// String is the mark as every screen and record shows it. A mark that is none
// of ours reads as the weakest.
func (m Mark) String() string {
	switch m {
	case Memory:
		return "from memory"
	case Computed:
		return "computed"
	case Seen:
		return "seen"
	}
	return "common practice, no source"
}

// Cite names the source with its mark: "EN 50191:2010 cl. 1.2 (seen)", or
// "common practice, no source".
func (f Figure) Cite() string { return cite(f.Mark, f.Source) }

// Cite names the source as [Figure.Cite] does.
func (b Band) Cite() string { return cite(b.Mark, b.Source) }

func cite(m Mark, source string) string {
	if source == "" || m.String() == Practice.String() {
		return m.String()
	}
	return source + " (" + m.String() + ")"
}
