// Package walk has the screens of the walk, one file a stage. A screen draws a
// step and turns keys into what the operator wants; it decides nothing.
package walk

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/tui/draw"
)

// View is what every screen draws from.
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
	Key(k tea.KeyMsg, v View) (Screen, Want)
	// Frame draws the screen.
	Frame(v View) draw.Frame
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
func For(v View) Screen {
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

// head is line 1 of every screen.
func head(v View) (left, right string) {
	a := v.Walk.Plan().About
	left = a.Tag
	if ask, ok := v.Step.(sequence.Ask); ok && ask.Question.Typed != "" {
		left = v.Walk.Plan().HiddenTag()
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
func frame(v View) draw.Frame {
	left, right := head(v)
	return draw.Frame{Left: left, Right: right}
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
