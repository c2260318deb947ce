package casefile

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"example.com/powerup/internal/spec"
)

// row is one case as it was written: what applies, by name.
type row struct {
	number  int
	id      any
	numbers map[string]float64
	words   map[string]string
	seen    map[string]bool // every key, also of what does not apply
	used    map[string]bool
	errs    spec.Errors
	fault   func(field, what, hint string) *spec.Error
}

func newRow(number int, fault func(field, what, hint string) *spec.Error) *row {
	return &row{
		number: number, fault: fault,
		numbers: map[string]float64{}, words: map[string]string{}, seen: map[string]bool{}, used: map[string]bool{},
	}
}

func (w *row) fail(field, hint, what string, args ...any) {
	w.errs = append(w.errs, w.fault(field, fmt.Sprintf(what, args...), hint))
}

// results of somebody else stand in the same table.
const resultPrefix = "ng_"

// take notes one key with its value.
func (w *row) take(name string, value any) {
	f, known := find(name)
	switch {
	case w.seen[name]:
		w.fail(name, "one value a name", "it stands there twice")
		return
	case strings.HasPrefix(name, resultPrefix):
	case !known:
		w.fail(fmt.Sprintf("%.40q", name), meant(name), "there is no such parameter")
	case name == "id":
		w.takeID(value)
	case value == nil, value == "", f.free(): // does not apply
	case f.number:
		w.takeNumber(f, value)
	default:
		w.takeWord(f, value)
	}
	w.seen[name] = true
}

func meant(name string) string {
	if best := spec.Nearest(name, names()); best != "" {
		return "did you mean " + best + "?"
	}
	return "powerup solve --help lists all"
}

func (w *row) takeID(value any) {
	switch value.(type) {
	case string, json.Number, nil:
		w.id = value
	default:
		w.fail("id", "a text or a number", "%s is no name of a case", shown(value))
	}
}

func (w *row) takeWord(f field, value any) {
	for _, word := range f.words {
		if value == word {
			w.words[f.name] = word
			return
		}
	}
	w.fail(f.name, f.right(), "%s is not known here", shown(value))
}

// decimal is the one grammar of a number, as a number of JSON and as text: it
// keeps out all else that strconv would take.
var decimal = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)

func (w *row) takeNumber(f field, value any) {
	text, isText := value.(string)
	if n, ok := value.(json.Number); ok {
		text, isText = n.String(), true
	}
	x, err := strconv.ParseFloat(text, 64)
	if !isText || !decimal.MatchString(text) || err != nil {
		w.fail(f.name, f.right()+"; null or nothing where it does not apply", "%s is no number", shown(value))
		return
	}
	if size := math.Abs(x); size != 0 && !(size >= least && size <= most) {
		w.fail(f.name, f.right(), "%s is a size that nothing has", shown(value))
		return
	}
	w.numbers[f.name] = x
}

// Sizes far beyond all parts, whose products still are numbers.
const (
	least = 1e-30
	most  = 1e30
)

// shown is a value in a message.
func shown(value any) string {
	switch v := value.(type) {
	case nested:
		return "an object or a list"
	case string:
		return fmt.Sprintf("%.40q", v)
	}
	return fmt.Sprintf("%.40s", fmt.Sprint(value))
}

// optional is a parameter that may be left out; zero and false then.
func (w *row) optional(name string) (float64, bool) {
	x, given := w.numbers[name]
	w.used[name] = true
	if f, _ := find(name); given && !f.within.holds(x) {
		w.fail(name, f.right(), "%v is not %s", x, f.within.says())
	}
	return x, given
}

// or is a parameter, or what it is where it does not apply.
func (w *row) or(name string, otherwise float64) float64 {
	if x, given := w.optional(name); given {
		return x
	}
	return otherwise
}

// need is a parameter that must be there.
func (w *row) need(name string) float64 {
	x, given := w.optional(name)
	if !given {
		w.missing(name)
	}
	return x
}

// needWord is a parameter in words that must be there.
func (w *row) needWord(name string) string {
	w.used[name] = true
	if w.words[name] == "" {
		w.missing(name)
	}
	return w.words[name]
}

// missing refuses, unless what stood there was refused already.
func (w *row) missing(name string) {
	for _, e := range w.errs {
		if e.Field == name {
			return
		}
	}
	f, _ := find(name)
	w.fail(name, f.right(), "it is missing")
}

// unused refuses what applies to no part of this supply: it would have no effect,
// and who wrote it believes that it has. A zero says no more than that there is
// none.
func (w *row) unused() {
	for _, f := range fields {
		if f.free() || w.used[f.name] || w.numbers[f.name] == 0 && w.words[f.name] == "" {
			continue
		}
		w.fail(f.name, "leave it out, or null", "it goes with nothing in this case")
	}
}
