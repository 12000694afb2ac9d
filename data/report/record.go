package report

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

// errPractice says that a card is of a simulated joint.
var errPractice = errors.New("PRACTICE is not recorded: no joint was tightened, and the practice log beside the card has the mark")

// Record prints what a card says was done. It refuses practice with
// errPractice, and a card that does not follow its own plan. The record of a card that
// another file beside it went on with is printed, and gives a ForkError.
func Record(out io.Writer, c card.Card) error {
	d, err := DoneBeside(c, nil)
	if err != nil {
		return err
	}
	if d.State == Damaged {
		if _, err := sequence.Replay(d.Plan, c.Events()[1:]); err != nil {
			return fmt.Errorf("%s: %w", c.Path, err)
		}
	}
	if err := RecordText(out, d); err != nil {
		return err
	}
	return d.Forked()
}

// RecordText prints what was done, of a damaged card as far as it is known.
func RecordText(out io.Writer, d AsDone) error {
	p := d.Plan
	t := newTable(out)
	t.row("RECORD", p.About.Tag, "seal "+d.Seal)
	if d.State != Closed {
		t.row(strings.ToUpper(string(d.State)) + ": " + d.Why)
	}
	for _, f := range d.Forks {
		t.row("FORK: " + f.Words())
	}
	if d.Walk.Leak() == sequence.Leaked {
		t.row("LEAKED at its leak test: the next card of this joint follows this one")
	}
	for _, w := range d.Walk.NoStudWords() {
		t.row(w)
	}
	if p.About.ApprovedBy == "" {
		t.row("UNAPPROVED")
	}
	for _, who := range d.Trainees() {
		t.row("TRAINEE", who)
	}
	t.row("record", d.ID)
	for _, f := range d.AllFacts() {
		t.row(f.Label, f.Text)
	}
	t.head(append([]string{"PEOPLE"}, PeopleHead[1:]...)...)
	for _, row := range d.PeopleRows() {
		t.row(row...)
	}
	if len(d.People) == 0 {
		t.row(d.None(Nobody))
	}
	t.head(append([]string{"PASSES AS DONE"}, PassHead[1:]...)...)
	for _, row := range d.PassRows() {
		t.row(row...)
	}
	t.head(append([]string{"CHECK ROUNDS"}, RoundHead[1:]...)...)
	rounds := d.RoundRows()
	for _, row := range rounds {
		t.row(row...)
	}
	if len(rounds) == 0 {
		t.row(d.None("none made"))
	}
	gaps(t, d)
	studs(t, p, d.Walk.Studs())
	t.head("LEFT, RELEASED, ACCEPTED OR WAIVED")
	all := d.Walk.Exceptions()
	for _, e := range all {
		t.row("- " + e)
	}
	switch {
	case len(all) > 0:
	case d.State == Closed:
		t.row("nothing")
	default:
		t.row(d.None("nothing so far"))
	}
	t.head("AS DONE", "time", "by")
	for _, e := range d.Events {
		at := e.At.Format("2006-01-02 15:04:05 -07:00")
		if e.Back {
			at += " (clock went back)"
		}
		t.row(fmt.Sprint(e.N), at, e.By, e.Text)
	}
	t.head(sequence.NotLoadWord)
	t.row(sequence.CloseHint)
	return t.w.Flush()
}

// Sentence says an event in words, as it came to a walk: questions, tools and
// bolts at risk are those that the walk had then.
func Sentence(w sequence.Walk, d sequence.Data) string {
	p := w.Plan()
	decided := func(n sequence.Named) string { return fmt.Sprintf("by %s, %s: %s", n.Name, n.Role, n.Reason) }
	switch d := d.(type) {
	case sequence.CardOpened:
		return "card opened by " + d.Program
	case sequence.SignedOn:
		return signedOn(d)
	case sequence.Answered:
		if d.Measured != nil && p.Alignment != nil {
			return alignment(p, *d.Measured)
		}
		text := string(d.Answer) + ": " + w.QuestionText(d.Question)
		if stops(w, d) {
			text = "WORK STOPPED: " + text
		}
		if d.Typed != "" {
			text += " typed " + d.Typed
		}
		if d.Reason != "" {
			text += " (" + d.Reason + ")"
		}
		if q, ok := w.Question(d.Question); ok && len(d.Told) > 0 {
			text += " (" + q.ToldWords(d) + ")"
		}
		return text
	case sequence.MaterialsNoted:
		return materials(p, d)
	case sequence.Snugged:
		return "all nuts snug by hand"
	case sequence.PressureSet:
		return setSentence(w, d)
	case sequence.BoltDone:
		return fmt.Sprintf("pass %d, bolt %s done", d.Pass, withTools(w, d.Bolts))
	case sequence.Undone:
		if d.Question != "" {
			return "answer taken back: " + w.QuestionText(d.Question)
		}
		if w.MeasuresStuds() {
			return "stretch of " + d.Words() + " taken back"
		}
		return d.Words() + " taken back"
	case sequence.NutMoved:
		return fmt.Sprintf("check round %d.%d, nut %d moved%s", len(w.RoundSets()), d.Round, d.Bolt, named(w, 0))
	case sequence.NutStill:
		return fmt.Sprintf("check round %d.%d, nut %d still%s", len(w.RoundSets()), d.Round, d.Bolt, named(w, 0))
	case sequence.GapsMeasured:
		var parts []string
		for _, g := range d.Readings {
			parts = append(parts, fmt.Sprintf("%s beside bolt %d", g.Gap.Text(p.System), g.Bolt))
		}
		return "gaps " + strings.Join(parts, ", ")
	case sequence.GapsAccepted:
		return "gaps beyond the limit accepted " + decided(d.Named)
	case sequence.RestOver:
		return "rest over, " + SpanText(p.Rest) + " planned"
	case sequence.RestWaived:
		return "rest waived " + decided(d.Named) + "; " + SpanText(p.Rest) + " planned"
	case sequence.ProblemFound:
		return problemSentence(w, d)
	case sequence.Replaced:
		return fmt.Sprintf("bolt %d has new parts, batch %s", d.Bolt, d.Batch)
	case sequence.ToolChanged:
		return toolSentence(w, d)
	case sequence.AirChanged:
		return "hose or regulator" + ofTool(w, d.Slot) + " changed: " + d.Reason
	case sequence.StretchMeasured:
		return d.Words(p)
	case sequence.StudsAgain:
		return d.Words()
	case sequence.LeakTested:
		return d.Words()
	case sequence.Released:
		what := map[sequence.ReleaseOf]string{sequence.OfQualification: "the work with a qualification that has expired",
			sequence.OfPressure: "the pressure above its band at the end of the pass",
			sequence.OfRounds:   "nuts that still moved after the last check round",
			sequence.OfStretch:  "studs whose load by stretch is outside the band"}[d.Of]
		if d.Of == sequence.OfPressure {
			what += named(w, d.Tool)
		}
		if d.Bolt > 0 {
			what = fmt.Sprintf("bolt %d", d.Bolt)
		}
		if d.Question != "" {
			what = w.QuestionText(d.Question)
		}
		if d.Question != "" && w.IsMeasured(d.Question) {
			what = "the alignment beyond its limits"
		}
		if d.Of == sequence.OfProblem {
			what = "the work after a problem at " + what
		}
		if len(d.Replace) > 0 {
			return "studs of bolt " + sequence.BoltList(d.Replace) + ", above the band by stretch, are replaced, " + decided(d.Named)
		}
		if d.Restart {
			return "begun again with a new gasket, " + decided(d.Named)
		}
		if d.Of == sequence.OfHold {
			what = "hold point " + d.Hold
		}
		return "released, " + what + ", " + decided(d.Named)
	case sequence.Suspended:
		return "left the walk"
	case sequence.HandedOver:
		return "handed over; on the flange: " + d.State
	case sequence.NoteMade:
		return "note: " + d.Text
	case sequence.TailCut:
		return fmt.Sprintf("a torn last line of %d bytes was cut off, kept in %s", d.Bytes, d.File)
	case sequence.CardClosed:
		return fmt.Sprintf("closed; witness %s, %s", d.Witness, d.Role)
	}
	return string(d.Kind())
}

// stops says that an answer stops the work for everybody.
func stops(w sequence.Walk, d sequence.Answered) bool {
	q, ok := w.Question(d.Question)
	return ok && d.Answer == sequence.No && q.OnNo == sequence.StopPage
}

func setSentence(w sequence.Walk, d sequence.PressureSet) string {
	tool, ok := w.ToolIn(d.Tool)
	if !ok {
		return "gauge read"
	}
	text := "pressure set, read back"
	if d.AtEnd {
		text = "end reading"
	}
	text += named(w, d.Tool)
	show := func(word string, v unit.Pressure) {
		if v > 0 {
			text += " " + tool.Typed(v) + " " + word
		}
	}
	show("running", d.Running)
	show("at rest", d.Static)
	if risk := w.ReadingRisk(d); len(risk) > 0 {
		text += ", above the band. " + strings.Join(risk, " ")
	}
	if w.ReadsLow(d) {
		text += ", below the band"
	}
	return text
}
