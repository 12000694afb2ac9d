package board

import (
	"slices"
	"strings"

	"evenload/joint"
)

// Hit is a joint that a tool touched, in one pass or round.
type Hit struct {
	Row
	Touch
}

// Recall is what is asked when a tool or gauge turns out to be wrong.
type Recall struct {
	Tool  string     // its id or that of its gauge
	Since joint.Date // the first day that counts, by the card's own local time
}

// matches compares ids as people write them.
func (q Recall) matches(id string) bool {
	return strings.EqualFold(strings.TrimSpace(id), strings.TrimSpace(q.Tool))
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
			if (q.matches(t.Tool) || q.matches(t.Gauge)) && !t.Day.Before(q.Since) {
				hits = append(hits, Hit{r, t})
			}
		}
	}
	return hits, unknown
}

// Unknown stands for a row of which it cannot be said.
func Unknown(r Row) Hit { return Hit{r, Touch{What: "unknown"}} }

// PlaceWord says in which pass or round the tool touched bolts.
func (h Hit) PlaceWord() string { return h.placeWord() }

// BoltsText lists the bolts touched: "1-4, 9".
func (h Hit) BoltsText() string { return bolts(h.Touch.Bolts) }
