package report

import (
	"time"

	"evenload/sequence"
)

// StudTurn is one reading of the stretch of a stud. What was taken back, or
// measured again, stays.
type StudTurn struct {
	sequence.StretchMeasured
	Gasket int
	Result string // StudMeasured and so on
	At     time.Time
	By     string
	Role   string
	Line   int // of the card
}

// InBand says that the load is one that the torque can have given.
func (s StudTurn) InBand(p *sequence.Plan) bool { return p.Stretch != nil && p.Stretch.InBand(s.Load) }

// What becomes of a reading of a stud.
const (
	StudMeasured  = "measured"
	StudTakenBack = ResultTakenBack
	StudAgain     = "to be measured again" // it counts no more
)

// studsAgain ends what the readings say that are to be made again.
func (d *AsDone) studsAgain(step sequence.Step, again sequence.StudsAgain) {
	r, ok := step.(sequence.Release)
	if !ok {
		return
	}
	for i := range d.Studs {
		if d.Studs[i].Result != StudMeasured {
			continue
		}
		for _, stud := range r.Studs {
			if again.Rounds || stud.Bolt == d.Studs[i].Bolt {
				d.Studs[i].Result = StudAgain
				break
			}
		}
	}
}

// allStudsAgain ends what all readings say: the joint was opened, or studs are
// replaced and every one is measured once more.
func (d *AsDone) allStudsAgain() {
	for i := range d.Studs {
		if d.Studs[i].Result == StudMeasured {
			d.Studs[i].Result = StudAgain
		}
	}
}
