package tui

import (
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
	c.press("up", "backspace")
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
