//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

// event is a job in which something happens at one place, and what its record
// then says. Up to there the card is made by the library, from there on
// everything is typed.
type event struct {
	name  string
	job   func(string) string      // changes the job, nil leaves it
	at    func(sequence.Step) bool // where it happens
	ago   time.Duration            // how long ago that place was reached
	keys  func(sequence.Walk) []string
	then  string   // who signs on afterwards, the operator when empty
	wants []string // of the record
	twice []string // of the record, in two lines or more
}

// The job: four bolts, two passes, no rest, a spare tool.
const eventJob = `format = 1
[joint]
tag = "DH-77-F4"
approved_by = "Responsible engineer"
[bolts]
count = 4
thread = "M20"
yield = "640 MPa"
grip = "300 mm"
[friction]
nut_factor = 0.15
[target]
torque = "200 N·m"
[[tools]]
id = "W-01"
due = 2036-05-18
curve = [ { pressure = "1.0 bar", torque = "40 N·m" }, { pressure = "6.0 bar", torque = "300 N·m" } ]
[tools.gauge]
id = "G-01"
span = "0 to 10 bar"
division = "0.1 bar"
[[tools]]
id = "W-02"
due = 2036-05-18
curve = [ { pressure = "1.0 bar", torque = "30 N·m" }, { pressure = "6.0 bar", torque = "280 N·m" } ]
[tools.gauge]
id = "G-02"
span = "0 to 10 bar"
division = "0.1 bar"
[procedure]
passes = ["50 %", "100 %"]
rest = "0 min"
check_rounds = 2
gap_places = 2
`

func with(section, lines string) func(string) string {
	return func(text string) string {
		if !strings.Contains(text, "["+section+"]\n") {
			return text + "[" + section + "]\n" + lines + "\n"
		}
		return strings.Replace(text, "["+section+"]\n", "["+section+"]\n"+lines+"\n", 1)
	}
}

// prepare writes the job and its card up to the place of the event.
func (e event) prepare(t *testing.T) (jobPath, cardPath string) {
	t.Helper()
	text := eventJob
	if e.job != nil {
		text = e.job(text)
	}
	dir := t.TempDir()
	jobPath = filepath.Join(dir, "joint.toml")
	if err := os.WriteFile(jobPath, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := job.Load(jobPath)
	if err != nil {
		t.Fatal(err)
	}
	plan, findings := j.Plan(joint.DateOf(time.Now()))
	if joint.Failed(findings) {
		t.Fatal(findings)
	}
	s, err := card.Begin(dir, "", sequence.CardOpened{Format: 1, Program: "test", JobFile: "joint.toml", JobSHA256: j.SHA256, Inputs: j.Inputs, Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	at := time.Now().Add(-e.ago - time.Minute)
	for range 200 {
		at = at.Add(100 * time.Millisecond)
		step := s.Walk.Next(at)
		if e.at(step) {
			if s.Path() == "" {
				return jobPath, ""
			}
			return jobPath, s.Path()
		}
		ev := sequence.Event{At: card.Stamp(at), By: "Ann", Data: plainly(s.Walk, step)}
		next, err := s.Walk.Apply(ev)
		if err == nil {
			err = s.Write(ev)
		}
		if err != nil {
			t.Fatal(err)
		}
		s.Walk = next
	}
	t.Fatal("the place of the event never came")
	return "", ""
}

// walker types at a program and reads from the card where the walk is.
type walker struct {
	*screen
	card string
	name string
}

// now is the walk as the card has it, whoever it was that worked before.
func (w *walker) now() (sequence.Walk, int) {
	w.t.Helper()
	if w.card == "" {
		found, _ := card.Find(filepath.Dir(w.cmd.Args[len(w.cmd.Args)-1]))
		if len(found) == 0 {
			j, err := job.Load(w.cmd.Args[len(w.cmd.Args)-1])
			if err != nil {
				w.t.Fatal(err)
			}
			plan, _ := j.Plan(joint.DateOf(time.Now()))
			walk, _ := sequence.New(&plan)
			return walk, 0
		}
		w.card = found[0]
	}
	c, err := card.Read(w.card)
	if err != nil {
		w.t.Fatal(err)
	}
	opened := c.Opened()
	walk, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil {
		w.t.Fatal(err)
	}
	return walk, len(c.Entries)
}

// shown sends a key and waits until the screen has changed, so that two keys
// never come as one.
func (w *walker) shown(k string) {
	length := func() int {
		w.mu.Lock()
		defer w.mu.Unlock()
		return len(w.raw)
	}
	before := length()
	w.send(k)
	for i := 0; i < 100 && length() == before; i++ {
		time.Sleep(5 * time.Millisecond)
	}
	time.Sleep(5 * time.Millisecond)
}

// quiet waits until the frame after a write is out: keys before it are dropped.
func (w *walker) quiet() {
	last := -1
	for range 40 {
		w.mu.Lock()
		n := len(w.raw)
		w.mu.Unlock()
		if n == last {
			return
		}
		last = n
		time.Sleep(50 * time.Millisecond)
	}
}

// types sends keys one by one and waits until the card has a line more.
func (w *walker) types(keys []string, before int) {
	w.t.Helper()
	for _, k := range keys {
		w.shown(k)
	}
	for range 600 {
		if _, n := w.now(); n > before {
			w.quiet()
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.t.Fatalf("%q wrote nothing; the screen had:\n%s", keys, w.text[max(0, len(w.text)-2500):])
}

// on goes on the straight way until a step comes.
func (w *walker) on(until func(sequence.Step) bool) sequence.Walk {
	w.t.Helper()
	reopened := true
	for range 400 {
		walk, n := w.now()
		if reopened {
			walk = walk.Reopened() // whoever opens a card signs on
		}
		step := walk.Next(time.Now())
		if _, ok := step.(sequence.Closed); ok || !reopened && until(step) {
			return walk
		}
		if _, ok := step.(sequence.Ask); ok {
			time.Sleep(400 * time.Millisecond) // a question has to be read
		}
		w.types(typed(walk, step, w.name), n)
		reopened = false
	}
	w.t.Fatal("the step never came")
	return sequence.Walk{}
}

func (e event) run(t *testing.T) {
	jobPath, cardPath := e.prepare(t)
	open1 := cardPath
	if open1 == "" {
		open1 = jobPath
	}
	w := &walker{open(t, "walk", "--key-rest", "1ms", "--ascii", open1), cardPath, "Ann"}
	w.wait("Who works")
	walk, n := w.now()
	if cardPath != "" {
		walk = w.on(e.at)
		_, n = w.now()
	}
	time.Sleep(300 * time.Millisecond) // a question has to be read
	w.types(e.keys(walk), n)
	if e.then != "" {
		w.name = e.then
	}
	walk = w.follow()
	if !walk.IsClosed() {
		t.Fatal("the card is not closed")
	}
	w.wait("THE CARD IS CLOSED")
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	out, err := exec.Command(program, "verify", w.card).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "WHOLE") || !strings.Contains(string(out), "closed") {
		t.Errorf("verify: %v\n%s", err, out)
	}
	out, err = exec.Command(program, "record", w.card).CombinedOutput()
	if err != nil {
		t.Errorf("record: %v", err)
	}
	text := strings.Join(strings.Fields(string(out)), " ")
	for _, want := range e.wants {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q:\n%s", want, out)
		}
	}
	for _, want := range e.twice {
		if strings.Count(text, want) < 2 {
			t.Errorf("the record does not say %q twice:\n%s", want, out)
		}
	}
}

// follow goes on to the end.
func (w *walker) follow() sequence.Walk {
	w.t.Helper()
	return w.until(stepIs[sequence.Closed])
}

// until goes on from a screen that is open until a step comes.
func (w *walker) until(until func(sequence.Step) bool) sequence.Walk {
	w.t.Helper()
	for range 400 {
		walk, n := w.now()
		step := walk.Next(time.Now())
		if until(step) {
			return walk
		}
		if _, ok := step.(sequence.Ask); ok {
			time.Sleep(400 * time.Millisecond)
		}
		w.types(typed(walk, step, w.name), n)
	}
	w.t.Fatal("the step never came")
	return sequence.Walk{}
}

// TestLeaveAndComeBack leaves in the middle of a pass, and comes back to the same
// bolt behind the question about the last marks.
func TestLeaveAndComeBack(t *testing.T) {
	e := event{at: inPass(2, 2)}
	jobPath, cardPath := e.prepare(t)
	w := &walker{open(t, "walk", "--key-rest", "1ms", jobPath), cardPath, "Ann"}
	w.wait("Who works")
	w.on(e.at)
	w.send("q")
	if err := w.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	again := &walker{open(t, "walk", "--key-rest", "1ms", jobPath), cardPath, "Ann"}
	again.wait("Who works now")
	walk, n := again.now()
	again.types(typed(walk, walk.Next(time.Now()), "Ann"), n)
	again.wait("Do the last marks on the flange match")
	if walk = again.follow(); !walk.IsClosed() {
		t.Error("the card is not closed")
	}
}

// TestEvents types every event that a site has, each in a walk of its own that
// goes on to the closed card, and reads the record.
func TestEvents(t *testing.T) {
	for _, e := range slices.Concat(boltEvents(), otherEvents()) {
		t.Run(e.name, func(t *testing.T) {
			t.Parallel()
			e.run(t)
		})
	}
}
