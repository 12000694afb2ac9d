package practice

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenload/joint/unit"
	"evenload/sequence"
)

// nextTask asks which bolts come next, for every tool one.
func (r *Run) nextTask(id string, w sequence.Walk, s sequence.Tighten) Task {
	t := Task{id: id, Title: "WHICH BOLT NEXT?", part: Order, right: sequence.Station(s.Bolts).Text(), Prompt: "Bolt", Picks: len(s.Bolts)}
	if len(s.Bolts) > 1 {
		t.Title = "WHICH BOLTS NEXT?"
		t.Prompt = "Bolts of " + letters(s.Turns) + ", in this order"
	}
	t.judge = func(text string) (Verdict, error) {
		bolts, err := typedBolts(text, len(s.Bolts))
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

func typedBolts(text string, n int) (sequence.Station, error) {
	words := strings.FieldsFunc(text, func(c rune) bool { return c < '0' || c > '9' })
	var bolts sequence.Station
	for _, word := range words {
		b, err := strconv.Atoi(word)
		if err != nil || b > sequence.MostBolts {
			return nil, fmt.Errorf("%s is no number of a bolt", word)
		}
		bolts = append(bolts, sequence.Bolt(b))
	}
	switch {
	case len(bolts) == n:
		return bolts, nil
	case n == 1:
		return nil, fmt.Errorf("type the number of one bolt")
	}
	return nil, fmt.Errorf("type the numbers of %d bolts, such as 1 7", n)
}

// judgeNext says whether the bolts come next, and why they do or do not.
func (r *Run) judgeNext(w sequence.Walk, s sequence.Tighten, given sequence.Station) Verdict {
	v := Verdict{Right: slices.Equal(given, sequence.Station(s.Bolts)), given: given.Text()}
	last := lastOf(w)
	because := r.because(s.Bolts, last)
	if v.Right {
		v.Text = "Right. " + because
		return v
	}
	v.Text = "Wrong. " + r.wrongBecause(w, s, given, last)
	v.Gaps, v.Text = r.tried(s, w, given, v.Text)
	v.Text += " Next is " + sequence.Station(s.Bolts).Text() + ": " + lower(because)
	return v
}

// worse is from when on a wrong order is shown to close the flanges less evenly.
const worse = 1.1

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
	return r.joint.gaps(no), text + fmt.Sprintf(" In the model the flanges would then close unevenly by %s, after %s by %s.",
		r.joint.uneven(no).Text(r.System), right.Text(), r.joint.uneven(yes).Text(r.System))
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
		switch {
		case b < 1 || int(b) > n:
			return fmt.Sprintf("There is no bolt %d, the bolts are 1 to %d.", b, n)
		case w.MarkOf(b) != sequence.MarkOpen:
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
		bolts, err := typedBolts(text, 1)
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

// GapText is how a gap is shown, without its unit.
func GapText(g unit.Length, s unit.System) string {
	if s == unit.US {
		return fmt.Sprintf("%.3f", float64(g)/unit.Inch)
	}
	return fmt.Sprintf("%.2f", float64(g)/float64(unit.Millimetre))
}
