package plain

import (
	"evenload/sequence"
)

// stretchPrompt is what can be done about studs outside the band, beside a release.
func (l *liner) stretchPrompt(s sequence.Release) string {
	prompt := "m measure those again, "
	if to := s.ToReplace(l.s.Walk.Plan()); len(to) > 0 {
		prompt += "w new stud for bolt " + sequence.BoltList(to) + " by a named person, "
	}
	switch named, never := s.RoundsBy(l.s.Walk.Plan()); {
	case never:
	case named:
		prompt += "c check rounds again by a named person, "
	default:
		prompt += "c check rounds again, "
	}
	return prompt
}

// studsOutside takes m, c or w.
func (l *liner) studsOutside(s sequence.Release, answer string) error {
	named, never := s.RoundsBy(l.s.Walk.Plan())
	to := s.ToReplace(l.s.Walk.Plan())
	if answer == "m" || answer == "c" && (never || !named) {
		return l.send(sequence.StudsAgain{Rounds: answer == "c"})
	}
	if answer == "w" && len(to) == 0 {
		return l.unknown(l.stretchPrompt(s) + "r release by a named person, h hand over, n note")
	}
	n, err := l.named()
	if err != nil {
		return err
	}
	if answer == "w" {
		return l.send(sequence.Released{Of: s.Of, Replace: to, Named: n})
	}
	return l.send(sequence.StudsAgain{Rounds: true, Decided: &n})
}
