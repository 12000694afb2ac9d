// Package walk has the screens of the walk, one file a stage. A screen draws a
// step and turns keys into what the operator wants; it decides nothing.
package walk

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// View is what every screen draws from. It is large, so that screens get its address, and
// change nothing in it.
type View struct {
	Walk   sequence.Walk
	Step   sequence.Step
	Now    time.Time
	Theme  draw.Theme
	System unit.System
	Seal   string // of the card so far
	Rounds string // how many check rounds to expect, an estimate; empty where there is none
	Width  int
	Height int
}

// Screen is one stage on the terminal.
type Screen interface {
	// Key takes a key and gives what the operator wants by it.
	Key(k tea.KeyMsg, v *View) (Screen, Want)
	// Frame draws the screen.
	Frame(v *View) draw.Frame
	// Typing says that letters are text here: only ctrl+c leaves.
	Typing() bool
}

// Want is what a key asks for. The zero Want is nothing.
type Want struct {
	Event  sequence.Data // to be accepted, written and shown
	Marks  bool          // Event marks a bolt: it counts only after a rest of the keys
	Gate   bool          // Event answers a question: not in the first moments of its frame
	Help   bool
	Hazard bool // something at the joint stops the work
	Leave  bool
	Again  bool   // the screen is to be made anew: a practice has gone on
	Notice string // to be shown
}

// For gives the screen of a step.
func For(v *View) Screen {
	switch s := v.Step.(type) {
	case sequence.SignOn:
		return newSignOn(false)
	case sequence.Stop:
		return newSignOn(true)
	case sequence.Ask:
		return newAsk(s, v)
	case sequence.Materials:
		return newMaterials(v.System)
	case sequence.Snug:
		return snug{}
	case sequence.GapCheck:
		return newGaps(s, v.System)
	case sequence.Set:
		return newSet(s)
	case sequence.Tighten:
		return tighten{}
	case sequence.Check:
		return check{}
	case sequence.Rest:
		return newRest()
	case sequence.Release:
		return newRelease(s)
	case sequence.Stretch:
		return newStretch(v.System)
	case sequence.LeakTest:
		return leakTest{}
	case sequence.Close:
		return newCloseCard()
	}
	return closed{}
}

// hidesTag says that the end of the tag is to be read off the joint, now or as soon
// as somebody has signed on.
func hidesTag(v *View) bool {
	switch s := v.Step.(type) {
	case sequence.Ask:
		return s.Question.Typed != ""
	case sequence.SignOn, sequence.Stop:
		return v.Walk.At(v.Now).AsksTag()
	}
	return false
}

// head is line 1 of every screen.
func head(v *View) (left, right string) {
	a := v.Walk.Plan().About
	left = a.Tag
	if hidesTag(v) {
		left = v.Walk.Plan().HiddenTag() // its end is asked for at the joint
	}
	if a.ApprovedBy == "" {
		left += "   UNAPPROVED"
	}
	if who := v.Walk.Supervisor(); who != "" {
		left += "   TRAINEE with " + who
	}
	if a.Where != "" {
		left += "   " + a.Where
	}
	return visible.Text(left), sequence.Title(v.Step)
}

// frame begins a frame with line 1 filled.
func frame(v *View) draw.Frame {
	left, right := head(v)
	return draw.Frame{Left: left, Right: right}
}

// inSmall puts what a step is about in the place of a body that a small window has no
// room for: must, which is read before any key is pressed, then more. Where must finds no
// room either, the keys of second rank go first, which work all the same, and then a
// caution that says nothing of this step alone.
func inSmall(f draw.Frame, v *View, must, more []string, general bool) draw.Frame {
	room := func() int {
		g := f
		g.Keys = append(slices.Clone(f.Keys), draw.Key{Key: "ctrl+p", Does: "hazard"}) // the router adds it
		return g.Room(v.Width, v.Height, v.Theme) - len(f.Fields)
	}
	full := 0 // without empty lines, which go first
	for _, line := range f.Body {
		if strings.TrimSpace(line) != "" {
			full++
		}
	}
	// Room keeps two lines for a message: it may push off the end of the body, not must
	// behind a heading.
	if full <= room()+2 && len(must)+2 <= room() {
		return f
	}
	f.Body = indent(append(slices.Clone(must), more...), 1)
	if len(must) > room() {
		f.Keys = slices.DeleteFunc(f.Keys, func(k draw.Key) bool { return k == keyHand || k == keyNote || k.Key == toolKey })
	}
	if len(must) > room() && general {
		f.Caution = ""
	}
	return f
}

// wrapped wraps sentences for inSmall.
func wrapped(v *View, sentences ...string) []string {
	var lines []string
	for _, s := range sentences {
		lines = append(lines, draw.Wrap(visible.Text(s), max(20, v.Width-3))...)
	}
	return lines
}

// Keys that many screens share.
var (
	keyHelp  = draw.Key{Key: "?", Does: "help"}
	keyQuit  = draw.Key{Key: "q", Does: "leave"}
	keyCtrlC = draw.Key{Key: "ctrl+c", Does: "leave"}
	keyUndo  = draw.Key{Key: "u", Does: "undo"}
	keyWrong = draw.Key{Key: "p", Does: "problem"}
	keyHand  = draw.Key{Key: "h", Does: "handover"}
	keyNote  = draw.Key{Key: "n", Does: "note"}
	keyTool  = draw.Key{Key: "t", Does: "tool"}
)

// common takes the keys that mean the same on every screen without text.
func common(k tea.KeyMsg) (Want, bool) {
	switch k.String() {
	case "?":
		return Want{Help: true}, true
	case "q", "ctrl+c":
		return Want{Leave: true}, true
	case "p":
		return Want{Hazard: true}, true
	}
	return Want{}, false
}

// isDone says that a key is the one large key. Enter is none: it ends a field,
// and one too many of it would mark a bolt.
func isDone(k tea.KeyMsg) bool { return k.String() == " " }
