package joint

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"evenload/joint/unit"

	"pgregory.net/rapid"
)

// yieldLoad is the bolt load at which tension and the torsion of tightening
// together reach a share of yield, with friction mu in the thread (VDI 2230):
// F = share yield A0 / sqrt(1 + 3 [1.5 (d2/d0)(p/(pi d2) + 1.155 mu)]²), with
// d0 = (d2 + d3)/2 and A0 its circle.
func yieldLoad(t Thread, yield unit.Stress, share unit.Share, mu float64) unit.Force {
	d0 := float64(t.PitchDiameter()+t.MinorDiameter()) / 2
	return unit.Force(float64(share) * float64(yield) * float64(circleArea(unit.Length(d0))) / twisted(t, mu))
}

// Torque of ASME PCC-1 Tables 1 and 1M at 50 ksi (345 MPa) on the root area. The
// nut factor behind the tables is not one value: each row's own is taken.
func TestTorqueOfPCC1(t *testing.T) {
	for _, row := range table(t, "pcc1_torque_and_areas.csv") {
		th, _ := pcc1Thread(t, row)
		stress, torque := unit.Stress(345*mpa), 1.0
		if row["units"] == "US" {
			stress, torque = 50*ksi, unit.PoundForceFoot
		}
		for _, coat := range []string{"noncoated", "coated"} {
			j := Joint{
				Thread:   th,
				Friction: Friction{NutFactor: value(t, row["implied_K_"+coat])},
				Target:   Target{Kind: ByBoltStress, Stress: stress, Area: Root},
			}
			a := aim(t, j)
			wantNear(t, row["size"]+" "+coat, float64(a.Torque)/torque, value(t, row["torque_"+coat]), 0.01)
			wantNear(t, row["size"]+" root stress", float64(a.RootStress), float64(stress), 1e-9)
		}
	}
}

func aim(t testing.TB, j Joint) Aim {
	t.Helper()
	a, err := j.Aim()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// faces are the bearing faces that the tables of VDI 2230 are made with: the
// smallest bearing diameter of a hexagon head (ISO 4014) around the medium hole
// (ISO 273), in mm. From memory.
var faces = map[string]struct{ hole, head float64 }{
	"M8": {9, 11.63}, "M10": {11, 14.63}, "M12": {13.5, 16.63}, "M16": {17.5, 22.49}, "M18": {20, 25.34}, "M20": {22, 28.19},
	"M24": {26, 33.61}, "M27": {30, 38}, "M30": {33, 42.75}, "M36": {39, 51.11}, "M39": {42, 55.86},
}

// vdi gives load and torque at 90 % of yield, the same friction everywhere, in N and N·m.
func vdi(t *testing.T, designation string, yield unit.Stress, mu float64) (load, torque float64) {
	t.Helper()
	th := thread(t, designation)
	face, ok := faces[strings.Split(designation, "x")[0]]
	if !ok {
		t.Fatalf("%s has no bearing face here", designation)
	}
	f := Friction{Thread: mu, Bearing: mu, BearingInner: unit.Length(face.hole * mm), BearingOuter: unit.Length(face.head * mm)}
	at := yieldLoad(th, yield, 0.9, mu)
	return float64(at), float64(f.Torque(th, at))
}

// yields are the least 0.2 % proof stresses of ISO 898-1; class 8.8 has a higher
// one above M16.
func yields(class string, d float64) unit.Stress {
	switch {
	case class == "8.8" && d > 16:
		return 660 * mpa
	case class == "8.8":
		return 640 * mpa
	case class == "10.9":
		return 940 * mpa
	}
	return 1100 * mpa
}

// Assembly preload and tightening torque by VDI 2230 for coarse threads,
// computed from its formulas by another program.
func TestLoadAndTorqueOfVDI2230(t *testing.T) {
	for _, row := range table(t, "vdi2230_coarse_computed.csv") {
		for _, class := range []string{"8.8", "10.9", "12.9"} {
			what := row["size"] + " " + class + " mu " + row["mu"]
			load, torque := vdi(t, row["size"], yields(class, value(t, row["size"][1:])), value(t, row["mu"]))
			wantNear(t, what+" load", load/1e3, value(t, row["F_M_kN_"+class]), 0.01)
			wantNear(t, what+" torque", torque, value(t, row["M_A_Nm_"+class]), 0.01)
		}
	}
}

var printedNumber = regexp.MustCompile(`\d+(\.\d+)?`)

// Worked examples, each with its source in the table. The numbers of the
// printed result that are held against are those from the first one on, unless
// from says otherwise.
func TestWorkedExamples(t *testing.T) {
	fromVDI := func(designation, class string, mu float64) func(*testing.T) []float64 {
		return func(t *testing.T) []float64 {
			th := thread(t, designation)
			load, torque := vdi(t, designation, yields(class, float64(th.Diameter)/mm), mu)
			return []float64{load / 1e3, torque}
		}
	}
	fromPCC1 := func(designation string, stress unit.Stress, nutFactor, torque float64) func(*testing.T) []float64 {
		return func(t *testing.T) []float64 {
			a := aim(t, Joint{Thread: thread(t, designation), Friction: Friction{NutFactor: nutFactor},
				Target: Target{Kind: ByBoltStress, Stress: stress, Area: Root}})
			return []float64{float64(a.Torque) / torque}
		}
	}
	examples := map[string]struct {
		from int
		got  func(*testing.T) []float64
	}{
		"W1": {0, func(t *testing.T) []float64 {
			a := aim(t, Joint{Thread: thread(t, "3/4-16 UNF"), Friction: Friction{NutFactor: 0.2},
				Target: Target{Kind: ByBoltLoad, Load: 25e3 * unit.PoundForce}})
			return []float64{float64(a.TensileStress) / ksi}
		}},
		"W3": {0, func(t *testing.T) []float64 {
			return []float64{float64(Friction{NutFactor: 0.2}.Torque(thread(t, "3/4-16 UNF"), 25e3*unit.PoundForce)) / unit.PoundForceInch}
		}},
		// The example takes 1.25 d as the mean diameter of the collar, and the
		// tangents of the thread without their approximation in the long form.
		"W4": {0, func(t *testing.T) []float64 {
			th := thread(t, "3/4-16 UNF")
			f := Friction{Thread: 0.15, Bearing: 0.15, BearingInner: th.Diameter, BearingOuter: 1.5 * th.Diameter}
			return []float64{float64(f.Torque(th, 25e3*unit.PoundForce)) / unit.PoundForceInch, f.EquivalentNutFactor(th)}
		}},
		"W6": {0, fromVDI("M12x1.25", "8.8", 0.12)},
		"W7": {0, fromVDI("M10x1.25", "10.9", 0.12)},
		"W9": {0, fromVDI("M20x1.5", "8.8", 0.12)},
		"W11": {0, func(t *testing.T) []float64 {
			load, _ := vdi(t, "M12", yields("8.8", 12), 0.14)
			return []float64{load / 1e3}
		}},
		"W12": {0, fromPCC1("1-8 UN", 50*ksi, 0.218, unit.PoundForceFoot)},
		"W13": {0, fromPCC1("2-8 UN", 50*ksi, 0.154, unit.PoundForceFoot)},
		"W14": {0, fromPCC1("M24-3", 345*mpa, 0.209, 1)},
		"W16": {0, fromPCC1("1-1/4-8 UN", 40*ksi, 0.217, unit.PoundForceFoot)},
		"W17": {2, func(t *testing.T) []float64 {
			a := aim(t, Joint{Thread: thread(t, "M12"), Friction: Friction{NutFactor: 0.2}, Target: Target{Kind: ByBoltStress, Stress: 580 * mpa}})
			return []float64{float64(a.Load) / 1e3}
		}},
		"W18": {0, func(t *testing.T) []float64 {
			a := aim(t, Joint{Thread: thread(t, "M20"), Friction: Friction{NutFactor: 0.119}, Target: Target{Kind: ByBoltLoad, Load: 1.10 * 172e3}})
			return []float64{float64(a.Torque)}
		}},
		"W23": {0, func(t *testing.T) []float64 {
			th := thread(t, "1-1/2-8 UN")
			return []float64{float64(th.RootArea()) / in2, float64(th.TensileArea()) / in2}
		}},
		"W26": {0, fromVDI("M12", "8.8", 0.12)},
	}
	for _, row := range table(t, "worked_examples.csv") {
		example, ok := examples[row["id"]]
		if !ok {
			continue // of another part of the mechanics
		}
		delete(examples, row["id"])
		printed := printedNumber.FindAllString(row["result"], -1)[example.from:]
		for i, got := range example.got(t) {
			wantNear(t, row["id"]+" "+row["source"]+": "+row["input"], got, value(t, printed[i]), 0.01)
		}
	}
	for id := range examples {
		t.Errorf("%s is not in the table", id)
	}
}

// anyThread draws a thread of the tables.
func anyThread(t *rapid.T) Thread {
	var all []Thread
	for _, s := range metricSeries {
		all = append(all, s.threads()...)
	}
	for _, s := range inchSeries {
		all = append(all, s.threads()...)
	}
	return rapid.SampledFrom(all).Draw(t, "thread")
}

func anyFriction(t *rapid.T, th Thread) Friction {
	if rapid.Bool().Draw(t, "short form") {
		return Friction{NutFactor: rapid.Float64Range(0.05, 0.4).Draw(t, "nut factor")}
	}
	mu := rapid.Float64Range(0.03, 0.3)
	return Friction{Thread: mu.Draw(t, "thread"), Bearing: mu.Draw(t, "bearing"), BearingInner: 1.1 * th.Diameter, BearingOuter: 1.6 * th.Diameter}
}

// A target in one form gives an aim; that aim's other forms, taken as targets,
// give the same aim.
func TestEveryFormOfTheTargetAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := anyThread(t)
		j := Joint{Thread: th, Friction: anyFriction(t, th), Yield: 720 * mpa}
		j.Target = Target{Kind: ByBoltLoad, Load: unit.Force(rapid.Float64Range(1e3, 1e6).Draw(t, "load"))}
		want, err := j.Aim()
		if err != nil {
			t.Fatal(err)
		}
		if a := math.Abs(float64(want.RootStress)*float64(th.RootArea()) - float64(want.Load)); a > 1e-6 {
			t.Fatalf("root stress on the root area is %g N off the load", a)
		}
		for _, target := range []Target{
			{Kind: ByTorque, Torque: want.Torque},
			{Kind: ByBoltStress, Stress: want.TensileStress},
			{Kind: ByBoltStress, Stress: want.TensileStress, Area: Tensile},
			{Kind: ByBoltStress, Stress: want.RootStress, Area: Root},
			{Kind: ByYieldShare, Share: want.YieldShare},
		} {
			j.Target = target
			got, err := j.Aim()
			if err != nil {
				t.Fatalf("%s: %v", target.Kind, err)
			}
			if math.Abs(float64(got.Load/want.Load)-1) > 1e-12 || math.Abs(float64(got.Torque/want.Torque)-1) > 1e-12 {
				t.Fatalf("%+v gives %+v, want %+v", target, got, want)
			}
		}
	})
}

// One coefficient in both places, turned into a nut factor and back, is itself.
func TestCoefficientOfANutFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := anyThread(t)
		mu := rapid.Float64Range(0.01, 0.4).Draw(t, "friction")
		long := Friction{Thread: mu, Bearing: mu, BearingInner: 1.1 * th.Diameter, BearingOuter: 1.6 * th.Diameter}
		short := long
		short.NutFactor = long.EquivalentNutFactor(th)
		if got := short.Coefficient(th); math.Abs(got-mu) > 1e-9 {
			t.Fatalf("friction %g comes back as %g", mu, got)
		}
		if a, b := long.Torque(th, 1e5), short.Torque(th, 1e5); math.Abs(float64(a/b)-1) > 1e-12 {
			t.Fatalf("the long form gives %v, the short form %v", a, b)
		}
	})
}

// Torsion takes from the load: more friction, less load at the same share of
// yield, and never as much as plain tension would allow.
func TestYieldLoadFallsWithFriction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := anyThread(t)
		mu := rapid.Float64Range(0.02, 0.3).Draw(t, "friction")
		low, high := yieldLoad(th, 720*mpa, 0.9, mu+0.01), yieldLoad(th, 720*mpa, 0.9, mu)
		plain := unit.Force(0.9 * 720 * mpa * float64(th.TensileArea()))
		if !(0 < low && low < high && high < plain) {
			t.Fatalf("%v, %v, %v do not rise", low, high, plain)
		}
	})
}
