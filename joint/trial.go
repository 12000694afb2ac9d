package joint

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"evenload/joint/unit"
)

// TrialReading is one bolt of a trial: the torque on its nut and the load that
// was measured in it.
type TrialReading struct {
	Torque unit.Torque
	Load   unit.Force
}

// NutFactor is K = T/(d F).
func (r TrialReading) NutFactor(t Thread) float64 {
	return float64(r.Torque) / (float64(t.Diameter) * float64(r.Load))
}

// StretchLoad is the load in a stud threaded all along that has become longer
// by stretch: the inverse of Elongation, stretch E As/L, L the grip and one nut
// height. It holds below yield only.
func StretchLoad(t Thread, stretch, grip, nut unit.Length, e unit.Stress) unit.Force {
	return unit.Force(float64(stretch) * float64(e) * float64(t.TensileArea()) / float64(grip+nut))
}

// Rules of a trial.
const (
	FewestReadings = 3 // fewer give no spread
	EnoughReadings = 5 // fewer are warned of (a rule of ours)
	// GrubbsReadings: on fewer, Grubbs' test names sound readings (NIST/SEMATECH
	// e-Handbook of Statistical Methods 1.3.5.17.1, from memory).
	GrubbsReadings = 7

	Confidence = unit.Share(0.95) // of the mean, and of the range that covers
	Covered    = unit.Share(0.95) // of all such bolts, by that range
	OutlierAt  = unit.Share(0.05) // level of Grubbs' test
)

// ErrFewReadings says that a trial has fewer than FewestReadings.
var ErrFewReadings = errors.New("too few readings")

// Spread is how the nut factors of a trial lie.
type Spread struct {
	Readings          int
	Mean              float64
	Deviation         float64 // standard deviation, by n - 1
	Least, Most       float64
	MeanLow, MeanHigh float64 // confidence interval of the mean
	Factor            float64 // tolerance factor k
	Low, High         float64 // mean -+ k deviations; Low may be below zero
}

// SpreadOf finds the spread of nut factors, in any order. The mean lies with
// 95 % confidence within t s/sqrt n (Student). Mean -+ k s holds with 95 %
// confidence at least 95 % of all such bolts, if they follow a normal
// distribution: k = z sqrt((n-1)(1+1/n)/chi²) (Howe 1969, as in the
// NIST/SEMATECH e-Handbook of Statistical Methods 7.2.6.3, from memory). Fewer
// than three: ErrFewReadings.
func SpreadOf(k []float64) (Spread, error) {
	if len(k) < FewestReadings {
		return Spread{}, fmt.Errorf("%w: %d, and a spread needs %d, better ten", ErrFewReadings, len(k), FewestReadings)
	}
	sorted := slices.Sorted(slices.Values(k)) // one order, one sum
	mean, deviation := stat.MeanStdDev(sorted, nil)
	s := Spread{Readings: len(k), Mean: mean, Deviation: deviation, Least: sorted[0], Most: sorted[len(k)-1], Factor: toleranceFactor(len(k), Covered, Confidence)}
	half := student(len(k)-1).Quantile((1+float64(Confidence))/2) * stat.StdErr(deviation, float64(len(k)))
	s.MeanLow, s.MeanHigh = mean-half, mean+half
	s.Low, s.High = mean-s.Factor*deviation, mean+s.Factor*deviation
	return s, nil
}

func student(freedom int) distuv.StudentsT {
	return distuv.StudentsT{Sigma: 1, Nu: float64(freedom)}
}

// toleranceFactor of n readings for a range that covers a share of all on both
// sides of the mean, with a confidence.
func toleranceFactor(n int, covered, confidence unit.Share) float64 {
	z := distuv.UnitNormal.Quantile((1 + float64(covered)) / 2)
	chi2 := distuv.ChiSquared{K: float64(n - 1)}.Quantile(1 - float64(confidence))
	return z * math.Sqrt(float64(n-1)*(1+1/float64(n))/chi2)
}

// NutFactor is the mean, to the three decimals that go into a job.
func (s Spread) NutFactor() float64 { return math.Round(s.Mean*1000) / 1000 }

// LoadScatter is how far the load of a bolt may lie below and above the one
// that NutFactor gives at the same torque: the load goes with 1/K, so that low
// is 1 - K/Kmost and high is K/Kleast - 1, Kleast and Kmost the ends of the range
// that covers the bolts, or a reading that lies beyond them. False when the
// readings are too few for how far they lie apart: that range reaches zero.
func (s Spread) LoadScatter() (low, high unit.Share, ok bool) {
	least, most := min(s.Low, s.Least), max(s.High, s.Most)
	if least <= 0 {
		return 0, 0, false
	}
	k := s.NutFactor()
	return unit.Share(max(0, 1-k/most)), unit.Share(max(0, k/least-1)), true
}

// Scatter is the share of the bolt load for a job: the larger of the two sides
// of LoadScatter, up to the next per cent. False where no share below 100 % and
// above nothing comes out: such a trial does not say how far loads scatter.
func (s Spread) Scatter() (unit.Share, bool) {
	low, high, ok := s.LoadScatter()
	share := unit.Share(math.Ceil(float64(max(low, high))*100-hair) / 100)
	return share, ok && share > 0 && share < 1
}

// Outlier is a reading that does not belong to the others by Grubbs' test.
type Outlier struct {
	Reading     int     // 0 the first
	G, Critical float64 // distance from the mean in deviations, and the most that is expected
}

// Trial is what readings on the site's own bolts say of their friction.
type Trial struct {
	NutFactors []float64 // of each reading, in its order
	All        Spread
	Outliers   []Outlier // the worst first; they stay in All
	Without    Spread    // without the outliers; All when there are none
}

// NewTrial judges readings on bolts of one thread. Fewer than three:
// ErrFewReadings.
func NewTrial(t Thread, readings []TrialReading) (Trial, error) {
	var tr Trial
	for i, r := range readings {
		k := r.NutFactor(t)
		if !(k > 0) || math.IsInf(k, 0) {
			return Trial{}, fmt.Errorf("reading %d has no nut factor: torque, load and diameter are above zero", i+1)
		}
		tr.NutFactors = append(tr.NutFactors, k)
	}
	all, err := SpreadOf(tr.NutFactors)
	if err != nil {
		return Trial{}, err
	}
	tr.All, tr.Without = all, all
	for tr.Without.Readings >= GrubbsReadings {
		o, found := tr.worst()
		if !found {
			break
		}
		tr.Outliers = append(tr.Outliers, o)
		var rest []float64
		for i, k := range tr.NutFactors {
			if !tr.IsOutlier(i) {
				rest = append(rest, k)
			}
		}
		if tr.Without, err = SpreadOf(rest); err != nil {
			return Trial{}, err
		}
	}
	return tr, nil
}

// IsOutlier says whether a reading, 0 the first, is one of the outliers.
func (tr Trial) IsOutlier(i int) bool {
	return slices.ContainsFunc(tr.Outliers, func(o Outlier) bool { return o.Reading == i })
}

// worst is the reading that lies farthest from the mean of those that are no
// outliers yet, and whether it is one.
func (tr Trial) worst() (Outlier, bool) {
	o := Outlier{Critical: grubbs(tr.Without.Readings, OutlierAt)}
	if tr.Without.Deviation <= hair*tr.Without.Mean {
		return o, false // all the same
	}
	for i, k := range tr.NutFactors {
		if g := math.Abs(k-tr.Without.Mean) / tr.Without.Deviation; g > o.G && !tr.IsOutlier(i) {
			o.Reading, o.G = i, g
		}
	}
	return o, o.G > o.Critical
}

// grubbs is the critical value of Grubbs' test on both sides for n readings:
// (n-1)/sqrt n sqrt(t²/(n-2+t²)), t Student's at level/2n with n-2 degrees of
// freedom (NIST/SEMATECH e-Handbook of Statistical Methods 1.3.5.17.1, from
// memory).
func grubbs(n int, level unit.Share) float64 {
	t := student(n - 2).Quantile(1 - float64(level)/(2*float64(n)))
	return float64(n-1) / math.Sqrt(float64(n)) * math.Sqrt(t*t/(float64(n-2)+t*t))
}

// Warnings are what has to be known before a trial is used.
func (tr Trial) Warnings() []string {
	var all []string
	say := func(format string, a ...any) { all = append(all, fmt.Sprintf(format, a...)) }
	n := tr.All.Readings
	if n < EnoughReadings {
		say("%d readings are few: the range that covers the bolts is wide, make %d or more, better ten", n, EnoughReadings)
	}
	if len(tr.Outliers) > 0 {
		say("readings lie apart from the others: find out why before any of them is left out, or make the trial again")
	}
	if s := tr.All; s.Deviation <= hair*s.Mean {
		say("the readings do not differ: they say nothing about scatter; look whether each bolt was measured")
	} else if share, ok := s.Scatter(); !ok {
		say("the readings lie too far apart for so few: no scatter below 100 %% comes out; make more readings, or look for what differs between the bolts")
	} else if share < leastScatter {
		say("a scatter of %s is less than torque is known to have, %s with the friction tried on the joint itself (VDI 2230): the responsible engineer decides", share.Text(), leastScatter.Text())
	}
	if k := tr.All.Mean; k < leastNutFactor || k > mostNutFactor {
		say("a nut factor of %.3g is rare, %v to %v is usual (common practice): look at lubricant, figures and units", k, leastNutFactor, mostNutFactor)
	}
	return all
}
