package job

import (
	"errors"
	"os"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// changed reads the strainer job with lines put behind a table's head, others at the end.
func changed(t *testing.T, table, lines, end string) (Job, error) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Replace(string(text), "["+table+"]\n", "["+table+"]\n"+lines+"\n", 1) + "\n" + end + "\n"
	return Parse("x.toml", []byte(all), "../../testdata/jobs")
}

// The load of a stud by its stretch: the plan says what is expected at the target.
func TestFinishOfJob(t *testing.T) {
	j, err := changed(t, "procedure", "elongation = true\nleak_test = true", "[alignment]\nholes = \"2 mm\"\ngap = \"6 mm\"")
	if err != nil {
		t.Fatal(err)
	}
	p, findings := j.Plan(joint.Date{Year: 2026, Month: 11, Day: 26})
	if joint.Failed(findings) {
		t.Fatal(findings)
	}
	want := sequence.Alignment{Offset: 1.5 * unit.Millimetre, Parallel: 0.8 * unit.Millimetre, Holes: 2 * unit.Millimetre, Gap: 6 * unit.Millimetre}
	if p.Alignment == nil || *p.Alignment != want || !p.LeakTest {
		t.Errorf("alignment %+v, leak test %v", p.Alignment, p.LeakTest)
	}
	give, known := j.StudGive()
	if p.Stretch == nil || !known || p.Stretch.Give != give || p.Stretch.Reading != 0.01*unit.Millimetre {
		t.Fatalf("stretch %+v", p.Stretch)
	}
	if load := float64(p.Stretch.Expected) / float64(give); load < float64(p.Aim.Load)*0.999 || load > float64(p.Aim.Load)*1.001 {
		t.Errorf("the expected stretch stands for %v, the target is %v", load, p.Aim.Load)
	}
	if !p.Stretch.InBand(p.Aim.Load) || p.Stretch.Low <= 0 {
		t.Errorf("the target lies outside %v to %v", p.Stretch.Low, p.Stretch.High)
	}
	for i, q := range p.Questions {
		if q.Measured && (p.Questions[i+1].ID != "22" || p.Questions[i+2].ID != "8") {
			t.Error("the alignment is not measured before the gasket goes in")
		}
	}
	plain, err := changed(t, "procedure", "", "")
	if err != nil {
		t.Fatal(err)
	}
	if q := plain.Procedure; q.Alignment != nil || q.StudGive != 0 || q.LeakTest {
		t.Errorf("silent, %+v is asked for", q)
	}
}

// Work that has another procedure is no job, and says whom to ask.
func TestOtherWork(t *testing.T) {
	for work, want := range map[string]string{"loosen": "procedure for breaking joints", "Hot": "let it cool", "live": "risk review", "leak": "take the pressure off first",
		"tension": "maker's instructions", "clamp": "maker's instructions", "weld": "it can be \"tighten\""} {
		_, err := changed(t, "joint", "work = \""+work+"\"", "")
		var faults Faults
		if !errors.As(err, &faults) || len(faults) != 1 || !strings.Contains(faults[0].Text, want) || work != "weld" && !strings.Contains(faults[0].Text, " Now: ") {
			t.Errorf("%s: %v", work, err)
		}
	}
	if _, err := changed(t, "joint", "work = \"tighten\"", ""); err != nil {
		t.Error(err)
	}
}

func TestElongationNeedsGrip(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, line := range strings.Split(string(text), "\n") {
		if !strings.HasPrefix(line, "grip") {
			lines = append(lines, line)
		}
	}
	all := strings.Replace(strings.Join(lines, "\n"), "[procedure]\n", "[procedure]\nelongation = true\n", 1)
	if _, err := Parse("x.toml", []byte(all), "../../testdata/jobs"); err == nil || !strings.Contains(err.Error(), "needs bolts.grip") {
		t.Errorf("without grip: %v", err)
	}
}

// The band of studs ends where the gasket is crushed, not only where torque ends.
func TestBandEndsAtCrush(t *testing.T) {
	text, err := os.ReadFile("../../testdata/jobs/strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	band := func(bears string) (high, target unit.Force) {
		all := strings.Replace(string(text), `"210 MPa"`, `"`+bears+`"`, 1)
		j, err := Parse("x.toml", []byte(strings.Replace(all, "[procedure]\n", "[procedure]\nelongation = true\n", 1)), "../../testdata/jobs")
		if err != nil {
			t.Fatal(err)
		}
		p, findings := j.Plan(joint.Date{Year: 2026, Month: 11, Day: 26})
		if joint.Failed(findings) || p.Stretch == nil {
			t.Fatal(findings)
		}
		if p.Stretch.High > p.Strength.Crush {
			t.Errorf("a stud in the band at %v crushes the gasket at %v", p.Stretch.High, p.Strength.Crush)
		}
		return p.Stretch.High, p.Aim.Load
	}
	strong, target := band("210 MPa")
	if weak, _ := band("107 MPa"); !(weak < strong && weak > target) {
		t.Errorf("the band ends at %v, with a gasket that bears less at %v; the target is %v", strong, weak, target)
	}
}
