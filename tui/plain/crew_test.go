package plain

import (
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// typist types one line at a time; each takes 20 seconds. A line that begins
// with + only lets time pass. What is typed stands beside what was said.
type typist struct {
	lines []string
	at    time.Time
	all   strings.Builder
}

func (p *typist) Read(b []byte) (int, error) {
	for len(p.lines) > 0 {
		line := p.lines[0]
		p.lines = p.lines[1:]
		if wait, err := time.ParseDuration(line); err == nil && strings.HasPrefix(line, "+") {
			p.at = p.at.Add(wait)
			continue
		}
		p.at = p.at.Add(20 * time.Second)
		p.all.WriteString(line + "\n")
		return copy(b, line+"\n"), nil
	}
	return 0, io.EOF
}

func (p *typist) now() time.Time { return p.at }

// fataler is what a test and a property have in common.
type fataler interface{ Fatalf(string, ...any) }

// drain freezes the job of four bolts.
func drain(t fataler) sequence.CardOpened {
	j, err := job.Load("../../testdata/walk/drain-4.toml")
	if err != nil {
		t.Fatalf("%v", err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	return sequence.CardOpened{Format: 1, Program: "evenload test", JobFile: "drain-4.toml", Plan: plan}
}

// walked is a walk after its input ended.
type walked struct {
	*card.Session
	text  string // what was said and typed
	shown string // what was said
}

// walk types lines into a walk whose card lies in dir until they end.
func walk(t fataler, dir string, o sequence.CardOpened, lines ...string) walked {
	s, err := card.Begin(dir, "", o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return typeInto(t, s, lines...)
}

func typeInto(t fataler, s *card.Session, lines ...string) walked {
	p := &typist{lines: lines, at: morning}
	var shown strings.Builder
	if err := Walk(s, p, io.MultiWriter(&p.all, &shown), Options{Now: p.now}); err != nil {
		t.Fatalf("%v\n%s", err, p.all.String())
	}
	if err := s.Close(); err != nil {
		t.Fatalf("%v", err)
	}
	return walked{s, p.all.String(), shown.String()}
}

// says wants texts to be shown, in this order.
func (w walked) says(t *testing.T, want ...string) {
	t.Helper()
	rest := w.text
	for _, s := range want {
		_, after, ok := strings.Cut(rest, s)
		if !ok {
			t.Fatalf("%q is not said (in its place):\n%s", s, w.text)
		}
		rest = after
	}
}

// events are those on the card, after the one that opened it.
func (w walked) events(t *testing.T) []sequence.Data {
	t.Helper()
	c, err := card.Read(w.Path())
	if err != nil || c.Torn != nil {
		t.Fatal(c.Torn, err)
	}
	var all []sequence.Data
	for _, e := range c.Events()[1:] {
		all = append(all, e.Data)
	}
	return all
}

// last is the last event before the operator left.
func (w walked) last(t *testing.T) sequence.Data {
	t.Helper()
	all := w.events(t)
	if all[len(all)-1] != (sequence.Suspended{}) {
		t.Fatalf("the card does not end with leaving:\n%s", w.text)
	}
	return all[len(all)-2]
}

// The straight way through the job of four bolts, line by line.
var (
	gate       = slices.Concat([]string{"Ann", "Bo", "-D1"}, slices.Repeat([]string{"yes"}, 17))
	toPass1    = slices.Concat(gate, []string{"done", "1.3", "1.0"})
	set1       = []string{"2.7", ""}
	bolts      = []string{"d", "d", "d", "d"}
	toEnd1     = slices.Concat(toPass1, set1, bolts)
	gaps1      = []string{"1.2", "1", "1.0", "3"}
	toPass2    = slices.Concat(toEnd1, []string{"2.7"}, gaps1)
	set2       = []string{"4.8", "4.9"}
	toRounds   = slices.Concat(toPass2, set2, bolts, []string{"4,8", "1,1", "3", "1,0", "2"})
	still      = []string{"s", "s", "s", "s", "4.8"} // and the pressure again
	toRest     = slices.Concat(toRounds, set2, still)
	closing    = []string{"1.1", "1.0", "yes", "yes", "yes", "Wim", "inspector"}
	afterwards = slices.Concat([]string{"+31m", "g", "yes", "yes", "yes"}, set2, still, closing)
	straight   = slices.Concat(toRest, afterwards)
)
