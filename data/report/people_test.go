package report

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestRecordOfHoldPoints: who looked, and at what.
func TestRecordOfHoldPoints(t *testing.T) {
	o := opened(t)
	o.Plan.Batches = true
	o.Plan.Hold = sequence.HoldPoints([]unit.Share{0.5, 1}, true)
	c := begin(t, o)
	c.toTheEnd()
	text := recordOf(t, c.close())
	if want := "materials: gasket batch G-4471, stud batch not recorded, nut batch not recorded, lubricant batch not recorded, ambient temperature 12 °C\n"; !strings.Contains(text, want) {
		t.Errorf("%q is not in the record:\n%s", want, text)
	}
	for _, h := range o.Plan.Hold {
		if !strings.Contains(text, "released, hold point "+h.Name+", by Eva, engineer: looked at\n") {
			t.Errorf("hold point %s is not in the record:\n%s", h.Name, text)
		}
	}
}

// TestRecordOfTrainee: the supervisor stands above all, and what the trainee
// brought beside the sign-on.
func TestRecordOfTrainee(t *testing.T) {
	c := begin(t, opened(t))
	c.do(sequence.SignedOn{Name: "Ann", Role: "fitter", Company: "Works crew 2", Qualification: "BT-114", QualifiedUntil: joint.Date{Year: 2026, Month: 11, Day: 20}, Second: "Bo", Supervisor: "Jo"},
		sequence.Released{Of: sequence.OfQualification, Named: engineer})
	text := recordOf(t, c.close())
	for _, want := range []string{"\nTRAINEE        Ann, supervised by Jo\n", "signed on, fitter, of Works crew 2, qualification BT-114, qualified until 2026-11-20, second person Bo, TRAINEE, supervised by Jo\n",
		"released, the work with a qualification that has expired, by Eva, engineer: looked at\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the record:\n%s", want, text)
		}
	}
}

// TestRecordOfOnePersonTypedTwice: the walk takes a name for the same whatever its
// case and spaces, and so does the record: one person, with role and papers.
func TestRecordOfOnePersonTypedTwice(t *testing.T) {
	c := begin(t, opened(t))
	c.do(sequence.SignedOn{Name: "Ann", Role: "fitter", Qualification: "BT-114"}, sequence.Suspended{})
	c.name = " ann "
	c.do(sequence.SignedOn{Name: " ann "}, sequence.NoteMade{Text: "back"})
	done, err := card.Read(c.close())
	if err != nil {
		t.Fatal(err)
	}
	d, err := DoneOf(done, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.People) != 1 || d.People[0].Role != "fitter" || d.People[0].Qualification != "BT-114" {
		t.Errorf("people are %+v", d.People)
	}
	if last := d.Events[len(d.Events)-1]; last.Role != "fitter" {
		t.Errorf("the note is by %q with the role %q", last.By, last.Role)
	}
}

// TestSecondPersonOfEachSignOn: one who came later did not stand there from the start,
// one from before is not gone, and a sign-on that says nothing new is no entry.
func TestSecondPersonOfEachSignOn(t *testing.T) {
	c := begin(t, opened(t))
	from := c.at
	sign := func(d sequence.SignedOn) {
		c.name = d.Name
		c.do(d)
	}
	sign(sequence.SignedOn{Name: "Ann", Role: "fitter", Qualification: "BT-114", Second: "Bo"})
	c.do(sequence.Suspended{})
	sign(sequence.SignedOn{Name: "ann", Second: " bo"})
	c.do(sequence.Suspended{})
	sign(sequence.SignedOn{Name: "Ann", Second: "Wim"})
	c.do(sequence.Suspended{})
	sign(sequence.SignedOn{Name: "Cy", Supervisor: "Jo"})
	c.do(sequence.Suspended{})
	sign(sequence.SignedOn{Name: "Ann"})
	path := c.close()
	d := asDone(t, path)
	var got []string
	for _, p := range d.People {
		got = append(got, strings.Join([]string{p.Name, p.Role, p.Qualification, p.Second, p.Supervisor, p.From.Sub(from).String()}, "/"))
	}
	want := []string{"Ann/fitter/BT-114/Bo//20s", "Ann/fitter/BT-114/Wim//1m40s", "Cy////Jo/2m20s", "Ann/fitter/BT-114///3m0s"}
	if !slices.Equal(got, want) {
		t.Errorf("people are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for line, want := range map[int]int{1: 0, 2: 1, 5: 1, 6: 2, 9: 2, 10: 4} {
		if n := d.PersonAt("Ann", line); n != want {
			t.Errorf("at line %d Ann is number %d, want %d", line, n, want)
		}
	}
	text := recordOf(t, path)
	head, _, _ := strings.Cut(text, "PASSES AS DONE")
	for _, want := range []string{"\nstate          draft\n", "\nfrom, to       2026-11-25 09:00:20 to 2026-11-25 09:03:00, local time UTC+01:00\n",
		"\n2       Ann              2026-11-25 09:01:40  fitter  -        BT-114         Wim            -\n"} {
		if !strings.Contains(head, want) {
			t.Errorf("the head of the record does not say %q:\n%s", want, head)
		}
	}
	var out strings.Builder
	if err := RecordJSON(&out, d); err != nil {
		t.Fatal(err)
	}
	var r recordJSON
	if err := json.Unmarshal([]byte(out.String()), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.SignOns) != 4 || len(r.People) != 2 || r.People[0].Second != "Wim" || r.People[0].SignedOn != r.SignOns[0].SignedOn || r.People[0].Qualification != "BT-114" {
		t.Errorf("sign-ons %+v, people %+v", r.SignOns, r.People)
	}
}
