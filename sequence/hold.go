package sequence

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenload/joint/unit"
)

// HoldAt says where in the job a hold point is.
type HoldAt string

// The places of a hold point.
const (
	HoldAfterGate   HoldAt = "gate"
	HoldBeforePass  HoldAt = "pass"
	HoldBeforeRest  HoldAt = "rest"
	HoldBeforeClose HoldAt = "close"
)

// Hold is a hold point: the work stops there until a witness, who never was
// operator on the card, releases it.
type Hold struct {
	Name string `json:"name"` // as the job names it
	At   HoldAt `json:"at"`
	Pass int    `json:"pass,omitempty"` // 1 the first, with HoldBeforePass
}

// HoldPoints are those that a job with these passes can have, in the order of
// the work. There is none before a rest that the job does not have.
func HoldPoints(passes []unit.Share, rest bool) []Hold {
	all := []Hold{{Name: "gate", At: HoldAfterGate}}
	for i, share := range passes {
		all = append(all, Hold{Name: "before " + share.Text(), At: HoldBeforePass, Pass: i + 1})
	}
	if rest {
		all = append(all, Hold{Name: "before rest", At: HoldBeforeRest})
	}
	return append(all, Hold{Name: "before close", At: HoldBeforeClose})
}

// checkHolds guards against a card whose plan was written by hand: a hold point
// that the walk never comes to would hold nothing.
func checkHolds(plan *Plan) error {
	for i, h := range plan.Hold {
		known := h.At == HoldAfterGate || h.At == HoldBeforeClose || h.At == HoldBeforeRest && plan.Rest > 0 ||
			h.At == HoldBeforePass && h.Pass >= 1 && h.Pass <= len(plan.Passes)
		if !known || slices.ContainsFunc(plan.Hold[:i], func(other Hold) bool { return other.Name == h.Name }) {
			return fmt.Errorf("the plan has the hold point %q twice, or at no place of this job", h.Name)
		}
	}
	return nil
}

// holdIn is which hold point a phase may begin with.
var holdIn = map[phase]HoldAt{phaseSnug: HoldAfterGate, phasePass: HoldBeforePass, phaseRest: HoldBeforeRest, phaseEnd: HoldBeforeClose}

// holdAt is the hold point where the walk stands, and that nobody has released.
func (w *Walk) holdAt() (Release, bool) {
	at := holdIn[w.phase]
	for i, h := range w.plan.Hold {
		if h.At == at && w.holds[i] == "" && (at != HoldBeforePass || h.Pass == w.pass+1) {
			return Release{Of: OfHold, Place: w.place(), Hold: h.Name}, true
		}
	}
	return Release{}, false
}

// releaseHold lets the work go on after a hold point. Whoever worked the tool
// on this card cannot witness it.
func (w *Walk) releaseHold(s Release, d Released) error {
	if d.Hold != s.Hold {
		return fmt.Errorf("the hold point here is %q", s.Hold)
	}
	if w.worked(d.Name) {
		return fmt.Errorf("%s worked on this joint: a hold point is released by somebody who did not", strings.TrimSpace(d.Name))
	}
	i := slices.IndexFunc(w.plan.Hold, func(h Hold) bool { return h.Name == s.Hold })
	if i < 0 {
		return errors.New("the plan has no such hold point")
	}
	w.holds = with(w.holds, i, d.Name)
	return nil
}

// holdWords say what a hold point is for.
func (r Release) holdWords() []string {
	return []string{fmt.Sprintf("Hold point: %s.", r.Hold),
		"The work stops here until a witness has looked and releases it: somebody who never worked the tool on this card.",
		"What was looked at stands in the record."}
}

// ReasonWord is what a named person is asked for beside name and role.
func (r Release) ReasonWord() string {
	if r.Of == OfHold {
		return "Looked at"
	}
	return "Reason"
}
