package sequence

import "fmt"

// Key tells states apart by what the walk would do next. It leaves out numbers
// measured, times and notes.
func (w Walk) Key() string {
	over := 0
	if w.gaps != nil {
		over = 1
	}
	return fmt.Sprint(w.phase, w.pass, w.series, w.round, w.answers, w.isSet(), w.marks, w.order, w.ended, w.high > 0,
		over, w.operator, w.signedOn, w.stopped != "", w.closed)
}
