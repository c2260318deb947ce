package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
)

// Question is one thing that a form asks. It has no default: what is not
// answered is refused.
type Question struct {
	Key, Title, Help string
	Options          []Option // none: it is typed
	Long             bool     // a whole line is typed
	Check            func(answer string) error
}

// Option is one answer to choose from: what is shown, and what it stands for.
type Option struct{ Shown, Value string }

// Page is what a form shows at once; it must fit a screen of 24 lines.
type Page struct {
	Title     string
	Questions []Question
}

// Form asks the questions page by page on a terminal and gives the answers by
// their keys. ErrAbort, or why the context ended, when it was left before its
// end: then there are no answers. The answers were checked for the comfort of
// the one who types; the caller judges them again.
func Form(ctx context.Context, in io.Reader, out io.Writer, pages ...Page) (map[string]string, error) {
	f, typed := build(pages)
	f.WithProgramOptions(tea.WithInput(in), tea.WithOutput(out), tea.WithoutSignalHandler())
	err := f.RunWithContext(ctx)
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	return finish(f, typed, err)
}

// finish reads the answers, which are bound while they are typed and not yet
// checked, of a form that was gone through to its end and of no other.
func finish(f *huh.Form, typed map[string]*string, err error) (map[string]string, error) {
	switch {
	case errors.Is(err, huh.ErrUserAborted):
		return nil, ErrAbort
	case err != nil:
		return nil, fmt.Errorf("the form: %w", err)
	case f.State != huh.StateCompleted:
		return nil, ErrAbort
	}
	answers := make(map[string]string, len(typed))
	for k, v := range typed {
		answers[k] = strings.TrimSpace(*v)
	}
	return answers, nil
}

// build makes the form. Accessible mode, which accepts what was refused, is off
// whatever TERM says. Its keys answer nothing by themselves: Ctrl+C leaves.
func build(pages []Page) (*huh.Form, map[string]*string) {
	typed := map[string]*string{}
	var groups []*huh.Group
	for _, p := range pages {
		var fields []huh.Field
		for _, q := range p.Questions {
			typed[q.Key] = new(string)
			fields = append(fields, q.field(typed[q.Key]))
		}
		groups = append(groups, huh.NewGroup(fields...).Title(clean(p.Title)))
	}
	keys := huh.NewDefaultKeyMap()
	keys.Select.Filter.SetEnabled(false)
	f := huh.NewForm(groups...).WithAccessible(false).WithTheme(huh.ThemeBase()).WithKeyMap(keys)
	return f, typed
}

func (q Question) field(answer *string) huh.Field {
	if q.Options == nil {
		limit := most
		if q.Long {
			limit = mostLong
		}
		return huh.NewInput().Title(clean(q.Title)).Description(clean(q.Help)).CharLimit(limit).Validate(q.Answerable).Value(answer)
	}
	options := []huh.Option[string]{huh.NewOption("no answer yet", "")}
	for _, o := range q.Options {
		options = append(options, huh.NewOption(clean(o.Shown), o.Value))
	}
	return huh.NewSelect[string]().Title(clean(q.Title)).Description(clean(q.Help)).Options(options...).Validate(q.Answerable).Value(answer)
}

// How many characters an answer may have.
const (
	most     = 60
	mostLong = 300
)

// Answerable tells what keeps a text from being an answer.
func (q Question) Answerable(answer string) error {
	answer = strings.TrimSpace(answer)
	switch {
	case answer == "" && q.Options != nil:
		return errors.New("choose with the arrow keys, then Enter")
	case answer == "":
		return errors.New("nothing is typed")
	case q.Check != nil:
		return q.Check(answer)
	}
	return nil
}
