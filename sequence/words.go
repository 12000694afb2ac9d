package sequence

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenload/joint"
)

// The sentences that every screen, the line mode and the record share.
const (
	SiteFirst     = "Site procedure and permit come first. Eye, ear, hand and foot protection on."
	NotLoadWord   = "Torque is not load: the bolt load is an estimate."
	OnlyFor       = "For tightening a cold joint without pressure. Never for loosening, hot, leaking or live joints, tensioners or clamp connectors."
	StillWord     = "A still nut is no measurement: only that this pressure does not move it."
	SetCaution    = "Socket OFF the nut, arm clear of hands. The gauge rises at stall: leave it."
	TightenHint   = "Hands clear of arm and barrel. Foot on its stop. Hold until it stalls."
	ProblemHint   = "Trigger off, hands away from arm and foot. Air off before you touch."
	CheckHint     = "Let the tool run into the load. Hands clear of arm and barrel."
	SnugHint      = "By hand wrench only: no power tool yet. Hands clear of the closing gap."
	SnugWatch     = "Watch the gap: it has to close evenly, all the way round."
	TooHighWord   = "Too high: turn well below, then come up again. Lock the knob, try it twice."
	HeldWord      = "The pass counts only if the pressure held to its end."
	roundsHeld    = "Still nuts count only if the pressure held to the end of the rounds."
	SaidNoWord    = "answered no; it stays open until it is put right"
	GapHint       = "Air off the tool while you measure. Fingers out of the gap."
	RestHint      = "Leave the joint alone: no pressure, no heat."
	StopHint      = "Leave the nuts. Everybody back. Tell the foreman and the area authority."
	ReleaseHint   = "Somebody other than the operator decides, and is named in the record."
	MaterialsWord = "Read the batch numbers off the tags or certificates. What is left empty is not recorded."
	HandHint      = "Face to face, at the flange. Air off, tool safe, before you go."
	CloseHint     = "Closing is no permission to test or start up: that has its own permit."
	StallsLow     = "It was low: bolts turned at it may carry less than planned. Where it is decided so, u takes them back, and they are done again."
	StallsHigh    = "Bolts turned at it may carry more than planned. Neither repeat nor slacken: the engineer decides."

	NewGasketWord = "The responsible engineer decides. Without a reason against it: open the joint, new gasket, start again."
	RestartWord   = "Starting again opens the joint, by the site's procedure for loosening: new gasket, all questions, then snug and every pass from the first on."
	partsMeasured = "Stud and nuts are new, of the right grade and length, lubricated. Turn no nut yet: the length of the stud is asked first; then snug by hand. The old ones are kept apart. A nut under load comes off by the site's procedure for loosening, never by this one."
	PartsHint     = "No power tool yet: threads lubricated, nuts run by hand, snug by hand wrench."
	PartsWord     = "Stud and nuts are new, of the right grade and length, lubricated, snug by hand. The old ones are kept apart. A nut under load comes off by the site's procedure for loosening, never by this one."
	ToolHint      = "Air off and hose vented before the tool is changed. Socket off the nut."
	ToolWord      = "Another tool has another chart: another pressure for the same torque."
)

// Words for the change of a tool or of its air.
const (
	RepeatPass = "The bolts done so far are done again with the new tool, from the first one on."
	GoOnPass   = "The bolts done so far stay as they are: somebody other than the operator decides it."
	AirWord    = "Hose, couplings and air are asked about again, and the setting. The bolts done so far stay."
	askedWord  = "Tool, hose, couplings and air are asked about again, and the setting."
)

// MadeIn says how the chart of a tool was made.
func MadeIn(t joint.Tool) string { return "chart made " + State(t) }

// SetWords are the lines that tell how to set the pressure.
func (s Set) SetWords() []string {
	value := s.Tool.Gauged(s.Set)
	if s.Letter != "" {
		return s.teamWords(value)
	}
	if s.AtEnd {
		if s.Tool.Reading == joint.Static {
			return []string{"Read the gauge again", "tool still"}
		}
		return []string{"Read the gauge again", "while the tool runs free"}
	}
	if s.Tool.Reading == joint.Static {
		return []string{"Turn UP to " + value, "with the tool still, trigger off"}
	}
	return []string{"Turn UP to " + value, "while the tool runs free"}
}

// HeldWords say what an end reading is for.
func (s Set) HeldWords() string {
	if s.Round > 0 {
		return roundsHeld
	}
	return HeldWord
}

// State is the word for the state in which the gauge is read.
func State(t joint.Tool) string {
	if t.Reading == joint.Static {
		return "at rest"
	}
	return "running"
}

// Title says in a few words where in the job a step stands.
func Title(s Step) string {
	switch s := s.(type) {
	case SignOn:
		return "SIGN ON"
	case Ask:
		switch s.Question.When {
		case AtHandover:
			return fmt.Sprintf("HANDOVER   %d of %d", s.Number, s.Of)
		case AtResume:
			return "RESUME"
		case AtParts:
			return "NEW PARTS"
		case AtEnd:
			return fmt.Sprintf("CLOSING   %d of %d", s.Number, s.Of)
		}
		return fmt.Sprintf("GATE   %d of %d", s.Number, s.Of)
	case Materials:
		return "MATERIALS"
	case Snug:
		return "SNUG   by hand"
	case GapCheck:
		return "GAPS   after " + s.After
	case Set:
		switch {
		case s.AtEnd && s.Round > 0:
			return spaced("READ AGAIN", s.Letter, "CHECK ROUND "+s.roundName())
		case s.AtEnd:
			return spaced("READ AGAIN", s.Letter, s.Place.Text())
		}
		return spaced("SET", s.Letter, s.Place.Text())
	case Tighten:
		return s.Place.Text()
	case Check:
		return s.Place.Text()
	case Rest:
		return "REST"
	case Release:
		if s.Of == OfHold {
			return "HOLD POINT   " + s.Hold
		}
		if s.Of == OfQualification {
			return "QUALIFICATION"
		}
		if s.Of == OfStretch {
			return "RELEASE   stretch of studs"
		}
		if s.During != "" {
			return "RELEASE   " + s.During
		}
		return "RELEASE   " + s.Place.Text()
	case Stretch:
		return fmt.Sprintf("STRETCH   bolt %d", s.Bolt)
	case LeakTest:
		return "LEAK TEST"
	case Close:
		return "CLOSE"
	case Closed:
		return "CLOSED"
	case Stop:
		return "STOP"
	}
	return ""
}

// Text says where in the job a place is.
func (p Place) Text() string {
	if p.Round > 0 {
		return "CHECK ROUND " + p.roundName() + "   full torque"
	}
	if p.Redo > 0 {
		return fmt.Sprintf("BOLT %d AGAIN   %s", p.Redo, p.Share.Text())
	}
	text := fmt.Sprintf("PASS %d of %d   %s", p.Pass, p.Of, p.Share.Text())
	if p.Repeat > 0 {
		text += "   again"
	}
	return text
}

// NoStudWords say, before the card is closed, which bolts are out; nothing where none is.
func (w Walk) NoStudWords() []string {
	if len(w.out) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("NO GOOD STUD AT %s: new parts are not in, and the bolt carries nothing.", strings.ToUpper(boltNames(w.out)))}
}

// roundName tells the rounds of later sets from those of the first: "2", then "2.1".
func (p Place) roundName() string {
	if p.RoundSet < 2 {
		return fmt.Sprint(p.Round)
	}
	return fmt.Sprintf("%d.%d", p.RoundSet, p.Round)
}

// kind is what a place is part of, in one word.
func (p Place) kind() string {
	if p.Round > 0 {
		return "round"
	}
	return "pass"
}

// where is a place in a sentence.
func (p Place) where() string {
	if p.Round > 0 {
		return "check round " + p.roundName()
	}
	if p.Redo > 0 {
		return fmt.Sprintf("bringing up bolt %d at %s", p.Redo, p.Share.Text())
	}
	return "the pass at " + p.Share.Text()
}

// RepeatWord says why a pass is done again, by all bolts or by a new one alone,
// empty when it is not.
func (p Place) RepeatWord() string {
	switch {
	case p.Redo > 0:
		return fmt.Sprintf("Bolt %d is new: it alone repeats the passes that are done. The others stay as they are.", p.Redo)
	case p.Repeat == 0 || p.Round > 0:
		return ""
	case p.NewTool:
		return "Again: a tool was changed in this pass, so that all its bolts are done once more."
	}
	return "Again: the pressure was low at the end of this pass, so that all its bolts are done once more."
}

// RepeatWord says why a pass or check rounds are done again, empty when they come
// as planned.
func (s Set) RepeatWord() string {
	text := "Check rounds " + s.Why + "."
	if s.Why == "" || strings.HasPrefix(s.Why, "after the ") {
		text = s.Place.RepeatWord()
	}
	if s.Low != "" && s.Redo == 0 && text != "" {
		text += " Low was: " + s.Low + "."
	}
	return text
}

// stepName is a step in a sentence.
func stepName(s Step) string {
	switch s := s.(type) {
	case SignOn:
		return "signing on"
	case Ask:
		return "the question: " + s.Question.Text
	case Materials:
		return "the batches of the materials"
	case Snug:
		return "snug by hand"
	case GapCheck:
		return "the gaps after " + s.After
	case Set:
		if s.AtEnd && s.Round > 0 {
			return "reading the gauge at the end of the check rounds" + ofTool(s.Letter)
		}
		if s.AtEnd {
			return "reading the gauge at the end of the pass" + ofTool(s.Letter)
		}
		return "setting the pressure" + ofTool(s.Letter)
	case Tighten:
		return takeBack(s.Bolts).Words()
	case Check:
		return fmt.Sprintf("bolt %d of check round %s", s.Bolt, s.roundName())
	case Rest:
		return "the rest"
	case Release:
		if s.Of == OfHold {
			return fmt.Sprintf("the hold point %q", s.Hold)
		}
		return "a release by a named person"
	case Stretch:
		return fmt.Sprintf("the stretch of bolt %d", s.Bolt)
	case LeakTest:
		return "the result of the leak test"
	case Close:
		return "closing"
	case Closed:
		return "nothing, the card is closed"
	case Stop:
		return "nothing, the work is stopped"
	}
	return "nothing"
}

// TakeWords says which gaps are measured.
func (g GapCheck) TakeWords() string {
	if g.All {
		return "Measure the gap between the flanges at all places, at the rim."
	}
	return "Go once round. Note the widest and the narrowest gap, and beside which bolt."
}

// AboutTime is a length of time as people say it: "about 6 min".
func AboutTime(d time.Duration) string {
	switch {
	case d < time.Minute:
		return "under a minute"
	case d < 90*time.Minute:
		return fmt.Sprintf("about %d min", int(d.Round(time.Minute).Minutes()))
	}
	return fmt.Sprintf("about %.1f h", d.Hours())
}

// LeftWords says how much is left: "5 of 12 done, about 6 min left".
func (k Work) LeftWords() string {
	text := fmt.Sprintf("%d of %d done", k.Done, k.Done+k.Undone+k.Left)
	if k.Undone > 0 {
		text += fmt.Sprintf(", %d undone", k.Undone)
	}
	if k.Pace > 0 {
		text += ", " + AboutTime(k.Pace*time.Duration(k.Left)) + " left"
	}
	return text
}

// ThenWords names the stations that come next: "then 5, then 11", with several
// tools "then 4+10, then 2+8".
func ThenWords(then []Station) string {
	var parts []string
	for _, s := range then {
		parts = append(parts, "then "+s.Text())
	}
	if len(parts) == 0 {
		return "the last one"
	}
	return strings.Join(parts, ", ")
}

// ThenWords names the bolts that come next, or says that a new bolt is done alone.
func (s Tighten) ThenWords() string {
	if s.Redo > 0 {
		return "this bolt alone"
	}
	return ThenWords(s.Then)
}

// BoltList prints bolt numbers as a list: "1, 7, 4".
func BoltList(bolts []Bolt) string {
	var parts []string
	for _, b := range bolts {
		parts = append(parts, fmt.Sprint(b))
	}
	return strings.Join(parts, ", ")
}

// HiddenTag leaves out the end of a tag that has to be read off the joint.
func (p *Plan) HiddenTag() string {
	tag := p.About.Tag
	for _, q := range p.Questions {
		if q.Typed != "" {
			return strings.TrimSuffix(tag, q.Typed) + strings.Repeat("_", len(q.Typed))
		}
	}
	return tag
}

// AsksTag says that the end of the tag is still to be read off the joint, or will
// be when the work is opened again.
func (w Walk) AsksTag() bool {
	return w.stopped != "" || slices.ContainsFunc(w.openQuestions(), func(i int) bool { return w.plan.Questions[i].Typed != "" })
}

// AnsweredWords lists the answers given at the gate so far.
func (w Walk) AnsweredWords() string {
	var yes, open int
	for i, q := range w.plan.Questions {
		if q.When != AtGate {
			continue
		}
		if w.answers[i] == answered {
			yes++
		} else {
			open++
		}
	}
	return fmt.Sprintf("%d of %d, %d open", yes, yes+open, open)
}
