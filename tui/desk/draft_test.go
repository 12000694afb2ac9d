package desk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenload/data/draft"
	"evenload/data/job"
	"evenload/joint"
	"evenload/tui/draw"
)

var day = joint.Date{Year: 2026, Month: 11, Day: 25}

// works is a folder with a tool file.
func works(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "tools"), 0o755); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../../testdata/jobs/tools/w-11.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "tools", "w-11.toml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

func drafted(t *testing.T, d *draft.Draft, name string, ascii bool, w, h int) *drafting {
	t.Helper()
	theme, err := draw.NewTheme(name, ascii, true)
	if err != nil {
		t.Fatal(err)
	}
	m := newDrafting(d, theme, day)
	m.Update(tea.WindowSizeMsg{Width: w, Height: h})
	return m
}

// types sends keys by name, other texts letter by letter.
func types(m *drafting, all ...string) (last tea.Cmd) {
	for _, k := range all {
		named := false
		for _, t := range []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyUp, tea.KeyDown, tea.KeyTab, tea.KeyShiftTab, tea.KeyBackspace, tea.KeyCtrlC} {
			if (tea.KeyMsg{Type: t}).String() == k {
				_, last = m.Update(tea.KeyMsg{Type: t})
				named = true
			}
		}
		for _, r := range k {
			if !named {
				_, last = m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
			}
		}
	}
	return last
}

var answers = []string{"DH-112-F09", "enter", "Pump house 2", "enter", "16 in 300#", "enter", "B7", "enter", "nickel anti-seize", "enter", "spiral wound, stainless", "enter", "345 MPa root", "enter", "W-11", "enter"}

func TestGoldenDraft(t *testing.T) {
	for name, keys := range map[string][]string{
		"empty": nil, "flange": {"DH-112-F09", "enter", "enter", "8 in 3"}, "tool": answers[:14], "all": append(answers[:16:16], "enter", "enter", "enter", "enter"),
		"write": append(answers[:16:16], "enter", "enter", "enter", "enter", "enter"), "wrong": {"DH 112", "enter"}, "chosen": {"DH-112-F09", "enter", "enter", "8 in 3", "down"},
		"too-early": {"DH-112-F09", "shift+tab", "enter"}, "leave": {"DH-112-F09", "ctrl+c"},
		"good": {"DH-400-F1", "enter", "Pump house 3, header", "enter", "DN 400 PN 16", "enter", "8.8", "enter", "MoS2 paste", "enter", "enter", "45 %", "enter", "W-11", "enter", "1", "enter", "Eva Lind, 2026-11-02", "enter", "enter", "enter"},
	} {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			for _, look := range []struct {
				name, theme string
				ascii       bool
			}{{"dark", "dark", false}, {"mono", "mono", false}, {"ascii", "mono", true}} {
				dir := works(t)
				m := drafted(t, draft.New(dir), look.theme, look.ascii, size[0], size[1])
				types(m, keys...)
				frame := strings.ReplaceAll(m.View(), dir+string(filepath.Separator), "")
				golden(t, "draft-"+name+"-"+map[int]string{80: "80x24", 120: "120x40"}[size[0]]+"-"+look.name+".txt", frame)
			}
		}
	}
}

// TestDraftWritesJob: the answers become a job file without faults, and what is
// there is written over only with a key of its own.
func TestDraftWritesJob(t *testing.T) {
	dir := works(t)
	write := append(answers[:16:16], "enter", "enter", "enter", "enter", "enter")
	m := drafted(t, draft.New(dir), "mono", true, 80, 24)
	types(m, write...)
	msg := types(m, "y")()
	m.Update(msg)
	path := filepath.Join(dir, "DH-112-F09.toml")
	if m.written != path {
		t.Fatalf("written is %q (%s)", m.written, m.notice)
	}
	if _, err := job.Load(path); err != nil {
		t.Error(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	over := func() {
		m = drafted(t, draft.New(dir), "mono", true, 80, 24)
		types(m, write...)
		m.Update(types(m, "y")())
		if m.asking != askOver {
			t.Fatalf("over a file that is there: %v (%s)", m.asking, m.notice)
		}
	}
	if over(); strings.Contains(m.View(), "LOST") {
		t.Errorf("nothing is lost of a file that nobody approved:\n%s", m.View())
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "[joint]\n", "[joint]\npermit = \"P-1\"\napproved_by = \"Eva Lind\"\napproved_on = 2026-11-02\n", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if over(); !strings.Contains(ansi.Strip(m.View()), "LOST     the approval by Eva Lind on 2026-11-02, permit P-1") {
		t.Errorf("over an approved job:\n%s", m.View())
	}
	if cmd := types(m, "y"); cmd != nil {
		t.Error("y writes over a file: it may be held down")
	}
	m.Update(types(m, "o")())
	if m.written != path {
		t.Errorf("written over: %q (%s)", m.written, m.notice)
	}
}

// TestDraftKeepsTheRest: of a job that is changed only the answer changes.
func TestDraftKeepsTheRest(t *testing.T) {
	dir := works(t)
	path := filepath.Join(dir, "x.toml")
	before, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, before, 0o644); err != nil {
		t.Fatal(err)
	}
	d, err := draft.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	m := drafted(t, d, "mono", true, 80, 24)
	types(m, "tab")
	types(m, strings.Fields(strings.Repeat("backspace ", 60))...)
	types(m, "Pump house 3")
	for m.at != len(m.questions) {
		types(m, "tab")
	}
	types(m, "enter")
	m.Update(types(m, "y")())
	after, _ := os.ReadFile(path)
	want := strings.Replace(string(before), `"Pump house 2, return header, strainer outlet"`, `"Pump house 3"`, 1)
	if string(after) != want {
		t.Errorf("after one answer (%s) the file is\n%s", m.notice, after)
	}
}

// TestDraftStaysInItsWindow: whatever its size, and hostile text is shown, not run.
func TestDraftStaysInItsWindow(t *testing.T) {
	for w := 1; w < 140; w += 27 {
		for h := 1; h < 45; h += 11 {
			m := drafted(t, draft.New(works(t)), "mono", true, w, h)
			types(m, "DH-1", "tab", "a\u202e\x1b[2J", "tab", "8 in")
			view := m.View()
			if strings.ContainsAny(view, "\u202e") || strings.Contains(view, "\x1b[2J") || len(strings.Split(view, "\n")) > h {
				t.Fatalf("at %dx%d:\n%q", w, h, view)
			}
		}
	}
}

// TestDraftAsksBeforeAnswersAreLost: ctrl+c leaves at once where nothing was
// answered, else it asks.
func TestDraftAsksBeforeAnswersAreLost(t *testing.T) {
	leave := tea.KeyMsg{Type: tea.KeyCtrlC}
	m := drafted(t, draft.New(works(t)), "mono", true, 80, 24)
	if _, cmd := m.Update(leave); cmd == nil {
		t.Error("an empty form does not leave")
	}
	types(m, "DH-1")
	if _, cmd := m.Update(leave); cmd != nil || m.asking != askLeave {
		t.Error("the answer is lost")
	}
	types(m, "y", "enter")
	if m.asking != askLeave {
		t.Error("another key answers")
	}
	types(m, "n")
	if m.asking != noQuestion || m.inputs[0].Value() != "DH-1" {
		t.Errorf("back at %q", m.inputs[0].Value())
	}
	m.Update(leave)
	if _, cmd := m.Update(leave); cmd == nil {
		t.Error("the second one does not leave")
	}
}

// TestDraftLikeAnother: a job that is like another has all but its tag, and the
// other is left as it is.
func TestDraftLikeAnother(t *testing.T) {
	dir := works(t)
	other := filepath.Join(dir, "x.toml")
	before, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(other, before, 0o644); err != nil {
		t.Fatal(err)
	}
	like, err := draft.OpenTemplate(other)
	if err != nil {
		t.Fatal(err)
	}
	d, err := like.New(dir)
	if err != nil {
		t.Fatal(err)
	}
	m := drafted(t, d, "mono", true, 80, 24)
	types(m, "shift+tab", "enter")
	if m.asking != noQuestion || m.at != 0 {
		t.Fatal("a job without a tag is to be written")
	}
	types(m, "DH-NEW", "shift+tab", "enter")
	if view := m.View(); !strings.Contains(view, "tag; all else as in x.toml") {
		t.Errorf("asked is\n%s", view)
	}
	m.Update(types(m, "y")())
	j, err := job.Load(filepath.Join(dir, "DH-NEW.toml"))
	if err != nil || j.About.Tag != "DH-NEW" || j.About.Permit != "" || j.About.ApprovedBy != "" || j.Joint.Bolts != 12 {
		t.Errorf("%+v, %v (%s)", j.About, err, m.notice)
	}
	if after, _ := os.ReadFile(other); string(after) != string(before) {
		t.Error("the other job was changed")
	}
}

// TestOnlyNameIsTaken: where one name alone holds what is typed, it is marked and
// Enter takes it; a word that may be many things takes nothing.
func TestOnlyNameIsTaken(t *testing.T) {
	m := drafted(t, draft.New(works(t)), "mono", true, 80, 24)
	types(m, "DH-1", "enter", "enter", "8 in 3")
	if view := m.View(); !strings.Contains(view, "> ASME B16.5 NPS 8 class 300") {
		t.Errorf("not marked:\n%s", view)
	}
	types(m, "enter")
	if got := m.inputs[2].Value(); got != "ASME B16.5 NPS 8 class 300" || m.at != 3 {
		t.Errorf("taken is %q, at %d", got, m.at)
	}
	types(m, "B7")
	if view := m.View(); !strings.Contains(view, "taken as A193 B7") {
		t.Errorf("not said what B7 is:\n%s", view)
	}
	m.Update(tea.KeyMsg{Type: tea.KeyCtrlU})
	types(m, "own steel, 640 MPa")
	if view := m.View(); strings.Contains(view, "taken as") {
		t.Errorf("a grade of no table stands for one:\n%s", view)
	}
	for _, several := range []string{"8 in", "8 in 99"} {
		m.to(2)
		m.Update(tea.KeyMsg{Type: tea.KeyCtrlU})
		types(m, several, "enter")
		if got := m.inputs[2].Value(); got != several || m.at != 2 {
			t.Errorf("of several taken is %q, at %d", got, m.at)
		}
	}
	m.to(4)
	types(m, "grease", "enter")
	if got := m.inputs[4].Value(); got != "grease" || m.at != 4 || len(m.offered) == 0 {
		t.Errorf("of a word that may be many things taken is %q, at %d of %v", got, m.at, m.offered)
	}
}

// TestFieldIsCleared: ctrl+u takes all away.
func TestFieldIsCleared(t *testing.T) {
	m := drafted(t, draft.New(works(t)), "mono", true, 80, 24)
	types(m, "DH 1")
	if view := m.View(); !strings.Contains(view, "ctrl+u") {
		t.Errorf("not said:\n%s", view)
	}
	m.Update(tea.KeyMsg{Type: tea.KeyCtrlU})
	types(m, "DH-2")
	if got := m.inputs[0].Value(); got != "DH-2" {
		t.Errorf("left is %q", got)
	}
}

// TestDraftSaysWhatGoes: what an answer takes out, and that the approval goes with it,
// stands where the answer is, at 80x24 too; an answer that says the same takes nothing.
func TestDraftSaysWhatGoes(t *testing.T) {
	path := filepath.Join(works(t), "x.toml")
	if d, err := draft.Open(path); err != nil || !strings.Contains(drafted(t, d, "mono", true, 80, 24).View(), "a new job is begun: there is no file") {
		t.Errorf("that a new job is begun is not said: %v", err)
	}
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	text = []byte(strings.Replace(string(text), "[friction]\n", "[friction]\nnut_factor = 0.12\n", 1))
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		for answer, want := range map[string]struct {
			at       draft.Name
			has, not []string
		}{
			"nickel anti-seize": {draft.Lubricant, []string{"NOTE: friction.nut_factor 0.12 of the file stays"}, []string{" changed", " removed"}},
			"MoS2 paste":        {draft.Lubricant, []string{"WARNING: friction.nut_factor 0.12 of the file is gone", " changed", " removed"}, []string{"a new job"}},
			"machine oil":       {draft.ApprovedBy, []string{"WARNING: the approval by", "taken out: it was of", " removed"}, nil},
			"MoS2 grease":       {"", []string{"changed  lubricant; all else stays as it is, but for what is warned of below", "friction.nut_factor 0.12 of the file is gone", "the approval by"}, nil},
		} {
			d, err := draft.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			m := drafted(t, d, "mono", true, size[0], size[1])
			m.to(4)
			m.Update(tea.KeyMsg{Type: tea.KeyCtrlU})
			types(m, answer)
			for m.at < len(m.questions) && m.questions[m.at].Name != want.at {
				types(m, "tab")
			}
			if want.at == "" { // asked whether to write
				types(m, "enter")
			}
			view := m.View()
			for _, text := range want.has {
				if !strings.Contains(view, text) {
					t.Errorf("%v %s: %q is not said:\n%s", size, answer, text, view)
				}
			}
			for _, text := range want.not {
				if strings.Contains(view, text) {
					t.Errorf("%v %s: %q is said:\n%s", size, answer, text, view)
				}
			}
		}
	}
}
