package report

import (
	"fmt"
	"io"
	"strings"

	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint/flange"
	"evenload/joint/unit"
	"evenload/sequence/interaction"
	"evenload/sequence/practice"
)

// Closures is the row of closures of a job's joint, with its gasket as it is known, and
// what one bolt gives: what the simulated joint is made of. It takes a
// good part of a second. The error is job.Faults where the model does not know the joint.
func Closures(j job.Job) ([]unit.Compliance, unit.Compliance, error) {
	pair, err := j.Pair()
	if err != nil {
		return nil, 0, err
	}
	model, err := flange.New(pair.Section)
	if err != nil {
		return nil, 0, err
	}
	row, err := model.Row(pair.Gasket)
	return row, pair.Give, err
}

// Ring is the ring of bolts that those closures make.
func Ring(j job.Job) (*interaction.Bolts, error) {
	row, give, err := Closures(j)
	if err != nil {
		return nil, err
	}
	return interaction.New(row, give)
}

// PracticeJSON writes the log of a practice for other programs.
func PracticeJSON(out io.Writer, l practice.Log) error {
	return visible.JSON(out, l)
}

// PracticeLog prints the log of a practice for a supervisor to sign.
func PracticeLog(out io.Writer, l practice.Log) error {
	t := newTable(out)
	t.row("PRACTICE LOG", l.Name)
	t.row("", l.Word+" It is no record of any joint, and no leave to work alone.")
	t.row("trainee", orBlank(l.Trainee))
	if l.Supervisor != "" {
		t.row("supervisor", l.Supervisor)
	}
	switch {
	case benched(l) && l.Bolts == 1:
		t.row("joint", "none: one bolt at the bench, simulated")
	case benched(l):
		t.row("joint", fmt.Sprintf("none: %d bolts at the bench, simulated", l.Bolts))
	default:
		t.row("joint", fmt.Sprintf("%s, simulated, %d bolts", l.Joint, l.Bolts))
	}
	scatter := "no scatter drawn"
	if l.Scatter {
		scatter = "friction and tool scatter drawn"
	}
	if l.Program != "" {
		t.row("program", l.Program)
	}
	t.row("drawn from", fmt.Sprintf("seed %d, %s", l.Seed, scatter))
	if !l.Began.IsZero() {
		t.row("from", l.Began.Format(logTime)+" to "+l.Ended.Format(logTime))
	}
	if l.Card != "" {
		t.row("practice card", l.Card+", seal "+l.Seal)
	}
	if !l.Finished {
		t.row("NOT FINISHED: left before its end, marked up to there")
	}
	head := "MARK"
	if !l.Finished {
		head = "MARK so far"
	}
	t.head(head, fmt.Sprintf("%d %%", l.Mark.Total))
	for _, p := range l.Mark.Parts {
		t.row(string(p.Part), fmt.Sprintf("%d %%", p.Mark), fmt.Sprintf("%d of %d right", p.Right, p.Asked))
	}
	words := "The mark is the mean of its parts."
	if !benched(l) {
		words += " " + practice.EvenWords
	}
	t.prose(words)
	if len(l.Loads) > 0 {
		var all []string
		for i, x := range l.Loads {
			all = append(all, fmt.Sprintf("%d %d %%", i+1, x))
		}
		t.head("LOADS at the end, by bolt, in the model, of the target")
		t.prose(strings.Join(all, ", "))
	}
	t.head("MISSED")
	if len(l.Missed) == 0 {
		t.row("nothing")
	}
	for i, a := range l.Missed {
		t.prose(fmt.Sprintf("%d. %s, %s. %s", i+1, a.Part, placeOf(a), a.Words()))
	}
	t.head("ASKED", "right", "answered")
	for _, a := range l.Answers {
		mark := "yes"
		if !a.OK {
			mark = "NO"
		}
		t.row(string(a.Part), mark, a.Given, placeOf(a))
	}
	t.head("SIGNED")
	t.row("trainee", "______________________________")
	t.row("supervisor, name and date", "______________________________")
	return t.w.Flush()
}

// placeOf is where in the walk an answer stands, with single spaces.
func placeOf(a practice.Answer) string { return strings.Join(strings.Fields(a.Where), " ") }

// logTime is to the minute, with the zone.
const logTime = "2006-01-02 15:04 -07:00"

func benched(l practice.Log) bool {
	at, ok := practice.LevelOf(l.Level)
	return ok && at.Bench()
}

// orBlank is a name, or a line to write it on.
func orBlank(name string) string {
	if name == "" {
		return "______________________________"
	}
	return name
}
