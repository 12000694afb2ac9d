package report

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/flange"
	"evenload/joint/unit"
	"evenload/sequence"
	"evenload/sequence/interaction"
)

// edited is a shipped job with some texts replaced.
func edited(t testing.TB, file string, edits ...edit) job.Job {
	t.Helper()
	text := read(t, jobs+file)
	for _, e := range edits {
		if !strings.Contains(text, e.old) {
			t.Fatalf("%s is not in %s", e.old, file)
		}
		text = strings.Replace(text, e.old, e.new, 1)
	}
	j, err := job.Parse("job.toml", []byte(text), jobs)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

const strainer = "strainer-8in-300.toml"

// sealed is the strainer with another gasket of the same size.
func sealed(kind string) edit {
	return edit{kindOfStrainer, `type = "` + kind + "\"\ninner = \"233.4 mm\"\nouter = \"263.7 mm\""}
}

const kindOfStrainer = `type         = "spiral wound, stainless"`

func compared(t testing.TB, j job.Job, moves unit.Share) (Comparison, string) {
	t.Helper()
	c, err := NewComparison(j, moves)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := Compare(&out, c); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(out.String(), "\n") {
		if n := len([]rune(line)); n > 110 {
			t.Errorf("a line has %d signs: %s", n, line)
		}
	}
	return c, out.String()
}

func TestCompareOfShippedJob(t *testing.T) {
	_, text := compared(t, load(t, jobs+strainer), Moves)
	golden(t, "compare-strainer-8in-300.txt", text)
}

// A ring without hub, metric, with two tools, an order of its own and rubber.
func TestCompareOfSoftRing(t *testing.T) {
	_, text := compared(t, edited(t, "booster-dn300-pn25.toml",
		edit{"[target]", "[gasket]\ntype = \"rubber sheet\"\ninner = \"330 mm\"\nouter = \"390 mm\"\n\n[flange]\nthickness = \"34 mm\"\n\n[target]"},
		edit{"[procedure]\n", "[procedure]\npattern = \"given\"\norder = [1, 5, 2, 6, 3, 7, 4, 8, 9, 10, 11, 12, 13, 14, 15, 16]\npasses = [\"10 %\", \"25 %\", \"50 %\", \"70 %\", \"85 %\", \"100 %\"]\n"}), 0.1)
	golden(t, "compare-soft-ring.txt", text)
}

// The figures of the page are those of the two models, put together here by hand.
func TestComparisonIsOfModels(t *testing.T) {
	j := load(t, jobs+strainer)
	c, _ := compared(t, j, Moves)
	pair, err := j.Pair()
	if err != nil {
		t.Fatal(err)
	}
	model, err := flange.New(pair.Section)
	if err != nil {
		t.Fatal(err)
	}
	for g, kappa := range []unit.Stiffness{100e9, 200e9, 400e9} {
		row, err := model.Row(kappa)
		if err != nil {
			t.Fatal(err)
		}
		ring, err := interaction.New(row, pair.Give)
		if err != nil {
			t.Fatal(err)
		}
		s := ring.Snug()
		target := c.plan.Aim.Load
		for _, share := range []unit.Force{0.3, 0.6, 1} {
			for _, bolt := range []int{1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12} {
				if _, err := s.Tighten(share*target, bolt-1); err != nil {
					t.Fatal(err)
				}
			}
		}
		r := c.orders[0].Results[g]
		same := func(a, b unit.Force) bool { return math.Abs(float64(a-b)) < 1e-3 } // rows of several gaskets are solved another way
		if a, b := r.AfterPasses, s.Spread(); !same(a.Least, b.Least) || !same(a.Mean, b.Mean) || !same(a.Most, b.Most) {
			t.Errorf("gasket %d: after the passes %+v, want %+v", g, r.AfterPasses, s.Spread())
		}
		for range r.Rounds {
			for bolt := range 12 {
				if _, err := s.Tighten(target, bolt); err != nil {
					t.Fatal(err)
				}
			}
		}
		if !slices.EqualFunc(r.Loads, s.Loads(), same) {
			t.Errorf("gasket %d: after %d rounds %v, want %v", g, r.Rounds, r.Loads, s.Loads())
		}
	}
}

// What a check round shows is the estimate of compare; a joint that the model
// refuses has none.
func TestRoundsWord(t *testing.T) {
	j := load(t, jobs+strainer)
	p, _ := j.Plan(day)
	if got := RoundsWord(j, p); got != "An estimate: 3 to 6 rounds until no nut moves." {
		t.Errorf("the strainer: %q", got)
	}
	cover := load(t, jobs+"filter-cover-10.toml")
	p, _ = cover.Plan(day)
	if got := RoundsWord(cover, p); got != "" {
		t.Errorf("a cover: %q", got)
	}
}

func TestCompareSaysWhatModelSays(t *testing.T) {
	_, text := compared(t, load(t, jobs+strainer), Moves)
	for _, want := range []string{"never a measurement", "star does not end more even than circle", "What star saves is tilt while the gasket is still soft",
		"plan for 3 to 6 check rounds until no nut moves by more\nthan 5 % of the target; the job allows 4."} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
	// The middle estimate is not more than 4, that of the soft gasket is.
	if said := strings.Join(strings.Fields(text), " "); !strings.Contains(said, "note: check rounds: 4, and by an estimate it takes 3 to 6") {
		t.Errorf("that 4 rounds may be too few is no note:\n%s", text)
	}
	// On a stiff joint of few bolts star saves no tilt of a soft gasket, and it is not said.
	c, soft := compared(t, edited(t, strainer, edit{"NPS 8 class 300", "NPS 4 class 900"}, edit{kindOfStrainer, "type = \"rubber\"\ninner = \"120.6 mm\"\nouter = \"149.4 mm\""},
		edit{`grip   = "92 mm"`, ""}), Moves)
	star, circle := c.orders[0].Results[middle], c.orders[6].Results[middle]
	if saves := strings.Contains(soft, "What star saves is tilt"); saves != (star.Uneven < circle.Uneven) {
		t.Errorf("star closes unevenly by %v, circle by %v, and it is said that star saves tilt: %v", star.Uneven, circle.Uneven, saves)
	}
	if !strings.Contains(soft, "more than 25 check rounds") || !strings.Contains(soft, "(rounds-few)") && !strings.Contains(soft, "few)") {
		t.Errorf("rubber wants many rounds:\n%s", soft)
	}
}

// No load of one bolt has more than two figures.
func TestLoadsHaveTwoFigures(t *testing.T) {
	for share, want := range map[float64]string{0: "0.00", 0.0449: "0.04", 0.864: "0.86", 0.9949: "0.99", 0.995: "1.0", 1.04: "1.0", 1.27: "1.3"} {
		if got := twoFigures(share); got != want {
			t.Errorf("%v is printed as %s, want %s", share, got, want)
		}
	}
	for _, c := range []struct{ low, high, mark float64 }{{0, 0, 40}, {0.5, 0.9, 40}, {1, 1.1, 40}, {3, 9, 40}} {
		if bar := loadBar(c.low, c.high); len(bar) != longestBar && len(bar) != longestBar+1 || bar[40] != '|' {
			t.Errorf("%v to %v: %q", c.low, c.high, bar)
		}
	}
}

func TestCompareJSON(t *testing.T) {
	j := load(t, jobs+strainer)
	c, _ := compared(t, j, Moves)
	text, err := json.Marshal(CompareJSON(c))
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	list := func(path string) []any {
		t.Helper()
		x, err := at(v, path)
		all, ok := x.([]any)
		if err != nil || !ok {
			t.Fatalf("%s: %v %v", path, x, err)
		}
		return all
	}
	number := func(path string) float64 {
		t.Helper()
		x, err := at(v, path)
		f, ok := x.(float64)
		if err != nil || !ok {
			t.Fatalf("%s: %v %v", path, x, err)
		}
		return f
	}
	// Rows, stiffness and coefficients belong together: (C + 1/kb) times the row of
	// loads of one bolt pulled by 1 mm is 1 mm there and nothing elsewhere.
	row, alpha, kb := list("closure_mm_per_N"), list("coefficients"), number("bolt_stiffness_N_per_mm")
	if len(row) != 12 || len(alpha) != 12 || alpha[0].(float64) != 0 || math.Abs(kb-535e3) > 1e3 {
		t.Fatalf("%d closures, %d coefficients, bolt %v", len(row), len(alpha), kb)
	}
	for i := 1; i < 12; i++ {
		sum := 0.0
		for k := range 12 {
			f := -alpha[k].(float64)
			if k == 0 {
				f = 1
			}
			sum += row[(i-k+12)%12].(float64) * f
			if k == i {
				sum += f / kb
			}
		}
		if math.Abs(sum) > 1e-12 {
			t.Errorf("bolt %d: coefficients are not those of the row: %v mm", i, sum)
		}
	}
	if got := list("gasket_stiffness_N_per_mm3"); got[0] != 100.0 || got[1] != 200.0 || got[2] != 400.0 {
		t.Errorf("gaskets %v", got)
	}
	if len(list("orders")) != 9 || len(list("orders #0 results")) != 3 || len(list("orders #8 results #2 loads")) != 12 || len(list("inputs")) < 12 {
		t.Errorf("%s", text)
	}
	if number("orders #0 results #1 final lowest") > number("orders #0 results #1 final mean") || number("orders #0 results #1 rounds_until_still") != float64(c.orders[0].Results[1].Still) ||
		number("moves") != 0.05 || number("orders #0 passes #1") != 0.6 || number("orders #0 stations #1 #0") != 7 {
		t.Errorf("%s", text)
	}
	if own, err := at(v, "orders #0 own"); own != true || err != nil {
		t.Errorf("the job's own order is not marked: %v", err)
	}
	if word, err := at(v, "estimate"); err != nil || !strings.Contains(word.(string), "never a measurement") {
		t.Errorf("it is not said what the figures are: %v", err)
	}
	if found := list("findings"); len(found) != 1 || number("orders #0 results #1 rounds_until_still") > 4 {
		t.Errorf("%v", found)
	}
	_, err = NewComparison(edited(t, strainer, edit{"[numbering]", "[flange]\nkind = \"blind\"\n\n[numbering]"}), Moves)
	var faults job.Faults
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	if text, err = json.Marshal(CompareFaultsJSON("job.toml", faults)); err != nil || !strings.Contains(string(text), "a blind flange is not computed") || !strings.Contains(string(text), `"line":22`) {
		t.Errorf("%s %v", text, err)
	}
	none, _ := compared(t, edited(t, strainer, sealed("soft PTFE")), 0.01)
	if text, err = json.Marshal(CompareJSON(none)); err != nil || !strings.Contains(string(text), `"rounds_until_still":null`) || !strings.Contains(string(text), `"code":"rounds-few"`) {
		t.Errorf("%s %v", text, err)
	}
}

// The plan says it when there are too few rounds, its notes stay behind, and check says
// nothing of it. A joint that cannot be estimated changes nothing.
func TestPlanSaysTooFewRounds(t *testing.T) {
	j := edited(t, strainer, edit{"[procedure]\n", "[procedure]\ncheck_rounds = 1\n"}, edit{`"210 MPa"`, `"110 MPa"`}, edit{`"69 MPa"`, `"75 MPa"`})
	p, before := j.Plan(day)
	found := WithEstimate(j, p, before)
	i := slices.IndexFunc(found, func(f joint.Finding) bool { return f.Code == "rounds-few" })
	if len(found) != len(before)+1 || i < 0 || found[i].Severity != joint.Warning || found[len(found)-1].Severity != joint.Note {
		t.Fatalf("%+v", found)
	}
	if f := Located(j, found[i]); f.Line < 60 || !strings.Contains(f.Text, "check rounds: 1, and by an estimate it takes 3 to 6 until no bolt gains more than 5 % of the target") {
		t.Errorf("%s", f)
	}
	if slices.ContainsFunc(before, func(f joint.Finding) bool { return f.Code == "rounds-few" }) {
		t.Error("check says it, and has no time for it")
	}
	for _, file := range []string{"filter-cover-10.toml", "header-dn400-pn16.toml"} {
		j := load(t, jobs+file)
		p, before := j.Plan(day)
		if found := WithEstimate(j, p, before); !slices.Equal(found, before) {
			t.Errorf("%s cannot be estimated, and the findings are %+v", file, found)
		}
	}
	if found := WithEstimate(j, sequence.Plan{}, nil); len(found) != 0 {
		t.Errorf("a plan without target has %+v", found)
	}
}

// What stands in a job cannot move the terminal.
func TestCompareIsVisible(t *testing.T) {
	j := load(t, jobs+strainer)
	j.About.Where = "hall\x1b[2J\u202e"
	_, text := compared(t, j, Moves)
	if strings.ContainsAny(text, "\x1b\u202e") {
		t.Errorf("%q", text)
	}
	c, err := NewComparison(j, Moves)
	if err != nil {
		t.Fatal(err)
	}
	if err := Compare(full{}, c); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
}

// BenchmarkCompare is the whole comparison of the strainer's twelve bolts, reading left out;
// BenchmarkPlanEstimate what plan takes more for its finding.
func BenchmarkCompare(b *testing.B) {
	j := edited(b, strainer)
	for b.Loop() {
		if _, err := NewComparison(j, Moves); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlanEstimate(b *testing.B) {
	j := edited(b, strainer)
	p, _ := j.Plan(day)
	for b.Loop() {
		WithEstimate(j, p, nil)
	}
}
