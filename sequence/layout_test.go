package sequence

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenload/joint"
	"evenload/joint/unit"
)

// at makes a layout of x and y in millimetres.
func at(mm ...float64) joint.Layout {
	var l joint.Layout
	for i := 0; i < len(mm); i += 2 {
		l = append(l, joint.Position{X: unit.Length(mm[i] * unit.Millimetre), Y: unit.Length(mm[i+1] * unit.Millimetre)})
	}
	return l
}

// Covers that were worked by hand. All are numbered clockwise.
var (
	// 10 bolts: four along each long side with the corners, one amid each short side.
	//   1  2  3  4
	//  10          5
	//   9  8  7  6
	rectangle10 = at(-150, 100, -50, 100, 50, 100, 150, 100, 150, 0, 150, -100, 50, -100, -50, -100, -150, -100, -150, 0)
	// 12 bolts on an oval: straight sides and round ends.
	//       1  2  3  4
	//   12              5
	//   11              6
	//      10  9  8  7
	oval12 = at(-150, 100, -50, 100, 50, 100, 150, 100, 230, 50, 230, -50, 150, -100, 50, -100, -50, -100, -150, -100, -230, -50, -230, 50)
	rods4  = at(-300, 200, 300, 200, 300, -200, -300, -200)
	// A cover that is not alike on both sides.
	wedge6 = at(-100, 60, 0, 80, 120, 100, 120, -100, 0, -80, -100, -60)
)

// TestOutwardByHand: worked by hand from the rule in the comment at outward.
func TestOutwardByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		l    joint.Layout
		want string
	}{
		// The middle four across, the short sides, the corners.
		{"rectangle of 10", rectangle10, "2, 7, 3, 8, 5, 10, 4, 9, 6, 1"},
		// The middle four across, the next four, the ends.
		{"oval of 12", oval12, "2, 8, 3, 9, 4, 10, 7, 1, 6, 12, 5, 11"},
		{"tie-rods", rods4, "1, 3, 4, 2"},
		// 3 and 4 are farther out than 1 and 6; 6 would be the neighbour of 1.
		{"wedge", wedge6, "2, 5, 1, 4, 6, 3"},
	} {
		got, err := layoutOrder(Outward, c.l, nil)
		if err != nil || BoltList(got) != c.want {
			t.Errorf("%s: %s (%v), want %s", c.name, BoltList(got), err, c.want)
		}
	}
}

// rectangle draws a cover with bolts along its sides and in its corners,
// numbered clockwise from the upper left one.
func rectangle(t *rapid.T) joint.Layout {
	long, short := rapid.IntRange(3, 12).Draw(t, "spaces along"), rapid.IntRange(1, 8).Draw(t, "spaces down")
	pitch := func(of string) float64 { return rapid.Float64Range(60, 150).Draw(t, "pitch "+of) }
	px, py := pitch("along"), pitch("down")
	w, h := float64(long)*px, float64(short)*py
	var mm []float64
	for i := range long {
		mm = append(mm, float64(i)*px-w/2, h/2)
	}
	for i := range short {
		mm = append(mm, w/2, h/2-float64(i)*py)
	}
	for i := range long {
		mm = append(mm, w/2-float64(i)*px, -h/2)
	}
	for i := range short {
		mm = append(mm, -w/2, float64(i)*py-h/2)
	}
	return at(mm...)
}

// scattered draws bolts anywhere, in places of their own.
func scattered(t *rapid.T) joint.Layout {
	n := rapid.IntRange(FewestBolts, 40).Draw(t, "bolts")
	places := rapid.SliceOfNDistinct(rapid.IntRange(0, 400), n, n, rapid.ID[int]).Draw(t, "places")
	var mm []float64
	for _, p := range places {
		mm = append(mm, float64(p%20)*50, float64(p/20)*50)
	}
	return at(mm...)
}

// checkOutward holds an order against what it is for: each bolt once, the one
// nearest the middle first (of the corners, where all are), and never a neighbour of the bolt before while
// another is open.
func checkOutward(t *rapid.T, l joint.Layout) []Bolt {
	order, err := layoutOrder(Outward, l, nil)
	if err != nil {
		t.Fatal(err)
	}
	sorted := slices.Clone(order)
	slices.Sort(sorted)
	if !slices.Equal(sorted, run(1, len(l))) {
		t.Fatalf("takes %v", order)
	}
	corner := corners(l)
	for i, p := range l {
		if m := l.Middle(); corner[i] == corner[order[0]-1] && m.To(p) < m.To(l[order[0]-1])-2*equal {
			t.Fatalf("%v: bolt %d is first and not nearest the middle", order, order[0])
		}
	}
	beside := neighbours(l)
	for k := 1; k < len(order); k++ {
		near := beside[order[k-1]-1]
		if !slices.Contains(near, int(order[k]-1)) {
			continue
		}
		for _, b := range order[k:] {
			if !slices.Contains(near, int(b-1)) {
				t.Fatalf("%v: %d follows its neighbour %d, and %d is open", order, order[k], order[k-1], b)
			}
		}
	}
	return order
}

func TestOutwardAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkOutward(t, scattered(t)) })
}

// TestOutwardRectangles: the corners come last, and a cover is never closed on
// one side: what is done and not yet balanced across the middle is less than
// one and a tenth bolts at the greatest distance (1.00 measured).
func TestOutwardRectangles(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		l := rectangle(t)
		order := checkOutward(t, l)
		corner := corners(l)
		var x, y, far float64
		for k, b := range order {
			p := l[b-1]
			far = max(far, math.Hypot(float64(p.X), float64(p.Y)))
			if corner[b-1] != (k >= len(l)-4) {
				t.Fatalf("%v: bolt %d, corner %v", order, b, corner[b-1])
			}
		}
		for _, b := range order {
			x, y = x+float64(l[b-1].X)/far, y+float64(l[b-1].Y)/far
			worst = max(worst, math.Hypot(x, y))
		}
	})
	t.Logf("worst sum of distances to one side: %.2f of the greatest", worst)
	if worst >= 1.1 {
		t.Errorf("out of balance by %.2f", worst)
	}
}

func TestLayoutOrderRefuses(t *testing.T) {
	for p, want := range map[Pattern]string{Star: "leave the pattern silent", Circle: `"given" with an order`, "spiral": "for bolts on a circle", Given: "missing 4"} {
		if _, err := layoutOrder(p, rods4, []Bolt{1, 2, 3}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", p, err, want)
		}
	}
	if _, err := layoutOrder(Outward, rods4, []Bolt{1, 2, 3, 4}); err == nil {
		t.Error("an order beside outward is taken")
	}
	if _, err := Order(Outward, 4, nil); err == nil || !strings.Contains(err.Error(), "with positions") {
		t.Errorf("outward on a ring: %v", err)
	}
}

func TestLayoutGaps(t *testing.T) {
	for _, c := range []struct {
		l    joint.Layout
		most int
		want string
	}{
		{rectangle10, 8, "1, 2, 4, 5, 6, 7, 9, 10"}, // mid-sides: 2 and 3 are alike
		{rectangle10, 4, "1, 4, 6, 9"},
		{rectangle10, 2, "1, 4, 6, 9"},
		{rectangle10, 6, "1, 2, 4, 6, 7, 9"},
		{oval12, 8, "2, 5, 6, 8, 11, 12"}, // 5 and 6 are nearest to a corner and to the end
		{rods4, 8, "1, 2, 3, 4"},
		{at(0, 100, 100, 0, 0, -100, -100, 0), 4, "1, 2, 3, 4"},
		{wedge6, 64, "1, 2, 3, 4, 5, 6"},
	} {
		if got := BoltList(layoutGaps(c.l, c.most)); got != c.want {
			t.Errorf("%d places of %d bolts: %s, want %s", c.most, len(c.l), got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l, most := scattered(t), rapid.IntRange(2, 64).Draw(t, "most")
		at := layoutGaps(l, most)
		if !slices.IsSorted(at) || len(slices.Compact(slices.Clone(at))) != len(at) || len(at) < min(4, len(l)) || len(at) > max(4, most) {
			t.Fatalf("%d places: %v", most, at)
		}
	})
}

// coverPlan is a plan of a cover.
func coverPlan(t interface{ Fatalf(string, ...any) }, l joint.Layout, change func(*Procedure)) (Plan, []joint.Finding) {
	p := Procedure{Pattern: Outward, ToolsAtOnce: 1, Passes: []unit.Share{0.5, 1}, Snug: 0.2, GapPlaces: 8, GapFirst: 0.0008, GapSpread: 0.0005,
		CheckRounds: 2, RestartAfter: 30 * time.Minute, ReadBack: 0.02}
	if change != nil {
		change(&p)
	}
	tool := testPlan(t, 4, 1, 2, 0).Tools[0]
	thread, _ := joint.ParseThread("M20")
	j := joint.Joint{Bolts: len(l), Positions: l, Thread: thread, Friction: joint.Friction{NutFactor: 0.15},
		Target: joint.Target{Kind: joint.ByTorque, Torque: 300}, Tools: []joint.Tool{tool, tool}}
	return NewPlan(j, About{Tag: "DH-1", ApprovedBy: "E", Datum: "top", ViewedFrom: "hall side"}, Conditions{}, p, unit.SI, joint.Date{})
}

// TestCoverPlans: what a plan of a cover holds, and what it says.
func TestCoverPlans(t *testing.T) {
	p, findings := coverPlan(t, rectangle10, nil)
	if joint.Failed(findings) || p.Pattern != Outward || BoltList(p.order()) != "2, 7, 3, 8, 5, 10, 4, 9, 6, 1" ||
		BoltList(p.GapPlaces) != "1, 2, 4, 5, 6, 7, 9, 10" || p.RoundWord() != "clockwise" {
		t.Errorf("%+v, %v", p, findings)
	}
	if i := slices.IndexFunc(p.Questions, func(q Question) bool { return q.ID == "16" }); p.Questions[i].Text != "Are bolts numbered as on the drawing, seen from the hall side?" {
		t.Error(p.Questions[i].Text)
	}
	given := []Bolt{10, 1, 9, 2, 8, 3, 7, 4, 6, 5}
	p, findings = coverPlan(t, rectangle10, func(p *Procedure) { p.Pattern, p.Given = Given, given })
	if joint.Failed(findings) || !slices.Equal(p.order(), given) {
		t.Errorf("the given order is %v, %v", p.order(), findings)
	}
	swapped := slices.Clone(rectangle10)
	swapped[0], swapped[4] = swapped[4], swapped[0]
	if p, _ := coverPlan(t, swapped, nil); p.RoundWord() != "by number" {
		t.Error("numbers that do not run round are called clockwise")
	}
	mirrored := slices.Clone(rectangle10)
	for i := range mirrored {
		mirrored[i].X *= -1
	}
	for code, c := range map[string]struct {
		l      joint.Layout
		change func(*Procedure)
	}{
		"layout-tools": {rectangle10, func(p *Procedure) { p.ToolsAtOnce = 2 }},
		"order":        {rectangle10, func(p *Procedure) { p.Pattern = Star }},
		"mirrored":     {mirrored, nil},
	} {
		_, findings := coverPlan(t, c.l, c.change)
		if findings[0].Code != code || (code == "mirrored") == joint.Failed(findings) {
			t.Errorf("%s: %v", code, findings)
		}
	}
}

// TestCoverIsWalked: a cover is walked to the end, its check rounds go by
// number, and a plan that is read back from a card does the same.
func TestCoverIsWalked(t *testing.T) {
	p, _ := coverPlan(t, oval12, nil)
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var again Plan
	if err := json.Unmarshal(text, &again); err != nil {
		t.Fatal(err)
	}
	var done, checked []Bolt
	w, _ := stage(t, &again, func(s Step) bool {
		if d, ok := s.(Tighten); ok && d.Pass == 1 {
			done = append(done, d.Bolts...)
		}
		if c, ok := s.(Check); ok {
			checked = append(checked, c.Bolt)
		}
		return is[Closed](s)
	})
	if !w.IsClosed() || !slices.Equal(done, p.order()) || !slices.Equal(checked, run(1, 12)) {
		t.Errorf("pass 1 took %v, the check round %v", done, checked)
	}
	if ring, _ := json.Marshal(testPlan(t, 4, 1, 2, 0)); strings.Contains(string(ring), "positions") {
		t.Error("the plan of a ring has positions")
	}
}

// TestHandWrittenCovers: a card whose plan was written by hand is refused, not drawn.
func TestHandWrittenCovers(t *testing.T) {
	good, _ := coverPlan(t, rods4, nil)
	for want, change := range map[string]func(joint.Layout) joint.Layout{
		"positions for 3": func(l joint.Layout) joint.Layout { return l[:3] },
		"beyond 50 m":     func(l joint.Layout) joint.Layout { l[2].X = 1e300; return l },
		"one place":       func(l joint.Layout) joint.Layout { l[2] = l[0]; return l },
	} {
		p := good
		p.Positions = change(slices.Clone(good.Positions))
		if _, err := New(&p); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	good.Tools = append(good.Tools, good.Tools[0])
	if _, err := New(&good); err == nil || !strings.Contains(err.Error(), "for bolts on a circle") {
		t.Errorf("two tools: %v", err)
	}
}
