package sequence

import (
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// Step is the one thing to do next: one of the types of this file, no other.
type Step interface{ step() }

// SignOn: somebody has to say who works. Before is who worked last, empty on a new card.
// OnFlange is what the one before said is on the flange when handing over.
type SignOn struct{ Before, OnFlange string }

// Ask: one question is open. The tightening order is not shown while one is.
type Ask struct {
	Question Question
	Number   int  // 1 the first of those asked with it
	Of       int  // how many are asked with it
	SaidNo   bool // it was answered no and is still open
	Last     []Station
	Begun    bool       // the joint is snug, or more, and no gauge is being read at an end
	Read     *Alignment // of a question that is measured, when it was beyond its limits
}

// Materials: write down the batches of gasket, bolts and lubricant.
type Materials struct{}

// Snug: close the joint by hand, all nuts, in Order.
type Snug struct {
	Snugging
	Order []Bolt
}

// GapCheck: measure the gaps. All places, or only the widest and narrowest.
type GapCheck struct {
	All    bool
	Places []Bolt // where to measure when All
	After  string // snug, the pass, the check rounds
	Limit  unit.Length
	Before unit.Length // spread of the measurement before, negative when there is none
	Same   unit.Length // what a spread may grow by: two measurements do not tell less apart
	Was    []Gap       // its readings
	Over   *GapResult  // the last measurement was beyond the limit: measure again or have it accepted
}

// GapResult is a measurement of the gaps, judged.
type GapResult struct {
	Readings          []Gap
	Widest, Narrowest Gap
	Spread            unit.Length
	OverLimit         bool
	Grown             bool     // wider apart than at the measurement before
	Wide              [][]Bolt // the bolts of the wide side, neighbours together; the widest first
}

// Set: bring the pressure to its setting and read it back, or read it at the
// end of a pass.
type Set struct {
	Place
	AtEnd  bool
	Low    string // what was low, where a pass or round is done again for it
	Why    string // check rounds are begun, for the record; empty elsewhere
	Slot   int    // which of the tools
	Letter string // of the tool, empty when the job has only one
	Team   []Turn // all tools that run together, without bolts; none for a tool alone
	Tool   joint.Tool
	joint.Setting
}

// Place says where in the job the walk is.
type Place struct {
	Pass     int // 1 the first; the last pass's settings serve the check rounds
	Of       int // passes
	Share    unit.Share
	Round    int // of check rounds, 0 in a pass
	RoundSet int // of check rounds, of which Round is one: 1 the first on the card, 0 in a pass
	Repeat   int // how often this pass was begun again

	NewTool bool // it was begun again for a new tool
	Redo    Bolt // a new bolt that repeats this pass alone, 0 none
}

// Tighten: one station of a pass.
type Tighten struct {
	Place
	Bolts []Bolt    // of the station that are open, in slot order
	Turns []Turn    // the same with their tools
	Off   string    // letters of the tools that stay off
	Then  []Station // those that come next
	Work            // Tool and Setting are the first turn's
}

// Check: one bolt of a check round, clockwise at full torque.
type Check struct {
	Place
	Bolt   Bolt
	Then   []Station // of one bolt each
	Letter string    // of the tool that goes round alone, empty when the job has only one
	Moved  []int     // nuts that moved in each round of this series so far
	Work
}

// Work is what a bolt needs to be tightened or checked.
type Work struct {
	Tool    joint.Tool
	Setting joint.Setting
	Done    int           // bolts done so far
	Undone  int           // bolts left, out or released without being done
	Left    int           // bolts still to do, this one included
	Pace    time.Duration // a bolt at the crew's own pace, 0 not known yet
}

// Rest: the gasket creeps; nothing to do before Until, or a named person waives it.
type Rest struct {
	Until time.Time
	Over  bool
}

// Release: a named person, not the operator, has to decide.
type Release struct {
	Of     ReleaseOf
	Place  Place
	Bolt   Bolt   // left undone
	Reason string // why it was left
	Slot   int    // of the tool whose pressure was high, or that was at the bolt
	Letter string // of that tool, empty when the job has only one
	Read   unit.Pressure
	Band   joint.Setting
	Rounds int               // check rounds made
	Hold   string            // the name of the hold point
	Studs  []StretchMeasured // whose load by stretch is outside the band

	Out    bool   // the bolt's parts have to be replaced
	What   What   // the problem
	During string // when it was found, where Place does not say it
	Why    string // why more than the problem itself holds the work
}

// Close: all is done; the operator and a witness close the card.
type Close struct {
	Leaked bool // at its test: the card stays as it is
}

// Closed: the card is closed.
type Closed struct{ At time.Time }

// Stop: the work is stopped and no order is shown. Only a new sign-on with a
// permit number reopens it.
type Stop struct {
	Reason string
	What   What // one of StopKinds, or another problem
}

func (SignOn) step()    {}
func (Ask) step()       {}
func (Materials) step() {}
func (Snug) step()      {}
func (GapCheck) step()  {}
func (Set) step()       {}
func (Tighten) step()   {}
func (Check) step()     {}
func (Rest) step()      {}
func (Release) step()   {}
func (Close) step()     {}
func (Closed) step()    {}
func (Stop) step()      {}
