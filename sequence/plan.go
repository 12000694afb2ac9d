package sequence

import (
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// About says which joint it is, in the words of the job.
type About struct {
	Tag        string     `json:"tag"`
	Where      string     `json:"where"`
	Drawing    string     `json:"drawing"`
	WorkOrder  string     `json:"work_order"`
	Permit     string     `json:"permit"`
	Procedure  string     `json:"procedure"`
	Revision   string     `json:"revision"`
	ApprovedBy string     `json:"approved_by"` // empty: not approved
	ApprovedOn joint.Date `json:"approved_on"`
	Service    string     `json:"service"`

	Datum        string `json:"datum"`
	ViewedFrom   string `json:"viewed_from"`
	Bolt1OnDatum bool   `json:"bolt_1_on_datum"` // else bolt 1 is the first clockwise of the datum
	Lubricant    string `json:"lubricant"`
	Grade        string `json:"grade"`
	Flange       string `json:"flange"`
	Gasket       string `json:"gasket"`
}

// Conditions say which pre-start questions apply.
type Conditions struct {
	NeverConnected bool   `json:"never_connected"` // shop assembly: nothing to isolate
	AtHeight       bool   `json:"at_height"`
	HazardousArea  bool   `json:"hazardous_area"`
	DriveGas       string `json:"drive_gas"` // "air" or the gas
}

// Procedure is how the foreman wants the joint tightened.
type Procedure struct {
	Pattern      Pattern
	Given        []Bolt // the order of the pattern Given
	Passes       []unit.Share
	ToolsAtOnce  int
	Snug         unit.Share // of the target, by hand
	GapPlaces    int
	GapFirst     unit.Length // most spread before the first pass
	GapSpread    unit.Length // most spread after a pass
	CheckRounds  int         // most before the engineer is asked
	Rest         time.Duration
	RestartAfter time.Duration
	ReadBack     unit.Share
	Hold         []Hold // hold points
	Batches      bool   // batches and temperature are asked for

	Alignment      *Alignment      // limits, nil: asked for by a yes
	StudGive       unit.Compliance // of one stud, for its stretch; 0: not measured
	StretchReading unit.Length     // to which the length of a stud is read
	LeakTest       bool            // its result is asked for
}

// Plan is everything computed for one joint, and all that a Walk needs. It is
// frozen into the card.
type Plan struct {
	// Rules are those of the walk that the card was opened with, by which it is
	// walked for ever: see RulesNow.
	Rules int `json:"rules,omitempty"`

	About      About       `json:"about"`
	Conditions Conditions  `json:"conditions"`
	System     unit.System `json:"system"`
	Bolts      int         `json:"bolts"`
	Thread     string      `json:"thread"`
	Aim        joint.Aim   `json:"aim"`

	Positions joint.Layout `json:"positions,omitempty"` // of bolts that are no ring

	Pattern  Pattern      `json:"pattern"`
	Stations []Station    `json:"stations"`
	Snug     Snugging     `json:"snug"`
	Passes   []Pass       `json:"passes"`
	Tools    []joint.Tool `json:"tools"` // by slot: slot i turns the i-th bolt of a station

	// Not on the cards of every version:
	Spare    []joint.Tool    `json:"spare,omitempty"`     // the job's tools that are not in use
	ReadBack unit.Share      `json:"read_back,omitempty"` // of a setting, for a tool that comes later
	Strength *joint.Strength `json:"strength,omitempty"`  // of bolts and gasket

	GapPlaces    []Bolt      `json:"gap_places"` // bolts beside which gaps are measured
	GapFirst     unit.Length `json:"gap_first_m"`
	GapSpread    unit.Length `json:"gap_spread_m"`
	CheckRounds  int         `json:"check_rounds"`
	Rest         Span        `json:"rest"`
	RestartAfter Span        `json:"restart_after"`

	Hold      []Hold     `json:"hold,omitempty"`
	Batches   bool       `json:"batches,omitempty"`
	Questions []Question `json:"questions"`

	Alignment *Alignment  `json:"alignment,omitempty"` // limits, where it is measured
	Stretch   *Stretching `json:"stretch,omitempty"`   // where studs are measured
	LeakTest  bool        `json:"leak_test,omitempty"`
}

// RulesNow are the rules that a new plan is walked by. 0: as at first. 1: the
// pressure is read again at the end of check rounds too, and a second person
// decides and witnesses nothing. 2: where a named person lets the work go on with a
// bolt that is out, its new parts come next; studs above their band are for a named
// person. 3: the pressure is read before somebody decides about nuts that still move in
// the last round, since a pressure that crept up moves them; a clock that goes back
// before that decision does not shorten the rest either; who supervises a trainee
// decides and witnesses nothing; who takes over before the joint is snug goes through
// the gate; gaps may differ by what two readings do. 4: a bolt that is out
// before a check round begins, and that a named person lets the work go on without, has no
// nut that makes it go round again; who takes over is not asked twice whether the marks match.
const RulesNow = 4

// Snugging is the first closing of the joint by hand.
type Snugging struct {
	Share  unit.Share  `json:"share"`
	Torque unit.Torque `json:"torque_Nm"`
}

// Pass is once over all bolts at one share of the target.
type Pass struct {
	Share    unit.Share      `json:"share"`
	Settings []joint.Setting `json:"settings"` // by slot
}

// Span is a length of time that the card keeps as text, such as "4h0m0s".
type Span time.Duration

// MarshalText writes the span for the card.
func (s Span) MarshalText() ([]byte, error) { return []byte(time.Duration(s).String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (s *Span) UnmarshalText(text []byte) error {
	d, err := time.ParseDuration(string(text))
	*s = Span(d)
	return err
}

// SnugOrder is that of one hand wrench, which goes across also where several tools go
// round the ring together later.
func (p *Plan) SnugOrder() []Bolt {
	if p.Several() && len(p.Positions) == 0 {
		return star(p.Bolts)
	}
	return p.order()
}

// order is the bolts of a pass, in order.
func (p *Plan) order() []Bolt {
	bolts := make([]Bolt, 0, p.Bolts)
	for _, s := range p.Stations {
		bolts = append(bolts, s...)
	}
	return bolts
}
