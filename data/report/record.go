package report

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"
	"unicode"

	"evenload/data/card"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Record prints what a card says was done.
func Record(out io.Writer, c card.Card) error {
	opened := c.Opened()
	p := &opened.Plan
	w := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	walk, err := sequence.Replay(p, c.Events()[1:])
	if err != nil {
		return fmt.Errorf("%s: %w", c.Path, err)
	}
	fmt.Fprintf(w, "RECORD\t%s\tseal %s\n", p.About.Tag, c.Seal())
	switch {
	case c.Torn != nil:
		fmt.Fprintln(w, "DRAFT: the card's last line is torn; open it with evenload walk")
	case !walk.IsClosed():
		fmt.Fprintln(w, "DRAFT: the card is not closed")
	}
	if p.About.ApprovedBy == "" {
		fmt.Fprintln(w, "UNAPPROVED")
	}
	row := func(label, value string) {
		if value != "" {
			fmt.Fprintf(w, "%s\t%s\n", label, clean(value))
		}
	}
	row("where", p.About.Where)
	row("flange", p.About.Flange)
	row("drawing", p.About.Drawing)
	row("work order", p.About.WorkOrder)
	row("permit", p.About.Permit)
	row("procedure", p.About.Procedure)
	row("revision", p.About.Revision)
	row("approved by", strings.TrimSpace(p.About.ApprovedBy+" "+p.About.ApprovedOn.String()))
	row("bolts", fmt.Sprintf("%d x %s %s", p.Bolts, p.Thread, p.About.Grade))
	row("target torque", p.Aim.Torque.Text(p.System))
	row("order", string(p.Pattern)+": "+order(p.Stations))
	row("job file", opened.JobFile+" SHA-256 "+opened.JobSHA256)
	for _, t := range p.Tools {
		row("tool", fmt.Sprintf("%s certificate %s due %s, gauge %s due %s", t.ID, t.Certificate, t.Due, t.Gauge.ID, t.Gauge.Due))
	}
	fmt.Fprintf(w, "\nPLAN\tset to\tgives\n")
	for _, pass := range p.Passes {
		for i, s := range pass.Settings {
			fmt.Fprintf(w, "%s\t%s\t%s\n", pass.Share.Text(), sequence.Gauged(p.Tools[i], s.Set), s.Delivered.Text(p.System))
		}
	}
	fmt.Fprintf(w, "\nAS DONE\ttime\tby\n")
	zone := time.FixedZone("", opened.OffsetMinutes*60)
	for i, e := range c.Entries {
		at := e.Event.At.In(zone).Format("2006-01-02 15:04:05 -07:00")
		if i > 0 && e.Event.At.Before(c.Entries[i-1].Event.At) {
			at += " (clock went back)"
		}
		fmt.Fprintf(w, "%d\t%s\t%s\t%s\n", e.N, at, clean(e.Event.By), clean(Sentence(p, e.Event.Data)))
	}
	fmt.Fprintf(w, "\n%s\n%s\n", sequence.NotLoadWord, sequence.CloseHint)
	return w.Flush()
}

// Sentence says an event in words.
func Sentence(p *sequence.Plan, d sequence.Data) string {
	decided := func(n sequence.Named) string { return fmt.Sprintf("by %s, %s: %s", n.Name, n.Role, n.Reason) }
	switch d := d.(type) {
	case sequence.CardOpened:
		return "card opened by " + d.Program
	case sequence.SignedOn:
		text := "signed on"
		if d.Second != "" {
			text += ", second person " + d.Second
		}
		if d.Permit != "" {
			text += ", permit " + d.Permit
		}
		return text
	case sequence.Answered:
		text := string(d.Answer) + ": " + question(p, d.Question)
		if d.Typed != "" {
			text += " typed " + d.Typed
		}
		if d.Reason != "" {
			text += " (" + d.Reason + ")"
		}
		return text
	case sequence.Snugged:
		return "all nuts snug by hand"
	case sequence.PressureSet:
		return setSentence(p, d)
	case sequence.BoltDone:
		return fmt.Sprintf("pass %d, bolt %s done", d.Pass, sequence.BoltList(d.Bolts))
	case sequence.Undone:
		if d.Question != "" {
			return "answer taken back: " + question(p, d.Question)
		}
		return fmt.Sprintf("bolt %d taken back", d.Bolt)
	case sequence.NutMoved:
		return fmt.Sprintf("check round %d, nut %d moved", d.Round, d.Bolt)
	case sequence.NutStill:
		return fmt.Sprintf("check round %d, nut %d still", d.Round, d.Bolt)
	case sequence.GapsMeasured:
		var parts []string
		for _, g := range d.Readings {
			parts = append(parts, fmt.Sprintf("%s beside bolt %d", g.Gap.Text(p.System), g.Bolt))
		}
		return "gaps " + strings.Join(parts, ", ")
	case sequence.GapsAccepted:
		return "gaps beyond the limit accepted " + decided(d.Named)
	case sequence.RestOver:
		return "rest over"
	case sequence.RestWaived:
		return "rest waived " + decided(d.Named)
	case sequence.ProblemFound:
		if d.Bolt == 0 {
			return "WORK STOPPED: " + d.Reason
		}
		return fmt.Sprintf("bolt %d left undone: %s", d.Bolt, d.Reason)
	case sequence.Released:
		what := string(d.Of)
		if d.Bolt > 0 {
			what = fmt.Sprintf("bolt %d", d.Bolt)
		}
		if d.Question != "" {
			what = question(p, d.Question)
		}
		return "released, " + what + ", " + decided(d.Named)
	case sequence.Suspended:
		return "left the walk"
	case sequence.NoteMade:
		return "note: " + d.Text
	case sequence.TailCut:
		return fmt.Sprintf("a torn last line of %d bytes was cut off, kept in %s", d.Bytes, d.File)
	case sequence.CardClosed:
		return fmt.Sprintf("closed; witness %s, %s", d.Witness, d.Role)
	}
	return string(d.Kind())
}

func setSentence(p *sequence.Plan, d sequence.PressureSet) string {
	if d.Tool < 0 || d.Tool >= len(p.Tools) {
		return "gauge read"
	}
	text := "pressure set, read back"
	if d.AtEnd {
		text = "end reading"
	}
	show := func(word string, v unit.Pressure) {
		if v > 0 {
			text += " " + sequence.Gauged(p.Tools[d.Tool], v) + " " + word
		}
	}
	show("running", d.Running)
	show("at rest", d.Static)
	return text
}

func question(p *sequence.Plan, id string) string {
	for _, q := range p.Questions {
		if q.ID == id {
			return q.Text
		}
	}
	return id
}

// Verify says in a line whether a card is whole and unchanged.
func Verify(path string) (text string, ok bool) {
	c, err := card.Read(path)
	var damage *card.DamageError
	switch {
	case errors.As(err, &damage):
		return "DAMAGED  " + damage.Error(), false
	case err != nil:
		return "NO CARD  " + err.Error(), false
	}
	opened := c.Opened()
	walk, err := sequence.Replay(&opened.Plan, c.Events()[1:])
	if err != nil {
		return fmt.Sprintf("DAMAGED  %s: it does not follow its own plan: %v", path, err), false
	}
	state := "open"
	if walk.IsClosed() {
		state = "closed"
	}
	text = fmt.Sprintf("WHOLE    %s: %s, %d lines, seal %s", path, state, len(c.Entries), c.Seal())
	if c.Torn != nil {
		return fmt.Sprintf("TORN     %s: the last line is torn, %d bytes; walk cuts it off", path, c.Torn.Bytes), false
	}
	if back := c.ClockWentBack(); len(back) > 0 {
		text += fmt.Sprintf("; the clock went back at line %d", back[0])
	}
	return text + "\n         (the chain shows damage and careless edits; without a key it cannot show intent)", true
}

// clean takes what could move a terminal out of text of a card.
func clean(s string) string {
	var b strings.Builder
	for _, r := range s {
		if unicode.IsGraphic(r) && !unicode.Is(unicode.Bidi_Control, r) {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, `\u{%x}`, r)
		}
	}
	return b.String()
}
