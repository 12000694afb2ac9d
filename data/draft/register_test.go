package draft

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
)

// TestRegisterAsSpreadsheetsWriteIt: the same rows in each spelling.
func TestRegisterAsSpreadsheetsWriteIt(t *testing.T) {
	for name, text := range map[string]string{
		"commas":         "tag,where,target\nA-1,\"hall 2, east\",\"45,5 %\"\nA-2,,120 kN\n",
		"semicolons":     "tag;where;target\r\nA-1;hall 2, east;45,5 %\r\nA-2;;120 kN\r\n",
		"tabs":           "tag\twhere\ttarget\nA-1\thall 2, east\t45,5 %\nA-2\t\t120 kN",
		"mark":           "\ufefftag;where;target\nA-1;\"hall 2, east\";45,5 %\nA-2;;120 kN\n",
		"sep":            "sep=;\r\ntag;where;target\r\nA-1;hall 2, east;45,5 %\r\nA-2;;120 kN\r\n",
		"returns":        "tag;where;target\rA-1;hall 2, east;45,5 %\rA-2;;120 kN\r",
		"capitals":       "Tag;Where;TARGET\nA-1;hall 2, east;45,5 %\nA-2;;120 kN\n",
		"empty columns":  "tag;where;target;;\nA-1;hall 2, east;45,5 %;;\n;;;;\nA-2;;120 kN;;\n;;;;\n",
		"other order":    "target;tag;where\n45,5 %;A-1;hall 2, east\n120 kN;A-2;\n",
		"spaces":         " tag ; where; target\n A-1 ;hall 2, east ; 45,5 % \nA-2; ;120 kN\n",
		"short last row": "tag;target;where\nA-1;45,5 %;hall 2, east\nA-2;120 kN\n",
	} {
		rows, err := ReadRegister(strings.NewReader(text))
		if err != nil || len(rows) != 2 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
			continue
		}
		a, b := rows[0].Answers, rows[1].Answers
		if a[Tag] != "A-1" || a[Where] != "hall 2, east" || a[Target] != "45,5 %" || b[Tag] != "A-2" || b[Where] != "" || b[Target] != "120 kN" || rows[0].Err != nil {
			t.Errorf("%s: %+v", name, rows)
		}
	}
}

// TestRegisterRefused as a whole.
func TestRegisterRefused(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":          {"", "it is empty"},
		"unknown column": {"tag;flnge\n", `line 1: unknown column 2 "flnge", known are tag, where, flange`},
		"two unknown":    {"tag;flnge;#crew;status\n", `unknown column 2 "flnge", 4 "status", known are`},
		"hostile column": {"tag;a\u202eb\n", `\u{202e}`},
		"no tag":         {"where;flange\nx;y\n", "no column is called tag"},
		"twice":          {"tag;where;Where\n", "two columns are called where"},
		"utf-16":         {"\xff\xfet\x00", "UTF-16"},
		"no text":        {"PK\x03\x04\x14\x00\x00", "it is no text, save"},
		"quotes":         {"tag;wh\"ere\n", "line 1: quotes stand round"},
		"large":          {"tag\n" + strings.Repeat("aaaaaaaaa\n", 1<<20+1), "larger than 10 MB"},
		"no rows":        {"tag;where\n;\n\n", "no row below the first"},
		"rows":           {"tag\n" + strings.Repeat("a\n", 10_001), "more than 10000 rows"},
	} {
		if _, err := ReadRegister(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

// bad are rows that are refused, each with a part of why. TAG stands for a tag
// of its own.
var bad = []struct{ row, why string }{
	{";hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "it has no tag"},
	{"../TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "a tag has letters"},
	{"Å-TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "letters a to z"},
	{"/etc/TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "a tag has letters"},
	{`..\TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11`, "a tag has letters"},
	{"NUL;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "Windows device"},
	{".TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "no dot at either end"},
	{"first;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "the tag is that of line 2"},
	{"TAG;hall;DN410 PN16;8.8;MoS2 paste;;45 %;W-11", `the nearest is "EN 1092-1 DN 400 PN 16"`},
	{"TAG;hall;;8.8;MoS2 paste;;45 %;W-11", "still needed: flange"},
	{"TAG;hall;DN400 PN16;8.9;MoS2 paste;;45 %;W-11", "in no table of ours"},
	{"TAG;hall;DN400 PN16;SAE J429 grade 5;MoS2 paste;;45 %;W-11", "a grade of other threads"},
	{"TAG;hall;DN400 PN16;8.8;grease;;45 %;W-11", "may be many things"},
	{"TAG;hall;DN400 PN16;8.8;zinc-flake coating;;45 %;W-11", "no usual one"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;spiral;45 %;W-11", "write more of it"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;45;W-11", "is no target"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;450,000 N;W-11", "may be 450000 or 450: write"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;145 %;W-11", "above 100 %"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-99", "no tool of a file"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;../w.toml", "beside or below the job file"},
	{"TAG;a\u202eb;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "U+202E"},
	{"TAG;a\x1b[2Jb;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "U+001B"},
	{"TAG;\"two\nlines\";DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "U+000A"},
	{"TAG;caf\xe9;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "not UTF-8"},
	{"TAG;hall \"2\" east;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "quotes stand round a whole cell"},
	{"TAG;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11;more", "it has 9 cells, the first row has 8"},
	{"TAG;" + strings.Repeat("x", 501) + ";DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "501 characters"},
	{"there;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "is there already"},
	{strings.Repeat("T", 65) + ";hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "more than 64 characters"},
}

// TestRowsOfAnotherLength: what is missing at the end is told, what is too much is
// refused, and of a comma that tears a number no other fault is told.
func TestRowsOfAnotherLength(t *testing.T) {
	for text, want := range map[string]string{
		"tag;target;where\nA;45 %;x;\n":                              "it has 4 cells, the first row has 3",
		"tag;target;where;;\nA;45 %;x;;\n":                           "",
		"tag;target;where;;\nA;45 %;x;y;\n":                          `cell 4 is "y" and its column has no name`,
		"tag;target;where\nA;45 %\n":                                 "",
		"tag,target,flange,tool\nA,45,5 %,DN 400 PN 16\n":            `in quotes or with a point: "45,5 %"`,
		"tag,lubricant,gasket,where\nA,own paste 0,14,none\n":        `in quotes or with a point: "own paste 0,14"`,
		"tag,target,where\nA,\"45,5 %\",5 bolts\n":                   "",
		"tag;grade;target\nA;8.8;45 %\n":                             "",
		"tag,grade,target,lubricant,gasket\nA,8.8,45 %,paste 5,14\n": "",
	} {
		rows, err := ReadRegister(strings.NewReader(text))
		if err != nil || len(rows) != 1 || (rows[0].Err == nil) != (want == "") || want != "" && !strings.Contains(rows[0].Err.Error(), want) {
			t.Errorf("%q: %+v, %v, want %q", text, rows, err, want)
			continue
		}
		if short := rows[0].Short != ""; short != (text == "tag;target;where\nA;45 %\n") {
			t.Errorf("%q: %q", text, rows[0].Short)
		}
	}
}

// TestRefusedRowHasItsTag, where it stands before what is wrong.
func TestRefusedRowHasItsTag(t *testing.T) {
	for text, want := range map[string]string{
		"tag;target;where\nA-1;45 %;x;y\n":     "A-1",
		"where;tag;target\nx;y;A-1;45 %\n":     "",
		"tag;target;where\nA 1;45 %;x;y\n":     "",
		"tag,target,where\nA-1,45,5 %,x\n":     "A-1",
		"target,tag,where\n45,5 %,A-1,x\n":     "",
		"tag;target;where;;\nA-1;45 %;x;y;\n":  "A-1",
		"where;tag;target\nhall;A-1;caf\xe9\n": "A-1",
		"tag;where\n\x1b[2J" + "A-1;x;y\n":     "",
	} {
		rows, err := ReadRegister(strings.NewReader(text))
		if err != nil || len(rows) != 1 || rows[0].Err == nil || rows[0].Answers[Tag] != want {
			t.Errorf("%q: %+v, %v, want the tag %q", text, rows, err, want)
		}
	}
}

// TestRegisterOf300Rows: every good row becomes a file that check can read,
// every bad row is refused with its line and why, and nothing else is written.
func TestRegisterOf300Rows(t *testing.T) {
	into := works(t)
	there := []byte("format = 1 # of somebody\n")
	if err := os.WriteFile(filepath.Join(into, "there.toml"), there, 0o644); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("\ufefftag;where;flange;grade;lubricant;gasket;target;tool\r\n")
	line := 2
	want := map[int]string{} // line: why, empty for good
	add := func(row, why string) {
		want[line] = why
		b.WriteString(row + "\r\n")
		line += 1 + strings.Count(row, "\n")
	}
	add("FIRST;hall;DN400 PN16;8.8;MoS2 paste;;45 %;W-11", "")
	for i := range 299 - len(bad) {
		add(fmt.Sprintf("DH-%03d;\"hall 3; no. \"\"%d\"\"\";DN400 PN16;8.8;\"own paste 0,13\";spiral wound, stainless, 440,5 to 470 mm;45,5 %%;W-11", i, i), "")
		if i < len(bad) {
			add(strings.ReplaceAll(bad[i].row, "TAG", fmt.Sprintf("T-%03d", i)), bad[i].why)
		}
	}
	rows, err := ReadRegister(strings.NewReader(b.String()))
	if err != nil || len(rows) != 300 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	good := 0
	Many(rows, nil, into, false, day, func(o Outcome) {
		why, known := want[o.Line]
		delete(want, o.Line)
		switch {
		case !known:
			t.Errorf("line %d is no row's", o.Line)
		case why == "" && o.Err == nil:
			good++
			if found, err := report.Check(o.File, day); err != nil || slices.ContainsFunc(found, func(f report.Finding) bool { return f.Severity == joint.Error }) {
				t.Errorf("%s: %v %v", o.File, found, err)
			}
		case why == "" || o.Err == nil || !strings.Contains(o.Err.Error(), why):
			t.Errorf("line %d: %v, want %q", o.Line, o.Err, why)
		}
	})
	if len(want) > 0 {
		t.Errorf("nothing was said of lines %v", want)
	}
	files, _ := filepath.Glob(filepath.Join(into, "*"))
	if len(files) != good+2 || good != 300-len(bad) { // there.toml and tools
		t.Errorf("%d files, %d rows were good", len(files), good)
	}
	if text, _ := os.ReadFile(filepath.Join(into, "there.toml")); string(text) != string(there) {
		t.Errorf("there.toml was written over")
	}
	one, err := job.Load(filepath.Join(into, "DH-001.toml"))
	if err != nil || one.About.Where != `hall 3; no. "1"` || one.Joint.Friction.NutFactor != 0.13 || one.Joint.Target.Share != 0.455 || one.Joint.Gasket.Inner.Text("si") != "440.5 mm" {
		t.Errorf("%+v, %v", one.Joint, err)
	}
	// Once more: all are there and the same but for one, which is written with force only.
	if err := os.WriteFile(filepath.Join(into, "DH-001.toml"), []byte("format = 1 # by hand\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, over := range []bool{false, true} {
		written, same := 0, 0
		Many(rows[:20], nil, into, over, day, func(o Outcome) {
			switch {
			case o.Tag == "DH-001" && (o.Err == nil) != over, o.Same && over:
				t.Errorf("over %v: %+v", over, o)
			case o.Same:
				same++
			case o.Err == nil:
				written++
			}
		})
		if over && (written < 10 || same > 0) || !over && (written > 0 || same < 9) {
			t.Errorf("over %v: %d were written, %d the same", over, written, same)
		}
	}
}

// TestTemplate gives what a row leaves out, its comments too, but no approval, no
// permit and no head of another joint.
func TestTemplate(t *testing.T) {
	into := t.TempDir()
	text, err := os.ReadFile(shipped + "strainer-8in-300.toml")
	if err != nil {
		t.Fatal(err)
	}
	text = []byte(strings.ReplaceAll(string(text), "\r\n", "\n"))
	path := filepath.Join(t.TempDir(), "template.toml")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	tpl, err := OpenTemplate(path)
	if err != nil || !slices.Equal(tpl.Left, notOfTemplate) {
		t.Fatalf("%+v, %v", tpl, err)
	}
	rows, err := ReadRegister(strings.NewReader("tag,where,target,approved_by\nN-1,hall 9,,\nN-2,,300 N·m,Eva Lind\n"))
	if err != nil {
		t.Fatal(err)
	}
	Many(rows, tpl, into, false, day, func(o Outcome) {
		if o.Err != nil {
			t.Errorf("%+v", o)
		}
	})
	comment, less, _ := strings.Cut(string(text), "\n")
	if !strings.HasPrefix(comment, "# Strainer outlet flange") {
		t.Fatalf("it begins with %q", comment)
	}
	for _, line := range []string{"work_order  = \"WO-58121\"\n", "permit      = \"P-3310\"\n", "approved_by = \"Responsible engineer, DH works\"\n", "approved_on = 2026-11-02\n"} {
		if !strings.Contains(less, line) {
			t.Fatalf("no %q", line)
		}
		less = strings.Replace(less, line, "", 1)
	}
	change := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(less) }
	for name, want := range map[string]string{
		"N-1.toml": change(`"DH-112-F03"`, `"N-1"`, `"Pump house 2, return header, strainer outlet"`, `"hall 9"`),
		"N-2.toml": change(`"DH-112-F03"`, `"N-2"`, "bolt_stress = \"345 MPa\"\narea        = \"root\"\n", "torque = \"300 N·m\"\n",
			"95 °C\"\n", "95 °C\"\napproved_by = \"Eva Lind\"\n"),
	} {
		if got, err := os.ReadFile(filepath.Join(into, name)); err != nil || string(got) != want {
			t.Errorf("%s: %v\n%s", name, err, got)
		}
	}
}

// TestHeadOfATemplate: what stands before the first key is of its own joint, but for what
// every draft begins with.
func TestHeadOfATemplate(t *testing.T) {
	for text, want := range map[string]string{
		"# Pump A\n\n# of hall 3\n\nformat = 1\n# stays\n": "format = 1\n# stays\n",
		"\ufeff# Pump A\r\nformat = 1\r\n":                 "\ufeffformat = 1\r\n",
		"  # Pump A\n[joint] # stays\n":                    "[joint] # stays\n",
		"format = 1\n# stays\n":                            "format = 1\n# stays\n",
		"# nothing else":                                   "",
		head + "[joint]\n":                                 head + "[joint]\n",
		strings.ReplaceAll(head, "\n", "\r\n"):             strings.ReplaceAll(head, "\n", "\r\n"),
	} {
		if got := string(withoutHead([]byte(text))); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}

// TestGoneIsSaid: a row that is written over an approved job says what is no longer
// there, and only that.
func TestGoneIsSaid(t *testing.T) {
	into := works(t)
	const head, row = "tag;flange;grade;lubricant;target;tool", "DN400 PN16;8.8;MoS2 paste;45 %;W-11"
	const approved = "[joint]\ntag = \"G-1\"\npermit = \"P-1\"\nwork_order = \"WO-2\"\napproved_by = \"Eva Lind\"\napproved_on = 2026-11-02\n"
	for _, c := range []struct{ there, head, row, want string }{
		{"format = 1\n" + approved, "", "", "the approval by Eva Lind on 2026-11-02, permit P-1, work order WO-2"},
		{"format = 1\n" + approved, ";permit;approved_by", ";P-1;Eva Lind, 2026-11-02", "work order WO-2"},
		{"format = 1\n" + approved, ";permit;work_order;approved_by", ";P-9;WO-2;Eva Lind, 2026-11-03", "the approval by Eva Lind on 2026-11-02, permit P-1"},
		{"format = 1\n[joint]\ntag = \"G-1\"\n", "", "", ""},
		{"format = = 1\n" + approved, "", "", "what it held, which was no readable job: look whether it was approved"},
	} {
		if err := os.WriteFile(filepath.Join(into, "G-1.toml"), []byte(c.there), 0o644); err != nil {
			t.Fatal(err)
		}
		rows, err := ReadRegister(strings.NewReader(head + c.head + "\nG-1;" + row + c.row + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		Many(rows, nil, into, true, day, func(o Outcome) {
			if o.Err != nil || o.Gone != c.want {
				t.Errorf("%s: %v, gone %q, want %q", c.row, o.Err, o.Gone, c.want)
			}
		})
		Many(rows, nil, into, true, day, func(o Outcome) {
			if o.Err != nil || o.Gone != "" {
				t.Errorf("%s once more: %v, gone %q", c.row, o.Err, o.Gone)
			}
		})
	}
}

// TestOtherColumns: what belongs to one joint and is no answer of the form goes
// into its file, and a column with a # is left out.
func TestOtherColumns(t *testing.T) {
	into := works(t)
	rows, err := ReadRegister(strings.NewReader("#status;tag;permit;work_order;drawing;procedure;service;#;flange;grade;lubricant;target;tool\n" +
		"a\xffb;C-1;P-7;WO-9;DH-1 rev B;BP-2;water, 9 bar;x;DN400 PN16;8.8;MoS2 paste;45 %;W-11\n;C-2;;;;;;;DN400 PN16;8.8;MoS2 paste;45 %;W-11\n"))
	if err != nil {
		t.Fatal(err)
	}
	Many(rows, nil, into, false, day, func(o Outcome) {
		if o.Err != nil {
			t.Errorf("%+v", o)
		}
	})
	for name, want := range map[string]sequence.About{
		"C-1": {Tag: "C-1", Permit: "P-7", WorkOrder: "WO-9", Drawing: "DH-1 rev B", Procedure: "BP-2", Service: "water, 9 bar"}, "C-2": {Tag: "C-2"},
	} {
		j, err := job.Load(filepath.Join(into, name+".toml"))
		b := j.About
		got := sequence.About{Tag: b.Tag, Permit: b.Permit, WorkOrder: b.WorkOrder, Drawing: b.Drawing, Procedure: b.Procedure, Service: b.Service}
		if err != nil || got != want {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
}

// FuzzReadRegister: whatever comes, rows are bounded, have lines that rise, and
// what is written stays in its folder.
func FuzzReadRegister(f *testing.F) {
	f.Add([]byte("tag;where\r\nA-1;\"x\ny\"\r\n"))
	f.Add([]byte("\ufefftag,target\n\"A\"\"\",\"45,5 %\"\n"))
	f.Add([]byte("sep=\t\ntag\tpasses\n../a\t30 60 100\n\"open"))
	for _, b := range bad {
		f.Add([]byte("tag;where;flange;grade;lubricant;gasket;target;tool\n" + b.row + "\n"))
	}
	into := f.TempDir()
	if err := os.Mkdir(filepath.Join(into, "jobs"), 0o755); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, err := ReadRegister(strings.NewReader(string(text)))
		if err != nil {
			return
		}
		last := 0
		for _, r := range rows {
			if r.Line <= last {
				t.Fatalf("line %d after %d", r.Line, last)
			}
			last = r.Line
			if r.Err == nil && r.Answers[Tag] == "" {
				t.Fatal("a row without a tag")
			}
		}
		Many(rows, nil, filepath.Join(into, "jobs"), true, day, func(o Outcome) {
			if o.Err == nil && filepath.Dir(o.File) != filepath.Join(into, "jobs") {
				t.Fatalf("%s left the folder", o.File)
			}
		})
		if entries, _ := os.ReadDir(into); len(entries) != 1 {
			t.Fatalf("%v left the folder", entries)
		}
	})
}
