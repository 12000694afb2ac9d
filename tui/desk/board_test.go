package desk

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/board"
	"evenload/joint"
	"evenload/sequence"
	"evenload/tui/draw"
)

var update = flag.Bool("update", false, "write testdata/golden anew")

var now = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// summaries are a works' folder with one of every sort.
func summaries() []board.Summary {
	at := now.Add(-20 * time.Minute)
	one := func(tag string, stage sequence.Stage, change func(*board.Summary)) board.Summary {
		s := board.Summary{Path: tag + ".20261125-aaaaaa.card.jsonl", Kind: board.Card, ID: tag, Hash: tag, Lines: 40, Tag: tag, Where: "Pump house 2", Approved: true, Bolts: 12,
			Stage: stage, Operator: "Ann Berg", Working: true, Silence: 30 * time.Minute, LastAt: at, LastBy: "Ann Berg", Last: "pass 2, bolt 7 done",
			Touches: []board.Touch{{Tool: "W-07", Gauge: "G-14", Day: joint.DateOf(at), Pass: 1, What: board.Tightened, Bolts: []sequence.Bolt{1, 2, 3, 7}}}}
		change(&s)
		return s
	}
	none := func(*board.Summary) {}
	return []board.Summary{
		one("DH-112-F03", sequence.StagePass, func(s *board.Summary) { s.Pass, s.Of, s.Share, s.Done = 2, 3, 0.6, 5 }),
		one("DH-112-F04", sequence.StageRest, func(s *board.Summary) { s.RestEnds = now.Add(-time.Hour) }),
		one("DH-112-F05", sequence.StageRest, func(s *board.Summary) { s.RestEnds = now.Add(2 * time.Hour) }),
		one("DH-118-F01", sequence.StageCheck, func(s *board.Summary) {
			s.Round, s.Done = 2, 3
			s.Holds = []board.Wait{{For: "engineer", Why: "Nuts still moved in check round 4, the last one planned.", Rank: 2}}
		}),
		one("DH-118-F02", sequence.StageClosed, none),
		one("DH-120-F07", sequence.StagePass, func(s *board.Summary) { s.Damage, s.Line = "the hash does not fit", 31 }),
		{Path: "DH-131-F09.toml", Kind: board.Job, Tag: "DH-131-F09", Bolts: 8},
		one("DH-\u202e140\x1b[2J", sequence.StageGate, none),
	}
}

func boardOf(t *testing.T, q board.Recall, name string, ascii bool, w, h int) *boardModel {
	t.Helper()
	theme, err := draw.NewTheme(name, ascii, true)
	if err != nil {
		t.Fatal(err)
	}
	m := newBoard(context.Background(), "/works/cards", nil, q, theme, func() time.Time { return now })
	m.Update(tea.WindowSizeMsg{Width: w, Height: h})
	m.take(arrived{some: summaries(), ended: true, err: func() error { return nil }})
	m.next.Settle()
	m.Update(settled{})
	return m
}

func pressed(m *boardModel, keys ...string) {
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		for _, named := range []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyUp, tea.KeyDown, tea.KeyPgDown} {
			if (tea.KeyMsg{Type: named}).String() == k {
				msg = tea.KeyMsg{Type: named}
			}
		}
		m.Update(msg)
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("../../testdata/golden", name)
	got = strings.ReplaceAll(got, "\x1b[", "{") + "\n"
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil || got != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
	}
}

func TestGoldenBoard(t *testing.T) {
	record := opened{"DH-112-F03", strings.Repeat("1   2026-11-25 08:00:00   Ann Berg   pass 1, bolt 1 done\n", 60), nil}
	for name, reach := range map[string]func(*boardModel){
		"rows": func(*boardModel) {}, "help": func(m *boardModel) { pressed(m, "?") }, "filter": func(m *boardModel) { pressed(m, "/", "1", "1", "8") },
		"waiting": func(m *boardModel) { pressed(m, "f", "f", "s") }, "record": func(m *boardModel) { m.Update(record); pressed(m, "pgdown") },
		"none": func(m *boardModel) { pressed(m, "/", "z", "z", "enter") },
	} {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			for theme, ascii := range map[string]bool{"dark": false, "mono": false, "ascii": true} {
				if ascii {
					theme = "mono"
				}
				m := boardOf(t, board.Recall{}, theme, ascii, size[0], size[1])
				reach(m)
				file := "board-" + name + "-" + map[int]string{80: "80x24", 120: "120x40"}[size[0]] + "-" + map[bool]string{true: "ascii", false: theme}[ascii] + ".txt"
				golden(t, file, m.View())
			}
		}
	}
	golden(t, "board-unknown-tool-80x24-ascii.txt", boardOf(t, board.Recall{Tool: "W-70"}, "mono", true, 80, 24).View())
	golden(t, "board-tool-80x24-ascii.txt", boardOf(t, board.Recall{Tool: "W-07"}, "mono", true, 80, 24).View())
}

// TestBoardStaysInItsWindow: whatever its size, and nothing unclean reaches the terminal.
func TestBoardStaysInItsWindow(t *testing.T) {
	for w := 1; w < 140; w += 7 {
		for h := 1; h < 45; h += 3 {
			for _, keys := range [][]string{nil, {"?"}, {"/", "d"}, {"f", "down", "down"}} {
				m := boardOf(t, board.Recall{}, "mono", true, w, h)
				pressed(m, keys...)
				view := m.View()
				if strings.Contains(view, "\u202e") || strings.Contains(view, "[2J\x1b") || strings.Contains(view, "\x1b[2J") {
					t.Fatalf("hostile text at %dx%d:\n%q", w, h, view)
				}
				lines := strings.Split(view, "\n")
				if len(lines) > h {
					t.Fatalf("%d lines at %dx%d", len(lines), w, h)
				}
			}
		}
	}
}

// TestBoardKeys: sorting, filtering and choosing.
func TestBoardKeys(t *testing.T) {
	m := boardOf(t, board.Recall{}, "mono", true, 80, 24)
	if len(m.lines) != 8 || m.chosen().row.Tag != "DH-120-F07" {
		t.Fatalf("%d rows, the first %+v", len(m.lines), m.chosen())
	}
	pressed(m, "s") // by joint
	if got := m.lines[len(m.lines)-2].row.Tag; got != "DH-131-F09" {
		t.Errorf("by joint the last but one is %s", got)
	}
	pressed(m, "f", "f", "f", "f")
	if len(m.lines) != 1 || m.lines[0].row.Tag != "DH-118-F02" {
		t.Errorf("closed: %+v", m.lines)
	}
	pressed(m, "esc", "/", "w-07", "enter")
	if len(m.lines) != 7 || m.typing {
		t.Errorf("with the tool: %d rows", len(m.lines))
	}
	pressed(m, "esc")
	if len(m.lines) != 8 {
		t.Errorf("all: %d rows", len(m.lines))
	}
	pressed(m, "/")
	m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("enter"), Paste: true})
	m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("enter")})
	if got := m.filter.Value(); got != "enterenter" || !m.typing {
		t.Errorf("a word that came at once: %q, typing %v", got, m.typing)
	}
}

// TestRecallSaysItsDay: rows before it are missing.
func TestRecallSaysItsDay(t *testing.T) {
	m := boardOf(t, board.Recall{Tool: "W-07", Since: day}, "mono", true, 80, 24)
	if view := m.View(); !strings.Contains(view, "TOUCHED BY W-07 since 2026-11-25") {
		t.Errorf("not said:\n%s", view)
	}
}

// TestRecordKeepsItsTables: in a window that is too narrow a table is cut with a mark and
// moved sideways to its own end, its first cell in place; facts and paragraphs are
// wrapped and stay.
func TestRecordKeepsItsTables(t *testing.T) {
	text, err := os.ReadFile("../../testdata/golden/record-everything.txt")
	if err != nil {
		t.Fatal(err)
	}
	const said = "Torque is not load and this paragraph is longer than the window is wide, so that it goes on below: to the end."
	m := boardOf(t, board.Recall{}, "mono", true, 80, 24)
	m.Update(opened{"DH-220-D1", said + "\n\n" + string(text), nil})
	shows := func(want ...string) string {
		t.Helper()
		var lines []string
		for l := range strings.SplitSeq(ansi.Strip(m.View()), "\n") {
			lines = append(lines, strings.TrimRight(l, " "))
		}
		view := strings.Join(lines, "\n") + "\n"
		for _, w := range want {
			if !strings.Contains(view, w) {
				t.Errorf("no %q in\n%s", w, view)
			}
		}
		return view
	}
	keys := func(n int, k tea.KeyType) {
		for range n {
			m.Update(tea.KeyMsg{Type: k})
		}
	}
	first := shows(" is wide, so\n that it goes on below: to the end.\n", " drawing        DH-2231 rev A\n", "left right sideways", " lubricant      MoS2 paste, nut factor 0.14 (job)\n")
	keys(1, tea.KeyPgDown)
	facts := []string{" job file       drain-4.toml SHA-256\n", "                00\n", " rest           30 min planned; from 2026-11-25 09:24:20 to 2026-11-25\n                09:54:40\n"}
	shows(facts...)
	keys(1, tea.KeyRight)
	shows(append(facts, " PEOPLE  ~")...)
	keys(1, tea.KeyLeft)
	keys(1, tea.KeyPgDown)
	shows(" PASSES AS DONE  tool  wanted    set to   gives     band              read at~\n", " round 1.2     after the passes  -                                 4.8 bar ru~\n")
	keys(1, tea.KeyRight)
	shows(" PASSES AS DONE  ~")
	keys(30, tea.KeyRight)
	aside := shows(" PASSES AS DONE  ~", "  bolts done\n", "  4 of 4\n", " round 1.1     ~", "  not looked at\n")
	keys(1, tea.KeyRight)
	if shows() != aside {
		t.Error("it is moved beyond its end")
	}
	keys(30, tea.KeyLeft)
	pressed(m, "g")
	if shows() != first {
		t.Error("it is not moved back")
	}
	keys(30, tea.KeyRight)
	m.Update(tea.WindowSizeMsg{Width: 130, Height: 40})
	if m.View(); m.aside != m.mostAside() || m.aside == 0 {
		t.Errorf("in a wider window it is moved by %d of %d", m.aside, m.mostAside())
	}
	keys(30, tea.KeyLeft)
	shows(said+"\n", "SHA-256 0000000000000000000000000000000000000000000000000000000000000000\n")
}

// TestRecordStaysInItsWindow: whatever its size, however far its tables are moved, and when
// the window changes meanwhile.
func TestRecordStaysInItsWindow(t *testing.T) {
	text, err := os.ReadFile("../../testdata/golden/record-everything.txt")
	if err != nil {
		t.Fatal(err)
	}
	for w := 1; w < 140; w += 7 {
		for h := 1; h < 45; h += 4 {
			m := boardOf(t, board.Recall{}, "mono", true, w, h)
			m.Update(opened{"DH-1", string(text) + "\n\nthe \u202ename  \x1b[2J of 漢字漢字 " + strings.Repeat("漢字  ", 40), nil})
			for i := range 9 {
				if i == 6 {
					m.Update(tea.WindowSizeMsg{Width: w + 20, Height: h})
					m.Update(tea.WindowSizeMsg{Width: w, Height: h})
				}
				view := m.View()
				lines := strings.Split(view, "\n")
				if len(lines) > h || strings.Contains(view, "\u202e") || strings.Contains(view, "\x1b[2J") {
					t.Fatalf("%d lines at %dx%d:\n%q", len(lines), w, h, view)
				}
				for _, l := range lines {
					if ansi.StringWidth(l) > w {
						t.Fatalf("a line of %d cells at %dx%d: %q", ansi.StringWidth(l), w, h, l)
					}
				}
				m.Update(tea.KeyMsg{Type: []tea.KeyType{tea.KeyRight, tea.KeyPgDown}[i%2]})
			}
		}
	}
}

// TestForksAreToldApart: the file of the chosen row stands in full, or with its end, where
// two rows of one joint read the same.
func TestForksAreToldApart(t *testing.T) {
	m := newBoard(context.Background(), "/works/cards", nil, board.Recall{}, draw.Theme{}, func() time.Time { return now })
	m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	var forks []board.Summary
	ends := []string{"-from-the-laptop-of-crew-1.card.jsonl", "-from-the-laptop-of-crew-2.card.jsonl"}
	for i, name := range ends {
		s := summaries()[3]
		s.Path, s.Hash = "2026/heating-period/pump-house-2/north-of-the-river/DH-118-F01.20261125-aaaaaa"+name, name
		s.Holds = append(s.Holds, board.Wait{For: "witness", Why: "a long wait that fills the room below the table with its many words, as those of a real joint do", Rank: 3})
		s.Done += i
		forks = append(forks, s)
	}
	m.take(arrived{some: forks, ended: true, err: func() error { return nil }})
	m.next.Settle()
	m.Update(settled{})
	seen := map[string]bool{}
	for range forks {
		file := strings.Join(strings.Fields(ansi.Strip(strings.Join(m.told(*m.chosen(), m.toldLines()), "\n"))), "")
		if !strings.Contains(file, m.chosen().row.Path) {
			t.Errorf("no %s in\n%s", m.chosen().row.Path, m.View())
		}
		seen[m.chosen().row.Path] = true
		pressed(m, "down")
	}
	if len(seen) != 2 {
		t.Errorf("rows of %v", seen)
	}
	m.Update(tea.WindowSizeMsg{Width: 50, Height: 24})
	if view := ansi.Strip(m.View()); !strings.Contains(view, "2.card.jsonl") && !strings.Contains(view, "1.card.jsonl") {
		t.Errorf("the end of the file is not there:\n%s", view)
	}
}

// TestFilterStaysInSight: what the rows are filtered by stands there as long as it holds.
func TestFilterStaysInSight(t *testing.T) {
	m := boardOf(t, board.Recall{}, "mono", true, 80, 24)
	rows := len(strings.Split(m.View(), "\n"))
	pressed(m, "/", "w-07", "enter")
	if view := ansi.Strip(m.View()); !strings.Contains(view, "Filter  [ w-07 ]") || len(strings.Split(view, "\n")) != rows {
		t.Errorf("the filter is not said:\n%s", view)
	}
	pressed(m, "esc")
	if view := m.View(); strings.Contains(view, "Filter") {
		t.Errorf("a filter that is gone is said:\n%s", view)
	}
}
