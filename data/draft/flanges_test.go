package draft

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/data/job"
	"evenload/data/reference"
	"evenload/data/report"
	"evenload/joint/unit"
)

// toolFor is a tool file whose chart goes from a fifth of a torque to a quarter
// above it, with a gauge too fine to be the weak part.
func toolFor(torque unit.Torque) string {
	var b strings.Builder
	b.WriteString("id = \"W-1\"\ncertificate = \"C-1\"\ncalibrated = 2026-06-02\ndue = 2036-06-02\naccuracy = \"4 %\"\nmost_pressure = \"6.9 bar\"\ncurve = [\n")
	for bar := 1; bar <= 6; bar++ {
		fmt.Fprintf(&b, "  { pressure = \"%d.5 bar\", torque = \"%.4f N·m\" },\n", bar, float64(torque)*(0.2+0.21*float64(bar-1)))
	}
	// The foot shall not push with more than stops bear.
	fmt.Fprintf(&b, "]\nreaction_arm = \"%.0f mm\"\n", max(150, float64(torque)/15))
	b.WriteString("[gauge]\nid = \"G-1\"\nclass = 0.25\nspan = \"0 to 10 bar\"\ndivision = \"0.02 bar\"\ndue = 2036-06-02\n")
	return b.String()
}

// TestEveryFlangePassesCheck: a draft of each flange of the tables, with a tool
// of its size, has no finding at all. Where no table knows the gasket's sealing
// diameters that is told, until the answer has them.
func TestEveryFlangePassesCheck(t *testing.T) {
	dir := t.TempDir()
	tool := filepath.Join(dir, "w-1.toml")
	names := reference.KindOf("flange").Search("", 1<<20)
	if len(names) < 200 {
		t.Fatalf("%d flanges", len(names))
	}
	for i, name := range names {
		a := full()
		a[Tag], a[Flange], a[Gasket], a[Tool] = fmt.Sprintf("T-%d", i), name, "spiral wound, stainless", ""
		if strings.HasPrefix(name, "ASME") {
			a[Grade] = "B7"
		}
		d := New(dir)
		torque := d.Look(a, day).Plan.Aim.Torque
		if err := os.WriteFile(tool, []byte(toolFor(torque)), 0o644); err != nil {
			t.Fatal(err)
		}
		a[Tool] = "w-1.toml"
		l := d.Look(a, day)
		if l.Job.Joint.Gasket.Outer == 0 {
			if len(l.Findings) != 1 || l.Findings[0].Code != "no-gasket-size" {
				t.Errorf("%s: not said, or not alone, that the gasket is not judged: %v", name, l.Findings)
			}
			f, err := reference.FlangeOf(name)
			if err != nil {
				t.Fatal(err)
			}
			a[Gasket] += fmt.Sprintf(", %.1f to %.1f mm", 600*float64(f.Circle), 640*float64(f.Circle))
			l = d.Look(a, day)
		}
		if !l.Ready() {
			t.Errorf("%s: %v", name, l.Remarks())
			continue
		}
		if err := d.Save(d.File(a), l.Text, false); err != nil {
			t.Fatal(err)
		}
		found, err := report.Check(d.File(a), day)
		if err != nil || len(found) > 0 || len(l.Findings) > 0 {
			t.Errorf("%s: %v %v", name, found, err)
		}
	}
}

// TestEveryNameIsAnAnswer: what the form offers from a table it also takes, but
// for what has to be told more of.
func TestEveryNameIsAnAnswer(t *testing.T) {
	d := New(works(t))
	for _, q := range Questions() {
		if q.Kind == "" {
			continue
		}
		taken, names := 0, q.Search("", 1<<20)
		for _, name := range names {
			if keys, err := d.keys(q.Name, name); err == nil && keys[0].Value == name {
				taken++
			} else if err == nil || !strings.Contains(err.Error(), "no usual one") {
				t.Errorf("%s %q: %v, %v", q.Name, name, keys, err)
			}
		}
		if taken < len(names)*8/10 {
			t.Errorf("%s: %d of %d", q.Name, taken, len(names))
		}
	}
}

// TestSilentIsSaid: what the form says of an empty answer is what comes of it.
func TestSilentIsSaid(t *testing.T) {
	l := New(works(t)).Look(full(), day)
	for _, in := range l.Job.Inputs {
		for _, q := range Questions() {
			if in.Key == "procedure."+string(q.Name) && (in.Origin != "default" || in.Value != q.Silent) {
				t.Errorf("%s is %s from %s, the form says %s", in.Key, in.Value, in.Origin, q.Silent)
			}
		}
	}
}

// otherAnswers are answers that may be put into a job in place of its own.
var otherAnswers = map[Name][]string{
	Tag: {"X-1"}, Where: {"elsewhere", ""}, Flange: {"DN 200 PN 16", "8 x M16"}, Grade: {"B16", "own steel 640 MPa"},
	Lubricant: {"machine oil", "own paste 0.14"}, Gasket: {"spiral wound, stainless", "own ring, 115 to 158 mm", ""}, Target: {"300 N·m", "40 %", "345 MPa root", "90 kN"},
	Revision: {"7", ""}, ApprovedBy: {"Eva Lind", ""}, Passes: {"50 100", ""}, Rest: {"2 h", ""},
}

// keysOf are the keys that an answer may change.
var keysOf = map[Name][]string{
	Tag: {"joint.tag"}, Where: {"joint.where"}, Flange: {"bolts.flange", "bolts.count", "bolts.thread"}, Grade: {"bolts.grade", "bolts.yield"},
	Lubricant: {"friction.lubricant", "friction.nut_factor"}, Gasket: {"gasket.type", "gasket.inner", "gasket.outer"},
	Target:   {"target.torque", "target.yield_share", "target.bolt_stress", "target.bolt_load", "target.area"},
	Revision: {"joint.revision"}, ApprovedBy: {"joint.approved_by", "joint.approved_on"}, Passes: {"procedure.passes"}, Rest: {"procedure.rest"},
}

// TestDraftKeepsEveryOtherLine: whichever answers of a shipped job change, the
// lines of all other keys, the comments and the empty lines stay as they are,
// byte for byte and in order.
func TestDraftKeepsEveryOtherLine(t *testing.T) {
	files, _ := filepath.Glob(shipped + "*.toml")
	rapid.Check(t, func(t *rapid.T) {
		path := rapid.SampledFrom(files).Draw(t, "file")
		before, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "crlf") {
			before = []byte("\ufeff" + strings.ReplaceAll(strings.ReplaceAll(string(before), "\r\n", "\n"), "\n", "\r\n"))
		}
		d, err := onto(path, before, filepath.Dir(path))
		if err != nil {
			t.Fatal(err)
		}
		a := maps.Clone(d.Was)
		touched := map[string]bool{}
		for _, q := range Questions() {
			if others := otherAnswers[q.Name]; others != nil && rapid.Bool().Draw(t, "change "+string(q.Name)) {
				a[q.Name] = rapid.SampledFrom(others).Draw(t, string(q.Name))
				for _, k := range keysOf[q.Name] {
					touched[k] = true
				}
			}
		}
		if a[ApprovedBy] == d.Was[ApprovedBy] && slices.ContainsFunc(approved, func(n Name) bool { return a[n] != d.Was[n] }) {
			for _, k := range keysOf[ApprovedBy] { // it was of another job
				touched[k] = true
			}
		}
		l := d.Look(a, day)
		if len(l.Wrong) > 0 {
			t.Fatalf("%v", l.Remarks())
		}
		was, now := untouched(string(before), touched), untouched(string(l.Text), touched)
		for len(now) > len(was) {
			// A table that was not there comes at the end, with its header.
			last := strings.TrimSpace(now[len(now)-1])
			if last != "" && last[0] != '[' {
				break
			}
			now = now[:len(now)-1]
		}
		if fmt.Sprintf("%q", was) != fmt.Sprintf("%q", now) {
			t.Fatalf("touched %v\n%q\nbecame\n%q", touched, was, now)
		}
		v, err := job.ValuesOf(path, l.Text)
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Text("joint.tag"); got != a[Tag] {
			t.Fatalf("the tag became %q", got)
		}
	})
}

// untouched are the lines of a text but for those of some keys.
func untouched(text string, keys map[string]bool) []string {
	var all []string
	table := ""
	for line := range strings.SplitAfterSeq(text, "\n") {
		bare := strings.TrimSpace(line)
		if strings.HasPrefix(bare, "[") {
			table = strings.Trim(strings.SplitN(bare, "#", 2)[0], "[] \t")
		}
		key, _, _ := strings.Cut(bare, "=")
		if line != "" && !keys[table+"."+strings.TrimSpace(key)] {
			all = append(all, line)
		}
	}
	return all
}

// TestCommentsTellTheNewFlange: what a draft says beside a name of the tables is
// of the name that stands there, and what somebody wrote himself stays.
func TestCommentsTellTheNewFlange(t *testing.T) {
	d := New(works(t))
	l := d.Look(full(), day)
	own := "# circle: measured twice, 525 mm\n"
	text := strings.Replace(string(l.Text), "[friction]\n", own+"[friction]\n", 1)
	for _, ends := range []string{"\n", "\r\n"} {
		before := strings.ReplaceAll(text, "\n", ends)
		d, err := onto("x.toml", []byte(before), d.dir)
		if err != nil {
			t.Fatal(err)
		}
		a := maps.Clone(d.Was)
		a[Flange], a[Grade] = "DN 200 PN 16", "10.9"
		after := string(d.Look(a, day).Text)
		for _, want := range []string{"# circle: 295 mm, from table", "# thread: M20, from table", "# count: 12, from table", own[:len(own)-1]} {
			if !strings.Contains(after, want+ends) {
				t.Errorf("%q is not said:\n%s", want, after)
			}
		}
		for _, stale := range []string{"525 mm, from table", "M27", "8.8", "660 MPa"} {
			if strings.Contains(after, stale) {
				t.Errorf("%q is still said", stale)
			}
		}
		if now, err := onto("x.toml", []byte(after), d.dir); err != nil || now.Was[ApprovedBy] != "" {
			t.Errorf("approved by %q: %v", now.Was[ApprovedBy], err)
		}
	}
}
