package paper

import (
	"bytes"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

func sheetOf(t *testing.T, j job.Job, size Size) []byte {
	t.Helper()
	plan, found := j.Plan(day)
	var out bytes.Buffer
	if err := Sheet(&out, j, plan, found, day, size); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestSheetOfEachJob: every question, every pressure with its band, every bolt,
// every gap place of every shipped job, on both papers, the same every time.
func TestSheetOfEachJob(t *testing.T) {
	paths, err := filepath.Glob(jobs + "*.toml")
	if err != nil || len(paths) < 6 {
		t.Fatal(paths, err)
	}
	for _, path := range paths {
		j := load(t, file(t, path))
		plan, _ := j.Plan(day)
		for _, size := range []Size{A4, Letter} {
			first := sheetOf(t, j, size)
			if !bytes.Equal(first, sheetOf(t, j, size)) {
				t.Errorf("%s: two sheets differ", path)
			}
			all := pages(t, first)
			text := strings.Join(all, " ")
			for i, p := range all {
				if !holds(p, fmt.Sprintf("page %d of %d", i+1, len(all))) || !holds(p, "revision") || !holds(p, "approved by "+plan.About.ApprovedBy) {
					t.Errorf("%s, page %d: %s", path, i+1, p)
				}
			}
			want := []string{plan.About.Tag, plan.About.Datum, "seen from " + plan.About.ViewedFrom, sequence.SiteFirst, sequence.OnlyFor, sequence.NotLoadWord, "signature"}
			for _, q := range plan.Questions {
				q = written(q)
				want = append(want, q.Text, q.IfNo)
			}
			for _, kind := range sequence.StopKinds {
				want = append(want, kind.Name, "Now: "+kind.Now+" Ask: "+kind.Ask)
			}
			for _, pass := range plan.Passes {
				for i, s := range pass.Settings {
					want = append(want, plan.Tools[i].Gauged(s.Set), plan.Tools[i].Band(s), s.Delivered.Text(plan.System))
				}
			}
			for _, b := range plan.GapPlaces {
				want = append(want, fmt.Sprintf("beside %d", b))
			}
			for _, h := range plan.Hold {
				want = append(want, "HOLD POINT "+h.Name)
			}
			for _, w := range want {
				if !holds(text, w) {
					t.Errorf("%s on %s: %q is not on the sheet", path, size, w)
				}
			}
		}
	}
}

// screenWords are those of a screen, its keys and its program.
var screenWords = regexp.MustCompile(`(?i)\b(screen|stop page|the page tells|type (its|each)|typed|press|key|laptop|evenload|load its|with u|u reaches|where u|program)\b`)

// TestSheetHasNoScreen: no question and no hint of a sheet speaks of a screen, with
// all that a job can ask.
func TestSheetHasNoScreen(t *testing.T) {
	for _, name := range []string{"strainer-8in-300.toml", "exchanger-cover-32.toml", "booster-dn300-pn25.toml"} {
		j := load(t, file(t, jobs+name))
		j.About.ApprovedBy = ""
		j.Conditions = sequence.Conditions{AtHeight: true, HazardousArea: true, DriveGas: "nitrogen"}
		plan, _ := j.Plan(day)
		asked := 0
		for _, q := range plan.Questions {
			if _, ok := onPaper[q.ID]; ok {
				asked++
			}
		}
		if asked != len(onPaper) {
			t.Errorf("%s: %d of the %d questions with words for paper are asked", name, asked, len(onPaper))
		}
		text := strings.Join(pages(t, sheetOf(t, j, A4)), "\n")
		text = regexp.MustCompile(`page \d+ of \d+`).ReplaceAllString(text, "")
		for _, found := range screenWords.FindAllStringIndex(text, -1) {
			t.Errorf("%s: %q", name, text[max(0, found[0]-50):min(len(text), found[1]+30)])
		}
	}
}

// TestSheetHasOrder: the stations stand in the order of the plan in each pass; snug goes
// across, bolt by bolt.
func TestSheetHasOrder(t *testing.T) {
	j := load(t, file(t, jobs+"booster-dn300-pn25.toml"))
	plan, _ := j.Plan(day)
	var order strings.Builder
	for i, s := range plan.Stations {
		fmt.Fprintf(&order, "%dA%dB%d", i+1, s[0], s[1])
	}
	text := squeezed(strings.Join(pages(t, sheetOf(t, j, A4)), " "))
	if n := strings.Count(text, order.String()); n != len(plan.Passes) {
		t.Errorf("the order %s stands %d times on the sheet:\n%s", &order, n, text)
	}
}

// TestLongDatum: what of the datum does not fit at the picture is marked there, and
// stands whole among the questions.
func TestLongDatum(t *testing.T) {
	j := load(t, file(t, drain))
	j.About.Datum = "the drain hole, at the side of the strainer that looks to the boiler house and to its stairs, not the one above the cable tray"
	text := strings.Join(pages(t, sheetOf(t, j, A4)), " ")
	if !holds(text, j.About.Datum) || !holds(text, "to its ...") {
		t.Errorf("the datum is not whole, or its cut is not marked: %s", text)
	}
}

func TestSheetWithoutApproval(t *testing.T) {
	j := load(t, file(t, drain))
	j.About.ApprovedBy = ""
	for i, p := range pages(t, sheetOf(t, j, A4)) {
		if !strings.Contains(p, "UNAPPROVED") {
			t.Errorf("page %d is not marked", i+1)
		}
	}
}

// TestNoSheetWithErrors: what may not be walked may not be ticked either.
func TestNoSheetWithErrors(t *testing.T) {
	j := load(t, file(t, drain))
	plan, found := j.Plan(joint.Date{Year: 2040, Month: 1, Day: 1}) // all due dates are over
	if !joint.Failed(found) {
		t.Fatal(found)
	}
	var out bytes.Buffer
	if err := Sheet(&out, j, plan, found, day, A4); err == nil || out.Len() > 0 {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
}

// TestChartOnPaper: the state in the title, each division, the suspicious point.
func TestChartOnPaper(t *testing.T) {
	text := strings.NewReplacer(`"running"`, `"static"`, `"232 N·m"`, `"290 N·m"`).Replace(file(t, jobs+"strainer-8in-300.toml"))
	tool := load(t, text).Joint.Tools[0]
	if _, _, odd := tool.Chart.OddPoint(); !odd {
		t.Fatal("no point of the chart looks wrong")
	}
	var out, again bytes.Buffer
	found, err := Charts(&out, []joint.Tool{tool}, unit.SI, day)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Charts(&again, []joint.Tool{tool}, unit.SI, day); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("two charts differ: %v", err)
	}
	said := strings.Join(pages(t, out.Bytes()), " ")
	rows, err := tool.Divisions()
	if err != nil || len(rows) == 0 || len(found) == 0 {
		t.Fatal(rows, found, err)
	}
	want := []string{"TOOL W-07 gauge G-14 SET AT REST", "POCKET TABLE SET AT REST", "point 4 looks wrong", "LOOKS WRONG", "beside the point of the chart that looks wrong"}
	for _, d := range rows {
		torque, _, _ := strings.Cut(d.Torque.Text(unit.SI), " ")
		want = append(want, d.Pressure.Reading(tool.Gauge.Unit, tool.Gauge.Division)+torque)
	}
	for _, f := range found {
		want = append(want, f.Text)
	}
	for _, w := range want {
		if !holds(said, w) {
			t.Errorf("%q is not on the page:\n%s", w, said)
		}
	}
}

// TestSheetKeepsItsBlocks: a pass stands on one page with its gaps, all that is asked when
// people take over on one, signatures never alone, and no heading without what it heads.
func TestSheetKeepsItsBlocks(t *testing.T) {
	paths, err := filepath.Glob(jobs + "*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range append(paths, drain) {
		j := load(t, file(t, path))
		more := j // more questions than a page has room for
		more.Conditions = sequence.Conditions{AtHeight: true, HazardousArea: true, DriveGas: "nitrogen"}
		more.About.ApprovedBy = ""
		for _, j := range []job.Job{j, more} {
			plan, _ := j.Plan(day)
			blocks := [][]string{{"PROBLEMS, RELEASES AND NOTES", "SIGNATURES", "responsible engineer, name"}, {"PRE-START QUESTIONS", written(plan.Questions[0]).Text},
				{"JOINT, seen from", "seen from " + plan.About.ViewedFrom}, {"SNUG BY HAND", "GAPS after snug", "beside " + fmt.Sprint(plan.GapPlaces[len(plan.GapPlaces)-1])}}
			over := []string{"PEOPLE TAKE OVER"}
			end := []string{"BEFORE CLOSING"}
			for _, q := range plan.Questions {
				switch q.When {
				case sequence.AtHandover, sequence.AtResume, sequence.AtParts:
					over = append(over, written(q).Text)
				case sequence.AtEnd:
					end = append(end, written(q).Text)
				}
			}
			blocks = append(blocks, over, end)
			for i, pass := range plan.Passes {
				blocks = append(blocks, []string{fmt.Sprintf("PASS %d of %d", i+1, len(plan.Passes)), "begun, time", "GAPS after the pass at " + pass.Share.Text()})
			}
			for _, size := range []Size{A4, Letter} {
				all := pages(t, sheetOf(t, j, size))
			block:
				for _, block := range blocks {
					for _, p := range all {
						if !holds(p, block[0]) {
							continue
						}
						for _, words := range block[1:] {
							if !holds(p, words) {
								t.Errorf("%s on %s: %q is not on the page of %q", path, size, words, block[0])
							}
						}
						continue block
					}
					t.Errorf("%s on %s: no page has %q", path, size, block[0])
				}
			}
		}
	}
}
