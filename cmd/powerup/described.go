package main

import (
	"fmt"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/console"
	"example.com/powerup/internal/describe"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
)

// end says what the finished file is worth, and what comes next.
func (i *interview) end() error {
	i.row("File", i.draft.file)
	if faults := i.draft.Faults(); len(faults) > 0 {
		i.lacks(faults)
		return errOpen
	}
	switch i.draft.Form.Key {
	case "meter":
		i.row("Next", i.w.command()+" describe --bench names it among your meters")
		return nil
	case "bench":
		i.row("Next", i.w.command()+" plan my-set.yaml counts with it")
		return nil
	}
	if bad := of(sheet.Refuse, i.draft.Remarks()); len(bad) > 0 {
		for _, r := range bad {
			i.row("REFUSED", r.Field+": "+r.What+": "+r.Hint)
		}
		i.row("Next", "the set is not energised by this sheet: "+i.again()+" changes a line")
		return errOpen
	}
	return i.worth()
}

// lacks lists what a file must have and has not.
func (i *interview) lacks(faults spec.Errors) {
	for _, e := range faults {
		line := ""
		if n := i.draft.Form.LineOf(e.Field); n >= 0 {
			line = fmt.Sprintf(" (line %d)", n+1)
		}
		i.row("Wanted", e.Field+": "+e.What+line)
	}
	i.row("Next", i.again()+", when it is known")
}

// worth counts the windows that a set sheet gives at the bench that is here.
func (i *interview) worth() error {
	bench := benchOrExample()
	_, p, err := gather(i.draft.file, "double-wound", bench)
	if err != nil {
		return err
	}
	console.Worth(i.w.out, p)
	if len(p.Cannot) > 0 {
		i.row("This kit", "cannot measure "+strings.Join(p.Cannot, ", "))
	}
	i.row("Next", fmt.Sprintf("%s plan %s shows every window before anything is touched", i.w.command(), shell(i.draft.file)))
	return nil
}

// tellWhy tells what a field of a set sheet is used for.
func tellWhy(w world, path string) error {
	feed, ok := describe.FeedOf(path)
	if !ok {
		hint := "powerup list file table-radio shows the fields"
		if near := spec.Nearest(path, describe.Set.Fields()); near != "" {
			hint = "did you mean " + near + "?"
		}
		return usage(fmt.Errorf("%q is no field that describe asks for\nhint: %s", path, hint))
	}
	line := describe.Set.LineOf(path)
	console.PrintRow(w.out, "Field", path)
	console.PrintRow(w.out, "Asked", fmt.Sprintf("on line %d: %s", line+1, describe.Set.Lines[line].Title))
	console.PrintRow(w.out, "Where", describe.Set.Lines[line].Where)
	if feed.Needed {
		console.PrintRow(w.out, "Needed", "without it the set is not energised")
	}
	if feed.Serves != "" {
		console.PrintRow(w.out, "Serves", feed.Serves)
	}
	for _, id := range feed.Checks {
		c, _ := checks.Find(id)
		console.PrintRow(w.out, "Feeds", c.Title+" ("+id+")")
	}
	if len(feed.Checks) > 0 {
		console.PrintRow(w.out, "Found", "by trying: these windows of the example set become others, wider or typical, without it")
	}
	return nil
}
