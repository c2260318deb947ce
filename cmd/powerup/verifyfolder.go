package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/record"
)

// verifyFolder checks every record in a folder and prints one line a set.
func verifyFolder(w world, o verifyOptions, dir string) error {
	if o.summary {
		return usage(fmt.Errorf("%s is a folder, and a summary is that of one record\nhint: %s verify --summary FILE", dir, w.command()))
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		return usage(err)
	}
	var paths []string
	for _, file := range files {
		if path := filepath.Join(dir, file.Name()); isRecord(path) {
			paths = append(paths, path)
		}
	}
	if len(paths) == 0 {
		return usage(fmt.Errorf("no record in %s\nhint: the name of a record ends in %s; sub-folders are not looked into", dir, recordEnding))
	}
	var screen io.Writer
	if isTerminal(w.out) {
		screen = w.out
	}
	entries, err := checkAll(o, paths, screen)
	if err != nil {
		return err
	}
	return printFolder(w, o, entries)
}

const recordEnding = ".transcript"

// isRecord tells a record by its name, or by how its first line must begin; a
// folder is none.
func isRecord(path string) bool {
	info, err := os.Stat(path)
	named := strings.HasSuffix(path, recordEnding)
	if err != nil || !info.Mode().IsRegular() {
		return named && (err != nil || !info.IsDir())
	}
	return named || beginsAsRecord(path)
}

func beginsAsRecord(path string) bool {
	begin := []byte(`{"prev":"` + strings.Repeat("0", 64) + `","seq":1,`)
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	got := make([]byte, len(begin))
	_, err = io.ReadFull(f, got)
	return err == nil && bytes.Equal(got, begin)
}

// entry verifies one file of a folder. What it keeps is small, and no part of a
// longer text: the file's bytes are gone when the next one is read.
func entry(o verifyOptions, path string) record.Entry {
	e := record.Entry{File: filepath.Base(path)}
	f, err := check(o, path)
	if err != nil {
		e.Short, e.Why = "unread", "it cannot be read: "+err.Error()
		return e
	}
	e.Sum, e.Ending, e.Facts = f.sum, f.record.Ending, record.Of(f.record)
	e.Accepted, e.Signer = f.accepted(), strings.Clone(f.by.Name)
	e.Sound = f.unfair == "" && f.practice() == o.practice
	no := f.whyNot()
	e.Short = no.short
	if !e.Facts.Practice || o.practice { // of practice the row says enough
		why, _, _ := strings.Cut(no.why, "\n")
		e.Why = strings.Clone(why)
	}
	return e
}

// The columns of a folder: mark, date, outcome, signer, and when to look again.
const folderColumns = "%s %s %s %s %s"

func folderRow(mark, date, outcome, signed, next string) string {
	return strings.TrimRight(fmt.Sprintf(folderColumns, console.Cell(mark, 11), console.Cell(date, 11),
		console.Cell(outcome, 23), console.Cell(signed, 9), console.Cell(next, 22)), " ")
}

func printFolder(w world, o verifyOptions, entries []record.Entry) error {
	now := w.clock.now().Wall
	sets := record.Sets(entries, now)
	fmt.Fprintln(w.out, folderRow("Mark", "Date", "Result", "Signed", "Next look"))
	believed := 0
	for _, s := range sets {
		if s.File != "" {
			fmt.Fprintln(w.out, strings.TrimRight(console.Cell(s.File, 47)+" "+console.Cell(s.Outcome, 32), " "))
			continue
		}
		believed++
		fmt.Fprintln(w.out, folderRow(s.Mark, s.Date, s.Outcome, s.Signed, s.Next))
	}
	printNotes(w.out, sets)
	for _, r := range record.FolderCautions(entries, now) {
		console.PrintRow(w.out, r.Label, r.Text)
	}
	good := accepted(entries)
	fmt.Fprintf(w.out, "%s, %s: %d accepted, %d not accepted\n", counted(len(entries), "record"), counted(believed, "set"), good, len(entries)-good)
	if good < len(entries) {
		return errVerify
	}
	return nil
}

// accepted counts the entries that are.
func accepted(entries []record.Entry) (n int) {
	for _, e := range entries {
		if e.Accepted {
			n++
		}
	}
	return n
}

// printNotes prints what had no room in the rows, about each file or mark.
func printNotes(out io.Writer, sets []record.Set) {
	fmt.Fprintln(out)
	for _, s := range sets {
		for _, n := range s.Notes {
			console.PrintRow(out, "note", n.About+": "+n.Text)
		}
	}
}

func counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
