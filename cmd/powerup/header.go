package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/transcriptlog"
)

// header is the first line of a record: everything that is needed to read and
// replay it, in full.
func header(s sources, p *plan.Plan, label, fingerprint string, c clock) transcriptlog.Record {
	f := map[string]string{
		"format": transcriptlog.Format, "rules": strconv.Itoa(checks.RulesVersion), "program": version(),
		"label": label, "operator": p.Bench.Operator, "profile": p.Profile.ID + " " + p.Profile.Dated,
		"platform": runtime.GOOS + "/" + runtime.GOARCH, "guarantees": transcriptlog.Guarantees, "clock": clockWords(c),
	}
	if s.boxed {
		f["part"], f["after"], f["after sha256"] = boxedPart, s.after, s.afterSum
	}
	if fingerprint != "" {
		f["key"] = fingerprint
	}
	put := func(what string, src source) {
		f[what+" name"] = src.name
		f[what] = string(src.text)
		sum := sha256.Sum256(src.text)
		f[what+" sha256"] = hex.EncodeToString(sum[:])
	}
	put("procedure", s.procedure)
	put("set", s.set)
	put("bench", s.bench)
	for i, m := range s.meters {
		put("meter "+strconv.Itoa(i+1), m)
	}
	return transcriptlog.Record{Kind: "open", Fields: f}
}

func clockWords(c clock) string {
	if c.bench() {
		return "bench clock: stands still at prompts and jumps over waits"
	}
	return "this computer's own"
}

// sourcesOf gets the files back out of a record's first line.
func sourcesOf(line transcriptlog.Line) (sources, error) {
	s := sources{boxed: line.Fields["part"] == boxedPart, after: line.Fields["after"], afterSum: line.Fields["after sha256"]}
	get := func(what string) (source, error) {
		src := source{line.Fields[what+" name"], []byte(line.Fields[what])}
		sum := sha256.Sum256(src.text)
		if line.Kind != "open" || hex.EncodeToString(sum[:]) != line.Fields[what+" sha256"] {
			return src, fmt.Errorf("line 1 does not carry the %s it was made with", what)
		}
		return src, nil
	}
	var err error
	if s.procedure, err = get("procedure"); err != nil {
		return s, err
	}
	if s.set, err = get("set"); err != nil {
		return s, err
	}
	if s.bench, err = get("bench"); err != nil {
		return s, err
	}
	for _, k := range slices.Sorted(maps.Keys(line.Fields)) {
		if what, ok := strings.CutSuffix(k, " sha256"); ok && strings.HasPrefix(what, "meter ") {
			m, err := get(what)
			if err != nil {
				return s, err
			}
			s.meters = append(s.meters, m)
		}
	}
	return s, nil
}
