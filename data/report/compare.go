package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// pace is how long the tools are at one place, moving on included (common practice).
const pace = 40.0 // s

// modelWord says what all figures of a comparison are.
const modelWord = "An estimate by an elastic model, checked against finite elements only: never a measurement."

// Comparison is what each pattern and number of passes leaves in the bolts of a
// job, by the model.
type Comparison struct {
	job    job.Job
	plan   sequence.Plan
	moves  unit.Share
	bolts  estimate
	orders []interaction.Compared // the job's own first
}

// NewComparison computes a job's orders. A nut counts as moved when its bolt gains
// more than the share of the target. The error is job.Faults where the joint is
// not one that is computed, or a value is missing.
func NewComparison(j job.Job, moves unit.Share) (Comparison, error) {
	c := Comparison{job: j, moves: moves}
	c.plan, _ = j.Plan(joint.Date{}) // only its order and its target are looked at, and no day
	if !(c.plan.Aim.Load > 0) {
		return c, fmt.Errorf("%s: no bolt load comes out of target and friction: evenload check says why", j.Path)
	}
	var err error
	if c.bolts, err = newEstimate(j); err != nil {
		return c, err
	}
	orders, err := interaction.Orders(c.plan, j.Procedure.Passes)
	if err != nil {
		return c, fmt.Errorf("%s: %w", j.Path, err)
	}
	c.orders, err = interaction.Compare(c.bolts.rings, orders, c.plan.Aim.Load, moves)
	return c, err
}

// Findings are what the comparison says of the job.
func (c Comparison) Findings() []joint.Finding { return roundsFew(c.orders[0], c.moves) }

// Compare prints a comparison for people.
func Compare(out io.Writer, c Comparison) error {
	t := newTable(out)
	t.row(c.plan.About.Tag + "  " + c.plan.About.Where)
	t.prose("What each pattern and number of passes leaves in the bolts. " + modelWord)
	t.prose("Loads are shares of the target, about " + c.plan.Aim.Load.Text(c.plan.System) + "; a range is over half, one and two times the gasket's stiffness.")
	c.table(t)
	c.bars(t)
	t.head("FOR THE FOREMAN")
	t.prose(c.foreman())
	for _, line := range c.truth() {
		t.prose(line)
	}
	t.head("COMPUTED FROM", "value", "from")
	for _, in := range c.bolts.pair.Values {
		t.row(in.Key, in.Value, in.Origin)
	}
	t.head("NOT IN THE MODEL")
	t.prose("Scatter of the torque, friction, creep and embedding of the gasket, a gasket that grows stiffer under load, unlike flanges, pipes that pull.")
	if findings := c.Findings(); len(findings) > 0 {
		t.head("FINDINGS")
		for _, f := range findings {
			t.wrapped(Located(c.job, f).String())
		}
	}
	t.head("CAUTIONS")
	for _, line := range []string{sequence.SiteFirst, sequence.NotLoadWord, "No load of one bolt is known to more than two figures. The responsible engineer decides on order and passes."} {
		t.row(line)
	}
	return t.w.Flush()
}

// table has one line an order.
func (c Comparison) table(t table) {
	t.head("ORDER", "passes", "lowest", "mean", "highest", "highest", "uneven", "check", "bolts", "about", "rounds")
	t.row("", "", "at end", "at end", "at end", "on way", c.lengthUnit(), "rounds", "turned", "min", "to still")
	for _, o := range c.orders {
		name := string(o.Pattern)
		if o.Own {
			name += " *"
		}
		t.row(name, passesText(o.Shares), c.shares(o, least), c.shares(o, mean), c.shares(o, most), c.shares(o, highest),
			c.uneven(o),
			figures(o, func(r interaction.Result) float64 { return float64(r.Rounds) }, "%.0f"),
			figures(o, func(r interaction.Result) float64 { return float64(r.Bolts) }, "%.0f"),
			figures(o, minutes, "%.0f"), shortRounds(o))
	}
	t.prose(fmt.Sprintf("* the job's own. Passes: shares of the target in %%, or a number of equal steps. Check rounds: clockwise, made until no bolt gains more than %s of the target, at most the job's %d. Uneven: the most that the closing of the flanges differs between two bolts on the way. Minutes: %.0f s each time that the tools are set on (common practice). %d+: more than %d.",
		c.moves.Text(), c.plan.CheckRounds, pace, interaction.MostRounds, interaction.MostRounds))
}

// uneven is by how much the closing of the flanges differs between two bolts on the
// way at most, in lengthUnit.
func (c Comparison) uneven(o interaction.Compared) string {
	if c.plan.System == unit.US {
		return figures(o, func(r interaction.Result) float64 { return float64(r.Uneven) / unit.Inch }, "%.3f")
	}
	return figures(o, func(r interaction.Result) float64 { return float64(r.Uneven) / unit.Millimetre }, "%.2f")
}

func (c Comparison) lengthUnit() string {
	if c.plan.System == unit.US {
		return "in"
	}
	return "mm"
}

// shortRounds is roundsUntilStill for a column: "3-5", "9-25+".
func shortRounds(o interaction.Compared) string {
	low, high := untilStill(o)
	word := func(n int) string {
		if n > o.Rounds+o.Further {
			return fmt.Sprintf("%d+", n-1)
		}
		return fmt.Sprint(n)
	}
	return joined(word(low), word(high))
}

func least(r interaction.Result) unit.Force   { return r.Final.Least }
func mean(r interaction.Result) unit.Force    { return r.Final.Mean }
func most(r interaction.Result) unit.Force    { return r.Final.Most }
func highest(r interaction.Result) unit.Force { return r.Highest }

func minutes(r interaction.Result) float64 { return float64(r.Stations) * pace / 60 }

// shares is a load as share of the target, over the gaskets.
func (c Comparison) shares(o interaction.Compared, of func(interaction.Result) unit.Force) string {
	low, high := c.band(o, of)
	return joined(twoFigures(low), twoFigures(high))
}

func (c Comparison) band(o interaction.Compared, of func(interaction.Result) unit.Force) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, r := range o.Results {
		v := float64(of(r) / c.plan.Aim.Load)
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// figures is a figure over the gaskets.
func figures(o interaction.Compared, of func(interaction.Result) float64, format string) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range o.Results {
		low, high = min(low, of(r)), max(high, of(r))
	}
	return joined(fmt.Sprintf(format, low), fmt.Sprintf(format, high))
}

func joined(low, high string) string {
	if low == high {
		return low
	}
	return low + "-" + high
}

// twoFigures is a share of the target, which is not known to more: 0.86, 1.1.
func twoFigures(share float64) string {
	if share >= 0.995 {
		return fmt.Sprintf("%.1f", share)
	}
	return fmt.Sprintf("%.2f", share)
}

// passesText is "30 60 100" of some passes, "5 equal" of equal steps, so that the
// table stays narrow.
func passesText(shares []unit.Share) string {
	n := len(shares)
	equal := n > 1
	var all []string
	for i, s := range shares {
		equal = equal && math.Abs(float64(s)-float64(i+1)/float64(n)) < 1e-9
		all = append(all, strings.TrimSuffix(s.Text(), " %"))
	}
	if equal {
		return fmt.Sprintf("%d equal", n)
	}
	if text := strings.Join(all, " "); len(text) <= 15 {
		return text
	}
	return fmt.Sprintf("%d passes", n)
}

// longestBar is a load of one and a quarter times the target.
const longestBar = 50

// bars draw the loads round the circle that the job's own order leaves.
func (c Comparison) bars(t table) {
	own := c.orders[0]
	t.head("LOADS", fmt.Sprintf("%s, passes of %s %%, after its check rounds, bolts %s", own.Pattern, listed(own.Shares), numbered(c.plan)))
	for bolt := range c.plan.Bolts {
		of := func(r interaction.Result) unit.Force { return r.Loads[bolt] }
		low, high := c.band(own, of)
		t.row(fmt.Sprintf("%4d", bolt+1), loadBar(low, high), c.shares(own, of))
	}
	t.row("", "# lowest  + highest of the range  | target")
}

// loadBar is a bar to low, on to high, with the target marked.
func loadBar(low, high float64) string {
	const target = longestBar * 4 / 5
	at := func(share float64) int { return min(longestBar, int(math.Round(max(0, share)*target))) }
	bar := []byte(strings.Repeat("#", at(low)) + strings.Repeat("+", max(0, at(high)-at(low))) + strings.Repeat(" ", longestBar-max(at(low), at(high))))
	bar[target] = '|'
	return string(bar)
}

// foreman is the one sentence to plan the work by.
func (c Comparison) foreman() string {
	own := c.orders[0]
	return fmt.Sprintf("In %s order with passes of %s %%, plan for %s check rounds until no nut moves by more than %s of the target; the job allows %d.",
		own.Pattern, listed(own.Shares), roundsUntilStill(own), c.moves.Text(), own.Rounds)
}

func listed(shares []unit.Share) string {
	var all []string
	for _, s := range shares {
		all = append(all, strings.TrimSuffix(s.Text(), " %"))
	}
	return strings.Join(all, ", ")
}

// truth is what the model says of star beside circle, with the job's passes.
func (c Comparison) truth() []string {
	find := func(p sequence.Pattern) interaction.Compared {
		return c.orders[slices.IndexFunc(c.orders, func(o interaction.Compared) bool { return o.Pattern == p })]
	}
	star, circle := find(sequence.Star), find(sequence.Circle)
	ends := "star does not end more even than circle"
	if s, o := star.Results[middle].Final, circle.Results[middle].Final; s.Most-s.Least < o.Most-o.Least-0.02*c.plan.Aim.Load {
		ends = "star ends a little more even than circle on this joint"
	}
	uneven := func(o interaction.Compared) string { return c.uneven(o) + " " + c.lengthUnit() }
	saves := "What star saves is tilt while the gasket is still soft"
	if star.Results[middle].Uneven >= circle.Results[middle].Uneven {
		saves = "On this joint star does not keep the flanges more parallel either"
	}
	said := func(columns string) string { return strings.Replace(columns, "-", " to ", 1) }
	return []string{
		fmt.Sprintf("By this elastic model %s: the lowest bolt has %s of the target after star, %s after circle.", ends, said(c.shares(star, least)), said(c.shares(circle, least))),
		fmt.Sprintf("%s: the closing differs by at most %s on the way, with circle by %s.", saves, said(uneven(star)), said(uneven(circle))),
		fmt.Sprintf("While a bolt gains load, each of its neighbours loses %s of that gain: so check rounds are needed.", said(c.neighbour())),
	}
}

// neighbour is the share of a gain that the next bolt loses, over the gaskets.
func (c Comparison) neighbour() string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, ring := range c.bolts.rings {
		a := ring.Coefficients()[1]
		low, high = min(low, a), max(high, a)
	}
	return joined(twoFigures(low), twoFigures(high))
}
