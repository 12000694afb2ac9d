package joint

import (
	"math"
	"regexp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// VDI 2230 assembly loads (computed by its formula, the coarse threads): each
// uses 90 % of yield in tension and torsion together.
func TestCombinedAgainstAssemblyLoads(t *testing.T) {
	yields := map[string]unit.Stress{"8.8": 640e6, "10.9": 940e6, "12.9": 1100e6}
	rows := 0
	for _, row := range table(t, "vdi2230_coarse_computed.csv") {
		thread, err := ParseThread(row["size"])
		if err != nil {
			t.Fatal(err)
		}
		for grade, yield := range yields {
			if grade == "8.8" && thread.Diameter > 16.5e-3 {
				yield = 660e6
			}
			load := unit.Force(value(t, row["F_M_kN_"+grade]) * 1e3)
			wantNear(t, row["size"]+" "+grade, float64(Combined(thread, load, value(t, row["mu"]))/yield), 0.9, 0.01)
			rows++
		}
	}
	if rows < 50 {
		t.Errorf("only %d loads", rows)
	}
}

// limited is a joint with all its limits, and a tool: 12 bolts 7/8-9 UNC of an
// NPS 8 class 300 flange (ASME B16.5) with its spiral-wound gasket (B16.20).
func limited(t interface{ Fatal(...any) }, target unit.Torque) (Joint, Tool, Setting) {
	thread, err := ParseThread("7/8-9 UNC")
	if err != nil {
		t.Fatal(err)
	}
	j := Joint{Bolts: 12, Thread: thread, Yield: 720e6, Friction: Friction{NutFactor: 0.15, Scatter: 0.25},
		Gasket: Gasket{Inner: 0.2334, Outer: 0.2637, LeastStress: 69e6, MostStress: 210e6}, Limits: Limits{BoltLeast: 0.2, BoltMost: 0.7}}
	tool := Tool{ID: "W", Reading: Running, Accuracy: 0.04, AccuracyOf: "reading",
		Chart: Chart{{Pressure: 0.1e5, Torque: 10}, {Pressure: 20e5, Torque: 2000}}, Gauge: Gauge{High: 25e5, Division: 0.001e5, Class: 0.2, Unit: unit.InBar}}
	s, err := tool.Setting(target, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	return j, tool, s
}

// judged are all findings at a setting.
func judged(j Joint, t Tool, s Setting) []Finding {
	return append(j.ToolFindings(t, "tools.0", s, unit.SI), j.JointFindings(t, s, unit.SI)...)
}

func codes(findings []Finding) []string {
	var all []string
	for _, f := range findings {
		all = append(all, f.Code)
	}
	return all
}

// Every code of the limits comes up.
func TestLimitFindings(t *testing.T) {
	for _, c := range []struct {
		torque unit.Torque
		change func(*Joint)
		want   string
		sev    Severity
	}{
		{600, nil, "bolt-yield", Error},
		{520, nil, "bolt-near-yield", Warning},
		{600, nil, "bolt-most", Error},
		{100, nil, "bolt-least", Error},
		{200, nil, "gasket-seating", Error},
		{250, nil, "gasket-seating-mean", Warning},
		{285, nil, "gasket-seating-low", Note},
		{900, nil, "gasket-crush", Error},
		{600, nil, "gasket-crush-high", Warning},
		{311, func(j *Joint) { j.Yield = 0 }, "no-yield", Warning},
		{311, func(j *Joint) { j.Friction.NutFactor = 0.02 }, "nut-factor", Warning},
		{311, func(j *Joint) { j.Friction.Least, j.Friction.Most = 0.16, 0.2 }, "nut-factor-range", Warning},
	} {
		j, tool, s := limited(t, c.torque)
		if c.change != nil {
			c.change(&j)
		}
		all := judged(j, tool, s)
		if !slices.ContainsFunc(all, func(f Finding) bool { return f.Code == c.want && f.Severity == c.sev }) {
			t.Errorf("%s is not found at %v N·m: %v", c.want, c.torque, all)
		}
	}
	j, tool, s := limited(t, 311)
	if all := judged(j, tool, s); len(all) > 0 {
		t.Errorf("a sound joint has %v", all)
	}
}

// Raising the target never takes an over-yield or crush finding away, lowering
// it never one of seating.
func TestLimitsAreMonotonic(t *testing.T) {
	level := map[string]int{"bolt-near-yield": 1, "bolt-yield": 2, "gasket-crush-high": 1, "gasket-crush": 2, "bolt-most": 1, "flange-most": 1,
		"gasket-seating-low": 1, "gasket-seating-mean": 2, "gasket-seating": 3, "gasket-service": 1, "bolt-least": 1, "wm1-design": 1, "wm2": 1}
	worst := func(all []Finding, of ...string) int {
		n := 0
		for _, f := range all {
			if slices.Contains(of, f.Code) {
				n = max(n, level[f.Code])
			}
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Torque(rapid.Float64Range(20, 1900).Draw(t, "a"))
		b := a + unit.Torque(rapid.Float64Range(1, 1000).Draw(t, "more"))
		if b > 1990 {
			return
		}
		j, tool, low := limited(t, a)
		_, _, high := limited(t, b)
		j.Friction.Scatter = unit.Share(rapid.Float64Range(0.05, 0.6).Draw(t, "scatter"))
		j.Gasket.M, j.Gasket.Y, j.Gasket.LeastInService = 3, 69e6, 50e6
		j.Pressures.Design, j.Limits.FlangeMost = unit.Pressure(rapid.Float64Range(1e5, 100e5).Draw(t, "design")), 500e6
		before, after := judged(j, tool, low), judged(j, tool, high)
		for _, of := range [][]string{{"bolt-yield", "bolt-near-yield"}, {"gasket-crush", "gasket-crush-high"}, {"bolt-most"}, {"flange-most"}} {
			if worst(after, of...) < worst(before, of...) {
				t.Fatalf("%v at %v, %v at %v", codes(before), a, codes(after), b)
			}
		}
		for _, of := range [][]string{{"gasket-seating", "gasket-seating-mean", "gasket-seating-low"}, {"gasket-service"}, {"bolt-least"}, {"wm1-design"}, {"wm2"}} {
			if worst(before, of...) < worst(after, of...) {
				t.Fatalf("%v at %v, %v at %v", codes(before), a, codes(after), b)
			}
		}
	})
}

// The published ways of scatter: NASA preload limits (lubricated 25 %, dry
// 35 %: 0.75 and 1.25, 0.65 and 1.35 of nominal), VDI 2230 alpha_A = most over
// least, 1.8 for M12 8.8 with mu 0.14 (41.9 and 23.3 kN).
func TestScatterAgainstPublished(t *testing.T) {
	j, tool, s := limited(t, 311)
	tool.Accuracy, tool.Gauge.Class, tool.Gauge.Division, s.Least, s.Most = 0, 0, 0, s.Set, s.Set
	for share, want := range map[unit.Share][2]float64{0.25: {0.75, 1.25}, 0.35: {0.65, 1.35}} {
		j.Friction.Scatter = share
		got := j.Scatter(tool, s)
		wantNear(t, "low", float64(got.LowLoad()/got.Nominal), want[0], 1e-9)
		wantNear(t, "high", float64(got.HighLoad()/got.Nominal), want[1], 1e-9)
	}
	j.Friction.Scatter = (1.8 - 1) / (1.8 + 1)
	got := j.Scatter(tool, s)
	wantNear(t, "alpha_A", float64(got.HighLoad()/got.LowLoad()), 41.9/23.3, 0.002)
}

// The rows of the table of scatter that say both: a share s either side is
// alpha_A = (1 + s)/(1 - s) (VDI 2230), and a share alone (NASA, Machinery's
// Handbook) makes loads of 1 - s and 1 + s of nominal.
func TestScatterRows(t *testing.T) {
	j, tool, s := limited(t, 311)
	tool.Accuracy, tool.Gauge.Class, tool.Gauge.Division, s.Least, s.Most = 0, 0, 0, s.Set, s.Set
	share := regexp.MustCompile(`\+-(\d+)(?: to (\d+))? %`)
	alpha := regexp.MustCompile(`alpha_A (\d\.?\d*)(?:-(\d\.?\d*))?`)
	rows, both := 0, 0
	for _, row := range table(t, "scatter_by_method.csv") {
		m := share.FindStringSubmatch(row["preload_scatter"])
		if m == nil {
			continue
		}
		a := alpha.FindStringSubmatch(row["preload_scatter"])
		for i, text := range m[1:] {
			if text == "" {
				continue
			}
			part := value(t, text) / 100
			j.Friction.Scatter = unit.Share(part)
			got := j.Scatter(tool, s)
			wantNear(t, row["method"]+" low", float64(got.LowLoad()/got.Nominal), 1-part, 1e-9)
			wantNear(t, row["method"]+" high", float64(got.HighLoad()/got.Nominal), 1+part, 1e-9)
			rows++
			if a != nil {
				// Shares are printed in whole per cent: alpha_A by half a per cent less and more.
				low, high := (1+part-0.005)/(1-part+0.005), (1+part+0.005)/(1-part-0.005)
				if want := value(t, a[1+i]); want < low-0.01 || want > high+0.01 {
					t.Errorf("%s: alpha_A %v is printed, %.2f to %.2f is in %s %%", row["method"], want, low, high, text)
				}
				both++
			}
		}
	}
	if rows < 15 || both < 10 {
		t.Errorf("%d shares, %d of them with alpha_A", rows, both)
	}
}

// The range of the nut factor keeps its two sides apart: at one torque the load
// is K/Kmost and K/Kleast of nominal. Parts add as the root of their squares.
func TestScatterParts(t *testing.T) {
	j, tool, s := limited(t, 311)
	j.Friction.Scatter, j.Friction.Least, j.Friction.Most = 0, 0.13, 0.27
	got := j.Scatter(tool, s)
	wantNear(t, "friction low", float64(got.Parts[0].Low), 1-0.15/0.27, 1e-9)
	wantNear(t, "friction high", float64(got.Parts[0].High), 0.15/0.13-1, 1e-9)
	var low, high float64
	for _, p := range got.Parts {
		low, high = low+float64(p.Low*p.Low), high+float64(p.High*p.High)
	}
	wantNear(t, "low", float64(got.Low), math.Sqrt(low), 1e-9)
	wantNear(t, "high", float64(got.High), math.Sqrt(high), 1e-9)
	if len(got.Parts) != 4 || got.MeanLow >= got.Low {
		t.Errorf("%+v", got)
	}
	// Class 0.2 of 25 bar and half a division of 0.001 bar, 100 N·m a bar.
	wantNear(t, "gauge", float64(got.Parts[2].High), (0.05+0.0005)*100/float64(s.Delivered), 0.01)
	// A factor above the range: every bolt turns out higher than nominal.
	j.Friction.NutFactor = 0.5
	p := j.Scatter(tool, s).Parts[0]
	wantNear(t, "friction high above the range", float64(p.High), 0.5/0.13-1, 1e-9)
	if p.Low != 0 {
		t.Errorf("%+v", p)
	}
	j.Friction.Least, j.Friction.Most = 0, 0 // nothing known
	if p := j.Scatter(tool, s).Parts[0]; p.Low != usualScatter || p.High != usualScatter {
		t.Errorf("%+v", p)
	}
}

// 345 MPa on the root area of an NPS 8 class 300 joint gives its gasket 94.6
// MPa (own arithmetic: 345 x 3245.4 / 11829.8).
func TestGasketStress(t *testing.T) {
	j, _, _ := limited(t, 311)
	load := 345e6 * float64(j.Thread.RootArea()) * 12
	wantNear(t, "gasket stress", load/float64(j.Gasket.Area())/1e6, 94.6, 0.001)
}

// A reaction force above 20 kN, and the point of a chart that was mistyped:
// only the worst is named, since it bends the line for its neighbours too.
func TestToolFindings(t *testing.T) {
	j, tool, s := limited(t, 311)
	s.Foot = 21e3
	tool.Chart = Chart{{1e5, 50}, {2e5, 150}, {3e5, 250}, {4e5, 450}, {5e5, 460}, {6e5, 550}}
	all := judged(j, tool, s)
	if got := codes(all); len(got) < 2 || !slices.Equal(got[:2], []string{"chart-point", "foot-force"}) || all[0].Key != "tools.0.curve.3" {
		t.Errorf("%v", all)
	}
	for _, c := range []Chart{{{1e5, 50}, {2e5, 150}}, {{1e5, 50}, {2e5, 148}, {3e5, 251}, {4e5, 352}, {5e5, 449}}} {
		if i, off, found := c.OddPoint(); found {
			t.Errorf("point %d of %v is said to be %v off", i, c, off)
		}
	}
}
