package sequence

import "strings"

// When a question is asked.
const (
	AtGate     = "gate"     // before any work
	AtHandover = "handover" // when another person takes over
	AtResume   = "resume"   // when the work was left and bolts are marked
	AtParts    = "parts"    // when a bolt got new parts
	AtEnd      = "end"      // before the card is closed
)

// OnNo says what the answer no does. No question can be passed over.
type OnNo string

// What a no does.
const (
	StayOpen OnNo = "open"     // asked until somebody answers yes
	Override OnNo = "override" // open, or a named person releases it
	StopPage OnNo = "stop"     // the work stops until a new sign-on with a permit number
)

// Question is one pre-start or closing question. Yes means that it is safe.
type Question struct {
	ID         string `json:"id"`
	When       string `json:"when"`
	Heading    string `json:"heading"`
	Text       string `json:"text"`
	Why        string `json:"why"`
	IfNo       string `json:"if_no"`
	OnNo       OnNo   `json:"on_no"`
	Typed      string `json:"typed,omitempty"`       // what must be typed for yes
	MayNot     bool   `json:"may_not,omitempty"`     // "does not apply" is allowed, with a reason
	AfterBreak bool   `json:"after_break,omitempty"` // asked again after a long break
	Measured   bool   `json:"measured,omitempty"`    // answered by readings: of the alignment

	Asks []Asked `json:"asks,omitempty"` // what a yes has to tell
}

// OtherTag is told whoever types the end of another tag.
const OtherTag = "That is not how the tag of this job ends: stop and find the joint."

// TypedAnswer is the answer that typed characters stand for: those of another tag
// are a no, and stay on the card.
func (q Question) TypedAnswer(text string) Answered {
	a := Answered{Question: q.ID, Answer: Yes, Typed: text}
	if !strings.EqualFold(strings.TrimSpace(text), q.Typed) {
		a.Answer = No
	}
	return a
}

// OfWork says that a no has to tell which of the kinds of StopKinds it stands for.
func (q Question) OfWork() bool { return q.ID == workQuestion }
