package draft

import (
	"bytes"
	"fmt"
	"strings"

	"evenload/data/job"
	"evenload/joint/pattern"
	"evenload/sequence"
)

// parts are the tables of a new job file in order, with what is said of each.
var parts = []struct{ table, about string }{
	{"joint", "tag, where, drawing, work_order, permit, procedure, revision, approved_by, approved_on, service"},
	{"bolts", "flange, or count and thread; grade, or yield; grip, nut_width, hole, circle"},
	{"numbering", "where bolt 1 is"},
	{"friction", "lubricant, nut_factor, scatter; or the frictions thread and bearing"},
	{"gasket", "type, inner, outer, least_stress, most_stress, least_stress_in_service, m, y"},
	{"target", "one of bolt_stress (with area), yield_share, bolt_load, torque"},
	{"tools", "the tool with its chart and its gauge"},
	{"procedure", "passes and what comes after them"},
	{"conditions", "which pre-start questions apply"},
}

const head = `# A job file of evenload. Behind a # stands what is not read. A line with = is the
# default: to have another value, take the # away and write your own. A line with
# a colon tells what a name stands for in the tables: to have another value, write
# the key with it.
# Before the work: evenload check, and the approval of the responsible engineer.
format = 1
`

const noTool = `# No tool yet. Take the # away and write what the certificate and the gauge say,
# or name a tool file beside or below this one: file = "tools/w-07.toml"
# [[tools]]
# id            = ""
# certificate   = ""
# calibrated    = YYYY-MM-DD
# due           = YYYY-MM-DD
# accuracy      = " %"
# accuracy_of   = "reading"   # or "top" of the chart
# reading       = "running"   # or static: the state that the chart was made in
# most_pressure = " bar"
# reaction_arm  = " mm"
# gauge_at      = "regulator" # or "tool"
# curve = [
#   { pressure = " bar", torque = " N·m" },
#   { pressure = " bar", torque = " N·m" },
# ]
# [tools.gauge]
# id       = ""
# class    =
# span     = "0 to  bar"
# division = " bar"
# due      = YYYY-MM-DD
`

// fresh writes a new job file. Its comments are what the reader of job files
// makes of the values: two places that know the defaults would come apart.
func fresh(changes []job.Change, name, dir string) []byte {
	bare := compose(changes, nil)
	j, _ := job.Parse(name, bare, dir) // its faults are told by the look at the whole text
	return compose(changes, j.Inputs)
}

// compose writes the values, and what the inputs say beside them.
func compose(changes []job.Change, inputs []sequence.Input) []byte {
	var b strings.Builder
	b.WriteString(head)
	for _, p := range parts {
		var live []string
		wide := 0
		for _, c := range changes {
			table, key, _ := strings.Cut(strings.Replace(c.Key, "tools.0.", "tools.", 1), ".")
			if literal, err := job.Written(c.Value); table == p.table && c.Value != nil && err == nil {
				live = append(live, key, literal)
				wide = max(wide, len(key))
			}
		}
		fmt.Fprintf(&b, "\n# %s\n", p.about)
		switch {
		case p.table != "tools":
			fmt.Fprintf(&b, "[%s]\n", p.table)
		case len(live) == 0:
			b.WriteString(noTool)
			continue
		default:
			b.WriteString("[[tools]]\n")
		}
		for i := 0; i < len(live); i += 2 {
			fmt.Fprintf(&b, "%-*s = %s\n", wide, live[i], live[i+1])
		}
		if p.table == "joint" && !strings.Contains(b.String(), "\napproved_by") {
			b.WriteString(unapproved)
		}
		for _, in := range inputs {
			if table, key, _ := strings.Cut(in.Key, "."); table == p.table && in.Origin != "job" && p.table != "tools" {
				b.WriteString(comment(key, in))
			}
		}
	}
	return []byte(b.String())
}

const unapproved = "# approved_by is silent: every page says UNAPPROVED\n"

// tableLine opens a table of a job file.
var tableLine = pattern.Lazy{Text: `^\[+ *([a-z_]+)`}

var approvedLine = pattern.Lazy{Text: `(?m)^[ \t]*approved_by\b`}

// commented keeps the comments that compose wrote true in a text that was
// changed: each that says what an input was says what it is now, and goes where
// the job gives it. All other lines stay.
func commented(text []byte, was, now []sequence.Input) []byte {
	says := func(all []sequence.Input) map[string]string {
		m := map[string]string{}
		for _, in := range all {
			if table, key, ok := strings.Cut(in.Key, "."); ok && in.Origin != "job" {
				m[table+"."+key] = comment(key, in)
			}
		}
		return m
	}
	old, fresh := says(was), says(now)
	keys := map[string]string{} // by table and line
	for key, line := range old {
		table, _, _ := strings.Cut(key, ".")
		keys[table+" "+line] = key
	}
	approved := approvedLine.Made().Match(text)
	var out bytes.Buffer
	table := ""
	for line := range bytes.Lines(text) {
		if m := tableLine.Made().FindSubmatch(line); m != nil {
			table = string(m[1])
		}
		bare := bytes.TrimRight(line, "\r\n")
		if approved && string(bare)+"\n" == unapproved {
			continue
		}
		key, ours := keys[table+" "+string(bare)+"\n"]
		if !ours {
			out.Write(line)
			continue
		}
		if new, still := fresh[key]; still {
			out.WriteString(strings.TrimSuffix(new, "\n"))
			out.Write(line[len(bare):])
		}
	}
	return out.Bytes()
}

var bare = pattern.Lazy{Text: `^(\d+|true|false)$`}

// comment writes a value that is silent. A default stands as it would be
// written, one of a table with what it is of.
func comment(key string, in sequence.Input) string {
	value := in.Value
	switch {
	case strings.Contains(key, " "), in.Origin != "default":
		return fmt.Sprintf("# %s: %s, from %s\n", key, value, in.Origin)
	case key == "passes":
		value = `["` + strings.ReplaceAll(value, ", ", `", "`) + `"]`
	case !bare.Made().MatchString(value):
		value = `"` + value + `"`
	}
	return fmt.Sprintf("# %s = %s   # default\n", key, value)
}
