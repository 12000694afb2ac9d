package sequence

import (
	"encoding/json"
	"fmt"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// Event is one thing that happened: when, who says so, and what. The Walk
// accepts it or not; the card keeps it.
type Event struct {
	At   time.Time
	By   string
	Data Data
}

// Data is what happened: one of the types of this file, no other.
type Data interface{ Kind() Kind }

// Kind is the name of an event in the card.
type Kind string

// CardOpened is the first event of every card. It freezes all that the walk
// needs, so that a card never depends on the job file or a later version.
type CardOpened struct {
	Format        int      `json:"format"`
	Program       string   `json:"program"`
	Practice      bool     `json:"practice,omitempty"`
	OffsetMinutes int      `json:"offset_minutes"` // of local time from UTC
	JobFile       string   `json:"job_file"`
	JobSHA256     string   `json:"job_sha256"`
	Inputs        []Input  `json:"inputs"`
	Follows       *Follows `json:"follows,omitempty"` // the card before it on this joint
	Plan          Plan     `json:"plan"`
}

// Input is one value of the resolved job, as printed, with where it came from.
type Input struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Origin string `json:"origin"` // job, default
}

// SignedOn: a person takes the walk. A permit number reopens a stop page.
type SignedOn struct {
	Name   string `json:"name"`
	Role   string `json:"role,omitempty"`
	Second string `json:"second,omitempty"` // the second person
	Permit string `json:"permit,omitempty"`

	Company        string     `json:"company,omitempty"`
	Qualification  string     `json:"qualification,omitempty"`  // its id
	QualifiedUntil joint.Date `json:"qualified_until,omitzero"` // the last day on which it counts
	Supervisor     string     `json:"supervisor,omitempty"`     // of a trainee, who signs on with one
}

// Answer to a pre-start question.
type Answer string

// The answers.
const (
	Yes           Answer = "yes"
	No            Answer = "no"
	NotApplicable Answer = "not applicable"
)

// Answered: one question was answered. Typed holds what a question that wants
// typing got, Reason why it does not apply.
type Answered struct {
	Question string `json:"question"`
	Answer   Answer `json:"answer"`
	Typed    string `json:"typed,omitempty"`
	Reason   string `json:"reason,omitempty"`

	Measured *Alignment `json:"measured,omitempty"` // of a question that is measured
	Told     []string   `json:"told,omitempty"`     // with a yes, in the order of what the question asks
}

// MaterialsNoted: the batches of what goes into the joint. What is empty was
// not recorded.
type MaterialsNoted struct {
	Gasket    string            `json:"gasket,omitempty"`
	Stud      string            `json:"stud,omitempty"`
	Nut       string            `json:"nut,omitempty"`
	Lubricant string            `json:"lubricant,omitempty"`
	Ambient   *unit.Temperature `json:"ambient_C,omitempty"`
}

// Snugged: all nuts are snug, in star order by hand.
type Snugged struct{}

// PressureSet: the gauge was read, before the bolts of a pass or a series of
// check rounds, or at the end of a pass. A pressure of 0 was not read.
type PressureSet struct {
	AtEnd   bool          `json:"at_end,omitempty"`
	Tool    int           `json:"tool"` // slot, 0 the first
	Running unit.Pressure `json:"running_Pa"`
	Static  unit.Pressure `json:"static_Pa,omitempty"`
	Sure    bool          `json:"sure,omitempty"` // a doubtful reading was looked at again
}

// ByChart is the reading in the state in which the tool's chart was made.
func (d PressureSet) ByChart(t joint.Tool) unit.Pressure {
	if t.Reading == joint.Static {
		return d.Static
	}
	return d.Running
}

// BoltDone: the tool stalled on the bolts of a station.
type BoltDone struct {
	Pass  int    `json:"pass"` // 1 the first
	Bolts []Bolt `json:"bolts"`
}

// Undone takes back the last mark: a bolt's, or all those of a station, or
// before the gate is passed the answer to a question.
type Undone struct {
	Bolt     Bolt   `json:"bolt,omitempty"`
	Bolts    []Bolt `json:"bolts,omitempty"` // in place of Bolt when several were marked together
	Question string `json:"question,omitempty"`
}

// takeBack takes back what was marked together.
func takeBack(s Station) Undone {
	if len(s) == 1 {
		return Undone{Bolt: s[0]}
	}
	return Undone{Bolts: s}
}

// Words name the bolts taken back: "bolt 7", "bolts 1, 7".
func (d Undone) Words() string {
	if len(d.Bolts) > 0 {
		return "bolts " + BoltList(d.Bolts)
	}
	return fmt.Sprintf("bolt %d", d.Bolt)
}

// NutMoved: in a check round the nut turned before the tool stalled.
type NutMoved struct {
	Round int  `json:"round"`
	Bolt  Bolt `json:"bolt"`
}

// NutStill: in a check round the nut did not turn.
type NutStill struct {
	Round int  `json:"round"`
	Bolt  Bolt `json:"bolt"`
}

// GapsMeasured: the gap between the flanges beside some bolts.
type GapsMeasured struct {
	Readings []Gap `json:"readings"`
}

// Gap is one reading beside a bolt.
type Gap struct {
	Bolt Bolt        `json:"bolt"`
	Gap  unit.Length `json:"gap_m"`
}

// Named is a person who decides: never the operator.
type Named struct {
	Name   string `json:"name"`
	Role   string `json:"role"`
	Reason string `json:"reason"`
}

// GapsAccepted: a named person accepts gaps beyond the limit.
type GapsAccepted struct {
	Named
}

// RestOver: the gasket had its rest.
type RestOver struct{}

// RestWaived: a named person does without the rest.
type RestWaived struct {
	Named
}

// ProblemFound: something is wrong at a bolt, What says which; silent, the bolt
// is left undone. With no bolt a hazard at the joint stops the work, one of
// StopKinds or an injury.
type ProblemFound struct {
	Bolt   Bolt          `json:"bolt,omitempty"`
	Reason string        `json:"reason"`
	What   What          `json:"what,omitempty"`
	Now    bool          `json:"now,omitempty"`     // put right at once: the bolt is not left
	Batch  string        `json:"batch,omitempty"`   // of the part that failed
	Read   unit.Pressure `json:"read_Pa,omitempty"` // the wrong pressure found
	Tool   int           `json:"tool,omitempty"`    // slot, of the one that was at a wrong bolt
}

// Replaced: stud and nuts of a bolt that was out are new.
type Replaced struct {
	Bolt  Bolt   `json:"bolt"`
	Batch string `json:"batch"` // of the new parts
}

// ReleaseOf says what a named person released.
type ReleaseOf string

// What can be released.
const (
	OfBolt     ReleaseOf = "bolt"     // left undone in this pass or round
	OfQuestion ReleaseOf = "question" // answered no
	OfPressure ReleaseOf = "pressure" // high at the end of a pass
	OfRounds   ReleaseOf = "rounds"   // nuts still moving after the most check rounds
	OfProblem  ReleaseOf = "problem"  // that holds the work
	OfHold     ReleaseOf = "hold"     // a hold point of the job

	OfQualification ReleaseOf = "qualification" // of the operator, expired
)

// Released: a named person lets the work go on.
type Released struct {
	Of       ReleaseOf `json:"of"`
	Bolt     Bolt      `json:"bolt,omitempty"`
	Question string    `json:"question,omitempty"`
	Restart  bool      `json:"restart,omitempty"` // of a problem: with a new gasket, from the gate on
	Tool     int       `json:"tool,omitempty"`    // slot, of a pressure or of the bolt with a problem
	Hold     string    `json:"hold,omitempty"`    // the name of the hold point
	Replace  []Bolt    `json:"replace,omitempty"` // whose studs are replaced, of those above their band
	Named
}

// Suspended: the operator left the program; the next thing is a sign-on.
type Suspended struct{}

// HandedOver: the operator gives the work to another person, who signs on.
// State is what is on the flange then.
type HandedOver struct {
	State string `json:"state"`
}

// NoteMade: anything worth writing down, a correction of what was recorded too.
type NoteMade struct {
	Text string `json:"text"`
}

// TailCut: the card's last line was torn and was cut off when it was opened.
type TailCut struct {
	File  string `json:"file"` // the copy of what was cut
	Bytes int    `json:"bytes"`
}

// CardClosed: the joint is done.
type CardClosed struct {
	Witness string `json:"witness"`
	Role    string `json:"role"`
}

// Kind names of the events, as they stand in the card.
func (CardOpened) Kind() Kind     { return "opened" }
func (SignedOn) Kind() Kind       { return "signed_on" }
func (Answered) Kind() Kind       { return "answered" }
func (MaterialsNoted) Kind() Kind { return "materials" }
func (Snugged) Kind() Kind        { return "snugged" }
func (PressureSet) Kind() Kind    { return "set" }
func (BoltDone) Kind() Kind       { return "done" }
func (Undone) Kind() Kind         { return "undone" }
func (NutMoved) Kind() Kind       { return "moved" }
func (NutStill) Kind() Kind       { return "still" }
func (GapsMeasured) Kind() Kind   { return "gaps" }
func (GapsAccepted) Kind() Kind   { return "gaps_accepted" }
func (RestOver) Kind() Kind       { return "rested" }
func (RestWaived) Kind() Kind     { return "waived" }
func (ProblemFound) Kind() Kind   { return "problem" }
func (Replaced) Kind() Kind       { return "replaced" }
func (ToolChanged) Kind() Kind    { return "tool_changed" }
func (AirChanged) Kind() Kind     { return "air_changed" }
func (Released) Kind() Kind       { return "released" }
func (Suspended) Kind() Kind      { return "suspended" }
func (HandedOver) Kind() Kind     { return "handed_over" }
func (NoteMade) Kind() Kind       { return "note" }
func (TailCut) Kind() Kind        { return "tail_cut" }
func (CardClosed) Kind() Kind     { return "closed" }

// decoders reads each kind's data.
var decoders = map[Kind]func([]byte) (Data, error){
	"opened":        decode[CardOpened],
	"signed_on":     decode[SignedOn],
	"answered":      decode[Answered],
	"materials":     decode[MaterialsNoted],
	"snugged":       decode[Snugged],
	"set":           decode[PressureSet],
	"done":          decode[BoltDone],
	"undone":        decode[Undone],
	"moved":         decode[NutMoved],
	"still":         decode[NutStill],
	"gaps":          decode[GapsMeasured],
	"gaps_accepted": decode[GapsAccepted],
	"rested":        decode[RestOver],
	"waived":        decode[RestWaived],
	"problem":       decode[ProblemFound],
	"replaced":      decode[Replaced],
	"tool_changed":  decode[ToolChanged],
	"air_changed":   decode[AirChanged],
	"released":      decode[Released],
	"suspended":     decode[Suspended],
	"handed_over":   decode[HandedOver],
	"note":          decode[NoteMade],
	"tail_cut":      decode[TailCut],
	"stretch":       decode[StretchMeasured],
	"studs_again":   decode[StudsAgain],
	"leak_tested":   decode[LeakTested],
	"closed":        decode[CardClosed],
}

// DecodeData reads the data of an event of a kind and refuses kinds that this
// version does not know. Fields that it does not know are passed over: whoever
// must not lose one encodes the event again and compares.
func DecodeData(kind Kind, data []byte) (Data, error) {
	d, ok := decoders[kind]
	if !ok {
		return nil, fmt.Errorf("unknown kind of event %q, a newer version may know it", string(kind))
	}
	return d(data)
}

func decode[T Data](data []byte) (Data, error) {
	var v T
	if err := json.Unmarshal(data, &v); err != nil {
		return nil, fmt.Errorf("data of %q: %w", string(v.Kind()), err)
	}
	return v, nil
}
