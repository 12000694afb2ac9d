package tui

import (
	"testing"

	"evenload/sequence"
)

// Keys pressed, and characters typed beside them, for a clean job of 12 bolts in 3
// passes, from the sign-on to the closed card. The guide for who works on the
// program has these figures too.
const (
	keysOfCleanJob       = 125
	charactersOfCleanJob = 96
)

// TestKeystrokesOfCleanJob presses every key that the job needs, and no other.
func TestKeystrokesOfCleanJob(t *testing.T) {
	c := start(t, twelve).show()
	keys, characters := 0, 0
	press := func(k string) { keys++; c.press(k) }
	field := func(text string) {
		characters += len(text)
		if text != "" {
			c.write(text)
		}
		press("enter")
	}
	for range 400 {
		switch s := c.root.step.(type) {
		case sequence.SignOn:
			field("Ann")
			field("")
		case sequence.Ask:
			if s.Question.Typed != "" {
				field(s.Question.Typed)
			} else {
				press("y")
			}
		case sequence.Snug, sequence.Tighten, sequence.Check:
			press(" ")
		case sequence.GapCheck:
			if s.All {
				for range s.Places {
					field(".12")
				}
				continue
			}
			for _, text := range []string{".12", "1", ".12", "4"} {
				field(text)
			}
		case sequence.Set:
			field(s.Set.Reading(s.Tool.Gauge.Unit, s.Tool.Gauge.Division))
			if !s.AtEnd {
				field("")
			}
		case sequence.Rest:
			c.now = s.Until.Add(pace)
			press(" ")
		case sequence.Close:
			field("Wim")
			field("inspector")
		case sequence.Closed:
			t.Logf("%d keys, %d characters", keys, characters)
			if keys != keysOfCleanJob || characters != charactersOfCleanJob {
				t.Errorf("a clean job takes %d keys and %d characters, %d and %d are said", keys, characters, keysOfCleanJob, charactersOfCleanJob)
			}
			return
		default:
			t.Fatalf("%T is no step of a clean job (%s)", s, c.root.notice)
		}
	}
	t.Fatal("the job does not end: ", c.root.notice)
}
