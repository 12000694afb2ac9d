package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence/practice"
	"evenload/tui/draw"
)

// atBench is a practice at the bench, with keys typed.
func atBench(t testing.TB, level int, th draw.Theme, keys ...string) *bench {
	t.Helper()
	l, _ := practice.LevelOf(level)
	jobs, err := job.Practice()
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := jobs[l.Joint].Plan(joint.DateOf(morning))
	plan.System = unit.SI
	b := practice.NewBench(practice.Setup{Level: l, Seed: 3}, plan)
	m := newBench(b, func() ([]unit.Compliance, unit.Compliance, error) { return report.Closures(jobs[l.Joint]) }, Options{Theme: th})
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	m.Update(m.Init()())
	m.enter(keys...)
	return m
}

func (m *bench) enter(keys ...string) {
	for _, k := range keys {
		if named := key(k); len(named.Runes) > 1 {
			for _, r := range k {
				m.Update(key(string(r)))
			}
		} else {
			m.Update(named)
		}
	}
}

// Answers, key by key, to the first tasks of both levels.
var (
	signedOn = []string{"Ann Berg", "enter"}
	oneBolt  = []string{"1.9", "enter", "1", "enter", " ", "3.1", "enter", "1", "enter", " ", "4.8", "enter", "2", "enter", " ", "3", "enter", " "}
	twoBolts = []string{" ", "3", "enter", " ", "2", "enter", " ", "2", "enter", " "}
)

// benches are the screens at the bench.
func benches() []screen {
	at := func(level int, keys ...string) func(testing.TB, draw.Theme) tea.Model {
		return func(t testing.TB, th draw.Theme) tea.Model {
			return atBench(t, level, th, append(signedOn[:2:2], keys...)...)
		}
	}
	return []screen{
		{name: "bench-sign-on", other: func(t testing.TB, th draw.Theme) tea.Model { return atBench(t, 1, th) }},
		{name: "bench-chart", other: at(1)},
		{name: "bench-chart-wrong", other: at(1, "2.4", "enter")},
		{name: "bench-after", other: at(1, oneBolt[:4]...)},
		{name: "bench-equal-torque", other: at(1, oneBolt[:15]...)},
		{name: "bench-five-studs", other: at(1, oneBolt[:17]...)},
		{name: "bench-neighbour", other: at(2, twoBolts[:1]...)},
		{name: "bench-neighbour-fell", other: at(2, twoBolts[:3]...)},
		{name: "bench-mark", other: at(2, twoBolts...)},
	}
}

// TestBenchToItsMark: both levels end at a mark of 100 % when done right, and at less
// after a wrong answer; leaving early is not finished.
func TestBenchToItsMark(t *testing.T) {
	th := theme(t, "mono", true, false)
	for level, keys := range map[int][]string{1: oneBolt, 2: twoBolts} {
		m := atBench(t, level, th, append(signedOn[:2:2], keys...)...)
		if !m.screen.Finished() || m.practice.Mark(true).Total != 100 || m.screen.Trainee() != "Ann Berg" {
			t.Errorf("level %d: %+v\n%s", level, m.practice.Mark(true), m.View())
		}
		if head, _, _ := strings.Cut(m.View(), "\n"); !strings.Contains(head, "PRACTICE on a model, not your flange") {
			t.Errorf("line 1 is %q", head)
		}
	}
	m := atBench(t, 1, th, append(signedOn[:2:2], append([]string{"2.4", "enter", " "}, oneBolt[2:]...)...)...)
	if !m.screen.Finished() || m.practice.Mark(true).Total >= 100 {
		t.Errorf("%+v\n%s", m.practice.Mark(true), m.View())
	}
	m = atBench(t, 1, th, append(signedOn[:2:2], oneBolt[:5]...)...)
	if _, cmd := m.Update(key("q")); cmd != nil || !strings.Contains(m.View(), "q again leaves") {
		t.Errorf("q leaves a practice without a word:\n%s", m.View())
	}
	m.Update(key("9"))
	if _, cmd := m.Update(key("q")); cmd != nil {
		t.Error("q leaves that was not pressed twice in a row")
	}
	if _, cmd := m.Update(key("q")); cmd == nil || m.screen.Finished() {
		t.Error("leaving early is taken for the end")
	}
	m = atBench(t, 1, th, append(signedOn[:2:2], "?")...)
	if !strings.Contains(m.View(), "HELP") {
		t.Errorf("? does not help:\n%s", m.View())
	}
}
