package flange

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint/unit"
)

func rowOf(t interface{ Fatal(...any) }, s Section, kappa unit.Stiffness) []float64 {
	m, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	row, err := m.Row(kappa)
	if err != nil {
		t.Fatal(err)
	}
	return floats(row)
}

// On a gasket so soft that the flange is rigid beside it the closed form holds: the
// pair sinks by F/(kappa A) and tilts by F Rb/(kappa I), I the second moment of
// the gasket about a diameter.
func TestRigidFlange(t *testing.T) {
	const soft = 1e6 // Pa/m: 0.001 N/mm³
	for name, s := range sections {
		in, out, circle := float64(s.GasketInner)/2, float64(s.GasketOuter)/2, float64(s.BoltCircle)/2
		sink := 1 / (soft * math.Pi * (out*out - in*in))
		tilt := circle * circle / (soft * math.Pi / 4 * (math.Pow(out, 4) - math.Pow(in, 4)))
		for k, c := range rowOf(t, s, soft) {
			want := sink + tilt*math.Cos(2*math.Pi*float64(k)/float64(s.Bolts))
			if math.Abs(c-want) > 2e-4*(sink+tilt) {
				t.Errorf("%s: c%d is %.4g m/N, want %.4g", name, k, c, want)
			}
		}
	}
}

// A gasket as stiff as steel lets the flange bend alone: the row no longer depends
// on the gasket, and beyond its neighbours hardly a bolt is felt.
func TestStiffGasket(t *testing.T) {
	for name, s := range sections {
		row, stiffer := rowOf(t, s, kappa(1e6)), rowOf(t, s, kappa(1e7))
		if off := furthest(row, stiffer); off > 0.01*row[0] {
			t.Errorf("%s: a gasket ten times as stiff as steel changes the row by %.2g of its first", name, off/row[0])
		}
		for k := 2; k <= s.Bolts/2; k++ {
			if math.Abs(row[k]) > 0.08*row[0] {
				t.Errorf("%s: the bolt %d places on feels %.3f of the closing at the bolt", name, k, row[k]/row[0])
			}
		}
	}
}

// anySection draws a flange that passes Check, with or without a hub.
func anySection(t *rapid.T) Section {
	between := func(name string, low, high unit.Length) unit.Length {
		return low + (high-low)*unit.Length(rapid.Float64Range(0, 1).Draw(t, name))
	}
	var s Section
	s.Bore = between("bore", 20*mm, 600*mm)
	s.NutBearing = between("nut", 15*mm, 80*mm)
	s.Hole = s.NutBearing * unit.Length(rapid.Float64Range(0.5, 0.8).Draw(t, "hole"))
	s.GasketInner = s.Bore * unit.Length(rapid.Float64Range(1, 1.2).Draw(t, "gasket inner"))
	if s.GasketInner < s.Bore+0.1*mm {
		s.GasketInner = s.Bore // the mesh takes lines that are near each other as one, at any size
	}
	s.GasketOuter = s.GasketInner + between("gasket width", 5*mm, 40*mm)
	s.BoltCircle = s.GasketOuter + s.NutBearing + between("circle", 1*mm, 100*mm)
	s.Outside = s.BoltCircle + s.NutBearing + between("rim", 1*mm, 60*mm)
	s.Thickness = (s.Outside - s.Bore) / 2 * unit.Length(rapid.Float64Range(0.3, 0.8).Draw(t, "thickness"))
	s.Bolts = rapid.IntRange(3, 8).Draw(t, "bolts")
	if rapid.Bool().Draw(t, "hub") {
		s.Pipe = s.Bore + between("wall", 4*mm, 30*mm)
		s.HubLarge = min(s.Pipe+between("hub", 2*mm, 60*mm), s.Outside)
		s.HubLength = s.Thickness + between("hub length", 20*mm, 150*mm)
	}
	return s
}

// harmonics solves some harmonics of a pair.
func harmonics(t *rapid.T, s Section, kappa unit.Stiffness) (all []float64) {
	m, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []int{0, 1, 2, 5, 30} {
		gives, ok := m.gives(make([]float64, m.shape.Places()), h, []unit.Stiffness{kappa})
		if !ok {
			t.Skipf("harmonic %d of %+v is not solved: the program says so and gives no estimate", h, s)
		}
		all = append(all, work(gives[0], m.nut.load(h)))
	}
	return all
}

// What holds of any elastic pair: every way of pulling closes it, and less on a
// stiffer gasket; twice the size on a gasket half as stiff for its area, so
// twice as stiff in all, is half as soft. Radii within a hundredth of a millimetre
// of each other are one in the mesh whatever the size, which moves that by up to
// one per cent where a pair has some.
func TestHarmonicsOfAnySection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySection(t)
		if err := s.Check(); err != nil {
			t.Skip(err)
		}
		on := kappa(math.Pow(10, rapid.Float64Range(1, 3.5).Draw(t, "log kappa")))
		large := s
		for _, l := range []*unit.Length{&large.Outside, &large.Bore, &large.Thickness, &large.HubLarge, &large.HubLength, &large.Pipe, &large.BoltCircle,
			&large.Hole, &large.NutBearing, &large.GasketInner, &large.GasketOuter} {
			*l *= 2
		}
		stiffer, twice := harmonics(t, s, 2*on), harmonics(t, large, on/2)
		for i, c := range harmonics(t, s, on) {
			if c <= 0 || stiffer[i] > c*(1+1e-9) || math.Abs(twice[i]-c/2) > 0.01*c {
				t.Fatalf("harmonic %d closes %v, on a gasket twice as stiff %v, at twice the size %v", i, c, stiffer[i], twice[i])
			}
		}
	})
}

// Bolt k closes the place of bolt 0 as bolt 0 that of bolt k, and none closes
// another place more than its own.
func TestRowIsReciprocal(t *testing.T) {
	for name, s := range sections {
		for _, on := range []float64{1, 200, 1e5} {
			row := rowOf(t, s, kappa(on))
			for k := range row {
				if math.Abs(row[k]-row[(len(row)-k)%len(row)]) > 1e-12*row[0] || math.Abs(row[k]) > row[0] {
					t.Errorf("%s: c%d is %v, its mirror %v, the first %v", name, k, row[k], row[(len(row)-k)%len(row)], row[0])
				}
			}
		}
	}
}

// Whatever stands in a section: an error, or finite closures. Never a panic, and
// never a mesh without end.
func TestNoSectionPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sections[rapid.SampledFrom([]string{"A", "B", "C", "D"}).Draw(t, "section")]
		lengths := []*unit.Length{&s.Outside, &s.Bore, &s.Thickness, &s.HubLarge, &s.HubLength, &s.Pipe, &s.BoltCircle, &s.Hole, &s.NutBearing, &s.GasketInner, &s.GasketOuter}
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			l := rapid.SampledFrom(lengths).Draw(t, "length")
			switch rapid.IntRange(0, 2).Draw(t, "how") {
			case 0:
				*l *= unit.Length(rapid.Float64Range(0.2, 3).Draw(t, "by"))
			case 1:
				*l = unit.Length(rapid.Float64().Draw(t, "any"))
			case 2:
				*l = unit.Length(rapid.SampledFrom([]float64{0, -1, 1e-12, 20, math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, "odd"))
			}
		}
		s.Bolts = rapid.SampledFrom([]int{s.Bolts, -1, 0, 3, 5, 200, 1 << 40}).Draw(t, "bolts")
		m, err := New(s)
		if err != nil {
			return
		}
		if m.shape.Places() > 2e6 {
			t.Fatalf("%d unknowns, %d places for %+v", m.size(), m.shape.Places(), s)
		}
		row, err := m.Row(unit.Stiffness(rapid.SampledFrom([]float64{0, -1, 1, 200e9, 1e30, math.NaN(), math.Inf(1)}).Draw(t, "kappa")))
		if err != nil {
			return
		}
		for k, c := range row {
			if math.IsNaN(float64(c)) || math.IsInf(float64(c), 0) {
				t.Fatalf("c%d is %v for %+v", k, c, s)
			}
		}
	})
}

func TestCheckNamesWhatIsWrong(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Section)
		says   string
	}{
		"nothing known":        {func(s *Section) { *s = Section{} }, "outside diameter"},
		"no bore":              {func(s *Section) { s.Bore = 0 }, "bore of the flange is not known"},
		"thickness no number":  {func(s *Section) { s.Thickness = unit.Length(math.NaN()) }, "thickness"},
		"no circle":            {func(s *Section) { s.BoltCircle = 0 }, "bolt circle"},
		"a hole below zero":    {func(s *Section) { s.Hole = -1 * mm }, "bolt hole"},
		"no nut":               {func(s *Section) { s.NutBearing = 0 }, "nut"},
		"no gasket inside":     {func(s *Section) { s.GasketInner = 0 }, "inner diameter"},
		"an endless gasket":    {func(s *Section) { s.GasketOuter = unit.Length(math.Inf(1)) }, "outer diameter"},
		"30 m across":          {func(s *Section) { s.Outside = 30 }, "no length of a flange"},
		"two bolts":            {func(s *Section) { s.Bolts = 2 }, "2 bolts"},
		"thousands of bolts":   {func(s *Section) { s.Bolts = 5000 }, "5000 bolts"},
		"bore over outside":    {func(s *Section) { s.Bore, s.Outside = s.Outside, s.Bore }, "bore is not smaller"},
		"a foil":               {func(s *Section) { s.Thickness = 9 * mm }, "too thin"},
		"a column":             {func(s *Section) { s.Thickness = 2 }, "too thick"},
		"gasket in the bore":   {func(s *Section) { s.GasketInner = 50 * mm }, "between bore and outside"},
		"gasket inside out":    {func(s *Section) { s.GasketInner, s.GasketOuter = s.GasketOuter, s.GasketInner }, "between bore and outside"},
		"hole over nut":        {func(s *Section) { s.Hole = s.NutBearing }, "bearing face"},
		"nuts over the rim":    {func(s *Section) { s.BoltCircle = s.Outside - 10*mm }, "nuts do not lie"},
		"nuts in the bore":     {func(s *Section) { s.BoltCircle = s.Bore + 10*mm }, "nuts do not lie"},
		"more holes than ring": {func(s *Section) { s.Bolts = 40 }, "leave no ring"},
		"half a hub":           {func(s *Section) { s.HubLength = 0 }, "needed together"},
		"hub no number":        {func(s *Section) { s.HubLarge = unit.Length(math.NaN()) }, "needed together"},
		"an endless hub":       {func(s *Section) { s.HubLength = unit.Length(math.Inf(1)) }, "needed together"},
		"a hub that widens":    {func(s *Section) { s.Pipe = s.HubLarge + 1*mm }, "does not narrow"},
		"pipe in the bore":     {func(s *Section) { s.Pipe = s.Bore }, "does not narrow"},
		"hub over the rim":     {func(s *Section) { s.HubLarge = s.Outside + 1*mm }, "does not narrow"},
		"hub within flange":    {func(s *Section) { s.HubLength = s.Thickness }, "length through the hub"},
	} {
		s := sections["A"]
		c.change(&s)
		_, err := New(s)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want something with %q", name, err, c.says)
		}
	}
	for name, s := range sections {
		if err := s.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := bare(name).Check(); err != nil {
			t.Errorf("%s bare: %v", name, err)
		}
	}
	if _, err := model(t, "A").Row(0); err == nil {
		t.Error("a gasket without stiffness is taken")
	}
}

// Two radii that all but coincide make one line of the mesh, not a flat element.
func TestRadiiThatAlmostCoincide(t *testing.T) {
	s := Section{Outside: 1.652, Bore: 1.2, Thickness: 0.1808, HubLarge: 1.212, HubLength: 0.4808, Pipe: 1.208, Bolts: 3,
		BoltCircle: 1.372, Hole: 0.128, NutBearing: 0.16, GasketInner: 1.2, GasketOuter: 1.21}
	want := rowOf(t, s, kappa(10))
	for _, apart := range []unit.Length{1e-12, 1.5e-9, 1e-8, 3e-8, 1e-7, 1e-6, 9e-6, 2e-5} {
		other := s
		other.HubLarge += 2 * apart
		for k, c := range rowOf(t, other, kappa(10)) {
			if !(math.Abs(c-want[k]) < 2e-3*want[0]) {
				t.Errorf("%v m apart: c%d is %v, %v where they coincide", apart, k, c, want[k])
			}
		}
	}
}

// The rows of several gaskets are those of each by itself.
func TestRowsOfSeveralGaskets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySection(t)
		if err := s.Check(); err != nil {
			t.Skip(err)
		}
		m, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		on := kappa(math.Pow(10, rapid.Float64Range(1, 3.5).Draw(t, "log kappa")))
		several := []unit.Stiffness{2 * on, on, on / 2, 30 * on}
		rows, err := m.Rows(several...)
		if err != nil {
			t.Skip(err) // the program says so and gives no estimate
		}
		for i, kappa := range several {
			alone, err := m.Row(kappa)
			if err != nil {
				t.Fatal(err)
			}
			for k, want := range alone {
				if math.Abs(float64(rows[i][k]-want)) > 1e-3*float64(alone[0]) { // thin and small ones are poorly conditioned
					t.Fatalf("gasket %d: c%d is %v, by itself %v", i, k, rows[i][k], want)
				}
			}
		}
	})
}

// The hub stands on the flange whatever the thickness: this one lies where points
// rounded to a hundredth of a micrometre fell apart, and with them hub and flange.
func TestHubStandsOnTheFlange(t *testing.T) {
	s := Section{Outside: 0.19325, Bore: 0.04, Thickness: 0.028734375, HubLarge: 0.1309045305708423, HubLength: 0.068734375, Pipe: 0.08074672392383217,
		Bolts: 7, BoltCircle: 0.16125, Hole: 0.024, NutBearing: 0.03, GasketInner: 0.045, GasketOuter: 0.055}
	row := rowOf(t, s, kappa(200))
	s.Thickness += 1e-10
	for k, c := range rowOf(t, s, kappa(200)) {
		if math.Abs(c-row[k]) > 1e-6*row[0] {
			t.Errorf("c%d is %v, with a tenth of a nanometre more %v", k, row[k], c)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := anySection(t)
		if err := s.Check(); err != nil {
			t.Skip(err)
		}
		m := newMesh(s)
		for i, p := range m.nodes {
			for _, q := range m.nodes[:i] {
				if math.Hypot(p.r-q.r, p.z-q.z) < near/100 {
					t.Fatalf("two nodes at %v and %v of %+v", p, q, s)
				}
			}
		}
	})
}
