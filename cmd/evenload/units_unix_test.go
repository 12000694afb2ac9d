//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestUnits: a card that is begun with --units is printed in them, whatever units it is
// gone on with; the words of the walk follow those that it is shown in.
func TestUnits(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "strainer.toml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	s, _, err := session(path, walkFlags{units: units(unit.SI)})
	if err != nil {
		t.Fatal(err)
	}
	at := time.Now()
	for {
		at = at.Add(100 * time.Millisecond)
		step := s.Walk.Next(at)
		if work, is := step.(sequence.Tighten); is && work.Bolts[0] == 4 {
			break // after some bolts
		}
		e := sequence.Event{At: card.Stamp(at), By: "Ann", Data: plainly(s.Walk, step)}
		next, err := s.Walk.Apply(e)
		if err == nil {
			err = s.Write(e)
		}
		if err != nil {
			t.Fatal(err)
		}
		s.Walk = next
	}
	s.Close()
	for _, system := range []unit.System{"", unit.SI, unit.US} {
		again, _, err := session(path, walkFlags{units: units(system)})
		if err != nil {
			t.Fatal(err)
		}
		again.Close()
		words := strings.Join(again.Walk.RiskWords(0, 4*unit.Bar), " ")
		if us := strings.Contains(words, "lbf"); words == "" || us != (system == unit.US) || us == strings.Contains(words, "N·m") {
			t.Errorf("walked in %q it says: %s", system, words)
		}
	}
	c, err := card.Read(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	for system, own := range map[unit.System]string{"": "N·m", unit.SI: "N·m", unit.US: "lbf·ft"} {
		var out strings.Builder
		if err := report.Record(&out, c.InUnits(system)); err != nil {
			t.Fatal(err)
		}
		for _, one := range []string{"N·m", "lbf·ft"} {
			if strings.Contains(out.String(), " "+one) != (one == own) {
				t.Errorf("the record in %q: %s\n%s", system, one, out.String())
			}
		}
	}
}

// TestUnitsOfPapers: plan and comparison are in the units asked for.
func TestUnitsOfPapers(t *testing.T) {
	const strainer, pump = "../../testdata/jobs/strainer-8in-300.toml", "../../testdata/jobs/pump-house-6in-150.toml"
	for _, c := range []struct{ args, has, not string }{
		{"plan " + pump, " lbf·ft", " N·m "},
		{"plan --units si " + pump, " N·m", " lbf·ft "},
		{"plan --units us " + strainer, " lbf·ft", " N·m "},
		{"compare --units si " + strainer, " kN", " lbf"},
		{"compare --units us " + strainer, " lbf", " mm "},
	} {
		out, err := os.CreateTemp(t.TempDir(), "out")
		if err != nil {
			t.Fatal(err)
		}
		was := os.Stdout
		os.Stdout = out
		root := command()
		root.SetArgs(strings.Fields(c.args))
		err = root.Execute()
		os.Stdout = was
		text, _ := os.ReadFile(out.Name())
		before, _, _ := strings.Cut(string(text), "INPUTS")
		before, _, _ = strings.Cut(before, "COMPUTED FROM")
		if err != nil || !strings.Contains(before, c.has) || strings.Contains(before, c.not) {
			t.Errorf("%s: %v\n%s", c.args, err, before)
		}
	}
}
