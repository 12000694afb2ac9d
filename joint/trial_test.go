package joint

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// readingsOf are readings at one torque on a thread of diameter d, with the
// nut factors k.
func readingsOf(t Thread, torque unit.Torque, k ...float64) []TrialReading {
	var all []TrialReading
	for _, k := range k {
		all = append(all, TrialReading{torque, unit.Force(float64(torque) / (k * float64(t.Diameter)))})
	}
	return all
}

// Mean and standard deviation of published trials; the sums of the test are its
// own, beside those of the statistics package.
func TestSpreadOfPublishedTrials(t *testing.T) {
	for _, row := range table(t, "bolt_trials.csv") {
		var loads []float64
		sum, squares := 0.0, 0.0
		for _, v := range strings.Fields(row["values"]) {
			loads = append(loads, value(t, v))
			sum += value(t, v)
		}
		n := float64(len(loads))
		for _, v := range loads {
			squares += (v - sum/n) * (v - sum/n)
		}
		s, err := SpreadOf(loads)
		if err != nil {
			t.Fatal(err)
		}
		wantPrinted(t, row["trial"]+", mean", s.Mean, row["mean"], 0)
		wantPrinted(t, row["trial"]+", deviation", s.Deviation, row["deviation"], 0)
		wantNear(t, row["trial"]+", mean by hand", s.Mean, sum/n, 1e-12)
		wantNear(t, row["trial"]+", deviation by hand", s.Deviation, math.Sqrt(squares/(n-1)), 1e-12)
	}
}

func TestStatisticsAgainstTables(t *testing.T) {
	for _, row := range table(t, "trial_statistics.csv") {
		n, level := int(value(t, row["readings"])), value(t, row["confidence_or_level"])
		what := fmt.Sprintf("%s of %d", row["quantity"], n)
		switch row["quantity"] {
		case "student":
			wantPrinted(t, what, student(n-1).Quantile((1+level)/2), row["value"], 0)
		case "grubbs": // tables differ in the last figure
			wantPrinted(t, what, grubbs(n, unit.Share(level)), row["value"], 0.0005)
		case "tolerance": // Howe's formula lies up to 0.3 % above the exact factors
			wantPrinted(t, what, toleranceFactor(n, unit.Share(value(t, row["share"])), unit.Share(level)), row["value"], 0.003)
		default:
			t.Errorf("unknown quantity %s", what)
		}
	}
}

// The range of 95 % of the bolts, found from ten drawn of a known normal
// distribution, covers 95 % of it in 95 of 100 trials: the meaning of the factor, without its formula.
func TestToleranceRangeCoversAsOftenAsItSays(t *testing.T) {
	normal := rand.New(rand.NewPCG(1, 2))
	below := func(x float64) float64 { return math.Erfc(-(x-0.2)/(0.02*math.Sqrt2)) / 2 }
	for _, n := range []int{5, 10, 20} {
		covers, mean := 0, 0
		const trials = 4000
		for range trials {
			k := make([]float64, n)
			for i := range k {
				k[i] = 0.2 + 0.02*normal.NormFloat64()
			}
			s, err := SpreadOf(k)
			if err != nil {
				t.Fatal(err)
			}
			if below(s.High)-below(s.Low) >= 0.95 {
				covers++
			}
			if s.MeanLow <= 0.2 && 0.2 <= s.MeanHigh {
				mean++
			}
		}
		// Four deviations of a share of 0.95 in 4000 trials are 0.014.
		for what, got := range map[string]int{"the range": covers, "the mean": mean} {
			if share := float64(got) / trials; math.Abs(share-0.95) > 0.014 {
				t.Errorf("%d readings: %s is right in %.3f of the trials, want 0.95", n, what, share)
			}
		}
	}
}

// By hand: M20 and 100 N·m; loads of 25, 27.7778, 22.7273 kN are nut factors of
// 0.20, 0.18, 0.22: mean 0.20, deviation 0.02; the mean lies within 4.3027 x
// 0.02/sqrt 3 = 0.04968. With four of 0.19, 0.20, 0.20, 0.21: deviation
// 0.0081650, k = 1.95996 sqrt(3 x 1.25/0.351846) = 6.39862, the range 0.147756
// to 0.252244; so low 1 - 0.2/0.252244 = 20.71 %, high 0.2/0.147756 - 1 = 35.36 %, in a job 36 %.
func TestTrialByHand(t *testing.T) {
	m20 := thread(t, "M20")
	tr, err := NewTrial(m20, []TrialReading{{100, 25e3}, {100, 27777.78}, {100, 22727.27}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.20, 0.18, 0.22} {
		wantNear(t, "nut factor", tr.NutFactors[i], want, 1e-6)
	}
	wantNear(t, "mean", tr.All.Mean, 0.20, 1e-6)
	wantNear(t, "deviation", tr.All.Deviation, 0.02, 1e-5)
	wantNear(t, "half the interval", (tr.All.MeanHigh-tr.All.MeanLow)/2, 0.04968, 1e-3)
	// 9.993 deviations of a tenth of the mean: the range begins just above zero,
	// and the load of a bolt there is no share of anything.
	if _, ok := tr.All.Scatter(); ok || !(tr.All.Low > 0) {
		t.Errorf("three readings 10 %% apart give a scatter, from %v on", tr.All.Low)
	}
	four, err := NewTrial(m20, readingsOf(m20, 100, 0.19, 0.20, 0.21, 0.20))
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "factor", four.All.Factor, 6.39862, 1e-4)
	wantNear(t, "low end", four.All.Low, 0.147756, 1e-4)
	wantNear(t, "high end", four.All.High, 0.252244, 1e-4)
	low, high, ok := four.All.LoadScatter()
	wantNear(t, "low share", float64(low), 0.2071, 1e-3)
	wantNear(t, "high share", float64(high), 0.3536, 1e-3)
	if share, usable := four.All.Scatter(); !ok || !usable || share != 0.36 {
		t.Errorf("scatter %v %v, want 0.36", share, usable)
	}
	if w := strings.Join(four.Warnings(), "\n"); !strings.Contains(w, "4 readings are few") {
		t.Errorf("warnings %q", w)
	}
}

func TestTrialRefuses(t *testing.T) {
	m20 := thread(t, "M20")
	if _, err := NewTrial(m20, readingsOf(m20, 100, 0.2, 0.21)); !errors.Is(err, ErrFewReadings) {
		t.Errorf("two readings: %v", err)
	}
	if _, err := NewTrial(m20, []TrialReading{{100, 1}, {100, 0}, {100, 1}}); err == nil || !strings.Contains(err.Error(), "reading 2") {
		t.Errorf("no load: %v", err)
	}
}

// Trials that give no scatter for a job, and what is said of each.
func TestTrialsWithoutScatter(t *testing.T) {
	m20 := thread(t, "M20")
	for _, c := range []struct {
		k    []float64
		ok   bool
		says string
	}{
		{[]float64{0.2, 0.2, 0.2, 0.2, 0.2}, false, "do not differ"},
		{[]float64{0.1, 0.2, 0.3, 0.2, 0.1}, false, "too far apart"},
		{[]float64{0.199, 0.2, 0.201, 0.2, 0.2}, true, "less than torque is known to have"},
		{[]float64{0.49, 0.5, 0.51, 0.56, 0.44}, true, "a nut factor of 0.5 is rare"},
		{[]float64{0.19, 0.2, 0.21, 0.2, 0.21, 0.19}, true, ""},
	} {
		tr, err := NewTrial(m20, readingsOf(m20, 100, c.k...))
		if err != nil {
			t.Fatal(err)
		}
		warnings := strings.Join(tr.Warnings(), "\n")
		if _, ok := tr.All.Scatter(); ok != c.ok || !strings.Contains(warnings, c.says) || c.says == "" && warnings != "" {
			t.Errorf("%v: %v, %q", c.k, ok, warnings)
		}
	}
}

// The published example of Grubbs' test: masses of which 245.57 is far off,
// G 2.4687 (NIST/SEMATECH e-Handbook 1.3.5.17.1, from memory).
func TestGrubbsPublished(t *testing.T) {
	values := []float64{199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57}
	k := make([]float64, len(values))
	for i, v := range values {
		k[i] = v / 1000
	}
	m20 := thread(t, "M20")
	tr, err := NewTrial(m20, readingsOf(m20, 100, k...))
	if err != nil {
		t.Fatal(err)
	}
	if len(tr.Outliers) != 1 || tr.Outliers[0].Reading != 7 || tr.All.Readings != 8 || tr.Without.Readings != 7 || !tr.IsOutlier(7) || tr.IsOutlier(0) {
		t.Fatalf("%+v", tr)
	}
	wantPrinted(t, "G", tr.Outliers[0].G, "2.4687", 0.0005)
	wantPrinted(t, "critical", tr.Outliers[0].Critical, "2.126", 0.0005)
	if tr.Without.Deviation >= tr.All.Deviation || tr.All.Most < 0.245 {
		t.Error("the outlier is not told apart")
	}
	if w := tr.Warnings(); !strings.Contains(strings.Join(w, "\n"), "find out why") {
		t.Errorf("%q", w)
	}
}

// anyTrial draws readings of usual friction, each with a torque of its own.
func anyTrial(t *rapid.T, fewest int) (Thread, []TrialReading) {
	th, err := ParseThread(rapid.SampledFrom([]string{"M12", "M20", "7/8-9 UNC", "1-1/2-8 UN"}).Draw(t, "thread"))
	if err != nil {
		t.Fatal(err)
	}
	var all []TrialReading
	for range rapid.IntRange(fewest, 20).Draw(t, "readings") {
		torque := unit.Torque(rapid.Float64Range(50, 900).Draw(t, "torque"))
		all = append(all, readingsOf(th, torque, rapid.Float64Range(0.15, 0.25).Draw(t, "factor"))...)
	}
	return th, all
}

func tried(t *rapid.T, th Thread, readings []TrialReading) Trial {
	tr, err := NewTrial(th, readings)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// Loads s times as large are nut factors s times as small, all along; shares
// and outliers stay.
func TestTrialScalesWithItsLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th, readings := anyTrial(t, FewestReadings)
		by := rapid.Float64Range(0.25, 4).Draw(t, "by")
		before := tried(t, th, readings)
		for i := range readings {
			readings[i].Load *= unit.Force(by)
		}
		after := tried(t, th, readings)
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("%s is %v, want %v", what, got, want)
			}
		}
		near("mean", after.All.Mean, before.All.Mean/by)
		near("deviation", after.All.Deviation, before.All.Deviation/by)
		near("low", after.All.Low, before.All.Low/by)
		near("high", after.All.High, before.All.High/by)
		near("least", after.All.Least, before.All.Least/by)
		near("most", after.All.Most, before.All.Most/by)
		near("interval", after.All.MeanHigh-after.All.MeanLow, (before.All.MeanHigh-before.All.MeanLow)/by)
		near("without", after.Without.Mean, before.Without.Mean/by)
		if len(after.Outliers) != len(before.Outliers) {
			t.Fatalf("outliers %v, before %v", after.Outliers, before.Outliers)
		}
	})
}

// The order of the readings changes nothing, to the last bit.
func TestTrialHasNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th, readings := anyTrial(t, FewestReadings)
		before := tried(t, th, readings)
		after := tried(t, th, rapid.Permutation(readings).Draw(t, "order"))
		if after.All != before.All || after.Without != before.Without || len(after.Outliers) != len(before.Outliers) {
			t.Fatalf("%+v, before %+v", after, before)
		}
	})
}

// One reading far off among even ones is found wherever it stands, on either
// side; it stays in All, and the scatter of all covers it.
func TestTrialFindsOneOutlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th, readings := anyTrial(t, GrubbsReadings)
		for i := range readings { // within 2 % of 0.2
			k := 0.2 * (1 + 0.02*math.Sin(float64(3*i)))
			readings[i].Load = unit.Force(float64(readings[i].Torque) / (k * float64(th.Diameter)))
		}
		off := rapid.IntRange(0, len(readings)-1).Draw(t, "off")
		readings[off].Load *= unit.Force(rapid.SampledFrom([]float64{0.7, 1.4}).Draw(t, "by"))
		tr := tried(t, th, readings)
		if len(tr.Outliers) == 0 || tr.Outliers[0].Reading != off {
			t.Fatalf("outliers %v, want %d", tr.Outliers, off)
		}
		if tr.All.Readings != len(readings) || tr.Without.Readings >= len(readings) {
			t.Fatalf("all %d, without %d", tr.All.Readings, tr.Without.Readings)
		}
		low, high, ok := tr.All.LoadScatter()
		at := tr.All.NutFactor()/tr.NutFactors[off] - 1
		if ok && (at < -float64(low)-hair || at > float64(high)+hair) {
			t.Fatalf("reading at %v, scatter %v to %v", at, -low, high)
		}
	})
}

// A stretch that a load gives is that load again.
func TestStretchLoadInvertsElongation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th, _ := anyTrial(t, FewestReadings)
		load := unit.Force(rapid.Float64Range(1e3, 1e6).Draw(t, "load"))
		grip, nut := unit.Length(rapid.Float64Range(0.02, 0.5).Draw(t, "grip")), unit.Length(rapid.Float64Range(0.01, 0.05).Draw(t, "nut"))
		got := StretchLoad(th, Elongation(th, load, grip, nut, lowAlloyModulus), grip, nut, lowAlloyModulus)
		if math.Abs(float64(got/load)-1) > 1e-12 {
			t.Fatalf("%v, want %v", got, load)
		}
	})
	// By hand, the numbers of TestElongation the other way round.
	got := StretchLoad(thread(t, "7/8-9 UNC"), 0.1739e-3, 0.092, 0.0218, Modulus("A193 B7"))
	wantNear(t, "load", float64(got), 93.33e3, 0.001)
}
