package plain

import (
	"evenload/sequence"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
)

// expected says how many check rounds to expect. The estimate is made when the
// first round comes up, once.
func (l *liner) expected() {
	if l.opt.Rounds == nil {
		return
	}
	if l.rounds == nil {
		e := l.opt.Rounds()
		l.rounds = &e
	}
	if text := l.s.Walk.At(l.now()).ExpectedWords(*l.rounds); text != "" {
		l.say("EXPECT: %s", text)
	}
}

// Options are what only some walks have.
type Options struct {
	Rounds func() sequence.Expected // estimates the check rounds; nil: nobody does

	Practice *practice.Run                      // nil: a real walk
	Model    func() (*interaction.Bolts, error) // of the simulated joint
}
