package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
)

type describeOptions struct {
	meter, bench, plain bool
	why                 string
}

func newDescribeCommand(w world) *cobra.Command {
	var o describeOptions
	c := &cobra.Command{
		Use: "describe [FILE]", Short: "make or mend a set sheet, meter sheet or bench file", Args: cobra.MaximumNArgs(1),
		Long: `Asks for what is known of a set in twelve lines, in the order of a service sheet,
and writes it to FILE (default: my-set.yaml). Type - for what is not printed and ?
for where to find it; back is the line before. After each line it says what the
answer buys, and what does not agree. Each line is kept as it is answered: leave
with Ctrl+C, and describe FILE goes on there. For a sheet that is whole it lists
the lines and asks which to change; what else stands in the file stays.

With --meter it asks for a meter from its own booklet, with --bench for what stands
on your bench. --why FIELD tells what a field of a set sheet is used for.`,
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case o.meter && o.bench || o.why != "" && (o.meter || o.bench):
				return usage(errors.New("one of --meter, --bench and --why at a time"))
			case o.why != "":
				return tellWhy(w, o.why)
			}
			return runDescribe(c.Context(), w, o, args)
		},
	}
	c.Flags().BoolVar(&o.meter, "meter", false, "a meter sheet (default FILE: my-meter.yaml)")
	c.Flags().BoolVar(&o.bench, "bench", false, "a bench file (default FILE: bench.yaml in the configuration folder)")
	c.Flags().BoolVar(&o.plain, "plain", false, "line by line, without forms")
	c.Flags().StringVar(&o.why, "why", "", "tell what a `FIELD` of a set sheet is used for, such as output-stage.grid-leak")
	return c
}

// form and file are what is asked, and where it goes.
func (o describeOptions) target(args []string) (form *describe.Form, file string, err error) {
	switch {
	case o.meter:
		form, file = describe.Meter, "my-meter.yaml"
	case o.bench:
		form, file = describe.Bench(wholePath), defaultBenchPath()
	default:
		form, file = describe.Set, "my-set.yaml"
	}
	if len(args) > 0 {
		file = args[0]
	}
	if ext := filepath.Ext(file); ext != ".yaml" && ext != ".yml" {
		return nil, "", usage(fmt.Errorf("%s has no name of a sheet\nhint: a name that ends in .yaml, such as my-set.yaml", file))
	}
	return form, file, nil
}

func runDescribe(ctx context.Context, w world, o describeOptions, args []string) error {
	form, file, err := o.target(args)
	if err != nil {
		return err
	}
	d, err := openDraft(form, file)
	if err != nil {
		return err
	}
	if w.interactive() {
		ctx = onStop(ctx)
	}
	i := interview{w: w, draft: d, asked: asker(w, o.plain), byLine: true}
	if o.bench {
		i.refuse, i.offers = benchRefused, offered(yamlHere())
	}
	if err := i.hold(ctx); err != nil {
		i.leave()
		return ended(err)
	}
	return i.end()
}

// draft is a file in the making, on disk as far as it was answered.
type draft struct {
	describe.Draft
	file string
	disk []byte // what stands there; nil: no file
}

func openDraft(form *describe.Form, file string) (draft, error) {
	text, err := os.ReadFile(file)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return draft{Draft: describe.Draft{Form: form}, file: file}, nil
	case err != nil:
		return draft{}, usage(err)
	case len(bytes.TrimSpace(text)) == 0:
		return draft{Draft: describe.Draft{Form: form}, file: file, disk: text}, nil
	}
	if _, err := spec.Edit(text, form.Key, "", nil); err != nil {
		return draft{}, usage(fmt.Errorf("%s cannot be gone on with: %w\nhint: powerup vet %s", file, err, shell(file)))
	}
	d := draft{Draft: describe.Draft{Form: form, Text: text}, file: file, disk: text}
	for _, e := range d.Faults() {
		if e.What != describe.Missing {
			e.File = file
			return draft{}, usage(fmt.Errorf("%w\nhint: mend that line first; describe changes only a file that it can read", e))
		}
	}
	return d, nil
}

// keep puts the draft on disk, whole or not at all, unless somebody else has
// changed the file meanwhile.
func (d *draft) keep() error {
	now, err := os.ReadFile(d.file)
	switch {
	case errors.Is(err, os.ErrNotExist) && d.disk == nil:
		if err := writeNew(d.file, d.Text, 0o644); err != nil {
			return err
		}
		d.disk = d.Text
		return nil
	case err != nil:
		return err
	case !bytes.Equal(now, d.disk):
		return fmt.Errorf("%s was changed by somebody else meanwhile: nothing was written over it\nhint: begin describe again", d.file)
	}
	if err := writeOver(d.file, d.Text); err != nil {
		return err
	}
	d.disk = d.Text
	return nil
}

// whole tells whether the loader takes the file as it is.
func (d *draft) whole() bool { return len(d.Text) > 0 && len(d.Faults()) == 0 }

// interview goes through the lines of a form.
type interview struct {
	w      world
	draft  draft
	asked  func(context.Context, console.Question) (string, error)
	byLine bool                       // each line is kept as it is answered
	refuse func(describe.Draft) error // what the loader cannot know; nil: nothing
	offers map[string]string          // what can be answered on the line of a field
}

func (i *interview) row(label, text string) { console.PrintRow(i.w.out, label, text) }

// hold asks line after line from the first that has nothing, and what is wanted
// then; a file that was whole is changed line by line instead.
func (i *interview) hold(ctx context.Context) error {
	if i.draft.whole() {
		return i.mend(ctx)
	}
	i.row("Type", "- for what is not printed, ? for where to find it, back for the line before. What is answered is kept; Ctrl+C leaves.")
	for n := i.next(); n < len(i.draft.Form.Lines); {
		if !i.draft.Asks(n) {
			n++
			continue
		}
		back, err := i.line(ctx, n)
		switch {
		case err != nil:
			return err
		case back:
			n = i.before(n)
		default:
			n++
		}
	}
	return i.complete(ctx)
}

// complete asks those lines again that have not what every such file has. Each is
// asked once where the file is kept as it is: what is not known stays open.
// Else there is no end before the file is whole.
func (i *interview) complete(ctx context.Context) error {
	asked := map[int]bool{}
	for n := i.wanting(asked); n >= 0; n = i.wanting(asked) {
		i.lacking(n)
		for back := true; back; {
			var err error
			if back, err = i.line(ctx, n); err != nil {
				return err
			}
			if back {
				n = i.before(n)
			}
		}
		asked[n] = i.byLine
	}
	if faults := i.draft.Faults(); !i.byLine && len(faults) > 0 {
		return faults[0] // no line asks for it
	}
	return nil
}

// wanting is the first line that lacks something and was not asked again, -1 for
// none.
func (i *interview) wanting(asked map[int]bool) int {
	for n := range i.draft.Form.Lines {
		if !asked[n] && i.draft.Asks(n) && len(i.wanted(n)) > 0 {
			return n
		}
	}
	return -1
}

// wanted is what line n has not and every such file has.
func (i *interview) wanted(n int) (out spec.Errors) {
	for _, e := range i.draft.Faults() {
		if i.draft.Form.LineOf(e.Field) == n {
			out = append(out, e)
		}
	}
	return out
}

func (i *interview) lacking(n int) {
	for _, e := range i.wanted(n) {
		i.row("Wanted", e.Field+": "+e.What)
	}
}

// before is the line asked before line n.
func (i *interview) before(n int) int {
	for n--; n > 0 && !i.draft.Asks(n); n-- {
	}
	return max(0, n)
}

// next is the line after the last that has something.
func (i *interview) next() int {
	next := 0
	for n := range i.draft.Form.Lines {
		if i.draft.Has(n) {
			next = n + 1
		}
	}
	return next
}

// mend shows the lines and asks which to change.
func (i *interview) mend(ctx context.Context) error {
	for {
		for n := range i.draft.Form.Lines {
			if !i.draft.Asks(n) {
				continue
			}
			text := i.draft.Shows(n)
			if text == "" {
				text = "-"
			}
			i.row(fmt.Sprintf("Line %d", n+1), text)
		}
		chosen, err := i.which(ctx)
		if errors.Is(err, console.ErrEnd) || err == nil && len(chosen) == 0 {
			return nil
		}
		for _, n := range chosen {
			if err == nil {
				_, err = i.line(ctx, n)
			}
		}
		if err != nil {
			return err
		}
	}
}

// Answers to which lines are to be changed, beside the number of one.
const (
	rest = "rest"
	done = "done"
)

// which asks which lines are to be changed.
func (i *interview) which(ctx context.Context) (chosen []int, err error) {
	answer, err := i.asked(ctx, console.Question{
		Key: "line", Title: "Which line is to be changed?", Help: "Its number, " + rest + " for all that have nothing, or " + done + ".",
		Check: func(answer string) error { _, err := i.chosen(answer); return err },
	})
	if err != nil {
		return nil, err
	}
	return i.chosen(answer)
}

func (i *interview) chosen(answer string) (lines []int, err error) {
	n, err := strconv.Atoi(answer)
	switch all := len(i.draft.Form.Lines); {
	case answer == done:
		return nil, nil
	case answer == rest:
		for n := range all {
			if i.draft.Asks(n) && !i.draft.Has(n) {
				lines = append(lines, n)
			}
		}
		return lines, nil
	case err != nil || n < 1 || n > all || !i.draft.Asks(n-1):
		return nil, fmt.Errorf("%q is no line\nhint: 1 to %d, %s or %s", answer, all, rest, done)
	}
	return []int{n - 1}, nil
}

// words that are no answer to a line.
const (
	where = "?"
	again = "back"
	same  = "same"
)

// line asks one line until it is answered, and keeps it.
func (i *interview) line(ctx context.Context, n int) (back bool, err error) {
	for {
		answer, err := i.asked(ctx, i.question(n))
		if err != nil {
			return false, err
		}
		switch answer {
		case where:
			i.row("Where", i.draft.Form.Lines[n].Where)
			continue
		case again:
			return true, nil
		case same:
			return false, nil
		}
		next, heard, err := i.answer(n, answer)
		if err != nil {
			return false, err
		}
		i.draft.Draft = next
		if i.byLine {
			err = i.draft.keep()
		}
		if err == nil {
			i.tell(n, heard)
		}
		return false, err
	}
}

func (i *interview) question(n int) console.Question {
	line := i.draft.Form.Lines[n]
	help := "Like " + line.Like
	for field, names := range i.offers {
		if i.draft.Form.LineOf(field) == n {
			help += ". Here: " + names
		}
	}
	now := i.draft.Shows(n)
	switch {
	case now != "" && len(i.wanted(n)) > 0:
		help += ". Now " + now + " (same keeps it)"
	case now != "":
		help = "Now " + now + " (same keeps it)"
	}
	return console.Question{
		Key: "line", Title: fmt.Sprintf("%d of %d  %s", n+1, len(i.draft.Form.Lines), line.Title), Help: help, Long: true,
		Check: func(answer string) error {
			switch {
			case answer == where, answer == again && n > 0, answer == same && now != "":
				return nil
			}
			_, _, err := i.answer(n, answer)
			return err
		},
	}
}

func (i *interview) answer(n int, answer string) (describe.Draft, describe.Heard, error) {
	next, heard, err := i.draft.Answer(n, answer)
	if err == nil && i.refuse != nil {
		err = i.refuse(next)
	}
	return next, heard, err
}

// tell says what came of an answer.
func (i *interview) tell(n int, heard describe.Heard) {
	i.row(fmt.Sprintf("Line %d", n+1), understood(heard.Puts))
	if buys := heard.Buys(); buys != "" && i.draft.Form == describe.Set {
		i.row("Buys", buys)
	}
	for _, r := range heard.Remarks {
		label := map[sheet.Severity]string{sheet.Refuse: "REFUSED", sheet.Warn: "Look again", sheet.Note: "Without"}[r.Severity]
		i.row(label, r.What+": "+r.Hint)
	}
}

func understood(puts []describe.Put) string {
	var all []string
	nothing := true
	for _, p := range puts {
		value := p.Value
		if value == "" {
			value = "not printed"
		}
		nothing = nothing && p.Value == ""
		all = append(all, p.Name+" "+value)
	}
	if nothing {
		return "not printed"
	}
	return strings.Join(all, ", ")
}

// leave says where an unfinished file stands.
func (i *interview) leave() {
	switch n := i.next(); {
	case i.draft.disk == nil:
		i.row("Kept", "nothing was answered, and nothing is written")
	case i.draft.whole():
		i.row("Kept", i.draft.file+" as it was answered")
	case n == len(i.draft.Form.Lines):
		i.row("Kept", i.draft.file+" as it was answered")
		i.lacks(i.draft.Faults())
	default:
		i.row("Kept", fmt.Sprintf("%s to line %d of %d; %s goes on there", i.draft.file, n, len(i.draft.Form.Lines), i.again()))
	}
}

// again is the command that goes on with the file.
func (i *interview) again() string {
	flag := ""
	if key := i.draft.Form.Key; key != describe.Set.Key {
		flag = " --" + key
	}
	return fmt.Sprintf("%s describe%s %s", i.w.command(), flag, shell(i.draft.file))
}

// ended words how it was left.
func ended(err error) error {
	if errors.Is(err, console.ErrAbort) || errors.Is(err, console.ErrEnd) {
		return fmt.Errorf("ended by %w%w", err, quiet{errAborted})
	}
	return err
}

// benchOrExample is the bench to count with: the one that is known here, or an
// example.
func benchOrExample() string {
	if benchKnown() {
		return defaultBenchPath()
	}
	return "two-meters"
}
