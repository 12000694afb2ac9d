package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// TestForgedCards: cards whose hashes fit and whose texts, plan or length were
// made by hand.
func TestForgedCards(t *testing.T) {
	s := newSweep(t)
	lines := cardLines(t)
	all := strings.Join(lines, "\n")
	cards := map[string]string{}
	for name, text := range unclean {
		cards[name] = strings.ReplaceAll(all, "MARK", inJSON(text))
	}
	for name, c := range map[string][2]string{
		"bolts": {`"bolts":4`, `"bolts":1000000000`}, "no bolts": {`"bolts":4`, `"bolts":0`}, "minus": {`"bolts":4`, `"bolts":-4`}, "station": {`[[1],`, `[[1000000000],`}, "zero": {`[[1],`, `[[0],`},
		"follows out": {`"plan":{`, `"follows":{"card":"../../out.card.jsonl","seal":"aaaa-aaaa-aaaa"},"plan":{`}, "follows nothing": {`"plan":{`, `"follows":{"card":"/dev/zero","seal":""},"plan":{`},
		"follows a pipe": {`"plan":{`, `"follows":{"card":"pipe.card.jsonl","seal":"aaaa-aaaa-aaaa"},"plan":{`}, "follows itself": {`"plan":{`, `"follows":{"card":"DH-77-F4.20361002-aaaaaa.card.jsonl","seal":"aaaa-aaaa-aaaa"},"plan":{`},
		"job a pipe": {`"job_file":"joint.toml"`, `"job_file":"pipe.toml"`}, "job zero": {`"job_file":"joint.toml"`, `"job_file":"/dev/zero"`}, "job out": {`"job_file":"joint.toml"`, `"job_file":"../../x\u001b[2J"`},
		"tag": {`"tag":"DH-77-F4"`, `"tag":"../../x"`}, "offset": {`"offset_minutes":0`, `"offset_minutes":9000000000`}, "division": {`"division_Pa":10000`, `"division_Pa":0`}, "fine": {`"division_Pa":10000`, `"division_Pa":1e-300`},
		"high": {`"high_Pa":1000000`, `"high_Pa":1e+300`}, "torque": {`"torque_Nm":40`, `"torque_Nm":-1e+300`}, "gap places": {`"gap_places":[`, `"gap_places":[1000000000,`}, "no gaps": {`"gap_places":[`, `"gap_places":[0,-1,`},
		"rounds": {`"check_rounds":2`, `"check_rounds":1000000000`}, "rest": {`"rest":"0s"`, `"rest":"9000000h0m0s"`},
		"share": {`"share":0.5`, `"share":1e+300`}, "no questions": {`"questions":[`, `"questions":null,"x":[`}, "pass": {`"passes":[`, `"passes":[` + strings.Repeat(`{"share":0.1,"settings":[]},`, 10_000)},
	} {
		cards[name] = strings.Replace(all, c[0], c[1], 1)
		if cards[name] == all {
			t.Errorf("%s: %s is not in the card: %.3000s", name, c[0], lines[0])
		}
	}
	for _, part := range []string{"opened", "plan", "tools", "passes", "stations", "settings", "gap_places"} {
		cards["deep "+part] = strings.Replace(all, `"`+part+`":`, `"`+part+`":`+strings.Repeat("[", 100_000), 1)
	}
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.card.jsonl"), 0o600); err != nil {
		t.Skip(err)
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.toml"), 0o600); err != nil {
		t.Skip(err)
	}
	clean := 0
	for name, text := range cards {
		path := filepath.Join(dir, "DH-77-F4.20361002-aaaaaa.card.jsonl")
		put(t, path, forge(strings.Split(text, "\n")))
		if code, _ := s.run(t, dir, "", "record", path); code == exitDone {
			clean++
		} else if unclean[name] != "" && name != "latin-1" {
			t.Errorf("%s: the card is not read", name)
		}
		if unclean[name] != "" {
			s.cardRuns(t, dir, path)
			put(t, path, forge(strings.Split(text, "\n")))
			s.folderRuns(t, dir)
			continue
		}
		for _, args := range [][]string{{"verify", path}, {"record", path, "-o", filepath.Join(t.TempDir(), "r.pdf")}, {"walk", "--plain", path}, {"board", "--plain", dir}} {
			s.run(t, dir, "Ann\n\nyes\n", args...)
		}
	}
	t.Logf("%d of %d cards are read", clean, len(cards))
}

// TestLongCards: cards of as many lines as they may have, and of as many bytes.
func TestLongCards(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	s := newSweep(t)
	lines := cardLines(t)
	last := lines[len(lines)-1]
	begin := last[strings.Index(last, `"at":`):strings.Index(last, `,"by":`)]
	for name, c := range map[string]struct {
		lines int
		line  func(n int) string // from its name on
	}{
		"notes": {20_000, func(int) string { return `"MARK","kind":"note","data":{"text":"a"}` }},
		"people": {8_000, func(n int) string {
			return fmt.Sprintf(`"A%d","kind":"signed_on","data":{"name":"A%d","permit":"P"}`, n%990, n%990)
		}},
		"many people": {20_000, func(n int) string {
			return fmt.Sprintf(`"A%d","kind":"signed_on","data":{"name":"A%d","permit":"P"}`, n%990, n%990)
		}},
		"crowd": {20_000, func(n int) string {
			return fmt.Sprintf(`"A%d","kind":"signed_on","data":{"name":"A%d","permit":"P"}`, n, n)
		}},
		"stops":  {20_000, func(int) string { return `"MARK","kind":"problem","data":{"reason":"x"}` }},
		"long":   {1000, func(int) string { return `"MARK","kind":"note","data":{"text":"` + strings.Repeat("a ", 8000) + `"}` }},
		"longer": {20_001, func(int) string { return `"MARK","kind":"note","data":{"text":"a"}` }},
	} {
		long := slices.Clone(lines)
		for n := len(long) + 1; n <= c.lines; n++ {
			long = append(long, fmt.Sprintf(`{"n":%d,%s,"by":%s`, n, begin, c.line(n)))
		}
		dir := t.TempDir()
		path := filepath.Join(dir, "DH-77-F4.20361002-aaaaaa.card.jsonl")
		put(t, path, forge(long))
		code, said := s.run(t, dir, "", "verify", path)
		if want := map[bool]int{true: exitDone, false: exitInput}[name != "longer" && name != "crowd"]; code != want {
			t.Errorf("%s: exit code %d: %s", name, code, said)
		}
		if name == "people" { // the slowest of them for every command
			s.cardRuns(t, dir, path)
			s.folderRuns(t, dir)
		}
	}
}
