package tui

import (
	"os"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// pace is how long the crew of a trial takes for a bolt.
const pace = 40 * time.Second

// TestMain keeps the zone of the machine out of the frames.
func TestMain(m *testing.M) {
	time.Local = time.UTC
	os.Exit(m.Run())
}

// trial is a walk that is brought to a screen by events and keys, by a clock
// that only the trial moves.
type trial struct {
	t    testing.TB
	now  time.Time
	by   string
	s    *card.Session
	root *root
}

// Jobs that the screens are shown with.
const (
	four   = "../data/job/practice/1-four-bolts.toml"
	eight  = "../testdata/jobs/pump-house-6in-150.toml" // US units, a gauge in psi
	twelve = "../testdata/jobs/strainer-8in-300.toml"
	filter = "../testdata/jobs/filter-cover-10.toml" // rectangular, no ring
	cover  = "../testdata/jobs/exchanger-cover-32.toml"
)

func start(t testing.TB, path string, changes ...func(*sequence.Plan)) *trial {
	t.Helper()
	j, err := job.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return startJob(t, j, changes...)
}

func startJob(t testing.TB, j job.Job, changes ...func(*sequence.Plan)) *trial {
	t.Helper()
	plan, _ := j.Plan(joint.DateOf(morning))
	for _, change := range changes {
		change(&plan)
	}
	s, err := card.Begin(t.TempDir(), "", sequence.CardOpened{Format: 1, Program: "evenload", Plan: plan})
	if err != nil {
		t.Fatal(err)
	}
	return &trial{t: t, now: morning, by: "Ann Berg", s: s}
}

// held gives a plan all hold points that it can have.
func held(p *sequence.Plan) {
	var passes []unit.Share
	for _, pass := range p.Passes {
		passes = append(passes, pass.Share)
	}
	p.Hold = sequence.HoldPoints(passes, p.Rest > 0)
}

// atRest makes the chart one of readings at rest.
func atRest(p *sequence.Plan) { p.Tools[0].Reading = joint.Static }

// do has events accepted, one each pace.
func (c *trial) do(all ...sequence.Data) *trial {
	c.t.Helper()
	for _, d := range all {
		c.now = c.now.Add(pace)
		next, err := c.s.Walk.Apply(sequence.Event{At: c.now, By: c.by, Data: d})
		if err != nil {
			c.t.Fatalf("%#v: %v", d, err)
		}
		c.s.Walk = next
	}
	return c
}

// to goes the straight way until a step is next.
func (c *trial) to(here func(sequence.Step) bool) *trial {
	c.t.Helper()
	for range 1000 {
		step := c.s.Walk.Next(c.now)
		if here(step) {
			return c
		}
		if c.s.Walk.IsClosed() {
			break
		}
		c.do(straight(step))
	}
	c.t.Fatal("the straight way does not come to that step")
	return c
}

// straight answers a step the straight way.
func straight(s sequence.Step) sequence.Data {
	switch s := s.(type) {
	case sequence.SignOn:
		return sequence.SignedOn{Name: "Ann Berg", Second: "Bo Dahl"}
	case sequence.Ask:
		if s.Question.Measured {
			return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Measured: &sequence.Alignment{Offset: 0.0008}}
		}
		return sequence.Answered{Question: s.Question.ID, Answer: sequence.Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
	case sequence.Materials:
		warm := unit.Temperature(12)
		return sequence.MaterialsNoted{Gasket: "G-4471", Ambient: &warm}
	case sequence.Snug:
		return sequence.Snugged{}
	case sequence.GapCheck:
		g := sequence.GapsMeasured{}
		for _, b := range s.Places {
			g.Readings = append(g.Readings, sequence.Gap{Bolt: b, Gap: 0.0032})
		}
		if !s.All {
			g.Readings = g.Readings[:2]
		}
		g.Readings[0].Gap = 0.0034
		return g
	case sequence.Set:
		if s.Tool.Reading == joint.Static {
			return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Static: s.Set}
		}
		return sequence.PressureSet{AtEnd: s.AtEnd, Tool: s.Slot, Running: s.Set}
	case sequence.Tighten:
		return sequence.BoltDone{Pass: s.Pass, Bolts: s.Bolts}
	case sequence.Check:
		return sequence.NutStill{Round: s.Round, Bolt: s.Bolt}
	case sequence.Stretch:
		return sequence.StretchMeasured{Bolt: s.Bolt, Stretch: s.Expected, Load: unit.Force(float64(s.Expected) / float64(s.Give))}
	case sequence.LeakTest:
		return sequence.LeakTested{Result: sequence.Tight, Sheet: "T-12"}
	case sequence.Release:
		return sequence.Released{Of: s.Of, Hold: s.Hold, Named: engineer}
	case sequence.Rest:
		return sequence.RestWaived{Named: engineer}
	}
	return sequence.CardClosed{Witness: "Wim Falk", Role: "inspector"}
}

var engineer = sequence.Named{Name: "Eva Lind", Role: "responsible engineer", Reason: "agreed on site"}

// show puts up the screen of the step that is next, and lets it stand a while.
func (c *trial) show() *trial {
	c.root = newRoot(c.s, Options{KeyRest: 1200 * time.Millisecond, Now: func() time.Time { return c.now }})
	c.root.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	c.now = c.now.Add(5 * time.Second)
	return c
}

// key makes the message of a key by its name.
func key(name string) tea.KeyMsg {
	for _, t := range []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyBackspace, tea.KeyUp, tea.KeyDown, tea.KeyCtrlC, tea.KeyCtrlP, tea.KeyCtrlT, tea.KeyCtrlZ, tea.KeyCtrlV, tea.KeyF1} {
		if k := (tea.KeyMsg{Type: t}); k.String() == name {
			return k
		}
	}
	if name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press presses keys, two seconds apart, and has each event written before the
// next. It gives the message that the last key ended in, nil for none.
func (c *trial) press(names ...string) tea.Msg {
	c.t.Helper()
	var end tea.Msg
	for _, name := range names {
		c.now = c.now.Add(2 * time.Second)
		end = c.settle(c.send(key(name)))
	}
	return end
}

// send gives a message to the screen, by the clock as it stands.
func (c *trial) send(m tea.Msg) tea.Cmd {
	_, cmd := c.root.Update(m)
	return cmd
}

// settle runs a command and what follows from it.
func (c *trial) settle(cmd tea.Cmd) tea.Msg {
	var m tea.Msg
	for cmd != nil {
		m = cmd()
		if _, ok := m.(recorded); !ok {
			return m
		}
		cmd = c.send(m)
	}
	return m
}

// write types a text into the field at hand.
func (c *trial) write(text string) {
	for _, r := range text {
		c.press(string(r))
	}
}

// theme makes a theme that there is.
func theme(t testing.TB, name string, ascii, styles bool) draw.Theme {
	t.Helper()
	th, err := draw.NewTheme(name, ascii, styles)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// reach gives a screen by its name.
func reach(t testing.TB, name string) *trial {
	t.Helper()
	for _, s := range screens() {
		if s.name == name {
			return s.reach(t)
		}
	}
	t.Fatalf("no screen is called %s", name)
	return nil
}

// written is the kind of the last event on the card, empty without a card.
func (c *trial) written() sequence.Kind {
	c.t.Helper()
	if c.s.Path() == "" {
		return ""
	}
	read, err := card.Read(c.s.Path())
	if err != nil {
		c.t.Fatal(err)
	}
	return read.Entries[len(read.Entries)-1].Event.Data.Kind()
}

// last is what was written to the card last.
func (c *trial) last() sequence.Data {
	c.t.Helper()
	read, err := card.Read(c.s.Path())
	if err != nil {
		c.t.Fatal(err)
	}
	return read.Entries[len(read.Entries)-1].Event.Data
}

// tell says something to all that a yes has to tell.
func tell(q sequence.Question) (all []string) {
	for _, a := range q.Asks {
		all = append(all, a.Label+" S-14")
	}
	return all
}
