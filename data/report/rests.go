package report

import (
	"fmt"
	"time"

	"evenload/sequence"
)

// RestTurn is one rest of the gasket, as long as it was or until somebody waived it.
type RestTurn struct {
	From, To time.Time // From is the time from which the walk counts it
	Waived   *sequence.Named
	Line     int // of the card
}

// rested adds a rest that has ended, and says from when to when in its sentence.
func (d *AsDone) rested(step sequence.Step, said *Said) {
	rest, ok := step.(sequence.Rest)
	if !ok {
		return
	}
	turn := RestTurn{From: d.restFrom(rest), To: said.At, Line: said.N}
	if waived, ok := said.Data.(sequence.RestWaived); ok {
		turn.Waived = &waived.Named
	}
	said.Text += ", " + turn.span()
	d.Rests = append(d.Rests, turn)
}

func (d *AsDone) restFrom(rest sequence.Rest) time.Time {
	return rest.Until.Add(-time.Duration(d.Plan.Rest)).In(d.Zone)
}

// span says from when to when. The walk counts from the latest time on the card,
// which may lie behind the end where the clock went back.
func (t RestTurn) span() string {
	text := "from " + t.From.Format(moment) + " to " + t.To.Format(moment)
	if t.Waived != nil {
		text = "begun " + t.From.Format(moment) + ", waived " + t.To.Format(moment)
	}
	if t.To.Before(t.From) {
		text += " (clock went back)"
	}
	return text
}

const moment = "2006-01-02 15:04:05"

// restFacts say how long the gasket rested, where the plan has a rest.
func (d *AsDone) restFacts() []sequence.Told {
	if d.Plan.Rest <= 0 {
		return nil
	}
	planned := SpanText(d.Plan.Rest) + " planned; "
	var all []sequence.Told
	for _, t := range d.Rests {
		text := planned + t.span()
		if t.Waived != nil {
			text = planned + "WAIVED by " + DecidedBy(*t.Waived) + "; " + t.span()
		}
		all = append(all, sequence.Told{Label: "rest", Text: text})
	}
	last := d.Events[len(d.Events)-1].At
	if rest, ok := d.Walk.Next(last).(sequence.Rest); ok {
		return append(all, sequence.Told{Label: "rest", Text: planned + fmt.Sprintf("from %s, not over yet", d.restFrom(rest).Format(moment))})
	}
	if len(all) == 0 {
		all = []sequence.Told{{Label: "rest", Text: planned + d.None("not begun")}}
	}
	return all
}
