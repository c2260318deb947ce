package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// referenceTable is the circuit's table of reference supplies: its header, and
// the rows as the texts they are.
func referenceTable(t *testing.T) (header []string, rows []map[string]string) {
	t.Helper()
	f, err := os.Open("../../internal/circuit/testdata/cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 61 {
		t.Fatalf("%d lines, %v", len(all), err)
	}
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return all[0], rows
}

// asNumbers is a row with numbers for numbers, without what does not apply.
func asNumbers(row map[string]string) map[string]any {
	out := map[string]any{}
	for name, text := range row {
		x, err := strconv.ParseFloat(text, 64)
		switch {
		case text == "":
		case err == nil:
			out[name] = x
		default:
			out[name] = text
		}
	}
	return out
}

// solve runs the command over a text and gives its lines, which all are JSON.
func solve(t *testing.T, stdin string, args ...string) (answers []map[string]any, said string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(world{in: strings.NewReader(stdin), out: &out, err: &errs, args: append([]string{"solve", "--json"}, args...)})
	for line := range strings.Lines(out.String()) {
		var a map[string]any
		if err := json.Unmarshal([]byte(line), &a); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		answers = append(answers, a)
	}
	return answers, errs.String(), code
}

// held are the results that are held closer than to 1 %: direct volts, the
// rectifier's mean, what the cathode's volts give.
var held = map[string]float64{
	"Vres_dc": 0.001, "Vout_dc": 0.001, "Vres_peak": 0.001, "I_rect_dc": 0.001, "V_set": 0.001, "V_lamp": 0.001, "Vp_rms": 0.001,
	"Vg2": 0.001, "Va": 0.001, "Vk": 0.005, "Ik": 0.005, "Ia": 0.005, "Ig2": 0.005,
}

// settling tells how far the simulation had settled and not what the set does.
var settling = map[string]bool{"ng_halving_change_ppm_Vout": true, "ng_drift_5cycles_Vout": true}

// Every row of the reference table in one stream, whichever way it is written,
// comes back in its order and within the tolerances. Source of every figure:
// ngspice-39, cases.csv.
func TestSolveAnswersTheReferenceTable(t *testing.T) {
	t.Parallel()
	header, rows := referenceTable(t)
	for _, c := range []struct {
		reason string
		write  func(map[string]string) any
		array  bool
	}{
		{"as texts of a table", func(row map[string]string) any { return row }, false},
		{"as numbers", func(row map[string]string) any { return asNumbers(row) }, false},
		{"in an array", func(row map[string]string) any { return asNumbers(row) }, true},
	} {
		t.Run(c.reason, func(t *testing.T) {
			var cases []string
			for _, row := range rows {
				text, err := json.Marshal(c.write(row))
				if err != nil {
					t.Fatal(err)
				}
				cases = append(cases, string(text))
			}
			stdin := strings.Join(cases, "\n")
			if c.array {
				stdin = "[" + strings.Join(cases, ",") + "]"
			}
			answers, said, code := solve(t, stdin)
			if code != 0 || said != "" || len(answers) != len(rows) {
				t.Fatalf("exit %d with %d answers: %s", code, len(answers), said)
			}
			for i, row := range rows {
				compareWithRow(t, header, row, answers[i])
			}
		})
	}
}

func compareWithRow(t *testing.T, header []string, row map[string]string, answer map[string]any) {
	t.Helper()
	if answer["id"] != row["id"] || answer["converged"] != true {
		t.Fatalf("%s is answered with %v", row["id"], answer)
	}
	seen := 0
	for _, column := range header {
		name, result := strings.CutPrefix(column, "ng_")
		if !result || settling[column] || row[column] == "" {
			continue
		}
		want, err := strconv.ParseFloat(row[column], 64)
		if err != nil {
			t.Fatal(err)
		}
		tolerance, ok := held[name]
		if !ok {
			tolerance = 0.01
		}
		seen++
		if got, ok := answer[name].(float64); !ok || !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
			t.Errorf("%s: %s is %v, want %v within %v", row["id"], name, answer[name], want, tolerance)
		}
	}
	if seen < 13 {
		t.Errorf("%s: only %d results were compared", row["id"], seen)
	}
	if _, has := answer["Vk"]; has != (row["load"] == "cathode") {
		t.Errorf("%s: volts of valves with load %s: %v", row["id"], row["load"], answer["Vk"])
	}
}

// The keys of an answer stand in the order of the table's columns of results,
// with the valve's own before the volts round the lamp.
func TestSolveKeepsTheOrderOfTheTable(t *testing.T) {
	t.Parallel()
	header, rows := referenceTable(t)
	last := rows[len(rows)-1]
	stdin, err := json.Marshal(last)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if code := run(world{in: bytes.NewReader(stdin), out: &out, err: &out, args: []string{"solve", "--json"}}); code != 0 {
		t.Fatal(out.String())
	}
	at := -1
	for _, column := range header {
		name, result := strings.CutPrefix(column, "ng_")
		if !result || settling[column] {
			continue
		}
		here := strings.Index(out.String(), `"`+name+`":`)
		if here <= at {
			t.Errorf("%s is not at its place", name)
		}
		at = here
	}
}

func TestSolveHelpFitsEightyColumns(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	if code := run(world{out: &out, err: &out, args: []string{"solve", "--help"}}); code != 0 {
		t.Fatal(out.String())
	}
	for _, line := range tooWide(out.Bytes()) {
		t.Errorf("too wide: %s", line)
	}
}
