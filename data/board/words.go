package board

import (
	"fmt"
	"strings"
	"time"

	"evenload/data/visible"
	"evenload/sequence"
)

// StageWord says in a word or two where the work is.
func (r Row) StageWord() string {
	switch {
	case r.Kind == Trouble:
		return "unreadable"
	case r.Damage != "":
		return "DAMAGED"
	case len(r.Forks) > 0:
		return "FORK"
	case r.Kind == Job:
		return "not begun"
	}
	for _, w := range r.Waits {
		if w.Rank == rankStop {
			return "STOP"
		}
	}
	return string(r.Stage)
}

// PassWord says which pass or round: "2/3 60 %", "round 2", "bolt 7 30 %".
func (r Row) PassWord() string {
	switch {
	case r.Damage != "":
		return ""
	case r.Round > 0:
		return fmt.Sprintf("round %d", r.Round)
	case r.Redo > 0:
		return fmt.Sprintf("bolt %d %s", r.Redo, r.Share.Text())
	case r.Pass > 0:
		return fmt.Sprintf("%d/%d %s", r.Pass, r.Of, r.Share.Text())
	}
	return ""
}

// BoltsWord says how many bolts of the pass or round are done: "5/12".
func (r Row) BoltsWord() string {
	if r.Damage == "" && (r.Stage == sequence.StagePass || r.Stage == sequence.StageCheck || r.Stage == sequence.StageStretch) {
		return fmt.Sprintf("%d/%d", r.Done, r.Bolts)
	}
	return ""
}

// Who worked last on a card.
func (r Row) Who() string { return r.Operator }

// LastWord is the time of the last event, in the zone of now; empty where there is
// none.
func (r Row) LastWord(now time.Time) string {
	if r.LastAt.IsZero() {
		return ""
	}
	return clock(r.LastAt, now)
}

// AgeWord is how long ago the last event was: "12 min", "3 h", "2 d"; empty
// where there is none.
func (r Row) AgeWord(now time.Time) string {
	switch age := now.Sub(r.LastAt); {
	case r.LastAt.IsZero():
		return ""
	case age < 0:
		return "ahead" // of this laptop's clock
	case age < time.Hour:
		return fmt.Sprintf("%d min", int(age.Minutes()))
	case age < 48*time.Hour:
		return fmt.Sprintf("%d h", int(age.Hours()))
	default:
		return fmt.Sprintf("%d d", int(age.Hours()/24))
	}
}

// WaitWord is the most urgent wait, and how many more there are.
func (r Row) WaitWord() string {
	if len(r.Waits) == 0 {
		return ""
	}
	text := r.Waits[0].For + ": " + r.Waits[0].Why
	if more := len(r.Waits) - 1; more > 0 {
		text += fmt.Sprintf(" (+%d)", more)
	}
	return text
}

// Name is the tag, or the path where no tag could be read.
func (r Row) Name() string {
	if r.Tag == "" {
		return r.Path
	}
	return r.Tag
}

// State says whether a card is whole.
func (s Summary) State() string {
	switch {
	case s.Kind == Trouble:
		return "unreadable"
	case s.Damage != "":
		return "damaged"
	case s.Torn:
		return "torn"
	}
	return "whole"
}

// PlaceWord says in which pass or round a tool touched bolts, as the record names it.
func (t Touch) PlaceWord() string {
	switch t.What {
	case Tightened:
		return fmt.Sprintf("pass %d", t.Pass)
	case Checked:
		return fmt.Sprintf("check round %d.%d", t.Set, t.Round)
	}
	return string(t.What)
}

// bolts is a list of bolts, neighbours as a range: "1-4, 9".
func bolts(list []sequence.Bolt) string {
	var parts []string
	for i := 0; i < len(list); {
		j := i
		for j+1 < len(list) && list[j+1] == list[j]+1 {
			j++
		}
		if j > i+1 {
			parts = append(parts, fmt.Sprintf("%d-%d", list[i], list[j]))
		} else {
			for k := i; k <= j; k++ {
				parts = append(parts, fmt.Sprint(list[k]))
			}
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// seen makes texts safe to show.
func seen(all []string) []string {
	safe := make([]string, len(all))
	for i, s := range all {
		safe[i] = visible.Text(s)
	}
	return safe
}
