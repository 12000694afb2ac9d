package board

import (
	"fmt"
	"slices"
	"strings"

	"evenload/data/reference"
	"evenload/joint"
)

// Hit is a joint that a tool touched, in one pass or round.
type Hit struct {
	Row
	Touch
}

// Recall is what is asked when a tool or gauge turns out to be wrong.
type Recall struct {
	Tool  string     // its id, its certificate, or the id of its gauge
	Since joint.Date // the first day that counts, by the card's own local time
}

// SinceWord says from which day on, and that all days count where none was given.
func (q Recall) SinceWord() string {
	if q.Since.IsZero() {
		return " on any day"
	}
	return " since " + q.Since.String()
}

// matches compares ids as people write them.
func (q Recall) matches(ids ...string) bool {
	return slices.ContainsFunc(ids, func(id string) bool { return strings.EqualFold(strings.TrimSpace(id), strings.TrimSpace(q.Tool)) })
}

// Known says that some job or card names the tool: that it touched no joint means
// nothing where nobody knows it. near are the names that it may have been.
func (q Recall) Known(rows []Row) (known bool, near []string) {
	var names []string
	for _, r := range rows {
		for _, d := range r.Tools {
			names = append(names, d.Tool, d.Gauge, d.Certificate)
		}
		for _, t := range r.Touches {
			names = append(names, t.Tool, t.Gauge, t.Certificate)
		}
	}
	slices.Sort(names)
	names = slices.DeleteFunc(slices.Compact(names), func(n string) bool { return n == "" })
	if q.matches(names...) {
		return true, nil
	}
	return false, reference.Near(q.Tool, names)
}

// UnknownWord says that nobody knows the tool, empty when somebody does.
func (q Recall) UnknownWord(rows []Row) string {
	known, near := q.Known(rows)
	switch {
	case known:
		return ""
	case len(near) == 0:
		return "No job and no card here names a tool: this is no all-clear."
	}
	return fmt.Sprintf("No job and no card here names %q as tool, gauge or certificate: this is no all-clear. Near: %s.", q.Tool, strings.Join(near, ", "))
}

// Find gives every touch of the tool since the day, by joint, and the rows of
// which it cannot be said, because they are damaged or not readable: more may
// be missing there.
func (q Recall) Find(rows []Row) (hits []Hit, unknown []Row) {
	rows = slices.Clone(rows)
	ByJoint.Sort(rows, false)
	for _, r := range rows {
		if r.Damage != "" {
			unknown = append(unknown, r)
		}
		for _, t := range r.Touches {
			if q.matches(t.Tool, t.Gauge, t.Certificate) && !t.Day.Before(q.Since) {
				hits = append(hits, Hit{r, t})
			}
		}
	}
	return hits, unknown
}

// Unknown stands for a row of which it cannot be said.
func Unknown(r Row) Hit { return Hit{r, Touch{What: "unknown"}} }

// BoltsText lists the bolts touched: "1-4, 9".
func (h Hit) BoltsText() string { return bolts(h.Touch.Bolts) }
