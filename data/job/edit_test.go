package job

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenload/joint"
)

// editable are shipped jobs, each as it may come: with Windows line ends, a
// byte order mark, without a line end at its end.
func editable(t testing.TB) map[string]string {
	t.Helper()
	files, _ := filepath.Glob(jobs + "*.toml")
	files = append(files, "testdata/every-key.toml")
	all := map[string]string{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(string(b), "\r\n", "\n")
		all[f] = text
		all[f+" crlf"] = strings.ReplaceAll(text, "\n", "\r\n")
		all[f+" bom"] = "\ufeff" + text
		all[f+" no end"] = strings.TrimRight(text, "\n")
	}
	return all
}

// cleanText draws a text that may stand in a job file.
func cleanText() *rapid.Generator[string] {
	return rapid.StringMatching(`[a-zA-Z0-9 "'\\#=\[\]{},.·°äж%-]{1,40}`)
}

// stringKeys are keys that the shipped jobs have on one line each, or not at all.
var stringKeys = []string{"joint.tag", "joint.where", "joint.revision", "bolts.grade", "bolts.grip", "numbering.viewed_from", "friction.lubricant",
	"gasket.type", "target.bolt_stress", "target.torque", "tools.0.certificate", "procedure.pattern", "procedure.rest", "conditions.drive_gas", "air.supply"}

// TestEditKeepsEveryOtherByte: one line differs, in its value only; a new key is
// one new line, or with its table three.
func TestEditKeepsEveryOtherByte(t *testing.T) {
	all := editable(t)
	var names []string
	for name := range all {
		names = append(names, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := all[rapid.SampledFrom(names).Draw(t, "file")]
		key := rapid.SampledFrom(stringKeys).Draw(t, "key")
		value := cleanText().Draw(t, "value")
		v, err := ValuesOf("job.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		out, err := Edit([]byte(text), Change{Key: key, Value: value})
		if v.Text("tools.0.file") != "" && strings.HasPrefix(key, "tools.0.") && err == nil {
			return // the reader refuses it, which is not the editor's
		}
		if err != nil {
			t.Fatal(err)
		}
		old, now := strings.SplitAfter(text, "\n"), strings.SplitAfter(string(out), "\n")
		quoted, _ := Quote(value)
		if !v.Has(key) {
			added := addedLines(t, old, now)
			if !strings.Contains(strings.Join(added, ""), leaf(key)) || !strings.Contains(strings.Join(added, ""), quoted) {
				t.Fatalf("added were %q", added)
			}
			return
		}
		was, _ := Quote(v.Text(key))
		if len(old) != len(now) {
			t.Fatalf("%d lines became %d", len(old), len(now))
		}
		differ := 0
		for i := range old {
			if old[i] == now[i] {
				continue
			}
			differ++
			if strings.Replace(old[i], was, quoted, 1) != now[i] {
				t.Fatalf("%q became %q", old[i], now[i])
			}
		}
		if (was == quoted) != (differ == 0) || differ > 1 {
			t.Fatalf("%d lines differ", differ)
		}
	})
}

// addedLines are the lines that are new; all others are the old ones in order.
// A last line may have got the line end that it had not.
func addedLines(t *rapid.T, old, now []string) []string {
	var added []string
	i := 0
	for _, line := range now {
		if i < len(old) && (line == old[i] || i == len(old)-1 && strings.TrimRight(line, "\r\n") == old[i] && old[i] != "") {
			i++
			continue
		}
		if line != "" { // behind the last line end
			added = append(added, line)
		}
	}
	if i < len(old) && !(i == len(old)-1 && old[i] == "") {
		t.Fatalf("line %q is lost", old[i])
	}
	if len(added) > 3 {
		t.Fatalf("%d lines are new: %q", len(added), added)
	}
	return added
}

// TestEditToTheSameLeavesTheFile, whatever spelling the value is written in.
func TestEditToTheSameLeavesTheFile(t *testing.T) {
	for name, text := range editable(t) {
		v, err := ValuesOf("job.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range stringKeys {
			c := Change{Key: key, Value: v.Text(key)}
			if !v.Has(key) {
				c.Value = nil
			}
			out, err := Edit([]byte(text), c)
			if err != nil || !bytes.Equal(out, []byte(text)) {
				t.Errorf("%s: %s: changed, or %v", name, key, err)
			}
		}
	}
	odd := "[joint]\ntag = 'DH-1' # literal\nwhere = \"\\u0041\"\napproved_on = 2026-11-02\n[procedure]\npasses = [ '50 %',\n  \"100 %\", ]\n"
	day, _ := joint.ParseDate("2026-11-02")
	out, err := Edit([]byte(odd), Change{Key: "joint.tag", Value: "DH-1"}, Change{Key: "joint.where", Value: "A"},
		Change{Key: "joint.approved_on", Value: day}, Change{Key: "procedure.passes", Value: []string{"50 %", "100 %"}})
	if err != nil || string(out) != odd {
		t.Errorf("%v\n%s", err, out)
	}
}

// TestEdit has for each way that a file may be written what comes out.
func TestEdit(t *testing.T) {
	for name, c := range map[string]struct {
		text   string
		change Change
		want   string
	}{
		"comment stays":         {"[joint]\ntag = \"A\"   # of the drawing\n", Change{Key: "joint.tag", Value: "B"}, "[joint]\ntag = \"B\"   # of the drawing\n"},
		"end of table":          {"[joint]\ntag   = \"A\"\n\n# bolts\n[bolts]\n", Change{Key: "joint.where", Value: "W"}, "[joint]\ntag   = \"A\"\nwhere = \"W\"\n\n# bolts\n[bolts]\n"},
		"long name":             {"[joint]\ntag = \"A\" # x\n", Change{Key: "joint.approved_by", Value: "E"}, "[joint]\ntag = \"A\" # x\napproved_by = \"E\"\n"},
		"tight":                 {"[joint]\n  tag=\"A\"\n", Change{Key: "joint.where", Value: "W"}, "[joint]\n  tag=\"A\"\n  where=\"W\"\n"},
		"no line end":           {"[joint]\r\ntag = \"A\"", Change{Key: "joint.where", Value: "W"}, "[joint]\r\ntag = \"A\"\r\nwhere = \"W\""},
		"behind lists":          {"[procedure]\npasses = [\n \"50 %\",\n \"100 %\"\n] # two\nrest = \"4 h\"\n", Change{Key: "procedure.passes", Value: []string{"100 %"}}, "[procedure]\npasses = [\"100 %\"] # two\nrest = \"4 h\"\n"},
		"empty table":           {"[joint] # a\n\n[bolts]\n", Change{Key: "joint.tag", Value: "B"}, "[joint] # a\ntag = \"B\"\n\n[bolts]\n"},
		"no table":              {"format = 1\r\n", Change{Key: "joint.tag", Value: "B"}, "format = 1\r\n\r\n[joint]\r\ntag = \"B\"\r\n"},
		"empty file":            {"", Change{Key: "joint.tag", Value: "B"}, "[joint]\ntag = \"B\"\n"},
		"dotted":                {"joint.tag = \"A\"\n[bolts]\n", Change{Key: "joint.where", Value: "W"}, "joint.tag = \"A\"\njoint.where = \"W\"\n[bolts]\n"},
		"in braces":             {"joint = { tag = \"A\" }\n", Change{Key: "joint.where", Value: "W"}, "joint = { tag = \"A\", where = \"W\" }\n"},
		"no tools":              {"format = 1\n", Change{Key: "tools.0.file", Value: "w.toml"}, "format = 1\n\n[[tools]]\nfile = \"w.toml\"\n"},
		"second of a list":      {"[[tools]]\nid = \"A\"\n[[tools]]\nid = \"B\"\n", Change{Key: "tools.1.id", Value: "C"}, "[[tools]]\nid = \"A\"\n[[tools]]\nid = \"C\"\n"},
		"another kind":          {"[target]\nbolt_stress = \"345 MPa\" # asked\n", Change{Key: "target.torque", Value: "300 N·m", PlaceOf: "target.bolt_stress"}, "[target]\ntorque = \"300 N·m\" # asked\n"},
		"taken out":             {"[target]\nbolt_stress = \"345 MPa\"\narea = \"root\" # so\n[bolts]\n", Change{Key: "target.area"}, "[target]\nbolt_stress = \"345 MPa\"\n[bolts]\n"},
		"taken out of braces":   {"target = { bolt_stress = \"345 MPa\", area = \"root\" }\n", Change{Key: "target.area"}, "target = { bolt_stress = \"345 MPa\" }\n"},
		"first out of braces":   {"target = { area = \"root\", bolt_stress = \"345 MPa\" }\n", Change{Key: "target.area"}, "target = { bolt_stress = \"345 MPa\" }\n"},
		"quotes and backslash":  {"[joint]\ntag = \"A\"\n", Change{Key: "joint.where", Value: `a "b" \c`}, "[joint]\ntag = \"A\"\nwhere = \"a \\\"b\\\" \\\\c\"\n"},
		"text of several lines": {"[joint]\nwhere = \"\"\"\na\nb\"\"\" # c\ntag = \"A\"\n", Change{Key: "joint.where", Value: "W"}, "[joint]\nwhere = \"W\" # c\ntag = \"A\"\n"},
		"number":                {"[bolts]\ncount = 8\n", Change{Key: "bolts.count", Value: 12}, "[bolts]\ncount = 12\n"},
		"looks like a key":      {"# tag = \"A\"\n[joint]\nwhere = \"tag = 'A'\"\ntag = \"A\"\n", Change{Key: "joint.tag", Value: "B"}, "# tag = \"A\"\n[joint]\nwhere = \"tag = 'A'\"\ntag = \"B\"\n"},
	} {
		got, err := Edit([]byte(c.text), c.change)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\n%q, want\n%q", name, err, got, c.want)
		}
	}
}

// TestEditRefuses what cannot be changed, and unclean text.
func TestEditRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		text   string
		change Change
		want   string
	}{
		"escape":        {"", Change{Key: "joint.where", Value: "a\x1b[31m"}, "U+001B at its place 2"},
		"right to left": {"", Change{Key: "joint.where", Value: "a\u202eb"}, "U+202E"},
		"line feed":     {"", Change{Key: "joint.where", Value: "a\nb"}, "U+000A"},
		"no UTF-8":      {"", Change{Key: "joint.where", Value: "a\xff"}, "not UTF-8"},
		"long":          {"", Change{Key: "joint.where", Value: strings.Repeat("a", 501)}, "501 characters"},
		"no TOML":       {"a =", Change{Key: "joint.where", Value: "a"}, "not readable as TOML"},
		"unclean file":  {"# \u200b", Change{Key: "joint.where", Value: "a"}, "U+200B"},
		"no table":      {"joint = 3\n", Change{Key: "joint.where", Value: "a"}, "change it in the file itself"},
		"whole table":   {"[joint]\ntag = \"A\"\n", Change{Key: "joint", Value: "a"}, "change it in the file itself"},
		"both":          {"[target]\ntorque = \"1 N·m\"\nbolt_load = \"1 kN\"\n", Change{Key: "target.torque", Value: "2 N·m", PlaceOf: "target.bolt_load"}, "given beside it"},
		"another sort":  {"", Change{Key: "joint.where", Value: true}, "the kind bool"},
	} {
		got, err := Edit([]byte(c.text), c.change)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %q, %v, want %s", name, got, err, c.want)
		}
	}
}

// FuzzEdit: whatever the file, an edit comes out as it was meant or is refused,
// and no line is lost but the one that was changed.
func FuzzEdit(f *testing.F) {
	for _, text := range editable(f) {
		f.Add(text, "joint.tag", "DH-1")
	}
	for _, c := range odd {
		f.Add(c.text, "a.b", "x")
	}
	f.Add("a = { b = 1 }\n", "a.c", "y")
	f.Add("'a.b' = 1\r\n[c]\n", "c.d", "\"")
	f.Fuzz(func(t *testing.T, text, key, value string) {
		out, err := Edit([]byte(text), Change{Key: key, Value: value})
		if err != nil {
			return
		}
		v, err := ValuesOf("job.toml", out)
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Text(key); got != value {
			t.Fatalf("%q became %q in\n%s", value, got, out)
		}
		again, err := Edit(out, Change{Key: key, Value: value})
		if err != nil || !bytes.Equal(again, out) {
			t.Fatalf("the same edit again: %v", err)
		}
		if taken, err := Edit(out, Change{Key: key}); err == nil {
			if v, err := ValuesOf("job.toml", taken); err == nil && v.Has(key) {
				t.Fatalf("%q is still in\n%s", key, taken)
			}
		}
	})
}
