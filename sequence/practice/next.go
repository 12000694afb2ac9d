package practice

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// nextTask asks which bolts come next, for every tool one.
func (r *Run) nextTask(id string, w sequence.Walk, s sequence.Tighten) Task {
	t := Task{id: id, Title: "WHICH BOLT NEXT?", part: Order, right: sequence.Station(s.Bolts).Text(), Prompt: "Bolt", Picks: len(s.Bolts)}
	if len(s.Bolts) > 1 {
		t.Title = "WHICH BOLTS NEXT?"
		t.Prompt = "Bolts of " + letters(s.Turns) + ", in this order"
	}
	t.judge = func(text string) (Verdict, error) {
		bolts, err := typedBolts(text, len(s.Bolts), r.plan.Bolts)
		if err != nil {
			return Verdict{}, err
		}
		return r.judgeNext(w, s, bolts), nil
	}
	return t
}

func letters(turns []sequence.Turn) string {
	var all []string
	for _, t := range turns {
		all = append(all, t.Letter)
	}
	return strings.Join(all, " and ")
}

// typedBolts are n numbers of bolts from 1 to most, whatever stands between them. A number
// that no bolt has is a slip of the fingers, not of the order.
func typedBolts(text string, n, most int) (sequence.Station, error) {
	words := strings.FieldsFunc(text, func(c rune) bool { return c < '0' || c > '9' })
	var bolts sequence.Station
	for _, word := range words {
		b, err := strconv.Atoi(word)
		if err != nil || b < 1 || b > most {
			return nil, fmt.Errorf("there is no bolt %s, the bolts are 1 to %d", word, most)
		}
		bolts = append(bolts, sequence.Bolt(b))
	}
	switch {
	case len(bolts) == n:
		return bolts, nil
	case n == 1:
		return nil, fmt.Errorf("type the number of one bolt")
	}
	return nil, fmt.Errorf("type the numbers of %d bolts, with a space between", n)
}

// judgeNext says whether the bolts come next, and why they do or do not.
func (r *Run) judgeNext(w sequence.Walk, s sequence.Tighten, given sequence.Station) Verdict {
	v := Verdict{Right: slices.Equal(given, sequence.Station(s.Bolts)), given: given.Text()}
	last := lastOf(w)
	because := r.because(s.Bolts, last)
	switch {
	case v.Right:
		v.Text = "Right. " + because
		return v
	case r.asGood(w, s.Bolts, given, last):
		v.Right = true
		v.Text = fmt.Sprintf("Right: bolt %d would do as well, it is the mirror of %d. This job takes %d, so follow the screen.", given[0], s.Bolts[0], s.Bolts[0])
		return v
	}
	v.Text = "Wrong. " + r.wrongBecause(w, s, given, last)
	v.Closed, v.Text = r.tried(s, w, given, v.Text)
	v.Text += " Next is " + sequence.Station(s.Bolts).Text() + ": " + lower(because)
	return v
}

// worse is from when on a wrong order is shown to close the flanges less evenly.
const worse = 1.25

// tried adds to a text how the flanges would stand after the wrong bolts, where that
// is worse than after the right ones.
func (r *Run) tried(s sequence.Tighten, w sequence.Walk, given sequence.Station, text string) ([]unit.Length, string) {
	if !r.mayTry(w, given) {
		return nil, text
	}
	right := sequence.Station(s.Bolts)
	no, yes := r.joint.after(given, s.Setting.Delivered), r.joint.after(right, s.Setting.Delivered)
	if no == nil || yes == nil || r.joint.uneven(no) < worse*r.joint.uneven(yes) {
		return nil, text
	}
	wrong, good := r.joint.uneven(no).Text(r.plan.System), r.joint.uneven(yes).Text(r.plan.System)
	if wrong == good { // to the last digit that is shown there is nothing to see
		return nil, text
	}
	return closedMore(no), text + fmt.Sprintf(" In the model the flanges would then close unevenly by %s, after %s by %s.", wrong, right.Text(), good)
}

// closedMore is by how much the flanges are closed at each bolt, bolt 1 first, more than
// where they are closed least.
func closedMore(s *interaction.State) []unit.Length {
	closed := slices.Clone(s.Closed())
	least := slices.Min(closed)
	for i := range closed {
		closed[i] -= least
	}
	return closed
}

// asGood says that a bolt is as good as the next one: the mirror of the ring that leaves the
// bolt marked last and all that are marked where they are puts one on the other. A pass
// begins at bolt 1, neighbours of a group go clockwise, an order of the job's own is kept.
func (r *Run) asGood(w sequence.Walk, next, given sequence.Station, last sequence.Bolt) bool {
	n := r.plan.Bolts
	if len(next) != 1 || last == 0 || r.plan.Pattern != sequence.Star || r.grouped() || !r.mayTry(w, given) {
		return false
	}
	mirror := func(b sequence.Bolt) sequence.Bolt {
		return sequence.Bolt((2*(int(last)-1)-(int(b)-1)+2*n)%n + 1)
	}
	for b := range n {
		b := sequence.Bolt(b + 1)
		if w.MarkOf(b) != w.MarkOf(mirror(b)) {
			return false
		}
	}
	return mirror(given[0]) == next[0]
}

// mayTry says that bolts are open and could be tightened.
func (r *Run) mayTry(w sequence.Walk, given sequence.Station) bool {
	for i, b := range given {
		if b < 1 || int(b) > r.plan.Bolts || w.MarkOf(b) != sequence.MarkOpen || slices.Contains(given[:i], b) {
			return false
		}
	}
	return true
}

// lastOf is the first bolt of the station that was marked last in this pass, 0 at its start.
func lastOf(w sequence.Walk) sequence.Bolt {
	last := w.Last(1)
	if len(last) == 0 {
		return 0
	}
	return last[0][0]
}

// apart is how many places lie between two bolts, the shorter way round.
func apart(a, b sequence.Bolt, n int) int {
	d := int(max(a, b) - min(a, b))
	return min(d, n-d)
}

// because says in a sentence why a station comes next.
func (r *Run) because(s sequence.Station, last sequence.Bolt) string {
	n, b := r.plan.Bolts, s[0]
	d := apart(b, last, n)
	both := ""
	if len(s) == 2 {
		both = " Both tools stand across from each other, so that the flanges stay parallel."
	}
	switch {
	case r.plan.Pattern != sequence.Star:
		return fmt.Sprintf("The job gives its own order (%s), and bolt %d is next in it.%s", r.plan.Pattern, b, both)
	case last == 0:
		return fmt.Sprintf("Every pass begins at bolt %d.%s", b, both)
	case r.grouped() && d == 1:
		return fmt.Sprintf("Bolt %d is of the same group: on a large flange a few neighbours are done clockwise, then the group across.", b)
	case n%2 == 1 && d == n/2:
		return fmt.Sprintf("With %d bolts none lies straight across from %d: bolt %d is one of the two nearest to it.", n, last, b)
	case n%2 == 0 && d == n/2:
		return fmt.Sprintf("Bolt %d lies across from %d: so the flanges stay parallel.", b, last)
	case r.grouped() && d > n/3:
		return fmt.Sprintf("Bolt %d begins the group across: so the flanges stay parallel.", b)
	case r.grouped():
		return fmt.Sprintf("Bolt %d begins the next group, where the ring is most open.", b)
	case n%4 == 0 && d == n/4:
		return fmt.Sprintf("Bolt %d lies a quarter round from what is done, then the one across from it follows.%s", b, both)
	}
	return fmt.Sprintf("Bolt %d lies where the ring is most open, between bolts that are done; what lies across follows.%s", b, both)
}

func (r *Run) grouped() bool { return r.plan.Bolts >= fewestGrouped }

// fewestGrouped is the count from which the star takes neighbours in groups.
const fewestGrouped = 36

// wrongBecause says in a sentence why bolts do not come next.
func (r *Run) wrongBecause(w sequence.Walk, s sequence.Tighten, given sequence.Station, last sequence.Bolt) string {
	n := r.plan.Bolts
	for _, b := range given {
		if w.MarkOf(b) != sequence.MarkOpen {
			return fmt.Sprintf("Bolt %d has its mark in this pass.", b)
		}
	}
	if len(given) == 2 && sameBolts(given, s.Bolts) {
		return "The bolts are right, but tool A is at the first of them: each tool has its own pressure."
	}
	if len(given) == 2 && apart(given[0], given[1], n) != n/2 {
		return fmt.Sprintf("Bolts %s do not lie across from each other: both tools together would tilt the flange.", given.Text())
	}
	b := given[0]
	switch d := apart(b, last, n); {
	case last == 0:
		return fmt.Sprintf("The pass does not begin at bolt %d: the marks on the flange are read in the same order every time.", b)
	case d == 1:
		return fmt.Sprintf("Bolt %d is beside %d. It takes load off %d again, and going round tilts the flange.", b, last, last)
	case d <= n/6:
		return fmt.Sprintf("Bolt %d is on the side of %d: that side would close first.", b, last)
	}
	return fmt.Sprintf("Bolt %d comes later in the order.", b)
}

func sameBolts(a, b sequence.Station) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// roundTask asks where a check round goes on.
func (r *Run) roundTask(id string, s sequence.Check) Task {
	t := Task{id: id, Title: "WHICH BOLT NEXT?", part: Order, right: fmt.Sprint(s.Bolt), Prompt: "Bolt", Picks: 1}
	t.judge = func(text string) (Verdict, error) {
		bolts, err := typedBolts(text, 1, r.plan.Bolts)
		if err != nil {
			return Verdict{}, err
		}
		v := Verdict{Right: bolts[0] == s.Bolt, given: bolts.Text()}
		why := "In a check round one goes round the joint, clockwise, bolt by bolt: the order no longer matters, and none is forgotten."
		if v.Right {
			v.Text = "Right. " + why
			return v, nil
		}
		v.Text = fmt.Sprintf("Wrong. Next is %d. %s", s.Bolt, why)
		return v, nil
	}
	return t
}

// GapUnit is the unit in which gaps are shown.
func GapUnit(s unit.System) string {
	if s == unit.US {
		return "in"
	}
	return "mm"
}

// GapText is how a gap is shown, without its unit.
func GapText(g unit.Length, s unit.System) string {
	if s == unit.US {
		return fmt.Sprintf("%.3f", float64(g)/unit.Inch)
	}
	return fmt.Sprintf("%.2f", float64(g)/float64(unit.Millimetre))
}
