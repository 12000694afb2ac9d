package report

import (
	"evenload/data/job"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// comparisonJSON is what other programs may rely on. Rows and coefficients are of
// the gasket as it is known, by how many bolts on, 0 the bolt itself.
type comparisonJSON struct {
	Format       int              `json:"format"`
	Tag          string           `json:"tag"`
	Estimate     string           `json:"estimate"` // what all figures are
	Bolts        int              `json:"bolts"`
	TargetKN     float64          `json:"target_bolt_load_kN"`
	Moves        float64          `json:"moves"` // share of the target
	Gaskets      []float64        `json:"gasket_stiffness_N_per_mm3"`
	Closure      []float64        `json:"closure_mm_per_N"`
	Stiffness    float64          `json:"bolt_stiffness_N_per_mm"`
	Coefficients []float64        `json:"coefficients"`
	Inputs       []sequence.Input `json:"inputs"`
	Orders       []comparedJSON   `json:"orders"`
	Foreman      string           `json:"foreman"`
	Findings     []Finding        `json:"findings"`
}

type comparedJSON struct {
	interaction.Order
	Results []resultJSON `json:"results"` // by gasket
}

// resultJSON has loads as shares of the target.
type resultJSON struct {
	AfterPasses spreadJSON `json:"after_passes"`
	Final       spreadJSON `json:"final"` // after the check rounds made
	Loads       []float64  `json:"loads"`
	Highest     float64    `json:"highest_on_the_way"`
	Uneven      float64    `json:"uneven_closing_mm"`
	Rounds      int        `json:"check_rounds"`
	Still       *int       `json:"rounds_until_still"` // null: none that was looked at
	Bolts       int        `json:"bolts_turned"`
	Minutes     float64    `json:"minutes"`
}

type spreadJSON struct {
	Lowest  float64 `json:"lowest"`
	Mean    float64 `json:"mean"`
	Highest float64 `json:"highest"`
}

// CompareFaultsJSON is a comparison that could not be made: only why.
func CompareFaultsJSON(path string, faults job.Faults) any {
	return comparisonJSON{Format: 1, Estimate: modelWord, Orders: []comparedJSON{}, Findings: ofFaults(path, faults)}
}

// CompareJSON is a comparison for other programs.
func CompareJSON(c Comparison) any {
	target := c.plan.Aim.Load
	out := comparisonJSON{Format: 1, Tag: c.plan.About.Tag, Estimate: modelWord, Bolts: c.plan.Bolts, TargetKN: float64(target) / 1e3, Moves: float64(c.moves),
		Stiffness: 1e-3 / float64(c.bolts.pair.Give), Coefficients: c.bolts.rings[middle].Coefficients(), Inputs: c.bolts.pair.Values, Foreman: c.foreman(), Findings: []Finding{}}
	for _, k := range c.bolts.gaskets {
		out.Gaskets = append(out.Gaskets, float64(k)/1e9)
	}
	for _, u := range c.bolts.rows[middle] {
		out.Closure = append(out.Closure, float64(u)/unit.Millimetre)
	}
	share := func(f unit.Force) float64 { return float64(f / target) }
	spread := func(s interaction.Spread) spreadJSON { return spreadJSON{share(s.Least), share(s.Mean), share(s.Most)} }
	for _, o := range c.orders {
		one := comparedJSON{Order: o.Order}
		for _, r := range o.Results {
			res := resultJSON{AfterPasses: spread(r.AfterPasses), Final: spread(r.Final), Highest: share(r.Highest), Uneven: float64(r.Uneven) / unit.Millimetre,
				Rounds: r.Rounds, Bolts: r.Bolts, Minutes: minutes(r)}
			if r.Still > 0 {
				res.Still = &r.Still
			}
			for _, f := range r.Loads {
				res.Loads = append(res.Loads, share(f))
			}
			one.Results = append(one.Results, res)
		}
		out.Orders = append(out.Orders, one)
	}
	for _, f := range c.Findings() {
		out.Findings = append(out.Findings, Located(c.job, f))
	}
	return out
}
