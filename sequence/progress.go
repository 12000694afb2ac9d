package sequence

// Stage is where in the job a walk is, in one word for a list of many joints.
type Stage string

// The stages, in the order of the work.
const (
	StageGate      Stage = "gate"
	StageMaterials Stage = "materials"
	StageSnug      Stage = "snug"
	StageGaps      Stage = "gaps"
	StagePass      Stage = "pass"
	StageCheck     Stage = "check"
	StageRest      Stage = "rest"
	StageStretch   Stage = "stretch"
	StageFinalGaps Stage = "last gaps"
	StageEnd       Stage = "closing"
	StageClosed    Stage = "closed"
)

var stages = map[phase]Stage{phaseGate: StageGate, phaseMaterials: StageMaterials, phaseSnug: StageSnug, phaseSnugGaps: StageGaps,
	phasePass: StagePass, phasePassGaps: StageGaps, phaseCheck: StageCheck, phaseRest: StageRest, phaseStretch: StageStretch, phaseFinalGaps: StageFinalGaps,
	phaseEnd: StageEnd, phaseClosed: StageClosed}

// Progress is where a walk stands after its last event, for somebody who is
// not there. No clock changes it: what a long break asks again is not in it.
type Progress struct {
	Stage Stage
	Place     // in a pass, at its gaps and in a check round; nothing elsewhere
	Done  int // bolts done in the pass or round under way
	Bolts int // of the joint in a pass or round, 0 elsewhere

	Operator string // who signed on last, empty when nobody did
	Working  bool   // that person is signed on
	Handed   string // what is on the flange, at a handover that nobody took yet
	Next     Step   // the one thing to do once somebody is signed on
}

// Progress of the walk.
func (w Walk) Progress() Progress {
	w = w.At(w.last)
	p := Progress{Stage: stages[w.phase], Operator: w.operator, Working: w.signedOn, Handed: w.handed}
	switch w.phase {
	case phasePass, phaseCheck, phaseStretch:
		p.Place, p.Done, p.Bolts = w.place(), w.done(), w.plan.Bolts
	case phasePassGaps:
		p.Place = w.place()
	}
	w.signedOn = true
	p.Next = w.step(w.last)
	return p
}

// Under is the pass or check round under way, or done last, also while a new bolt
// is brought up alone.
func (w Walk) Under() Place {
	w.redo = redo{}
	return w.place()
}
