package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// newBench asks the few things of a bench file, writes it to path and gives the
// path. Nothing is written before all is answered and the loader accepts it.
func newBench(ctx context.Context, w world, path string) (string, error) {
	fmt.Fprintln(w.out, "There is no bench file yet: what stands on your bench, evening after evening.")
	meters, testers := instruments(yamlHere())
	b := benchAnswers{}
	for _, pages := range []func() []console.Page{
		func() []console.Page { return benchPages(testers) },
		func() []console.Page { return meterPages(b["meters"], meters) },
	} {
		answers, err := w.ask(ctx, pages()...)
		if err != nil {
			return "", err
		}
		for k, v := range answers {
			b[k] = v
		}
	}
	text := b.yaml()
	if _, err := spec.LoadBench(path, []byte(text)); err != nil {
		return "", usage(fmt.Errorf("%w\nhint: nothing was written", err))
	}
	if err := writeNew(path, []byte(text), 0o644); err != nil {
		return "", fmt.Errorf("bench file: %w", err)
	}
	fmt.Fprintf(w.out, "Bench file  %s\n            written; mend it there when the bench changes\n", path)
	return path, nil
}

// benchAnswers are the answers by the keys of a bench file.
type benchAnswers map[string]string

// stays are where the meters of a bench stay, by how many there are.
var stays = map[string][]string{
	"1": {"set"}, "2": {"lamp-box", "set"}, "3": {"lamp-box", "ht-watch", "set"},
}

// letters are the meters' own, in the order of a bench file.
var letters = []string{"A", "B", "C"}

const noTester = "none"

// yaml is the bench file. What was typed stands in quotes, so that it is text
// and nothing else.
func (b benchAnswers) yaml() string {
	var s strings.Builder
	s.WriteString("# What stands on the bench from one evening to the next. powerup list file\n# two-meters explains each line and shows what else may stand here.\nbench:\n")
	fmt.Fprintf(&s, "  name: my bench\n  operator: %q\n  meters:\n", b["operator"])
	for i, place := range stays[b["meters"]] {
		letter := letters[i]
		fmt.Fprintf(&s, "    - letter: %s\n      sheet: %q\n      stays: %s\n", letter, b["meter "+letter], place)
	}
	if b["tester"] != noTester {
		fmt.Fprintf(&s, "  tester: %q\n", b["tester"])
	}
	fmt.Fprintf(&s, "  source:\n    volts: %q\n  discharge-tool: %q\n  lamps: [%s]\n  lamp-volts: %q\n", b["source"], b["discharge-tool"], quotedList(b["lamps"]), b["lamp-volts"])
	for _, k := range []string{"lamp-by-pass", "variable-transformer", "rcd", "thermometer"} {
		fmt.Fprintf(&s, "  %s: %s\n", k, b[k])
	}
	return s.String()
}

func quotedList(text string) string {
	var out []string
	for item := range strings.SplitSeq(text, ",") {
		out = append(out, fmt.Sprintf("%q", strings.TrimSpace(item)))
	}
	return strings.Join(out, ", ")
}

// alike is a bench that the loader accepts, to hold single answers in.
func alike() benchAnswers {
	return benchAnswers{
		"operator": "x", "meters": "1", "meter A": "x", "tester": noTester, "source": "9 V", "discharge-tool": "10 kΩ",
		"lamps": "40 W", "lamp-volts": "230 V", "lamp-by-pass": "false", "variable-transformer": "false", "rcd": "false", "thermometer": "false",
	}
}

// judged asks the loader of bench files about one answer.
func judged(key string) func(string) error {
	return func(answer string) error {
		b := alike()
		b[key] = answer
		_, err := spec.LoadBench("", []byte(b.yaml()))
		var e *spec.Error
		if !errors.As(err, &e) {
			return err
		}
		if e.Hint != "" {
			return fmt.Errorf("%s: %s", e.What, e.Hint)
		}
		return errors.New(e.What)
	}
}

// writeNew puts a file under a name that is not taken, whole or not at all.
func writeNew(path string, text []byte, perm os.FileMode) error {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, filepath.Base(path)+".tmp-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(perm), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Link(f.Name(), path) // unlike Rename, never over another file
}

// instruments are the meter sheets to choose from, insulation testers apart:
// the folder's by their whole path, and the program's.
func instruments(here []source) (meters, testers []console.Option) {
	add := func(s source, option console.Option) {
		m, err := spec.LoadMeter(s.name, s.text)
		switch {
		case err != nil:
		case m.Kind == sheet.Tester:
			testers = append(testers, option)
		default:
			meters = append(meters, option)
		}
	}
	for _, s := range here {
		if path, err := filepath.Abs(s.name); err == nil && hasKey(s.text, "meter:") {
			add(s, console.Option{Shown: s.name, Value: path})
		}
	}
	for _, n := range procedures.Meters() {
		add(source{n.Name, n.Text}, console.Option{Shown: n.Name + " (example)", Value: n.Name})
	}
	return meters, testers
}
