package sequence

import (
	"fmt"
	"slices"
	"strings"
)

// What stops the work for everybody, beside what is wrong at a bolt.
const (
	UnderPressure What = "pressure"
	HotJoint      What = "hot"
	Leaking       What = "leak"
	Loosening     What = "loosening"
	LiveWork      What = "live"
	Tensioning    What = "tensioning"
	NotCovered    What = "not_covered"
	OtherHazard   What = "hazard"
)

// StopKind is one entry of what stops the work: no order is shown behind it.
type StopKind struct {
	What What
	Key  string // that chooses it
	Word string // for small windows
	Name string
	Now  string // what to do with hands and air
	Why  string // why this program does not go on
	Ask  string // whom
}

// StopKinds is all that stops the work, in the order of the screen (common practice).
var StopKinds = []StopKind{
	{UnderPressure, "1", "pressure", "pressure behind the joint, or not isolated",
		"Leave the nuts. Tool off the nut, air off. Everybody out of line with the gap.",
		"A moving nut lets out what is behind the joint.",
		"The area authority: isolate, vent, drain, prove at zero. Then the permit again."},
	{HotJoint, "2", "hot", "the joint is hot",
		"Hands off. Tool off the nut, air off.",
		"It burns, and bolts tightened hot hold another load when they are cold.",
		"The area authority: let it cool. Hot bolting has a procedure of its own, with a risk review by the responsible engineer."},
	{Leaking, "3", "leak", "the joint leaks",
		"Leave the nuts. Everybody back, out of line with the leak. Air off at the source if that is safe.",
		"A leak is not chased with a wrench: tightening under pressure can burst the joint.",
		"The area authority: take the pressure off first. Then the responsible engineer."},
	{Loosening, "4", "loosen", "nuts are to be loosened",
		"Tool off the nut, air off.",
		"Parts come free suddenly, and no chart tells the torque: here joints are tightened only.",
		"The site's procedure for breaking joints, and whoever keeps it."},
	{LiveWork, "5", "in service", "the joint is in service, bolts one by one",
		"Leave the nuts. Tool off the nut, air off.",
		"Bolts replaced or tightened again in service raise the stress of the others and can start a leak.",
		"The responsible engineer: it has a procedure and a risk review of its own."},
	{Tensioning, "6", "tensioner", "bolts are to be stretched by tensioners",
		"Tool off the nut, air off.",
		"Torque, order and pressures here hold for a torque wrench only.",
		"The responsible engineer, and the maker's instructions of the tensioners."},
	{NotCovered, "7", "clamp", "clamp connector, compact flange, steelwork or wheel nuts",
		"Tool off the nut, air off.",
		"They close in another way, or under another code: the order here does not fit them.",
		"The responsible engineer, and the maker's instructions of the connector."},
	{OtherHazard, "8", "other", "another hazard, or other work",
		"Leave the nuts. Everybody back.",
		"The work stops for everybody.",
		"The foreman and the area authority."},
}

// StopKindOf finds an entry.
func StopKindOf(what What) (StopKind, bool) {
	i := slices.IndexFunc(StopKinds, func(k StopKind) bool { return k.What == what })
	if i < 0 {
		return StopKind{}, false
	}
	return StopKinds[i], true
}

// Noted says that the kind is nothing without a note.
func (k StopKind) Noted() bool { return k.What == OtherHazard }

// NotSaid is the reason of a stop whose words never came.
const NotSaid = "what is wrong was not said"

// StopKeys are the keys of the list, as a key line shows them: "1 to 8", with ElsewhereKey
// "1 to 9".
func StopKeys(elsewhere bool) string {
	last := StopKinds[len(StopKinds)-1].Key
	if elsewhere {
		last = ElsewhereKey
	}
	return StopKinds[0].Key + " to " + last
}

// InjuryKey chooses an injury from the list of what stops the work; it has a page of its own.
func InjuryKey() string {
	t, _ := TroubleOf(Injury)
	return t.Key
}

// stopsOn is what the answer no to a question of a stop page stands for.
func stopsOn(q Question) What {
	switch q.ID {
	case "3":
		return UnderPressure
	case "4":
		return HotJoint
	}
	return OtherHazard
}

// hazard stops the work for everybody.
func (w *Walk) hazard(d ProblemFound) error {
	kind, isKind := StopKindOf(d.What)
	trouble, isTrouble := TroubleOf(d.What)
	switch note := strings.TrimSpace(d.Reason); {
	case d.What != "" && !isKind && !(isTrouble && trouble.Stops()):
		return fmt.Errorf("say at which bolt")
	case note == "" && (!isKind || kind.Noted()):
		return fmt.Errorf("say in a word what is wrong")
	}
	return w.stop(d.Words(), d.What)
}

// Words says what to do, why the work stops and whom to ask, each with its label.
func (s Stop) Words() []Told {
	kind, ok := StopKindOf(s.What)
	if !ok {
		kind, _ = StopKindOf(OtherHazard)
	}
	if s.What == Injury {
		kind.Now = "Help first. Air off. Leave the tool and the flange as they are."
		kind.Ask = "First aid and the emergency number of the site. Then the foreman and the area authority."
	}
	return []Told{{"Now", kind.Now}, {"Why", kind.Why}, {"Ask", kind.Ask}}
}
