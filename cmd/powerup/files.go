package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"

	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
	"example.com/powerup/procedures"
)

// sources are the files a session is made from, with their texts: the record
// carries them in full.
type sources struct {
	procedure, set, bench source
	meters                []source
	boxed                 bool   // the boxed part, after a session of its own
	after, afterSum       string // that session's label, and the SHA-256 of its record
}

// source is one file: its name and its text.
type source struct {
	name string
	text []byte
}

// open finds a file by path, or an embedded one by name.
func open(among []procedures.Named, name string) (source, error) {
	if text, ok := procedures.Find(among, name); ok {
		return source{name, text}, nil
	}
	text, err := os.ReadFile(name)
	if err != nil {
		var names []string
		for _, n := range among {
			names = append(names, n.Name)
		}
		return source{}, usage(fmt.Errorf("%s is not here: %w\nhint: a path to your own file, or one of %s", name, err, strings.Join(names, ", ")))
	}
	return source{name, text}, nil
}

// gather reads the four kinds of file and makes the plan.
func gather(setName, procedureName, benchName string) (sources, *plan.Plan, error) {
	var s sources
	var err error
	if s.set, err = open(procedures.Sheets(), setName); err != nil {
		return s, nil, err
	}
	if s.procedure, err = open(procedures.Procedures(), procedureName); err != nil {
		return s, nil, err
	}
	if err := s.takeBench(benchName); err != nil {
		return s, nil, err
	}
	if err := s.set.refused(); err != nil {
		return s, nil, err
	}
	p, err := s.plan()
	return s, p, err
}

// takeBench reads a bench file and the meter sheets it names.
func (s *sources) takeBench(name string) error {
	var err error
	if s.bench, err = open(procedures.Benches(), name); err != nil {
		return err
	}
	bench, err := spec.LoadBench(s.bench.name, s.bench.text)
	if err != nil {
		return usage(err)
	}
	s.meters = nil
	for _, name := range meterNames(bench) {
		m, err := open(procedures.Meters(), name)
		if err != nil {
			return err
		}
		s.meters = append(s.meters, m)
	}
	return nil
}

func meterNames(b *sheet.Bench) []string {
	var names []string
	for _, m := range b.Meters {
		names = append(names, m.Sheet)
	}
	if b.Tester != "" {
		names = append(names, b.Tester)
	}
	return names
}

// plan loads the texts and unrolls them; errors name file, line and field.
func (s sources) plan() (*plan.Plan, error) {
	in := plan.Inputs{Meters: map[string]*sheet.Meter{}, Boxed: s.boxed}
	var err error
	if in.Set, err = spec.LoadSet(s.set.name, s.set.text); err != nil {
		return nil, usage(err)
	}
	if in.Procedure, err = spec.LoadProcedure(s.procedure.name, s.procedure.text); err != nil {
		return nil, usage(err)
	}
	if in.Bench, err = spec.LoadBench(s.bench.name, s.bench.text); err != nil {
		return nil, usage(err)
	}
	for _, m := range s.meters {
		if in.Meters[m.name], err = spec.LoadMeter(m.name, m.text); err != nil {
			return nil, usage(err)
		}
	}
	p, err := plan.New(in)
	if err != nil {
		return nil, usage(err)
	}
	return p, nil
}

// Folders and files, by the XDG rules.
func dataDir() string          { return filepath.Join(xdg.DataHome, "powerup") }
func configDir() string        { return filepath.Join(xdg.ConfigHome, "powerup") }
func keyPath() string          { return filepath.Join(configDir(), "key") }
func practiceKeyPath() string  { return filepath.Join(configDir(), "practice_key") }
func signersPath() string      { return filepath.Join(configDir(), "signers") }
func revokedPath() string      { return filepath.Join(configDir(), "revoked") }
func practiceSigners() string  { return filepath.Join(configDir(), "practice_signers") }
func defaultBenchPath() string { return filepath.Join(configDir(), "bench.yaml") }
