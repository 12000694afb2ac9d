package plain

import (
	"flag"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/sequence"
)

var update = flag.Bool("update", false, "write the golden file anew: read the difference before it is kept")

// TestWholeWalk: from sign-on to the closed card, every line said and typed.
func TestWholeWalk(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), straight...)
	if !w.Walk.IsClosed() {
		t.Errorf("the card is not closed")
	}
	got := strings.Replace(w.text, "seal "+w.Seal(), "seal SEAL", 1)
	hold(t, "walk-plain.txt", got)
	if text, ok := report.Verify(w.Path()); !ok || !strings.Contains(text, ": closed, ") {
		t.Error(text)
	}
}

// TestSentencesOfTheScreens: the cautions and hints that every screen shows
// are said here too.
func TestSentencesOfTheScreens(t *testing.T) {
	o := drain(t)
	o.Plan.About.ApprovedBy = ""
	lines := slices.Concat(toPass1, set1, []string{"p", "1", "1", "nut runs dry", "d", "d", "d", "r", "Eva", "engineer", "seen", "2.7"},
		gaps1, set2, []string{"p", "p", "a leak", "Ann", "", "P-3371", "q"})
	stopped := walk(t, t.TempDir(), o, lines...)
	stopped.says(t, "UNAPPROVED", sequence.SiteFirst, sequence.OnlyFor, sequence.SnugHint, sequence.SnugWatch, sequence.GapHint, sequence.SetCaution,
		"Turn UP to 2.7 bar while the tool runs free (in band 2.62 to 2.81 bar, gives 55.6 N·m, chart made running)", sequence.TooHighWord,
		sequence.TightenHint, "GAUGE 2.7 bar running, torque 55.6 N·m, foot 0.46 kN on its stop; 0 of 4 done", "BOLT 1, then 3, then 2",
		sequence.ProblemHint, sequence.ReleaseHint, "HELD: Bolt 1 was left undone: did not stall, nut runs dry",
		"Read the gauge again while the tool runs free", sequence.HeldWord, sequence.StopHint)
	closed := walk(t, t.TempDir(), o, straight...)
	closed.says(t, sequence.CheckHint, sequence.StillWord, sequence.RestHint, sequence.CloseHint)
	for _, q := range o.Plan.Questions {
		if q.When == sequence.AtGate || q.When == sequence.AtEnd {
			closed.says(t, "QUESTION: "+q.Text, "WHY: "+q.Why, "IF NO: "+q.IfNo)
		}
	}
}

// TestInputEnds: at any line the walk ends, says so, and goes on at the same
// step when the card is opened again.
func TestInputEnds(t *testing.T) {
	for n := range len(straight) {
		w := walk(t, t.TempDir(), drain(t), straight[:n]...)
		left := "LEFT: the card goes on at the same place\n"
		if n < 2 {
			left = "LEFT: nobody signed on, so that no card was made\n"
		}
		w.says(t, left)
		if strings.Contains(w.text, "NOT TAKEN") {
			t.Fatalf("after %d lines:\n%s", n, w.text)
		}
		if n < 2 {
			if w.Path() != "" {
				t.Errorf("looking left %s behind", w.Path())
			}
			continue
		}
		w.last(t) // the operator left
		at := morning.Add(time.Hour)
		s, err := card.Resume(w.Path(), "", "", at)
		if err != nil {
			t.Fatal(err)
		}
		if signOn, ok := s.Walk.Next(at).(sequence.SignOn); !ok || signOn.Before != "Ann" {
			t.Errorf("after %d lines the card goes on with %#v", n, s.Walk.Next(at))
		}
		again := typeInto(t, s, "q") // nobody signed on: nothing to write down
		if c, _ := card.Read(w.Path()); c.Seal() != w.Seal() || strings.Contains(again.text, "NOT TAKEN") {
			t.Errorf("looking at an open card changed it:\n%s", again.text)
		}
	}
}

// TestTagIsNotShownWhereItIsAsked: who opens a card that a hazard stopped reads
// the tag off the joint.
func TestTagIsNotShownWhereItIsAsked(t *testing.T) {
	for name, c := range map[string]struct {
		lines []string
		shown bool
	}{"stopped": {slices.Concat(toPass1, set1, []string{"stop", "a leak", "q"}), false}, "at a bolt": {slices.Concat(toPass1, set1, []string{"q"}), true}} {
		w := walk(t, t.TempDir(), drain(t), c.lines...)
		at := morning.Add(10 * time.Minute)
		s, err := card.Resume(w.Path(), "", "", at)
		if err != nil {
			t.Fatal(err)
		}
		again := typeInto(t, s, "q")
		if shown := strings.Contains(again.text, "JOINT: DH-220-D1"); shown != c.shown {
			t.Errorf("%s: the whole tag is shown: %v\n%s", name, shown, again.text)
		}
	}
}
