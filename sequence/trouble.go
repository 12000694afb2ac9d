package sequence

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// What is wrong at a bolt.
type What string

// What can be wrong.
const (
	NoStall       What = "no_stall"
	NoLoad        What = "no_load"
	Seized        What = "seized"
	Broke         What = "broke"
	StudTurns     What = "stud_turns"
	StalledAtOnce What = "stalled_at_once"
	Missed        What = "missed"
	WrongBolt     What = "wrong_bolt"
	WrongPressure What = "wrong_pressure"
	GasketOut     What = "gasket_extruded"
	FacesTouch    What = "faces_touching"
	Injury        What = "injury"
	OtherTrouble  What = "other"
	Unfit         What = "unfit"
)

// follows is what a problem does to the walk.
type follows uint8

const (
	leaves follows = iota // the bolt is left, or put right at once
	takes                 // the bolt is out until its parts are replaced
	opens                 // a bolt that was marked is open again
	marks                 // a bolt out of order is marked as done
	holds                 // until a named person decides
	stops                 // the stop page
)

// Trouble is one entry of what can be wrong: first what to do with hands and
// air, then what the record needs, then what follows for the bolt.
type Trouble struct {
	What  What
	Key   string // that chooses it
	Name  string
	First string
	Needs string
	Rule  string

	follows follows
}

// Troubles is all that can be wrong at a bolt, in the order of the screen. How
// each shows, what is done first and what follows are common practice of the
// trade; how often a new bolt is tightened again is a rule of ours, for the
// engineer to change.
var Troubles = []Trouble{
	{NoStall, "1", "did not stall",
		"Release the trigger. Look at socket, foot and the hose before the next try.",
		"A note, where something was found.",
		"It counts as not done: do it again at once when the cause is gone, or leave it to the end of the pass.", leaves},
	{NoLoad, "2", "turns without load",
		"Release the trigger early: thread, stud or gasket gives way. Air off, then look.",
		"A note: how far it turned beside its neighbours.",
		"It counts as not done. A stripped thread or a stretched stud is out: choose unfit.", leaves},
	{Seized, "3", "seized or galled",
		"Release the trigger and add no pressure. Air off. Cut or split the nut, no tool on it again.",
		"The bolt, and the batch of the part that failed; the batch of the new ones when they are in.",
		"Stud and nuts are replaced. The new bolt is tightened at every pass that is done, then a check round over all bolts.", takes},
	{Broke, "4", "stud broke",
		"Release the trigger. Everybody stops. Air off. Keep the broken part, and look at the neighbours.",
		"The bolt, and the batch of the broken stud.",
		"The work is held: a named person decides. The new bolt is tightened at every pass that is done, then a check round over all bolts.", takes},
	{StudTurns, "5", "stud turns with the nut",
		"Release the trigger. Air off. Seat and restrain the backup wrench on the far nut.",
		"A note.",
		"It counts as not done: do it again at once with the far nut held, or leave it to the end of the pass.", leaves},
	{StalledAtOnce, "6", "stalled at once (first pass)",
		"Release the trigger. Free the tool by its own reverse, no hammer, no lever. Air off, then look.",
		"A note: crossed thread, stud on the ground of its hole, seized.",
		"It counts as not done: put it right by hand and do it again, or leave it to the end of the pass.", leaves},
	{Missed, "7", "missed an earlier bolt",
		"Release the trigger. Compare the marks on the flange with this screen.",
		"The number of the bolt.",
		"That bolt is open again and comes next. Then go on in order.", opens},
	{WrongBolt, "8", "wrong bolt was tightened",
		"Release the trigger. Read the number of the bolt on the flange.",
		"The number of the bolt.",
		"Do not slacken it. It is marked as done in this pass; go on in order. At full torque on a soft gasket tell the engineer.", marks},
	{WrongPressure, "9", "wrong pressure found",
		"Release the trigger. Socket off the nut. Touch no bolt that was done.",
		"What the gauge reads now, in the state of the chart.",
		"Neither repeat nor slacken: the engineer decides. The pressure is set again afterwards.", holds},
	{GasketOut, "a", "gasket comes out between the faces",
		"Release the trigger. Air off. Nobody in line with the gap.",
		"The bolt beside it, and a note.",
		"Add no torque: the engineer decides. Mostly a new gasket and a new start.", holds},
	{FacesTouch, "c", "flange faces touch",
		"Release the trigger. Air off. Measure the gap all round.",
		"The bolt beside it, and a note.",
		"Add no torque: it would bend the flange and not press the gasket. The engineer decides.", holds},
	{Injury, "d", "injury or near miss",
		"Release the trigger. Air off. Help first; leave the tool and the flange as they are.",
		"A note: what happened.",
		"The work stops for everybody. Only a new sign-on with a permit number opens it again.", stops},
	{OtherTrouble, "e", "other",
		"Release the trigger. Air off before you touch anything.",
		"A note: what is wrong.",
		"It counts as not done: do it again at once when it is put right, or leave it to the end of the pass.", leaves},
	{Unfit, "f", "unfit: stripped, stretched, short",
		"Release the trigger. Air off. No torque on it any more.",
		"The bolt, and the batch of the part; the batch of the new ones when they are in.",
		"Stud and nuts are replaced. The new bolt is tightened at every pass that is done, then a check round over all bolts.", takes},
}

// TroubleOf finds an entry.
func TroubleOf(what What) (Trouble, bool) {
	i := slices.IndexFunc(Troubles, func(t Trouble) bool { return t.What == what })
	if i < 0 {
		return Trouble{}, false
	}
	return Troubles[i], true
}

// UnsaidAt is the problem where it was never said at which bolt: it stops the work.
func (t Trouble) UnsaidAt() ProblemFound {
	return ProblemFound{What: OtherHazard, Reason: t.Name + ", not said at which bolt"}
}

// OrStop is a problem as somebody left it half said, or what stops the work in its place
// where the walk does not take it: what was found is on the card either way.
func (w Walk) OrStop(d ProblemFound, at time.Time) ProblemFound {
	if _, err := w.Apply(Event{At: at, By: w.operator, Data: d}); err == nil || d.Bolt == 0 {
		return d
	}
	return ProblemFound{What: OtherHazard, Reason: fmt.Sprintf("bolt %d: %s", d.Bolt, d.Words())}
}

// Where no bolt is at hand, this key beside those of what stops the work chooses what
// can show at any bolt.
const (
	ElsewhereKey  = "9"
	ElsewhereWord = "stud, gasket"
	ElsewhereName = "a stud broke, is seized or unfit; gasket or faces: at a bolt"
)

// TroublesAnywhere are those of Troubles that can show at any bolt.
func TroublesAnywhere() []Trouble {
	return slices.DeleteFunc(slices.Clone(Troubles), func(t Trouble) bool { return !t.Anywhere() })
}

// TroubleKeys are the keys of a list, as a key line shows them: "1 to f", "3, 4, a, c, f".
func TroubleKeys(of []Trouble) string {
	if len(of) == len(Troubles) {
		return of[0].Key + " to " + of[len(of)-1].Key
	}
	var keys []string
	for _, t := range of {
		keys = append(keys, t.Key)
	}
	return strings.Join(keys, ", ")
}

// Chooses says that the bolt is not the one at hand: its number is asked for.
func (t Trouble) Chooses() bool { return t.follows == opens || t.follows == marks }

// Stops says that the work stops for everybody.
func (t Trouble) Stops() bool { return t.follows == stops }

// Anywhere says that it can show at another bolt than the one at hand, and where no
// bolt is at hand: see Shows.
func (t Trouble) Anywhere() bool { return t.Grave() && !t.Stops() }

// StalledIsStill is said of a tool that stalls at once in a check round.
const StalledIsStill = "In a check round a nut that does not move is good: it is still."

// IsStill says that it is no problem at a step, but what is hoped for.
func (t Trouble) IsStill(at Step) bool {
	_, check := at.(Check)
	return check && t.What == StalledAtOnce
}

// Leaves says that the bolt is left, or put right at once.
func (t Trouble) Leaves() bool { return t.follows == leaves }

// Takes says that the bolt is out until its parts are replaced.
func (t Trouble) Takes() bool { return t.follows == takes }

// Grave says that the trouble stops or holds the work, or takes the bolt out, by
// being chosen: whatever else the record needs may come later, or never.
func (t Trouble) Grave() bool {
	return t.follows == takes || t.follows == stops || t.follows == holds && t.What != WrongPressure
}

// Noted says that the trouble is nothing without a note.
func (t Trouble) Noted() bool { return t.What == OtherTrouble || t.What == Injury }
