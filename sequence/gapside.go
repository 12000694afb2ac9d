package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenload/joint/unit"
)

// JudgeGaps judges a measurement, or what is read of it so far: one reading at
// least, each beside a bolt of the joint.
func (w Walk) JudgeGaps(s GapCheck, readings []Gap) GapResult {
	r := GapResult{Readings: readings, Widest: readings[0], Narrowest: readings[0]}
	for _, g := range readings {
		if g.Gap > r.Widest.Gap {
			r.Widest = g
		}
		if g.Gap < r.Narrowest.Gap {
			r.Narrowest = g
		}
	}
	r.Spread = r.Widest.Gap - r.Narrowest.Gap
	r.OverLimit = r.Spread > s.Limit+printed
	r.Grown = s.Before >= 0 && r.Spread > s.Before+s.Same
	if r.Spread > 0 {
		r.Wide = w.plan.wide(r)
	}
	return r
}

// wide gives the bolts of the wide side: where the gap is in the wider half
// between the narrowest and the widest, and all bolts between two such places
// that are next to each other. A place alone stands for its neighbours too,
// where they were not measured.
func (p *Plan) wide(r GapResult) [][]Bolt {
	round := p.round()
	n := len(round)
	place := make([]int, n+1) // of each bolt on the way round
	for i, b := range round {
		place[b] = i
	}
	half := r.Narrowest.Gap + r.Spread/2
	all := slices.Clone(r.Readings)
	slices.SortStableFunc(all, func(a, b Gap) int { return cmp.Compare(place[a.Bolt], place[b.Bolt]) })
	// Begin behind a place that is not wide, so that no side is cut in two.
	begin := slices.IndexFunc(all, func(g Gap) bool { return g.Gap <= half })
	all = append(all[begin:], all[:begin]...)
	measured := func(at int) bool {
		return slices.ContainsFunc(all, func(g Gap) bool { return g.Bolt == round[at] })
	}
	var sides [][]Bolt
	for i := 0; i < len(all); i++ {
		if all[i].Gap <= half {
			continue
		}
		last := i
		for last+1 < len(all) && all[last+1].Gap > half {
			last++
		}
		from, to := place[all[i].Bolt], place[all[last].Bolt]
		if from == to {
			if before := (from + n - 1) % n; !measured(before) {
				from = before
			}
			if after := (to + 1) % n; !measured(after) {
				to = after
			}
		}
		side := []Bolt{round[from]}
		for at := from; at != to; {
			at = (at + 1) % n
			side = append(side, round[at])
		}
		if slices.Contains(side, r.Widest.Bolt) {
			sides = slices.Insert(sides, 0, side)
		} else {
			sides = append(sides, side)
		}
		i = last
	}
	return sides
}

// round is all bolts in the order in which they lie round the joint.
func (p *Plan) round() []Bolt {
	if len(p.Positions) == 0 {
		return run(1, p.Bolts)
	}
	var bolts []Bolt
	for _, i := range p.Positions.Round() {
		bolts = append(bolts, Bolt(i+1))
	}
	return bolts
}

// sides names the bolts of the wide side: "bolts 12, 1, 2 and bolts 6, 7, 8".
func (r GapResult) sides(bolts int) string {
	var parts []string
	for _, side := range r.Wide {
		inRow := true
		for i := 1; i < len(side); i++ {
			inRow = inRow && int(side[i]) == int(side[i-1])%bolts+1
		}
		switch n := len(side); {
		case n == 1:
			parts = append(parts, fmt.Sprintf("bolt %d", side[0]))
		case n > 6 && inRow:
			parts = append(parts, fmt.Sprintf("bolts %d clockwise to %d", side[0], side[n-1]))
		default:
			parts = append(parts, "bolts "+BoltList(side))
		}
	}
	return strings.Join(parts, " and ")
}

// wideWords says which side is wide, empty where none is that a feeler gauge tells.
func (w Walk) wideWords(r GapResult) string {
	if len(r.Wide) == 0 || r.Spread <= leaf {
		return ""
	}
	return "Wide at " + r.sides(w.plan.Bolts) + "."
}

// trendWords says how a spread compares with the one before, empty where there
// is none.
func (g GapCheck) trendWords(r GapResult, s unit.System) string {
	if g.Before < 0 {
		return ""
	}
	word := "As before"
	switch {
	case r.Spread > g.Before+leaf:
		word = "Growing"
	case r.Spread < g.Before-leaf:
		word = "Closing"
	}
	text := fmt.Sprintf("%s: the spread was %s.", word, g.Before.Text(s))
	if i := slices.IndexFunc(g.Was, func(was Gap) bool { return was.Bolt == r.Widest.Bolt }); i >= 0 {
		text += fmt.Sprintf(" Beside bolt %d it was %s.", r.Widest.Bolt, g.Was[i].Gap.Text(s))
	}
	return text
}

// LimitWords says what a measurement is held against.
func (g GapCheck) LimitWords(s unit.System) string {
	return "Spread at most " + g.Limit.Text(s) + ": widest less narrowest."
}

// BeforeWords says what the measurement before was, empty where there is none.
func (g GapCheck) BeforeWords(s unit.System) string {
	if g.Before < 0 {
		return ""
	}
	return fmt.Sprintf("Before, the spread was %s: it may grow by at most %s.", g.Before.Text(s), g.Same.Text(s))
}

// SpreadWords say the spread of a measurement, or of what is read of it so far,
// how it compares and which side is wide.
func (w Walk) SpreadWords(g GapCheck, r GapResult, s unit.System) []string {
	words := []string{"Spread " + r.Spread.Text(s) + "."}
	if r.OverLimit {
		words[0] = fmt.Sprintf("Spread %s, above %s.", r.Spread.Text(s), g.Limit.Text(s))
	}
	for _, text := range []string{g.trendWords(r, s), w.wideWords(r)} {
		if text != "" {
			words = append(words, text)
		}
	}
	return words
}

// GapWords says how a measurement beyond the limit was judged, and what is
// usual then.
func (w Walk) GapWords(g GapCheck, s unit.System) []string {
	if g.Over == nil {
		return nil
	}
	o := *g.Over
	words := []string{fmt.Sprintf("Spread %s: widest %s beside bolt %d, narrowest %s beside bolt %d.",
		o.Spread.Text(s), o.Widest.Gap.Text(s), o.Widest.Bolt, o.Narrowest.Gap.Text(s), o.Narrowest.Bolt)}
	if o.OverLimit {
		words = append(words, fmt.Sprintf("The limit is %s.", g.Limit.Text(s)))
	}
	for _, text := range []string{g.trendWords(o, s), w.wideWords(o)} {
		if text != "" {
			words = append(words, text)
		}
	}
	level := "stay at this torque"
	switch g.After {
	case "check rounds":
		return append(words, "Do not tighten further: measure again, or the responsible engineer decides.")
	case "snug":
		level = "stay at snug"
	}
	return append(words, fmt.Sprintf("Raise no torque. Common practice, where the site's procedure allows it: %s, work the wide side (%s), measure again. Else the responsible engineer decides.",
		level, o.sides(w.plan.Bolts)))
}
