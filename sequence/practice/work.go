package practice

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// noLoadAt says that the nut of the first bolt turns without load here.
func (r *Run) noLoadAt(s sequence.Tighten) bool {
	n := r.script.noLoad
	return !r.met && s.Pass == n.pass && s.Redo == 0 && s.Repeat == 0 && sameBolts(s.Bolts, r.plan.Stations[n.at])
}

// lowAt says that the nut of a settled bolt is looked at the first time.
func (r *Run) lowAt(s sequence.Check) bool { return r.settled && !r.lowDone && s.Bolt == r.script.low }

// settle lets the chosen bolt lose a fifth before the first check round.
func (r *Run) settle(step sequence.Step) {
	s, ok := step.(sequence.Check)
	if !ok || r.settled || r.script.low == 0 {
		return
	}
	if s.Round > 1 || s.Done > 0 || r.done["rest"] || !r.joint.settle(r.script.low) {
		r.script.low = 0
		return
	}
	r.settled = true
}

// turns says whether the nut of a check round turns before the tool stalls.
func (r *Run) turns(s sequence.Check) bool {
	return !r.lowAt(s) && r.joint.turns(s.Bolt, s.Setting.Delivered, r.at(s))
}

// Seen is what there is to see and hear at the joint at a step. What the walk asks for
// is found in it.
func (r *Run) Seen(w sequence.Walk, step sequence.Step) []string {
	if r.joint == nil {
		return nil
	}
	switch s := step.(type) {
	case sequence.Ask:
		return r.seenQuestion(s)
	case sequence.Materials:
		return []string{"Tags: gasket G-1, studs S-1, nuts N-1, lubricant L-1; 18 °C."}
	case sequence.Snug:
		return []string{"All nuts are run down by hand wrench, and the gap closes evenly."}
	case sequence.GapCheck:
		seen := []string{r.seenGaps(s)}
		if s.Over != nil {
			seen = append(seen, "m if you read it wrongly; else an engineer looks and accepts: a, and any other name.")
		}
		return seen
	case sequence.Set:
		return []string{r.seenGauge(s)}
	case sequence.Tighten:
		who := "The tool"
		if len(s.Turns) > 1 {
			who = "Tool " + s.Turns[0].Letter
		}
		switch {
		case r.noLoadAt(s):
			return []string{fmt.Sprintf("%s does not stall. The nut of bolt %d goes on turning, lightly, far beyond its neighbours.", who, s.Bolts[0])}
		case len(s.Turns) > 1:
			return []string{"The tools slow down and stall, A and B. The nuts stand."}
		}
		return []string{"The tool slows down and stalls. The nut stands."}
	case sequence.Check:
		if r.turns(s) {
			return []string{"The nut turns a little, then the tool stalls."}
		}
		return []string{"The tool stalls at once. The nut does not turn."}
	case sequence.Stretch:
		return []string{fmt.Sprintf("Stud %d has grown by %s.", s.Bolt, r.stretch(s))}
	case sequence.LeakTest:
		return []string{"The pump crew reports: pressure held, no drop anywhere. Sheet T-1."}
	case sequence.Release:
		return []string{"Somebody other than you has to decide: in practice type any other name."}
	case sequence.Close:
		return []string{"A witness who did not work on it looks at the joint: in practice type any other name."}
	}
	return nil
}

func (r *Run) isBad(id string) bool { return slices.Contains(r.script.questions, id) && !r.put[id] }

func (r *Run) seenQuestion(s sequence.Ask) []string {
	q := s.Question
	view := sights[q.ID]
	switch {
	case q.Typed != "":
		return []string{"The plate on the flange reads " + r.plan.About.Tag + "."}
	case q.Measured:
		return []string{"At the rim: centre lines 0.8 mm apart, faces 0.3 mm, holes 1 mm, gap at rest 4 mm."}
	case r.isBad(q.ID):
		return []string{view.bad}
	case r.put[q.ID]:
		return []string{view.put}
	case view.good == "":
		return []string{"It is as it should be."}
	}
	return []string{view.good}
}

func (r *Run) seenGaps(s sequence.GapCheck) string {
	at := s.Places
	if !s.All {
		at = nil
		for b := range r.plan.Bolts {
			at = append(at, sequence.Bolt(b+1))
		}
	}
	gaps := r.joint.Gaps()
	var parts []string
	for _, b := range at {
		parts = append(parts, fmt.Sprintf("%d: %s", b, GapText(gaps[b-1], r.plan.System)))
	}
	return "Feeler gauge, " + GapUnit(r.plan.System) + ", beside bolt " + strings.Join(parts, ", ") + "."
}

// shows is what the gauge shows with the tool running.
func (r *Run) shows(s sequence.Set) unit.Pressure {
	if p, ok := r.actual[setKey(s.Place, s.Slot)]; ok && s.AtEnd {
		return p
	}
	return s.Set
}

func (r *Run) seenGauge(s sequence.Set) string {
	p, u := r.shows(s), s.Tool.Gauge.Unit
	other := unit.InPsi
	if u == unit.InPsi {
		other = unit.InBar
	}
	static, team := s.Tool.Reading == joint.Static, len(s.Team) > 1
	state := "The tool runs free"
	switch {
	case team && static:
		state = "All tools stand still, and this is the gauge of " + s.Letter
	case team:
		state = "All tools run free, and this is the gauge of " + s.Letter
	case static:
		state = "The tool stands still"
	}
	black := fmt.Sprintf("%s on the black scale (%s)", p.Reading(u, s.Tool.Gauge.Division), u)
	red := fmt.Sprintf("%.0f on the red scale (%s)", p.In(other), other)
	if other == unit.InBar {
		red = fmt.Sprintf("%.1f on the red scale (%s)", p.In(other), other)
	}
	if s.Pass == r.script.otherScale && s.Round == 0 && !s.AtEnd {
		black, red = red, black
	}
	return fmt.Sprintf("%s. The needle stands at %s, %s.", state, black, red)
}

func (r *Run) stretch(s sequence.Stretch) string {
	grown := float64(r.joint.real.Loads()[s.Bolt-1]) * float64(s.Give)
	if r.plan.System == unit.US {
		return fmt.Sprintf("%.4f in", grown/unit.Inch)
	}
	return fmt.Sprintf("%.3f mm", grown/float64(unit.Millimetre))
}

// Judge judges what the trainee is about to do on the walk's own screen, with what the
// walk said of it (nil: accepted), and gives the sentence to show; empty
// where nothing is to be said.
func (r *Run) Judge(w sequence.Walk, step sequence.Step, d sequence.Data, refused error) string {
	if r.joint == nil {
		return ""
	}
	switch s := step.(type) {
	case sequence.Ask:
		if d, ok := d.(sequence.Answered); ok {
			return r.judgeQuestion(s, d, refused)
		}
	case sequence.GapCheck:
		if d, ok := d.(sequence.GapsMeasured); ok && refused == nil {
			return r.judgeGaps(s, d)
		}
	case sequence.Set:
		if d, ok := d.(sequence.PressureSet); ok {
			return r.judgeSet(s, d, refused)
		}
	case sequence.Tighten:
		return r.judgeBolt(s, d, refused)
	case sequence.Check:
		return r.judgeNut(s, d, refused)
	}
	return ""
}

// say keeps an answer and gives its sentence; what is wrong is told by itself, as the
// next task.
func (r *Run) say(part Part, step sequence.Step, asked, given, right string, ok bool, why string) string {
	word := "Right. "
	if ok {
		r.row++
	} else {
		word, r.row = "Wrong. ", 0
	}
	r.judged(Answer{Part: part, Where: sequence.Title(step), Asked: asked, Given: given, Right: right, OK: ok, Why: word + why})
	if !ok {
		r.pending = []string{sentence(asked), "", fmt.Sprintf("Answered: %s. Right was: %s.", given, right), "", why}
		return ""
	}
	return word + why
}

// sentence begins with a capital and has an end.
func sentence(s string) string {
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

// atOnce gives what is pending as a sentence: the walk stays at its screen.
func (r *Run) atOnce(said string) string {
	if n := len(r.pending); n > 0 {
		said, r.pending = r.pending[n-1], nil
	}
	return said
}

func (r *Run) judgeQuestion(s sequence.Ask, d sequence.Answered, refused error) string {
	q := s.Question
	switch {
	case q.Typed != "" && d.Typed != "" && d.Answer == sequence.No:
		return r.say(Safety, s, q.Text, d.Typed, q.Typed, false, q.Why+" Read it off the flange.")
	case refused != nil || q.Typed != "" || q.Measured:
		return ""
	case r.isBad(q.ID) && d.Answer == sequence.No:
		r.put[q.ID] = true
		return r.say(Safety, s, q.Text, "no", "no", true, q.IfNo+" It is put right now.")
	case r.isBad(q.ID):
		r.put[q.ID] = true
		return r.say(Safety, s, q.Text, string(d.Answer), "no", false, sights[q.ID].bad+" "+q.Why+" "+q.IfNo)
	case d.Answer == sequence.No:
		return "Nothing is wrong there, and a no is never a fault: look once more. " + q.Why
	case d.Answer == sequence.NotApplicable:
		return r.say(Safety, s, q.Text, string(d.Answer), "yes", false, "It does apply here. "+q.Why)
	}
	return ""
}

// misread is what a typed gap may be off what is shown: not at all, but for the last digit.
func misread(typed, shown unit.Length, s unit.System) bool {
	return GapText(typed, s) != GapText(shown, s)
}

func (r *Run) judgeGaps(s sequence.GapCheck, d sequence.GapsMeasured) string {
	gaps := r.joint.Gaps()
	least, most := slices.Min(gaps), slices.Max(gaps)
	sys := r.plan.System
	given, right := "", ""
	ok := true
	for i, g := range d.Readings {
		shown := gaps[g.Bolt-1]
		given += fmt.Sprintf(" %d: %s", g.Bolt, GapText(g.Gap, sys))
		right += fmt.Sprintf(" %d: %s", g.Bolt, GapText(shown, sys))
		ok = ok && !misread(g.Gap, shown, sys)
		if !s.All {
			want := most
			if i == 1 {
				want = least
			}
			ok = ok && !misread(shown, want, sys)
		}
	}
	if !s.All {
		right = fmt.Sprintf("widest %s, narrowest %s", GapText(most, sys), GapText(least, sys))
	}
	why := "The gap tells whether the flanges close evenly, which no torque does."
	if !ok {
		why = "That is not what the gauge shows. " + why
	}
	return r.say(Checks, s, "the gaps after "+s.After, strings.TrimSpace(given), strings.TrimSpace(right), ok, why)
}

func (r *Run) judgeSet(s sequence.Set, d sequence.PressureSet, refused error) string {
	if errors.Is(refused, sequence.ErrLookAgain) && !d.Sure {
		return ""
	}
	read, u := d.ByChart(s.Tool), s.Tool.Gauge.Unit
	shown := r.shows(s)
	division := s.Tool.Gauge.Division
	ok := math.Abs(float64(read-shown)) <= float64(division)/2*(1+hair)
	why := "The reading is written down: it shows later that the pressure held."
	if !ok {
		why = fmt.Sprintf("The gauge shows %s.", s.Tool.Gauged(shown))
		if ratio := read.In(u) / shown.In(u); ratio > 10 || ratio < 0.1 {
			why += " You read the other scale: 1 bar is 14.5 psi. The arrow up goes back to the field."
		}
	}
	said := r.say(Checks, s, "what the gauge shows", s.Tool.Typed(read), s.Tool.Gauged(shown), ok, why)
	if refused != nil {
		return r.atOnce(said)
	}
	return "" // a right reading needs no word
}

// right answers to a nut that turns without load.
var noLoadWhat = []sequence.What{sequence.NoLoad, sequence.NoStall, sequence.StudTurns, sequence.Seized, sequence.OtherTrouble}

func (r *Run) judgeBolt(s sequence.Tighten, d sequence.Data, refused error) string {
	if !r.noLoadAt(s) || refused != nil {
		return ""
	}
	const asked = "the tool does not stall and the nut goes on turning"
	switch d := d.(type) {
	case sequence.BoltDone:
		r.look = false
		return r.say(Safety, s, asked, "done", "a problem: it turns without load", false,
			fmt.Sprintf("The tool never stalled: bolt %d took no load, and its neighbours carry its part. p says so, before the next bolt.", s.Bolts[0]))
	case sequence.ProblemFound:
		if slices.Contains(noLoadWhat, d.What) && d.Bolt == s.Bolts[0] {
			return r.say(Safety, s, asked, d.Words(), "a problem: it turns without load", true,
				"The stud turned with the nut; a backup wrench holds it now. Never go on past a nut that takes no load.")
		}
		return r.say(Safety, s, asked, d.Words(), "a problem: it turns without load", false, "That is not what you saw: the nut took no load.")
	}
	return ""
}

func (r *Run) judgeNut(s sequence.Check, d sequence.Data, refused error) string {
	if refused != nil {
		return ""
	}
	given := ""
	switch d.(type) {
	case sequence.NutMoved:
		given = "moved"
	case sequence.NutStill:
		given = "still"
	default:
		return ""
	}
	right, why := "still", "The nut did not turn before the tool stalled."
	if r.turns(s) {
		right, why = "moved", "The nut turned before the tool stalled: its bolt took load again, and one more round is needed."
	}
	r.say(Checks, s, "whether the nut moved", given, right, given == right, why)
	return ""
}
