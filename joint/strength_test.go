package joint

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

// What a card keeps tells the same as the joint: the high load at any setting,
// yield where the finding begins, and the gasket's crush.
func TestStrengthTellsWhatTheJointDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread, _ := ParseThread(rapid.SampledFrom([]string{"M16", "M20", "7/8-9 UNC"}).Draw(t, "thread"))
		j := Joint{Bolts: 8, Thread: thread, Yield: 700e6, Friction: Friction{NutFactor: rapid.Float64Range(0.1, 0.25).Draw(t, "K"), Scatter: unit.Share(rapid.Float64Range(0, 0.4).Draw(t, "scatter"))},
			Gasket: Gasket{Inner: 0.1, Outer: 0.13, MostStress: unit.Stress(rapid.Float64Range(10e6, 300e6).Draw(t, "crush"))},
			Limits: Limits{BoltMost: unit.Share(rapid.SampledFrom([]float64{0, 0.3, 0.6}).Draw(t, "most"))}}
		tool := Tool{ID: "W", Accuracy: 0.04, Chart: Chart{{1e5, 50}, {7e5, 650}}, Gauge: Gauge{Class: 1.6, High: 10e5, Division: 0.1e5, Unit: unit.InBar}}
		torque := unit.Torque(rapid.Float64Range(120, 600).Draw(t, "torque"))
		s, err := tool.Setting(torque, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		st := j.Strength(tool, s)
		want, _, _ := j.Setting(tool, torque, 0.02)
		if got, err := st.Setting(tool, torque, 0.02); err != nil || math.Abs(float64(got.Set-want.Set)) > 1 {
			t.Errorf("set to %v, the joint says %v: %v", got.Set, want.Set, err)
		}
		scatter := j.Scatter(tool, s)
		if got, want := float64(st.HighLoad(tool, s)), float64(scatter.HighLoad()); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("high load %v, the joint says %v", got, want)
		}
		if got, want := float64(scatter.HighLoad()/st.Yield), float64(Combined(thread, scatter.HighLoad(), j.impliedFriction(s.Delivered, scatter.HighLoad()))/j.Yield); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("the high load is %v of yield, the joint says %v", got, want)
		}
		if got, want := float64(st.Crush)*8/float64(j.Gasket.Area()), float64(j.Gasket.MostStress); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("the gasket is crushed at %v Pa, it bears %v", got, want)
		}
	})
	if st := (Joint{Bolts: 4, Friction: Friction{NutFactor: 0.15}}).Strength(Tool{}, Setting{}); st.Yield != 0 || st.Crush != 0 {
		t.Errorf("what is not known is %v and %v", st.Yield, st.Crush)
	}
}
