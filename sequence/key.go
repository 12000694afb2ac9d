package sequence

import "fmt"

// Key tells states apart by what the walk would do next. It leaves out numbers
// measured, times and notes.
func (w Walk) Key() string {
	// One byte holds each: bolts, passes and rounds are fewer than 256. The
	// lists whose length may differ end with a 0 or the key.
	key := make([]byte, 0, 16+len(w.answers)+len(w.marks)+len(w.order)+len(w.operator))
	key = append(key, byte(w.phase), byte(w.pass), byte(w.series), byte(w.round))
	for _, is := range []bool{w.gaps != nil, w.signedOn, w.stopped != "", w.closed, w.expired, w.partsFirst} {
		if is {
			key = append(key, 1)
		} else {
			key = append(key, 0)
		}
	}
	for slot := range w.plan.Tools {
		set := byte(0)
		if w.slotIsSet(slot) {
			set = 1
		}
		key = append(key, set, byte(w.endOf(slot)))
	}
	for _, a := range w.answers {
		key = append(key, byte(a))
	}
	for _, released := range w.holds {
		if released != "" {
			key = append(key, 1)
		} else {
			key = append(key, 0)
		}
	}
	for _, m := range w.marks {
		key = append(key, byte(m))
	}
	for _, s := range w.order {
		for _, b := range s {
			key = append(key, byte(b))
		}
		if len(s) > 1 {
			key = append(key, MostBolts+1) // none of them is a bolt: what is marked together is taken back together
		}
	}
	key = append(append(key, 0), w.operator...)
	for _, p := range w.people { // none of them can be the witness
		key = append(append(key, 0), p...)
	}
	key = append(key, 0)
	for _, p := range w.seconds { // nor any of these
		key = append(append(key, 0), p...)
	}
	key = append(append(append(key, 0), w.second...), 0)
	for _, b := range w.out {
		key = append(key, byte(b))
	}
	key = append(key, 0)
	for _, b := range w.outHere {
		key = append(key, byte(b))
	}
	key = append(key, 0, byte(w.redo.bolt), byte(w.redo.next), byte(w.redo.upTo))
	for _, h := range w.held {
		key = append(append(append(key, byte(h.Bolt), byte(h.slot)), h.What...), 0)
	}
	for _, s := range w.outside() { // what may be decided differs
		key = append(key, 1)
		if w.plan.Stretch.high(s.Load) {
			key = append(key, 2)
		}
		if w.plan.Stretch.Beyond(s.Load) {
			key = append(key, 3)
		}
	}
	key = append(key, 0)
	for _, f := range w.fitted { // another chart, another pressure
		key = append(key, 0)
		if f != nil {
			key = fmt.Append(key, f.tool.ID, f.settings)
		}
	}
	key = append(append(key, 0), w.leak...)
	return string(w.appendPapers(key))
}
