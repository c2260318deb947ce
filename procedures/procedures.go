// Package procedures holds the files that come with the program: procedures,
// and example sheets of sets, meters and benches. It only hands them out.
package procedures

import (
	"embed"
	"io/fs"
	"path"
	"strings"
)

//go:embed *.yaml sheets meters benches answers
var files embed.FS

// Named is one file: its name without the ending, as a command line gives it,
// and its text.
type Named struct {
	Name string
	Text []byte
}

// Procedures gives the procedures, in the order of their names.
func Procedures() []Named { return list(".") }

// Sheets gives the example set sheets.
func Sheets() []Named { return list("sheets") }

// Meters gives the example meter sheets.
func Meters() []Named { return list("meters") }

// Benches gives the example bench files.
func Benches() []Named { return list("benches") }

// Answers gives the scripts of the demonstrations.
func Answers() []Named { return list("answers") }

// Find gives the text of the file of that name among others.
func Find(among []Named, name string) ([]byte, bool) {
	for _, n := range among {
		if n.Name == name {
			return n.Text, true
		}
	}
	return nil, false
}

func list(dir string) []Named {
	found := must(fs.Glob(files, path.Join(dir, "*.yaml")))
	all := make([]Named, len(found))
	for i, name := range found {
		all[i] = Named{
			Name: strings.TrimSuffix(path.Base(name), ".yaml"),
			Text: must(files.ReadFile(name)),
		}
	}
	return all
}

// must: what is embedded cannot fail to be read, unless the binary is broken.
func must[T any](v T, err error) T {
	if err != nil {
		panic("procedures: " + err.Error())
	}
	return v
}
