package tui

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
)

// rings of the practice joints, computed once.
var rings = sync.OnceValues(func() (all []*interaction.Bolts, err error) {
	jobs, err := job.Practice()
	for _, j := range jobs {
		ring, fault := report.Ring(j)
		all, err = append(all, ring), errors.Join(err, fault)
	}
	return all, err
})

// practised is a practice of a level, whose model is there.
func practised(t testing.TB, level int, seed uint64, scatter bool) *trial {
	t.Helper()
	l, _ := practice.LevelOf(level)
	jobs, err := job.Practice()
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := jobs[l.Joint].Plan(joint.DateOf(morning))
	plan.System = unit.SI
	s, err := card.Begin(t.TempDir(), "", sequence.CardOpened{Format: 1, Program: "evenload", Practice: true, Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	c := &trial{t: t, now: morning, by: "Ann Berg", s: s}
	run := practice.New(practice.Setup{Level: l, Seed: seed, Scatter: scatter}, s.Walk.Plan())
	c.root = newRoot(s, Options{Now: func() time.Time { return c.now.Add(run.Ahead()) }, Practice: run,
		Model: func() (*interaction.Bolts, error) { all, err := rings(); return all[l.Joint], err }})
	c.root.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	c.send(c.root.model())
	return c
}

// trainee does by what he reads on the screen until one shows a text.
func (c *trial) trainee(until string, wrong ...string) *trial {
	c.t.Helper()
	shown := ""
	for range 4000 {
		shown = c.line()
		if strings.Contains(shown, until) {
			return c
		}
		if keys := c.keysFor(shown, wrong); !c.typed(keys) {
			break
		}
	}
	c.t.Fatalf("%q never came; the screen shows\n%s", until, c.root.View())
	return c
}

// line is the whole frame on one line.
func (c *trial) line() string {
	c.send(tea.WindowSizeMsg{Width: 120, Height: 50})
	text := strings.Join(strings.Fields(escapeCodes.ReplaceAllString(c.root.View(), "")), " ")
	c.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return text
}

var escapeCodes = regexp.MustCompile(`\x1b\[[0-9;]*m`)

func (c *trial) typed(keys []string) bool {
	for _, k := range keys {
		if named := key(k); len(named.Runes) > 1 {
			c.write(k)
		} else {
			c.press(k)
		}
	}
	return len(keys) > 0
}

var (
	feeler = regexp.MustCompile(`(\d+): (\d+\.\d+)`)
	needle = regexp.MustCompile(`([\d.]+) on the black scale`)
	plate  = regexp.MustCompile(`plate on the flange reads (\S+)(...)\. `)
)

func (c *trial) keysFor(shown string, wrong []string) []string {
	slip := func(kind string) bool { return len(wrong) > 0 && wrong[0] == kind }
	switch s := c.root.step.(type) {
	case sequence.SignOn:
		return []string{"Ann Berg", "enter", "enter"}
	case sequence.Closed:
		return nil
	default:
		if keys := c.keysForTask(shown, slip); keys != nil {
			return keys
		}
		return c.keysForStep(s, shown, slip)
	}
}

func (c *trial) keysForTask(shown string, slip func(string) bool) []string {
	switch {
	case strings.Contains(shown, "SPACE go on"):
		return []string{" "}
	case strings.Contains(shown, "READ THE CHART"):
		s := c.root.step.(sequence.Set)
		return []string{s.Set.Reading(s.Tool.Gauge.Unit, s.Tool.Gauge.Division), "enter"}
	case strings.Contains(shown, "THE REGULATOR"):
		if strings.Contains(shown, "still, trigger") {
			return []string{"2", "enter"}
		}
		return []string{"1", "enter"}
	case strings.Contains(shown, "A STILL NUT"):
		return []string{"2", "enter"}
	case strings.Contains(shown, "WHICH BOLT"):
		n := 0
		if s, ok := c.root.step.(sequence.Check); ok {
			n = int(s.Bolt)
		} else if s := c.root.step.(sequence.Tighten); len(s.Bolts) == 1 {
			n = int(s.Bolts[0])
		} else {
			return []string{fmt.Sprint(s.Bolts[0]), " ", fmt.Sprint(s.Bolts[1]), "enter"}
		}
		if slip("order") {
			n = n%c.s.Walk.Plan().Bolts + 1
		}
		return []string{fmt.Sprint(n), "enter"}
	}
	return nil
}

func (c *trial) keysForStep(step sequence.Step, shown string, slip func(string) bool) []string {
	switch s := step.(type) {
	case sequence.Ask:
		if m := plate.FindStringSubmatch(shown); s.Question.Typed != "" && m != nil {
			return []string{m[2], "enter"}
		}
		if c.s.Walk.At(c.now).LastAnswered() == s.Question.ID {
			return nil
		}
		if isWrong(shown) && !slip("question") {
			return []string{"n"}
		}
		return []string{"y"}
	case sequence.GapCheck:
		return gapKeys(s, shown)
	case sequence.Set:
		keys := []string{needle.FindStringSubmatch(shown)[1], "enter"}
		if !s.AtEnd {
			keys = append(keys, "enter")
		}
		return keys
	case sequence.Tighten:
		if strings.Contains(shown, "does not stall") && !slip("no load") {
			if len(s.Turns) > 1 {
				return []string{"p", "a", "2", "2", "enter"}
			}
			return []string{"p", "2", "2", "enter"}
		}
		return []string{" "}
	case sequence.Check:
		if strings.Contains(shown, "turns a little") {
			return []string{"m"}
		}
		return []string{" "}
	case sequence.Release:
		return []string{"r", "Eva Lind", "enter", "engineer", "enter", "seen", "enter"}
	case sequence.Close:
		return []string{"Wim Falk", "enter", "inspector", "enter"}
	}
	return []string{" "}
}

func gapKeys(s sequence.GapCheck, shown string) []string {
	if s.Over != nil {
		return []string{"a", "Eva Lind", "enter", "engineer", "enter", "seen", "enter"}
	}
	_, shown, _ = strings.Cut(shown, "Feeler gauge")
	shown, _, _ = strings.Cut(shown, ". ")
	var keys []string
	widest, narrowest := -1, -1
	all := feeler.FindAllStringSubmatch(shown, -1)
	value := func(i int) float64 { v, _ := strconv.ParseFloat(all[i][2], 64); return v }
	for i := range all {
		keys = append(keys, all[i][2], "enter")
		if widest < 0 || value(i) > value(widest) {
			widest = i
		}
	}
	for i := range all {
		if i != widest && (narrowest < 0 || value(i) < value(narrowest)) {
			narrowest = i
		}
	}
	if s.All {
		return keys
	}
	return []string{all[widest][2], "enter", all[widest][1], "enter", all[narrowest][2], "enter", all[narrowest][1], "enter"}
}

// isWrong says that what there is to see at a question is not as it should be.
func isWrong(shown string) bool {
	_, seen, _ := strings.Cut(shown, "YOU SEE")
	for _, word := range []string{"yesterday", "has just come", "each for himself", "scratch", "was in before", "springs", "halfway down", "are dry", "another tool",
		"hang on one", "twice as long", "no pin", "half full", "other way round", "conduit"} {
		if at := strings.Index(seen, word); at >= 0 && at < 200 {
			return true
		}
	}
	return false
}

// addPractice are the screens of a practice.
func addPractice(add func(string, func(testing.TB) *trial)) {
	at := func(level int, seed uint64, until string, wrong ...string) func(testing.TB) *trial {
		return func(t testing.TB) *trial { return practised(t, level, seed, false).trainee(until, wrong...) }
	}
	add("practice-sign-on", func(t testing.TB) *trial { return practised(t, 3, 4, false) })
	add("practice-waiting", func(t testing.TB) *trial {
		c := practised(t, 3, 4, false)
		c.root.opt.Practice = practice.New(c.root.opt.Practice.Setup, c.s.Walk.Plan())
		c.typed([]string{"Ann Berg", "enter", "enter"})
		return c
	})
	add("practice-no-model", func(t testing.TB) *trial {
		c := practised(t, 3, 4, false)
		c.typed([]string{"Ann Berg", "enter", "enter"})
		c.send(modelled{nil, errors.New("the joint has bolts that are no ring")})
		return c
	})
	add("practice-gate", at(3, 4, "GATE 7 of 18"))
	add("practice-wrong", at(3, 4, "WRONG", "question"))
	add("practice-gaps", at(4, 4, "Feeler gauge, mm, beside bolt"))
	add("practice-chart", at(4, 4, "READ THE CHART"))
	add("practice-chart-wrong", after(at(4, 4, "READ THE CHART"), "3.0", "enter"))
	add("practice-regulator", at(4, 4, "THE REGULATOR"))
	add("practice-set", at(4, 4, "YOU SEE The tool runs free"))
	next := func(t testing.TB) *trial {
		c := practised(t, 5, 3, false).trainee("WHICH BOLT NEXT?")
		for c.s.Walk.At(c.now).MarkOf(1) != sequence.MarkDone {
			c.typed(c.keysFor(c.line(), nil))
		}
		return c.trainee("WHICH BOLT NEXT?")
	}
	add("practice-next", after(next, "down", "down"))
	add("practice-next-wrong", after(next, "2", "enter"))
	add("practice-bolt", at(5, 3, "YOU SEE The tool slows down"))
	add("practice-after", at(5, 3, "AFTER THE STALL"))
	add("practice-no-load", at(5, 3, "YOU SEE The tool does not stall"))
	add("practice-away", at(5, 3, "YOU ARE CALLED AWAY"))
	add("practice-check", at(3, 4, "YOU SEE The nut turns a little"))
	add("practice-still-nut", at(3, 4, "A STILL NUT"))
	add("practice-still-wrong", after(at(3, 4, "A STILL NUT"), "1", "enter"))
	add("practice-rest", at(3, 4, "THE GASKET RESTS"))
	add("practice-mark", at(3, 4, "YOUR MARK"))
	add("practice-mark-missed", at(3, 4, "YOUR MARK", "order"))
	add("practice-groups", at(6, 2, "AFTER THE STALL"))
	add("practice-groups-next", at(6, 2, "f let the model"))
	add("practice-odd", at(7, 2, "AFTER THE STALL"))
	add("practice-team-next", at(8, 2, "WHICH BOLTS NEXT?"))
	add("practice-team", at(8, 2, "YOU SEE The tools slow down"))
}
