package tui

import (
	"slices"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/sequence"
)

// TestSignOnTakesTwoEnters: what may be said of a person beside the name costs
// no key where nothing is said.
func TestSignOnTakesTwoEnters(t *testing.T) {
	c := reach(t, "sign-on")
	c.write("Carl Holm")
	c.press("enter", "enter")
	if c.s.Walk.Operator() != "Carl Holm" || c.written() != "signed_on" {
		t.Errorf("wrote %q (%s)", c.written(), c.root.notice)
	}
}

// TestSignOnWithPapers: all of it stands on the card; a day that is none is
// asked for again, with all that was typed.
func TestSignOnWithPapers(t *testing.T) {
	c := reach(t, "sign-on-more")
	c.press("up", "backspace")
	c.write("x")
	c.press("enter", "enter")
	if c.written() != "" || !strings.Contains(c.root.notice, "is not a date") {
		t.Fatalf("a day that is none: wrote %q (%s)", c.written(), c.root.notice)
	}
	c.press("backspace") // the cursor is where it was refused
	c.write("1")
	c.press("enter", "enter")
	want := sequence.SignedOn{Name: "Carl Holm", Second: "Bo Lund", Role: "technician", Company: "Works crew 2", Qualification: "BT-114",
		QualifiedUntil: joint.Date{Year: 2036, Month: 3, Day: 31}, Supervisor: "Eva Lind"}
	if got := c.last(); got != want {
		t.Errorf("on the card is %#v (%s)", got, c.root.notice)
	}
	if frame := c.root.View(); !strings.Contains(frame, "TRAINEE with Eva Lind") {
		t.Errorf("the supervisor is not on the screen:\n%s", frame)
	}
}

// TestHandover: who takes over answers the handover questions and sets the
// pressure before the next bolt; where nothing is said of the flange, the work
// does not change hands.
func TestHandover(t *testing.T) {
	c := reach(t, "bolt-12-middle")
	next := c.root.step.(sequence.Tighten).Bolts[0]
	if c.press("h", "enter"); c.written() != "" || !strings.Contains(c.root.notice, "what is on the flange") {
		t.Fatalf("nothing said: wrote %q (%s)", c.written(), c.root.notice)
	}
	c.press("esc")
	if _, back := c.root.step.(sequence.Tighten); !back || c.root.screen.Typing() {
		t.Fatal("esc does not go back to the bolt")
	}
	c.press("h")
	c.write("tool off")
	c.press("enter")
	if s, ok := c.root.step.(sequence.SignOn); !ok || s.OnFlange != "tool off" {
		t.Fatalf("after the handover the step is %#v", c.root.step)
	}
	c.write("Carl Holm")
	c.press("enter", "enter", "y", "y", "y")
	if _, ok := c.root.step.(sequence.Set); !ok {
		t.Fatalf("after the questions the step is %#v", c.root.step)
	}
	c.write("3.4")
	c.press("enter", "enter")
	if b, ok := c.root.step.(sequence.Tighten); !ok || b.Bolts[0] != next {
		t.Errorf("the step is %#v, bolt %d was next", c.root.step, next)
	}
	for from, keys := range map[string][]string{"gaps-uneven": {"h"}, "gaps-final": {"m", "h"}, "stretch": append(slices.Repeat([]string{"backspace"}, 5), "h")} {
		c = reach(t, from)
		c.press(keys...)
		if !strings.Contains(c.root.View(), "HAND OVER") {
			t.Errorf("h does not hand over at %s:\n%s", from, c.root.View())
		}
	}
	c = reach(t, "hand-over-set")
	if c.press("esc", "3", "."); c.root.screen.Typing() {
		c.press("h")
	}
	if strings.Contains(c.root.View(), "HAND OVER") {
		t.Error("a letter within a reading hands over")
	}
}
