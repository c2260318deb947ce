package damage

import (
	"regexp"
	"slices"
	"strings"
)

// file is a procedure's text by its stages, so that an edit reads like what an
// author does with an editor.
type file struct {
	head   string // up to and with "stages:"
	stages []stage
}

type stage struct {
	name  string
	head  string   // its fields, up to and with "steps:"
	steps []string // each with all its lines
}

// read takes the shipped file apart; write gives the same bytes again.
func read(text string) file {
	head, rest, _ := strings.Cut(text, "stages:\n")
	f := file{head: head + "stages:\n"}
	for part := range strings.SplitSeq(rest, "  - stage: ") {
		if part == "" {
			continue
		}
		name, _, _ := strings.Cut(part, "\n")
		fields, steps, _ := strings.Cut("  - stage: "+part, "    steps:\n")
		s := stage{name: name, head: fields + "    steps:\n"}
		for step := range strings.SplitSeq(steps, "      - ") {
			if step != "" {
				s.steps = append(s.steps, "      - "+step)
			}
		}
		f.stages = append(f.stages, s)
	}
	return f
}

func (f file) write() string {
	var b strings.Builder
	b.WriteString(f.head)
	for _, s := range f.stages {
		b.WriteString(s.head)
		b.WriteString(strings.Join(s.steps, ""))
	}
	return b.String()
}

// clone is a copy that can be edited.
func (f file) clone() file {
	f.stages = slices.Clone(f.stages)
	for i := range f.stages {
		f.stages[i].steps = slices.Clone(f.stages[i].steps)
	}
	return f
}

// move takes step j of a stage to the end of another.
func (f file) move(from, j, to int) file {
	out := f.clone()
	out.stages[to].steps = append(out.stages[to].steps, f.stages[from].steps[j])
	return out.cut(from, j) // last: a stage that is left empty goes with it
}

func (f file) moveNamed(from, step, to string) file {
	i, k := f.stage(from), f.stage(to)
	return f.move(i, slices.IndexFunc(f.stages[i].steps, func(s string) bool { return idOf(s) == step }), k)
}

func (f file) stage(name string) int {
	return slices.IndexFunc(f.stages, func(s stage) bool { return s.name == name })
}

// cut leaves a step out, and its stage when that was the only one.
func (f file) cut(i, j int) file {
	out := f.clone()
	out.stages[i].steps = slices.Delete(out.stages[i].steps, j, j+1)
	if len(out.stages[i].steps) == 0 {
		return out.cutStage(i)
	}
	return out
}

func (f file) cutStage(i int) file {
	out := f.clone()
	out.stages = slices.Delete(out.stages, i, i+1)
	return out
}

func (f file) swap(i, j int) file {
	out := f.clone()
	out.stages[i], out.stages[j] = out.stages[j], out.stages[i]
	return out
}

var (
	firstID  = regexp.MustCompile(`(?:check|hold): ([a-z0-9-]+)|(raise|cold):`)
	oneCheck = regexp.MustCompile(`^      - \{?check: ([a-z0-9-]+)`)
	supply   = regexp.MustCompile(`supply: ([a-z]+)`)
)

// idOf is what a step says first: its check, its hold, raise or cold.
func idOf(step string) string {
	m := firstID.FindStringSubmatch(step)
	return m[1] + m[2]
}

// checkOf is the check that text is a step of, if it is one.
func checkOf(text string) string {
	m := oneCheck.FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	return m[1]
}

func supplyOf(s stage) string { return supply.FindStringSubmatch(s.head)[1] }
